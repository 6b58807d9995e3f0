"""How often the diagnosis is right, on made armatures, beside a rule of thumb and an oracle.

    python -m benchmarks accuracy --count 2000 --spice 500

Writes docs/figures/armature-accuracy.json and the reliability diagram; the tables of
docs/armature-accuracy.md are written from that file.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from barwise.inspect.armature import diagnose
from benchmarks import calibration, counting, smallest_fault
from benchmarks import oracle as oracle_module
from benchmarks.counting import Outcome
from benchmarks.made_set import COLUMNS, SEED, Case, made_set, read_set, readings_of, spread, winding_of
from benchmarks.oracle import Oracle, drifts_of
from benchmarks.reliability_picture import reliability_picture

FIGURES = Path("docs/figures")
JUDGES = ("barwise", "rule_of_thumb", "oracle")


@dataclass(frozen=True)
class Counted:
    """One case, seen through each choice of tests (keys of `COLUMNS`)."""

    solver: str
    faults: tuple[str, ...]
    outcomes: dict[str, dict[str, Outcome]]
    stated: dict[str, list[calibration.Stated]]
    intervals: dict[str, list[calibration.Interval]]
    seconds: float


def asked_oracle(cases: Sequence[Case]) -> list[dict[str, Outcome]]:
    """Outcomes of the oracle by choice of tests; kept in build/, for they are slow."""
    path = Path("build") / f"oracle-{_print_of(cases)}.json"
    if path.exists():
        kept = json.loads(path.read_text())
        return [{name: Outcome(**values) for name, values in one.items()} for one in kept]
    found = []
    for number, one in enumerate(spread(_ask, cases), start=1):
        found.append(one)
        if number % 100 == 0:
            print(f"{number} of {len(cases)} armatures shown to the oracle", flush=True)
    path.parent.mkdir(exist_ok=True)
    path.write_text(json.dumps([{name: asdict(o) for name, o in one.items()} for one in found]))
    return found


def _ask(case: Case) -> dict[str, Outcome]:
    oracle = Oracle(case, drifts_of(case, SEED))
    return {
        name: counting.outcome(case, oracle.answer(column))
        for name, column in COLUMNS.items()
        if column.takes(case)
    }


def _print_of(cases: Sequence[Case]) -> str:
    """A fingerprint of the cases and of the oracle's own code."""
    mark = hashlib.sha256(json.dumps(cases).encode())
    for module in (Path(oracle_module.__file__), Path(counting.__file__)):
        mark.update(module.read_bytes())
    return mark.hexdigest()[:12]


def count_case(task: tuple[Case, dict[str, Outcome]]) -> Counted:
    """Judge one case by barwise and the rule of thumb, and put what the oracle made of it beside them."""
    case, oracle = task
    outcomes: dict[str, dict[str, Outcome]] = {}
    stated, intervals = {}, {}
    spent = 0.0
    for name, column in COLUMNS.items():
        if not column.takes(case):
            continue
        readings = readings_of(case, column.tests)
        began = time.perf_counter()
        diagnosis = diagnose(winding_of(case), readings)
        spent += time.perf_counter() - began
        answers = {
            "barwise": counting.answer_of(diagnosis),
            "rule_of_thumb": counting.rule_of_thumb(case, column.tests),
        }
        outcomes[name] = {judge: counting.outcome(case, answer) for judge, answer in answers.items()}
        if name in oracle:
            outcomes[name]["oracle"] = oracle[name]
        stated[name] = calibration.stated_faults(case, diagnosis)
        intervals[name] = calibration.severity_intervals(case, diagnosis)
    return Counted(case["solver"], kinds_of(case), outcomes, stated, intervals, spent)


def figures(
    counted: Sequence[Counted], trials: Sequence[smallest_fault.Trial], seed: int | None = SEED
) -> dict[str, Any]:
    """Everything that is quoted, as plain values; no seed is known of a set made before."""
    solvers = ("dense", "ngspice")
    return {
        "set": {
            "armatures": len(counted),
            **{f"by_{s}": sum(c.solver == s for c in counted) for s in solvers},
            "shown_to_the_oracle": sum(any("oracle" in o for o in c.outcomes.values()) for c in counted),
            "seed": seed,
        },
        "tests": {name: _column(counted, name) for name in COLUMNS},
        "by_solver": {
            solver: counting.counts([c.outcomes["all"]["barwise"] for c in counted if c.solver == solver])
            for solver in solvers
            if any(c.solver == solver for c in counted)
        },
        "missed": {name: missed(counted, name) for name in COLUMNS},
        "smallest_detectable": smallest_fault.shares(trials),
    }


def kinds_of(case: Case) -> tuple[str, ...]:
    """Kinds of the faults that are there, in the order of the alphabet."""
    return tuple(sorted(fault["kind"] for fault in case["truth"]))


def missed(counted: Sequence[Counted], name: str, most: int = 6) -> list[dict[str, Any]]:
    """Which faults were most often not answered right, and how many of these were made."""
    made, wrong = Counter(), Counter()
    for case in counted:
        if name in case.outcomes:
            made[case.faults] += 1
            wrong[case.faults] += not case.outcomes[name]["barwise"].right
    worst = sorted(wrong, key=lambda faults: (-wrong[faults], faults))[:most]
    return [
        {"faults": " and ".join(faults) or "sound", "missed": wrong[faults], "made": made[faults]}
        for faults in worst
        if wrong[faults]
    ]


def _column(counted: Sequence[Counted], name: str) -> dict[str, Any]:
    taken = [c for c in counted if name in c.outcomes]
    judges = {
        judge: counting.counts([c.outcomes[name][judge] for c in taken if judge in c.outcomes[name]])
        for judge in JUDGES
    }
    stated = [s for c in taken for s in c.stated[name]]
    first = [s for s in stated if s.first]
    runners_up = [s for s in stated if not s.first]
    return {
        **{judge: shares for judge, shares in judges.items() if shares},
        "calibration": {
            label: _calibrated(some)
            for label, some in (("named", stated), ("first", first), ("runners_up", runners_up))
        },
        "intervals": calibration.coverage([i for c in taken for i in c.intervals[name]]),
    }


def _calibrated(stated: Sequence[calibration.Stated]) -> dict[str, Any]:
    bins = calibration.reliability(stated)
    return {
        "count": len(stated),
        "expected_calibration_error": calibration.expected_calibration_error(bins),
        "bins": [asdict(b) for b in bins],
    }


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--count", type=int, default=2000, help="armatures made")
    parser.add_argument("--spice", type=int, default=None, help="of these by ngspice; a quarter")
    parser.add_argument("--seed", type=int, default=SEED, help="another set, not shown to the oracle")
    parser.add_argument("--keep-as", default="accuracy", help="the figures go to armature-THIS.json")
    parser.add_argument("--cases", type=Path, help="a set made before; the oracle is not asked")
    parser.add_argument("--oracle", type=int, default=600, help="the first so many are shown to the oracle")
    parser.add_argument("--smallest", type=int, default=60, help="sound armatures given smallest faults")
    parser.add_argument("--out", type=Path, default=FIGURES, help="folder of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Count, write the figures, and return them."""
    spice = chosen.count // 4 if chosen.spice is None else chosen.spice
    cases = read_set(chosen.cases) if chosen.cases else made_set(chosen.count, spice, chosen.seed)
    # the oracle must know how a case was made, so only those of the usual set are shown to it
    usual = chosen.cases is None and chosen.seed == SEED
    asked = asked_oracle(cases[: chosen.oracle] if usual else [])
    asked += [{}] * (len(cases) - len(asked))
    counted = []
    for number, one in enumerate(spread(count_case, list(zip(cases, asked, strict=True))), start=1):
        counted.append(one)
        if number % 100 == 0:
            print(f"{number} of {len(cases)} armatures counted", flush=True)
    seed = None if chosen.cases else chosen.seed
    found = figures(counted, smallest_fault.trials(cases, chosen.smallest), seed)
    keep(found, chosen.out, chosen.keep_as)
    return found


def keep(found: dict[str, Any], out: Path, name: str) -> None:
    """Write the figures, and the reliability diagram of those that the documents show."""
    out.mkdir(parents=True, exist_ok=True)
    (out / f"armature-{name}.json").write_text(json.dumps(found, indent=1) + "\n")
    if name == "accuracy":
        picture = reliability_picture({n: found["tests"][n]["calibration"]["named"] for n in COLUMNS})
        (out / "armature-reliability.svg").write_text(picture)
