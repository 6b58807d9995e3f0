"""The model sheet: limits, winding data and facts of one model of unit, a versioned TOML file.

Published sheets do carry slipped decimal points, so a limit may be given in both systems and must then be
one and the same; limits in the wrong order are refused; what only looks odd is asked about (`questions`).
docs/model-sheets.md says how one is written.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from decimal import Decimal
from importlib import resources
from pathlib import Path
from typing import Annotated, Any, Literal

import tomli_w
from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from barwise.errors import InputError, MeasurementError, WindingError
from barwise.files.text import nearest_word, read_text, shown
from barwise.files.winding_file import WindingFile, WindingTable, parse_winding
from barwise.inspect.checks import CommutatorFacts, Fact, Limit, SheetFacts
from barwise.measure import decision
from barwise.measure.units import UNITS, find_unit
from barwise.measure.wear import DISCARD, HALF_WORN, NEW, WearPoint, WearScale
from barwise.route.family import FactValue, Key, Words
from barwise.route.toml_text import first_refusal, parse_toml, where, with_floats

KIND = "a TOML file of a model sheet: key, title, family, version and [limits]"
_BUILT_IN = resources.files("barwise.route") / "sheets"
_SIDES = ("low", "high", "target", "new", "half_worn", "discard")
_ROUNDING_SLACK = 1 + 1e-9

Figure = Annotated[Decimal, Field(allow_inf_nan=False)]
Share = Annotated[Decimal, Field(ge=0, le=1)]
Length = Annotated[Decimal, Field(gt=0, allow_inf_nan=False)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


class Source(_Table):
    """Where a limit comes from; `from_memory` where the text itself was not at hand."""

    kind: Literal["maker's sheet", "own measurement", "published", "common practice"]
    text: str = ""
    from_memory: bool = False

    @property
    def words(self) -> str:
        """Such as ``published: typical, one machine: TM 10-3930-628-34 p. 4-7``."""
        said = f"{self.kind}: {self.text}" if self.text else self.kind
        return f"{said} (from memory)" if self.from_memory else said


class Figures(_Table):
    """The numbers of a limit in one unit, with the digits they were written with.

    `low` and `high` bound it, `target` is what to aim for; `new`, `half_worn`, `discard` and `points` (by
    percent worn) are its wear scale, and discard bounds it too.
    """

    unit: str
    low: Figure | None = None
    high: Figure | None = None
    target: Figure | None = None
    new: Figure | None = None
    half_worn: Figure | None = None
    discard: Figure | None = None
    points: Mapping[str, Figure] = {}

    def given(self) -> dict[str, Decimal]:
        """The numbers that are there, by key."""
        both = {side: getattr(self, side) for side in _SIDES}
        return {key: figure for key, figure in both.items() if figure is not None} | {
            f"points.{percent}": figure for percent, figure in self.points.items()
        }

    @property
    def factor(self) -> float:
        """What one of its unit is in SI."""
        return UNITS[self.unit].factor


class SheetLimit(Figures):
    """One limit of a sheet; `also` has the same numbers in another unit, as many sheets print them.

    `grows`: wear makes it larger, as in a bore.
    """

    source: Source
    grows: bool = False
    note: str = ""
    also: Figures | None = None

    @property
    def stands_on_new(self) -> bool:
        """Whether it needs no number of its own; a general rule may be a share of the size when new."""
        return False

    @property
    def allowed(self) -> decision.Limit | None:
        """Bounds in SI; the discard size is one of them. None where only a target is given."""
        low, high = self._si(self.low), self._si(self.high)
        discard = self._si(self.discard)
        if discard is not None and self.grows:
            high = discard if high is None else min(high, discard)
        elif discard is not None:
            low = discard if low is None else max(low, discard)
        return None if low is None and high is None else decision.Limit(low, high)

    @property
    def target_si(self) -> float | None:
        """What to aim for, in SI."""
        return self._si(self.target)

    @property
    def scale(self) -> WearScale | None:
        """Percent worn against size [m], where two points or more are given."""
        named = {NEW: self.new, HALF_WORN: self.half_worn, DISCARD: self.discard}
        figures = {percent: figure for percent, figure in named.items() if figure is not None}
        figures |= {float(percent): figure for percent, figure in self.points.items()}
        if len(figures) < 2:
            return None
        points = (WearPoint(percent, float(one) * self.factor) for percent, one in figures.items())
        return WearScale(tuple(points), self.grows)

    def _si(self, figure: Decimal | None) -> float | None:
        return None if figure is None else float(figure) * self.factor

    @model_validator(mode="after")
    def _must_be_possible(self) -> SheetLimit:
        for complaint in _complaints(self):
            raise ValueError(complaint)
        return self


class CommutatorTable(_Table):
    """The ``[commutator]`` table: lengths in `unit`, the band as two fractions from the riser end."""

    bars: Annotated[int, Field(ge=3, le=1000)]
    unit: Literal["in", "mm"]
    brush_band: tuple[Share, Share]
    may_turn: bool = True
    may_undercut: bool = True
    interval_wear: Length | None = None
    indicator_turn: Length | None = None

    @model_validator(mode="after")
    def _band_must_have_a_width(self) -> CommutatorTable:
        if not self.brush_band[0] < self.brush_band[1]:
            raise ValueError(
                f"found brush_band [{', '.join(map(str, self.brush_band))}]; expected such as [0.12, 0.88]"
            )
        return self


class ModelSheet(_Table):
    """One version of the sheet of one model. Never changed: an edit is the next version."""

    key: Key
    title: Words
    family: Key
    version: Annotated[int, Field(ge=1)] = 1
    invented: bool = False
    notes: str = ""
    facts: Mapping[Key, FactValue] = {}
    winding: WindingTable | None = None
    commutator: CommutatorTable | None = None
    limits: Mapping[Key, SheetLimit] = {}

    @model_validator(mode="after")
    def _bars_must_agree(self) -> ModelSheet:
        if self.winding and self.commutator and self.winding.bars != self.commutator.bars:
            bars = f"{self.winding.bars} bars in [winding] and {self.commutator.bars} in [commutator]"
            raise ValueError(f"found {bars}; expected one number of bars")
        return self

    def winding_file(self) -> WindingFile | None:
        """The winding itself; None where the sheet has none. Raises as `files.parse_winding`."""
        if self.winding is None:
            return None
        written = self.winding.model_dump(exclude_none=True)
        return parse_winding(tomli_w.dumps({"winding": written}), self.key)


def load_sheet(which: str | Path) -> ModelSheet:
    """A sheet by the key of one that comes with barwise (all are invented), or from a file.

    Raises
    ------
    InputError, WindingError
        If there is none, or the file cannot be used: names file, line and key.
    """
    if isinstance(which, Path):
        return parse_sheet(read_text(which, KIND), str(which))
    known = sheets()
    if which not in known:
        near = nearest_word(which, known)
        raise InputError("model sheet", shown(which), f"one of {', '.join(known)}{near}")
    return parse_sheet(built_in_text(which), f"{which}.toml")


def built_in_text(key: str) -> str:
    """The text of a sheet that comes with barwise, word for word; `sheets` lists them."""
    return (_BUILT_IN / f"{key}.toml").read_text(encoding="utf-8")


def sheets() -> tuple[str, ...]:
    """Keys of the invented sheets that come with barwise."""
    names = (entry.name for entry in _BUILT_IN.iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


def parse_sheet(text: str, name: str = "sheet.toml") -> ModelSheet:
    """The text of a model sheet, called `name` in messages. Raises as `load_sheet`."""
    written = parse_toml(text, name, KIND)
    digits = {key: written.pop(key) for key in ("limits", "commutator") if key in written}
    try:
        sheet = ModelSheet.model_validate(with_floats(written) | digits)
    except ValidationError as error:
        raise first_refusal(error, text, name, _KNOWN) from None
    _check_winding(sheet, text, name)
    return sheet


def dump_sheet(sheet: ModelSheet) -> str:
    """The TOML text of a sheet; it loads to the same sheet, digits and all."""
    written = _written(sheet.model_dump(exclude_defaults=True, exclude_none=True))
    order = [key for key in ModelSheet.model_fields if key in written or key == "version"]
    return tomli_w.dumps({key: written.get(key, sheet.version) for key in order})


def questions(sheet: ModelSheet) -> tuple[str, ...]:
    """What looks odd enough to ask the person who enters the sheet, one sentence each; refuses nothing."""
    asked = []
    for key, limit in sheet.limits.items():
        allowed = limit.allowed
        if allowed is not None and allowed.looks_like_a_lost_digit:
            low, high = limit.low or limit.discard, limit.high or limit.discard
            asked.append(
                f"{key}: from {low} to {high} {limit.unit} is tenfold or more. Is a digit lost or misplaced?"
            )
        if limit.source.kind == "published" and not limit.source.text:
            asked.append(f"{key}: published where? Without the place nobody can look it up.")
    return tuple(asked)


def sheet_facts(sheet: ModelSheet) -> SheetFacts:
    """The sheet as the deciding functions see it."""
    wound = sheet.winding_file()
    return SheetFacts(
        key=sheet.key,
        title=sheet.title,
        version=sheet.version,
        winding=None if wound is None else wound.winding,
        meter_ohm=None if wound is None else wound.meter_ohm,
        commutator=_commutator(sheet),
        facts=known_facts(sheet),
        limits={key: _own_limit(key, limit) for key, limit in sheet.limits.items()},
    )


def _own_limit(key: str, written: SheetLimit) -> Limit:
    return Limit(key, written.allowed, written.unit, written.source.words, target=written.target_si)


def known_facts(sheet: ModelSheet) -> dict[str, Fact]:
    """The facts the sheet gives, with those its tables imply: may-turn, may-undercut, bars."""
    implied: dict[str, Fact] = {}
    if sheet.commutator is not None:
        implied = {"may-turn": sheet.commutator.may_turn, "may-undercut": sheet.commutator.may_undercut}
    return implied | dict(sheet.facts)


def _commutator(sheet: ModelSheet) -> CommutatorFacts | None:
    table = sheet.commutator
    if table is None:
        return None
    factor = UNITS[table.unit].factor
    diameter, runout = sheet.limits.get("commutator-diameter"), sheet.limits.get("commutator-runout")
    allowed = None if runout is None else runout.allowed
    return CommutatorFacts(
        bars=table.bars,
        brush_band=(float(table.brush_band[0]), float(table.brush_band[1])),
        unit=table.unit,
        may_turn=table.may_turn,
        may_undercut=table.may_undercut,
        scale=None if diameter is None else diameter.scale,
        runout_m=None if allowed is None else allowed.upper,
        interval_wear_m=None if table.interval_wear is None else float(table.interval_wear) * factor,
        indicator_turn_m=None if table.indicator_turn is None else float(table.indicator_turn) * factor,
    )


_TABLES = (ModelSheet, SheetLimit, CommutatorTable, WindingTable)
_KNOWN = {"ModelSheet": tuple({key for table in _TABLES for key in table.model_fields})}


def _complaints(limit: SheetLimit) -> Iterator[str]:
    """What cannot be in one limit, as ``found ..; expected ..``."""
    unit = find_unit(limit.unit)
    if unit is None or unit.name != limit.unit:
        near = nearest_word(limit.unit, UNITS)
        yield f'found unknown unit "{limit.unit}"; expected such as in, mm, mV, ohm, N{near}'
        return
    if not limit.given() and not limit.stands_on_new:
        yield "found no number; expected at least one of low, high, target, new, half_worn, discard"
    for percent in limit.points:
        if not percent.isdigit():
            yield f'found point "{percent}"; expected a percentage such as "25"'
            return
    wears = [key for key in limit.given() if key not in ("low", "high", "target")]
    if wears and unit.dimension != "length":
        yield f'found {wears[0]} in "{limit.unit}"; expected a length where it wears'
        return
    yield from _wrong_order(limit)
    if limit.also is not None:
        yield from _disagreements(limit, limit.also)


def _wrong_order(limit: SheetLimit) -> Iterator[str]:
    low, high, unit = limit.low, limit.high, limit.unit
    if low is not None and high is not None and low > high:
        yield f"found low {low} {unit} above high {high} {unit}; expected them the other way round"
        return
    if low is not None and limit.target is not None and limit.target < low:
        yield f"found target {limit.target} {unit} below low {low} {unit}; expected it within the limits"
    if high is not None and limit.target is not None and limit.target > high:
        yield f"found target {limit.target} {unit} above high {high} {unit}; expected it within the limits"
    new, discard = limit.new, limit.discard
    if new is not None and discard is not None and (discard > new) != limit.grows:
        way = "above" if limit.grows else "below"
        yield (
            f"found new {new} {unit} and discard {discard} {unit}; expected discard {way} new"
            f"{'' if limit.grows else ', or the mark that wear makes it larger (grows = true)'}"
        )
        return
    try:
        _ = limit.scale, limit.allowed
    except MeasurementError as error:
        found, _, expected = str(error).removeprefix("wear scale: ").partition(", expected ")
        yield f"{found}; expected {expected or 'limits that leave something between them'}"


def _disagreements(limit: SheetLimit, also: Figures) -> Iterator[str]:
    """Numbers in the two units that are not the same within the rounding of their last digits."""
    one, other = UNITS[limit.unit], find_unit(also.unit)
    if other is None or other.dimension != one.dimension:
        yield f'found also in "{also.unit}"; expected another unit of {one.dimension}'
        return
    first, second = limit.given(), also.given()
    for key, figure in second.items():
        if key not in first:
            yield f"found also.{key} {figure} {also.unit} but no {key} in {limit.unit}; expected both"
            return
        mine, rounding = float(first[key]) * one.factor, _digit(first[key]) * one.factor
        theirs = float(figure) * other.factor
        rounding = (rounding + _digit(figure) * other.factor) / 2
        if abs(mine - theirs) > rounding * _ROUNDING_SLACK:
            converted = f"{theirs / one.factor:.4g} {limit.unit}"
            yield (
                f"found {key} {first[key]} {limit.unit} and {figure} {also.unit}, which is {converted}; "
                "expected one and the same. A sheet can be misprinted: find out which is right"
            )
            return


def _digit(figure: Decimal) -> float:
    exponent = figure.as_tuple().exponent
    return math.pow(10.0, exponent) if isinstance(exponent, int) else 0.0


def _check_winding(sheet: ModelSheet, text: str, name: str) -> None:
    """A winding that cannot be wound is refused now, with its line."""
    try:
        sheet.winding_file()
    except WindingError as error:
        reason = str(error).partition(", key ")[2]
        key, _, why = reason.partition(":")
        raise WindingError(f"{where(name, text, ('winding', key))}: {why.strip() or error}") from None


def _written(value: Any) -> Any:
    """Plain dicts and lists for the TOML writer."""
    if isinstance(value, Mapping):
        return {key: _written(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [_written(one) for one in value]
    if isinstance(value, Decimal) and value.as_tuple().exponent == 0:
        return int(value)  # 55 as it was entered: the writer would make 55.0 of it
    return value
