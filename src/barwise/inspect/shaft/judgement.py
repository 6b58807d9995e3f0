"""A shaft judged from all its readings: run-out at each place, the bend behind it, journals out of round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from barwise.errors import MeasurementError
from barwise.inspect.finding import Bound, Finding, Verdict, hold_against, worst_of
from barwise.inspect.shaft.bow import Bow, Held, Station, against_journals, find_bow
from barwise.inspect.shaft.lobes import Lobed, explain_lobes, unseen_lobes
from barwise.inspect.shaft.turn import Turn, from_swing, reduce_turn
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate, last_digit
from barwise.measure.units import Unit

SAME_PLACE_M = 2e-3
"""A station nearer to a journal's place than this is that journal."""

ONE_SHAPE = 0.8
"""Probability from which a shape is named as the one."""

_COMES_BACK = 6.0
"""Standard uncertainties within which readings of one angle must agree, or the dial slipped."""


@dataclass(frozen=True)
class Reading:
    """One place as read: angles [deg] with readings [m], or only a whole swing.

    `random_m` is the standard uncertainty of one reading [m].
    """

    name: str
    at_m: float
    angles_deg: tuple[float, ...]
    readings_m: tuple[float, ...]
    random_m: float
    swing: Estimate | None = None
    limit: Bound | None = None


@dataclass(frozen=True)
class Roundness:
    """Swings at one place on different V-blocks [m by deg], and its largest less smallest diameter [m]."""

    name: str
    swings: tuple[tuple[float, Estimate], ...]
    two_point: Estimate | None


@dataclass(frozen=True)
class ShaftWork:
    """All that was read of one shaft; places [m] from one end."""

    readings: tuple[Reading, ...]
    journals_m: tuple[float, float]
    held: Held
    unit: Unit
    v_angle_deg: float | None = None
    limit: Bound | None = None
    roundness: tuple[Roundness, ...] = ()
    level: float = decision.USUAL_LEVEL


@dataclass(frozen=True)
class Place:
    """One place reduced; `offset` as V-blocks under the journals would show it, where it is known."""

    reading: Reading
    turn: Turn | None
    offset: Station | None
    runout: Estimate


@dataclass(frozen=True)
class ShaftAnswer:
    """What the shaft comes to.

    `bow` is None where no place was read at several angles; `centres_m` says how far the centre holes put
    each journal off [m].
    """

    verdict: Verdict
    findings: tuple[Finding, ...]
    work: ShaftWork
    places: tuple[Place, ...]
    bow: Bow | None
    lobes: tuple[tuple[str, tuple[Lobed, ...]], ...]
    centres_m: tuple[float, float] | None
    notes: tuple[str, ...]


def judge_shaft(work: ShaftWork) -> ShaftAnswer:
    """Judge a shaft.

    Raises
    ------
    MeasurementError
        If nothing was read, or readings cannot be as given, such as a dial that does not come back.
    """
    if not work.readings:
        raise MeasurementError("shaft: found no place that was read, expected one or more")
    turns = [_turn(one) for one in work.readings]
    stations = [
        Station(one.at_m, turn.offset_m, turn.covariance_m2, one.name)
        for one, turn in zip(work.readings, turns, strict=True)
        if turn is not None
    ]
    journals = _journals(stations, work)
    seen = _as_on_journals(stations, journals, work)
    places = tuple(
        _place(one, turn, seen.get(one.name)) for one, turn in zip(work.readings, turns, strict=True)
    )
    bow = find_bow(stations, work.journals_m, work.held) if stations else None
    findings = [_finding(one, work) for one in places]
    return ShaftAnswer(
        verdict=worst_of(findings),
        findings=tuple(findings),
        work=work,
        places=places,
        bow=bow,
        lobes=tuple((one.name, explain_lobes(dict(one.swings), one.two_point)) for one in work.roundness),
        centres_m=None if journals is None else tuple(float(np.hypot(*one.offset_m)) for one in journals),  # type: ignore[arg-type]
        notes=tuple(_notes(work, places, bow, journals)),
    )


def shape_in_words(bow: Bow) -> str:
    """``bent in one place``; both of the likeliest where neither is likely enough."""
    said = {
        "straight": "straight",
        "kinked": "bent in one place",
        "bowed": "bowed evenly from journal to journal",
    }
    (first, chance), (second, _) = bow.shapes[:2]
    return said[first] if chance >= ONE_SHAPE else f"{said[first]}, or {said[second]}"


def _turn(one: Reading) -> Turn | None:
    if not one.angles_deg:
        return None
    try:
        turn = reduce_turn(one.angles_deg, one.readings_m, one.random_m)
    except MeasurementError as error:
        raise MeasurementError(f"{one.name}: {error}") from None
    if turn.closes_m is not None and turn.closes_m > _COMES_BACK * one.random_m + 2 * one.random_m:
        raise MeasurementError(
            f"{one.name}: found readings of one angle that differ by {turn.closes_m * 1e3:.4g} mm, expected "
            "the dial to come back: it slipped, or the angle is wrong; read this turn again"
        )
    return turn


def _journals(stations: Sequence[Station], work: ShaftWork) -> tuple[Station, Station] | None:
    """The two journals as read between centres; None on V-blocks, or where they were not both read."""
    if work.held == "v-blocks":
        return None
    found = [
        next((one for one in stations if abs(one.at_m - place) <= SAME_PLACE_M), None)
        for place in work.journals_m
    ]
    first, second = found
    return None if first is None or second is None else (first, second)


def _as_on_journals(
    stations: Sequence[Station], journals: tuple[Station, Station] | None, work: ShaftWork
) -> dict[str, Station]:
    if work.held == "v-blocks":
        return {one.name: one for one in stations}
    if journals is None:
        return {}
    return {one.name: one for one in against_journals(stations, *journals)}


def _place(reading: Reading, turn: Turn | None, offset: Station | None) -> Place:
    """Whole swing on the journals: off centre as a vector, and what is out of round besides."""
    if turn is None:
        swing = reading.swing or Estimate(0.0, 0.0)
        return Place(reading, None, None, swing)
    if offset is None:
        return Place(reading, turn, None, turn.whole_swing)
    if np.array_equal(offset.offset_m, turn.offset_m):
        return Place(reading, turn, offset, turn.whole_swing)
    moved = replace(turn, offset_m=offset.offset_m, covariance_m2=offset.covariance_m2)
    return Place(reading, turn, offset, moved.runout)


def _finding(place: Place, work: ShaftWork) -> Finding:
    bound = place.reading.limit or work.limit
    then = "Another armature, or straighten it where that is allowed, and read again."
    is_journal = min(abs(place.reading.at_m - end) for end in work.journals_m) <= SAME_PLACE_M
    if is_journal and place.reading.limit is None:
        bound = None
    said = "" if place.turn is None else f"high side at {place.turn.high_deg:.0f} deg"
    return hold_against(
        f"{place.reading.name}, run-out", place.runout, work.unit, bound,
        level=work.level, then=then, said=said,
    )  # fmt: skip


def _notes(
    work: ShaftWork, places: Sequence[Place], bow: Bow | None, journals: tuple[Station, Station] | None
) -> list[str]:
    said = list(bow.notes) if bow is not None else []
    for one in places:
        if one.turn is not None and one.turn.mostly_out_of_round:
            said.append(f"{one.reading.name}: more out of round than off centre; a bend does not do that.")
        if one.turn is None and one.reading.swing is not None:
            off = from_swing(one.reading.swing).value / work.unit.factor
            said.append(
                f"{one.reading.name}: only its swing was read: off centre by {off:.4g} {work.unit.name} at "
                "most, which way nobody knows; read it at four angles or more."
            )
    if work.held == "centres" and journals is None:
        said.append(
            "Between centres, and the journals were not both read: the run-out holds that of the centres too."
        )
    if work.held == "v-blocks" and work.v_angle_deg is not None:
        hidden = ", ".join(str(count) for count in unseen_lobes(work.v_angle_deg))
        if hidden:
            said.append(
                f"A journal with {hidden} lobes would not show on a V-block of {work.v_angle_deg:g} degrees."
            )
    return said


def random_of(step_m: float, repeatability_m: float = 0.0) -> float:
    """Standard uncertainty of one reading of a dial: its step, and how it repeats [m]."""
    return float(np.hypot(last_digit(step_m), repeatability_m))
