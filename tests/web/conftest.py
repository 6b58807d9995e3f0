"""A shop of its own for each run of the tests: data folder, static files, and cheap passwords."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db.transaction import atomic, set_rollback
from django.test import Client, override_settings

from barwise.record.models import Job
from barwise.web.data_folder import DataFolder
from tests.web.shop import bench_client, one_of_everything, open_invented_job

CHEAP = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(scope="session", autouse=True)
def shop_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The data folder of these tests; nobody's real one is touched."""
    folder = tmp_path_factory.mktemp("shop")
    for inside in ("static", "photos", "copies"):
        (folder / inside).mkdir()
    own = {
        "DATA": DataFolder(folder),
        "STATIC_ROOT": str(folder / "static"),
        "MEDIA_ROOT": str(folder / "photos"),
        "SIGNING_KEY_FILE": str(folder / "signing-key.pem"),
        "PASSWORD_HASHERS": CHEAP,
    }
    with override_settings(**own):
        call_command("collectstatic", interactive=False, verbosity=0)
        yield folder


@pytest.fixture(scope="module", autouse=True)
def _diagnosed_once(each_armature_diagnosed_once: None) -> None: ...


@pytest.fixture
def bench() -> Client:
    """A browser at this computer with somebody's name picked."""
    return bench_client()


@pytest.fixture
def job() -> Job:
    """An invented job on hand."""
    return open_invented_job()


@pytest.fixture
def lan(settings) -> None:
    """As served to the shop's network, over plain http."""
    settings.LAN = True
    settings.AXES_ENABLED = True
    settings.ALLOWED_HOSTS = ["testserver", "localhost", "127.0.0.1"]


@pytest.fixture(scope="module")
def known(shop_folder: Path, django_db_setup: None, django_db_blocker: Any) -> Iterator[dict[str, Any]]:
    """An invented shop with one of everything, by what an address calls it.

    Made once for a file: what a test changes is gone after that test, and all of it after the file.
    """
    with django_db_blocker.unblock(), atomic():
        yield one_of_everything()
        set_rollback(True)
