"""The shop's SQLite file: is it sound, copies of it with its photos, and putting a copy back."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from barwise.errors import BarwiseError
from barwise.files.on_disk import to_disk, write_whole
from barwise.web import photo_files
from barwise.web.data_folder import DataFolder

MOST_COPIES = 14
EVERY = timedelta(days=1)
_NAMED = "barwise-%Y-%m-%dT%H-%M-%S-%fZ.sqlite3"
_NEVER = datetime.min.replace(tzinfo=UTC)
_HEADER = b"SQLite format 3\x00"
_BESIDE = ("-wal", "-shm")
"""Files SQLite keeps beside a database; a copy put back must not meet those of the file before it."""


class DamagedDatabaseError(BarwiseError):
    """The shop's database file cannot be read; says which copy could take its place."""


@dataclass(frozen=True)
class PutBack:
    """What `put_back` did.

    Attributes
    ----------
    copy, aside : Path or None
        The copy that stands in the database's place now, and where the file before it lies; None where the
        database was sound.
    photos, lost : tuple of str
        Photos put back from the copies, and those that no copy has.
    """

    copy: Path | None
    aside: Path | None
    photos: tuple[str, ...]
    lost: tuple[str, ...]


def check(folder: DataFolder) -> None:
    """Refuse to go on with a damaged, truncated or vanished database file. A shop not begun yet is fine.

    Raises
    ------
    DamagedDatabaseError
        With the newest copy that can be read, and how to put it back.
    """
    wrong = _what_is_wrong(folder)
    if wrong:
        raise DamagedDatabaseError(f"{wrong}. {_way_out(folder)}")


def copies(folder: DataFolder) -> list[Path]:
    """Copies of the database, the newest first."""
    named = [file for file in folder.copies.glob("barwise-*.sqlite3") if _taken(file) > _NEVER]
    return sorted(named, key=_taken, reverse=True)


def newest_sound_copy(folder: DataFolder) -> Path | None:
    """The newest copy that can be read from end to end."""
    return next((copy for copy in copies(folder) if not damage(copy)), None)


def copy(folder: DataFolder) -> Path:
    """Copy the database with its photos, also while it is in use; keeps the newest `MOST_COPIES`.

    The copy gets its name when all of it is there. A photo that is gone already cannot be copied: `gone` in
    `photo_files` tells of it.

    Raises
    ------
    DamagedDatabaseError
        If what was copied is damaged; then no older copy goes for it.
    """
    there = folder.copies / f"{datetime.now(UTC):{_NAMED}}"
    unfinished = there.with_suffix(".unfinished")
    with closing(sqlite3.connect(folder.database)) as source, closing(sqlite3.connect(unfinished)) as target:
        source.backup(target)
        target.execute("PRAGMA journal_mode=DELETE")
    unfinished.chmod(0o600)
    if found := damage(unfinished):
        unfinished.unlink()
        raise DamagedDatabaseError(f"the database {folder.database} {found}. {_way_out(folder)}")
    to_disk(unfinished)
    # After the database: a photo's file is on the disk before its row, so none of its rows lacks its file.
    photo_files.copy_photos(folder, photo_files.named_in(unfinished))
    unfinished.rename(there)
    to_disk(folder.copies)
    for old in copies(folder)[MOST_COPIES:]:
        old.unlink()
    return there


def copy_when_due(folder: DataFolder) -> Path | None:
    """Copy the database unless a copy of the last day is there."""
    newest = next(iter(copies(folder)), None)
    if newest is not None and datetime.now(UTC) - _taken(newest) < EVERY:
        return None
    return copy(folder)


def put_back(folder: DataFolder) -> PutBack:
    """Put the newest sound copy in the place of a damaged database, which is kept beside it; and lost photos.

    Raises
    ------
    BarwiseError
        If all is sound, or there is no copy that can be read.
    """
    copied, aside = (None, None) if not _what_is_wrong(folder) else _put_database_back(folder)
    named = photo_files.named_in(folder.database) if folder.database.exists() else []
    photos, lost = photo_files.put_back_photos(folder, named)
    if copied is None and not photos and not lost:
        raise BarwiseError(f"{folder.database} and its photos are sound: nothing was put back")
    return PutBack(copied, aside, tuple(photos), tuple(lost))


def _put_database_back(folder: DataFolder) -> tuple[Path, Path | None]:
    sound = newest_sound_copy(folder)
    if sound is None:
        raise BarwiseError(f"there is no copy in {folder.copies} that can be read: nothing was changed")
    aside = _set_aside(folder)
    write_whole(folder.database, sound.read_bytes())
    return sound, aside


def damage(file: Path) -> str:
    """What is wrong with one SQLite file, in words; empty when it can be read from end to end."""
    try:
        with file.open("rb") as opened:
            begins = opened.read(len(_HEADER))
    except OSError as error:
        return f"cannot be opened ({error.strerror})"
    if not begins:
        return "is empty"
    if begins != _HEADER:
        return "is not a database any more"
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True, timeout=10)) as database:
            said = database.execute("PRAGMA quick_check(1)").fetchone()[0]
    except sqlite3.OperationalError as error:
        return f"cannot be read ({error})"
    except sqlite3.DatabaseError as error:
        return f"is damaged ({error})"
    return "" if said == "ok" else "is damaged: parts of it are missing or make no sense"


def _what_is_wrong(folder: DataFolder) -> str:
    file = folder.database
    begun = bool(copies(folder))
    if not file.exists():
        return f"the database {file} is gone, though copies of it are there" if begun else ""
    if file.stat().st_size == 0 and not begun:
        return ""  # made, but not begun
    found = damage(file)
    return f"the database {file} {found}" if found else ""


def _way_out(folder: DataFolder) -> str:
    sound = newest_sound_copy(folder)
    if sound is None:
        return f"There is no copy of it in {folder.copies}; leave the file as it is and ask for help"
    taken = _taken(sound).astimezone()
    return (
        f"The newest copy that can be read was taken on {taken:%Y-%m-%d at %H:%M}: {sound}. Nothing was "
        "changed. barwise restore puts that copy in its place and keeps the damaged file beside it"
    )


def _taken(copy_file: Path) -> datetime:
    """When a copy was taken, as its name says; `_NEVER` for a file that is no copy of ours."""
    try:
        return datetime.strptime(copy_file.name, _NAMED).replace(tzinfo=UTC)
    except ValueError:
        return _NEVER


def _set_aside(folder: DataFolder) -> Path | None:
    """Move the damaged file and what SQLite kept beside it out of the way."""
    now = f"{datetime.now(UTC):%Y-%m-%dT%H-%M-%SZ}"
    aside = folder.database.with_name(f"{folder.database.name}.damaged-{now}")
    for beside in _BESIDE:
        kept = Path(f"{folder.database}{beside}")
        if kept.exists():
            kept.rename(f"{aside}{beside}")
    if not folder.database.exists():
        return None
    folder.database.rename(aside)
    return aside
