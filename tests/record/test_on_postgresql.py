"""The record keeps its promises on PostgreSQL too: every test of it that asks a database, run there.

The lists, and the interface that enters, run there as well, so that no query of theirs is SQLite's alone.
What is marked `on_one_database` asks the database nothing that the others do not ask as well: many altered
files brought in, or a whole invented shop taken in by the calls that every other test takes readings by.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.record.postgresql import postgresql

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
ASK_NO_DATABASE = ("test_typed.py", "test_released_databases.py", "test_on_postgresql.py")
PAGES = ("test_api.py", "test_jobs.py", "test_history.py")


@pytest.mark.skipif("DATABASE_URL" in os.environ, reason="this run is on PostgreSQL")
def test_every_test_of_the_record_and_its_pages_passes_on_postgresql(
    tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    with postgresql(tmp_path_factory.mktemp("runtime")) as url:
        ran = run_there(url, tmp_path / "shop")
    assert ran.returncode == 0, ran.stdout[-4000:]
    last = ran.stdout.splitlines()[-1]
    assert " passed" in last
    assert "skipped" not in last


def run_there(url: str, shop: Path) -> subprocess.CompletedProcess[str]:
    ignored = [f"--ignore={HERE / name}" for name in ASK_NO_DATABASE]
    pages = [str(ROOT / "tests" / "web" / name) for name in PAGES]
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
    # In one process: the rest of the suite has the other core meanwhile.
    own = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST_XDIST")}
    return subprocess.run(
        [*command, str(HERE), *pages, *ignored, "-m", "not on_one_database"],
        env={**own, "DATABASE_URL": url, "BARWISE_DATA": str(shop)},
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
