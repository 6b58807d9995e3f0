"""A backup taken: whole and checked before it has its name, before anything older goes, and in two places."""

from __future__ import annotations

import shutil
import sqlite3
import time
import zipfile
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from barwise.errors import BarwiseError
from barwise.files.on_disk import to_disk, write_whole
from barwise.record.photo_place import place, whole
from barwise.version import __version__
from barwise.web.backup.database import Counted, copy_sqlite, counted_in_sqlite
from barwise.web.backup.kept import (
    DAMAGED,
    DATABASES,
    FILES,
    LIST,
    NAMED,
    PHOTOS,
    UNFINISHED,
    Backup,
    Contents,
    backups,
    sha256,
    write_list,
)
from barwise.web.backup.plan import Plan, the_plan
from barwise.web.backup.retention import Keep, kept
from barwise.web.data_folder import DataFolder, elsewhere
from barwise.web.photo_files import copy_photos
from barwise.web.sound import damage

TROUBLE = "trouble.txt"
"""In the folder of the backups: why the last try came to nothing."""
ROOM_BYTES = 100_000_000
"""Left free for readings: a backup never takes the last of the disk."""
_GIVEN_UP = timedelta(hours=6)
"""A backup unfinished for so long was left by a process that is no more."""
_CLOCKS = timedelta(minutes=5)


def take(folder: DataFolder) -> Backup:
    """Back the shop up, also while it is in use, and let go those that have had their time.

    Raises
    ------
    BarwiseError
        If it could not be done; then every older backup is still there.
    """
    try:
        backup = _taken(folder)
        _check_whole(backup)
    except (OSError, sqlite3.Error, BarwiseError) as error:
        said = str(error) if isinstance(error, BarwiseError) else f"no backup was taken: {error}"
        _note(folder, said)
        raise error if isinstance(error, BarwiseError) else BarwiseError(said) from None
    _note(folder, "")
    _thin(folder.copies, the_plan(folder).keep, backup)
    return backup


def take_when_due(folder: DataFolder) -> Backup | None:
    """Back the shop up unless the newest backup is younger than the plan asks. Raises as `take`."""
    return take(folder) if is_due(folder, datetime.now(UTC)) else None


def is_due(folder: DataFolder, now: datetime) -> bool:
    """Whether a backup should be taken; one from the future is a clock's mistake and does not count."""
    ages = [now - one.taken for one in backups(folder.copies)]
    try:
        every = the_plan(folder).every
    except BarwiseError:
        every = Plan().every  # a slip in backup.toml is told of, and leaves no shop without backups
    return not any(-_CLOCKS < age < every for age in ages)


def trouble(folder: DataFolder) -> str:
    """Why the last try came to nothing; empty where it came to something."""
    try:
        return (folder.copies / TROUBLE).read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError):
        return ""


def bring_to_second_place(folder: DataFolder) -> Path | None:
    """Copy the newest backup to the second place, with the photos that are not there yet.

    Returns
    -------
    Path or None
        The backup there; None where no second place is named.

    Raises
    ------
    BarwiseError
        If the place is not there, or cannot be written.
    """
    plan = the_plan(folder)
    newest = next(iter(backups(folder.copies)), None)
    if plan.second_place is None or newest is None:
        return None
    second_place_is_there(plan)
    there = plan.second_place / newest.path.name
    if there.is_dir():
        return there
    try:
        _copy_there(newest, plan.second_place)
    except OSError as error:
        raise BarwiseError(
            f"the second place {plan.second_place} cannot be written ({error.strerror}); the backup is in "
            f"{newest.path}"
        ) from None
    _thin(plan.second_place, plan.keep, Backup(there))
    return there


def second_place_is_there(plan: Plan) -> None:
    """Refuse a second place that is not there: made anew, it would lie on the first drive. BarwiseError."""
    if plan.second_place is not None and not plan.second_place.is_dir():
        raise BarwiseError(
            f"the second place {plan.second_place} is not there: plug the drive in, or name another folder "
            "in backup.toml; backups are in the first place only until then"
        )


def on_one_drive(folder: DataFolder, plan: Plan) -> bool:
    """Whether the second place lies on the drive of the data folder, and would be lost with it."""
    try:
        second = plan.second_place
        return second is not None and second.stat().st_dev == folder.path.stat().st_dev
    except OSError:
        return False


def pack(backup: Backup, file: Path) -> None:
    """One file of a backup, its photos in it: a zip, whole or not at all.

    Raises
    ------
    BarwiseError
        If it cannot be written, or something of the backup is gone.
    """
    contents = backup.check()
    unfinished = file.with_name(file.name + UNFINISHED)
    try:
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as packed:
            packed.write(backup.path / LIST, LIST)
            for name in contents.files:
                packed.write(backup.path / name, name)
            for digest in contents.photos:
                found = next((one for one in backup.photo_places if place(one, digest).exists()), None)
                if found is not None:
                    inside = place(Path(PHOTOS), digest).as_posix()
                    packed.write(place(found, digest), inside, zipfile.ZIP_STORED)
        unfinished.chmod(0o600)
        to_disk(unfinished)
        unfinished.replace(file)
        to_disk(file.parent)
    except OSError as error:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
        raise BarwiseError(
            f"{file} cannot be written ({error.strerror}); the backup is in {backup.path}"
        ) from None


def _taken(folder: DataFolder) -> Backup:
    folder.copies.mkdir(mode=0o700, parents=True, exist_ok=True)
    _sweep(folder.copies)
    url = elsewhere()
    if not url:
        _ask_for_room(folder)
    there = folder.copies / f"{datetime.now(UTC):{NAMED}}"
    unfinished = there.with_name(there.name + UNFINISHED)
    unfinished.mkdir(mode=0o700)
    try:
        name = DATABASES["postgresql" if url else "sqlite"]
        counted = _copied(folder, url, unfinished / name)
        # After the database: a photo's file is on the disk before its row, so no row lacks its file.
        missing = copy_photos(folder, list(counted.photos))
        names = [name, *_copy_files(folder, unfinished / FILES)]
        _write_list(unfinished, counted, names, missing, "postgresql" if url else "sqlite")
        unfinished.rename(there)
    except BaseException:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise
    to_disk(folder.copies)
    return Backup(there)


def _copied(folder: DataFolder, url: str, target: Path) -> Counted:
    if url:
        from barwise.web.backup import postgresql  # loads its driver, which a shop with a file does without

        return postgresql.dump(url, target)
    if not folder.database.exists() or not folder.database.stat().st_size:
        raise BarwiseError(f"no backup was taken: {folder.database} is empty or gone")
    try:
        copy_sqlite(folder.database, target)
    except sqlite3.DatabaseError as error:
        raise BarwiseError(f"no backup was taken, the database {folder.database} refuses: {error}") from None
    if found := damage(target):
        raise BarwiseError(f"no backup was taken: the database {folder.database} {found}")
    return counted_in_sqlite(target)


def _copy_files(folder: DataFolder, target: Path) -> list[str]:
    """Copy whatever else lies in the data folder: keys, settings; the paths of the copies in the backup."""
    names = []
    for file in folder.other_files():
        inside = target / file.relative_to(folder.path)
        write_whole(inside, file.read_bytes())
        names.append(f"{FILES}/{file.relative_to(folder.path).as_posix()}")
    return names


def _write_list(path: Path, counted: Counted, names: list[str], missing: list[str], database: str) -> None:
    digests = {name: sha256(path / name) for name in names}
    photos = counted.photos
    write_list(
        path,
        Contents(
            database,
            __version__,
            counted.jobs,
            counted.readings,
            counted.last_reading,
            digests,
            photos,
            tuple(missing),
        ),
    )


def _check_whole(backup: Backup) -> None:
    """Check the database of a backup to the last index. What fails it is kept under another name."""
    contents = backup.contents
    if contents.database != "sqlite":
        return  # `pg_restore` has read it through
    if found := damage(backup.path / DATABASES["sqlite"], thorough=True):
        backup.path.rename(backup.path.with_name(backup.path.name + DAMAGED))
        raise BarwiseError(f"the backup is not sound, and so is the database: it {found}")


def _thin(where: Path, keep: Keep, just_taken: Backup) -> None:
    """Let go the backups that have had their time; never the one just taken."""
    stay = {*kept((one.taken for one in backups(where)), keep), just_taken.taken}
    for one in backups(where):
        if one.taken not in stay:
            going = one.path.with_name(one.path.name + UNFINISHED)  # half deleted, it is no backup any more
            with suppress(OSError):
                one.path.rename(going)
                shutil.rmtree(going)


def _copy_there(newest: Backup, second: Path) -> None:
    contents = newest.contents
    for digest in contents.photos:
        if not place(second / PHOTOS, digest).exists():
            content = whole(newest.path.parent / PHOTOS, digest)
            if content is not None:
                write_whole(place(second / PHOTOS, digest), content)
    _sweep(second)
    there = second / newest.path.name
    unfinished = there.with_name(there.name + UNFINISHED)
    shutil.rmtree(unfinished, ignore_errors=True)
    try:
        shutil.copytree(newest.path, unfinished)
        Backup(unfinished).check()
        for file in unfinished.rglob("*"):
            if file.is_file():
                to_disk(file)
        unfinished.rename(there)
    except BaseException:
        shutil.rmtree(unfinished, ignore_errors=True)
        raise
    to_disk(second)


def _ask_for_room(folder: DataFolder) -> None:
    needed = ROOM_BYTES + sum(
        file.stat().st_size for file in (folder.database, folder.beside("-wal")) if file.exists()
    )
    free = shutil.disk_usage(folder.copies).free
    if free < needed:
        raise BarwiseError(
            f"no backup was taken: {free / 1e6:.0f} MB are free in {folder.copies}, {needed / 1e6:.0f} MB "
            "are needed: make room, or readings will soon find none either"
        )


def _sweep(where: Path) -> None:
    """Clear away what a process left that was killed in the middle of a backup."""
    for left in where.glob(f"barwise-*{UNFINISHED}"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > _GIVEN_UP.total_seconds():
                shutil.rmtree(left)


def _note(folder: DataFolder, said: str) -> None:
    """Write down why it came to nothing, where that can be written at all."""
    with suppress(OSError):
        if said:
            write_whole(folder.copies / TROUBLE, f"{said}\n".encode())
        else:
            (folder.copies / TROUBLE).unlink(missing_ok=True)
