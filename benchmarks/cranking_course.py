"""How far the course of a start is from small fixed steps and from a circuit simulator, and what it takes.

python -m benchmarks.cranking_course
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

import numpy as np

from barwise.machine.cranking_course import course
from tests.crosscheck.test_cranking_course import (
    HEAVY,
    SHORTED,
    SIX,
    THUMPER,
    differences,
    fixed_steps,
    simulated,
)

SECONDS, STEP_S = 0.6, 5e-5


def main() -> None:
    print("start    against        speed     current   (largest difference, share of the largest)")
    for name, case in (("six", SIX), ("thumper", THUMPER), ("heavy", HEAVY), ("shorted", SHORTED)):
        began = time.process_time()
        run = course(case.starting(), SECONDS)
        took = time.process_time() - began
        every = round(1 / 2000 / STEP_S)
        speeds, currents = fixed_steps(case, SECONDS, STEP_S)
        apart = differences(run, speeds[::every], currents[::every])
        print(f"{name:8} fixed steps    {apart[0]:.1e}   {apart[1]:.1e}   {took:.2f} s of processor")
        if case is not THUMPER:
            print(f"{name:8} ngspice        {'   '.join(f'{one:.1e}' for one in from_simulator(case))}")


def from_simulator(case: object) -> tuple[float, float]:
    run = course(case.starting(), SECONDS, points_per_s=4000)  # type: ignore[attr-defined]
    assert run.broke_away_s is not None
    after = np.flatnonzero(run.time_s >= run.broke_away_s)[1:]
    first = int(after[0])
    with tempfile.TemporaryDirectory() as folder:
        at, _, speed, current = simulated(case, run, first, Path(folder))  # type: ignore[arg-type]
    since = run.time_s[after] - run.time_s[first]
    apart = np.abs(np.interp(since, at, speed) - run.speed_rad_s[after]).max() / run.speed_rad_s.max()
    amperes = np.abs(np.interp(since, at, current) - run.current_a[after]).max() / run.current_a.max()
    return float(apart), float(amperes)


if __name__ == "__main__":
    main()
