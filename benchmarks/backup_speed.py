"""How long a backup of a large shop takes, and whether entry waits for it.

    python -m benchmarks backup

A shop of 500,000 readings (2,000 jobs, copied within SQLite) in a folder that is thrown away, served by a
real `barwise serve`, in whose own process the backup is taken. Benches enter for a while before it, and
through it. *Taken* is from its beginning until it has its name: copied, every page of it checked, every file
of it with its checksum on the disk. After that each index is held against its table, and only then do older
ones go.
Writes docs/figures/backup-speed.json and the table of docs/backup.md.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import platform
import random
import threading
import time
from pathlib import Path
from statistics import quantiles
from typing import TYPE_CHECKING, Any

from benchmarks.blocks import put
from benchmarks.entering import Bench, Entered, Server, compare, enter_next, free_port
from benchmarks.screen_speed import copy_job, counted, invented_shop

if TYPE_CHECKING:
    from barwise.web.data_folder import DataFolder

FIGURES = Path("docs/figures/backup-speed.json")
PAGE = Path("docs/backup.md")
JOBS, BENCHES, RATE_HZ, BEFORE_S = 2000, 4, 5.0, 20.0
AIM_S, AIM_MS = 5.0, 100.0
WALKED = 1
"""The invented job whose armature the benches walk."""


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    parser.add_argument("--jobs", type=int, default=JOBS, help="jobs of 250 readings")
    parser.add_argument("--out", type=Path, default=FIGURES, help="file of the figures")


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Measure; write the figures and the document's table."""
    figures = measured(chosen.jobs)
    figures["machine"] = f"{os.cpu_count()} cores, Python {platform.python_version()}"
    chosen.out.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    if chosen.out == FIGURES:  # a trial leaves the document alone
        put(PAGE, "backup speed", f"\n{table(figures)}\n\n")
    return figures


def measured(jobs: int) -> dict[str, Any]:
    """Seconds of a backup, and milliseconds of entry before it and through it."""
    with invented_shop() as template:
        from barwise.record.models import Job
        from barwise.web.data_folder import data_folder

        copy_job(template, 1, jobs)
        Job.objects.filter(pk=WALKED).update(state="open", closed_at=None)
        readings, folder = counted()["readings"], data_folder()
        alone = _alone(folder)
        server = Server(folder.path, free_port())
        server.start()
        try:
            before, through, seconds = _entered(server)
        finally:
            server.end()
        from barwise.web.backup.kept import backups

        newest = backups(folder.copies)[0]
        newest.check()
        wrong = compare(folder.path, before) + compare(folder.path, through)
        return {
            "readings": readings,
            "megabytes": folder.database.stat().st_size / 1e6,
            "taken_s": newest.path.stat().st_ctime - newest.taken.timestamp(),
            "checked_s": seconds,
            "alone": alone,
            "before": _times(before),
            "through": _times(through),
            "wrong": len(wrong),
            "load": os.getloadavg()[0],
        }


def _alone(folder: DataFolder) -> dict[str, float]:
    """A backup while nobody enters: seconds by the clock, and of the processor."""
    from barwise.web.backup.taking import take

    clock, processor = time.perf_counter(), time.process_time()
    backup = take(folder)
    checked = time.perf_counter() - clock
    return {
        "taken_s": backup.path.stat().st_ctime - backup.taken.timestamp(),
        "checked_s": checked,
        "processor_s": time.process_time() - processor,
    }


def _entered(server: Server) -> tuple[Entered, Entered, float]:
    """Entry before a backup and through it, and how long the press on its button took to be answered."""
    crew = [Bench(server.port, "Vera (invented)") for _ in range(BENCHES)]
    for bench in crew:
        bench.sign_in()
    before = _while(crew, 1, lambda: time.sleep(BEFORE_S))
    began = time.perf_counter()
    through = _while(crew, 2, lambda: _press(server.port))
    return before, through, time.perf_counter() - began


def _while(crew: list[Bench], seed: int, act: Any) -> Entered:
    over, entered = threading.Event(), Entered()

    def enter(bench: Bench, at: random.Random) -> None:
        n = 0
        while not over.is_set():
            began = time.perf_counter()
            enter_next(bench, WALKED, n % 56, at, entered)
            n += 1
            time.sleep(max(0.0, 1 / RATE_HZ - (time.perf_counter() - began)))

    hands = [
        threading.Thread(target=enter, args=(bench, random.Random(100 * seed + n)))
        for n, bench in enumerate(crew)
    ]
    for hand in hands:
        hand.start()
    try:
        act()
    finally:
        over.set()
        for hand in hands:
            hand.join()
    return entered


def _press(port: int) -> None:
    """The button of the page, as a browser presses it."""
    bench = Bench(port, "Vera (invented)")
    bench.sign_in()
    _, page = bench.ask("GET", "/backups")
    token = page.split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=600)
    cookies = "; ".join(f"{name}={text}" for name, text in bench.cookies.items())
    kind = "application/x-www-form-urlencoded"
    line.request(
        "POST", "/backups", f"csrfmiddlewaretoken={token}", {"Cookie": cookies, "Content-Type": kind}
    )
    status = line.getresponse().status
    line.close()
    bench.close()
    assert status == 302, status


def _times(entered: Entered) -> dict[str, Any]:
    cuts = quantiles(entered.times_s, n=100)
    return {
        "readings": len(entered.times_s),
        "p50_ms": 1e3 * cuts[49],
        "p95_ms": 1e3 * cuts[94],
        "max_ms": 1e3 * max(entered.times_s),
        "errors": len(entered.errors),
    }


def table(figures: dict[str, Any]) -> str:
    """The figures as the document shows them."""
    alone = figures["alone"]
    lines = [
        f"Measured on {figures['machine']}, with a load of {figures['load']:.0f} from other work.",
        "",
        f"A shop of {figures['readings']:,} readings, {figures['megabytes']:.0f} MB. While nobody enters the "
        f"backup has its name after {alone['taken_s']:.1f} s (aim {AIM_S:.0f} s) and is checked to the last "
        f"index after {alone['checked_s']:.1f} s, of which the processor works {alone['processor_s']:.1f} s; "
        f"while {BENCHES} benches enter, after {figures['taken_s']:.1f} s and {figures['checked_s']:.1f} s. "
        f"{figures['wrong']} readings entered meanwhile were lost.",
        "",
        f"| {BENCHES} benches, each {RATE_HZ:.0f} readings a second | readings | half within | 95 % within "
        "| slowest | errors |",
        "| --- | ---: | ---: | ---: | ---: | ---: |",
    ]
    for name, said in (("before", "before it"), ("through", "through it")):
        one = figures[name]
        lines.append(
            f"| {said} | {one['readings']} | {one['p50_ms']:.0f} ms | {one['p95_ms']:.0f} ms "
            f"| {one['max_ms']:.0f} ms | {one['errors']} |"
        )
    return "\n".join(lines)
