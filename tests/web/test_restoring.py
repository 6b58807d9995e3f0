"""The copies of a shop are whole: after the worst, each reading and each photo is there again, over HTTP."""

from __future__ import annotations

import shutil
import subprocess
import sys
from dataclasses import dataclass, replace
from http.client import HTTPConnection
from pathlib import Path

import pytest

from barwise.web.data_folder import DataFolder
from benchmarks.entering import environment
from tests.web.served import PATIENCE_S, barwise, free_port, served

SHOP = """
import io, uuid
from barwise.web.data_folder import data_folder
from barwise.web.started import prepare
prepare(data_folder())
from PIL import Image
from barwise.record.entry import Entry, take_reading
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.photos import add_photo
job = open_job(add_unit("T-1", "starter", invented=True), add_customer("Invented Farm"))
take_reading(job, Entry(uuid.uuid4(), "intake", "turns-by-hand", "stiff"))
picture = io.BytesIO()
Image.effect_noise((300, 200), 90).save(picture, "PNG")
print(add_photo(job, picture.getvalue(), "intake", "as-received").key)
"""


@dataclass(frozen=True)
class Seen:
    """A shop that was served, and what a browser got of it."""

    folder: Path
    photo: str
    before: tuple[bytes, str]


@pytest.fixture(scope="module")
def served_shop(tmp_path_factory: pytest.TempPathFactory) -> Seen:
    """A shop with a reading and a photo, and with its copies."""
    folder: Path = tmp_path_factory.mktemp("served") / "shop"
    made = subprocess.run(
        [sys.executable, "-c", SHOP], env=environment(folder), capture_output=True, text=True, check=True
    )
    photo = made.stdout.strip()
    before = seen(folder, photo)
    assert barwise(folder, "backup").returncode == 0
    return Seen(folder, photo, before)


@pytest.fixture
def shop(served_shop: Seen, tmp_path: Path) -> Seen:
    """The same, in a folder that a test may spoil."""
    return replace(served_shop, folder=shutil.copytree(served_shop.folder, tmp_path / "shop"))


def seen(folder: Path, photo: str) -> tuple[bytes, str]:
    """The photo and the readings of the job as a browser gets them from a server started on the folder."""
    port, said = free_port(), []
    with served(folder, port, said):
        return fetched(port, f"/photos/{photo}"), fetched(port, "/jobs/1/readings.csv").decode()


def fetched(port: int, path: str) -> bytes:
    line = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    line.request("GET", path)
    answer = line.getresponse()
    content = answer.read()
    line.close()
    assert answer.status == 200, (path, answer.status)
    return content


def test_a_shop_whose_database_and_photos_are_lost_comes_back_from_its_copies(shop: Seen) -> None:
    folder = DataFolder(shop.folder)
    picture, readings = shop.before
    assert b"JFIF" in picture[:20]
    assert "stiff" in readings
    folder.database.write_bytes(folder.database.read_bytes()[:5000])
    shutil.rmtree(folder.photos)
    port, said = free_port(), []
    with served(folder.path, port, said):
        line = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
        line.request("GET", "/")
        answer = line.getresponse()
        assert answer.status == 503
        assert "barwise restore" in answer.read().decode()
        line.close()
    assert "barwise restore" in said[0]
    assert "Traceback" not in said[0]
    restored = barwise(folder.path, "restore")
    assert restored.returncode == 0, restored.stderr
    assert "Photos put back: 1" in restored.stdout
    assert seen(folder.path, shop.photo) == shop.before
    assert barwise(folder.path, "recheck").returncode == 0


def test_the_copies_alone_make_the_shop_again_on_another_disk(shop: Seen, tmp_path: Path) -> None:
    other = tmp_path / "other disk"
    shutil.copytree(shop.folder / "copies", other / "copies")
    assert barwise(other, "restore").returncode == 0
    assert seen(other, shop.photo) == shop.before


def test_photos_that_are_gone_are_told_of_at_the_start_and_put_back(shop: Seen) -> None:
    folder, said = shop.folder, []
    shutil.rmtree(folder / "photos")
    with served(folder, free_port(), said):
        pass
    assert "1 photo is gone" in said[0]
    assert "barwise restore" in said[0]
    assert barwise(folder, "restore").stdout == "Photos put back: 1\n"
    assert seen(folder, shop.photo) == shop.before
