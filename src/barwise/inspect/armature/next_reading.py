"""The one reading more that tells most: expected information over readings that could be taken.

For explanations i of probability p_i that predict a reading with mean m_i and uncertainty s_i, the expected
information is the mutual information of explanation and reading, summed by Gauss-Hermite quadrature; see
D. V. Lindley, On a Measure of the Information Provided by an Experiment, 1956 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.hypotheses import Hypotheses
from barwise.inspect.armature.observations import Observations, observe
from barwise.inspect.armature.prediction import STATE, Predictor
from barwise.inspect.bar_walk import BarWalk, usual_feed
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading, Test

Array = NDArray[np.float64]

DIGIT = {"drop": 1e-5, "induced": 1e-4, "resistance": 1e-6}
"""What a meter at the bench resolves [V, ohm]: common practice, no source."""
WORTH_TAKING = 0.02
"""Least information worth a probe [nat]."""


def candidates(seen: Observations) -> list[Reading]:
    """Readings between neighbouring bars that could be taken with what is on the bench."""
    winding = seen.winding
    pairs = BarWalk(winding, "drop").places
    feeds = [g.feed for g in seen.direct if g.test == "drop" and g.feed is not None]
    resistance = any(g.test == "resistance" for g in seen.direct)
    out = [_hypothetical("resistance", pair, None) for pair in pairs if resistance]
    if not resistance:
        feeds = feeds or [usual_feed(winding)]
    feeds += [moved_feed(winding, feed) for feed in feeds[:1]]
    out += [_hypothetical("drop", pair, feed) for feed in dict.fromkeys(feeds) for pair in pairs]
    if seen.induced is not None:
        out += [_hypothetical("induced", pair, None) for pair in pairs]
    return out


def moved_feed(winding: Winding, feed: Feed) -> Feed:
    """The same feed half its width on, so that what lay dead between its ends is fed.

    On a winding of several closed rings the feed stays on its ring.
    """
    shift = ((feed.out - feed.into) % winding.bars) // 2
    shift = max(shift - shift % winding.closures, winding.closures)
    into, out = ((bar - 1 + shift) % winding.bars + 1 for bar in (feed.into, feed.out))
    return Feed(into, out, feed.amps)


def feed_across(winding: Winding, coil: int, amps: float) -> Feed:
    """Feed on either side of an open coil: the same current then goes through every other coil."""
    return Feed(*winding.coil_bars(coil), amps)


def most_telling(
    seen: Observations,
    predictor: Predictor,
    explanations: Sequence[tuple[Hypotheses, Array, float]],
) -> tuple[Reading, float] | None:
    """Best reading and its expected information [nat].

    `explanations` are (one set of faults, its (1, N) parameters, its probability).
    """
    offered = candidates(seen)
    means = np.concatenate([_foreseen(seen, predictor, offered, e) for e in explanations])
    share = np.array([p for _, _, p in explanations])
    digit = np.array([DIGIT[r.test] for r in offered])
    sigma = np.sqrt((0.006 * means) ** 2 + digit**2)
    information = mutual_information(share / share.sum(), means, sigma)
    best = int(np.argmax(information))
    return (offered[best], float(information[best])) if information[best] > WORTH_TAKING else None


def mutual_information(share: Array, mean: Array, sigma: Array) -> Array:
    """Information of each of R readings about I explanations [nat].

    Parameters
    ----------
    share : ndarray, shape (I,)
    mean, sigma : ndarray, shape (I, R)

    Returns
    -------
    ndarray, shape (R,)
    """
    node, weight = np.polynomial.hermite_e.hermegauss(5)
    weight = weight / weight.sum()
    value = mean[None, :, :] + node[:, None, None] * sigma[None, :, :]
    z = (value[:, :, None, :] - mean[None, None, :, :]) / sigma[None, None, :, :]
    density = np.exp(-0.5 * np.minimum(z * z, 1400)) / sigma[None, None, :, :] + 1e-12
    mixed = np.einsum("j,qijr->qir", share, density)
    own = np.einsum("qiir->qir", density)
    return np.asarray(np.einsum("q,i,qir->r", weight, share, np.log(own / mixed)))


def _foreseen(
    seen: Observations,
    predictor: Predictor,
    offered: list[Reading],
    explanation: tuple[Hypotheses, Array, float],
) -> Array:
    hypotheses, theta, _ = explanation
    imagined = observe(seen.winding, offered)
    wide = hypotheses.kind.shape[1]
    other = replace(Predictor.of(imagined, wide, predictor.meter_ratio))
    old = Predictor.of(seen, wide).layout
    order = np.concatenate([g.row for g in imagined.groups])
    direct = np.exp(theta[:, [old.level]]) * other.direct_shapes(hypotheses)
    exciter = theta[:, old.exciter : old.exciter + STATE]
    induced = other.induced_shape(hypotheses, exciter, np.zeros(1, dtype=np.intp))
    induced = np.exp(theta[:, [old.strength]]) * induced
    out = np.empty((1, len(offered)))
    out[:, order] = np.concatenate([direct, induced], axis=1)
    return out


def _hypothetical(test: Test, pair: tuple[int, int | None], feed: Feed | None) -> Reading:
    return Reading(test, *pair, value=1.0, resolution=1e-5, feed=feed)


__all__ = ["candidates", "feed_across", "most_telling", "moved_feed", "mutual_information", "usual_feed"]
