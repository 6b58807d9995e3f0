"""The search for explanations: every single fault, then more faults grown from the best ones."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.armature.blade import blade_log_likelihood
from barwise.inspect.armature.hypotheses import (
    GROUND,
    OPEN,
    TIE,
    Hypotheses,
    log_prior,
    nothing_wrong,
    paired,
    singles,
)
from barwise.inspect.armature.likelihood import BAD_TOUCH, GAIN_NOISE, OF_THE_SOURCE, Meter
from barwise.inspect.armature.prediction import EXCITER_MEAN, STATE, Predictor
from barwise.inspect.armature.refine import Fit, refine
from barwise.inspect.armature.screening import FirstLook, Pool, first_look, most_likely

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

LOOKED_AT = 250
"""Hypotheses of a pool that get more than the roughest look."""
KEPT_SINGLES = 12
SEEDS = 5
SEED_REACH = 25.0
"""Singles that pairs are grown from: so many, and no further behind the best explanation [log]."""
KEPT_PAIRS = 10
NEGLIGIBLE = 40.0
"""How far behind the best an explanation is let go [log]."""
WEIGHED_AGAIN = 24
"""The best so many are weighed again with what they say of the meter."""
HOPELESS = 60.0
"""How far behind the best a first look may fall and still be fitted [log]."""
STARTS = 2
"""Severities that each set is fitted from."""
PAIRS_PLACED = 30
"""Pairs of grounded coils for which the places inside the coils are searched."""
PLACES = (0.05, 0.35, 0.65, 0.95)
HIDDEN_SEEDS = 16
"""Singles that pairs are grown from when the best ones leave much unexplained."""


@dataclass(frozen=True)
class Explanations:
    """Hypotheses that were fitted, and the log of prior times evidence for each, shape (H,)."""

    predictor: Predictor
    meter: Meter
    fit: Fit
    weight: Array

    def take(self, index: Ints) -> Explanations:
        """Only these."""
        fit = self.fit
        return replace(
            self,
            weight=self.weight[index],
            fit=Fit(
                fit.hypotheses.take(index),
                fit.theta[index],
                fit.covariance[index],
                fit.evidence[index],
                fit.mean[index],
                fit.sigma[index],
                fit.good[index],
            ),
        )


def search(predictor: Predictor, meter: Meter, visible: NDArray[np.bool_]) -> list[Explanations]:
    """Fitted explanations by number of faults: up to one, two, and three where two leave much unexplained.

    Parameters
    ----------
    predictor : Predictor
        Made for one fault.
    meter : Meter
    visible : ndarray of bool, shape (possible kinds, bars)
        Faults that these readings could show at all.
    """
    winding = predictor.seen.winding
    pool = Pool.of_singles(Hypotheses.join(nothing_wrong(), singles(winding, visible)))
    found = [_best_of(predictor, meter, pool, KEPT_SINGLES, always=0)]
    if not visible.any():
        return found
    every = singles(winding, visible, fine=False)
    found += _grow(found[0], _seeds(found[0], SEEDS), every, KEPT_PAIRS)
    found += _grow(found[0], _cut_off(predictor), every, KEPT_PAIRS)
    if _unexplained(found):
        found += _grow(found[0], _promising(predictor, meter, pool), every, KEPT_PAIRS)
    if len(found) > 1 and _unexplained(found):
        pairs = _likeliest(found[1:])
        found += _grow(pairs, _seeds(pairs, 2), every, KEPT_PAIRS // 2)
    if _needs_several(found):
        found += _grow(found[0], _members(_likeliest(found)), every, KEPT_PAIRS)
    if _touches_shaft(predictor) and (_unexplained(found) or _needs_several(found)):
        found.append(_two_grounds(found[0]))
    return found


def _touches_shaft(predictor: Predictor) -> bool:
    """Whether anything read to the shaft may speak for grounds in the one ring that the winding is."""
    seen = predictor.seen
    if seen.winding.closures > 1:
        return False
    fed = any(g.test == "shaft-drop" for g in seen.direct)
    return fed or bool(seen.ground_ohm) or any(lit for *_, lit in seen.lamp)


def _two_grounds(singles: Explanations) -> Explanations:
    """Two grounds and the way between them through the shaft: the likeliest pairs of coils, then places."""
    old, meter = singles.predictor, singles.meter
    first, second = np.triu_indices(old.seen.winding.bars, k=1)
    predictor = Predictor.of(old.seen, 3, old.meter_ratio)
    predictor = replace(predictor, level=old.level, strength=old.strength)
    rough = Pool.of_singles(_tied(first, second, [(0.5, 0.5, r) for r in (0.05, 0.4)]))
    prior = log_prior(rough.hypotheses, predictor.seen.winding)
    index, look = most_likely(predictor, meter, rough, prior, LOOKED_AT)
    best = rough.hypotheses.take(index[_best_places(rough.hypotheses.take(index), look.score, PAIRS_PLACED)])
    pairs = np.unique(best.place[:, :2], axis=0)
    fine = [(x, y, r) for x in PLACES for y in PLACES for r in (0.03, 0.2, 0.8)]
    return _best_of(predictor, meter, Pool.of_singles(_tied(pairs[:, 0], pairs[:, 1], fine)), KEPT_PAIRS)


def _tied(first: Ints, second: Ints, inside: list[tuple[float, float, float]]) -> Hypotheses:
    """Each pair of coils, from 0, grounded at each (place, place, resistance through the shaft)."""
    u = np.array([(x, y, np.log(r)) for x, y, r in inside])
    place = np.repeat(np.stack([first, second, np.zeros_like(first)], axis=1), len(u), axis=0)
    kind = np.tile(np.array([GROUND, GROUND, TIE], dtype=np.intp), (len(place), 1))
    return Hypotheses(kind, place, np.tile(u, (len(first), 1)))


def reweighed(found: list[Explanations]) -> list[Explanations]:
    """The same explanations with the meter's noise as the best of them leaves it."""
    best = _likeliest(found)
    row = int(np.argmax(best.weight))
    meter = _learned(best, row)
    if np.allclose(meter.gain, best.meter.gain, rtol=0.15):
        return found
    out = []
    least = max(best.weight[row] - NEGLIGIBLE, _rank(found, WEIGHED_AGAIN))
    for e in found:
        e = e.take(np.flatnonzero(e.weight >= least))
        if not len(e.weight):
            continue
        fit = refine(e.predictor, meter, e.fit.hypotheses, e.fit.theta, slack=(0.0, 0.0))
        out.append(_explanations(e.predictor, meter, fit))
    return out


def _rank(found: list[Explanations], count: int) -> float:
    """Weight of the explanation that stands so far down among all of them."""
    weights = np.sort(np.concatenate([e.weight for e in found]))
    return float(weights[-min(count, len(weights))])


def _likeliest(found: list[Explanations]) -> Explanations:
    """Those among which the most probable one is."""
    return max(found, key=lambda e: float(e.weight.max()))


def _learned(best: Explanations, row: int) -> Meter:
    """Gain noise from what one explanation leaves over, held to the usual by a prior of 15 readings."""
    fit, meter, split = best.fit, best.meter, best.predictor.direct_count
    off = (meter.value - fit.mean[row]) ** 2 / fit.sigma[row] ** 2
    gain = meter.gain.copy()
    for part in (slice(0, split), slice(split, None)):
        # readings near zero say nothing of the gain
        says = fit.good[row, part] * (np.abs(fit.mean[row, part]) > 30 * meter.floor[part])
        if says.sum() < 5:
            continue
        spread = float((says * off[part]).sum() / says.sum()) * gain[part][0] ** 2
        learned = (15 * GAIN_NOISE**2 + says.sum() * spread) / (15 + says.sum())
        known = np.clip(np.sqrt(learned), 0.75 * GAIN_NOISE, 0.03)
        gain[part] = np.where(gain[part] < OF_THE_SOURCE, known, gain[part])
    return replace(meter, gain=gain)


def _unexplained(found: list[Explanations]) -> bool:
    """Whether the best explanation needs more bad touches than chance gives."""
    best = _likeliest(found)
    good = best.fit.good[int(np.argmax(best.weight))]
    expected = BAD_TOUCH * len(good)
    return bool((1 - good).sum() > expected + 2 * np.sqrt(expected) + 0.5)


def _needs_several(found: list[Explanations]) -> bool:
    """Whether the best explanation has more than one fault between the bars."""
    best = _likeliest(found)
    return bool((best.fit.hypotheses.kind[int(np.argmax(best.weight))] >= 0).sum() > 1)


Seeds = tuple[Hypotheses, Array]


def _seeds(parents: Explanations, count: int) -> Seeds:
    """The best explanations with as many faults as they can have, and their exciters."""
    fit, lay = parents.fit, parents.predictor.layout
    near = parents.weight > parents.weight.max() - SEED_REACH
    full = np.flatnonzero((fit.hypotheses.kind >= 0).all(axis=1) & near)
    at = full[np.argsort(-parents.weight[full], kind="stable")][:count]
    return fit.hypotheses.take(at), fit.theta[at, lay.exciter : lay.exciter + STATE]


def _members(several: Explanations) -> Seeds:
    """Each fault of the best explanation by itself, as bad as it is there.

    What was grown from a single that was fitted alone, hence wrongly, may have one fault right and others
    that make up for it.
    """
    row = int(np.argmax(several.weight))
    fit, lay = several.fit, several.predictor.layout
    best = fit.hypotheses.take([row])
    there = best.kind[0] >= 0
    alone = Hypotheses(best.kind.T[there], best.place.T[there], best.severity.T[there])
    exciter = fit.theta[row, lay.exciter : lay.exciter + STATE]
    return alone, np.tile(exciter, (len(alone), 1))


def _cut_off(predictor: Predictor) -> Seeds:
    """Open coils across which the feed's current found no way, as seeds on a usual exciter."""
    winding = predictor.seen.winding
    bars = {int(bar) + 1 for group in predictor.seen.direct for bar in group.pair[group.beyond, 0]}
    coils = sorted({coil for bar in bars for coil in winding.coils_between(bar)})[:HIDDEN_SEEDS]
    place = np.array(coils, dtype=np.intp).reshape(-1, 1) - 1
    seeds = Hypotheses(np.full_like(place, OPEN), place, np.zeros(place.shape))
    return seeds, np.tile(EXCITER_MEAN, (len(seeds), 1))


def _promising(predictor: Predictor, meter: Meter, pool: Pool) -> Seeds:
    """Singles that explain some readings well and contradict others, as seeds on a usual exciter."""
    promise = first_look(predictor, meter, pool).promise()
    order = np.argsort(-promise, kind="stable")
    seeds = pool.hypotheses.take(order[order > 0][:HIDDEN_SEEDS])
    return seeds, np.tile(EXCITER_MEAN, (len(seeds), 1))


def _grow(parents: Explanations, seeds: Seeds, every: Hypotheses, kept: int) -> list[Explanations]:
    """Add each single fault to each of the seeds; nothing comes of no seeds."""
    first, exciter = seeds
    if not len(first):
        return []
    children, keep = paired(first, every)
    parent = np.repeat(np.arange(len(first)), len(every))[keep]
    old = parents.predictor
    predictor = Predictor.of(old.seen, children.kind.shape[1], old.meter_ratio)
    predictor = replace(predictor, level=old.level, strength=old.strength)
    return [_best_of(predictor, parents.meter, Pool(children, first, parent, exciter), kept)]


def _best_of(
    predictor: Predictor, meter: Meter, pool: Pool, kept: int, always: int | None = None
) -> Explanations:
    """Screen the pool and fit the best places in it; the member `always` is kept whatever it scores."""
    prior = log_prior(pool.hypotheses, predictor.seen.winding)
    index, look = most_likely(predictor, meter, pool, prior, LOOKED_AT)
    score = look.score + prior[index] + blade_log_likelihood(predictor, pool.hypotheses.take(index))
    chosen = _best_places(pool.hypotheses.take(index), score, kept)
    chosen = chosen[score[chosen] > score.max() - HOPELESS]
    if always is not None and always not in index[chosen]:
        lone = first_look(predictor, meter, pool.take(np.array([always])))
        index = np.append(index, always)
        look = FirstLook(
            np.concatenate([look.density, lone.density]),
            np.append(look.level, lone.level),
            np.append(look.strength, lone.strength),
        )
        chosen = np.append(chosen, len(index) - 1)
    at = index[chosen]
    exciter = pool.exciter[pool.parent[at]]
    return _refined(predictor, meter, pool.hypotheses.take(at), look.take(chosen), exciter)


def _refined(
    predictor: Predictor,
    meter: Meter,
    hypotheses: Hypotheses,
    look: FirstLook,
    exciter: Array,
) -> Explanations:
    start, _ = predictor.prior(hypotheses)
    lay = predictor.layout
    start[:, lay.level], start[:, lay.strength] = look.level, look.strength
    start[:, lay.severity :] = hypotheses.severity
    start[:, lay.exciter : lay.exciter + STATE] = exciter
    _start_shaft(predictor, meter, hypotheses, look, start)
    fit = refine(predictor, meter, hypotheses, start)
    return _best_starts(_explanations(predictor, meter, fit))


def _explanations(predictor: Predictor, meter: Meter, fit: Fit) -> Explanations:
    """A fit weighed with its prior and what the blade says."""
    weight = fit.evidence + log_prior(fit.hypotheses, predictor.seen.winding)
    return Explanations(predictor, meter, fit, weight + blade_log_likelihood(predictor, fit.hypotheses))


def _best_starts(fitted: Explanations) -> Explanations:
    """Each set of kinds and places once, from the start that fitted best."""
    best: dict[tuple[tuple[int, int], ...], int] = {}
    h = fitted.fit.hypotheses
    for i in np.argsort(-fitted.weight, kind="stable"):
        best.setdefault(fault_set(h, int(i)), int(i))
    return fitted.take(np.array(sorted(best.values()), dtype=np.intp))


def fault_set(hypotheses: Hypotheses, row: int) -> tuple[tuple[int, int], ...]:
    """Kinds and places of one set, the same in whatever order it was grown."""
    kinds, places = hypotheses.kind[row].tolist(), hypotheses.place[row].tolist()
    return tuple(sorted(zip(kinds, places, strict=True)))


def _start_shaft(
    predictor: Predictor, meter: Meter, hypotheses: Hypotheses, look: FirstLook, start: Array
) -> None:
    """Put the shaft where the middle of its readings says it is, given the level."""
    if all(at is None for at in predictor.layout.shaft):
        return
    shape = predictor.direct_shapes(hypotheses)
    for part, at in zip(predictor.direct_parts, predictor.layout.shaft, strict=True):
        if at is not None:
            read = meter.value[part] / np.exp(look.level)[:, None]
            start[:, at] = np.median(shape[:, part] - read, axis=1)


def _best_places(pool: Hypotheses, score: Array, count: int) -> Ints:
    """The best two severities of each set of kinds and places, best sets first."""
    seen: dict[tuple[tuple[int, int], ...], int] = {}
    chosen = []
    for i in np.argsort(-score, kind="stable"):
        key = fault_set(pool, int(i))
        if seen.get(key, 0) == STARTS or (key not in seen and len(seen) == count):
            continue
        seen[key] = seen.get(key, 0) + 1
        chosen.append(i)
        if len(chosen) == STARTS * count:
            break
    return np.array(chosen, dtype=np.intp)
