"""Is a SQLite file sound? In words that go on from its name."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

_HEADER = b"SQLite format 3\x00"


def address(file: Path, mode: str = "ro") -> str:
    """A SQLite file as an address, which opens what is there and begins no new one."""
    return f"{file.absolute().as_uri()}?mode={mode}"


def damage(file: Path, *, thorough: bool = False) -> str:
    """What is wrong with one SQLite file; empty when it can be read from end to end.

    Parameters
    ----------
    file : Path
    thorough : bool
        Hold every index against its table too, which takes three times as long.
    """
    try:
        with file.open("rb") as opened:
            begins = opened.read(len(_HEADER))
    except OSError as error:
        return f"cannot be opened ({error.strerror})"
    if not begins:
        return "is empty"
    if begins != _HEADER:
        return "is not a database any more"
    ask = "PRAGMA integrity_check(1)" if thorough else "PRAGMA quick_check(1)"
    try:
        with closing(sqlite3.connect(address(file), uri=True, timeout=10)) as database:
            said = database.execute(ask).fetchone()[0]
    except sqlite3.OperationalError as error:
        return f"cannot be read ({error})"
    except sqlite3.DatabaseError as error:
        return f"is damaged ({error})"
    return "" if said == "ok" else "is damaged: parts of it are missing or make no sense"
