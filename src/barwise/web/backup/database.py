"""The database's part of a backup: copied from SQLite or PostgreSQL while readings go on coming in.

SQLite: its own backup interface, under one read transaction. In WAL mode that holds up no writer, and the
copy need not begin anew when one writes. It is brought to the disk piece by piece, so that no reading waits
for the disk behind half a gigabyte of backup. PostgreSQL: `pg_dump` on the snapshot that the counts are of.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import psycopg
from psycopg import conninfo, sql

from barwise.errors import BarwiseError
from barwise.files.on_disk import to_disk
from barwise.web.sound import address

STEP_PAGES = 1024
"""Of SQLite, brought to the disk at a time."""
FORMER = "former_"
"""How the name of a PostgreSQL schema begins that was set aside."""
_COUNTS = "SELECT (SELECT count(*) FROM record_job), (SELECT count(*) FROM record_reading)"
_LAST = "SELECT max(received_at) FROM record_reading"
_PHOTOS = "SELECT DISTINCT sha256 FROM record_photo ORDER BY sha256"


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
            jobs, readings = database.execute(_COUNTS).fetchone()
            last = database.execute(_LAST).fetchone()[0]
        except sqlite3.OperationalError as error:
            if "no such table" not in str(error):
                raise
            jobs, readings, last = 0, 0, None
        try:
            photos = tuple(row[0] for row in database.execute(_PHOTOS))
        except sqlite3.OperationalError as error:
            if "no such table" not in str(error):
                raise
            photos = ()
    return Counted(jobs, readings, last or "", photos)


def dump_postgresql(url: str, target: Path) -> Counted:
    """Dump the database named by a URL, and count what is in the dump.

    Raises
    ------
    BarwiseError
        If the server or `pg_dump` is not there, or refuses.
    """
    try:
        with psycopg.connect(url) as server:
            server.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            ((moment,),) = server.execute("SELECT pg_export_snapshot()").fetchall()
            ((jobs, readings),) = server.execute(_COUNTS).fetchall()
            ((last,),) = server.execute(_LAST).fetchall()
            photos = tuple(row[0] for row in server.execute(_PHOTOS))
            what = ("--format=custom", "--compress=1", "--no-owner", f"--exclude-schema={FORMER}*")
            _tool("pg_dump", url, *what, f"--snapshot={moment}", f"--file={target}")
    except psycopg.Error as error:
        raise BarwiseError(f"the database named in DATABASE_URL refuses: {error}") from None
    # Read through to its end: a dump that breaks off is refused here, not on the day it is needed.
    _tool("pg_restore", "", f"--file={os.devnull}", str(target))
    target.chmod(0o600)
    to_disk(target)
    return Counted(jobs, readings, last.isoformat() if last else "", photos)


def readings_in_postgresql(url: str) -> int | None:
    """How many readings a PostgreSQL database has; None where no shop was begun. Raises BarwiseError."""
    try:
        with psycopg.connect(url) as server:
            ((there,),) = server.execute("SELECT to_regclass('record_reading')").fetchall()
            if there is None:
                return None
            ((readings,),) = server.execute("SELECT count(*) FROM record_reading").fetchall()
            return int(readings)
    except psycopg.Error as error:
        raise BarwiseError(f"the database named in DATABASE_URL refuses: {error}") from None


def restore_postgresql(url: str, dump: Path, aside: str) -> None:
    """Put a dump in the place of what is in the database; that is kept as the schema `aside`.

    Raises
    ------
    BarwiseError
        If it cannot be done; then the database is as it was.
    """
    _tool("pg_restore", "", f"--file={os.devnull}", str(dump))
    try:
        with psycopg.connect(url) as server:
            server.execute(sql.SQL("ALTER SCHEMA public RENAME TO {}").format(sql.Identifier(aside)))
            server.execute("CREATE SCHEMA public")
        try:
            _tool("pg_restore", url, "--single-transaction", "--exit-on-error", "--no-owner", str(dump))
        except BarwiseError:
            with psycopg.connect(url) as server:
                server.execute("DROP SCHEMA public CASCADE")
                server.execute(sql.SQL("ALTER SCHEMA {} RENAME TO public").format(sql.Identifier(aside)))
            raise
    except psycopg.Error as error:
        raise BarwiseError(f"the database named in DATABASE_URL refuses: {error}") from None


def _tool(name: str, url: str, *arguments: str) -> None:
    """Run one of PostgreSQL's own programs; a password goes by the environment, where nobody reads along."""
    program = shutil.which(name)
    if program is None:
        raise BarwiseError(
            f"{name} was not found: install the PostgreSQL client programs of the server's version or newer"
        )
    known = conninfo.conninfo_to_dict(url)
    password = known.pop("password", None)
    surroundings = {**os.environ, **({"PGPASSWORD": str(password)} if password else {})}
    where = [f"--dbname={conninfo.make_conninfo('', **known)}"] if url else []
    ran = subprocess.run(
        [program, *where, *arguments], env=surroundings, capture_output=True, text=True, check=False
    )
    if ran.returncode:
        said = " ".join(ran.stderr.split())[-300:]
        raise BarwiseError(f"{name} could not do it: {said or 'it does not say why'}")
