"""What looks odd enough to ask before anything is concluded, and how the battery sagged.

Nothing here is refused: the readings are used as they stand, and the answer says what was asked.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from barwise.inspect.run_test.points import Point, Sheet, figures, once, usable
from barwise.inspect.run_test.prior import Prior
from barwise.machine.motor import Motor, at_temperature, lock, no_load, series_ohm

_FULL_SHARE, _HEAVY_SHARE = 0.9, 0.25
"""Volts that did not sag at a current that must pull any battery down: read at the battery (assumed)."""
_WEAK_SHARE = 0.6
_TOO_FAST = 1.25
_WORDS = {"volts": "volts", "current": "amperes", "speed": "speed", "torque": "torque"}
_TIMES = {2: "twice", 3: "three times"}
_RPM = 2 * math.pi / 60


@dataclass(frozen=True)
class Sag:
    """The source behind the starter's terminals: its volts without load and its resistance [V, ohm]."""

    volts_v: float
    ohm: float
    ohm_uncertainty: float


def sag_of(points: Sequence[Point]) -> Sag | None:
    """Battery and cables as two points at different currents show them; None where they do not.

    Notes
    -----
    V = V0 - I R through the points of least and most current; of points of one kind that with most volts
    counts, as for the others the bench was turned down.
    """
    known = _at_most_volts(
        [point for point in points if point.volts is not None and point.current is not None]
    )
    if len(known) < 2:
        return None
    light, heavy = (pick(known, key=_amps) for pick in (min, max))
    more = _amps(heavy) - _amps(light)
    if more <= 0.2 * _amps(heavy):
        return None
    high, low = _volts(light), _volts(heavy)
    ohm = (high - low) / more
    doubt = math.hypot(*(one.volts.standard_uncertainty for one in (light, heavy) if one.volts)) / more
    return Sag(high + ohm * _amps(light), ohm, doubt)


def _at_most_volts(points: Sequence[Point]) -> list[Point]:
    """Of each kind the point with most volts."""
    most: dict[str, Point] = {}
    for point in sorted(points, key=_volts):
        most[point.kind] = point
    return list(most.values())


def what_to_ask(
    sheet: Sheet, points: Sequence[Point], model: Prior
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Questions, and notes on what was assumed.

    Parameters
    ----------
    points : sequence of Point
        As read, the unusable ones among them.
    model : Prior
        Of the sheet's sound motor.
    """
    motor = at_temperature(model.motor(model.mean), 20.0)
    said = bool(sheet.points)
    questions = [
        *_missing(points),
        *_twice(points),
        *_signs(points),
        *_too_fast(sheet, points),
        *_at_the_battery(sheet, points, motor, said),
        *_which_shaft(sheet, points, motor, said),
    ]
    return tuple(questions), tuple(_notes(sheet, points))


def _missing(points: Sequence[Point]) -> Iterator[str]:
    for point in points:
        if point.volts is None:
            yield f"{_named(point)}: the volts are missing. It cannot be used without: volts at the starter?"
        elif len(point.given) < 2:
            yield f"{_named(point)}: only volts were read. What were the amperes?"
        elif point.kind == "lock" and point.torque is None:
            yield (
                "Locked: no torque was read. Current alone cannot tell a weak field from a sound one: what "
                "did the scale on the arm show?"
            )
        elif point.kind == "no-load" and point.speed is None:
            yield "No load: no speed was read. Amperes alone tell little: what was the speed?"


def _twice(points: Sequence[Point]) -> Iterator[str]:
    """Points alike to the last digit, each kind of them once."""
    counted = Counter(figures(point) for point in usable(points))
    for point in once(usable(points)):
        many = counted[figures(point)]
        if many > 1:
            yield entered_twice(point, many)


def entered_twice(point: Point, many: int) -> str:
    """To be asked of a point whose every figure was entered so many times."""
    names = [_WORDS[name] for name in point.given]
    return (
        f"{_named(point)}: {' and '.join((', '.join(names[:-1]), names[-1]))} stand there {_times(many)} "
        "with the very same figures. Was it read again, or typed twice? They count once: alike to the last "
        "digit they tell no more than one."
    )


def _times(many: int) -> str:
    return _TIMES.get(many, f"{many} times")


def _signs(points: Sequence[Point]) -> Iterator[str]:
    for point in points:
        negative = [name for name in point.given if getattr(point, name).value < 0]
        if "current" in negative:
            yield f"{_named(point)}: the current is negative. Is the shunt, or clamp, the wrong way round?"
        elif negative:
            yield f"{_named(point)}: {' and '.join(negative)} below nought. Are the leads swapped?"


def _too_fast(sheet: Sheet, points: Sequence[Point]) -> Iterator[str]:
    """Speed against the sheet's own: no sound motor runs much faster than in proportion to its volts."""
    for point in points:
        if point.kind != "no-load" or point.speed is None or point.volts is None:
            continue
        known = [one for one in sheet.points if one.kind == "no-load" and one.speed and one.volts]
        for one in known[:1]:
            assert one.speed is not None
            assert one.volts is not None
            most = (
                (one.speed.value + 2 * one.speed.standard_uncertainty) * point.volts.value / one.volts.value
            )
            if point.speed.value > _TOO_FAST * most:
                yield (
                    f"No load: {point.speed.value / _RPM:.0f} rpm is more than {point.volts.value:.4g} V can "
                    f"give a motor of this model (about {most / _RPM:.0f} rpm at most). A digit too many, a "
                    "tachometer that counts a mark twice, or the armature read in place of the pinion?"
                )


def _at_the_battery(sheet: Sheet, points: Sequence[Point], motor: Motor, said: bool) -> Iterator[str]:
    free = [point for point in points if point.kind == "no-load" and point.volts and point.current]
    for point in _at_most_volts(points):
        if point.kind == "no-load" or point.volts is None or point.current is None:
            continue
        full = max([_volts(one) for one in free], default=sheet.volts_v)
        heavy = float(sheet.volts_v / series_ohm(motor)) * _HEAVY_SHARE if said else 200.0
        if _volts(point) > _FULL_SHARE * full and _amps(point) > heavy:
            yield (
                f"{_named(point)}: {_volts(point):.4g} V at {_amps(point):.0f} A is hardly less than without "
                "load. Were the volts read at the battery? They are needed at the starter, stud to housing."
            )
        elif said and point.kind == "lock" and _drives_little(motor, point):
            yield (
                f"Locked: {_volts(point):.4g} V drove only {_amps(point):.0f} A. Were the volts read at the "
                "starter, stud to housing? At the battery the cables count in."
            )


def _which_shaft(sheet: Sheet, points: Sequence[Point], motor: Motor, said: bool) -> Iterator[str]:
    if not said or sheet.gear_ratio < 1.5:
        return
    for point in points:
        if point.kind == "no-load" and point.speed is not None and point.volts is not None:
            expected = float(no_load(motor, point.volts.value).speed_rad_s)
            if 0.7 < point.speed.value / (expected * sheet.gear_ratio) < 1.4:
                yield "No load: that is about the armature's speed, the sheet's the pinion's: which was read?"


def _notes(sheet: Sheet, points: Sequence[Point]) -> Iterator[str]:
    if any(point.temperature is None for point in points):
        yield (
            "The temperature is missing for some readings: none is assumed, and the intervals are wider for "
            "it (anything from -10 to 90 °C)."
        )
    if not sheet.points:
        yield "The sheet has no figures of the motor: any starter of this voltage was thought possible."
    elif sheet.temperature is None:
        yield "The sheet does not say at what temperature its figures hold: it may be 5 to 45 °C."


def _drives_little(motor: Motor, point: Point) -> bool:
    """Far less than a sound motor takes, yet more than nothing: that would be an open circuit."""
    expected = float(lock(motor, _volts(point)).current_a)
    return 0.02 * expected < _amps(point) < 0.6 * expected


def _named(point: Point) -> str:
    return {"no-load": "No load", "lock": "Locked", "loaded": "Under load"}[point.kind]


def _amps(point: Point) -> float:
    return 0.0 if point.current is None else abs(point.current.value)


def _volts(point: Point) -> float:
    return 0.0 if point.volts is None else abs(point.volts.value)
