"""A model sheet as it is typed: from the fields of the form to its text, and from the text to the fields.

A field is called by its place in the text, such as ``limits.end-play.high``, so a refusal finds its field.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

import tomli_w
from django.utils.text import slugify

from barwise.errors import BarwiseError, InputError
from barwise.files.text import shown
from barwise.measure.entered import read_number
from barwise.record.sheet_saving import NAME
from barwise.route.family import FactValue, Family
from barwise.route.sheet import ModelSheet, known_facts, parse_sheet
from barwise.route.sheet_changes import check_fit

Typed = Mapping[str, str]

WHOLE = ("poles", "bars", "slots", "turns_per_coil", "plex", "coil_pitch", "equalizers")
WORDS = ("title", "key", "notes", "kind", "progression", "unit", "text", "note")
TICKS = ("invented", "grows", "from_memory")
ANSWERS = {"yes": True, "no": False}
_KEY = re.compile(r"key ([\w.-]+)$")
_POINT = re.compile(r"\s*(\d+)\s*%?\s*=\s*(\S+)\s*")


class RefusedError(BarwiseError):
    """Fields that cannot be used; `by_field` says of each what is wrong with it."""

    def __init__(self, by_field: Mapping[str, BarwiseError]) -> None:
        self.by_field = dict(by_field)
        count = len(self.by_field)
        super().__init__(f"{count} {'place needs' if count == 1 else 'places need'} another look")


def typed_from(sheet: ModelSheet) -> dict[str, str]:
    """The fields as they read for a sheet that is there."""
    written = sheet.model_dump(exclude_none=True, exclude={"version", "family"})
    commutator = written.get("commutator", {})
    if "brush_band" in commutator:
        commutator["brush_band"] = dict(zip(("from", "to"), commutator["brush_band"], strict=True))
    for limit in written["limits"].values():
        limit["points"] = ", ".join(f"{at} = {figure}" for at, figure in limit["points"].items())
        limit.get("also", {}).pop("points", None)
    typed = dict(_flat(written))
    for table in ("winding", "commutator"):
        typed["bars"] = typed.pop(f"{table}.bars", "") or typed.get("bars", "")
    known = known_facts(sheet)
    for name, fact in (("commutator.may_turn", "may-turn"), ("commutator.may_undercut", "may-undercut")):
        typed.pop(f"facts.{fact}", None)
        typed[name] = _text(known.get(fact, ""))
    return typed


def sheet_text(typed: Typed, family: Family, *, decimal_comma: bool = False) -> str:
    """The TOML text of what was typed.

    Raises
    ------
    RefusedError
        With everything that is wrong, field by field.
    """
    reader = _Reader(typed, decimal_comma=decimal_comma)
    written = _written(reader, family)
    refused = reader.refused | {
        field: error for field, error in _refusals(written, family) if not _within(field, reader.refused)
    }
    if refused:
        raise RefusedError(refused)
    return tomli_w.dumps(written)


def field_of(error: BarwiseError) -> str:
    """The field a refusal of the text is about; empty where it is about none."""
    where = error.where if isinstance(error, InputError) else str(error).partition(": ")[0]
    found = _KEY.search(where)
    place = found[1] if found else where if where in ("key", "title") else ""
    if place in ("winding.bars", "commutator.bars"):
        return "bars"
    if place.startswith("commutator.brush_band") or (place == "commutator" and "brush_band" in str(error)):
        return "commutator.brush_band.from"
    return re.sub(r"\.points\..*", ".points", place)


def without_place(error: BarwiseError) -> BarwiseError:
    """The same refusal without file and line, which mean nothing beside a field."""
    if isinstance(error, InputError):
        return error
    place, colon, why = str(error).partition(": ")
    return BarwiseError(why) if colon and place.startswith(NAME) else error


class _Reader:
    """Reads typed fields and keeps what is wrong with them."""

    def __init__(self, typed: Typed, *, decimal_comma: bool) -> None:
        self.typed, self.decimal_comma = typed, decimal_comma
        self.refused: dict[str, BarwiseError] = {}

    def said(self, name: str) -> str:
        return self.typed.get(name, "").strip()

    def table(self, prefix: str, names: tuple[str, ...]) -> dict[str, Any]:
        """What was typed of a table, each as its kind of value; what was left empty is left out."""
        read = {name: self.value(f"{prefix}{name}", name) for name in names}
        return {name: value for name, value in read.items() if value is not None}

    def value(self, name: str, kind: str) -> Any:
        text = self.said(name)
        if not text:
            return None
        if kind in WORDS:
            return text
        if kind in TICKS:
            return True
        return self.number(name, text, whole=kind in WHOLE)

    def number(self, name: str, text: str, *, whole: bool = False) -> Any:
        """The number with every digit that was typed; None where it is none, which is then refused."""
        written = text.replace(",", ".") if self.decimal_comma else text
        read = None if "," in written else read_number(written)
        if read is None or (whole and not written.isdecimal()):
            wanted = "a whole number" if whole else "a number such as 0.020"
            hint = "; this shop writes a decimal point" if "," in written else ""
            self.refused[name] = InputError(name, shown(text), wanted + hint)
            return None
        return int(written) if written.isdecimal() else Decimal(written.replace("\N{MINUS SIGN}", "-"))


def _written(reader: _Reader, family: Family) -> dict[str, Any]:
    written = reader.table("", ("key", "title"))
    written.setdefault("key", slugify(written.get("title", ""))[:40].strip("-"))
    written["family"] = family.key
    written["version"] = 1
    written |= reader.table("", ("invented", "notes"))
    answers = {key: ANSWERS.get(reader.said(f"commutator.{key}")) for key in ("may_turn", "may_undercut")}
    facts, winding, commutator = _facts(reader, family), _winding(reader), _commutator(reader)
    if commutator:
        commutator |= {key: answer for key, answer in answers.items() if answer is not None}
    else:
        facts |= {key.replace("_", "-"): one for key, one in answers.items() if one is not None}
    _share_bars(reader, winding, commutator)
    tables = {"facts": facts, "winding": winding, "commutator": commutator, "limits": _limits(reader)}
    return written | {name: table for name, table in tables.items() if table}


def _facts(reader: _Reader, family: Family) -> dict[str, Any]:
    facts: dict[str, Any] = {}
    for name in reader.typed:
        key = name.removeprefix("facts.")
        text = reader.said(name)
        if key == name or not text:
            continue
        asked = family.facts.get(key)
        if asked is not None and asked.values:
            facts[key] = next((one for one in asked.values if _text(one) == text), text)
        elif asked is not None:
            facts[key] = reader.number(name, text, whole=text.isdecimal())
        else:
            facts[key] = ANSWERS.get(text, text)
    return {key: value for key, value in facts.items() if value is not None}


def _winding(reader: _Reader) -> dict[str, Any]:
    names = ("kind", "poles", "slots", "turns_per_coil", "progression", "plex", "coil_pitch")
    return reader.table("winding.", (*names, "coil_resistance", "temperature", "equalizers", "meter_ohms"))


def _commutator(reader: _Reader) -> dict[str, Any]:
    table = reader.table("commutator.", ("unit", "interval_wear", "indicator_turn"))
    band = reader.table("commutator.brush_band.", ("from", "to"))
    return table | ({"brush_band": list(band.values())} if band else {})


def _share_bars(reader: _Reader, winding: dict[str, Any], commutator: dict[str, Any]) -> None:
    bars = reader.value("bars", "bars")
    for table in (winding, commutator):
        if table and bars is not None:
            table["bars"] = bars
    if bars is not None and not winding and not commutator:
        found = f"{bars} bars and nothing else of the armature"
        wanted = "how it is wound, or where the brushes run"
        reader.refused["bars"] = InputError("bars", found, wanted)


def _limits(reader: _Reader) -> dict[str, Any]:
    keys = dict.fromkeys(name.split(".")[1] for name in reader.typed if name.startswith("limits."))
    usual = reader.table("source.", ("kind", "text", "from_memory"))
    found = {key: _limit(reader, f"limits.{key}.", usual) for key in keys}
    return {key: limit for key, limit in found.items() if limit}


def _limit(reader: _Reader, at: str, usual: dict[str, Any]) -> dict[str, Any]:
    sides = ("low", "high", "target", "new", "half_worn", "discard")
    figures = reader.table(at, sides)
    also = reader.table(f"{at}also.", sides)
    points = _points(reader, f"{at}points")
    source = reader.table(f"{at}source.", ("kind", "text", "from_memory"))
    note = reader.table(at, ("note",))
    if not (figures or also or points or note or source.get("text")) and not _typed_any(reader, at, sides):
        return {}
    if also:
        also |= reader.table(f"{at}also.", ("unit",))
    limit = figures | reader.table(at, ("unit",)) | ({"points": points} if points else {})
    limit |= {"source": source if "kind" in source else usual | source}
    return limit | reader.table(at, ("grows",)) | note | ({"also": also} if also else {})


def _typed_any(reader: _Reader, at: str, names: tuple[str, ...]) -> bool:
    return any(reader.said(f"{at}{name}") for name in names)


def _points(reader: _Reader, name: str) -> dict[str, Any]:
    """Points of a wear scale as they are typed: ``25 = 1.244, 75 = 1.232``."""
    found = {}
    for part in filter(str.strip, re.split(r"[,;]\s+", reader.said(name))):
        point = _POINT.fullmatch(part)
        if point is None:
            reader.refused[name] = InputError(name, shown(part), "percent and size, such as 25 = 1.244")
            continue
        found[point[1]] = reader.number(name, point[2])
    return {percent: figure for percent, figure in found.items() if figure is not None}


def _refusals(written: dict[str, Any], family: Family) -> Iterator[tuple[str, BarwiseError]]:
    """What is wrong, of the head and of each limit by itself, so that all of it is said at once."""
    limits = written.get("limits", {})
    whole = {key: value for key, value in written.items() if key != "limits"}
    alone = {"key": "one", "title": "one", "family": family.key}
    for part in (whole, *({**alone, "limits": {key: limit}} for key, limit in limits.items())):
        try:
            check_fit(parse_sheet(tomli_w.dumps(part), NAME), family)
        except BarwiseError as error:
            yield _field_in_form(error), without_place(error)


def _field_in_form(error: BarwiseError) -> str:
    """A limit without a source is asked for at its source; the rest where the text has it."""
    field = field_of(error)
    implied = {"facts.may-turn": "commutator.may_turn", "facts.may-undercut": "commutator.may_undercut"}
    return f"{field}.kind" if field.endswith(".source") else implied.get(field, field)


def _within(field: str, refused: Mapping[str, BarwiseError]) -> bool:
    """Whether it says again what a field of the same limit was refused for already."""
    at = ".".join(field.split(".")[:2])
    return bool(at) and any(one == at or one.startswith(f"{at}.") for one in refused)


def _flat(value: Mapping[str, Any], at: str = "") -> Iterator[tuple[str, str]]:
    for key, one in value.items():
        if isinstance(one, Mapping):
            yield from _flat(one, f"{at}{key}.")
        elif key in TICKS and not one:
            continue
        else:
            yield f"{at}{key}", _text(one)


def _text(value: FactValue | None) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)
