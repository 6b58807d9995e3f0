"""Whether the winding touches the shaft, and where: lamp, ohms, and drops to the shaft.

One ground carries no current, so it changes nothing between bars; the shaft merely takes the voltage of the
place it touches. Every bar of that ring of coils lights the lamp: a lamp says that, never where.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import PRIOR_GROUND, direct_ports
from barwise.inspect.armature.observations import Observations
from barwise.inspect.armature.search import Explanations
from barwise.machine.network import direct_voltages

Array = NDArray[np.float64]

LIT_IF_GROUNDED, LIT_IF_SOUND = 0.99, 0.003
"""A lamp touched badly stays dark; a lamp rarely lights on a sound winding. Common practice, no source."""
GROUND_OHM = 3e5
"""Between a leak and an insulated winding for a low-voltage armature [ohm]: common practice, no source."""
MOST = 14.0
"""No number of lamps says more than this [log odds]: they share one cause of error."""
SITES = np.linspace(0.0, 1.0, 81)
SITE_PRIOR = np.select([np.abs(SITES - 0.5) == 0.5, SITES == 0.5], [0.075, 0.1], 0.75 / 78)
"""Grounds sit at a bar, at the bend at the back end, or anywhere: common practice, no source. One at a bar
belongs as much to the coil that ends there as to the one that starts."""
LEAST_DROPS = 3
LEVEL_FLOOR = 0.0015
"""Model error of a tap's voltage over the span of bar voltages [1]."""


@dataclass(frozen=True)
class Tap:
    """A coil that may be the grounded one."""

    coil: int
    probability: float
    fraction: float
    low: float
    high: float


def ground_probability(seen: Observations, fitted: Explanations) -> float | None:
    """Probability that the winding is grounded, or None where nothing was taken that could tell."""
    if not (seen.lamp or seen.ground_ohm or _shaft_groups(seen)):
        return None
    odds = float(np.log(PRIOR_GROUND / (1 - PRIOR_GROUND)))
    by_ring = [_lamp_odds(seen, ring) for ring in range(seen.winding.closures)]
    odds += max(by_ring)
    if _shaft_groups(seen):
        odds += _shaft_odds(seen, fitted)
    return float(1 / (1 + np.exp(-np.clip(odds, -30, 30))))


def tap_posterior(seen: Observations, fitted: Explanations, row: int) -> tuple[list[Tap], float]:
    """Likely grounded coils under one explanation, best first, and the log evidence they add."""
    groups = _shaft_groups(seen)
    if not groups:
        bars = seen.winding.bars
        return [Tap(coil, 1 / bars, 0.5, 0.0, 1.0) for coil in range(1, bars + 1)], 0.0
    log_weight = np.log(SITE_PRIOR)[None, :] - np.log(seen.winding.bars)
    log_weight = log_weight + sum(_level_odds(seen, fitted, row, g) for g in groups)
    top = float(log_weight.max())
    weight = np.exp(log_weight - top)
    total = weight.sum()
    order = np.argsort(-weight.sum(axis=1))[:6]
    taps = [_tap(int(c), weight[c], float(total)) for c in order]
    return [t for t in taps if t.probability > 1e-3], top + float(np.log(total))


def _tap(coil: int, weight: Array, total: float) -> Tap:
    cumulative = np.cumsum(weight) / max(weight.sum(), 1e-300)
    low, middle, high = (SITES[int(np.searchsorted(cumulative, q).clip(0, 80))] for q in (0.025, 0.5, 0.975))
    return Tap(coil + 1, float(weight.sum() / total), float(middle), float(low), float(high))


def _shaft_groups(seen: Observations) -> list[int]:
    """Drops to the shaft with one feed, enough of them to tell a level from a voltage."""
    return [i for i, g in enumerate(seen.direct) if g.test == "shaft-drop" and len(g.row) >= LEAST_DROPS]


def _level_odds(seen: Observations, fitted: Explanations, row: int, group: int) -> Array:
    """Log likelihood of each tap, (C, sites), from the shaft's fitted voltage with one feed."""
    predictor, fit = fitted.predictor, fitted.fit
    at = predictor.layout.shaft[group]
    feed = seen.direct[group].feed
    assert at is not None
    assert feed is not None
    pair = np.array([[feed.into - 1, feed.out - 1]], dtype=np.intp)
    ports = direct_ports(fit.hypotheses.take([row]))
    volts = feed.amps * direct_voltages(predictor.direct, ports, pair)[0, 0]
    end = np.roll(volts, -seen.winding.step)
    level = volts[:, None] + SITES[None, :] * (end - volts)[:, None]
    prior_mean, prior_sd = predictor.prior(fit.hypotheses.take([row]))
    variance = fit.covariance[row, at, at] + (LEVEL_FLOOR * np.ptp(volts)) ** 2
    off = (level - fit.theta[row, at]) ** 2 / variance
    broad = (fit.theta[row, at] - prior_mean[0, at]) ** 2 / prior_sd[0, at] ** 2
    return np.asarray(-0.5 * (off + np.log(variance)) + 0.5 * (broad + 2 * np.log(prior_sd[0, at])))


def _lamp_odds(seen: Observations, ring: int) -> float:
    """Log odds for a ground in one ring of coils from lamps and ohms."""
    odds = 0.0
    for _, bar, lit in seen.lamp:
        if bar % seen.winding.closures == ring:
            yes = LIT_IF_GROUNDED if lit else 1 - LIT_IF_GROUNDED
            no = LIT_IF_SOUND if lit else 1 - LIT_IF_SOUND
            odds += float(np.log(yes / no))
    for _, bar, ohm in seen.ground_ohm:
        if bar % seen.winding.closures == ring:
            odds += float(np.clip(3 * np.log10(GROUND_OHM / max(ohm, 1e-3)), -5, 5))
    return float(np.clip(odds, -MOST, MOST))


def _shaft_odds(seen: Observations, fitted: Explanations) -> float:
    """A shaft that follows the winding's voltages is tied to it; one that floats reads nothing steady."""
    best = int(np.argmax(fitted.weight))
    parts = fitted.predictor.direct_parts
    good = np.concatenate([fitted.fit.good[best, parts[g]] for g in _shaft_groups(seen)])
    spread = max(float(np.ptp(seen.direct[g].value)) for g in _shaft_groups(seen))
    floor = max(float(seen.direct[g].floor.max()) for g in _shaft_groups(seen))
    if spread < 10 * floor:
        return -3.0
    return float(np.clip(len(good) * (good.mean() - 0.5), -MOST, MOST))
