"""Whether the smallest detectable fault is what it says: faults of just that size, made and looked for.

For each sound armature of the made set, the answer states for each kind of fault the smallest severity that
its readings would have shown with 95 % probability. The same armature is then made with a fault of exactly
that severity at a place drawn at random among those said to be in sight, read anew, and diagnosed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from barwise.inspect.armature import diagnose
from barwise.inspect.diagnosis import Detectable
from benchmarks.counting import answer_of, truth_of
from benchmarks.made_set import ALL_TESTS, SEED, Case, readings_of, spread, winding_of
from reference.armature import Fault
from reference.makers import Bench, armature_of, take_readings

SEVERITIES = {"factor": "factor", "bridge_ratio": "bridge_ratio", "turns": "turns"}


@dataclass(frozen=True)
class Trial:
    """One fault of the stated size.

    Attributes
    ----------
    kind : str
    faulty : bool
        Called faulty.
    placed : bool
        Called faulty, with the right kind and place first.
    not_sound : bool
        Anything but sound: faulty, or undecided with a reading to take next.
    """

    kind: str
    faulty: bool
    placed: bool
    not_sound: bool


def trials(cases: Sequence[Case], most: int = 60) -> list[Trial]:
    """Trials of every kind on the first so many sound armatures among the cases."""
    sound = [case for case in cases if not case["truth"]][:most]
    return [trial for some in spread(_trials_of, sound) for trial in some]


def shares(made: Sequence[Trial]) -> dict[str, dict[str, float]]:
    """How many trials of each kind there were, and what became of them."""
    names = ("faulty", "placed", "not_sound")
    grouped = {kind: [t for t in made if t.kind == kind] for kind in sorted({t.kind for t in made})}
    grouped["together"] = list(made)
    return {
        kind: {"count": len(some)} | {name: sum(getattr(t, name) for t in some) / len(some) for name in names}
        for kind, some in grouped.items()
        if some
    }


def _trials_of(case: Case) -> list[Trial]:
    rng = np.random.default_rng([SEED, case["seed"]])
    found = diagnose(winding_of(case), readings_of(case, ALL_TESTS.tests))
    out = []
    for kind, limit in found.smallest_detectable.items():
        fault = _smallest(kind, limit, case["winding"]["bars"], rng)
        if fault is not None:
            out.append(_trial(case, fault, rng))
    return out


def _smallest(kind: str, limit: Detectable, bars: int, rng: np.random.Generator) -> Fault | None:
    """A fault of the stated size where it is said to be in sight; None if it is in sight nowhere."""
    in_sight = sorted(set(range(1, bars + 1)) - set(limit.hidden))
    if not limit.severity or not in_sight:
        return None
    place = int(rng.choice(in_sight))
    return replace(Fault(kind, place, fraction=rng.uniform(), ground_ratio=0.1), **_size(limit.severity))


def _size(severity: Mapping[str, float]) -> dict[str, float]:
    known = {SEVERITIES[name]: value for name, value in severity.items() if name in SEVERITIES}
    return known | ({"turns": int(known["turns"])} if "turns" in known else {})  # bridged dead


def _trial(case: Case, fault: Fault, rng: np.random.Generator) -> Trial:
    armature = replace(armature_of(case), faults=(fault,))
    if fault.kind == "turn-short":
        armature = replace(armature, faults=(replace(fault, bridge_ratio=1e-4),))
    readings, _ = take_readings(armature, Bench(), rng)
    made = case | {"readings": readings, "truth": [fault.truth(armature.winding)]}
    answer = answer_of(diagnose(winding_of(made), readings_of(made, ALL_TESTS.tests)))
    faulty = answer.verdict == "faulty"
    first = [claim.place for claim in answer.claims[:1]]
    return Trial(fault.kind, faulty, faulty and first == truth_of(made), answer.verdict != "sound")
