"""The database's part of a backup: copied from SQLite while readings go on coming in.

By its own backup interface, under one read transaction. In WAL mode that holds up no writer, and the copy
need not begin anew when one writes. It is brought to the disk piece by piece, so that no reading waits for
the disk behind half a gigabyte of backup.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from barwise.files.on_disk import to_disk
from barwise.web.sound import address

STEP_PAGES = 1024
"""Of SQLite, brought to the disk at a time."""
HOW_MANY = "SELECT (SELECT count(*) FROM record_job), (SELECT count(*) FROM record_reading)"
NEWEST = "SELECT max(received_at) FROM record_reading"
PHOTOS = "SELECT DISTINCT sha256 FROM record_photo ORDER BY sha256"


@dataclass(frozen=True)
class Counted:
    """What a database has: jobs, readings, when the last came in, and the names of its photos."""

    jobs: int = 0
    readings: int = 0
    last_reading: str = ""
    photos: tuple[str, ...] = ()


def copy_sqlite(source: Path, target: Path) -> None:
    """Copy a SQLite database in use. The target is on the disk when this returns.

    Raises
    ------
    sqlite3.Error
        If the source is damaged or cannot be read.
    OSError
        If the disk of the target is full.
    """
    with closing(sqlite3.connect(address(source, "rw"), uri=True, timeout=10)) as live:
        live.isolation_level = None
        live.execute("BEGIN")
        live.execute("SELECT count(*) FROM sqlite_schema").fetchone()  # from here on it is one moment's
        with closing(sqlite3.connect(target)) as made:
            for setting in ("journal_mode=OFF", "synchronous=OFF"):  # what is half made is thrown away
                made.execute(f"PRAGMA {setting}")
            live.backup(made, pages=STEP_PAGES, progress=lambda *_: to_disk(target))
            made.execute("PRAGMA journal_mode=DELETE")
    target.chmod(0o600)
    to_disk(target)


def counted_in_sqlite(file: Path) -> Counted:
    """What a SQLite file has; nothing where it has no such tables yet. Raises sqlite3.Error."""
    with closing(sqlite3.connect(address(file), uri=True, timeout=10)) as database:
        try:
            jobs, readings = database.execute(HOW_MANY).fetchone()
            last = database.execute(NEWEST).fetchone()[0]
        except sqlite3.OperationalError as error:
            if "no such table" not in str(error):
                raise
            jobs, readings, last = 0, 0, None
        try:
            photos = tuple(row[0] for row in database.execute(PHOTOS))
        except sqlite3.OperationalError as error:
            if "no such table" not in str(error):
                raise
            photos = ()
    return Counted(jobs, readings, last or "", photos)
