"""The invented shop has four jobs in different states, says that it is invented, and holds what it says."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connections

from barwise.record.handover import rebuild_record
from barwise.record.models import Customer, Job, Shop, Unit
from barwise.record.refusals import RecordError
from barwise.record.results import current_result
from barwise.record.shop import demo_shop
from barwise.record.standing import job_stand, on_hand

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", ["readings.csv", "profile.csv"])
def test_the_shop_uses_the_files_of_the_demonstration(name: str) -> None:
    packaged = ROOT / "src/barwise/record/invented" / name
    assert packaged.read_bytes() == (ROOT / "examples/demo" / name).read_bytes()


@pytest.fixture
def in_the_invented_shop(
    invented_shop: Path, tmp_path: Path, settings: Any, django_db_blocker: Any
) -> Iterator[None]:
    """The database that `barwise demo` made, as a copy, in the place of the one of the tests."""
    folder, own = shutil.copytree(invented_shop, tmp_path / "shop"), connections["default"]
    settings.MEDIA_ROOT = str(folder / "photos")
    with django_db_blocker.unblock():
        theirs = connections["default"] = own.copy()
        theirs.settings_dict["NAME"] = str(folder / "barwise.sqlite3")
        try:
            yield
        finally:
            theirs.close()
            connections["default"] = own


@pytest.mark.on_one_database
def test_the_invented_shop_has_four_jobs_and_its_run_test_finds_the_hidden_fault(
    in_the_invented_shop: None,
) -> None:
    bench, waiting, closed, mended = Job.objects.order_by("id")
    assert [job.state for job in (bench, waiting, closed, mended)] == ["open", "waiting", "closed", "closed"]
    assert [stand.job for stand in on_hand()] == [waiting, bench]
    winding = current_result(bench, "armature", "winding")
    assert winding.decision == "reject"
    assert current_result(bench, "commutator", "cut").details["plan"]["verdict"] == "cut"
    assert [one.name for one in job_stand(waiting).rejected] == ["armature.insulation"]
    finished = job_stand(closed)
    assert finished.questions == ()
    assert finished.rejected == ()
    assert finished.done > 50
    for model in (Shop, Job, Customer, Unit):
        assert not model.objects.filter(invented=False).exists()
    _found_by_the_run_test_and_mended(mended)
    with pytest.raises(RecordError, match="expected an empty one"):
        demo_shop()


def _found_by_the_run_test_and_mended(job: Job) -> None:
    """Every part of it had passed; the run test finds what is wrong, a joint confirms it, and it runs."""
    checks = {one.stand.name: one for one in rebuild_record(job).checks}
    then = checks["run.verdict"].before
    assert then is not None
    assert then.result.decision == "reject"
    assert then.result.details["run"]["causes"][0]["key"] == "open-field-path"
    assert then.result.details["run"]["causes"][0]["probability"] > 0.9
    for name in ("brushes.seating-share", "drive.clutch-weight", "bearings.air-gap"):
        assert checks[name].stand.decision == "accept", name
    rejected = {name for name, one in checks.items() if one.before and one.before.result.decision == "reject"}
    assert rejected == {"frame.joints", "run.verdict", "run.lock-torque"}
    assert job_stand(job).rejected == ()
    assert job_stand(job).questions == ()
    assert current_result(job, "run", "verdict").decision == "accept"
