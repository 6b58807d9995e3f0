"""A screen says when the last good backup was, and warns where it is old or the second place is missing."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.test import Client

from barwise.web.backup.kept import NAMED, backups
from barwise.web.backup.standing import standing, too_old
from barwise.web.data_folder import DataFolder, make
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(tmp_path: Path, settings) -> DataFolder:
    made = DataFolder(tmp_path / "shop")
    make(made)
    with closing(sqlite3.connect(made.database)) as database:
        database.execute("CREATE TABLE kept (id INTEGER)")
    settings.DATA = made
    return made


def test_it_is_backed_up_by_a_press_and_the_page_says_when(folder: DataFolder, bench: Client) -> None:
    assert "There is no backup of this shop yet." in said(bench.get("/"))
    assert "There is no backup" in said(bench.get("/backups"))
    assert bench.post("/backups").status_code == 302
    page = said(bench.get("/backups"))
    assert "backed up, and the backup is checked" in page
    assert "Last good backup" in page
    assert "There is no second place" in page
    assert str(folder.path / "backup.toml") in page
    assert "by itself once a day" in page
    (one,) = backups(folder.copies)
    assert f'barwise restore "{one.path}" --data "{folder.path}" --replace' in page
    assert len(backups(folder.copies)) == 1
    assert "backup" not in said(bench.get("/")).lower()


def test_an_old_backup_is_warned_of_on_the_jobs_too(folder: DataFolder, bench: Client) -> None:
    bench.post("/backups")
    (one,) = backups(folder.copies)
    before = datetime.now(UTC) - timedelta(days=5)
    one.path.rename(folder.copies / f"{before:{NAMED}}")
    assert "The last good backup is 5 days old." in said(bench.get("/"))
    assert "The last good backup is 5 days old." in said(bench.get("/backups"))
    assert too_old(folder, before + timedelta(hours=40)) == ""


def test_a_failed_backup_and_a_missing_second_place_stand_on_the_page(
    folder: DataFolder, bench: Client
) -> None:
    (folder.path / "backup.toml").write_text('second_place = "/nowhere/at all"')
    folder.database.write_bytes(b"")
    bench.post("/backups")
    page = said(bench.get("/backups"))
    assert "no backup was taken" in page
    assert "/nowhere/at all is not there: plug the drive in" in page
    (folder.path / "backup.toml").write_text("every_hours = 0")
    assert any("every_hours" in one for one in standing(folder, datetime.now(UTC)).warnings)
