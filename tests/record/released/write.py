"""Writes the database of this version as SQL, to be kept for the tests of later ones.

    python tests/record/released/write.py        before each release that changed the tables

The file is named after the newest migration of the record, so one that changed nothing writes the same name.
"""

from __future__ import annotations

import os
import sqlite3
import sys
import tempfile
from contextlib import closing
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent.parent.parent))


def write() -> Path:
    """Build an invented job in an empty database and write all of it down."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ.update(BARWISE_DATA=folder, DJANGO_SETTINGS_MODULE="barwise.web.settings")
        os.environ.pop("DATABASE_URL", None)
        import django

        django.setup()
        from django.core.management import call_command
        from django.db import connection
        from django.db.migrations.recorder import MigrationRecorder

        call_command("migrate", verbosity=0)
        from tests.record.test_approvals import said
        from tests.record.test_exchange import busy_job

        said(busy_job(), None)
        applied = MigrationRecorder(connection).applied_migrations()
        newest = max(name for app, name in applied if app == "record")
        connection.close()
        with closing(sqlite3.connect(Path(folder) / "barwise.sqlite3")) as database:
            dump = "\n".join(database.iterdump()) + "\n"
    there = HERE / f"{newest}.sql"
    there.write_text(dump, encoding="utf-8")
    return there


if __name__ == "__main__":
    sys.stdout.write(f"{write()}\n")
