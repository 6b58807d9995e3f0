"""How small a fault these very readings would have shown, fault by fault and place by place.

The expected gain in log likelihood of a fault against the best explanation is half the squared signal left
after gain and drift have had their say, and no more for one reading than a bad touch can explain away. It
scatters by the root of twice itself, so a fault shows with 95 % probability when the gain less 1.645 of that
scatter still beats the prior odds and what the evidence pays for a severity that had to be fitted.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import (
    BAR_BRIDGE,
    BRIDGE,
    JOINT,
    NONE,
    PRIOR_COUNT,
    Hypotheses,
    log_prior,
    nothing_wrong,
    paired,
    possible_kinds,
    severity_prior,
)
from barwise.inspect.armature.likelihood import Meter
from barwise.inspect.armature.prediction import EXCITER_MEAN, STATE, Predictor
from barwise.machine.winding import Winding

Array = NDArray[np.float64]

ONE_READING = 7.0
"""Most that one reading can say for a fault before a bad touch is the simpler tale [log]."""
CALLED = float(np.log(9.0))
"""Posterior odds at which a fault is called [log]: 90 %."""
SEEN_AT_ALL = 6.0
"""Below this gain a fault at its worst is not considered, but said to be out of sight [log]."""
RATIOS = np.array([0.01, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 1.2, 2.0, 3.5, 7.0, 14.0])
FACTORS = np.array([1.15, 1.2, 1.25, 1.3, 1.4, 1.5, 1.75, 2.0, 3.0, 5.0])


def severities(kind: int) -> Array:
    """Severities u of one kind from the worst to the mildest."""
    if kind in (BRIDGE, BAR_BRIDGE):
        return np.asarray(np.log(RATIOS))
    return np.asarray(np.log(FACTORS[::-1])) if kind == JOINT else np.zeros(1)


def worst_everywhere(winding: Winding) -> Hypotheses:
    """Every possible kind at every place at its worst, ordered kind, place."""
    kinds = possible_kinds(winding)
    kind = np.repeat(np.array(kinds, dtype=np.intp), winding.bars)
    place = np.tile(np.arange(winding.bars), len(kinds))
    worst = np.repeat([severities(k)[0] for k in kinds], winding.bars)
    return Hypotheses(kind[:, None], place[:, None], worst[:, None])


def mildest_shown(
    predictor: Predictor, meter: Meter, base: Hypotheses, theta: Array
) -> dict[int, NDArray[np.intp]]:
    """How many severities of each kind, from the worst to milder ones, would show at each place, (bars,).

    Found by halving: what shows at one severity is taken to show at every worse one.
    """
    winding = predictor.seen.winding
    kinds = possible_kinds(winding)
    count = np.array([[len(severities(k))] for k in kinds])
    low = np.zeros((len(kinds), winding.bars), dtype=np.intp)
    high = np.broadcast_to(count, low.shape).copy()
    every = worst_everywhere(winding)
    while (low < high).any():
        middle, undecided = (low + high) // 2, low < high
        severity = _at_rung(kinds, np.minimum(middle, count - 1))[undecided]
        rungs = every.take(np.flatnonzero(undecided)).with_severity(severity[:, None])
        gain = expected_gain(predictor, meter, base, theta, rungs)
        seen = _shown(gain, _price(winding, base, rungs, gain))
        low[undecided] = np.where(seen, middle[undecided] + 1, low[undecided])
        high[undecided] = np.where(seen, high[undecided], middle[undecided])
    return dict(zip(kinds, low, strict=True))


def _at_rung(kinds: tuple[int, ...], rung: NDArray[np.intp]) -> Array:
    """Severity of each kind at each place; `rung` is (kinds, bars), 0 the worst."""
    return np.stack([severities(kind)[at] for kind, at in zip(kinds, rung, strict=True)])


def expected_gain(
    predictor: Predictor, meter: Meter, base: Hypotheses, theta: Array, added: Hypotheses
) -> Array:
    """Expected log likelihood gain of each of `added` over `base` (one set with its (1, N) theta)."""
    if predictor.seen.numeric_count == 0:
        return np.zeros(len(added))
    lay = predictor.layout
    exciter = theta[:, lay.exciter : lay.exciter + STATE]
    gains, offsets = predictor.gains(theta), predictor.offsets(theta)
    before = _means(predictor, base, exciter, gains, offsets)
    if (base.kind == NONE).all():
        pool, keep = added, np.ones(len(added), dtype=bool)
    else:
        pool, keep = paired(base, added)
    wider = replace(predictor, layout=Predictor.of(predictor.seen, pool.kind.shape[1]).layout)
    after = _means(wider, pool, exciter, gains, offsets)
    sigma = meter.sigma(before, np.abs(after - before))
    signal = (after - before) / sigma
    signal -= _explained(predictor, before / meter.sigma(before, np.zeros(1)), signal)
    gain = np.zeros(len(added))
    gain[keep] = np.minimum(0.5 * signal**2, ONE_READING).sum(axis=1)
    return gain


def _shown(gain: Array, price: Array) -> NDArray[np.bool_]:
    """Whether a fault with this expected gain shows with 95 % probability."""
    return np.asarray(gain - 1.645 * np.sqrt(2 * gain) >= price)


def _price(winding: Winding, base: Hypotheses, added: Hypotheses, gain: Array) -> Array:
    """Log odds that a fault must overcome: its prior, the call, and its severity's share of the prior.

    A severity known to within s where s_0 was thought possible costs log(s_0 / s) + z^2 / 2; s follows from
    the gain, as the signal goes with 1 / (1 + bridge) or with (factor - 1).
    """
    mean, sd = severity_prior(added.kind, winding.turns_per_coil)
    u = added.severity
    bridge, factor = np.exp(u), np.maximum(np.exp(u), 1.0 + 1e-6)
    slope = np.where(added.kind == JOINT, factor / (factor - 1), bridge / (1 + bridge))
    known = np.minimum(1 / (slope * np.sqrt(2 * np.maximum(gain[:, None], 0.5))), sd)
    fitted = np.log(sd / known) + 0.5 * ((u - mean) / sd) ** 2
    graded = np.isin(added.kind, (BRIDGE, JOINT, BAR_BRIDGE))
    one_more = np.log(PRIOR_COUNT[0] / PRIOR_COUNT[1])
    if (base.kind != NONE).any():
        one_more = np.log(PRIOR_COUNT[1] / PRIOR_COUNT[2])
    place = (
        log_prior(nothing_wrong(), winding)
        - log_prior(added, winding)
        + np.log(PRIOR_COUNT[1] / PRIOR_COUNT[0])
    )
    return np.asarray(CALLED + one_more + place + np.where(graded, fitted, 0.0)[:, 0])


def _means(
    predictor: Predictor, hypotheses: Hypotheses, exciter: Array, gains: Array, offsets: Array
) -> Array:
    direct = predictor.direct_shapes(hypotheses) - offsets
    induced = predictor.induced_shape(hypotheses, exciter, np.zeros(len(hypotheses), dtype=np.intp))
    return np.asarray(gains * np.concatenate([direct, induced], axis=1))


def _explained(predictor: Predictor, before: Array, signal: Array) -> Array:
    """The part of each signal that level and drift of its group would swallow."""
    out = np.zeros_like(signal)
    at = 0
    for group in predictor.seen.groups:
        part = slice(at, at + len(group.row))
        at += len(group.row)
        columns = np.stack([before[0, part], before[0, part] * group.time], axis=1)
        if group.test == "shaft-drop":
            columns = np.concatenate([columns, np.ones((len(group.row), 1))], axis=1)
        basis, _ = np.linalg.qr(columns)
        out[:, part] = (signal[:, part] @ basis) @ basis.T
    return out


def nominal_theta(predictor: Predictor) -> Array:
    """Parameters of a healthy armature at the first look's level, shape (1, N)."""
    theta = np.zeros((1, predictor.layout.size))
    lay = predictor.layout
    theta[:, lay.level], theta[:, lay.strength] = predictor.level, predictor.strength
    theta[:, lay.exciter : lay.exciter + STATE] = EXCITER_MEAN
    return theta
