"""An invented job on the bench, in the test's own database."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.db import connection

from barwise.machine.feed import Feed
from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import Job, Person, SheetVersion
from barwise.record.sheets import store_sheet
from barwise.route import sheet as route_sheet

FEED = Feed(1, 15, 10.0)
VEHICLE = """\
temperature = "5 degC"
battery = { volts = "12 V", rated_current = "540 A" }
engine = { displacement = "2.4 L", cylinders = 4, fuel = "petrol" }
starter = { ring_teeth = 130, pinion_teeth = 9 }
"""
"""What a job says of its vehicle, as far as a speed can be worked out from it."""


@pytest.fixture(scope="module", autouse=True)
def _diagnosed_once(each_armature_diagnosed_once: None) -> None: ...


@pytest.fixture(autouse=True)
def photos_folder(tmp_path: Path, settings: Any) -> Path:
    """Photos, and the key that signs, go nowhere but here."""
    folder = tmp_path / "photos"
    folder.mkdir()
    settings.MEDIA_ROOT = str(folder)
    settings.SIGNING_KEY_FILE = str(tmp_path / "signing-key.pem")
    return folder


def sheet_text(key: str = "demo-57-wave") -> str:
    """The text of an invented sheet."""
    return (route_sheet._BUILT_IN / f"{key}.toml").read_text(encoding="utf-8")


@pytest.fixture
def anna(db: None) -> Person:
    return Person.objects.create(name="Anna (invented)")


@pytest.fixture
def sheet(db: None) -> SheetVersion:
    return store_sheet(sheet_text())


@pytest.fixture
def job(sheet: SheetVersion, anna: Person) -> Job:
    customer = add_customer("Invented Farm", person=anna, invented=True)
    unit = add_unit("T-100", "starter", serial="S1", person=anna, invented=True)
    return open_job(unit, customer, sheet, "cranks slowly when hot", anna, invented=True)


def by_force(statement: str) -> None:
    """As somebody does who owns the database: the triggers out of the way."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
            for (name,) in cursor.fetchall():
                cursor.execute(f"DROP TRIGGER {name}")
        else:
            cursor.execute("SET LOCAL session_replication_role = replica")
        cursor.execute(statement)


Take = Callable[..., Stored]


@pytest.fixture
def take(job: Job, anna: Person) -> Take:
    """Take a reading; a question is a failure."""

    def taking(station: str, check: str, text: str, **more: Any) -> Stored:
        entry = Entry(more.pop("key", uuid.uuid4()), station, check, text, **more)
        answer = take_reading(more.get("job", job), entry, anna)
        assert not isinstance(answer, Question), answer.ask
        return answer

    return taking


@pytest.fixture
def take_drop(take: Take) -> Callable[..., Stored]:
    """Take a drop between a bar and the next, fed at bars 1 and 15."""

    def taking(bar: int, text: str, **more: Any) -> Stored:
        ends = {"place_from": str(bar), "place_to": str(bar % 57 + 1)}
        return take("armature", "winding", text, **{"test": "drop", "feed": FEED, **ends, **more})

    return taking
