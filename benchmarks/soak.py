"""Whether the server's memory stays flat over a long day: eight benches walk one armature after another.

    python -m benchmarks soak                  an hour
    python -m benchmarks soak --minutes 5

Each bench walks 62 bars, closes the job, which signs it, opens it again, walks 62 more, asks for the
diagnosis, closes it for good, looks whether its seal is whole, and goes on to its next job. Besides, a page
polls a simulated meter and takes what it reads. All against a real `barwise serve` on SQLite in a folder
that is thrown away. The memory is what the system counts for the
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
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median, quantiles
from typing import Any

from scipy.stats import theilslopes

from benchmarks.blocks import put
from benchmarks.entering import BARS, Bench, Entered, Server, compare, enter_next, free_port, make_shop
from benchmarks.polling import FORM, MeterPage, Polls, listener, walk_by_meter

FIGURES = Path("docs/figures/soak.json")
PAGE = Path("docs/reliability.md")
BENCHES, RATE_HZ, MINUTES = 8, 1.0, 60.0
OF_A_JOB = 2 * BARS
SAMPLE_S = 5.0
WARM = 0.25
"""Share of the time that is not judged: caches fill and threads start."""


@dataclass
class Seals:
    """How long each closing took [s], and whether its seal was found whole."""

    times_s: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)

    @property
    def figures(self) -> dict[str, float]:
        """As they are kept."""
        closed = len(self.times_s)
        return {"closed": closed, "whole": sum(self.whole), "p50_ms": 1e3 * median(self.times_s or [0.0])}


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
    entered, seals, polls = Entered(), Seals(), Polls()
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop"
        make_shop(shop, benches * each + 1, meters=1)
        server = Server(shop, free_port())
        server.start()
        try:
            page, over = MeterPage(server.port, 1, polls), threading.Event()
            common = (rate_hz, over, entered, seals)
            crew = [
                threading.Thread(target=_bench, args=(server.port, 1 + n * each, *common))
                for n in range(benches)
            ]
            with listener(server.port, "M-1") as leads:
                by_meter = (page, leads, benches * each + 1, over, entered)
                crew.append(threading.Thread(target=walk_by_meter, args=by_meter))
                memory = _worked(server, seconds, crew, over)
        finally:
            server.end()
        wrong = compare(shop, entered)
    for line in (*wrong[:10], *entered.errors[:10], *polls.errors[:10]):
        print(line)
    return {
        "benches": benches,
        "seconds": seconds,
        "readings": len(entered.acknowledged),
        "p95_ms": 1e3 * quantiles(entered.times_s, n=100)[94],
        "errors": len(entered.errors),
        "wrong": len(wrong),
        **_memory(memory),
        "seals": seals.figures,
        "meter": polls.figures,
    }


def _memory(sampled: list[float]) -> dict[str, Any]:
    judged = sampled[int(WARM * len(sampled)) :]
    slope = theilslopes(judged, [SAMPLE_S * n / 3600 for n in range(len(judged))])
    return {
        "first_mb": sampled[0],
        "warm_mb": median(judged[: max(1, len(judged) // 10)]),
        "last_mb": median(judged[-max(1, len(judged) // 10) :]),
        "most_mb": max(sampled),
        "mb_per_hour": [slope.slope, slope.low_slope, slope.high_slope],
    }


def _worked(
    server: Server, seconds: float, crew: list[threading.Thread], over: threading.Event
) -> list[float]:
    assert server.running is not None
    pid, until = server.running.pid, time.perf_counter() + seconds
    for hand in crew:
        hand.start()
    memory = []
    while time.perf_counter() < until:
        memory.append(_resident_mb(pid))
        time.sleep(SAMPLE_S)
    over.set()
    for hand in crew:
        hand.join()
    return memory


def _bench(
    port: int, job: int, rate_hz: float, over: threading.Event, entered: Entered, seals: Seals
) -> None:
    """One bench: a walk, the job closed and opened again, a walk, its diagnosis, closed; the next job."""
    bench, at = Bench(port), random.Random(job)
    bench.sign_in()
    n = 0
    while not over.is_set():
        began = time.perf_counter()
        enter_next(bench, job, n, at, entered)
        n += 1
        if n % BARS == 0:
            if n % OF_A_JOB == 0:
                _look(bench, f"/jobs/{job}/armature/winding/answer", entered)
            _close(bench, job, entered, seals)
            if n % OF_A_JOB:
                _change(bench, f"/jobs/{job}/reopen", "reason=Looked+at+once+more", entered)
            else:
                _look(bench, f"/jobs/{job}/armature", entered)
                _look(bench, "/", entered)
                job += 1
        over.wait(max(0.0, began + at.uniform(0.8, 1.2) / rate_hz - time.perf_counter()))
    bench.close()


def _close(bench: Bench, job: int, entered: Entered, seals: Seals) -> None:
    began = time.perf_counter()
    _change(bench, f"/jobs/{job}/close", "all_the_same=1", entered)
    seals.times_s.append(time.perf_counter() - began)
    seals.whole.append("✓ Whole: all" in _look(bench, f"/jobs/{job}/seal", entered))


def _change(bench: Bench, path: str, form: str, entered: Entered) -> None:
    status, _ = bench.ask("POST", path, form, FORM)
    if status != 302:
        entered.errors.append(f"{status} at {path}")


def _look(bench: Bench, path: str, entered: Entered) -> str:
    status, said = bench.ask("GET", path)
    if status != 200:
        entered.errors.append(f"{status} at {path}")
    return said


def _resident_mb(pid: int) -> float:
    asked = subprocess.run(["ps", "-o", "rss=", "-p", str(pid)], capture_output=True, text=True, check=True)
    return int(asked.stdout) / 1024


def table(figures: dict[str, Any]) -> str:
    """The figures as the document shows them."""
    slope, low, high = figures["mb_per_hour"]
    seals, meter = figures["seals"], figures["meter"]
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
            f"| jobs closed, of their seals whole; a closing takes (half within) | {seals['closed']}, "
            f"{seals['whole']}; {seals['p50_ms']:.0f} ms |",
            f"| asked after the meter, errors | {meter['answered']:,}, {meter['errors']} |",
            f"| half, 95 % of it, all answered within | {meter['p50_ms']:.0f}, {meter['p95_ms']:.0f}, "
            f"{meter['max_ms']:.0f} ms |",
            f"| readings by the meter, missed by its page | {meter['taken']:,}, {meter['missed']} |",
            f"| memory once warm, at the end, most | {figures['warm_mb']:.0f}, {figures['last_mb']:.0f}, "
            f"{figures['most_mb']:.0f} MB |",
            f"| it grows an hour (95 % interval) | {slope:.1f} MB ({low:.1f} to {high:.1f}) |",
        ]
    )


def block(figures: dict[str, Any]) -> str:
    """The same with room about it."""
    return f"\n{table(figures)}\n\n"
