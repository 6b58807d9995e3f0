"""How fast the engine is: one armature, the whole command, and hypotheses a second against plain solvers.

    python -m benchmarks speed

Ratios are taken in one run on one machine, so that they mean something elsewhere. NumPy is
held to one thread by `make bench`. Writes docs/figures/armature-speed.json.
"""

from __future__ import annotations

import argparse
import json
import platform
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import Any

import numpy as np

from barwise.inspect.armature import diagnose
from barwise.inspect.armature.hypotheses import (
    Hypotheses,
    direct_ports,
    exciter_ports,
    nothing_wrong,
    paired,
    possible_kinds,
    severity_grid,
)
from barwise.machine.exciter import CoilImpedance, Exciter
from barwise.machine.kernel import direct_kernel, exciter_kernel
from barwise.machine.network import direct_voltages, induced_voltages
from barwise.machine.winding import Winding
from benchmarks.made_set import ALL_TESTS, Case, readings_file, readings_of, winding_of
from reference import dense, spice
from reference.armature import Armature, Electrical, Fault
from reference.armature import Exciter as PlainExciter
from reference.armature import Winding as PlainWinding
from reference.makers import Bench, Mix, make_case

FIGURES = Path("docs/figures")
LARGEST = 5
"""The winding of 62 bars among those the makers take in turn."""
PAIRS = 5000


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--armatures", type=int, default=40, help="armatures of 62 bars diagnosed")
    parser.add_argument("--commands", type=int, default=9, help="runs of the whole command")
    parser.add_argument("--solved", type=int, default=40, help="armatures solved outright")
    parser.add_argument("--out", type=Path, default=FIGURES, help="folder of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Time everything, write the figures, and return them."""
    grounded = grounded_cases(chosen.armatures)
    found = {
        "machine": {
            "python": platform.python_version(),
            "numpy": np.__version__,
            "system": f"{platform.system()} {platform.machine()}",
        },
        "diagnosis": diagnosis_seconds(cases_as_they_come(chosen.armatures)),
        "grounded": diagnosis_seconds(grounded),
        "command": command_seconds(grounded[0], chosen.commands),
        "hypotheses": hypotheses_per_second(chosen.solved),
    }
    chosen.out.mkdir(parents=True, exist_ok=True)
    (chosen.out / "armature-speed.json").write_text(json.dumps(found, indent=1) + "\n")
    return found


def cases_as_they_come(count: int) -> list[Case]:
    """Armatures of 62 bars with such faults as the made set has."""
    return [make_case(7, LARGEST + number * (LARGEST + 1), Mix(), Bench()) for number in range(count)]


def grounded_cases(count: int) -> list[Case]:
    """Armatures of 62 bars with every test taken, so grounded: half with a second fault beside it."""
    cases, number = [], LARGEST
    while len(cases) < count:
        case = make_case(7, number, Mix(sound_share=0.0, double_share=0.5), Bench())
        if any(fault["kind"] == "grounded-coil" for fault in case["truth"]):  # type: ignore[attr-defined]
            cases.append(case)
        number += LARGEST + 1
    return cases


def diagnosis_seconds(cases: list[Case]) -> dict[str, Any]:
    """Time of `diagnose` for each case, warm, the best of three."""
    taken = [(winding_of(case), readings_of(case, ALL_TESTS.tests)) for case in cases]
    diagnose(*taken[0])
    seconds = [min(timed(lambda one=one: diagnose(*one)) for _ in range(3)) for one in taken]
    return {
        "bars": taken[0][0].bars,
        "readings": len(taken[0][1]),
        "armatures": len(taken),
        "median_ms": 1e3 * median(seconds),
        "slowest_ms": 1e3 * max(seconds),
    }


def command_seconds(case: Case, runs: int) -> dict[str, Any]:
    """Time of the whole command, from its start to its answer."""
    with tempfile.TemporaryDirectory() as folder:
        winding, readings = Path(folder, "winding.toml"), Path(folder, "readings.csv")
        sheet = "".join(f"{key} = {json.dumps(value)}\n" for key, value in case["winding"].items())
        winding.write_text("[winding]\n" + sheet)
        readings.write_text(readings_file(case, ALL_TESTS.tests))
        barwise = str(Path(sys.executable).parent / "barwise")
        command = [barwise, "armature", str(winding), str(readings), "--json"]

        def once() -> None:
            subprocess.run(command, check=True, capture_output=True)

        once()
        seconds = [timed(once) for _ in range(runs)]
    return {"runs": runs, "median_ms": 1e3 * median(seconds), "slowest_ms": 1e3 * max(seconds)}


def hypotheses_per_second(solved: int) -> dict[str, Any]:
    """Drop and induced readings all round 62 bars for pairs of faults: engine, dense solves, simulator."""
    winding = Winding("wave", poles=6, bars=62)
    pairs = some_pairs(winding, PAIRS)
    predict_all(winding, pairs)
    engine = len(pairs) / median(timed(lambda: predict_all(winding, pairs)) for _ in range(5))
    armatures = [plain_armature(n) for n in range(solved)]
    outright = 1.0 / median(timed(lambda a=a: solve_outright(a, dense)) for a in armatures)
    bare = 1.0 / median(
        timed(lambda m=m: [np.linalg.solve(*one) for one in m]) for m in map(systems, armatures)
    )
    found = {
        "bars": winding.bars,
        "faults": 2,
        "engine_per_s": engine,
        "dense_per_s": outright,
        "bare_solve_per_s": bare,
        "engine_over_dense": engine / outright,
        "engine_over_bare_solve": engine / bare,
    }
    if shutil.which("ngspice"):
        simulated = 1.0 / median(timed(lambda a=a: solve_outright(a, spice)) for a in armatures[:3])
        found |= {"ngspice_per_s": simulated, "engine_over_ngspice": engine / simulated}
    return found


def some_pairs(winding: Winding, count: int) -> Hypotheses:
    """So many pairs of faults, spread evenly over all kinds, places and severities."""
    singles = nothing_wrong()
    for kind in possible_kinds(winding):
        grid = severity_grid(kind, winding.turns_per_coil)
        place = np.repeat(np.arange(winding.bars), len(grid))[:, None]
        one = Hypotheses(np.full(place.shape, kind), place, np.tile(grid, winding.bars)[:, None])
        singles = Hypotheses.join(singles, one)
    singles = singles.take(np.arange(1, len(singles)))
    pairs, _ = paired(singles.take(np.arange(0, len(singles), 7)), singles)
    return pairs.take(np.linspace(0, len(pairs) - 1, count).astype(np.intp))


def predict_all(winding: Winding, pairs: Hypotheses) -> None:
    """All drops under one feed, and all induced readings, of every pair of faults, by the engine."""
    feed = np.array([[0, 10]], dtype=np.intp)
    volts = direct_voltages(direct_kernel(winding), direct_ports(pairs), feed)
    volts -= np.roll(volts, -1, axis=-1)
    bars = np.arange(winding.bars)
    probed = np.stack([bars, (bars + 1) % winding.bars], axis=-1)
    kernel = exciter_kernel(winding, Exciter(), CoilImpedance(), kinds=3)
    state, ohm = np.zeros(len(pairs), dtype=np.intp), np.full(len(pairs), 0.7)
    np.abs(induced_voltages(kernel, state, exciter_ports(pairs), probed, ohm))


def plain_armature(number: int) -> Armature:
    """The same winding with two faults, for the plain solvers."""
    faults = (
        Fault("shorted-coil", number % 62 + 1, bridge_ratio=0.1),
        Fault("high-resistance-joint", (7 * number + 31) % 62 + 1, factor=2.0),
    )
    electrical = Electrical(coil_ohm=1e-3, reactance_ohm=1e-3 / 0.7)
    return Armature(PlainWinding("wave", 6, 62), faults, electrical, PlainExciter())


def solve_outright(armature: Armature, solver: Any) -> None:
    """All drops under one feed, and all induced readings, of one armature."""
    solver.bar_drop(armature, 1, 11, 10.0)
    solver.induced(armature)


def systems(armature: Armature) -> list[tuple[Any, Any]]:
    """The two sets of equations of an armature, with nothing left to do but to solve them."""
    healthy = replace(armature)
    out = []
    for equations, count in ((dense.direct(healthy), 1), (dense.on_exciter(healthy), 62)):
        out.append((equations.matrix, np.ones((len(equations.matrix), count))))
    return out


def timed(work: Callable[[], object]) -> float:
    """Time of one call [s]."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began
