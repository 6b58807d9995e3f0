"""What is known of a vehicle as fields to type in, and the same as the text of a vehicle file.

The text is what the record keeps and what `barwise.files.cranking_file` reads: the fields have the names of
its keys. What was typed stands in it letter for letter; a number alone gets the unit its field is asked in.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from barwise.errors import BarwiseError, InputError
from barwise.files.cranking_file import FUELS, METALS, vehicle_facts
from barwise.files.toml_tables import parse_tables
from barwise.inspect.cranking.at_the_job import USUAL_LEGS
from barwise.inspect.cranking.facts import Missing
from barwise.measure.entered import read_number

MOST_LEGS, LONGEST = 8, 60
_PLACE = re.compile(r"(?:key |\[)(?:(leg) (\d+)|(\w+))\]?(?:\.|, )?(\w+)?")


@dataclass(frozen=True)
class Asked:
    """One key of the file as it is asked: its label, and the unit of a number typed alone.

    `bare`: the file has it as a number without a unit. `rare`: few know it, so it stands behind the others.
    """

    key: str
    label: str
    unit: str = ""
    bare: bool = False
    choices: tuple[str, ...] = ()
    such_as: str = ""
    rare: bool = False


@dataclass(frozen=True)
class Field:
    """One field with what was typed, and what is wrong with it."""

    name: str
    asked: Asked
    value: str
    wrong: BarwiseError | None = None


@dataclass(frozen=True)
class Group:
    """Fields that belong together."""

    title: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class VehicleForm:
    """The form of one vehicle.

    Attributes
    ----------
    groups, rare : tuple of Group
    wrong : BarwiseError or None
        What is wrong and not with one field.
    missing : tuple of Missing
        What is not said yet, where all that is said can be.
    """

    groups: tuple[Group, ...]
    rare: tuple[Group, ...]
    wrong: BarwiseError | None
    missing: tuple[Missing, ...]

    @property
    def rare_open(self) -> bool:
        """Whether something stands among the rare ones."""
        return any(field.value for group in self.rare for field in group.fields)


_TOP = (
    Asked("temperature", "How cold", "degC", such_as="-10"),
    Asked("title", "What it is", such_as="farm tractor"),
    Asked("seconds", "Seconds to draw", "s", rare=True),
)
_TABLES: tuple[tuple[str, str, tuple[Asked, ...]], ...] = (
    ("battery", "Battery", (
        Asked("volts", "Volts of one", "V", such_as="12"),
        Asked("rated_current", "Rated current when cold, by its label", "A", such_as="650"),
        Asked("rest_volts", "Volts after a night's rest", "V", such_as="12.5"),
        Asked("age_years", "Age, years", bare=True),
        Asked("in_series", "How many in series", bare=True),
        Asked("in_parallel", "How many side by side", bare=True),
        Asked("tested_current", "Amperes off a tester, for those of the label", "A", rare=True),
        Asked("charge", "Charge, for the volts at rest", "%", rare=True),
        Asked("gravity", "Specific gravity, for the volts at rest", bare=True, rare=True),
    )),
    ("engine", "Engine", (
        Asked("displacement", "Displacement", "L", such_as="3.0"),
        Asked("cylinders", "Cylinders", bare=True),
        Asked("fuel", "Fuel", choices=FUELS),
        Asked("oil", "Oil grade", such_as="15W-40"),
        Asked("compression_ratio", "Compression, to 1", bare=True),
        Asked("least_speed", "Least cranking speed, by its manual", "rpm"),
        Asked("strokes", "Strokes, 2 or 4", bare=True, rare=True),
        Asked("inertia", "Inertia of the engine", "kg.m2", rare=True),
    )),
    ("starter", "Gears", (
        Asked("ring_teeth", "Teeth of the ring gear", bare=True),
        Asked("pinion_teeth", "Teeth of the pinion", bare=True),
        Asked("ratio", "Ratio, for the teeth", bare=True, rare=True),
        Asked("rotor_inertia", "Inertia of the armature", "kg.m2", rare=True),
        Asked("inductance", "Inductance of the starter, H", bare=True, rare=True),
    )),
)  # fmt: skip
_LEG = (
    Asked("size", "Gauge or area", such_as="2/0, or 50 mm2"),
    Asked("length", "Length one way", "m", such_as="1.8"),
    Asked("joints", "Joints", bare=True),
    Asked("contact", "Contacts in order", "mohm", such_as="0.3"),
    Asked("metal", "Metal", choices=METALS, rare=True),
    Asked("resistance", "As measured", "mohm", rare=True),
)
_OF_A_SWITCH, _OF_A_CABLE = ("contact",), ("size", "length", "joints")


def vehicle_form(text: str, wrong: BarwiseError | None = None) -> VehicleForm:
    """The form with what a text says of a vehicle; empty: with nothing.

    Parameters
    ----------
    text : str
        As `vehicle_text` writes it, or any other that the reader of vehicle files takes.
    wrong : BarwiseError, optional
        Why the text was refused.
    """
    said = parse_tables(text or "# nothing", "vehicle", "", "")
    at = None if wrong is None else _field_of(wrong, said)
    groups = [_group("", "The vehicle", _TOP, said, at, wrong)]
    groups += [_group(key, title, asked, said.get(key, {}), at, wrong) for key, title, asked in _TABLES]
    groups += _leg_groups(said.get("leg", []), at, wrong)
    everyday = tuple(_only(group, rare=False) for group in groups)
    rare = tuple(_only(group, rare=True) for group in groups)
    placed = any(field.wrong for group in groups for field in group.fields)
    return VehicleForm(
        groups=tuple(group for group in everyday if group.fields),
        rare=tuple(group for group in rare if group.fields),
        wrong=None if placed else wrong,
        missing=() if wrong is not None else vehicle_facts(text or "# nothing").missing,
    )


def vehicle_text(posted: Mapping[str, str], *, decimal_comma: bool) -> str:
    """What was typed as the text of a vehicle file; empty where nothing was.

    Whatever cannot be stays as it was typed, for the reader to refuse.
    """

    def typed(name: str) -> str:
        value = " ".join(str(posted.get(name, ""))[:LONGEST].split())
        return value.replace(",", ".") if decimal_comma and re.match(r"-?\d*,\d", value) else value

    def lines(prefix: str, asked: tuple[Asked, ...]) -> Iterator[str]:
        for one in asked:
            value = typed(f"{prefix}{one.key}")
            if value:
                yield f"{_key_of(one, value)} = {_written(one, value)}"

    blocks = ["\n".join(lines("", _TOP))]
    for key, _, asked in _TABLES:
        found = list(lines(f"{key}.", asked))
        blocks += ["\n".join((f"[{key}]", *found))] if found else []
    for number in range(MOST_LEGS):
        found, name = list(lines(f"leg{number}.", _LEG)), typed(f"leg{number}.name")
        if found or (name and name not in USUAL_LEGS):
            blocks.append("\n".join(("[[leg]]", f"name = {json.dumps(name, ensure_ascii=False)}", *found)))
    return "\n\n".join(block for block in blocks if block)


def _key_of(asked: Asked, value: str) -> str:
    """A size with a unit is an area, without one a gauge."""
    if asked.key != "size":
        return asked.key
    return "area" if re.search(r"[a-z]", value, re.IGNORECASE) else "gauge"


def _written(asked: Asked, value: str) -> str:
    number = read_number(value)
    if asked.bare and number is not None and re.fullmatch(r"-?(0|[1-9]\d*)(\.\d+)?", value):
        return value
    said = f"{value} {asked.unit}" if number is not None and asked.unit else value
    return json.dumps(said, ensure_ascii=False)


def _group(
    key: str,
    title: str,
    asked: tuple[Asked, ...],
    said: Mapping[str, Any],
    at: str | None,
    wrong: BarwiseError | None,
) -> Group:
    prefix = f"{key}." if key else ""
    names = [(f"{prefix}{one.key}", one) for one in asked]
    return Group(
        title,
        tuple(Field(name, one, _value(one, said), wrong if name == at else None) for name, one in names),
    )


def _leg_groups(legs: list[Mapping[str, Any]], at: str | None, wrong: BarwiseError | None) -> Iterator[Group]:
    """The usual stretches, others that were named, and room for one more."""
    by_name = {str(one.get("name", "")): one for one in legs}
    for number, name in enumerate(_leg_names(by_name)):
        title = {"": "Another stretch", "switch": "Switch"}.get(name, name[:1].upper() + name[1:])
        hidden = Field(f"leg{number}.name", Asked("name", "Name", such_as="earth strap"), name)
        said = by_name.get(name, {})
        usual = _OF_A_SWITCH if name == "switch" else _OF_A_CABLE
        asked = tuple(one for one in _LEG if one.rare or one.key in usual or _value(one, said))
        group = _group(f"leg{number}", title, asked, said, at, wrong)
        yield Group(title, (hidden, *group.fields))


def _leg_names(known: Mapping[str, Any]) -> list[str]:
    names = dict.fromkeys((*USUAL_LEGS, *(name for name in known if name)))
    return [*list(names)[: MOST_LEGS - 1], ""]


def _value(asked: Asked, said: Mapping[str, Any]) -> str:
    keys = ("gauge", "area") if asked.key == "size" else (asked.key,)
    return next((str(said[key]) for key in keys if key in said), "")


def _only(group: Group, *, rare: bool) -> Group:
    return Group(group.title, tuple(one for one in group.fields if one.asked.rare == rare))


def _field_of(wrong: BarwiseError, said: Mapping[str, Any]) -> str | None:
    """The field a refusal is about, by the place the reader names; None where that is no field."""
    place = _PLACE.search(wrong.where) if isinstance(wrong, InputError) else None
    if place is None:
        return None
    leg, nth, table, key = place.groups()
    key = "size" if key in ("gauge", "area") else key
    if leg is None:
        return table if key is None else f"{table}.{key}"
    known = said.get("leg", [])
    name = str(known[int(nth) - 1].get("name", "")) if int(nth) <= len(known) else ""
    names = _leg_names({str(one.get("name", "")): one for one in known})
    return f"leg{names.index(name)}.{key or 'size'}" if name in names else None
