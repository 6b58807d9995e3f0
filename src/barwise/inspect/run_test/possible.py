"""The motors that a run test leaves possible, with their weights: for a curve, or for cranking an engine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.fit import Explained
from barwise.inspect.run_test.prediction import Problem, motors
from barwise.machine.motor import Motor, joined, picked

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
    motor, sound : Motor
        All of them, at 20 °C, as they are and without this fault; every number that differs has shape (N,).
    weights : ndarray, shape (N,)
        Of all causes together they add up to 1.
    """

    cause: str
    motor: Motor
    sound: Motor
    weights: Array

    @property
    def across(self) -> Motor:
        """The same motors standing in a column, shape (N, 1), to be worked out at many currents at once."""
        return picked(self.motor, np.s_[:, None])


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
    return tuple(_possible(asked, one, count, weight) for one, count in counted if count)


def as_one(possible: Sequence[PossibleMotors]) -> tuple[Motor, Motor]:
    """All of them as one motor of arrays of shape (N,): as they are, and without their faults."""
    return joined([one.motor for one in possible]), joined([one.sound for one in possible])


def single_motors(possible: Sequence[PossibleMotors], count: int) -> tuple[WeightedMotor, ...]:
    """At most so many single motors, taken evenly from all, each of the same weight."""
    places = [(one, place) for one in possible for place in range(len(one.weights))]
    if not places:
        return ()
    weights = np.concatenate([one.weights for one in possible])
    chosen = _evenly(weights, min(count, len(places)))
    return tuple(
        WeightedMotor(of.cause, picked(of.motor, place), 1 / len(chosen))
        for of, place in (places[one] for one in chosen)
    )


def _possible(asked: Problem, one: Explained, count: int, weight: float) -> PossibleMotors:
    draws = one.draws[_evenly(one.weights, count)]
    sound = motors(asked, replace(one.cause, change=None), draws)
    return PossibleMotors(one.cause.key, motors(asked, one.cause, draws), sound, np.full(count, weight))


def _evenly(weights: Array, count: int) -> NDArray[np.intp]:
    """Places drawn by weight at even steps: as many of each as it weighs, give or take one."""
    reached = np.cumsum(weights)
    steps = (np.arange(count) + 0.5) / count * reached[-1]
    return np.asarray(np.minimum(np.searchsorted(reached, steps), len(weights) - 1))
