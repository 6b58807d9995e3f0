"""A first look at very many hypotheses: amplitudes by weighted least squares, nothing else fitted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import OPEN, Hypotheses, graded, nothing_wrong
from barwise.inspect.armature.likelihood import Meter
from barwise.inspect.armature.prediction import EXCITER_MEAN, Predictor

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

ROUNDS = (0.05, 0.02, 0.01, 0.007)
"""Gain uncertainty per round [1]: the last covers noise and a drift that is not fitted here."""
GRID_SLACK = 0.12
"""A severity between two of the grid is off by about this share of the fault's disturbance [1]."""

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
        return FirstLook(self.density[index], self.level[index], self.strength[index])


def first_look(
    predictor: Predictor,
    meter: Meter,
    hypotheses: Hypotheses,
    parents: Hypotheses | None = None,
    parent: Ints | None = None,
    exciter: Array | None = None,
) -> FirstLook:
    """Score every hypothesis.

    Each of H hypotheses is one of `parents` (S sets) with a fault added, `parent` (H,) says which, and
    `exciter` (S, 5) is the parent's; without them it is the healthy winding on a usual exciter.
    """
    parents = nothing_wrong() if parents is None else parents
    parent = np.zeros(len(hypotheses), dtype=np.intp) if parent is None else parent
    exciter = EXCITER_MEAN[None, :] if exciter is None else exciter
    added = GRID_SLACK * graded(hypotheses)[:, None]
    before = (GRID_SLACK * graded(parents) * ~(parents.kind == OPEN).any(axis=1))[:, None]
    healthy = predictor.direct_shapes(nothing_wrong())
    parental = predictor.direct_shapes(parents)
    direct = predictor.direct_shapes(hypotheses)
    unsure = added * np.abs(direct - parental[parent]) + (before * np.abs(parental - healthy))[parent]
    split = predictor.direct_count
    density, level = _amplitude(meter, slice(0, split), direct, unsure, _shaft(predictor))
    induced = predictor.induced_shape(hypotheses, exciter, parent)
    parental = predictor.induced_shape(parents, exciter, np.arange(len(parents)))
    unsure = added * np.abs(induced - parental[parent]) + EXCITER_SLACK * np.abs(induced - 1.0)
    more, strength = _amplitude(meter, slice(split, None), induced, unsure, [])
    return FirstLook(np.concatenate([density, more], axis=1), level, strength)


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
    weight = np.ones_like(shape)
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


def _centred(
    shape: Array, value: Array, weight: Array, centred: list[slice]
) -> tuple[Array, Array]:
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
