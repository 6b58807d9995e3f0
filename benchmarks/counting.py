"""What counts as right: a diagnosis, the rule of thumb and the oracle are all counted the same way.

- A sound armature is right if it is called sound.
- A faulty one is right if it is called faulty and its faults stand first in the answer: one fault first, two
  faults first and second in either order, each with kind and place. Undecided is never right.
- A bridged coil and bridged turns of a coil are one kind: from outside they are one and the same reading.
- Sure and wrong is a fault of the first explanation stated with 95 % or more that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from statistics import median

from barwise.inspect.diagnosis import Diagnosis
from benchmarks.made_set import Case

SURELY = 0.95
OFF_THE_MEDIAN = 0.10
"""The shop's rule of thumb: a pair this far off the median is bad (common practice, no source)."""
GROUPS = ("sound", "single", "double")

Place = tuple[str, int | None]


@dataclass(frozen=True)
class Claim:
    """One fault that an answer names."""

    place: Place
    probability: float
    explanation: int = 1


@dataclass(frozen=True)
class Answer:
    """What is counted of an answer: its verdict, and its faults in the order they are named."""

    verdict: str
    claims: tuple[Claim, ...]


@dataclass(frozen=True)
class Outcome:
    """One case counted."""

    group: str
    right: bool
    verdict_right: bool
    undecided: bool
    sure_and_wrong: bool


def place_of(kind: str, coil: int | None, bars: Sequence[int]) -> Place:
    """Kind and place as they are compared; a bridge between bars is placed by its first bar."""
    if kind == "bar-bridge":
        first, second = bars
        return kind, first if second - first in (1, 1 - max(bars)) else second
    return ("bridged-coil" if kind in ("shorted-coil", "turn-short") else kind), coil


def truth_of(case: Case) -> list[Place]:
    """Kind and place of each fault that is there."""
    return [place_of(fault["kind"], fault.get("coil"), fault.get("bars", ())) for fault in case["truth"]]


def answer_of(diagnosis: Diagnosis) -> Answer:
    """A diagnosis as it is counted."""
    claims = [
        Claim(place_of(f.fault, f.coil, f.bars), f.probability, f.explanation) for f in diagnosis.findings
    ]
    return Answer(diagnosis.verdict, tuple(claims))


def rule_of_thumb(case: Case, tests: Iterable[str]) -> Answer:
    """Every pair of bars more than 10 % off the median of its test is called bad.

    Low is a shorted coil and high an open one, at the coil that starts at the first bar of the pair. The
    exciter is looked at first, the drop test where the exciter shows nothing; a lit lamp is a ground without
    a place.
    """
    claims: list[Claim] = []
    lit = any(r["test"] == "ground" and r["value"] == "lit" for r in case["readings"])
    if lit and "ground" in tests:
        claims.append(Claim(("grounded-coil", None), 1.0))
    for test in ("induced", "drop"):
        sizes = {r["a"]: abs(r["value"]) for r in case["readings"] if r["test"] == test and test in tests}
        off = _off_the_median(sizes)
        claims += [Claim(("open-coil" if high else "bridged-coil", bar), 1.0) for bar, high in off]
        if off:
            break
    return Answer("faulty" if claims else "sound", tuple(claims))


def _off_the_median(sizes: Mapping[int, float]) -> list[tuple[int, bool]]:
    if not sizes:
        return []
    middle = median(sizes.values())
    return [(bar, x > middle) for bar, x in sizes.items() if abs(x - middle) > OFF_THE_MEDIAN * middle]


def outcome(case: Case, answer: Answer) -> Outcome:
    """Count one answer."""
    truth = truth_of(case)
    first = {claim.place for claim in answer.claims[: len(truth)]}
    verdict_right = answer.verdict == ("faulty" if truth else "sound")
    wrong = [
        claim
        for claim in answer.claims
        if claim.explanation == 1 and claim.probability >= SURELY and claim.place not in truth
    ]
    return Outcome(
        group=GROUPS[len(truth)],
        right=verdict_right and first.issuperset(truth),
        verdict_right=verdict_right,
        undecided=answer.verdict == "undecided",
        sure_and_wrong=bool(wrong),
    )


@dataclass(frozen=True)
class Counts:
    """Shares over a group of cases."""

    cases: int
    right: float
    verdict_right: float
    undecided: float
    sure_and_wrong: float


def counts(outcomes: Sequence[Outcome]) -> dict[str, dict[str, float]]:
    """Shares for sound armatures, single and double faults, and all together; empty groups left out."""
    grouped = {group: [o for o in outcomes if o.group == group] for group in GROUPS}
    grouped["together"] = list(outcomes)
    return {group: asdict(_counted(members)) for group, members in grouped.items() if members}


def _counted(outcomes: Sequence[Outcome]) -> Counts:
    def share(name: str) -> float:
        return sum(getattr(o, name) for o in outcomes) / len(outcomes)

    names = ("right", "verdict_right", "undecided", "sure_and_wrong")
    return Counts(len(outcomes), *(share(name) for name in names))
