"""How often a shop is backed up, how many backups stay, and where a second one goes: ``backup.toml``."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import timedelta
from pathlib import Path
from typing import Any

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.files.toml_tables import parse_tables
from barwise.web.backup.retention import Keep
from barwise.web.data_folder import DataFolder

NAME = "backup.toml"
MOST_HOURS = 24 * 31
MOST_KEPT = 1000


@dataclass(frozen=True)
class Plan:
    """What a shop wants.

    Parameters
    ----------
    every : timedelta
    keep : Keep
    second_place : Path or None
        A folder on another drive.
    """

    every: timedelta = timedelta(days=1)
    keep: Keep = field(default_factory=Keep)
    second_place: Path | None = None

    @property
    def often(self) -> str:
        """How often, in words."""
        hours = self.every // timedelta(hours=1)
        return {1: "every hour", 24: "once a day"}.get(hours, f"every {hours} hours")


def the_plan(folder: DataFolder) -> Plan:
    """What ``backup.toml`` in the data folder says; without it, what is usual.

    Raises
    ------
    InputError
        If it cannot be understood.
    """
    file = folder.path / NAME
    try:
        text = file.read_text(encoding="utf-8")
    except FileNotFoundError:
        return Plan()
    except (OSError, UnicodeDecodeError):
        raise InputError(NAME, "a file that cannot be read", "plain text") from None
    return parse_plan(text)


def parse_plan(text: str) -> Plan:
    """The text of ``backup.toml``. Raises InputError."""
    said = parse_tables(text, NAME, "a TOML file", "every_hours = 24") if text.strip() else {}
    _known(said, ("every_hours", "second_place", "keep"), NAME)
    table = said.get("keep", {})
    if not isinstance(table, dict):
        raise InputError(f"{NAME}, keep", shown(str(table)), "a table [keep]")
    names = tuple(one.name for one in fields(Keep))
    _known(table, names, f"{NAME} [keep]")
    counts = {name: _whole(f"{NAME} [keep] {name}", table[name], 0, MOST_KEPT) for name in table}
    hours = _whole(f"{NAME}, every_hours", said.get("every_hours", 24), 1, MOST_HOURS)
    second = said.get("second_place", "")
    if not isinstance(second, str):
        raise InputError(f"{NAME}, second_place", shown(str(second)), "a folder in quotes")
    place = Path(second).expanduser() if second.strip() else None
    if place is not None and not place.is_absolute():
        raise InputError(f"{NAME}, second_place", shown(second), "the whole path of a folder")
    return Plan(timedelta(hours=hours), Keep(**counts), place)


def _known(table: dict[str, Any], names: tuple[str, ...], where: str) -> None:
    for name in table:
        if name not in names:
            raise InputError(where, shown(name), f"one of {', '.join(names)}")


def _whole(where: str, value: object, least: int, most: int) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
        raise InputError(where, shown(str(value)), f"a whole number from {least} to {most}")
    return value
