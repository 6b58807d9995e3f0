"""A backup put back: into an empty folder, in the place of a damaged shop, or of a living one if asked.

What it takes the place of is set aside, never deleted.
"""

from __future__ import annotations

import shutil
import sqlite3
import zipfile
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from barwise.errors import BarwiseError
from barwise.files.on_disk import to_disk, write_whole
from barwise.web.backup import postgresql
from barwise.web.backup.database import counted_in_sqlite
from barwise.web.backup.kept import (
    DATABASES,
    FILES,
    LIST,
    PHOTOS,
    Backup,
    Contents,
    DamagedBackupError,
    newest_sound,
    sha256,
)
from barwise.web.data_folder import ASIDE, UNPACKING, DataFolder
from barwise.web.database_file import what_is_wrong
from barwise.web.photo_files import put_back_photos
from barwise.web.sound import address


@dataclass(frozen=True)
class Restored:
    """What was put back.

    Attributes
    ----------
    backup : Path or None
        None where only photos were.
    contents : Contents or None
    aside : str
        Where that lies which it took the place of; empty where there was nothing.
    photos, lost : tuple of str
        Photos put back, and those that no backup has.
    """

    backup: Path | None
    contents: Contents | None
    aside: str
    photos: tuple[str, ...]
    lost: tuple[str, ...]


def restore(given: Path, folder: DataFolder, url: str = "", *, replace: bool = False) -> Restored:
    """Put a backup, a folder or a zip, into a data folder and the database it belongs into.

    Parameters
    ----------
    given : Path
    folder : DataFolder
    url : str
        The PostgreSQL database for a backup of one.
    replace : bool
        Also where a shop is alive.

    Raises
    ------
    BarwiseError
        If the backup is not as it was written, or the shop there is alive or served; nothing is changed.
    """
    now = f"{datetime.now(UTC):%Y-%m-%dT%H-%M-%SZ}"
    unpacked = folder.path / f"{UNPACKING}{now}"
    try:
        backup = _opened(given, unpacked)
        contents = backup.check()
        _refuse(contents, folder, url, replace)
        folder.path.mkdir(mode=0o700, parents=True, exist_ok=True)
        aside = _put(backup, contents, folder, url, now)
        photos, lost = put_back_photos(folder, contents.photos, (*backup.photo_places, folder.copied_photos))
    except OSError as error:
        raise BarwiseError(f"{folder.path} cannot be written ({error.strerror}): {error.filename}") from None
    finally:
        shutil.rmtree(unpacked, ignore_errors=True)
    return Restored(given, contents, aside, tuple(photos), tuple(lost))


def put_right(folder: DataFolder) -> Restored:
    """Put the newest sound backup in the place of a damaged SQLite file; and photos that are gone or damaged.

    Raises
    ------
    BarwiseError
        If all is sound, or there is no backup that is.
    """
    if what_is_wrong(folder):
        sound = newest_sound(folder.copies)
        if sound is None:
            raise BarwiseError(f"there is no backup in {folder.copies} that is sound: nothing was changed")
        return restore(sound.path, folder)
    digests = counted_in_sqlite(folder.database).photos if folder.database.exists() else ()
    photos, lost = put_back_photos(folder, digests, (folder.copied_photos,))
    if not photos and not lost:
        raise BarwiseError(
            f"{folder.database} and its photos are sound: nothing was put back. To put an older backup in "
            "its place: barwise restore FILE --replace"
        )
    return Restored(None, None, "", tuple(photos), tuple(lost))


def _opened(given: Path, unpacked: Path) -> Backup:
    if given.is_dir():
        return Backup(given.absolute())
    if given.is_file() and (given.parent / LIST).is_file():
        return Backup(given.absolute().parent)  # one of the files in it was named
    if not given.exists():
        raise DamagedBackupError(f"{given} is not there: name the folder or the zip of a backup")
    try:
        with zipfile.ZipFile(given) as packed:
            if not all(_belongs(name) for name in packed.namelist()):
                raise DamagedBackupError(f"{given} is no backup of a shop: it has files that no backup has")
            unpacked.mkdir(mode=0o700, parents=True)
            packed.extractall(unpacked)
    except (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, ValueError, NotImplementedError):
        raise DamagedBackupError(f"{given} is no backup, or is damaged: it cannot be unpacked") from None
    except Exception as error:
        if type(error).__module__ == "zlib":
            raise DamagedBackupError(f"{given} is damaged: it cannot be unpacked") from None
        raise
    return Backup(unpacked)


def _belongs(name: str) -> bool:
    parts = PurePosixPath(name).parts
    if not parts or ".." in parts or name.startswith("/") or set(name) & set("\\:\0"):
        return False
    return parts[0] in (LIST, FILES, PHOTOS, *DATABASES.values())


def _refuse(contents: Contents, folder: DataFolder, url: str, replace: bool) -> None:
    if contents.database == "postgresql" and not url:
        raise BarwiseError(
            "this backup is of a PostgreSQL database: name the one it should go into in DATABASE_URL"
        )
    if contents.database == "sqlite" and url:
        raise BarwiseError(
            "this backup is of a shop with its own file, and DATABASE_URL names another database: take "
            "DATABASE_URL away"
        )
    if url:
        readings = postgresql.readings_in(url)
        alive = readings is not None
    else:
        alive = folder.database.exists() and not what_is_wrong(folder)
        readings = counted_in_sqlite(folder.database).readings if alive else 0
    if alive and not replace:
        raise BarwiseError(
            f"a shop with {readings} readings is alive there: nothing was changed. With --replace the backup "
            "takes its place, and what is there now is set aside"
        )
    if alive and not url and _in_use(folder.database):
        raise BarwiseError(f"{folder.database} is in use: stop barwise serve first; nothing was changed")


def _in_use(database: Path) -> bool:
    """Whether another process has a sound SQLite file open: each holds a lock on it while it does."""
    with closing(sqlite3.connect(address(database, "rw"), uri=True, timeout=0)) as opened:
        try:
            opened.execute("PRAGMA locking_mode=EXCLUSIVE")
            opened.execute("BEGIN EXCLUSIVE")
            opened.rollback()
        except sqlite3.OperationalError as error:
            return "locked" in str(error)
    return False


def _put(backup: Backup, contents: Contents, folder: DataFolder, url: str, now: str) -> str:
    """Put database and files in their places; where that lies which was there."""
    aside = folder.path / f"{ASIDE}{now}"
    part = backup.path / DATABASES[contents.database]
    moved = _put_files(backup, contents, folder, aside)
    if url:
        former = f"{postgresql.FORMER}{datetime.now(UTC):%Y%m%d_%H%M%S}"
        begun = postgresql.readings_in(url) is not None
        postgresql.restore(url, part, former)
        return f"the schema {former} of the database" if begun else ""
    coming = folder.path / f"{UNPACKING}{now}.sqlite3"
    try:
        shutil.copyfile(part, coming)
        coming.chmod(0o600)
        to_disk(coming)
        for file in (folder.beside("-wal"), folder.beside("-shm"), folder.database):
            moved |= _moved(file, aside)
        coming.replace(folder.database)
    finally:
        coming.unlink(missing_ok=True)
    to_disk(folder.path)
    return str(aside) if moved else ""


def _put_files(backup: Backup, contents: Contents, folder: DataFolder, aside: Path) -> bool:
    moved = False
    for name, digest in contents.files.items():
        inside = PurePosixPath(name)
        if inside.parts[0] != FILES:
            continue
        there = folder.path / Path(*inside.parts[1:])
        if sha256(there) != digest:
            moved |= _moved(there, aside)
            write_whole(there, (backup.path / name).read_bytes())
    return moved


def _moved(file: Path, aside: Path) -> bool:
    if not file.exists():
        return False
    aside.mkdir(mode=0o700, exist_ok=True)
    file.replace(aside / file.name)
    return True
