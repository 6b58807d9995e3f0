"""What the editor of a model sheet shows: each field with what was typed and what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from barwise.errors import BarwiseError
from barwise.measure.units import names_of
from barwise.record.sheet_saving import Doubt
from barwise.route.family import Check, Family
from barwise.route.general import general_limit
from barwise.web.sheet_form import Typed
from barwise.web.sheet_page import SIDES, WINDING, limit_checks

SOURCES = ("maker's sheet", "own measurement", "published", "common practice")
WEARS = ("limits.wear", "commutator.diameter")
"""Deciding functions that say how worn a part is."""
BOUNDS, WEAR = ("low", "high", "target"), ("new", "half_worn", "discard")
YES_NO = (("", "not known"), ("yes", "yes"), ("no", "no"))
CHOICES = {
    "winding.kind": (("", "not known"), ("lap", "lap"), ("wave", "wave")),
    "winding.progression": (
        ("", "not said"),
        ("progressive", "progressive"),
        ("retrogressive", "retrogressive"),
    ),
    "commutator.unit": (("", "not said"), ("in", "in"), ("mm", "mm")),
    "commutator.may_turn": YES_NO,
    "commutator.may_undercut": YES_NO,
}
COMMUTATOR = {
    "commutator.may_turn": "May it be turned?",
    "commutator.may_undercut": "May its mica be undercut?",
    "commutator.unit": "Lengths here are in",
    "commutator.brush_band.from": "Brushes run from (0 is the riser end)",
    "commutator.brush_band.to": "to (1 is the far end)",
    "commutator.interval_wear": "Diameter it loses to the next rebuild",
    "commutator.indicator_turn": "One turn of the indicator's hand",
}
USUAL_WINDING = ("kind", "poles", "slots", "progression", "turns_per_coil")
_WORDY = ("title", "key", "notes", "note", "text", "points")

Kind = Literal["number", "text", "choice", "tick"]


@dataclass(frozen=True)
class Field:
    """One field; `name` is its place in the sheet's text."""

    name: str
    label: str
    kind: Kind
    value: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    wrong: BarwiseError | None = None


@dataclass(frozen=True)
class LimitFields:
    """The fields of one limit; `wrong` and the doubts are about the limit as a whole.

    `general` is what holds while the row is empty, in words; empty where nothing does.
    """

    key: str
    title: str
    bounds: tuple[Field, ...]
    unit: Field
    wear: tuple[Field, ...]
    source: tuple[Field, ...]
    more: tuple[Field, ...]
    general: str
    wrong: BarwiseError | None
    doubts: tuple[Doubt, ...]

    @property
    def is_given(self) -> bool:
        """Whether any number of it was typed."""
        return any(one.value for one in (*self.bounds, *self.wear))

    @property
    def is_open(self) -> bool:
        """Whether something about it needs a look."""
        fields = (*self.bounds, self.unit, *self.wear, *self.source, *self.more)
        return bool(self.wrong or self.doubts or any(one.wrong for one in fields))

    @property
    def more_open(self) -> bool:
        """Whether what lies folded away needs a look."""
        return bool(self.wrong) or any(one.wrong for one in (*self.source, *self.more))


@dataclass(frozen=True)
class StationFields:
    """The limits of one station."""

    title: str
    limits: tuple[LimitFields, ...]

    @property
    def given(self) -> int:
        """Limits with a number."""
        return sum(one.is_given for one in self.limits)

    @property
    def is_open(self) -> bool:
        """Whether something in it needs a look."""
        return any(one.is_open for one in self.limits)


@dataclass(frozen=True)
class EditorFields:
    """All fields of the editor in the order of the page; `doubts` are those of no field."""

    head: tuple[Field, ...]
    source: tuple[Field, ...]
    facts: tuple[Field, ...]
    bars: Field
    winding: tuple[Field, ...]
    winding_more: tuple[Field, ...]
    commutator: tuple[Field, ...]
    stations: tuple[StationFields, ...]
    doubts: tuple[Doubt, ...]


class Maker:
    """Makes fields from what was typed and what was refused and asked."""

    def __init__(self, typed: Typed, refused: Mapping[str, BarwiseError], doubts: tuple[Doubt, ...]) -> None:
        self.typed, self.refused, self.doubts = typed, refused, doubts

    def field(self, name: str, label: str, choices: tuple[tuple[str, str], ...] = ()) -> Field:
        """One field with its value, its kind told by its name."""
        value, last = self.typed.get(name, ""), name.rpartition(".")[2]
        kind: Kind = "text" if last in _WORDY else "number"
        if last in ("invented", "grows", "from_memory"):
            kind = "tick"
        if choices:
            kind = "choice"
            if value not in dict(choices):
                choices = (*choices, (value, value))
        return Field(name, label, kind, value, choices, self.refused.get(name))

    def fields(self, names: Mapping[str, str]) -> tuple[Field, ...]:
        """Several fields by name and label."""
        return tuple(self.field(name, label, CHOICES.get(name, ())) for name, label in names.items())

    def source(self, at: str, first: str) -> tuple[Field, ...]:
        """Where a limit is from; `first` is what an empty choice means."""
        kinds = (("", first), *((one, one) for one in SOURCES))
        return (
            self.field(f"{at}source.kind", "Where it is from", kinds),
            self.field(f"{at}source.text", "Which one, and its page"),
            self.field(f"{at}source.from_memory", "From memory, the page was not at hand"),
        )

    def asked(self, place: str) -> tuple[Doubt, ...]:
        """Doubts about one place."""
        return tuple(one for one in self.doubts if one.place == place)


def editor_fields(
    family: Family, typed: Typed, refused: Mapping[str, BarwiseError], doubts: tuple[Doubt, ...]
) -> EditorFields:
    """The fields of a sheet of this family."""
    maker = Maker(typed, refused, doubts)
    stations = _stations(maker, family)
    shown = {f"limits.{one.key}" for station in stations for one in station.limits}
    usual = {f"winding.{key}": WINDING[key] for key in USUAL_WINDING}
    rest = {f"winding.{key}": title for key, title in WINDING.items() if key not in (*USUAL_WINDING, "bars")}
    return EditorFields(
        head=maker.fields({"title": "Model, as it is called here", "key": "Short name", "notes": "Notes"}),
        source=maker.source("", "say it at each limit"),
        facts=tuple(_facts(maker, family)),
        bars=maker.field("bars", "Bars"),
        winding=maker.fields(usual),
        winding_more=maker.fields(rest),
        commutator=maker.fields(COMMUTATOR),
        stations=stations,
        doubts=tuple(one for one in doubts if one.place not in shown),
    )


def _facts(maker: Maker, family: Family) -> list[Field]:
    asked = {
        key: one for key, one in family.facts.items() if f"commutator.{key.replace('-', '_')}" not in CHOICES
    }
    found = []
    for key, one in asked.items():
        said = (str(value) for value in one.values)
        choices = (("", "not known"), *((value, value.replace("-", " ")) for value in said))
        found.append(maker.field(f"facts.{key}", one.ask, choices if one.values else ()))
    others = [name for name in maker.typed if name.startswith("facts.") and name[6:] not in family.facts]
    return found + [maker.field(name, name[6:]) for name in others]


def _stations(maker: Maker, family: Family) -> tuple[StationFields, ...]:
    rows: dict[str, list[LimitFields]] = {}
    asked = set()
    for station, check in limit_checks(family):
        asked.add(check.limit)
        rows.setdefault(station, []).append(_of_check(maker, family, check))
    keys = dict.fromkeys(name.split(".")[1] for name in maker.typed if name.startswith("limits."))
    further = [_limit(maker, key, key, "", wears=True) for key in keys if key not in asked]
    if further:
        rows["Looked up by no check"] = further
    return tuple(StationFields(title, tuple(some)) for title, some in rows.items())


def _of_check(maker: Maker, family: Family, check: Check) -> LimitFields:
    usual = general_limit(family.key, check.limit)
    general = ""
    if usual is not None and not usual.stands_on_new:
        figures = (f"{SIDES.get(key, key)} {figure} {usual.unit}" for key, figure in usual.given().items())
        general = f"{', '.join(figures)} ({usual.source.words})"
    return _limit(
        maker, check.limit, check.title, general, check.quantity, check.unit, wears=check.decides in WEARS
    )


def _limit(
    maker: Maker, key: str, title: str, general: str, quantity: str = "", unit: str = "", *, wears: bool
) -> LimitFields:
    at = f"limits.{key}."
    typed_unit = maker.typed.get(f"{at}unit", "") or unit
    names = names_of(quantity) if quantity else (typed_unit,)  # type: ignore[arg-type]
    units = tuple((one, one) for one in names)
    wears = wears or any(maker.typed.get(f"{at}{side}") for side in (*WEAR, "points"))
    sides = (*BOUNDS, *WEAR) if wears else BOUNDS
    more = [maker.field(f"{at}also.{side}", f"{SIDES[side]}, other system") for side in sides]
    more += [maker.field(f"{at}also.unit", "Unit of the other system", (("", "none"), *units))]
    if wears:
        more += [
            maker.field(f"{at}points", "Other points of wear, such as 25 = 1.244"),
            maker.field(f"{at}grows", "Wear makes it larger, as in a bore"),
        ]
    more.append(maker.field(f"{at}note", "Note, such as the voltage it holds at"))
    unit_field = maker.field(f"{at}unit", "unit", units)
    if not unit_field.value:
        unit_field = Field(unit_field.name, "unit", "choice", unit, units, unit_field.wrong)
    return LimitFields(
        key=key,
        title=title,
        bounds=tuple(maker.field(f"{at}{side}", SIDES[side]) for side in BOUNDS),
        unit=unit_field,
        wear=tuple(maker.field(f"{at}{side}", SIDES[side]) for side in WEAR) if wears else (),
        source=maker.source(at, "as said at the top"),
        more=tuple(more),
        general=general,
        wrong=maker.refused.get(f"limits.{key}") or maker.refused.get(f"limits.{key}.also"),
        doubts=maker.asked(f"limits.{key}"),
    )


def anchors(fields: EditorFields, refused: Mapping[str, BarwiseError]) -> list[tuple[str, str]]:
    """Where on the page each refused place stands, and what it is called there."""
    titles = {one.key: one.title for station in fields.stations for one in station.limits}
    every = (*fields.head, *fields.facts, fields.bars, *fields.winding, *fields.winding_more)
    labels = {one.name: one.label for one in (*every, *fields.commutator)}
    found = {}
    for name in refused:
        part = name.split(".")
        if part[0] == "limits" and len(part) > 1 and part[1] in titles:
            found[f"limit-{part[1]}"] = titles[part[1]]
        elif name in labels:
            found[f"field-{name}"] = labels[name]
    return list(found.items())
