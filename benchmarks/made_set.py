"""The made armatures that everything is counted on, and each as the package takes it.

The cases come from `reference.makers`, so neither the winding tables nor the readings behind them use any
code of the package. They are kept in build/, because the circuit simulator is slow.
"""

from __future__ import annotations

import gzip
import json
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from multiprocessing import Pool
from pathlib import Path
from typing import Any, TypeVar

from barwise.files.readings_file import HEADER, parse_readings
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from reference.makers import Bench, Mix, make_case

Case = dict[str, Any]
T = TypeVar("T")
R = TypeVar("R")

SEED = 20
PROCESSES = min(2, os.cpu_count() or 1)


@dataclass(frozen=True)
class Column:
    """A choice of tests, and the faults that this choice cannot show.

    Direct current does not care which way round a coil lies, and a voltmeter on the exciter draws no current
    through an open coil or a bad joint: cases with such a fault are left out of the column.
    """

    name: str
    tests: tuple[str, ...]
    unseen: frozenset[str]

    def takes(self, case: Case) -> bool:
        """Whether these tests can show every fault of the case."""
        return not self.unseen & {fault["kind"] for fault in case["truth"]}


ALL_TESTS = Column(
    "drop + induced + ground + shaft-drop", ("drop", "induced", "ground", "shaft-drop"), frozenset()
)
DIRECT = Column("drop + ground + shaft-drop", ("drop", "ground", "shaft-drop"), frozenset({"reversed-coil"}))
EXCITER = Column(
    "induced + ground + shaft-drop",
    ("induced", "ground", "shaft-drop"),
    frozenset({"open-coil", "high-resistance-joint"}),
)
COLUMNS = {"all": ALL_TESTS, "direct": DIRECT, "exciter": EXCITER}


def made_set(count: int, spice: int, seed: int = SEED, processes: int = PROCESSES) -> list[Case]:
    """`count` cases, `spice` of them solved by ngspice and spread over the set; kept in build/."""
    path = Path("build") / f"armatures-{seed}-{count}-{spice}.json.gz"
    if path.exists():
        return read_set(path)
    tasks = [(seed, n, (n * spice) // count != ((n + 1) * spice) // count) for n in range(count)]
    cases = list(spread(_made, tasks, processes))
    path.parent.mkdir(exist_ok=True)
    with gzip.open(path, "wt") as file:
        json.dump(cases, file)
    return cases


def read_set(path: Path) -> list[Case]:
    """Cases written by `made_set` or by `python -m reference.makers`."""
    with gzip.open(path, "rt") as file:
        return list(json.load(file))


def spread(work: Callable[[T], R], tasks: Sequence[T], processes: int = PROCESSES) -> Iterator[R]:
    """Results in order, worked out by so many processes."""
    if min(processes, len(tasks)) < 2:
        yield from map(work, tasks)
        return
    with Pool(processes) as pool:
        yield from pool.imap(work, tasks, chunksize=4)


def winding_of(case: Case) -> Winding:
    """The winding as the package describes it."""
    sheet = {key: value for key, value in case["winding"].items() if key != "meter_ohms"}
    return Winding(**sheet)


def readings_of(case: Case, tests: Iterable[str]) -> tuple[Reading, ...]:
    """The readings of some tests, through the readings file as a shop would write it."""
    return parse_readings(readings_file(case, tests), winding_of(case))


def readings_file(case: Case, tests: Iterable[str]) -> str:
    """Text of the readings file."""
    wanted = set(tests)
    keys = ("test", "a", "b", "value", "unit", "feed_a", "feed_b", "amps")
    empty = {"b": "shaft"}
    rows = [
        ",".join(str(reading.get(key, empty.get(key, ""))) for key in keys)
        for reading in case["readings"]
        if reading["test"] in wanted
    ]
    return "\n".join([HEADER, *rows, ""])


def _made(task: tuple[int, int, bool]) -> Case:
    seed, number, by_spice = task
    return make_case(seed, number, Mix(), Bench(), by_spice)
