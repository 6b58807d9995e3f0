"""The disk is full in the middle of a walk: the tablet is told, keeps its reading, and nothing taken is lost.

Where this system lets us, the shop lies on a file system of a few megabytes that is really full; else SQLite
is told that its file may not grow (`PRAGMA max_page_count`), which ends in the same error.
"""

from __future__ import annotations

import random
import shutil
import sqlite3
import subprocess
import sys
import uuid
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from benchmarks.entering import (
    Bench,
    Entered,
    Server,
    compare,
    enter_next,
    environment,
    free_port,
    make_shop,
    reading,
)

NO_ROOM, TAKEN = 507, 201
MEGABYTES = 16


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path | None]:
    """A file system of a few megabytes; None where none may be mounted."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = shutil.which("mount")
    made = mount and subprocess.run(
        [mount, "-t", "tmpfs", "-o", f"size={MEGABYTES}m", "tmpfs", str(place)],
        capture_output=True,
        check=False,
    )
    if not made or made.returncode:
        yield None
        return
    try:
        yield place
    finally:
        subprocess.run(["umount", str(place)], check=True)


def fill(file: Path) -> None:
    """Take what is left, to the last byte."""
    with file.open("wb", buffering=0) as filler:
        for size in (1 << 16, 1 << 10, 1):
            try:
                while filler.write(b"x" * size):
                    pass
            except OSError:
                continue


def test_a_disk_that_fills_up_in_mid_walk_loses_nothing_and_goes_on_when_there_is_room(
    small_disk: Path | None,
) -> None:
    if small_disk is None:
        return  # the next test does the same by SQLite's own limit
    shop, filler = small_disk / "shop", small_disk / "filler"
    make_shop(shop)
    server, entered, at = Server(shop, free_port()), Entered(), random.Random(7)
    server.start()
    try:
        bench = Bench(server.port)
        bench.sign_in()
        for n in range(10):
            assert enter_next(bench, 1, n, at, entered) is not None
        fill(filler)
        refused = []
        for n in range(10, 400):
            body = reading(n, str(uuid.UUID(int=at.getrandbits(128), version=4)), at)
            status, said = bench.enter(1, body)
            if status == TAKEN:
                entered.acknowledged[body["key"]] = body["text"]
            else:
                refused.append((status, said, body))
                break
        ((status, said, body),) = refused
        assert status == NO_ROOM, said
        assert "The disk of the shop’s computer is full" in said["error"]
        assert bench.ask("GET", "/jobs/1")[0] == 200
        filler.unlink()
        assert bench.enter(1, body)[0] == TAKEN  # the same reading, sent again under its key
        entered.acknowledged[body["key"]] = body["text"]
        bench.close()
    finally:
        server.end()
    assert compare(shop, entered) == []
    with closing(sqlite3.connect(shop / "barwise.sqlite3")) as database:
        ((count, last),) = database.execute("SELECT count(*), max(seq) FROM record_reading").fetchall()
    assert count == last == len(entered.acknowledged)


AT_ITS_LIMIT = """
import uuid
from barwise.web.data_folder import data_folder
from barwise.web.started import prepare
prepare(data_folder())
from django.db import DatabaseError, connection
from barwise.record.entry import Entry, take_reading
from barwise.record.jobs import add_customer, add_unit, open_job
job = open_job(add_unit("T-1", "starter", invented=True), add_customer("Invented Farm"))
cursor = connection.cursor()
cursor.execute("PRAGMA page_count")
cursor.execute(f"PRAGMA max_page_count={cursor.fetchone()[0]}")
taken = []
for n in range(5000):
    entry = Entry(uuid.uuid4(), "intake", "complaint", "cranks slowly " * 20)
    try:
        take_reading(job, entry)
    except DatabaseError as error:
        assert "disk is full" in str(error), error
        break
    taken.append(entry.key.hex)
else:
    raise AssertionError("it never was full")
cursor.execute("PRAGMA max_page_count=1000000000")
take_reading(job, entry)
print(*taken, entry.key.hex)
"""


def test_a_database_that_may_not_grow_keeps_what_it_took_and_takes_the_same_reading_later(
    tmp_path: Path,
) -> None:
    own = environment(tmp_path / "shop")
    made = subprocess.run(
        [sys.executable, "-c", AT_ITS_LIMIT], env=own, capture_output=True, text=True, check=False
    )
    assert made.returncode == 0, made.stderr
    with closing(sqlite3.connect(tmp_path / "shop" / "barwise.sqlite3")) as database:
        kept = [key for (key,) in database.execute("SELECT key FROM record_reading ORDER BY seq")]
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert kept == made.stdout.split()
    assert len(kept) > 1
