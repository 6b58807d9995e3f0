"""The bearings file: bushes and journals as measured, a new bush, the air gap and the gears, in TOML.

See docs/bearings.md for the keys.
"""

from __future__ import annotations

import re
from pathlib import Path

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_limits import entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text
from barwise.inspect.bearings.fits import Fit, fit_of
from barwise.inspect.bearings.form import SizeReading
from barwise.inspect.bearings.gears import Offset, Planetary
from barwise.inspect.bearings.judgement import (
    AirGap,
    BearingsWork,
    BushOnJournal,
    GearPlay,
    NewBush,
    Sizes,
    WornGear,
)
from barwise.inspect.bearings.press_fit import MATERIALS, Ring
from barwise.machine.gear_teeth import SpurGear, span_m
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate, from_expanded, last_digit, rectangular

KIND = "a TOML file with [[bearing]] tables, each with bore and journal"

_TOP = ("bearing", "new_bush", "air_gap", "planetary", "offset", "backlash", "gear")
_BEARING = (
    "name", "bore", "journal", "bore_at", "journal_at", "bore_certificate", "journal_certificate", "play",
    "new_bore", "new_journal", "nominal", "fit",
)  # fmt: skip
_NEW_BUSH = ("for", "bore", "outside", "housing_bore", "housing_outside", "bush", "housing")
_AIR_GAP = (
    "pole_bore", "core", "drive_end", "commutator_end", "drive_end_distance", "commutator_end_distance",
    "core_runout", "end_frame",
)  # fmt: skip
_PLACES = ("outer 0", "outer 90", "inner 0", "inner 90")
_ALONG = {"outer": 0.0, "middle": 0.5, "inner": 1.0}
_PLACE = re.compile(r"(outer|middle|inner)(?:\s+(-?\d{1,3}(?:\.\d+)?))?")
_WANTED_PLACE = 'places such as "outer 0", "outer 90", "inner 0": which end, and the direction in degrees'


def load_bearings(path: str | Path) -> BearingsWork:
    """Read a bearings file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_bearings(read_text(path, KIND), str(path))


def parse_bearings(text: str, name: str = "bearings.toml") -> BearingsWork:
    """Read the text of a bearings file, called `name` in messages. Raises as `load_bearings`."""
    top = Table.of_file(text, name, KIND, 'bore = "12.04 mm" and journal = "11.98 mm" under [[bearing]]')
    top.only(_TOP)
    if not any(top.has(key) for key in _TOP):
        raise InputError(name, "nothing to judge", KIND)
    bearings = tuple(_bearing(one, number) for number, one in enumerate(top.tables("bearing"), start=1))
    names = [one.name for one in bearings]
    for one, table in zip(bearings, top.tables("bearing"), strict=True):
        if names.count(one.name) > 1:
            table.refuse("name", f'"{one.name}" a second time', "a name of its own for each bearing")
    return BearingsWork(
        bearings=bearings,
        new_bush=_new_bush(top.table("new_bush"), names) if top.has("new_bush") else None,
        air_gap=_air_gap(top.table("air_gap"), names) if top.has("air_gap") else None,
        train=_train(top),
        play=_play(top.table("backlash")) if top.has("backlash") else None,
        gears=tuple(_gear(one) for one in top.tables("gear")),
    )


def _bearing(table: Table, number: int) -> BushOnJournal:
    table.only(_BEARING)
    bore, journal = (_sizes(table, part) for part in ("bore", "journal"))
    unit = table.quantities("journal", "length")[0].unit
    new = [table.optional_quantity(key, "length", above=0) for key in ("new_bore", "new_journal")]
    return BushOnJournal(
        name=table.words("name", f"bearing {number}"),
        bore=bore,
        journal=journal,
        unit=unit,
        limit=entered_limit(table, "play", "length", "at most"),
        fit=_fit(table),
        new_bore_m=None if new[0] is None else new[0].value,
        new_journal_m=None if new[1] is None else new[1].value,
    )


def _sizes(table: Table, part: str) -> Sizes:
    found = table.quantities(part, "length", above=0, most=1.0)
    if not found:
        table.refuse(part, "nothing", 'one size or several, such as ["12.04 mm", "12.02 mm"]')
    places = _places(table, f"{part}_at", len(found), part)
    certificate = table.optional_quantity(f"{part}_certificate", "length", least=0)
    return Sizes(
        tuple(
            SizeReading(one.value, along, way, _own(one))
            for one, (along, way) in zip(found, places, strict=True)
        ),
        0.0 if certificate is None else from_expanded(certificate.value),
    )


def _own(one: Quantity) -> float:
    """Standard uncertainty of one reading by itself: its last digit, and the ± written behind it."""
    return float((last_digit(one.digit) ** 2 + rectangular(one.half_width) ** 2) ** 0.5)


def _places(table: Table, key: str, count: int, part: str) -> list[tuple[float, float]]:
    written = table.values.get(key)
    if written is None:
        if count == 3 or count > len(_PLACES):
            table.refuse(part, f"{count} sizes without places", f"{key} = [...], {_WANTED_PLACE}")
        written = list(_PLACES[:count])
    if not isinstance(written, list) or len(written) != count:
        table.refuse(key, f"{written!s:.60}", f"{count} places, one for each size")
    found = []
    for one in written:
        parts = _PLACE.fullmatch(one.strip()) if isinstance(one, str) else None
        if parts is None:
            table.refuse(key, f"{one!s:.40}", _WANTED_PLACE)
        found.append((_ALONG[parts[1]], float(parts[2] or 0.0)))
    return found


def _fit(table: Table) -> Fit | None:
    if not table.has("fit"):
        if table.has("nominal"):
            table.refuse("nominal", "a nominal size without a fit", 'fit = "F7/h6" with it')
        return None
    nominal = table.quantity("nominal", "length", above=0)
    try:
        return fit_of(nominal.value, table.words("fit"))
    except MeasurementError as error:
        found, _, expected = str(error).partition(": ")[2].removeprefix("found ").partition(", expected ")
        table.refuse("fit", found, expected)


def _new_bush(table: Table, names: list[str]) -> NewBush:
    table.only(_NEW_BUSH)
    return NewBush(
        bearing=table.choice("for", names) if table.has("for") else "",
        bore=table.quantity("bore", "length", above=0).estimate,
        outside=table.quantity("outside", "length", above=0).estimate,
        housing_bore=table.quantity("housing_bore", "length", above=0).estimate,
        housing_outside_m=table.quantity("housing_outside", "length", above=0).value,
        bush=_material(table, "bush", "sintered bronze"),
        housing=_material(table, "housing", "cast iron"),
        unit=table.quantity("outside", "length").unit,
    )


def _material(table: Table, key: str, usual: str) -> Ring:
    wanted = table.choice(key, [one.name for one in MATERIALS], usual)
    return next(one for one in MATERIALS if one.name == wanted)


def _air_gap(table: Table, names: list[str]) -> AirGap:
    table.only(_AIR_GAP)
    if len(names) < 2:
        table.refuse("", "an air gap without two bearings", "a [[bearing]] for each end of the armature")
    nothing = Estimate(0.0, 0.0)
    runout = table.optional_quantity("core_runout", "length", least=0)
    frame = table.optional_quantity("end_frame", "length", least=0)
    return AirGap(
        pole_bore=table.quantity("pole_bore", "length", above=0).estimate,
        core=table.quantity("core", "length", above=0).estimate,
        drive_end=table.choice("drive_end", names, "drive end" if "drive end" in names else None),
        commutator_end=table.choice(
            "commutator_end", names, "commutator end" if "commutator end" in names else None
        ),
        drive_end_m=table.quantity("drive_end_distance", "length", above=0).value,
        commutator_end_m=table.quantity("commutator_end_distance", "length", above=0).value,
        core_runout=nothing if runout is None else runout.estimate,
        end_frame=nothing if frame is None else frame.estimate,
        unit=table.quantity("core", "length").unit,
    )


def _train(top: Table) -> Planetary | Offset | None:
    if top.has("planetary") and top.has("offset"):
        top.refuse("offset", "[offset] beside [planetary]", "one of them")
    if not (top.has("planetary") or top.has("offset")):
        return None
    table = top.table("planetary" if top.has("planetary") else "offset")
    keys = (
        ("sun", "ring", "planets", "planet_teeth") if top.has("planetary") else ("driver", "driven", "idler")
    )
    table.only(keys)
    counts = [table.whole(key, 1, 400) if table.has(key) or key in keys[:-1] else None for key in keys]
    try:
        if top.has("planetary"):
            return Planetary(counts[0] or 0, counts[1] or 0, counts[2] or 0, counts[3])
        return Offset(counts[0] or 0, counts[1] or 0, counts[2])
    except MeasurementError as error:
        what, _, said = str(error).partition(": found ")
        found, _, expected = said.partition(", expected ")
        table.refuse({"planet": "planet_teeth"}.get(what, what), found, expected)


def _play(table: Table) -> GearPlay:
    table.only(("dial", "dial_radius", "pitch_radius", "most"))
    return GearPlay(
        dial=table.quantity("dial", "length", least=0).estimate,
        dial_radius_m=table.quantity("dial_radius", "length", above=0).value,
        pitch_radius_m=table.quantity("pitch_radius", "length", above=0).value,
        limit=entered_limit(table, "most", "length", "at most"),
        unit=table.quantity("dial", "length").unit,
    )


def _gear(table: Table) -> WornGear:
    """One gear; its span when new as measured on a new one, or from its teeth and profile shift."""
    table.only(("name", "teeth", "module", "angle", "shift", "spanned", "span", "new_span", "most_wear"))
    gear = SpurGear(
        table.whole("teeth", 4, 400),
        table.quantity("module", "length", above=0, most=0.02).value,
        table.number("angle", 10, 35, 20.0),
        table.number("shift", -1.9, 1.9, 0.0),
    )
    spanned = table.whole("spanned", 1, gear.teeth // 2 + 1)
    new = table.optional_quantity("new_span", "length", above=0)
    span = table.quantity("span", "length", above=0)
    now = span.estimate
    usual = Estimate(span_m(gear, spanned), 0.0)
    before = usual if new is None else new.estimate
    if not 0.7 * usual.value < now.value < 1.2 * usual.value:
        wanted = f"about {usual.value * 1e3:.4g} mm over {spanned} teeth: teeth counted wrong, another unit?"
        table.refuse("span", f"{now.value * 1e3:.4g} mm", wanted)
    limit = entered_limit(table, "most_wear", "length", "at most")
    return WornGear(table.words("name", "gear"), gear, spanned, before, now, limit, span.unit)
