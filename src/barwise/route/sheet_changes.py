"""What changed from one version of a model sheet to the next, in words; and whether it fits its family."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barwise.errors import InputError
from barwise.files.text import nearest_word, shown
from barwise.measure.units import UNITS
from barwise.route.family import Family
from barwise.route.sheet import ModelSheet, SheetLimit, known_facts

_TABLES = ("facts", "winding", "commutator")
_PLAIN = ("key", "title", "family", "invented", "notes")


def differences(before: ModelSheet, after: ModelSheet) -> tuple[str, ...]:
    """One line for each thing that changed; empty where only the version did."""
    said = _changed(
        "", {key: getattr(before, key) for key in _PLAIN}, {key: getattr(after, key) for key in _PLAIN}
    )
    for table in _TABLES:
        said += _changed(f"{table}, ", _table(before, table), _table(after, table))
    for key in dict.fromkeys((*before.limits, *after.limits)):
        said += _limit_changed(key, before.limits.get(key), after.limits.get(key))
    return tuple(said)


def check_fit(sheet: ModelSheet, family: Family) -> None:
    """That a sheet speaks of what its family asks, in its quantities.

    Raises
    ------
    InputError
        If it is another family's, a fact has a value the family does not know, or a limit is in a unit of
        another quantity than the check that looks it up.
    """
    if sheet.family != family.key:
        raise InputError(f"model sheet {sheet.key}, key family", shown(sheet.family), shown(family.key))
    for key, value in known_facts(sheet).items():
        asked = family.facts.get(key)
        if asked is not None and asked.values and value not in asked.values:
            wanted = ", ".join(str(one) for one in asked.values)
            raise InputError(
                f"model sheet {sheet.key}, key facts.{key}", shown(str(value)), f"one of {wanted}"
            )
    for _, check in family.all_checks():
        limit = sheet.limits.get(check.limit) if check.limit else None
        if limit is not None and UNITS[limit.unit].dimension != check.quantity:
            found = f"unit {shown(limit.unit)}, of {UNITS[limit.unit].dimension}"
            at = f"model sheet {sheet.key}, key limits.{check.limit}.unit"
            raise InputError(at, found, f"a unit of {check.quantity}")


def unasked(sheet: ModelSheet, family: Family) -> tuple[str, ...]:
    """Limits and facts that no check of the family looks up, one question each; perhaps a slip of the pen."""
    limits = {check.limit for _, check in family.all_checks() if check.limit}
    asked = [f"limits.{key}" for key in sheet.limits if key not in limits]
    asked += [f"facts.{key}" for key in sheet.facts if key not in family.facts]
    known = [*(f"limits.{key}" for key in limits), *(f"facts.{key}" for key in family.facts)]
    return tuple(
        f"{key}: no check asks for it. Is it spelt right?{nearest_word(key, known)}" for key in asked
    )


def _table(sheet: ModelSheet, name: str) -> dict[str, Any]:
    found = getattr(sheet, name)
    if found is None:
        return {}
    return dict(found) if isinstance(found, Mapping) else dict(found.model_dump(exclude_none=True))


def _changed(within: str, before: Mapping[str, Any], after: Mapping[str, Any]) -> list[str]:
    said = []
    for key in dict.fromkeys((*before, *after)):
        old, new = before.get(key), after.get(key)
        if old == new:
            continue
        if old is None or old == "":
            said.append(f"{within}{key}: {_words(new)}, not given before.")
        elif new is None or new == "":
            said.append(f"{within}{key}: no longer given, was {_words(old)}.")
        else:
            said.append(f"{within}{key}: from {_words(old)} to {_words(new)}.")
    return said


def _limit_changed(key: str, before: SheetLimit | None, after: SheetLimit | None) -> list[str]:
    if before is None and after is not None:
        return [f"{key}: new limit, {_whole(after)}."]
    if after is None and before is not None:
        return [f"{key}: limit taken out, was {_whole(before)}."]
    if before is None or after is None or before == after:
        return []
    return _changed(f"{key}, ", _flat(before), _flat(after))


def _flat(limit: SheetLimit) -> dict[str, Any]:
    figures: dict[str, Any] = {key: f"{figure} {limit.unit}" for key, figure in limit.given().items()}
    if limit.also is not None:
        figures |= {f"also {key}": f"{one} {limit.also.unit}" for key, one in limit.also.given().items()}
    return figures | {"grows": limit.grows, "note": limit.note, "source": limit.source.words}


def _whole(limit: SheetLimit) -> str:
    figures = ", ".join(f"{key} {figure} {limit.unit}" for key, figure in limit.given().items())
    return f"{figures} ({limit.source.words})"


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return " to ".join(str(one) for one in value)
    return str(value)
