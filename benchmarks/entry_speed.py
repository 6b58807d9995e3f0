"""How fast a reading is on the disk with eight benches entering, and whether one is ever lost to a kill -9.

    python -m benchmarks entry            all, about twenty minutes
    python -m benchmarks entry load
    python -m benchmarks entry meters         with and without eight pages that poll a meter, by turns
    python -m benchmarks entry kill --kills 20
    python -m benchmarks entry kill --kills 300 --more      adds to the kills that are kept, at other moments

Both run against a real `barwise serve` on SQLite in a folder that is thrown away. The time of a reading is
what the bench sees: from sending it to being told that it is on the disk. Each bench also asks once a second
what others read, as its page does. Writes docs/figures/entry-speed.json and the tables of docs/entering.md.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import sys
import tempfile
import threading
import time
from pathlib import Path
from statistics import quantiles
from typing import Any

from benchmarks import blocks
from benchmarks.entering import (
    Bench,
    Entered,
    Server,
    compare,
    enter_steadily,
    free_port,
    kill_at_random,
    make_shop,
)
from benchmarks.polling import Polls, polled

FIGURES = Path("docs/figures/entry-speed.json")
PAGE = Path("docs/entering.md")
BENCHES, RATE_HZ, SECONDS = 8, 2.0, 60.0
PAGES, ROUNDS = 8, 4
KILLS, KILL_BENCHES = 200, 4
AIM_MS = 60.0


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("which", nargs="?", choices=("load", "meters", "kill"))
    parser.add_argument("--seconds", type=float, default=SECONDS)
    parser.add_argument("--kills", type=int, default=KILLS)
    parser.add_argument("--more", action="store_true", help="add to the kills of the runs before")
    parser.add_argument("--out", type=Path, default=FIGURES, help="file of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Enter under load, and through kills; write the figures and the document's tables."""
    figures: dict[str, Any] = {}
    if chosen.out.exists():
        figures = json.loads(chosen.out.read_text(encoding="utf-8"))
    if chosen.which in (None, "load"):
        figures["load"] = load(chosen.seconds)
    if chosen.which in (None, "meters"):
        figures["meters"] = with_meters(chosen.seconds / ROUNDS)
    if chosen.which in (None, "kill"):
        kept = figures.get("kill") if chosen.more else None
        runs = kept.get("runs", 1) if kept else 0
        figures["kill"] = added(kept, kill(chosen.kills, seed=1 + runs))
    figures["machine"] = f"{os.cpu_count()} cores, Python {platform.python_version()}"
    chosen.out.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    if chosen.out == FIGURES:  # a trial leaves the document alone
        PAGE.write_text(filled(PAGE.read_text(encoding="utf-8"), figures), encoding="utf-8")
    if figures.get("kill", {}).get("wrong"):
        sys.exit(f"readings were lost\n{table(figures)}")
    return figures


def load(seconds: float, benches: int = BENCHES, rate_hz: float = RATE_HZ) -> dict[str, Any]:
    """Milliseconds to the acknowledgement with all benches entering at once, each on its own job."""
    entered, _, wrong = _loaded(seconds, benches, rate_hz, pages=0)
    cuts = quantiles(entered.times_s, n=100)
    follow = quantiles(entered.follow_s, n=100)
    return {
        "benches": benches,
        "rate_hz": rate_hz,
        "seconds": seconds,
        "readings": len(entered.times_s),
        "p50_ms": 1e3 * cuts[49],
        "p95_ms": 1e3 * cuts[94],
        "p99_ms": 1e3 * cuts[98],
        "max_ms": 1e3 * max(entered.times_s),
        "follow_p95_ms": 1e3 * follow[94],
        "errors": len(entered.errors),
        "wrong": len(wrong),
    }


def with_meters(
    seconds: float, benches: int = BENCHES, pages: int = PAGES, rounds: int = ROUNDS
) -> dict[str, Any]:
    """The same with and without pages that poll a meter, by turns, since the machine is never the same."""
    times: dict[int, list[float]] = {0: [], pages: []}
    polls, errors = Polls(), list[str]()
    for _ in range(rounds):
        for polling in times:
            entered, seen, wrong = _loaded(seconds, benches, RATE_HZ, polling)
            times[polling] += entered.times_s
            polls.times_s += seen.times_s
            errors += [*entered.errors, *seen.errors, *wrong]
    for line in errors[:10]:
        print(line)
    without, beside = (quantiles(found, n=100) for found in times.values())
    return {
        "pages": pages,
        "readings": sum(map(len, times.values())),
        "p50_ms": 1e3 * beside[49],
        "p95_ms": 1e3 * beside[94],
        "p50_ratio": beside[49] / without[49],
        "p95_ratio": beside[94] / without[94],
        "polls": len(polls.times_s),
        "poll_p95_ms": polls.figures["p95_ms"],
        "errors": len(errors),
    }


def _loaded(seconds: float, benches: int, rate_hz: float, pages: int) -> tuple[Entered, Polls, list[str]]:
    """What benches and pages saw of a server of their own, and the readings that are not on its disk."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop"
        make_shop(shop, benches, meters=pages)
        server, entered = Server(shop, free_port()), Entered()
        server.start()
        try:
            crew = [Bench(server.port) for _ in range(benches)]
            for n, bench in enumerate(crew):
                bench.sign_in()
                enter_steadily(bench, n + 1, 20.0, 0.25, 900 + n, Entered())  # warm
            hands = [
                threading.Thread(target=enter_steadily, args=(bench, n + 1, rate_hz, seconds, n, entered))
                for n, bench in enumerate(crew)
            ]
            with polled(server.port, pages) as polls:
                for hand in hands:
                    hand.start()
                for hand, bench in zip(hands, crew, strict=True):
                    hand.join()
                    bench.close()
        finally:
            server.end()
        return entered, polls, compare(shop, entered)


def added(kept: dict[str, Any] | None, new: dict[str, Any]) -> dict[str, Any]:
    """The figures of several runs together."""
    if kept is None:
        return {**new, "runs": 1}
    sums = ("kills", "acknowledged", "wrong", "errors", "seconds")
    return {**new, **{name: kept[name] + new[name] for name in sums}, "runs": kept.get("runs", 1) + 1}


def kill(kills: int, benches: int = KILL_BENCHES, seed: int = 1) -> dict[str, Any]:
    """Readings acknowledged and lost while the server is killed again and again."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "shop"
        make_shop(shop)
        began = time.perf_counter()
        entered, wrong = kill_at_random(Server(shop, free_port()), kills, benches, seed)
    for line in (*wrong[:10], *entered.errors[:10]):
        print(line)
    return {
        "kills": kills,
        "benches": benches,
        "acknowledged": len(entered.acknowledged),
        "wrong": len(wrong),
        "errors": len(entered.errors),
        "seconds": time.perf_counter() - began,
    }


def table(figures: dict[str, Any]) -> str:
    """The figures as the document shows them."""
    lines = [f"Measured on {figures['machine']}.", ""]
    if "load" in figures:
        one = figures["load"]
        lines += [
            "| benches, each 2 readings a second | readings | half within | 95 % within (aim 60 ms) "
            "| 99 % within | slowest | errors |",
            "| ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
            f"| {one['benches']} | {one['readings']} | {one['p50_ms']:.0f} ms | {one['p95_ms']:.0f} ms "
            f"| {one['p99_ms']:.0f} ms | {one['max_ms']:.0f} ms | {one['errors']} |",
            "",
        ]
    if "meters" in figures:
        one = figures["meters"]
        lines += [
            "| pages that poll a meter beside them | half within, times without | 95 % within, times without "
            "| polls | 95 % of them answered within | errors |",
            "| ---: | ---: | ---: | ---: | ---: | ---: |",
            f"| {one['pages']} | {one['p50_ms']:.0f} ms, {one['p50_ratio']:.1f} "
            f"| {one['p95_ms']:.0f} ms, {one['p95_ratio']:.1f} | {one['polls']} "
            f"| {one['poll_p95_ms']:.0f} ms | {one['errors']} |",
            "",
        ]
    if "kill" in figures:
        one = figures["kill"]
        lines += [
            "| kill -9 of the server | benches entering | readings acknowledged | lost, doubled or changed |",
            "| ---: | ---: | ---: | ---: |",
            f"| {one['kills']} times | {one['benches']} | {one['acknowledged']} | {one['wrong']} |",
            "",
        ]
    return "\n".join(lines)


def filled(page: str, figures: dict[str, Any]) -> str:
    """The document with these figures in it."""
    return blocks.filled(page, "entry speed", f"\n{table(figures)}\n")
