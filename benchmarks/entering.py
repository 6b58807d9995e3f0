"""A shop of its own, served by a real `barwise serve`, and benches that enter readings over HTTP.

Used by `benchmarks.entry_speed` and by the tests, which do the same for a shorter while. Everything in the
shop is invented.
"""

from __future__ import annotations

import contextlib
import http.client
import itertools
import json
import os
import random
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
import uuid
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

BARS = 62
SHEET = f"""
key = "bench-{BARS}-lap"
title = "Invented starter, {BARS} bars, lap wound"
family = "starter"
version = 1
invented = true

[facts]
commutator = "barrel"
field = "series"
field-coils = 4

[winding]
kind = "lap"
poles = 4
bars = {BARS}
slots = {BARS // 2}

[commutator]
bars = {BARS}
unit = "in"
brush_band = [0.1, 0.9]
"""
PEOPLE = ("Ada (invented)", "Bert (invented)")
HEALTHY_MV = 3.5
DONE = (200, 201)
PATIENCE_S = 60.0
FIRST_PORT, PORTS = 20_000, 12_000
"""Below those that a system gives to whoever asks for any (Linux: 32768 to 60999), so that nobody is given
one between its choice and the start of its server, or while that is killed and started again."""
_turns = itertools.count(97 * os.getpid())
_MAKE = "from benchmarks.entering import fill; fill({jobs}, {meters})"


def environment(folder: Path, **more: str) -> dict[str, str]:
    """Of a server or command with its own shop; `more` is set besides."""
    ours = ("BARWISE_", "DATABASE_", "DJANGO_")
    others = {name: text for name, text in os.environ.items() if not name.startswith(ours)}
    own = {"BARWISE_DATA": str(folder), "PYTHONUNBUFFERED": "1", "OPENBLAS_NUM_THREADS": "1"}
    return {**others, **own, **more}


def make_shop(folder: Path, jobs: int = 1, meters: int = 0) -> None:
    """A shop with two people, some jobs on one invented sheet and some meters, each numbered from 1."""
    made = subprocess.run(
        [sys.executable, "-c", _MAKE.format(jobs=jobs, meters=meters)],
        env={**environment(folder), "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=False,
    )
    if made.returncode:
        raise RuntimeError(made.stderr)


def fill(jobs: int, meters: int = 0) -> None:
    """Fill the shop named by BARWISE_DATA; in a process of its own, since Django is set up once."""
    from barwise.web.data_folder import data_folder
    from barwise.web.started import prepare

    prepare(data_folder())
    from barwise.record.instruments import Figures, add_instrument
    from barwise.record.jobs import add_customer, add_unit, open_job
    from barwise.record.models import Person
    from barwise.record.sheets import store_sheet

    for name in PEOPLE:
        Person.objects.create(name=name)
    sheet = store_sheet(SHEET)
    customer = add_customer("Invented Farm", invented=True)
    for number in range(1, jobs + 1):
        unit = add_unit(f"W-{number}", "starter", invented=True)
        open_job(unit, customer, sheet, "cranks slowly", invented=True)
    for number in range(1, meters + 1):
        add_instrument(f"M-{number}", "milliohm meter", Figures(1e-6), "resistance", "mohm")


def free_port() -> int:
    """A port nobody uses just now, and never the same again; processes that run at once begin far apart."""
    for turn in itertools.islice(_turns, PORTS):
        port = FIRST_PORT + turn % PORTS
        with closing(socket.socket()) as one, contextlib.suppress(OSError):
            one.bind(("127.0.0.1", port))
            return port
    raise RuntimeError("every port is in use")


class Server:
    """`barwise serve` that can be killed and started again on the same port and shop."""

    def __init__(self, folder: Path, port: int) -> None:
        self.folder, self.port = folder, port
        self.running: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start it and wait until it answers."""
        # Into a file: a pipe that nobody empties would hold the server up once it is full.
        said = self.folder.with_name(f"{self.folder.name}-said.txt")
        with said.open("wb") as log:
            self.running = subprocess.Popen(
                [sys.executable, "-m", "barwise.cli.main", "serve", "--port", str(self.port)],
                env=environment(self.folder),
                stdout=subprocess.DEVNULL,
                stderr=log,
            )
        for _ in range(2400):
            if self.running.poll() is not None:
                raise RuntimeError(f"the server stopped: {said.read_text(encoding='utf-8')[-2000:]}")
            try:
                with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=2)) as asked:
                    asked.request("GET", "/health")
                    asked.getresponse().read()
                    return
            except OSError:
                time.sleep(0.05)
        raise RuntimeError("the server does not answer")

    def end(self, how: signal.Signals = signal.SIGTERM) -> None:
        """End it; SIGKILL leaves it no time for anything."""
        if self.running is not None:
            self.running.send_signal(how)
            with self.running:
                self.running.communicate(timeout=120)
            self.running = None


class Bench:
    """One browser's part: a name picked, a session, and readings sent by key until they are acknowledged."""

    def __init__(self, port: int, person: str = PEOPLE[0]) -> None:
        self.port, self.person = port, person
        self.cookies: dict[str, str] = {}
        self.told = ""
        """What the last answer had to tell the page's script."""
        self._line: http.client.HTTPConnection | None = None

    def sign_in(self) -> None:
        """Pick the name on the screen, as somebody at this computer does."""
        _, page = self.ask("GET", "/who")
        token = re.search(r'name="csrf-token" content="([^"]+)"', page)
        assert token is not None
        form = f"name={self.person.replace(' ', '+')}&csrfmiddlewaretoken={token[1]}"
        status, _ = self.ask("POST", "/who", form, "application/x-www-form-urlencoded")
        assert status == 302, status

    def close(self) -> None:
        """Hang up; the next request makes a line of its own."""
        if self._line is not None:
            self._line.close()
            self._line = None

    def enter(self, job: int, body: dict[str, Any]) -> tuple[int, dict[str, Any]]:
        """Send one reading once."""
        status, said = self.ask("POST", f"/api/v1/jobs/{job}/readings", json.dumps(body))
        return status, json.loads(said) if said.startswith("{") else {}

    def ask(self, method: str, path: str, body: str = "", kind: str = "application/json") -> tuple[int, str]:
        """One request on a line that stays open. Raises OSError or HTTPException if the server is away."""
        if self._line is None:
            self._line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        headers = {"Cookie": "; ".join(f"{name}={text}" for name, text in self.cookies.items())}
        if body:
            headers |= {"Content-Type": kind, "X-CSRFToken": self.cookies.get("csrftoken", "")}
        try:
            self._line.request(method, path, body or None, headers)
            answer = self._line.getresponse()
            said = answer.read().decode()
        except (OSError, http.client.HTTPException):
            self.close()
            raise
        self.told = answer.getheader("HX-Trigger", "")
        for name, text in answer.getheaders():
            if name.lower() == "set-cookie":
                cookie, _, content = text.partition(";")[0].partition("=")
                self.cookies[cookie] = content
        return answer.status, said


def reading(n: int, key: str, at: random.Random) -> dict[str, Any]:
    """The n-th reading of a walk that goes round and round: drops, then induced."""
    bar = n % BARS + 1
    test = "drop" if (n // BARS) % 2 == 0 else "induced"
    return {
        "key": key,
        "station": "armature",
        "check": "winding",
        "test": test,
        "place_from": str(bar),
        "place_to": str(bar % BARS + 1),
        "text": f"{HEALTHY_MV * at.uniform(0.99, 1.01):.3f}",
        "unit": "mV",
        "feed": {"into": 1, "out": 1 + BARS // 2, "amps": 10.0} if test == "drop" else None,
        "seconds_ago": 0.0,
        "hint": False,
    }


@dataclass
class Entered:
    """What the benches saw: times to the acknowledgement [s], errors, and what was acknowledged."""

    times_s: list[float] = field(default_factory=list)
    follow_s: list[float] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    acknowledged: dict[str, str] = field(default_factory=dict)
    """Text by key."""


def enter_steadily(
    bench: Bench, job: int, rate_hz: float, seconds: float, seed: int, entered: Entered
) -> None:
    """One bench entering at a steady rate and following the walk as its page does, once a second."""
    at = random.Random(seed)
    start = time.perf_counter() + at.uniform(0, 1 / rate_hz)
    seen = 0
    for n in range(int(rate_hz * seconds)):
        time.sleep(max(0.0, start + (n + at.uniform(-0.2, 0.2)) / rate_hz - time.perf_counter()))
        body = enter_next(bench, job, n, at, entered)
        if body is not None and n % round(rate_hz) == 0:
            seen = _follow(bench, job, body, seen, entered)


def enter_next(
    bench: Bench, job: int, n: int, at: random.Random, entered: Entered
) -> dict[str, Any] | None:
    """Send the n-th reading once and note what became of it; the reading where it was acknowledged."""
    key = str(uuid.UUID(int=at.getrandbits(128), version=4))
    body = reading(n, key, at)
    began = time.perf_counter()
    status, said = bench.enter(job, body)
    entered.times_s.append(time.perf_counter() - began)
    if status != 201:
        entered.errors.append(f"{status} {said}")
        return None
    entered.acknowledged[key] = body["text"]
    return body


def _follow(bench: Bench, job: int, body: dict[str, Any], seen: int, entered: Entered) -> int:
    feed = body["feed"]
    setup = (
        "" if feed is None else f"&feed_from={feed['into']}&feed_to={feed['out']}&feed_amps={feed['amps']}"
    )
    path = f"/api/v1/jobs/{job}/armature/winding/walk?test={body['test']}&unit=mV{setup}&after={seen}"
    began = time.perf_counter()
    status, said = bench.ask("GET", path)
    entered.follow_s.append(time.perf_counter() - began)
    if status != 200:
        entered.errors.append(f"follow {status}")
        return seen
    return int(json.loads(said)["last"])


def enter_through_kills(bench: Bench, job: int, seed: int, over: threading.Event, entered: Entered) -> None:
    """One bench that sends each reading under its key until it is acknowledged, whatever happens."""
    at = random.Random(seed)
    n = 0
    while not over.is_set():
        key = str(uuid.UUID(int=at.getrandbits(128), version=4))
        body = reading(n, key, at)
        while not over.is_set():
            try:
                status, said = bench.enter(job, body)
            except (OSError, http.client.HTTPException):
                time.sleep(0.02)
                continue
            if status in DONE:
                entered.acknowledged[key] = body["text"]
                n += 1
            else:
                entered.errors.append(f"{status} {said}")
            break
        time.sleep(at.uniform(0, 0.05))


def kill_at_random(server: Server, kills: int, benches: int, seed: int = 1) -> tuple[Entered, list[str]]:
    """Kill the server again and again while benches enter; then compare what they were told with the disk.

    Returns
    -------
    Entered, list of str
        What was acknowledged; and each reading that is not on the disk exactly once, or with another text.
    """
    at, over, entered = random.Random(seed), threading.Event(), Entered()
    server.start()
    crew = [Bench(server.port, PEOPLE[n % len(PEOPLE)]) for n in range(benches)]
    for bench in crew:
        bench.sign_in()
    hands = [
        threading.Thread(target=enter_through_kills, args=(bench, 1, seed * 1000 + n, over, entered))
        for n, bench in enumerate(crew)
    ]
    for hand in hands:
        hand.start()
    for _ in range(kills):
        known = len(entered.acknowledged)
        time.sleep(at.uniform(0.05, 1.0))
        while len(entered.acknowledged) <= known + benches:  # a slow computer is given its time
            time.sleep(0.02)
        server.end(signal.SIGKILL)
        server.start()
    time.sleep(0.5)
    over.set()
    for hand, bench in zip(hands, crew, strict=True):
        hand.join()
        bench.close()
    server.end()
    return entered, compare(server.folder, entered)


def compare(folder: Path, entered: Entered) -> list[str]:
    """Each acknowledged reading that is not on the disk exactly once, or has another text there."""
    with closing(sqlite3.connect(folder / "barwise.sqlite3")) as database:
        rows = database.execute("SELECT key, entered FROM record_reading").fetchall()
        damaged = database.execute("PRAGMA integrity_check").fetchone()[0]
    kept: dict[str, list[str]] = {}
    for key, text in rows:
        kept.setdefault(str(uuid.UUID(key)), []).append(text)
    wrong = [] if damaged == "ok" else [f"the database: {damaged}"]
    for key, text in entered.acknowledged.items():
        if kept.get(key) != [text]:
            wrong.append(f"{key}: acknowledged {text}, kept {kept.get(key)}")
    wrong += [f"{key}: kept {len(texts)} times" for key, texts in kept.items() if len(texts) > 1]
    return wrong
