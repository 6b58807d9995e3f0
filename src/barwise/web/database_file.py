"""The shop's SQLite file: is it sound; if not, which backup could take its place and what would be lost."""

from __future__ import annotations

import sqlite3
from contextlib import closing

from barwise.errors import BarwiseError
from barwise.web.backup.database import counted_in_sqlite
from barwise.web.backup.kept import DamagedBackupError, backups, newest_sound
from barwise.web.data_folder import DataFolder
from barwise.web.sound import address, damage


class DamagedDatabaseError(BarwiseError):
    """The shop's database file cannot be read; says which backup could take its place."""


def check(folder: DataFolder) -> None:
    """Refuse to go on with a damaged, truncated or vanished database file. A shop not begun yet is fine.

    Raises
    ------
    DamagedDatabaseError
        With the newest backup that is sound, what came after it, and how to put it back.
    """
    wrong = what_is_wrong(folder)
    if wrong:
        raise DamagedDatabaseError(f"{wrong}. {_way_out(folder)}")


def what_is_wrong(folder: DataFolder) -> str:
    """What is wrong with the database file, in words; empty where nothing is."""
    file = folder.database
    begun = bool(backups(folder.copies))
    if not file.exists():
        return f"the database {file} is gone, though backups of it are there" if begun else ""
    if file.stat().st_size == 0 and not begun and not folder.beside("-wal").exists():
        return ""  # made, but not begun
    found = damage(file)
    return f"the database {file} {found}" if found else ""


def readings_in(folder: DataFolder) -> int | None:
    """How many readings the file has, also a damaged one; None where it does not say any more."""
    try:
        return counted_in_sqlite(folder.database).readings
    except sqlite3.Error:
        pass
    try:
        # Readings are numbered on and never deleted, so the last number is their count.
        with closing(sqlite3.connect(address(folder.database), uri=True, timeout=10)) as database:
            ask = "SELECT seq FROM sqlite_sequence WHERE name = 'record_reading'"
            return int(database.execute(ask).fetchone()[0])
    except (sqlite3.Error, TypeError):
        return None


def fewer_than_backed_up(folder: DataFolder) -> str:
    """Words for a sound database with fewer readings than its newest backup: something of it is gone."""
    newest = next(iter(backups(folder.copies)), None)
    if newest is None or not folder.database.exists():
        return ""
    try:
        then, now = newest.contents.readings, readings_in(folder)
    except DamagedBackupError:
        return ""
    if now is None or now >= then:
        return ""
    return (
        f"The database has {now} readings, its newest backup {then}: the file {folder.database.name}-wal "
        "beside it was lost, or an older database was put here. "
        f"barwise restore {newest.path} --replace puts the backup in its place; "
        "if you put an older one here yourself, all is well"
    )


def _way_out(folder: DataFolder) -> str:
    sound = newest_sound(folder.copies)
    if sound is None:
        return (
            f"There is no backup of it in {folder.copies}; leave the file as it is. If there is a backup on "
            "another drive: barwise restore FILE puts that in its place"
        )
    then, now = sound.contents.readings, readings_in(folder)
    since = "how many came after it, the damaged file does not say any more"
    if now is not None:
        since = f"{_readings(max(0, now - then))} came after it and would be lost"
    return (
        f"The newest backup that is sound was taken on {sound.taken.astimezone():%Y-%m-%d at %H:%M}: "
        f"{sound.path}. It has {_readings(then)}; {since}. Nothing was changed. barwise restore puts that "
        "backup in its place and keeps the damaged file beside it"
    )


def _readings(count: int) -> str:
    return "1 reading" if count == 1 else f"{count:,} readings"
