"""Which test tells most about what is wrong: the expected information of each, in bits.

Tests on the bench are worked out from the motors that remain possible. Tests of parts have a chance to show a
cause and a chance to alarm without it; both are assumptions, stated here (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.machine.motor import Floats

Array = NDArray[np.float64]

FALSE_ALARM = 0.04
"""A test of a part shows something where nothing is."""
READ_SHARE = 0.015
"""How far a further reading on the bench is trusted, as a share."""


@dataclass(frozen=True)
class NextTest:
    """The test that tells most.

    Attributes
    ----------
    key, do : str
        For programs; what to do, in plain words.
    bits : float
        Expected information about the cause [bit].
    separates : tuple of str
        The two causes it parts best.
    """

    key: str
    do: str
    bits: float
    separates: tuple[str, ...]


@dataclass(frozen=True)
class PartTest:
    """A test of a part, and the chance that it shows each cause. `effort` in minutes breaks ties."""

    key: str
    do: str
    shows: Mapping[str, float]
    effort: float


@dataclass(frozen=True)
class BenchTest:
    """A further reading on the bench, and what each cause's motors would read: logarithms (N, quantities)."""

    key: str
    do: str
    predicted: Mapping[str, tuple[Array, Array]]
    effort: float


PART_TESTS = (
    PartTest(
        "turn-by-hand",
        "Turn the armature by hand, brushes lifted: it should spin on. Feel for rub and stiff spots.",
        {"friction": 0.8, "seized": 0.98},
        1,
    ),
    PartTest(
        "armature-drop",
        "Take drop or exciter readings round the commutator.",
        {
            "shorted-armature": 0.97,
            "open-armature-coil": 0.97,
            "open-armature": 0.98,
            "grounded-winding": 0.1,
        },
        15,
    ),
    PartTest(
        "coil-drop",
        "Feed the fields with a steady current and read the drop over each coil and joint.",
        {"shorted-field": 0.93, "open-field-path": 0.98, "open-field": 0.98, "high-resistance": 0.35},
        8,
    ),
    PartTest(
        "brushes",
        "Measure brush length and spring force, and look at the commutator and its mica.",
        {"brush-contact": 0.92, "brushes-not-touching": 0.97},
        8,
    ),
    PartTest(
        "stud-to-brush",
        "With current on, read the volts from stud to each insulated brush lead, and from ground brush to "
        "housing.",
        {"high-resistance": 0.95, "brush-contact": 0.15, "open-field-path": 0.5, "open-field": 0.95},
        3,
    ),
    PartTest(
        "insulation",
        "Insulation of stud, fields, brush holders and armature to the housing, one after the other.",
        {"grounded-winding": 0.95, "dead-ground": 0.98},
        6,
    ),
    PartTest("shunt-coil", "Measure the shunt coil, lead to ground.", {"shunt-open": 0.98}, 3),
    PartTest(
        "magnets", "Look at the magnets: cracks, glue, and which way each pulls.", {"weak-magnets": 0.8}, 10
    ),
)


def next_test(
    chances: Mapping[str, float], bench: Sequence[BenchTest], taken: Sequence[str] = ()
) -> NextTest | None:
    """The test with most expected information; None where nothing is left to learn.

    Parameters
    ----------
    chances : mapping of str to float
        Probability of each cause.
    bench : sequence of BenchTest
        Further readings on the bench.
    taken : sequence of str
        Keys of tests that were made already.
    """
    ranked: list[tuple[float, float, NextTest]] = []
    tests: tuple[PartTest | BenchTest, ...] = (*PART_TESTS, *bench)
    for test in tests:
        if test.key in taken:
            continue
        if isinstance(test, PartTest):
            bits = _yes_no_bits(chances, test.shows)
            parts = _parted(chances, {key: test.shows.get(key, FALSE_ALARM) for key in chances})
        else:
            bits, parts = _reading_bits(chances, test.predicted)
        ranked.append((bits, test.effort, NextTest(test.key, test.do, bits, parts)))
    if not ranked:
        return None
    # Half a tenth of a bit is not worth ten minutes.
    best = max(ranked, key=lambda one: one[0] - 0.002 * one[1])
    return best[2] if best[0] > 0.01 else None


def _entropy(probability: float) -> float:
    if probability <= 0 or probability >= 1:
        return 0.0
    return -probability * math.log2(probability) - (1 - probability) * math.log2(1 - probability)


def _yes_no_bits(chances: Mapping[str, float], shows: Mapping[str, float]) -> float:
    alarm = {key: shows.get(key, FALSE_ALARM) for key in chances}
    overall = sum(chance * alarm[key] for key, chance in chances.items())
    return _entropy(overall) - sum(chance * _entropy(alarm[key]) for key, chance in chances.items())


def _parted(chances: Mapping[str, float], shows: Mapping[str, float]) -> tuple[str, ...]:
    """The likeliest cause that would show, and the likeliest that would not."""
    seen = max(chances, key=lambda key: chances[key] * shows[key])
    unseen = max((key for key in chances if key != seen), key=lambda key: chances[key] * (1 - shows[key]))
    return seen, unseen


def _reading_bits(
    chances: Mapping[str, float], predicted: Mapping[str, tuple[Array, Array]]
) -> tuple[float, tuple[str, ...]]:
    """Expected information of a reading; each cause's predictions taken for a normal distribution."""
    kept = {key: chance for key, chance in chances.items() if key in predicted and chance > 1e-4}
    total = sum(kept.values())
    if total < 0.5 or len(kept) < 2:
        return 0.0, ()
    bells = {key: _bell(*predicted[key]) for key in kept}
    random = np.random.default_rng(11).standard_normal((256, len(next(iter(bells.values()))[0])))
    bits = 0.0
    for key, chance in kept.items():
        middle, root = bells[key]
        drawn = middle + random @ root.T
        own = _log_density(drawn, *bells[key])
        mixed = np.stack([math.log(kept[one] / total) + _log_density(drawn, *bells[one]) for one in kept])
        top = mixed.max(0)
        overall = top + np.log(np.exp(mixed - top).sum(0))
        bits += chance / total * float(np.mean(own - overall)) / math.log(2)
    first, second = sorted(kept, key=lambda key: -kept[key])[:2]
    return max(0.0, bits) * total, (first, second)


def _bell(logs: Array, weights: Array) -> tuple[Array, Array]:
    middle = weights @ logs
    apart = logs - middle
    covariance = (apart * weights[:, None]).T @ apart + np.eye(logs.shape[1]) * READ_SHARE**2
    return middle, np.asarray(np.linalg.cholesky(covariance))


def _log_density(points: Array, middle: Array, root: Array) -> Array:
    scaled = np.linalg.solve(root, (points - middle).T)
    return np.asarray(-0.5 * (scaled**2).sum(0) - float(np.linalg.slogdet(root)[1]))


def as_logs(*readings: Floats) -> Array:
    """Readings as logarithms, shape (N, quantities); nought is far below everything."""
    return np.stack([np.log(np.maximum(np.asarray(one, dtype=float), 1e-6)) for one in readings], axis=1)
