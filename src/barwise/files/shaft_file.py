"""The shaft file: dial readings at several angles and places along a shaft, in TOML.

See docs/shaft.md for the keys.
"""

from __future__ import annotations

from pathlib import Path

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_limits import entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.inspect.shaft.judgement import Reading, Roundness, ShaftWork, random_of
from barwise.measure.length import Length, parse_length
from barwise.measure.uncertainty import Estimate, last_digit

KIND = "a TOML file with a [shaft] table and a [[station]] table for each place read"
MOST_ANGLES = 360
MOST_STATIONS = 60

_SHAFT = ("held", "journals", "v_angle", "dial_step", "repeatability", "most_runout", "unit")
_STATION = ("name", "at", "angles", "readings", "swing", "most_runout")
_ROUND = ("name", "swings", "two_point")
_HELD = ("v-blocks", "centres")


def load_shaft(path: str | Path) -> ShaftWork:
    """Read a shaft file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_shaft(read_text(path, KIND), str(path))


def parse_shaft(text: str, name: str = "shaft.toml") -> ShaftWork:
    """Read the text of a shaft file, called `name` in messages. Raises as `load_shaft`."""
    top = Table.of_file(text, name, KIND, 'held = "v-blocks" and journals = ["0.6 in", "6.9 in"]')
    top.only(("shaft", "station", "roundness"))
    table = top.table("shaft", needed=True)
    table.only(_SHAFT)
    step = table.quantity("dial_step", "length", above=0, most=1e-3)
    repeats = table.optional_quantity("repeatability", "length", least=0, most=1e-3)
    unit = table.choice("unit", ("in", "mm", "thou", "um"), step.unit.name)
    random_m = random_of(step.value, 0.0 if repeats is None else repeats.value)
    stations = top.tables("station")
    if not stations:
        raise InputError(name, "no [[station]] table", "one for each place that was read")
    if len(stations) > MOST_STATIONS:
        raise InputError(name, f"{len(stations)} stations", f"{MOST_STATIONS} at most")
    readings = tuple(_reading(one, number, unit, random_m) for number, one in enumerate(stations, start=1))
    _check_names(readings, stations)
    held = table.choice("held", _HELD)
    return ShaftWork(
        readings=readings,
        journals_m=_journals(table),
        held=held,  # type: ignore[arg-type]
        unit=step.unit,
        v_angle_deg=table.number("v_angle", 20, 180) if table.has("v_angle") else None,
        limit=entered_limit(table, "most_runout", "length", "at most"),
        roundness=tuple(_roundness(one, number) for number, one in enumerate(top.tables("roundness"), 1)),
    )


def _journals(table: Table) -> tuple[float, float]:
    found = table.quantities("journals", "length", least=0)
    if len(found) != 2:
        table.refuse("journals", f"{len(found)} places", 'two, such as ["0.6 in", "6.9 in"], from one end')
    first, second = (one.value for one in found)
    if abs(first - second) < 1e-3:
        table.refuse("journals", "both at one place", "two places along the shaft, from one end")
    return min(first, second), max(first, second)


def _reading(table: Table, number: int, unit: str, random_m: float) -> Reading:
    table.only(_STATION)
    name, at_m = table.words("name", f"station {number}"), table.quantity("at", "length", least=0).value
    limit = entered_limit(table, "most_runout", "length", "at most")
    if table.has("swing"):
        if table.has("readings"):
            table.refuse("swing", "a swing beside readings", "one of them")
        swing = table.quantity("swing", "length", least=0)
        doubt = (swing.standard_uncertainty**2 + 2 * random_m**2) ** 0.5
        return Reading(name, at_m, (), (), random_m, Estimate(swing.value, doubt), limit)
    readings = _readings(table, unit)
    angles = _angles(table, len(readings))
    own = max(random_m, max(last_digit(one.digit_m) for one in readings))
    return Reading(name, at_m, angles, tuple(one.metres for one in readings), own, None, limit)


def _readings(table: Table, unit: str) -> list[Length]:
    wanted = f'readings of the dial, such as ["0", "1.2 thou"] (in {unit} where no unit stands)'
    found = table.values.get("readings")
    if not isinstance(found, list) or not found:
        table.refuse("readings", "nothing" if found is None else f"{found!s:.40}", wanted)
    if len(found) > MOST_ANGLES:
        table.refuse("readings", f"{len(found)} readings", f"{MOST_ANGLES} at most")
    lengths = []
    for one in found:
        if not isinstance(one, str):
            table.refuse("readings", f"{one!s:.40}", wanted)
        try:
            lengths.append(parse_length(one, unit, "readings"))
        except MeasurementError as error:
            said = str(error).partition(": ")[2].removeprefix("found ")
            refused, _, expected = said.partition(", expected ")
            table.refuse("readings", refused, expected or wanted)
    return lengths


def _angles(table: Table, count: int) -> tuple[float, ...]:
    """As given, or evenly round the turn from the mark."""
    if not table.has("angles"):
        return tuple(360.0 * place / count for place in range(count))
    found = table.values["angles"]
    if not isinstance(found, list) or len(found) != count:
        many = len(found) if isinstance(found, list) else 1
        table.refuse("angles", f"{many} angles for {count} readings", "one angle in degrees for each reading")
    return tuple(table.checked_number("angles", one, -360, 720) for one in found)


def _roundness(table: Table, number: int) -> Roundness:
    """Swings on V-blocks as ``swings = { "60" = "0.3 thou", "90" = "0.2 thou" }``."""
    table.only(_ROUND)
    swings = table.table("swings")
    found = []
    for key in swings.values:
        try:
            angle = float(key)
        except ValueError:
            swings.refuse(key, f'"{key}"', "the V-block's angle in degrees, such as 90")
        if not 20 <= angle <= 180:
            swings.refuse(key, f"{angle:g} degrees", "20 to 180 degrees; 180 is a flat plate")
        found.append((angle, _swing(swings, key)))
    two_point = None
    if table.has("two_point"):
        two_point = _swing(table, "two_point")
    if not found and two_point is None:
        table.refuse("swings", "nothing", 'swings on V-blocks, such as { "60" = "0.3 thou" }, or two_point')
    return Roundness(table.words("name", f"place {number}"), tuple(found), two_point)


def _swing(table: Table, key: str) -> Estimate:
    """A swing is the difference of two readings, so its last digit counts twice."""
    found = table.quantity(key, "length", least=0, most=0.01)
    return Estimate(found.value, found.standard_uncertainty * 2**0.5)


def _check_names(readings: tuple[Reading, ...], tables: tuple[Table, ...]) -> None:
    seen: list[str] = []
    for one, table in zip(readings, tables, strict=True):
        if one.name in seen:
            table.refuse("name", f'"{one.name}" a second time', "a name of its own for each station")
        seen.append(one.name)
