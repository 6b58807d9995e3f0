"""The shop's folder, its key, and its database file: made once, kept, and never silently replaced."""

from __future__ import annotations

import os
import re
import sqlite3
import stat
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from barwise.errors import BarwiseError
from barwise.web import database_file
from barwise.web.backup.taking import take
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
    take(folder)
    newest = take(folder).path
    spoilt = HARMS[harm](folder.database.read_bytes())
    folder.database.write_bytes(spoilt)
    with pytest.raises(DamagedDatabaseError, match=re.escape(str(newest))) as told:
        database_file.check(folder)
    assert "barwise restore" in str(told.value)
    assert folder.database.read_bytes() == spoilt


def test_a_database_that_is_gone_is_not_begun_anew_behind_the_shops_back(folder: DataFolder) -> None:
    take(folder)
    folder.database.unlink()
    with pytest.raises(DamagedDatabaseError, match="is gone, though backups"):
        database_file.check(folder)


def test_the_time_zone_is_the_systems(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.delenv("TZ", raising=False)
    link = tmp_path / "localtime"
    link.symlink_to("/usr/share/zoneinfo/Europe/Rome")
    assert time_zone(link) == "Europe/Rome"
    assert time_zone(tmp_path / "nothing") == "UTC"
    monkeypatch.setenv("TZ", ":America/Toronto")
    assert time_zone(link) == "America/Toronto"
