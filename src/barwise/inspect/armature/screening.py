"""A first look at very many hypotheses: amplitudes by weighted least squares, nothing else fitted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.blade import blade_log_likelihood
from barwise.inspect.armature.hypotheses import JOINT, OPEN, Hypotheses, graded, nothing_wrong
from barwise.inspect.armature.likelihood import OF_THE_SOURCE, Meter
from barwise.inspect.armature.prediction import EXCITER_MEAN, Predictor

Array = NDArray[np.float64]
Floats = NDArray[np.floating[Any]]
Ints = NDArray[np.intp]

ROUNDS = (0.05, 0.02, 0.01, 0.007)
"""Gain uncertainty per round [1]: the last covers noise and a drift that is not fitted here."""
GRID_SLACK = 0.12
"""A severity between two of the grid is off by about this share of the fault's disturbance [1]."""

ROUGH_GAIN = 0.012
"""Gain uncertainty of the roughest look [1]."""
BAD_COST = 7.0
"""Log odds that a bad touch costs."""
EXCITER_SLACK = 0.06
"""The exciter's shape is not fitted in a first look; share of a fault's disturbance it leaves open [1]."""


@dataclass(frozen=True)
class FirstLook:
    """Rough log density of every reading (H, K) and log amplitudes (H,) of H hypotheses."""

    density: Array
    level: Array
    strength: Array

    @property
    def score(self) -> Array:
        """Log likelihood, rough, shape (H,)."""
        return np.asarray(self.density.sum(axis=1))

    def promise(self) -> Array:
        """What each hypothesis explains better than the first one does, whatever it spoils, shape (H,).

        Two faults may hide each other: each alone explains some readings and contradicts others.
        """
        return np.asarray(np.maximum(self.density - self.density[:1], 0.0).sum(axis=1))

    def take(self, index: Ints) -> FirstLook:
        """Only these."""
        return FirstLook(self.density[index], self.level[index], self.strength[index])


@dataclass(frozen=True)
class Pool:
    """H hypotheses, each one of S `parents` with a fault added.

    Attributes
    ----------
    hypotheses : Hypotheses
    parents : Hypotheses
    parent : ndarray of int, shape (H,)
        Which parent each has.
    exciter : ndarray, shape (S, 5)
        Exciter parameters of each parent.
    """

    hypotheses: Hypotheses
    parents: Hypotheses
    parent: Ints
    exciter: Array

    @classmethod
    def of_singles(cls, hypotheses: Hypotheses) -> Pool:
        """Children of the healthy winding on a usual exciter."""
        parent = np.zeros(len(hypotheses), dtype=np.intp)
        return cls(hypotheses, nothing_wrong(), parent, EXCITER_MEAN[None, :])

    def take(self, index: Ints) -> Pool:
        """Only these children, with all parents."""
        return replace(self, hypotheses=self.hypotheses.take(index), parent=self.parent[index])


@dataclass(frozen=True)
class Shapes:
    """What a pool predicts before gain, and how far a rough severity leaves it open; (H, K) each."""

    direct: Array
    direct_unsure: Array
    induced: Array
    induced_unsure: Array

    def take(self, index: Ints) -> Shapes:
        """Only these."""
        parts = (self.direct, self.direct_unsure, self.induced, self.induced_unsure)
        return Shapes(*(part[index] for part in parts))


def shapes_of(predictor: Predictor, pool: Pool) -> Shapes:
    """Predict every reading for every member of the pool."""
    hypotheses, parents, parent = pool.hypotheses, pool.parents, pool.parent
    added = GRID_SLACK * graded(hypotheses)[:, None]
    before = (GRID_SLACK * graded(parents) * ~(parents.kind == OPEN).any(axis=1))[:, None]
    parental = predictor.direct_shapes(parents)
    off = before * np.abs(parental - predictor.healthy_direct)
    direct = predictor.direct_shapes(hypotheses)
    direct_unsure = added * np.abs(direct - parental[parent]) + off[parent]
    parental = predictor.induced_shape(parents, pool.exciter, np.arange(len(parents)))
    induced = parental[parent]
    # a joint hardly changes the currents the exciter drives: its parent's shape will do
    moved = np.flatnonzero((hypotheses.kind[:, -1] != JOINT) | (predictor.meter_ratio is not None))
    induced[moved] = predictor.induced_shape(hypotheses.take(moved), pool.exciter, parent[moved])
    open_still = EXCITER_SLACK * np.abs(induced - 1.0)
    induced_unsure = added * np.abs(induced - parental[parent]) + open_still
    return Shapes(direct, direct_unsure, induced, induced_unsure)


def most_likely(
    predictor: Predictor, meter: Meter, pool: Pool, log_prior: Array, kept: int
) -> tuple[Ints, FirstLook]:
    """The members worth a closer look, as indices, and that look."""
    shapes = shapes_of(predictor, pool)
    index = np.arange(len(pool.hypotheses))
    if len(index) > kept:
        likely = log_prior - _rough_cost(predictor, meter, shapes)
        likely += blade_log_likelihood(predictor, pool.hypotheses)
        index = np.sort(np.argpartition(-likely, kept)[:kept])
    return index, _look(predictor, meter, shapes.take(index))


def first_look(predictor: Predictor, meter: Meter, pool: Pool) -> FirstLook:
    """Density and amplitudes of every member."""
    return _look(predictor, meter, shapes_of(predictor, pool))


def _look(predictor: Predictor, meter: Meter, shapes: Shapes) -> FirstLook:
    split = predictor.direct_count
    density, level = _amplitude(
        meter, slice(0, split), shapes.direct, shapes.direct_unsure, _shaft(predictor)
    )
    more, strength = _amplitude(meter, slice(split, None), shapes.induced, shapes.induced_unsure, [])
    return FirstLook(np.concatenate([density, more], axis=1), level, strength)


def _rough_cost(predictor: Predictor, meter: Meter, shapes: Shapes) -> Array:
    """Half the squared misfit, no reading counting for more than a bad touch would cost, shape (H,)."""
    split = predictor.direct_count
    parts: tuple[tuple[slice, Array, Array, list[slice]], ...] = (
        (slice(0, split), shapes.direct, shapes.direct_unsure, _shaft(predictor)),
        (slice(split, None), shapes.induced, shapes.induced_unsure, []),
    )
    cost = np.zeros(len(shapes.direct))
    for columns, shape, unsure, centred in parts:
        if shape.shape[1]:
            # single precision: this look is rough, and runs over thousands of rows
            cost += _capped(meter, columns, shape.astype(np.float32), unsure.astype(np.float32), centred)
    return cost


def _capped(meter: Meter, columns: slice, shape: Floats, unsure: Floats, centred: list[slice]) -> Floats:
    size = float(np.abs(meter.value[columns]).max()) or 1.0
    of_coils = meter.gain[columns] < OF_THE_SOURCE
    value, floor, gain = (
        part.astype(shape.dtype)
        for part in (
            meter.value[columns] / size,
            meter.floor[columns] / size,
            np.where(of_coils, ROUGH_GAIN, OF_THE_SOURCE),
        )
    )
    weight: Floats = _even_weight(shape) * of_coils
    moved, target = _centred(shape, value, weight, centred)
    for _ in range(2):
        amplitude = (weight * target * moved).sum(axis=1) / np.maximum(
            (weight * moved * moved).sum(axis=1), 1e-30
        )
        amplitude = np.maximum(amplitude, 1e-12)[:, None]
        off = (target - amplitude * moved) ** 2
        spread = (gain * amplitude * shape) ** 2 + floor**2 + (amplitude * unsure) ** 2
        misfit = off / spread
        weight = 1 / (spread * (1 + misfit / 9))
    own = 0.5 * np.log(spread / ((gain * value) ** 2 + floor**2))
    return np.asarray((np.minimum(0.5 * misfit, BAD_COST) + np.maximum(own, -1.0)).sum(axis=1))


def _shaft(predictor: Predictor) -> list[slice]:
    pairs = zip(predictor.direct_parts, predictor.layout.shaft, strict=True)
    return [part for part, shaft in pairs if shaft is not None]


def _amplitude(
    meter: Meter, columns: slice, shape: Array, unsure: Array, centred: list[slice]
) -> tuple[Array, Array]:
    """Robust least-squares amplitude of each row of `shape`; log densities (H, K) and log amplitudes (H,).

    `unsure` is the part of each shape that the grid of severities leaves open.
    """
    if shape.shape[1] == 0:
        return np.zeros((len(shape), 0)), np.zeros(len(shape))
    value = meter.value[columns]
    weight = _even_weight(shape) * (meter.gain[columns] < OF_THE_SOURCE)
    for gain in ROUNDS:
        look = Meter(
            value,
            meter.floor[columns],
            np.maximum(meter.gain[columns], gain),
            meter.model[columns],
            meter.scale[columns],
        )
        moved, target = _centred(shape, value, weight, centred)
        amplitude = (weight * target * moved).sum(axis=1) / np.maximum(
            (weight * moved * moved).sum(axis=1), 1e-300
        )
        amplitude = np.maximum(amplitude, 1e-12)[:, None]
        mean = amplitude * moved + (value - target)
        sigma = np.hypot(look.sigma(mean, np.zeros(1)), amplitude * unsure)
        density, good = look.log_density(mean, sigma)
        weight = good / sigma**2
    return density, np.log(amplitude[:, 0])


def _even_weight(shape: Floats) -> Floats:
    """Weights by which every reading has the same say in an amplitude, however large it is.

    One bad touch across an open coil, where nearly all the voltage is, must not set the level.
    """
    reach = 0.05 * np.abs(shape).max(axis=1, keepdims=True) + 1e-15
    return np.asarray(1 / (shape**2 + reach**2))


def _centred(shape: Floats, value: Floats, weight: Floats, centred: list[slice]) -> tuple[Floats, Floats]:
    """Shape and value with their weighted means taken out of the groups measured from the shaft."""
    target = np.broadcast_to(value, shape.shape)
    if not centred:
        return shape, target
    moved, target = shape.copy(), target.copy()
    for part in centred:
        share = weight[:, part] / np.maximum(weight[:, part].sum(axis=1, keepdims=True), 1e-300)
        moved[:, part] -= (share * shape[:, part]).sum(axis=1, keepdims=True)
        target[:, part] -= (share * target[:, part]).sum(axis=1, keepdims=True)
    return moved, target
