"""The vehicle file of ``barwise crank``: battery, legs, starter, engine and what was measured, in TOML.

docs/cranking.md lists the keys. Numbers carry their unit, ``"650 A"``; a ± behind one says how far it may
be off. The bench keeps what it was told of a vehicle as the same text: `vehicle_facts` reads it where some
of it is missing, and the starter and the measured volts come from the job.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

from barwise.errors import BarwiseError, InputError
from barwise.files.entered_tables import Table
from barwise.files.run_file import RunFile
from barwise.files.text import read_text
from barwise.files.toml_tables import value_shown
from barwise.inspect.cranking import DropReadings, Vehicle, WayLeg
from barwise.inspect.cranking.facts import USUAL_HENRY, USUAL_OIL, CrankQuestion, Missing, VehicleFacts
from barwise.inspect.run_test import RunTest, assess
from barwise.inspect.run_test.nominal import sound_motors
from barwise.inspect.run_test.points import SHEET_SHARE, STATED_K, VOLTS_SHARE, Point, Sheet, figure, usable
from barwise.inspect.run_test.possible import KEPT, as_one
from barwise.machine.battery import Battery, charge_from_gravity, charge_from_rest_volts
from barwise.machine.cable import CONDUCTIVITY_SHARE, Cable, Metal, cable_resistance, gauge_area_mm2
from barwise.machine.cranking import RPM
from barwise.machine.engine import Engine, Fuel
from barwise.machine.motor import FieldKind, Motor
from barwise.machine.oil import oil_of_grade
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate

Made = TypeVar("Made")

KIND = "a TOML file with [battery], [[leg]], [starter] and [engine]"
SUCH_AS = '[battery] and rated_current = "650 A"'

FIELDS: tuple[FieldKind, ...] = ("series", "series-parallel", "compound", "permanent-magnet")
FUELS: tuple[Fuel, ...] = ("petrol", "diesel", "diesel-indirect")
METALS: tuple[Metal, ...] = ("copper", "aluminium", "copper-clad aluminium")
_TOP = ("title", "temperature", "battery", "leg", "starter", "engine", "measured", "seconds")
_BATTERY = (
    "volts", "rated_current", "tested_current", "charge", "rest_volts", "gravity", "age_years", "in_series",
    "in_parallel",
)  # fmt: skip
_CHARGE = ("charge", "rest_volts", "gravity")
_LEG = ("name", "gauge", "area", "length", "joints", "metal", "contact", "resistance")
_STARTER = (
    "field", "volts", "ring_teeth", "pinion_teeth", "ratio", "reduction", "sheet", "now", "motor",
    "motor_now", "rotor_inertia", "inductance", "spread", "temperature", "bars", "field_paths",
)  # fmt: skip
_TOP_OF_JOB = ("title", "temperature", "battery", "leg", "starter", "engine", "seconds")
_STARTER_OF_JOB = ("ring_teeth", "pinion_teeth", "ratio", "rotor_inertia", "inductance")
_SHEET_KEYS = ("field", "volts", "reduction", "sheet", "now", "temperature", "bars", "field_paths")
"""What the file of a run test says of the starter."""
_POINT = ("kind", "volts", "current", "speed", "torque", "temperature")
_ENGINE = (
    "displacement", "cylinders", "strokes", "fuel", "compression_ratio", "oil", "least_speed",
    "inertia",
)  # fmt: skip
_MEASURED = ("current", "rest_volts", "battery_volts", "starter_volts", "speed", "temperature", "drops")
_USUAL_RATIO = {"petrol": 9.5, "diesel": 17.5}
MADE_SPREAD = 0.15
"""How far a leg worked out from what it is made of may be off, as a share: strands, lay, joints."""
GIVEN_SPREAD = 0.02
"""How far a motor given by the figures of a fit may be off, as a share of flux and resistance (assumed)."""


def load_cranking(path: str | Path, run: RunFile | None = None) -> CrankQuestion:
    """Read a vehicle file.

    Parameters
    ----------
    run : RunFile, optional
        What the starter did on the bench, in place of the file's own [[starter.sheet]] and [[starter.now]].

    Raises
    ------
    InputError
        If it cannot be read, or something in it cannot be: names file, line and key.
    """
    path = Path(path)
    return parse_cranking(read_text(path, KIND), str(path), run)


def parse_cranking(text: str, name: str = "vehicle.toml", run: RunFile | None = None) -> CrankQuestion:
    """Read the text of a vehicle file, called `name` in messages. Raises as `load_cranking`."""
    top = Table.of_file(text, name, KIND, SUCH_AS)
    top.only(_TOP)
    for key in ("battery", "starter", "engine"):
        top.table(key, needed=True)
    starter = top.table("starter")
    starter.only(_STARTER)
    ours = _starter(starter, run)
    facts = _facts(top, whole=True)
    vehicle = _placed(top, lambda: facts.vehicle(ours.now, ours.sound, ours.spread))
    assert vehicle is not None  # a whole file says enough
    return CrankQuestion(
        title=facts.title,
        vehicle=vehicle,
        readings=_readings(top, vehicle) if top.has("measured") else None,
        run=ours.run,
        rotor_guessed=facts.rotor_kgm2 is None,
        seconds=facts.seconds,
    )


def vehicle_facts(text: str, name: str = "vehicle") -> VehicleFacts:
    """What a job says of the vehicle: a vehicle file without starter figures and measured volts.

    What is missing is named, not refused; what is there must be right.

    Raises
    ------
    InputError
        If something in it cannot be: names line and key.
    """
    top = Table.of_file(text, name, KIND, SUCH_AS)
    top.only(_TOP_OF_JOB)
    top.table("starter").only(_STARTER_OF_JOB)
    return _facts(top, whole=False)


def _facts(top: Table, *, whole: bool) -> VehicleFacts:
    """The vehicle but for the motor. `whole`: what is missing is refused."""
    warm = top.optional_quantity("temperature", "temperature", least=-60.0, most=80.0)
    at_c = None if warm is None else warm.value
    battery, starter, engine = (top.table(key) for key in ("battery", "starter", "engine"))
    battery.only(_BATTERY)
    engine.only(_ENGINE)
    missing: list[Missing] = []
    legs = _legs(top, at_c, missing, whole=whole)
    missing += _taken_for_granted(battery, engine)
    inertia = starter.optional_quantity("rotor_inertia", "inertia", above=0.0)
    seconds = top.optional_quantity("seconds", "time", above=0.0, most=10.0)
    return VehicleFacts(
        title=top.words("title", "the vehicle"),
        temperature_c=at_c,
        battery=_enough(battery, _BATTERY_NEEDS, _battery, missing, whole=whole),
        legs=legs,
        ratio=_enough(starter, _GEAR_NEEDS, _ratio, missing, whole=whole),
        engine=_enough(engine, _ENGINE_NEEDS, _engine, missing, whole=whole),
        oil=_oil(engine),
        least_rpm=_least(engine),
        rotor_kgm2=None if inertia is None else inertia.value,
        inductance_h=starter.number("inductance", 1e-7, 1e-1, USUAL_HENRY),
        missing=tuple(missing),
        seconds=1.0 if seconds is None else seconds.value,
    )


@dataclass(frozen=True)
class _Needs:
    """Keys without which a part says nothing, each with others that serve as well, and how it could read.

    `what` and `gives` are the part, and what it would give.
    """

    what: str
    gives: str
    keys: tuple[tuple[tuple[str, ...], object], ...]


_BATTERY_NEEDS = _Needs(
    "battery",
    "the volts there are, and those it loses inside",
    ((("volts",), "12 V"), (("rated_current", "tested_current"), "600 A")),
)
_GEAR_NEEDS = _Needs(
    "gears",
    "how fast the engine turns for the starter's own speed",
    ((("ring_teeth", "ratio"), 120), (("pinion_teeth", "ratio"), 10)),
)
_ENGINE_NEEDS = _Needs(
    "engine",
    "the torque it asks, and so speed and current",
    ((("displacement",), "3 L"), (("cylinders",), 4), (("fuel",), FUELS[0])),
)


def _enough(
    table: Table, needs: _Needs, made: Callable[[Table], Made], missing: list[Missing], *, whole: bool
) -> Made | None:
    """A part of the file; None, and told in `missing`, where it says too little.

    What it does say is read all the same, with figures standing in for the others: it must be right.
    """
    absent = {keys[0]: such for keys, such in needs.keys if not any(table.has(one) for one in keys)}
    if whole or not absent:
        return made(table)
    if table.values:
        made(table.filled_up(absent))
    told = ", ".join(key.replace("_", " ") for key in absent)
    missing.append(Missing(f"{needs.what} ({told})", needs.gives))
    return None


def _taken_for_granted(battery: Table, engine: Table) -> Iterator[Missing]:
    """What is not said and stood in for, where the rest of its part is there."""
    if battery.values and not any(battery.has(key) for key in _CHARGE):
        yield Missing("battery (charge)", "what it really has; a full one is taken", needed=False)
    if not engine.values:
        return
    if not engine.has("oil"):
        yield Missing("engine (oil)", f"how stiff it is in the cold; {USUAL_OIL} is taken", needed=False)
    if not engine.has("compression_ratio"):
        usual = " or ".join(f"{ratio:g} for a {kind}" for kind, ratio in _USUAL_RATIO.items())
        yield Missing("engine (compression ratio)", f"how far it dips; {usual} is taken", needed=False)


def _oil(engine: Table) -> str | None:
    if not engine.has("oil"):
        return None
    grade = engine.words("oil")
    _placed(engine, lambda: oil_of_grade(grade))
    return grade


def _battery(table: Table) -> Battery:
    volts = table.quantity("volts", "voltage", above=0.0, most=48.0)
    if table.has("tested_current"):
        # a tester has found what age left of it
        rated, age = table.quantity("tested_current", "current", above=0.0).value, 0.0
    else:
        rated = table.quantity("rated_current", "current", above=0.0).value
        age = table.number("age_years", 0, 30, 0.0)
    return _placed(
        table,
        lambda: Battery(
            nominal_v=volts.value,
            rated_a=rated,
            charge=_charge(table, volts.value / 2),
            age_years=age,
            in_series=table.whole("in_series", 1, 8, 1),
            in_parallel=table.whole("in_parallel", 1, 8, 1),
        ),
    )


def _charge(table: Table, cells: float) -> float:
    said = [key for key in _CHARGE if table.has(key)]
    if len(said) > 1:
        table.refuse(said[1], f"both {said[0]} and {said[1]}", "one of charge, rest_volts and gravity")
    if table.has("rest_volts"):
        return charge_from_rest_volts(table.quantity("rest_volts", "voltage", above=0.0).value, cells)
    if table.has("gravity"):
        return charge_from_gravity(table.number("gravity", 1.0, 1.35))
    charge = table.optional_quantity("charge", "share", least=0.0, most=1.0)
    return 1.0 if charge is None else charge.value


def _legs(top: Table, at_c: float | None, missing: list[Missing], *, whole: bool) -> tuple[WayLeg, ...]:
    at = 20.0 if at_c is None else at_c
    found: list[WayLeg | None] = []
    names: list[str] = []
    for one in top.tables("leg"):
        one.only(_LEG)
        name = one.words("name")
        if name in ("battery", "starter", *names):
            one.refuse("name", value_shown(name), "each stretch once, battery and starter not among them")
        names.append(name)
        found.append(_enough(one, _leg_needs(one), partial(_leg, at_c=at), missing, whole=whole))
    legs = tuple(leg for leg in found if leg is not None)
    if whole and not legs:
        top.refuse("leg", "none", "at least one [[leg]], such as the positive cable")
    return legs


def _leg_needs(table: Table) -> _Needs:
    """What a stretch is made of, with what it says already."""
    gives = "what it loses, and what it would lose in order"
    made = any(table.has(key) for key in ("gauge", "area"))
    if not made and table.has("contact"):
        return _Needs(table.words("name"), gives, ())
    keys: tuple[tuple[tuple[str, ...], object], ...] = ((("length",), "1 m"),)
    return _Needs(table.words("name"), gives, keys if made else (((("gauge", "area")), "2/0"), *keys))


def _leg(table: Table, at_c: float) -> WayLeg:
    """What it is made of says what it should have; a resistance or a drop says what it has."""
    name = table.words("name")
    healthy = _made(table, at_c)
    contact = table.optional_quantity("contact", "resistance", least=0.0)
    healthy += 0.0 if contact is None else contact.value
    if healthy <= 0:
        table.refuse("gauge", "nothing it is made of", "gauge or area with length, or contact (a switch)")
    now = table.optional_quantity("resistance", "resistance", least=0.0)
    if now is None:
        return WayLeg(name, Estimate(healthy, MADE_SPREAD * healthy), healthy)
    value = max(now.value, 1e-7)
    return WayLeg(name, Estimate(value, now.standard_uncertainty), healthy, measured=True)


def _made(table: Table, at_c: float) -> float:
    if not (table.has("gauge") or table.has("area")):
        return 0.0
    if table.has("gauge") and table.has("area"):
        table.refuse("area", "both gauge and area", "one of them")
    length = table.quantity("length", "length", above=0.0, most=100.0).value
    metal = table.choice("metal", tuple(CONDUCTIVITY_SHARE), "copper")

    def cable() -> Cable:
        if table.has("area"):
            area = table.quantity("area", "area", above=0.0).value * 1e6
        else:
            area = gauge_area_mm2(table.words("gauge"))
        kind = next(one for one in METALS if one == metal)
        return Cable(area, length, table.whole("joints", 0, 50, 2), kind)

    return cable_resistance(_placed(table, cable), at_c)


def _ratio(table: Table) -> float:
    if table.has("ratio"):
        return table.number("ratio", 2, 40)
    return table.whole("ring_teeth", 20, 400) / table.whole("pinion_teeth", 5, 60)


@dataclass(frozen=True)
class _Starter:
    """The starter as it is and in order, how far both may be off beyond that, and its run test."""

    now: Motor
    sound: Motor
    spread: float = 0.0
    run: RunTest | None = None


def _starter(table: Table, run: RunFile | None) -> _Starter:
    if run is not None:
        for key in (*_SHEET_KEYS, "motor", "motor_now", "spread"):
            if table.has(key):
                table.refuse(key, "also the file of a run test", "one of them: the run test says it all")
        return _as_run(table, run.sheet, run.points)
    if table.has("motor"):
        spread = table.optional_quantity("spread", "share", least=0.0, most=0.5)
        sound = _given_motor(table, table.table("motor"))
        now = _given_motor(table, table.table("motor_now")) if table.has("motor_now") else sound
        return _Starter(now, sound, GIVEN_SPREAD if spread is None else spread.value)
    if table.has("spread"):
        table.refuse("spread", "spread beside [[starter.sheet]]", "none: the run test's readings say it")
    printed = tuple(_printed(one) for one in table.tables("sheet"))
    if not printed:
        table.refuse(
            "sheet", "none", "[[starter.sheet]] with the model's no-load and lock figures, or [starter.motor]"
        )
    return _as_run(table, _sheet(table, printed), tuple(_point(one) for one in table.tables("now")))


def _as_run(table: Table, sheet: Sheet, read: tuple[Point, ...]) -> _Starter:
    """The starters that a run test leaves possible; without one, sound ones of the model."""
    if not usable(sheet.points) and not usable(read):
        table.refuse("sheet", "no point with volts and something besides", "one at least")
    if not read:
        sound = sound_motors(sheet, KEPT)
        return _Starter(sound, sound)
    found = _placed(table, lambda: assess(sheet, read))
    if not found.posterior:
        first = found.causes[0]
        table.refuse("now", f"a starter that does not run ({first.title})", "one that does: mend it first")
    now, sound = as_one(found.posterior)
    return _Starter(now, sound, run=found)


def _sheet(table: Table, points: tuple[Point, ...]) -> Sheet:
    """What is known of the model."""
    field = next(one for one in FIELDS if one == table.choice("field", FIELDS, "series"))
    degrees = table.optional_quantity("temperature", "temperature", least=-60.0, most=200.0)
    volts = table.quantity("volts", "voltage", above=0.0, most=200.0).value
    return _placed(
        table,
        lambda: Sheet(
            field,
            volts,
            points,
            rated=next((point for point in points if point.kind == "loaded"), None),
            temperature=None if degrees is None else Estimate(degrees.value, max(STATED_K, degrees.digit)),
            field_paths=table.whole("field_paths", 1, 12, 2 if field == "series-parallel" else 1),
            bars=table.whole("bars", 3, 1000) if table.has("bars") else None,
            gear_ratio=table.number("reduction", 1, 20, 1.0),
        ),
    )


def _point(table: Table) -> Point:
    table.only(_POINT)
    kind = table.choice("kind", ("no-load", "lock", "loaded"))
    degrees = table.optional_quantity("temperature", "temperature", least=-60.0, most=250.0)
    spread = 0.0 if degrees is None else max(STATED_K, degrees.standard_uncertainty)
    return Point(
        kind=kind,  # type: ignore[arg-type]
        volts=_estimate(table.optional_quantity("volts", "voltage", above=0.0)),
        current=_estimate(table.optional_quantity("current", "current", above=0.0)),
        speed=_estimate(table.optional_quantity("speed", "speed", above=0.0)),
        torque=_estimate(table.optional_quantity("torque", "torque", above=0.0)),
        temperature=None if degrees is None else Estimate(degrees.value, spread),
    )


def _printed(table: Table) -> Point:
    """A point of the sheet: the model's, and no one motor's."""
    read = _point(table)

    def stated(one: Estimate | None, share: float = SHEET_SHARE) -> Estimate | None:
        return None if one is None else figure(one.value, share)

    return replace(
        read,
        volts=stated(read.volts, VOLTS_SHARE),
        current=stated(read.current),
        speed=stated(read.speed),
        torque=stated(read.torque),
    )


def _given_motor(starter: Table, table: Table) -> Motor:
    """Figures of `barwise.machine.motor.Motor` by its own names, as a fit gives them."""
    known = tuple(part.name for part in fields(Motor) if part.name not in ("field", "field_paths"))
    table.only(known)
    field = next(one for one in FIELDS if one == starter.choice("field", FIELDS, "series"))
    values: dict[str, Any] = {key: table.number(key, -1e9, 1e9) for key in table.values}
    flux, armature = (table.number(key, 1e-9, 1e3) for key in ("flux_vs", "armature_ohm"))
    return _placed(table, lambda: replace(Motor(field, flux, armature), **values))


def _engine(table: Table) -> Engine:
    fuel = next(one for one in FUELS if one == table.choice("fuel", FUELS))
    inertia = table.optional_quantity("inertia", "inertia", above=0.0)
    usual = _USUAL_RATIO["petrol" if fuel == "petrol" else "diesel"]
    return _placed(
        table,
        lambda: Engine(
            displacement_m3=table.quantity("displacement", "volume", above=0.0).value,
            cylinders=table.whole("cylinders", 1, 24),
            strokes=table.whole("strokes", 2, 4, 4),
            fuel=fuel,
            compression_ratio=table.number("compression_ratio", 3, 30, usual),
            inertia_kgm2=None if inertia is None else inertia.value,
        ),
    )


def _least(table: Table) -> tuple[float, float] | None:
    least = table.optional_quantity("least_speed", "speed", above=0.0)
    if least is None:
        return None
    width = math.sqrt(3) * least.standard_uncertainty
    return (least.value - width) / RPM, (least.value + width) / RPM


def _readings(top: Table, vehicle: Vehicle) -> DropReadings:
    table = top.table("measured")
    table.only(_MEASURED)
    drops = table.table("drops")
    names = [leg.name for leg in vehicle.legs]
    drops.only(names)
    at = table.optional_quantity("temperature", "temperature", least=-60.0, most=80.0)
    current = table.quantity("current", "current", above=0.0)
    return DropReadings(
        current=current.estimate,
        drops={name: drops.quantity(name, "voltage").estimate for name in drops.values},
        battery=_estimate(table.optional_quantity("battery_volts", "voltage", above=0.0)),
        starter=_estimate(table.optional_quantity("starter_volts", "voltage", above=0.0)),
        rest=_estimate(table.optional_quantity("rest_volts", "voltage", above=0.0)),
        speed=_estimate(table.optional_quantity("speed", "speed", above=0.0)),
        temperature_c=None if at is None else at.value,
    )


def _estimate(found: Quantity | None) -> Estimate | None:
    return None if found is None else found.estimate


def _placed(table: Table, made: Callable[[], Made]) -> Made:
    """What `made` makes; a refusal of the layers below with the file and the table before it."""
    try:
        return made()
    except InputError as error:
        if error.where.startswith(table.name):
            raise
        raise InputError(f"{table.place()}, {error.where}", error.found, error.expected) from None
    except BarwiseError as error:
        raise InputError(table.place(), *_found_expected(str(error))) from None


def _found_expected(said: str) -> tuple[str, str]:
    found, _, expected = said.partition(", expected ")
    return found.partition("found ")[2] or found, expected or "figures of a motor that can be"
