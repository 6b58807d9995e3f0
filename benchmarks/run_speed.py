"""How long a log of 60 s at 10 kHz takes to read and to study: `python -m benchmarks run-speed`."""

from __future__ import annotations

import argparse
import json
import resource
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np

from barwise.files.run_log import load_log
from barwise.inspect.run_test.logged import study_log

FIGURES = Path("docs/figures/run-speed.json")
SECONDS, RATE = 60, 10_000


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--seconds", type=int, default=SECONDS)


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Write such a log, read it, study it; wall time, processor time and memory."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.csv"
        path.write_text(_log(chosen.seconds), encoding="utf-8")
        started, busy = time.perf_counter(), time.process_time()
        log = load_log(path)
        read, read_busy = time.perf_counter() - started, time.process_time() - busy
        started, busy = time.perf_counter(), time.process_time()
        study_log(log, 57, 4)
        studied, studied_busy = time.perf_counter() - started, time.process_time() - busy
    figures = {
        "samples": chosen.seconds * RATE,
        "read_s": read,
        "read_processor_s": read_busy,
        "study_s": studied,
        "study_processor_s": studied_busy,
        "most_memory_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3,
    }
    FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    return figures


def lines(figures: Mapping[str, Any]) -> str:
    """The figures, one a line."""
    return "\n".join(f"{name} {value:.3g}" for name, value in figures.items())


def _log(seconds: int) -> str:
    random = np.random.default_rng(0)
    moment = np.arange(seconds * RATE) / RATE
    since = np.maximum(moment - 2, 0)
    turns = np.cumsum(70 * (1 - np.exp(-since / 0.15))) / RATE
    current = 70 + 600 * np.exp(-since / 0.12) + 1.5 * np.sin(2 * np.pi * 57 * turns)
    current = np.where(moment > 2, current, 0) + random.normal(0, 1, len(moment))
    volts = 12.6 - 0.02 * current
    rows = zip(moment, volts, current, strict=True)
    return "time,volts,amps\n" + "".join(f"{one:.4f},{two:.3f},{three:.1f}\n" for one, two, three in rows)


if __name__ == "__main__":
    print(json.dumps(run(argparse.Namespace(seconds=SECONDS)), indent=1))
