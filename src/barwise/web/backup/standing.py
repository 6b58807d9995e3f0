"""How the shop's backups stand: when the last good one was, and what is wrong with them, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from barwise.errors import BarwiseError
from barwise.web.backup.kept import Backup, DamagedBackupError, backups
from barwise.web.backup.plan import Plan, the_plan
from barwise.web.backup.taking import on_one_drive, second_place_is_there, trouble
from barwise.web.data_folder import DataFolder

LATE_BY = timedelta(days=1)
"""The newest may be older than planned by so much before it is told: the shop may be closed for a day."""


@dataclass(frozen=True)
class Line:
    """One backup as the screen lists it; without counts where its list cannot be read."""

    backup: Backup
    jobs: int | None = None
    readings: int | None = None


@dataclass(frozen=True)
class Standing:
    """What the screen shows.

    Attributes
    ----------
    plan : Plan
    lines : tuple of Line
        The newest first.
    warnings : tuple of str
        What is wrong, each in a sentence; empty where all is well.
    second : Backup or None
        The newest in the second place.
    """

    plan: Plan
    lines: tuple[Line, ...]
    warnings: tuple[str, ...]
    second: Backup | None


def too_old(folder: DataFolder, now: datetime) -> str:
    """A sentence where the newest backup is too old, or there is none; else empty. Reads names only."""
    try:
        every = the_plan(folder).every
    except BarwiseError:
        every = Plan().every
    newest = next((one.taken for one in backups(folder.copies) if one.taken <= now + LATE_BY), None)
    if newest is None:
        return "There is no backup of this shop yet."
    if now - newest <= every + LATE_BY:
        return ""
    days = (now - newest).days
    age = f"{days} days" if days > 1 else f"{(now - newest) // timedelta(hours=1)} hours"
    return f"The last good backup is {age} old."


def standing(folder: DataFolder, now: datetime) -> Standing:
    """All that the screen shows."""
    warnings, second = [too_old(folder, now), trouble(folder)], None
    try:
        plan = the_plan(folder)
        second_place_is_there(plan)
    except BarwiseError as error:
        warnings.append(f"{error}.")
        plan = Plan()
    else:
        if plan.second_place is not None:
            second = next(iter(backups(plan.second_place)), None)
            if on_one_drive(folder, plan):
                warnings.append(
                    f"The second place {plan.second_place} is on the drive of the data folder: if that "
                    "dies, both are lost."
                )
    lines = tuple(_line(one) for one in backups(folder.copies))
    return Standing(plan, lines, tuple(one for one in warnings if one), second)


def _line(backup: Backup) -> Line:
    try:
        contents = backup.contents
    except DamagedBackupError:
        return Line(backup)
    return Line(backup, contents.jobs, contents.readings)
