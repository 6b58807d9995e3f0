"""A page that asks after its meter as the walk's page does, and a simulated meter with a hand on its leads.

The meter is one of PyVISA-sim, heard by the listener that a shop runs. All is invented.
"""

from __future__ import annotations

import json
import random
import re
import threading
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import unescape
from statistics import quantiles
from urllib.parse import urlencode

from barwise.report.measured.meter import rule_in_words
from barwise.talk import bench as shop_bench
from barwise.talk.bench import AwayError
from barwise.talk.listener import EVERY_S as REPORT_EVERY_S
from barwise.talk.listener import Listener
from benchmarks.entering import BARS, DONE, Bench, Entered
from tests.talk.simulated import LIBRARY, OPEN, Simulated, example

EVERY_S = 0.4
"""As often as the page of a walk asks."""
ADDRESS = "TCPIP::192.0.2.10::5025::SOCKET"
FORM = "application/x-www-form-urlencoded"
_HIDDEN = re.compile(r'name="(after|mark)" value="([^"]*)"')


@dataclass
class Polls:
    """What the pages saw: times of the answers [s], readings handed over, readings missed, errors."""

    times_s: list[float] = field(default_factory=list)
    taken: int = 0
    missed: int = 0
    errors: list[str] = field(default_factory=list)

    @property
    def figures(self) -> dict[str, float]:
        """As they are kept."""
        cuts = quantiles(self.times_s, n=100)
        times = {"p50_ms": 1e3 * cuts[49], "p95_ms": 1e3 * cuts[94], "max_ms": 1e3 * max(self.times_s)}
        counts = {"taken": self.taken, "missed": self.missed, "errors": len(self.errors)}
        return {"answered": len(self.times_s) - len(self.errors), **times, **counts}


class MeterPage:
    """A page with a meter of its own, asked as often as the walk's page asks."""

    def __init__(self, port: int, meter: int, polls: Polls) -> None:
        self.bench, self.polls, self.meter = Bench(port), polls, meter
        self.bench.sign_in()
        self._page, self._known = str(uuid.uuid4()), {"begin": "1"}
        self.state = ""

    def ask(self) -> dict[str, str] | None:
        """Ask once; the reading where one is handed over."""
        form = {"page": self._page, "how": "steady", "pedal": "", "unit": "mohm", **self._known}
        began = time.perf_counter()
        status, said = self.bench.ask("POST", f"/instruments/{self.meter}/meter", urlencode(form), FORM)
        self.polls.times_s.append(time.perf_counter() - began)
        if status != 200:
            self.polls.errors.append(f"{status} at the meter")
            return None
        self._known = {name: unescape(text) for name, text in _HIDDEN.findall(said)}
        before, self.state = self.state, self._known["mark"].partition(" ")[0]
        self.polls.missed += self.state == "missed" != before
        handed: dict[str, str] | None = json.loads(self.bench.told or "{}").get("meter")
        self.polls.taken += handed is not None
        return handed

    def poll(self, over: threading.Event) -> Iterator[dict[str, str] | None]:
        """Ask until it is over; what each answer hands over."""
        while not over.is_set():
            began = time.perf_counter()
            yield self.ask()
            over.wait(max(0.0, began + EVERY_S - time.perf_counter()))
        self.bench.close()


@contextmanager
def listener(port: int, tag: str) -> Iterator[Simulated]:
    """The leads of a simulated meter, while its listener runs."""
    leads, profile = Simulated(ADDRESS), example("milliohm-scpi")
    bench = shop_bench.Bench(f"http://127.0.0.1:{port}")
    listening = Listener(profile, bench, tag, rule_in_words(profile), lambda _: None, ADDRESS, LIBRARY)
    running = threading.Thread(target=listening.run, daemon=True)
    running.start()
    try:
        yield leads
    finally:
        listening.stop()
        running.join(30)


@contextmanager
def polled(port: int, pages: int) -> Iterator[Polls]:
    """So many pages that ask after a meter each, and as many listeners that have nothing to hand over."""
    polls, over = Polls(), threading.Event()
    opened = [MeterPage(port, n + 1, polls) for n in range(pages)]
    crew = [threading.Thread(target=lambda page=page: list(page.poll(over))) for page in opened]
    talk = (over, polls.errors)
    crew += [threading.Thread(target=_report, args=(port, f"M-{n + 1}", *talk)) for n in range(pages)]
    for one in crew:
        one.start()
    try:
        yield polls
    finally:
        over.set()
        for one in crew:
            one.join()


def _report(port: int, tag: str, over: threading.Event, errors: list[str]) -> None:
    bench, page = shop_bench.Bench(f"http://127.0.0.1:{port}"), None
    while not over.wait(REPORT_EVERY_S):
        said = {"tag": tag, "quantity": "resistance", "state": "ready", "words": "", "rule": "", "page": page}
        try:
            page = bench.report(said)["page"]
        except AwayError as error:  # as the listener does: it asks again
            errors.append(str(error))


def walk_by_meter(
    page: MeterPage, leads: Simulated, job: int, over: threading.Event, entered: Entered
) -> None:
    """Touch and lift as the page says, and enter what is handed over, one place after another."""
    at, n = random.Random(job), 0
    for handed in page.poll(over):
        if handed is not None:
            _enter(page.bench, job, n, handed, entered)
            n += 1
        if page.state == "ready":
            leads.says(reading=f"+{at.uniform(0.70, 0.72):.6f}E-03")
        elif page.state == "lift":
            leads.says(reading=OPEN)


def _enter(bench: Bench, job: int, n: int, handed: dict[str, str], entered: Entered) -> None:
    bar = n % BARS + 1
    body = {
        "key": handed["key"],
        "station": "armature",
        "check": "winding",
        "test": "resistance",
        "place_from": str(bar),
        "place_to": str(bar % BARS + 1),
        "text": handed["text"],
        "unit": "mohm",
        "said": handed["said"],
        "said_unit": handed["unit"],
    }
    began = time.perf_counter()
    status, said = bench.enter(job, body)
    entered.times_s.append(time.perf_counter() - began)
    if status in DONE:
        entered.acknowledged[handed["key"]] = handed["text"]
    else:
        entered.errors.append(f"{status} {said}")
