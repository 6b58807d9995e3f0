"""Hypotheses fitted and weighed: Gauss-Newton on all parameters, then Laplace's approximation.

log evidence = log likelihood + log prior at the best parameters + N/2 log 2 pi - 1/2 log det(information);
D. J. C. MacKay, Information Theory, Inference and Learning Algorithms, 2003, chapter 27 (from memory).
A whole batch of hypotheses is fitted at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import (
    BAR_BRIDGE,
    BRIDGE,
    GROUND,
    JOINT,
    JOINT_FLOOR,
    WEAKEST_BRIDGE,
    Hypotheses,
    exciter_visible,
)
from barwise.inspect.armature.likelihood import Meter
from barwise.inspect.armature.prediction import STATE, Predictor

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

SLACK = (0.5, 0.3, 0.15, 0.05, 0.0, 0.0)
"""Model slack per round: wide at first, so that a rough severity is not taken for bad touches."""
EXCITER_TURNS = (0, 1, 3)
"""Rounds in which the slopes by the exciter's parameters are taken anew; they change little."""
STEP = 1e-4
HIGHEST = 12.0
"""Severities stay within exp(-12) .. exp(12)."""


@dataclass(frozen=True)
class Fit:
    """H hypotheses fitted to the readings.

    Attributes
    ----------
    hypotheses : Hypotheses
        With their fitted severities.
    theta : ndarray, shape (H, N)
    covariance : ndarray, shape (H, N, N)
    evidence : ndarray, shape (H,)
        Log marginal likelihood of the readings.
    mean, sigma, good : ndarray, shape (H, K)
        Prediction, its uncertainty, and the probability that the reading was a good touch.
    """

    hypotheses: Hypotheses
    theta: Array
    covariance: Array
    evidence: Array
    mean: Array
    sigma: Array
    good: Array


def refine(
    predictor: Predictor,
    meter: Meter,
    hypotheses: Hypotheses,
    start: Array,
    slack: tuple[float, ...] = SLACK,
) -> Fit:
    """Fit every hypothesis from `start`, shape (H, N)."""
    prior_mean, prior_sd = predictor.prior(hypotheses)
    precision = prior_sd**-2.0
    theta = start.copy()
    slopes: dict[int, Array] = {}
    across = predictor.across_open(hypotheses)
    for turn, width in enumerate(slack):
        shapes, fresh = _shapes_and_slopes(predictor, hypotheses, theta, turn in EXCITER_TURNS)
        slopes.update(fresh)
        mean, jacobian, disturbance = _linearized(predictor, theta, shapes, slopes)
        sigma = np.hypot(meter.sigma(mean, disturbance, width), across * mean)
        _, good = meter.log_density(mean, sigma)
        information, slope = _normal_equations(jacobian, (meter.value - mean), good / sigma**2)
        information += precision[:, :, None] * np.eye(theta.shape[1])
        slope += precision * (prior_mean - theta)
        step = np.asarray(np.linalg.solve(information, slope[:, :, None])[:, :, 0], dtype=float)
        theta = _bounded(predictor, hypotheses, theta, step, prior_sd)
    return _weighed(predictor, meter, hypotheses, theta, information, prior_mean, precision)


def predict(predictor: Predictor, hypotheses: Hypotheses, theta: Array) -> tuple[Array, Array]:
    """Mean of every reading and the part of it that the faults make, shape (H, K) each."""
    shapes = _shapes(predictor, hypotheses, theta)
    gains = predictor.gains(theta)
    return gains * shapes, np.abs(gains * (shapes - _healthy_shapes(predictor, theta)))


def _weighed(
    predictor: Predictor,
    meter: Meter,
    hypotheses: Hypotheses,
    theta: Array,
    information: Array,
    prior_mean: Array,
    precision: Array,
) -> Fit:
    fitted = hypotheses.with_severity(theta[:, predictor.layout.severity :])
    mean, disturbance = predict(predictor, fitted, theta)
    sigma = np.hypot(meter.sigma(mean, disturbance), predictor.across_open(hypotheses) * mean)
    density, good = meter.log_density(mean, sigma)
    off = (theta - prior_mean) ** 2 * precision
    prior = 0.5 * (np.log(precision) - off).sum(axis=1)
    evidence = density.sum(axis=1) + prior - 0.5 * np.linalg.slogdet(information)[1]
    covariance = np.asarray(np.linalg.inv(information), dtype=float)
    return Fit(fitted, theta, covariance, evidence, mean, sigma, good)


def _normal_equations(jacobian: Array, residual: Array, weight: Array) -> tuple[Array, Array]:
    """J^T W J and J^T W r for each hypothesis; `jacobian` is (H, N, K)."""
    weighted = jacobian * weight[:, None, :]
    return weighted @ np.swapaxes(jacobian, 1, 2), np.einsum("hnk,hk->hn", weighted, residual)


def _bounded(
    predictor: Predictor, hypotheses: Hypotheses, theta: Array, step: Array, prior_sd: Array
) -> Array:
    """One step, no parameter further than its prior's spread at once, severities within sense."""
    new = theta + np.clip(step, -1.5 * prior_sd, 1.5 * prior_sd)
    at = predictor.layout.severity
    ground = hypotheses.kind == GROUND
    lowest = np.select([hypotheses.kind == JOINT, ground], [JOINT_FLOOR, 0.0], -HIGHEST)
    bridged = (hypotheses.kind == BRIDGE) | (hypotheses.kind == BAR_BRIDGE)
    highest = np.select([bridged, ground], [WEAKEST_BRIDGE, 1.0], HIGHEST)
    new[:, at:] = np.clip(new[:, at:], lowest, highest)
    return new


def _shapes(
    predictor: Predictor, hypotheses: Hypotheses, theta: Array, same_exciter: Ints | None = None
) -> Array:
    """Readings before gain, shape (H, K); `same_exciter` (H,) names a row with the exciter of each row."""
    lay = predictor.layout
    direct = predictor.direct_shapes(hypotheses) - predictor.offsets(theta)
    exciter = theta[:, lay.exciter : lay.exciter + STATE]
    own = np.arange(len(theta)) if same_exciter is None else same_exciter
    rows, state = np.unique(own, return_inverse=True)
    induced = predictor.induced_shape(hypotheses, exciter[rows], state)
    return np.concatenate([direct, induced], axis=1)


def _healthy_shapes(predictor: Predictor, theta: Array) -> Array:
    direct = predictor.healthy_direct - predictor.offsets(theta)
    induced = 0 if predictor.seen.induced is None else len(predictor.seen.induced.row)
    return np.concatenate([direct, np.ones((len(theta), induced))], axis=1)


def _linearized(
    predictor: Predictor, theta: Array, shapes: Array, slopes: Mapping[int, Array]
) -> tuple[Array, Array, Array]:
    """Mean (H, K), its derivatives (H, N, K) and the faults' disturbance (H, K)."""
    gains = predictor.gains(theta)
    mean = gains * shapes
    jacobian = np.zeros((*theta.shape, mean.shape[1]))
    _fill_gain_derivatives(predictor, jacobian, mean, gains)
    for at, slope in slopes.items():
        jacobian[:, at] = gains * slope
    return mean, jacobian, np.abs(gains * (shapes - _healthy_shapes(predictor, theta)))


def _shapes_and_slopes(
    predictor: Predictor, hypotheses: Hypotheses, theta: Array, with_exciter: bool
) -> tuple[Array, dict[int, Array]]:
    """Shapes (H, K) and their derivatives by severities and exciter parameters, in one batch."""
    lay = predictor.layout
    columns = list(range(lay.severity, lay.size))
    if with_exciter and exciter_visible(hypotheses, predictor.meter_ratio is not None).any():
        columns += range(lay.exciter, lay.exciter + STATE)
    copies = np.repeat(theta[None], len(columns) + 1, axis=0)
    for copy, at in enumerate(columns, start=1):
        copies[copy, :, at] += STEP
    stacked = copies.reshape(-1, lay.size)
    every = Hypotheses(
        np.tile(hypotheses.kind, (len(copies), 1)),
        np.tile(hypotheses.place, (len(copies), 1)),
        stacked[:, lay.severity :],
    )
    row = np.arange(len(stacked)).reshape(len(copies), len(theta))
    row[1 : 1 + lay.size - lay.severity] = row[0]  # another severity, the same exciter
    shapes = _shapes(predictor, every, stacked, row.reshape(-1)).reshape(len(copies), len(theta), -1)
    return shapes[0], {at: (shapes[i] - shapes[0]) / STEP for i, at in enumerate(columns, start=1)}


def _fill_gain_derivatives(predictor: Predictor, jacobian: Array, mean: Array, gains: Array) -> None:
    """Derivatives by level, strength, drifts and shaft voltages, which are analytic."""
    lay, split = predictor.layout, predictor.direct_count
    jacobian[:, lay.level, :split] = mean[:, :split]
    columns = [*predictor.direct_parts]
    drifts = [*lay.drift]
    if predictor.seen.induced is not None:
        jacobian[:, lay.strength, split:] = mean[:, split:]
        columns.append(slice(split, None))
        drifts.append(lay.induced_drift)
    for group, part, at in zip(predictor.seen.groups, columns, drifts, strict=True):
        jacobian[:, at, part] = mean[:, part] * group.time
        jacobian[:, at + 1, part] = mean[:, part] * (group.time**2 - 1 / 12)
    for part, shaft in zip(predictor.direct_parts, lay.shaft, strict=True):
        if shaft is not None:
            jacobian[:, shaft, part] = -gains[:, part]
