"""The commutator file: bars, brush band, the sheet's wear scale, and the diameter measured, in TOML.

See docs/file-formats.md for the keys. A limit may be written in both units, `"0.079 in (2.0 mm)"`; if the
two are not the same length it is refused with both, as sheets do carry slipped decimal points.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_tables import Table
from barwise.files.text import nearest_word, read_text
from barwise.files.toml_tables import value_shown
from barwise.inspect.commutator.passes import PassLimits
from barwise.inspect.commutator.plan import LatheSetup
from barwise.inspect.commutator.surface import Micrometer
from barwise.inspect.commutator.worth import Sheet
from barwise.measure.length import parse_length
from barwise.measure.units import UNITS
from barwise.measure.wear import DISCARD, HALF_WORN, NEW, WearPoint, WearScale

KIND = "a TOML file with a [commutator] table"
MOST_BARS = 1000
FOOT_PER_MINUTE = 0.3048 / 60

_NAMED = {"new": NEW, "half_worn": HALF_WORN, "discard": DISCARD}
_COMMUTATOR = (
    "bars", "unit", "brush_band", "indicator_resolution", "indicator_turn", "may_turn", "may_undercut",
)  # fmt: skip
_LIMITS = ("diameter", "runout", "interval_wear")
_MICROMETER = ("bar", "track", "diameter", "resolution", "unit")
_LATHE = ("rough_depth", "finish_depth", "feed", "nose_radius", "surface_speed", "centres_runout")
_HEADING = re.compile(r"\s*\[+\s*([A-Za-z0-9_.\s-]+?)\s*\]+\s*(?:#.*)?")
_PERCENT = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True)
class CommutatorFile:
    """One commutator as its file gives it, lengths in metres; `unit` (in or mm) is that of both files."""

    bars: int
    unit: str
    brush_band: tuple[float, float]
    indicator_resolution_m: float
    indicator_turn_m: float | None
    sheet: Sheet
    micrometers: tuple[Micrometer, ...]
    setup: LatheSetup


def load_commutator(path: str | Path) -> CommutatorFile:
    """Read a commutator file.

    Raises
    ------
    InputError
        If the file cannot be read or a key is missing, unknown, of the wrong kind, or at odds with another;
        the message names file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_commutator(read_text(path, KIND), str(path))


def parse_commutator(text: str, name: str = "commutator.toml") -> CommutatorFile:
    """Read the text of a commutator file, called `name` in messages. Raises as `load_commutator`."""
    top = Table.of_file(text, name, KIND, 'bars = 57 or unit = "in"')
    top.only(("commutator", "limits", "micrometer", "lathe"))
    given = top.table("commutator", needed=True)
    given.only(_COMMUTATOR)
    unit = given.choice("unit", ("in", "mm"))
    bars = given.whole("bars", 3, MOST_BARS)
    table = _LengthTable.in_unit(given, unit)
    limits = _LengthTable.in_unit(top.table("limits", needed=True), unit)
    limits.only(_LIMITS)
    scale = _scale(limits)
    sheet = Sheet(
        scale=scale,
        runout_m=limits.optional_length("runout"),
        may_turn=table.flag("may_turn", True),
        may_undercut=table.flag("may_undercut", True),
        interval_wear_m=limits.optional_length("interval_wear"),
    )
    micrometers = tuple(
        _micrometer(_LengthTable.in_unit(one, unit), bars, scale) for one in top.tables("micrometer")
    )
    if not micrometers:
        raise InputError(name, "no [micrometer] table", "at least one measured diameter")
    return CommutatorFile(
        bars=bars,
        unit=unit,
        brush_band=_band(table),
        indicator_resolution_m=table.length("indicator_resolution"),
        indicator_turn_m=table.optional_length("indicator_turn"),
        sheet=sheet,
        micrometers=micrometers,
        setup=_lathe(_LengthTable.in_unit(top.table("lathe"), unit)),
    )


class _LengthTable(Table):
    """A table whose bare numbers are lengths in the one unit of the file."""

    unit = "in"

    @classmethod
    def in_unit(cls, table: Table, unit: str) -> _LengthTable:
        """The same table, its lengths in `unit`."""
        found = cls(table.values, table.title, table.text, table.name, table.nth)
        found.unit = unit
        return found

    def length(self, key: str, usual_m: float | None = None) -> float:
        """A length above 0 [m]: a number in the file's unit, or text with one unit or two."""
        if not self.has(key) and usual_m is not None:
            return usual_m
        example = "0.0005" if self.unit == "in" else "0.01"
        value = self.required(key, f"a length above 0 in {self.unit}, such as {example}")
        metres = self._metres(key, value)
        if not (math.isfinite(metres) and metres > 0):
            self.refuse(key, value_shown(value), f"a length above 0 in {self.unit}")
        return metres

    def optional_length(self, key: str) -> float | None:
        """The same, or None where the file does not give it."""
        return self.length(key) if self.has(key) else None

    def _metres(self, key: str, value: object) -> float:
        if _is_number(value):
            return float(value) * UNITS[self.unit].factor  # type: ignore[arg-type]
        if not isinstance(value, str):
            self.refuse(key, value_shown(value), f"a length in {self.unit}")
        try:
            return parse_length(value, self.unit, self.full(key)).metres
        except MeasurementError as error:
            raise InputError(self.place(key), *_found_expected(error)) from None


def _scale(limits: _LengthTable) -> WearScale:
    table = _LengthTable.in_unit(limits.table("diameter", needed=True), limits.unit)
    points = []
    for key in table.values:
        if key not in _NAMED and not _PERCENT.fullmatch(key):
            near = nearest_word(key, _NAMED)
            table.refuse(
                key, "an unknown key", f'new, half_worn, discard, or a percentage such as "25"{near}'
            )
        points.append(WearPoint(_NAMED.get(key, 0.0) if key in _NAMED else float(key), table.length(key)))
    try:
        return WearScale(tuple(points))
    except MeasurementError as error:
        raise InputError(table.place(), *_found_expected(error)) from None


def _band(table: _LengthTable) -> tuple[float, float]:
    expected = "two fractions from the riser end, such as [0.12, 0.88]"
    band = table.required("brush_band", expected)
    if not (
        isinstance(band, list) and len(band) == 2 and all(_is_number(end) for end in band)
        and 0 <= band[0] < band[1] <= 1
    ):  # fmt: skip
        table.refuse("brush_band", value_shown(band), expected)
    return float(band[0]), float(band[1])


def _micrometer(table: _LengthTable, bars: int, scale: WearScale) -> Micrometer:
    table.only(_MICROMETER)
    if table.values.get("unit", table.unit) != table.unit:
        found = value_shown(table.values["unit"])
        table.refuse("unit", found, f'"{table.unit}", as [commutator] says: one unit for both files')
    diameter = table.length("diameter")
    _check_diameter(table, diameter, scale)
    return Micrometer(
        bar=table.whole("bar", 1, bars) - 1,
        track=table.number("track", 0, 1),
        diameter_m=diameter,
        resolution_m=table.length("resolution"),
    )


def _check_diameter(table: _LengthTable, diameter_m: float, scale: WearScale) -> None:
    """A diameter far from the sheet's is a wrong unit or a wrong sheet."""
    nearest = scale.points[0].size_m
    if 0.6 < diameter_m / nearest < 1.4:
        return
    factor = UNITS[table.unit].factor
    other = "mm" if table.unit == "in" else "in"
    hint = ""
    if 0.6 < diameter_m / factor * UNITS[other].factor / nearest < 1.4:
        hint = f" (in {other} it would fit: one unit for every number of both files)"
    wanted = f"something near the sheet's {nearest / factor:.4g} {table.unit}{hint}"
    table.refuse("diameter", f"{diameter_m / factor:.5g} {table.unit}", wanted)


def _lathe(table: _LengthTable) -> LatheSetup:
    table.only(_LATHE)
    usual = PassLimits()
    speed = table.values.get("surface_speed")
    if speed is not None:
        value = table.number("surface_speed", 1e-9, 1e5)
        speed = value * (FOOT_PER_MINUTE if table.unit == "in" else 1 / 60)
    runout = table.optional_length("centres_runout")
    return LatheSetup(
        limits=PassLimits(
            table.length("rough_depth", usual.rough_m), table.length("finish_depth", usual.finish_m)
        ),
        surface_speed_m_per_s=speed,
        feed_m=table.optional_length("feed"),
        nose_m=table.optional_length("nose_radius"),
        centres_offset_m=None if runout is None else runout / 2,
    )


def _found_expected(error: MeasurementError) -> tuple[str, str]:
    """What a refusal of the measuring layer found and expected, its own place left off."""
    text = str(error).partition(": ")[2] or str(error)
    found, _, expected = text.removeprefix("found ").partition("expected ")
    return found.rstrip("; ,"), expected or "a scale that runs one way"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e12
