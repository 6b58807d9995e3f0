"""What a further point on the run bench would read of the motors that each cause leaves possible.

A second point of a kind, at about half the volts, tells how drag goes on with speed and a drop with current.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.fit import Explained
from barwise.inspect.run_test.next_test import BenchTest, as_logs
from barwise.inspect.run_test.points import Kind, Point
from barwise.inspect.run_test.prediction import Problem, motors
from barwise.machine.motor import Floats, Motor, State, lock, no_load

Array = NDArray[np.float64]
Run = Callable[[Motor, Floats], State]

_APART = 0.75
"""A point with less than this share of another's volts is a second one, not the same again (assumed)."""


@dataclass(frozen=True)
class _Again:
    """A kind of point that is worth reading at other volts, and what that parts."""

    key: str
    kind: Kind
    run: Run
    words: str


_AGAIN = (
    _Again(
        "no-load-low",
        "no-load",
        no_load,
        "Run it without load once more, at about {} V: that tells friction, shorted coils and poor contact "
        "apart.",
    ),
    _Again(
        "lock-low",
        "lock",
        lock,
        "Lock it once more, at about {} V, and read volts, amperes and torque: that tells a bad joint from "
        "poor brush contact.",
    ),
)


def further_points(
    asked: Problem, explained: Sequence[Explained], points: Sequence[Point]
) -> list[BenchTest]:
    """Points that were not read yet, and what each cause's motors would read there."""
    turning = [one for one in explained if one.cause.behaviour == "turns" and len(one.draws) > 1]
    possible = {one.cause.key: (motors(asked, one.cause, one.draws), one.weights) for one in turning}
    wanted = [*_first(asked, points), *_again(points)]
    tests = []
    for key, do, run, volts in wanted:
        predicted = {cause: (_read(run, one, volts), weights) for cause, (one, weights) in possible.items()}
        tests.append(BenchTest(key, do, predicted, 5))
    return tests


def _read(run: Run, motor: Motor, volts: float) -> Array:
    """Amperes, and torque where it is held or else speed, as logarithms."""
    state = run(motor, volts)
    return as_logs(state.current_a, state.torque_nm if run is lock else state.speed_rad_s)


def _first(asked: Problem, points: Sequence[Point]) -> Iterator[tuple[str, str, Run, float]]:
    """The kinds of points that are missing: key, what to do, how it runs, volts."""
    sheet, kinds = asked.sheet, {point.kind for point in points}
    at_lock = sheet.volts_of("lock")
    if "lock" not in kinds and at_lock:
        yield "lock", "Lock it and read volts, amperes and torque.", lock, at_lock
    if "no-load" not in kinds:
        at_free = sheet.volts_of("no-load") or 0.95 * sheet.volts_v
        yield "no-load", "Run it without load: volts, amperes, speed.", no_load, at_free


def _again(points: Sequence[Point]) -> Iterator[tuple[str, str, Run, float]]:
    """Kinds of points that were read at one voltage only."""
    for one in _AGAIN:
        read = [point.volts.value for point in points if point.kind == one.kind and point.volts is not None]
        if read and min(read) > _APART * max(read):
            volts = 0.5 * max(read)
            yield one.key, one.words.format(f"{volts:.2g}"), one.run, volts
