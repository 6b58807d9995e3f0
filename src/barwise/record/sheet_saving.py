"""A model sheet changed: looked over, asked about where it is doubtful, and kept as the next version."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass

from django.db import transaction

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.record.models import Person, SheetVersion
from barwise.record.refusals import RecordError
from barwise.record.sheets import sheet_from, store_sheet, versions_of
from barwise.route.family import load_family
from barwise.route.sheet import ModelSheet, parse_sheet, questions
from barwise.route.sheet_changes import check_fit, differences, unasked

NAME = "sheet.toml"
"""What messages call the text."""
_VERSION = re.compile(r"^version\s*=\s*\d+", re.MULTILINE)
_FIRST_TABLE = re.compile(r"^\s*\[", re.MULTILINE)


@dataclass(frozen=True)
class Doubt:
    """Something on a sheet that is rare enough to ask about; `place` is its key: limits.end-play."""

    place: str
    ask: str

    @property
    def says(self) -> str:
        """The question without its place, for where that is plain to see."""
        return self.ask.partition(": ")[2] or self.ask


@transaction.atomic
def save_sheet(
    toml: str,
    changes: SheetVersion | None = None,
    confirmed: Collection[str] = (),
    person: Person | None = None,
) -> SheetVersion | tuple[Doubt, ...]:
    """Keep a text as the next version of its sheet, unless something about it is to be asked first.

    Parameters
    ----------
    toml : str
        The sheet's text; its version number is set here.
    changes : SheetVersion, optional
        The version it was made from; None for a sheet that is new.
    confirmed : collection of str
        Questions that were asked before and answered with yes, word for word.

    Returns
    -------
    SheetVersion or tuple of Doubt
        What was kept, or what to ask; then nothing was kept.

    Raises
    ------
    InputError, WindingError
        If the text is no sheet or not of its family; names line and key.
    RecordError
        If somebody saved another version meanwhile, or nothing changed.
    """
    sheet = parse_sheet(toml, NAME)
    check_fit(sheet, load_family(sheet.family))
    number = _next_version(sheet, changes)
    doubts = tuple(one for one in doubts_about(sheet) if one.ask not in confirmed)
    if doubts:
        return doubts
    return store_sheet(numbered(toml, number), person)


def doubts_about(sheet: ModelSheet) -> tuple[Doubt, ...]:
    """What to ask before a sheet is kept."""
    asked = (*questions(sheet), *unasked(sheet, load_family(sheet.family)))
    return tuple(Doubt(_place(ask), ask) for ask in asked)


def numbered(toml: str, version: int) -> str:
    """The same text with another version number; all else stays word for word."""
    table = _FIRST_TABLE.search(toml)
    end = len(toml) if table is None else table.start()
    head, found = _VERSION.subn(f"version = {version}", toml[:end], count=1)
    return (head if found else f"version = {version}\n{head}") + toml[end:]


def _next_version(sheet: ModelSheet, changes: SheetVersion | None) -> int:
    versions = versions_of(sheet.key)
    if changes is None:
        if versions:
            raise InputError("key", shown(sheet.key), f"a short name not in use; {versions[0].title} has it")
        return 1
    if sheet.key != changes.key:
        raise InputError("key", shown(sheet.key), f'"{changes.key}": a sheet keeps its short name')
    newest = versions[0]
    if newest.version != changes.version:
        by = f" by {newest.person}" if newest.person else ""
        raise RecordError(
            f"version {newest.version} was saved{by} while you worked on version {changes.version}. What you "
            "typed stays here: look at the newest version and take over what is right"
        )
    if not differences(sheet_from(newest.toml), sheet):
        raise RecordError(f"nothing differs from version {newest.version}, so nothing was saved")
    return newest.version + 1


def _place(ask: str) -> str:
    key = ask.partition(":")[0]
    return key if "." in key else f"limits.{key}"
