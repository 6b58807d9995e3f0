"""One backup: a folder with the database, the shop's other files, and a list of them with checksums.

    copies/barwise-2026-03-04T05-06-07-000000Z/
        list.json           what is in it, each file with its SHA-256, and the photos by name
        database.sqlite3    or database.pgdump
        files/              the other files of the data folder: keys, settings
    copies/photos/          each photo once, for all backups beside it

The folder gets this name when all of it is on the disk. As one file it is a zip of the same, with its photos.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath
from typing import Any

from barwise.errors import BarwiseError
from barwise.files.on_disk import write_whole

LIST, FILES, PHOTOS = "list.json", "files", "photos"
DATABASES = {"sqlite": "database.sqlite3", "postgresql": "database.pgdump"}
SCHEMA = 1
NAMED = "barwise-%Y-%m-%dT%H-%M-%S-%fZ"
UNFINISHED, DAMAGED = ".unfinished", ".damaged"


class DamagedBackupError(BarwiseError):
    """A backup that is not what its list says."""


@dataclass(frozen=True)
class Contents:
    """What is in a backup.

    Attributes
    ----------
    database : str
        Whose it is: sqlite or postgresql.
    version : str
        The barwise that took it.
    jobs, readings : int
    last_reading : str
        When the last reading came in, ISO 8601; empty where there is none.
    files : mapping of str to str
        SHA-256 of each file by its path in the backup.
    photos, missing : tuple of str
        The photos that the database speaks of, and those that were gone already when it was taken.
    """

    database: str
    version: str
    jobs: int
    readings: int
    last_reading: str
    files: Mapping[str, str]
    photos: tuple[str, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Backup:
    """A backup in its folder."""

    path: Path

    @property
    def taken(self) -> datetime:
        """When, as its name says."""
        return datetime.strptime(self.path.name, NAMED).replace(tzinfo=UTC)

    @property
    def contents(self) -> Contents:
        """What its list says; the files themselves are not read.

        Raises
        ------
        DamagedBackupError
            If the list is gone or is not as it was written.
        """
        return _read_list(self.path)

    @property
    def photo_places(self) -> tuple[Path, ...]:
        """Folders in which its photos may lie: within it, or one for all beside it."""
        return self.path / PHOTOS, self.path.parent / PHOTOS

    def check(self) -> Contents:
        """Read every file of it and compare it with the list; photos are known by their names.

        Raises
        ------
        DamagedBackupError
            Naming what is gone or altered.
        """
        contents = self.contents
        for name, digest in contents.files.items():
            found = sha256(self.path / name)
            if found != digest:
                what = "is gone" if not found else "is not as it was written"
                raise DamagedBackupError(f"backup {self.path}: its file {name} {what}")
        return contents


def backups(place: Path) -> list[Backup]:
    """The backups in a folder, the newest first."""
    found = [Backup(one) for one in place.glob("barwise-*Z") if _is_named(one.name) and one.is_dir()]
    return sorted(found, key=lambda one: one.taken, reverse=True)


def newest_sound(place: Path) -> Backup | None:
    """The newest backup that is as it was written."""
    for one in backups(place):
        try:
            one.check()
        except DamagedBackupError:
            continue
        return one
    return None


def write_list(path: Path, contents: Contents) -> None:
    """Write the list of a backup, with a checksum of itself."""
    said: dict[str, Any] = {
        "schema": SCHEMA,
        "database": contents.database,
        "barwise": contents.version,
        "jobs": contents.jobs,
        "readings": contents.readings,
        "last_reading": contents.last_reading,
        "files": dict(contents.files),
        "photos": list(contents.photos),
        "missing": list(contents.missing),
    }
    said["sum"] = _sum(said)
    write_whole(path / LIST, f"{json.dumps(said, indent=1)}\n".encode())


def sha256(file: Path) -> str:
    """The checksum of a file; empty where it cannot be read."""
    try:
        with file.open("rb") as opened:
            return hashlib.file_digest(opened, "sha256").hexdigest()
    except OSError:
        return ""


def _read_list(path: Path) -> Contents:
    try:
        said = json.loads((path / LIST).read_text(encoding="utf-8"))
        if said.pop("sum") != _sum(said) or said["schema"] != SCHEMA:
            raise ValueError("sum")
        contents = Contents(
            said["database"],
            said["barwise"],
            said["jobs"],
            said["readings"],
            said["last_reading"],
            said["files"],
            tuple(said["photos"]),
            tuple(said["missing"]),
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        raise DamagedBackupError(
            f"{path} is no backup that can be read: its {LIST} is gone or is not as it was written"
        ) from None
    if not all(_stays_inside(name) for name in contents.files) or contents.database not in DATABASES:
        raise DamagedBackupError(f"{path} is no backup of a shop: its {LIST} names what no backup has")
    return contents


def _stays_inside(name: str) -> bool:
    parts = PurePosixPath(name).parts
    plain = bool(parts) and ".." not in parts and not name.startswith("/") and not set(name) & set("\\:\0")
    return plain and (len(parts) == 1 or parts[0] == FILES)


def _sum(said: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()


def _is_named(name: str) -> bool:
    try:
        datetime.strptime(name, NAMED)
    except ValueError:
        return False
    return True
