"""Whether the server's memory stays flat over a long day: eight benches walk one armature after another.

    python -m benchmarks soak                  an hour
    python -m benchmarks soak --minutes 5

Each bench walks 62 bars twice, asks for the diagnosis, and goes on to its next job, against a real
`barwise serve` on SQLite in a folder that is thrown away. The memory is what the system counts for the
server (resident set, `ps`). Writes docs/figures/soak.json and its table in docs/reliability.md.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import subprocess
import tempfile
import threading
import time
from pathlib import Path
from statistics import median, quantiles
from typing import Any

from scipy.stats import theilslopes

from benchmarks.blocks import put
from benchmarks.entering import BARS, Bench, Entered, Server, compare, enter_next, free_port, make_shop

FIGURES = Path("docs/figures/soak.json")
PAGE = Path("docs/reliability.md")
BENCHES, RATE_HZ, MINUTES = 8, 1.0, 60.0
OF_A_JOB = 2 * BARS
SAMPLE_S = 5.0
WARM = 0.25
"""Share of the time that is not judged: caches fill and threads start."""


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--minutes", type=float, default=MINUTES)
    parser.add_argument("--out", type=Path, default=FIGURES, help="file of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Enter for so long, and write what the memory did."""
    figures = soak(60 * chosen.minutes)
    figures["machine"] = f"{os.cpu_count()} cores, Python {platform.python_version()}"
    chosen.out.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    if chosen.out == FIGURES:  # a trial leaves the document alone
        put(PAGE, "soak", block(figures))
    return figures


def soak(seconds: float, benches: int = BENCHES, rate_hz: float = RATE_HZ) -> dict[str, Any]:
    """Memory of the server while all benches work, and whether all they were told of is on the disk."""
    each = int(seconds * rate_hz) // OF_A_JOB + 1
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop"
        make_shop(shop, benches * each)
        server, entered = Server(shop, free_port()), Entered()
        server.start()
        try:
            memory = _worked(server, seconds, benches, rate_hz, each, entered)
        finally:
            server.end()
        wrong = compare(shop, entered)
    for line in (*wrong[:10], *entered.errors[:10]):
        print(line)
    judged = memory[int(WARM * len(memory)) :]
    times = [SAMPLE_S * n / 3600 for n in range(len(judged))]
    slope = theilslopes(judged, times)
    return {
        "benches": benches,
        "seconds": seconds,
        "readings": len(entered.acknowledged),
        "p95_ms": 1e3 * quantiles(entered.times_s, n=100)[94],
        "errors": len(entered.errors),
        "wrong": len(wrong),
        "first_mb": memory[0],
        "warm_mb": median(judged[: max(1, len(judged) // 10)]),
        "last_mb": median(judged[-max(1, len(judged) // 10) :]),
        "most_mb": max(memory),
        "mb_per_hour": [slope.slope, slope.low_slope, slope.high_slope],
    }


def _worked(
    server: Server, seconds: float, benches: int, rate_hz: float, each: int, entered: Entered
) -> list[float]:
    assert server.running is not None
    pid, until = server.running.pid, time.perf_counter() + seconds
    crew = [
        threading.Thread(target=_bench, args=(server.port, 1 + n * each, rate_hz, until, n, entered))
        for n in range(benches)
    ]
    for hand in crew:
        hand.start()
    memory = []
    while time.perf_counter() < until:
        memory.append(_resident_mb(pid))
        time.sleep(SAMPLE_S)
    for hand in crew:
        hand.join()
    return memory


def _bench(port: int, job: int, rate_hz: float, until: float, seed: int, entered: Entered) -> None:
    """One bench: a walk, its diagnosis, the next job."""
    bench, at = Bench(port), random.Random(seed)
    bench.sign_in()
    n = 0
    while time.perf_counter() < until:
        began = time.perf_counter()
        enter_next(bench, job, n, at, entered)
        n += 1
        if n % OF_A_JOB == 0:
            _look(bench, f"/jobs/{job}/armature/winding/answer", entered)
            _look(bench, f"/jobs/{job}/armature", entered)
            _look(bench, "/", entered)
            job += 1
        time.sleep(max(0.0, began + at.uniform(0.8, 1.2) / rate_hz - time.perf_counter()))
    bench.close()


def _look(bench: Bench, path: str, entered: Entered) -> None:
    status, _ = bench.ask("GET", path)
    if status != 200:
        entered.errors.append(f"{status} at {path}")


def _resident_mb(pid: int) -> float:
    asked = subprocess.run(["ps", "-o", "rss=", "-p", str(pid)], capture_output=True, text=True, check=True)
    return int(asked.stdout) / 1024


def table(figures: dict[str, Any]) -> str:
    """The figures as the document shows them."""
    slope, low, high = figures["mb_per_hour"]
    return "\n".join(
        [
            f"Measured on {figures['machine']}.",
            "",
            "| | |",
            "| --- | ---: |",
            f"| benches, for | {figures['benches']}, {figures['seconds'] / 60:.0f} min |",
            f"| readings on the disk | {figures['readings']:,} |",
            f"| errors; lost, doubled or changed | {figures['errors']}; {figures['wrong']} |",
            f"| 95 % answered within | {figures['p95_ms']:.0f} ms |",
            f"| memory once warm, at the end, most | {figures['warm_mb']:.0f}, {figures['last_mb']:.0f}, "
            f"{figures['most_mb']:.0f} MB |",
            f"| it grows an hour (95 % interval) | {slope:.1f} MB ({low:.1f} to {high:.1f}) |",
        ]
    )


def block(figures: dict[str, Any]) -> str:
    """The same with room about it."""
    return f"\n{table(figures)}\n\n"
