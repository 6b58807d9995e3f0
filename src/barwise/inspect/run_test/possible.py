"""The motors that a run test leaves possible, with their weights: for a curve, or for cranking an engine."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.fit import Explained
from barwise.inspect.run_test.prediction import Problem, motors
from barwise.machine.motor import Motor

Array = NDArray[np.float64]

KEPT = 600
"""Motors that are kept of all causes together."""


@dataclass(frozen=True)
class PossibleMotors:
    """Motors of one cause.

    Attributes
    ----------
    cause : str
        Its key.
    motor : Motor
        All of them, at 20 °C; every number that differs has shape (N,).
    weights : ndarray, shape (N,)
        Of all causes together they add up to 1.
    """

    cause: str
    motor: Motor
    weights: Array

    @property
    def across(self) -> Motor:
        """The same motors standing in a column, shape (N, 1), to be worked out at many currents at once."""
        return _each(self.motor, lambda values: values[:, None])


@dataclass(frozen=True)
class WeightedMotor:
    """One motor of plain numbers, at 20 °C, of the cause with this key."""

    cause: str
    motor: Motor
    weight: float


def possible_motors(
    asked: Problem, explained: Sequence[Explained], chances: Sequence[float], kept: int = KEPT
) -> tuple[PossibleMotors, ...]:
    """Motors drawn from all causes that let it turn; none where most of the probability does not.

    The same readings give the same motors.
    """
    turning = [
        (one, chance)
        for one, chance in zip(explained, chances, strict=True)
        if one.cause.behaviour == "turns"
    ]
    total = sum(chance for _, chance in turning)
    if total < 0.5:
        return ()
    counted = [(one, round(kept * chance / total)) for one, chance in turning]
    weight = 1 / sum(count for _, count in counted)
    return tuple(
        PossibleMotors(
            one.cause.key,
            motors(asked, one.cause, one.draws[_evenly(one.weights, count)]),
            np.full(count, weight),
        )
        for one, count in counted
        if count
    )


def single_motors(possible: Sequence[PossibleMotors], count: int) -> tuple[WeightedMotor, ...]:
    """At most so many single motors, taken evenly from all, each of the same weight."""
    places = [(one, place) for one in possible for place in range(len(one.weights))]
    if not places:
        return ()
    weights = np.concatenate([one.weights for one in possible])
    chosen = _evenly(weights, min(count, len(places)))
    return tuple(
        WeightedMotor(places[one][0].cause, _single(*places[one]), 1 / len(chosen)) for one in chosen
    )


def _single(possible: PossibleMotors, place: int) -> Motor:
    return _each(possible.motor, lambda values: float(values[place]))


def _each(motor: Motor, change: Callable[[Array], Array | float]) -> Motor:
    changed: dict[str, Any] = {
        name: change(value) for name, value in vars(motor).items() if isinstance(value, np.ndarray)
    }
    return replace(motor, **changed)


def _evenly(weights: Array, count: int) -> NDArray[np.intp]:
    """Places drawn by weight at even steps: as many of each as it weighs, give or take one."""
    reached = np.cumsum(weights)
    steps = (np.arange(count) + 0.5) / count * reached[-1]
    return np.asarray(np.minimum(np.searchsorted(reached, steps), len(weights) - 1))
