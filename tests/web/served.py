"""A real `barwise serve` with a shop of its own, for tests that want the whole thing."""

from __future__ import annotations

import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from http.client import HTTPConnection
from pathlib import Path

from benchmarks.entering import environment, free_port

__all__ = ["barwise", "free_port", "served"]

PATIENCE_S = 120.0
BARWISE = [sys.executable, "-m", "barwise.cli.main"]


def barwise(folder: Path, *arguments: str, given: str = "", **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*BARWISE, *arguments],
        env=environment(folder, **more),
        input=given,
        capture_output=True,
        text=True,
        check=False,
        timeout=1200,
    )


@contextmanager
def served(folder: Path, port: int, said: list[str], *options: str) -> Iterator[subprocess.Popen[str]]:
    """A server of its own, ended afterwards; what it printed is then in `said`."""
    # Into a file: a pipe that nobody empties would hold the server up once it is full.
    with tempfile.TemporaryFile("w+", encoding="utf-8") as log:
        running = subprocess.Popen(
            [*BARWISE, "serve", "--port", str(port), *options],
            env=environment(folder),
            stdout=log,
            stderr=subprocess.STDOUT,
            text=True,
        )
        with running:
            try:
                listens = _waited(port, running)
                if listens:
                    yield running
            finally:
                running.send_signal(signal.SIGTERM)
                running.wait(PATIENCE_S)
                log.seek(0)
                said.append(log.read())
        assert listens, f"it does not listen: {said[-1]}"


def _waited(port: int, running: subprocess.Popen[str]) -> bool:
    """Whether it answers; its first page takes far longer than the others, and no test is to wait for it."""
    latest = time.monotonic() + PATIENCE_S
    while running.poll() is None and time.monotonic() < latest:
        try:
            with closing(HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)) as asked:
                asked.request("GET", "/who")
                asked.getresponse().read()
                return True
        except ConnectionError:
            time.sleep(0.1)
    return False
