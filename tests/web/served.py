"""A real `barwise serve` with a shop of its own, for tests that want the whole thing."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from benchmarks.entering import environment, free_port

__all__ = ["barwise", "free_port", "served"]

BARWISE = [sys.executable, "-m", "barwise.cli.main"]


def barwise(folder: Path, *arguments: str, given: str = "", **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*BARWISE, *arguments],
        env=environment(folder, **more),
        input=given,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )


@contextmanager
def served(folder: Path, port: int, said: list[str], *options: str) -> Iterator[subprocess.Popen[str]]:
    """A server of its own, ended afterwards; what it printed is then in `said`."""
    running = subprocess.Popen(
        [*BARWISE, "serve", "--port", str(port), *options],
        env=environment(folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    with running:
        try:
            _wait(port, running)
            yield running
        finally:
            running.send_signal(signal.SIGTERM)
            said.append(running.communicate(timeout=120)[0])


def _wait(port: int, running: subprocess.Popen[str]) -> None:
    for _ in range(1200):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            if running.poll() is not None:
                raise AssertionError(running.communicate()[0]) from None
            time.sleep(0.1)
        else:
            return
    raise AssertionError("it does not listen")
