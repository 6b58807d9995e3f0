"""Coils of one frame held against one another: which one reads low or high, and how probable a fault is.

Every reading is taken as a logarithm, so that a common current, a common temperature and a meter that reads
a percent high shift all of them alike and fall out of the comparison. What is left is normal: reading error,
the spread of healthy coils, and a fault's shift. Explanations are: all coils sound; one or two of them with
shorted turns or with extra resistance (joint, broken strand); each also with one reading that went wrong.
They are weighed by their marginal likelihood with the priors below.

Priors (common practice, no source): four of five fields that come in are sound; a short is twice as frequent
as a bad joint; of a hundred readings three are a bad touch or a misread scale.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.fields.circuit import UNKNOWN_C, Coil, CoilReading, FieldCircuit
from barwise.machine.copper import COPPER_C, REFERENCE_C, resistance_at

Array = NDArray[np.float64]

SOUND, SHORT, HIGH, BAD_TOUCH = 0.80, 0.13, 0.07, 0.03
_PARTIAL = 0.2
"""Share of the shorts that are no dead short between whole turns."""
_SMALLEST, _LARGEST = 0.03, 0.9
"""Share of the winding that a partial short takes out."""
_HIGHEST = 5.0
_ANYTHING = 10.0
"""Standard deviation of a logarithm of which nothing is known."""
_MISREAD = 0.7
"""The same of a reading that went wrong: a factor of two either way."""
_K95 = 1.96
_MANY, _FEW = 30, 8
_UNUSABLE = 0.3
"""A reading less certain than this share of itself compares nothing."""


@dataclass(frozen=True)
class CoilShift:
    """How one coil stands to the others.

    Attributes
    ----------
    ratio, ratio_low, ratio_high : float or None
        Its resistance over that of the others, with a 95 % interval from the readings alone. None where it
        has nothing to be compared with.
    short, high : float
        Probability of shorted turns, and of extra resistance.
    lost, lost_low, lost_high : float
        Share of its winding that is shorted out, should it have a short: most probable, 95 % interval.
    """

    coil: Coil
    ratio: float | None
    ratio_low: float | None
    ratio_high: float | None
    short: float
    high: float
    lost: float
    lost_low: float
    lost_high: float

    @property
    def faulty(self) -> float:
        """Probability that this coil is not sound."""
        return self.short + self.high


@dataclass(frozen=True)
class Comparison:
    """All coils compared: probability that all are sound, each coil's shift, each reading's bad touch."""

    sound: float
    coils: tuple[CoilShift, ...]
    misread: tuple[float, ...]


@dataclass(frozen=True)
class Observed:
    """Logarithms of the usable readings with what is known of them beforehand.

    `logs` (n,); `coil` (n,) index of the coil; `centre` (n,) and `covariance` (n, n) of sound coils; `noise`
    (n, n) the part of the covariance that is the readings' and the coils' own.
    """

    logs: Array
    coil: NDArray[np.int64]
    centre: Array
    covariance: Array
    noise: Array
    readings: tuple[CoilReading, ...]


@dataclass(frozen=True)
class Explanations:
    """Shift of every coil's logarithm (m, coils), prior (m,), and what is the matter (m, coils): 0, -1, 1."""

    shifts: Array
    log_prior: Array
    state: NDArray[np.int64]


def usable(circuit: FieldCircuit) -> tuple[CoilReading, ...]:
    """Readings that are numbers and certain enough to compare."""
    return tuple(
        one for one in circuit.readings if one.seen != "open" and one.uncertainty < _UNUSABLE * one.value
    )


def compare(circuit: FieldCircuit) -> Comparison:
    """Weigh the explanations by all usable readings."""
    return weigh(observe(circuit), explain(circuit.coils), circuit.coils)


def observe(circuit: FieldCircuit) -> Observed:
    """The readings as logarithms, and what sound coils would read."""
    readings = usable(circuit)
    count = len(readings)
    coil = np.array([one.coil for one in readings], dtype=np.int64)
    noise = np.diag([(one.uncertainty / one.value) ** 2 for one in readings]).reshape(count, count)
    noise = noise + circuit.spread**2 * (coil[:, None] == coil[None, :])
    logs = np.log([one.value for one in readings]) if count else np.zeros(0)
    centre, covariance = np.zeros(count), noise.copy()
    for part, middle, spread in _in_common(circuit, readings):
        # Of what nothing is known, the middle may as well lie where the readings are: numbers stay small.
        at = middle if spread < _ANYTHING else float(part @ (logs - centre)) / float(part.sum())
        centre = centre + part * at
        covariance = covariance + spread**2 * np.outer(part, part)
    return Observed(logs, coil, centre, covariance, noise, readings)


def _in_common(
    circuit: FieldCircuit, readings: Sequence[CoilReading]
) -> Iterator[tuple[Array, float, float]]:
    """What several readings share: which ones (n,), its logarithm and the standard deviation of that."""
    everything = np.ones(len(readings))
    warmth = circuit.temperature or UNKNOWN_C
    factor = resistance_at(1.0, REFERENCE_C, warmth.value)
    yield everything, 0.0, circuit.gain
    yield everything, math.log(factor), warmth.standard_uncertainty / (COPPER_C + warmth.value)
    unknown = []
    for run, current in enumerate(circuit.currents):
        fed = np.array([float(one.seen == "drop" and one.run == run) for one in readings])
        if fed.any() and current is None:
            unknown.append(fed)
        elif fed.any() and current is not None:
            yield fed, math.log(current.value), current.standard_uncertainty / current.value
    if readings:
        yield everything, *_healthy(circuit)
    yield from ((fed, 0.0, _ANYTHING) for fed in unknown)


def _healthy(circuit: FieldCircuit) -> tuple[float, float]:
    """Logarithm of a sound coil's resistance at 20 °C by the sheet, and its standard deviation."""
    sheet = circuit.sheet
    if sheet is None or sheet.lower is None or sheet.upper is None or sheet.lower <= 0:
        return 0.0, _ANYTHING
    middle = (sheet.lower + sheet.upper) / 2
    spread = sheet.width / math.sqrt(12) / middle
    return math.log(resistance_at(middle, circuit.sheet_c)), spread


@lru_cache(maxsize=32)
def explain(coils: tuple[Coil, ...]) -> Explanations:
    """None, one or two coils with a fault, with priors."""
    count = len(coils)
    rows: list[tuple[tuple[int, float, float], ...]] = [()]
    one_by_one = [_states(place, coil, count, _MANY) for place, coil in enumerate(coils)]
    coarse = [_states(place, coil, count, _FEW) for place, coil in enumerate(coils)]
    rows += [(state,) for states in one_by_one for state in states]
    for first, second in itertools.combinations(coarse, 2):
        rows += list(itertools.product(first, second))
    shifts, state = np.zeros((len(rows), count)), np.zeros((len(rows), count), dtype=np.int64)
    prior = np.full(len(rows), SOUND)
    for row, faults in enumerate(rows):
        for place, shift, weight in faults:
            shifts[row, place], state[row, place] = shift, -1 if shift < 0 else 1
            prior[row] *= weight
    return Explanations(shifts, np.log(prior / prior.sum()), state)


def _states(place: int, coil: Coil, count: int, steps: int) -> list[tuple[int, float, float]]:
    """Faults of one coil: its place, the shift of its logarithm, and the odds against its being sound."""
    short, high = SHORT / SOUND / count, HIGH / SOUND / count
    lost = list(lost_shares(coil.turns, steps))
    raised = np.linspace(math.log(1 + _SMALLEST), math.log(_HIGHEST), steps)
    states = [(place, math.log1p(-share), short * weight) for share, weight in lost]
    return states + [(place, float(shift), high / steps) for shift in raised]


def lost_shares(turns: int | None, steps: int) -> Iterator[tuple[float, float]]:
    """Shares of a winding that a short may take out, with weights that add up to 1.

    Dead shorts take out whole turns, few more often than many; the others anything.
    """
    partial = np.geomspace(_SMALLEST, _LARGEST, steps)
    if turns is None:
        yield from ((float(share), 1 / steps) for share in partial)
        return
    counts = np.unique(np.geomspace(1, turns - 1, steps).round().astype(int)) if turns > 2 else np.array([1])
    weights = 1 / counts
    weights = weights / weights.sum() * (1 - _PARTIAL)
    yield from ((float(k / turns), float(weight)) for k, weight in zip(counts, weights, strict=True))
    few = max(2, steps // 3)
    yield from ((float(share), _PARTIAL / few) for share in np.geomspace(_SMALLEST, _LARGEST, few))


def weigh(observed: Observed, explanations: Explanations, coils: Sequence[Coil]) -> Comparison:
    """Posterior of every explanation, summed up for each coil and each reading."""
    log_weight = log_posterior(observed, explanations)
    whole = float(np.logaddexp.reduce(log_weight, axis=None))
    weight = np.exp(log_weight - whole)
    by_explanation, by_touch = weight.sum(axis=0), weight.sum(axis=1)
    shifts = tuple(
        _coil_shift(place, coil, observed, explanations, by_explanation) for place, coil in enumerate(coils)
    )
    sound = float(by_explanation[(explanations.state == 0).all(axis=1)].sum())
    return Comparison(min(1.0, sound), shifts, tuple(float(one) for one in by_touch[1:]))


def sound_probability(observed: Observed, explanations: Explanations) -> float:
    """Posterior of all coils being sound, and nothing else of what `weigh` says."""
    log_weight = log_posterior(observed, explanations)
    sound = (explanations.state == 0).all(axis=1)
    whole, part = (np.logaddexp.reduce(some, axis=None) for some in (log_weight, log_weight[:, sound]))
    return min(1.0, float(np.exp(part - whole)))


def log_posterior(observed: Observed, explanations: Explanations) -> Array:
    """Logarithm of prior times likelihood, (readings + 1, explanations); row 0 has no bad touch.

    A bad touch adds variance to one reading, so that its likelihood follows from the first by a rank-one
    update (Sherman and Morrison).
    """
    count = len(observed.logs)
    if count == 0:
        return explanations.log_prior[None, :]
    rest = (observed.logs - observed.centre - explanations.shifts[:, observed.coil]).T
    root = np.linalg.cholesky(observed.covariance + 1e-14 * np.eye(count))
    white = np.linalg.inv(root)
    scaled = white @ rest
    squares = (scaled**2).sum(axis=0)
    weighted, precision = white.T @ scaled, (white**2).sum(axis=0)
    stretched = 1 + _MISREAD**2 * precision
    eased = squares - (_MISREAD**2 / stretched)[:, None] * weighted**2
    odds = math.log(BAD_TOUCH) + (count - 1) * math.log1p(-BAD_TOUCH)
    touched = -0.5 * eased - 0.5 * np.log(stretched)[:, None] + odds
    first = -0.5 * squares + count * math.log1p(-BAD_TOUCH)
    return np.asarray(np.vstack([first, touched]) + explanations.log_prior)


def _coil_shift(
    place: int, coil: Coil, observed: Observed, explanations: Explanations, weight: Array
) -> CoilShift:
    state = explanations.state[:, place]
    short, high = float(weight[state < 0].sum()), float(weight[state > 0].sum())
    lost = _lost(-np.expm1(explanations.shifts[state < 0, place]), weight[state < 0])
    found = contrast(place, observed)
    if found is None:
        return CoilShift(coil, None, None, None, short, high, *lost)
    middle, spread = found
    ratio, low, high_end = (math.exp(middle + step * spread) for step in (0.0, -_K95, _K95))
    return CoilShift(coil, ratio, low, high_end, short, high, *lost)


def contrast(place: int, observed: Observed, *, with_spread: bool = False) -> tuple[float, float] | None:
    """Logarithm of a coil's ratio to the others, and its standard uncertainty; None with nothing to compare.

    Generalized least squares: the shift of this coil that the readings speak for, the spread of healthy coils
    weighing the others. The uncertainty is that of the readings alone; `with_spread` counts the spread of
    healthy coils as well, as whoever looks for a fault must.
    """
    own = (observed.coil == place).astype(float)
    if not own.any():
        return None
    solved = np.linalg.solve(observed.covariance + 1e-12 * np.eye(len(own)), own)
    strength = float(own @ solved)
    if strength < 1:
        return None
    weight = solved / strength
    alike = (observed.coil[:, None] == observed.coil[None, :]).astype(float)
    spread = 0.0 if with_spread else _healthy_spread(observed)
    variance = float(weight @ (observed.covariance - spread * alike) @ weight)
    return float(weight @ (observed.logs - observed.centre)), math.sqrt(max(0.0, variance))


def _healthy_spread(observed: Observed) -> float:
    """Variance of the healthy spread, as it stands in the noise."""
    first = observed.readings[0]
    return float(observed.noise[0, 0]) - (first.uncertainty / first.value) ** 2


def _lost(shares: Array, weight: Array) -> tuple[float, float, float]:
    """Most probable share, and the interval that holds 95 % of the weight."""
    if weight.sum() <= 0:
        return 0.0, 0.0, 0.0
    order = np.argsort(shares)
    shares, weight = shares[order], weight[order] / weight.sum()
    values, place = np.unique(shares.round(12), return_inverse=True)
    summed = np.bincount(place, weight)
    upto = np.cumsum(summed)
    low, high = (values[min(len(values) - 1, int(np.searchsorted(upto, end)))] for end in (0.025, 0.975))
    return float(values[int(summed.argmax())]), float(low), float(high)
