"""A database of every version that was released opens in this one, with every reading and result it had.

The files in `released/` are written by `released/write.py` before a release and never changed after it.
"""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
import uuid
from contextlib import closing
from pathlib import Path

import pytest
from django.db.migrations.loader import MigrationLoader

RELEASED = sorted((Path(__file__).parent / "released").glob("*.sql"))
LOOKED_AT = "SELECT key, seq, entered, value_si, struck FROM record_reading ORDER BY id"
MIGRATED = "SELECT app, name FROM django_migrations"
RESULTS = "SELECT decision, value, line, fingerprint FROM record_result ORDER BY id"


def barwise(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    own = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return subprocess.run(
        [sys.executable, "-m", "barwise.cli.main", *arguments],
        env={**own, "BARWISE_DATA": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )


def loaded(file: Path, folder: Path) -> Path:
    database = folder / "barwise.sqlite3"
    with closing(sqlite3.connect(database)) as opened:
        opened.executescript(file.read_text(encoding="utf-8"))
    return database


def test_there_is_a_database_of_a_released_version() -> None:
    assert RELEASED


@pytest.mark.parametrize("file", RELEASED, ids=lambda file: file.stem)
def test_a_released_database_is_brought_up_to_date_with_all_it_had(file: Path, tmp_path: Path) -> None:
    database = loaded(file, tmp_path)
    with closing(sqlite3.connect(database)) as before:
        readings, results = before.execute(LOOKED_AT).fetchall(), before.execute(RESULTS).fetchall()
    assert len(readings) > 50
    checked = barwise(tmp_path, "recheck")
    # What this version sees differently is for recheck to say; that it can be worked out is for this test.
    assert checked.stderr == ""
    assert "1 job, 4 checks worked out again" in checked.stdout
    assert not any(word in checked.stdout for word in ("cannot be decided", "wrong count", "not decided"))
    with closing(sqlite3.connect(database)) as after:
        # As `migrate --check` has it, without a start of its own for each database.
        assert set(after.execute(MIGRATED)) == set(MigrationLoader(None).disk_migrations)
        assert after.execute(LOOKED_AT).fetchall() == readings
        assert after.execute(RESULTS).fetchall() == results
        with pytest.raises(sqlite3.IntegrityError, match="kept as it was written"):
            after.execute("UPDATE record_reading SET entered = 'x'")


def test_reasons_that_were_only_logged_stand_with_their_readings(tmp_path: Path) -> None:
    database = loaded(RELEASED[0].with_name("0002_kept_for_good.sql"), tmp_path)
    with closing(sqlite3.connect(database)) as before:
        said = json.dumps({"key": str(uuid.UUID(key_of(before))), "reason": "touched the wrong bar"})
        before.execute(
            "INSERT INTO record_change (at, what, line, details) VALUES (?, 'reading withdrawn', 'x', ?)",
            ("2026-01-01 00:00:00", said),
        )
        before.commit()
    assert barwise(tmp_path, "recheck").stderr == ""
    with closing(sqlite3.connect(database)) as after:
        struck = after.execute("SELECT reason FROM record_reading WHERE struck").fetchall()
        others = after.execute("SELECT DISTINCT reason FROM record_reading WHERE NOT struck").fetchall()
    assert struck == [("touched the wrong bar",)]
    assert others == [("",)]


def key_of(database: sqlite3.Connection) -> str:
    """Key of the reading that was struck out."""
    (key,) = database.execute(
        "SELECT old.key FROM record_reading one JOIN record_reading old ON old.id = one.supersedes_id "
        "WHERE one.struck"
    ).fetchone()
    return str(key)


def test_the_newest_migration_has_its_database_and_no_table_lacks_a_migration(tmp_path: Path) -> None:
    migrations = Path(__file__).parents[2] / "src/barwise/record/migrations"
    newest = max(file.stem for file in migrations.glob("0*.py"))
    assert (Path(__file__).parent / "released" / f"{newest}.sql").exists(), "run released/write.py"
    changes = barwise(tmp_path, "manage", "makemigrations", "record", "--check", "--dry-run")
    assert changes.returncode == 0, changes.stdout
