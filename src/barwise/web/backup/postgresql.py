"""The database's part of a backup where that is PostgreSQL: dumped on the snapshot that the counts are of.

Apart from SQLite's, because PostgreSQL's driver takes long to load and most shops have no use for it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from psycopg import conninfo, sql

from barwise.errors import BarwiseError
from barwise.files.on_disk import to_disk
from barwise.web.backup.database import HOW_MANY, NEWEST, PHOTOS, Counted

FORMER = "former_"
"""How the name of a schema begins that was set aside."""


@contextmanager
def _connected(url: str) -> Iterator[psycopg.Connection]:
    """A connection; what the server refuses is said in our words."""
    try:
        with psycopg.connect(url) as server:
            yield server
    except psycopg.Error as error:
        raise BarwiseError(f"the database named in DATABASE_URL refuses: {error}") from None


def dump(url: str, target: Path) -> Counted:
    """Dump the database named by a URL, and count what is in the dump.

    Raises
    ------
    BarwiseError
        If the server or `pg_dump` is not there, or refuses.
    """
    with _connected(url) as server:
        server.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        ((moment,),) = server.execute("SELECT pg_export_snapshot()").fetchall()
        ((jobs, readings),) = server.execute(HOW_MANY).fetchall()
        ((last,),) = server.execute(NEWEST).fetchall()
        photos = tuple(row[0] for row in server.execute(PHOTOS))
        what = ("--format=custom", "--compress=1", "--no-owner", f"--exclude-schema={FORMER}*")
        _tool("pg_dump", url, *what, f"--snapshot={moment}", f"--file={target}")
    _read_through(target)  # a dump that breaks off is refused here, not on the day it is needed
    target.chmod(0o600)
    to_disk(target)
    return Counted(jobs, readings, last.isoformat() if last else "", photos)


def readings_in(url: str) -> int | None:
    """How many readings a PostgreSQL database has; None where no shop was begun. Raises BarwiseError."""
    with _connected(url) as server:
        ((there,),) = server.execute("SELECT to_regclass('record_reading')").fetchall()
        if there is None:
            return None
        ((readings,),) = server.execute("SELECT count(*) FROM record_reading").fetchall()
        return int(readings)


def restore(url: str, dump: Path, aside: str) -> None:
    """Put a dump in the place of what is in the database; that is kept as the schema `aside`.

    Raises
    ------
    BarwiseError
        If it cannot be done; then the database is as it was.
    """
    _read_through(dump)
    with _connected(url) as server:
        server.execute(sql.SQL("ALTER SCHEMA public RENAME TO {}").format(sql.Identifier(aside)))
        server.execute("CREATE SCHEMA public")
    try:
        _tool("pg_restore", url, "--single-transaction", "--exit-on-error", "--no-owner", str(dump))
    except BarwiseError:
        with _connected(url) as server:
            server.execute("DROP SCHEMA public CASCADE")
            server.execute(sql.SQL("ALTER SCHEMA {} RENAME TO public").format(sql.Identifier(aside)))
        raise


def _read_through(dump: Path) -> None:
    """To its end, into nothing. Raises BarwiseError if it breaks off."""
    _tool("pg_restore", "", f"--file={os.devnull}", str(dump))


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
