"""The shop's folder, its key, and its database file: made once, kept, and never silently replaced."""

from __future__ import annotations

import os
import re
import sqlite3
import stat
import subprocess
import sys
import time
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from barwise.errors import BarwiseError
from barwise.files.on_disk import write_whole
from barwise.record.photo_place import digest_of, place
from barwise.web import database_file
from barwise.web.daily_copy import copy_daily
from barwise.web.data_folder import SHORTEST_KEY, DataFolder, data_folder, make, secret_key
from barwise.web.database_file import DamagedDatabaseError
from barwise.web.surroundings import time_zone

HARMS = {
    "truncated": lambda whole: whole[: len(whole) // 2],
    "cut within the first page": lambda whole: whole[:700],
    "empty": lambda whole: b"",
    "overwritten at its start": lambda whole: b"\0" * 4096 + whole[4096:],
    "overwritten in its middle": lambda whole: whole[:8192] + b"\xff" * 8192 + whole[16384:],
}


@pytest.fixture
def folder(tmp_path: Path) -> DataFolder:
    """A folder with a database of a few pages in it."""
    made = DataFolder(tmp_path / "shop")
    make(made)
    with closing(sqlite3.connect(made.database)) as database, database:
        database.execute("PRAGMA journal_mode=WAL")
        database.execute("CREATE TABLE kept (id INTEGER PRIMARY KEY, words TEXT)")
        database.executemany("INSERT INTO kept(words) VALUES (?)", [("drop " * 100,)] * 100)
    return made


def kept(file: Path) -> int:
    with closing(sqlite3.connect(file)) as database:
        return database.execute("SELECT count(*) FROM kept").fetchone()[0]


def test_the_folder_is_the_one_named_else_the_users_own() -> None:
    assert data_folder({"BARWISE_DATA": "/srv/shop"}).path == Path("/srv/shop")
    assert data_folder({}).path.is_absolute()
    assert data_folder({"BARWISE_DATA": "  "}).path == data_folder({}).path


def test_the_secret_key_is_made_once_for_its_owner_alone(tmp_path: Path) -> None:
    folder = DataFolder(tmp_path / "shop")
    make(folder)
    key = secret_key(folder)
    make(folder)
    assert secret_key(folder) == key
    assert len(key) >= SHORTEST_KEY
    assert stat.S_IMODE(folder.key_file.stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.path.stat().st_mode) == 0o700
    assert sorted(one.name for one in folder.path.iterdir() if one.is_file()) == ["secret-key"]


def test_a_key_others_could_read_is_closed_to_them_again(folder: DataFolder) -> None:
    folder.key_file.chmod(0o644)
    make(folder)
    assert stat.S_IMODE(folder.key_file.stat().st_mode) == 0o600


def test_two_who_start_at_once_share_one_key(tmp_path: Path) -> None:
    makes = "from barwise.web.data_folder import *; f = data_folder(); make(f); print(secret_key(f))"
    own = {**os.environ, "BARWISE_DATA": str(tmp_path / "shop")}
    starting = [
        subprocess.Popen([sys.executable, "-c", makes], env=own, stdout=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    assert len({one.communicate()[0] for one in starting}) == 1


def test_a_spoilt_key_says_what_to_do(folder: DataFolder) -> None:
    folder.key_file.write_text("short")
    with pytest.raises(BarwiseError, match="delete the file and start again"):
        secret_key(folder)


def test_a_folder_that_cannot_be_made_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(BarwiseError, match="BARWISE_DATA"):
        make(DataFolder(tmp_path / "file" / "shop"))


def test_reading_the_settings_writes_nothing(tmp_path: Path) -> None:
    own = {**os.environ, "BARWISE_DATA": str(tmp_path / "shop")}
    subprocess.run([sys.executable, "-c", "import barwise.web.settings"], env=own, check=True)
    assert list(tmp_path.iterdir()) == []


def test_a_sound_database_and_a_shop_not_begun_are_fine(folder: DataFolder, tmp_path: Path) -> None:
    database_file.check(folder)
    new = DataFolder(tmp_path / "new")
    make(new)
    database_file.check(new)


@pytest.mark.parametrize("harm", HARMS)
def test_a_damaged_database_names_the_newest_copy_and_is_left_alone(folder: DataFolder, harm: str) -> None:
    database_file.copy(folder)
    newest = database_file.copy(folder)
    spoilt = HARMS[harm](folder.database.read_bytes())
    folder.database.write_bytes(spoilt)
    with pytest.raises(DamagedDatabaseError, match=re.escape(str(newest))) as told:
        database_file.check(folder)
    assert "barwise restore" in str(told.value)
    assert folder.database.read_bytes() == spoilt


def test_a_database_that_is_gone_is_not_begun_anew_behind_the_shops_back(folder: DataFolder) -> None:
    database_file.copy(folder)
    folder.database.unlink()
    with pytest.raises(DamagedDatabaseError, match="is gone, though copies"):
        database_file.check(folder)


def test_a_damaged_copy_is_passed_over_for_the_one_before(folder: DataFolder) -> None:
    first = database_file.copy(folder)
    last = database_file.copy(folder)
    last.write_bytes(last.read_bytes()[:5000])
    assert database_file.newest_sound_copy(folder) == first


def test_damage_without_a_copy_says_that_there_is_none(folder: DataFolder) -> None:
    folder.database.write_bytes(b"not a database")
    with pytest.raises(DamagedDatabaseError, match="There is no copy"):
        database_file.check(folder)


def test_a_copy_is_put_back_and_the_damaged_file_kept(folder: DataFolder) -> None:
    database_file.copy(folder)
    spoilt = folder.database.read_bytes()[:5000]
    folder.database.write_bytes(spoilt)
    Path(f"{folder.database}-wal").write_bytes(b"of the file before")
    done = database_file.put_back(folder)
    assert kept(folder.database) == 100
    assert done.aside is not None
    assert done.aside.read_bytes() == spoilt
    assert Path(f"{done.aside}-wal").read_bytes() == b"of the file before"


def test_a_damaged_database_is_not_copied_over_the_sound_copies(folder: DataFolder) -> None:
    sound = database_file.copy(folder)
    spoilt = folder.database.read_bytes()
    folder.database.write_bytes(spoilt[:8192] + b"\xff" * 8192 + spoilt[16384:])
    with pytest.raises((DamagedDatabaseError, sqlite3.DatabaseError)):
        database_file.copy(folder)
    assert database_file.copies(folder) == [sound]


def with_photos(folder: DataFolder, *contents: bytes) -> list[str]:
    """The same database speaking of photos, whose files lie in the folder."""
    digests = [digest_of(content) for content in contents]
    for digest, content in zip(digests, contents, strict=True):
        write_whole(place(folder.photos, digest), content)
    with closing(sqlite3.connect(folder.database)) as database, database:
        database.execute("CREATE TABLE IF NOT EXISTS record_photo (sha256 TEXT)")
        database.executemany("INSERT INTO record_photo VALUES (?)", [(digest,) for digest in digests])
    return digests


def test_a_copy_has_the_photos_and_each_of_them_once(folder: DataFolder) -> None:
    first, second = with_photos(folder, b"one", b"two")
    database_file.copy(folder)
    database_file.copy(folder)
    assert sorted(one.name for one in folder.copied_photos.rglob("*.jpg")) == sorted(
        f"{digest}.jpg" for digest in (first, second)
    )
    assert not list(folder.copies.rglob("*.unfinished"))


def test_photos_that_are_gone_or_damaged_are_put_back_and_the_sound_database_is_left_alone(
    folder: DataFolder,
) -> None:
    gone, damaged, never_copied = with_photos(folder, b"one", b"two", b"three")
    place(folder.photos, never_copied).unlink()
    database_file.copy(folder)
    place(folder.photos, gone).unlink()
    place(folder.photos, damaged).write_bytes(b"tw")
    before = folder.database.read_bytes()
    done = database_file.put_back(folder)
    assert (done.copy, done.photos, done.lost) == (None, (gone, damaged), (never_copied,))
    assert place(folder.photos, gone).read_bytes() == b"one"
    assert place(folder.photos, damaged).read_bytes() == b"two"
    assert folder.database.read_bytes() == before


def test_a_damaged_photo_is_not_copied_as_if_it_were_whole(folder: DataFolder) -> None:
    (digest,) = with_photos(folder, b"one")
    place(folder.photos, digest).write_bytes(b"o")
    database_file.copy(folder)
    assert not place(folder.copied_photos, digest).exists()


def test_a_server_that_runs_for_long_takes_its_copy_too(folder: DataFolder) -> None:
    over = copy_daily(folder, timedelta(milliseconds=10))
    try:
        for _ in range(500):
            if database_file.copies(folder):
                break
            time.sleep(0.01)
        assert len(database_file.copies(folder)) == 1
    finally:
        over.set()


def test_nothing_is_put_in_the_place_of_a_sound_database(folder: DataFolder) -> None:
    database_file.copy(folder)
    with pytest.raises(BarwiseError, match="nothing was put back"):
        database_file.put_back(folder)


def test_a_copy_holds_what_is_still_in_the_log_beside_the_database(folder: DataFolder) -> None:
    with closing(sqlite3.connect(folder.database)) as busy:
        busy.execute("INSERT INTO kept(words) VALUES ('last')")
        busy.commit()
        assert kept(database_file.copy(folder)) == 101


def test_copies_come_once_a_day_and_the_oldest_go(folder: DataFolder, monkeypatch) -> None:
    assert database_file.copy_when_due(folder) is not None
    assert database_file.copy_when_due(folder) is None
    monkeypatch.setattr(database_file, "MOST_COPIES", 2)
    newest = [database_file.copy(folder) for _ in range(3)][-1]
    assert len(database_file.copies(folder)) == 2
    assert database_file.copies(folder)[0] == newest


def test_the_time_zone_is_the_systems(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.delenv("TZ", raising=False)
    link = tmp_path / "localtime"
    link.symlink_to("/usr/share/zoneinfo/Europe/Rome")
    assert time_zone(link) == "Europe/Rome"
    assert time_zone(tmp_path / "nothing") == "UTC"
    monkeypatch.setenv("TZ", ":America/Toronto")
    assert time_zone(link) == "America/Toronto"
