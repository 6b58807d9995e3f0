"""A real `barwise serve` with a shop of its own, for tests that want the whole thing."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

BARWISE = [sys.executable, "-m", "barwise.cli.main"]


def free_port() -> int:
    with closing(socket.socket()) as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def environment(folder: Path, **more: str) -> dict[str, str]:
    ours = ("BARWISE_", "DATABASE_", "DJANGO_")
    others = {name: value for name, value in os.environ.items() if not name.startswith(ours)}
    return {**others, "BARWISE_DATA": str(folder), **more}


def barwise(folder: Path, *arguments: str, given: str = "", **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*BARWISE, *arguments],
        env=environment(folder, **more),
        input=given,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


@contextmanager
def served(folder: Path, port: int, said: list[str], *options: str) -> Iterator[subprocess.Popen[str]]:
    """A server of its own, ended afterwards; what it printed is then in `said`."""
    running = subprocess.Popen(
        [*BARWISE, "serve", "--port", str(port), *options],
        env=environment(folder, PYTHONUNBUFFERED="1"),
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
            said.append(running.communicate(timeout=20)[0])


def _wait(port: int, running: subprocess.Popen[str]) -> None:
    for _ in range(300):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            if running.poll() is not None:
                raise AssertionError(running.communicate()[0]) from None
            time.sleep(0.1)
        else:
            return
    raise AssertionError("it does not listen")
