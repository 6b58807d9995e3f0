"""Whether probabilities and intervals may be believed: stated against how often they turn out true."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from barwise.inspect.diagnosis import Diagnosis, Finding
from benchmarks.counting import place_of, truth_of
from benchmarks.made_set import Case

BINS = 10
LEAST = 0.01
"""A fault named with less is named as next to impossible, and would only flatter the mean."""


@dataclass(frozen=True)
class Stated:
    """A fault that an answer names with a probability, and whether it is there."""

    probability: float
    there: bool
    first: bool
    """Whether it belongs to the first explanation; else it is a runner-up's."""


@dataclass(frozen=True)
class Interval:
    """A 95 % interval of a severity, and whether the truth lies in it."""

    severity: str
    holds: bool


def stated_faults(case: Case, diagnosis: Diagnosis) -> list[Stated]:
    """Each fault that is named with at least 0.01, once, with its probability."""
    truth = truth_of(case)
    named: dict[object, Stated] = {}
    for finding in diagnosis.findings:
        place = place_of(finding.fault, finding.coil, finding.bars)
        # the same fault in a later explanation carries the same probability
        named.setdefault(place, Stated(finding.probability, place in truth, finding.explanation == 1))
    return [stated for stated in named.values() if stated.probability >= LEAST]


def severity_intervals(case: Case, diagnosis: Diagnosis) -> list[Interval]:
    """Intervals of the faults of the first explanation that are really there."""
    out = []
    for finding in diagnosis.findings:
        place = place_of(finding.fault, finding.coil, finding.bars)
        for fault in case["truth"]:
            if finding.explanation != 1 or truth_of({"truth": [fault]}) != [place]:
                continue
            out += _intervals(finding, true_severity(fault, case["winding"]["turns_per_coil"]))
    return out


def true_severity(fault: Mapping[str, float], turns: int) -> dict[str, float]:
    """What is there, in the numbers a finding gives; bridged turns as the bridge of a whole coil.

    Turns that are a share x of the coil, bridged by b coil resistances, act as a bridge of
    (1 / x - 1) + b / x^2 across the coil (docs/armature-model.md).
    """
    if "turns" in fault:
        share = fault["turns"] / turns
        return {"bridge_ratio": (1 / share - 1) + fault["bridge_ratio"] / share**2}
    return {name: fault[name] for name in ("factor", "bridge_ratio", "fraction") if name in fault}


def _intervals(finding: Finding, true: Mapping[str, float]) -> list[Interval]:
    severity = finding.severity
    return [
        Interval(f"{finding.fault} {name}", severity[f"{name}_low"] <= value <= severity[f"{name}_high"])
        for name, value in true.items()
        if f"{name}_low" in severity
    ]


@dataclass(frozen=True)
class Bin:
    """Faults stated with about the same probability."""

    low: float
    high: float
    count: int
    stated: float
    true: float


def reliability(stated: Sequence[Stated]) -> list[Bin]:
    """Ten bins of equal width, empty ones left out."""
    out = []
    for n in range(BINS):
        low, high = n / BINS, (n + 1) / BINS
        members = [s for s in stated if low <= s.probability < high or (n == BINS - 1 and s.probability >= 1)]
        if members:
            mean = sum(s.probability for s in members) / len(members)
            out.append(Bin(low, high, len(members), mean, sum(s.there for s in members) / len(members)))
    return out


def expected_calibration_error(bins: Sequence[Bin]) -> float:
    """Mean gap between stated and true over the bins, each counted by how many faults it holds.

    M. P. Naeini, G. F. Cooper and M. Hauskrecht, Obtaining Well Calibrated Probabilities Using Bayesian
    Binning, AAAI 2015 (from memory).

    Examples
    --------
    >>> round(expected_calibration_error([Bin(0.9, 1.0, 3, 0.95, 1.0), Bin(0.1, 0.2, 1, 0.15, 0.0)]), 4)
    0.075
    """
    total = sum(b.count for b in bins)
    return sum(b.count * abs(b.stated - b.true) for b in bins) / total if total else 0.0


def coverage(intervals: Sequence[Interval]) -> dict[str, dict[str, float]]:
    """How many intervals there are of each severity, and the share that holds the truth."""
    names = sorted({i.severity for i in intervals})
    grouped = {name: [i.holds for i in intervals if i.severity == name] for name in names}
    grouped["together"] = [i.holds for i in intervals]
    return {name: {"count": len(h), "share": sum(h) / len(h)} for name, h in grouped.items() if h}
