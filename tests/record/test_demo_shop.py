"""The invented shop has four jobs in different states, says that it is invented, and holds what it says."""

from __future__ import annotations

from pathlib import Path

import pytest

from barwise.record.models import Customer, Job, Shop, Unit
from barwise.record.refusals import RecordError
from barwise.record.results import current_result
from barwise.record.shop import demo_shop
from barwise.record.standing import job_stand, on_hand

pytestmark = pytest.mark.django_db
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", ["readings.csv", "profile.csv"])
def test_the_shop_uses_the_files_of_the_demonstration(name: str) -> None:
    packaged = ROOT / "src/barwise/record/invented" / name
    assert packaged.read_bytes() == (ROOT / "examples/demo" / name).read_bytes()


def test_the_invented_shop_has_four_jobs_and_its_run_test_finds_the_hidden_fault() -> None:
    bench, waiting, closed, found = demo_shop()
    assert [job.state for job in Job.objects.order_by("id")] == ["open", "waiting", "closed", "open"]
    assert [stand.job for stand in on_hand()] == [waiting, found, bench]
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
    _found_by_the_run_test(found)
    with pytest.raises(RecordError, match="expected an empty one"):
        demo_shop()


def _found_by_the_run_test(found: Job) -> None:
    """Every part of it had passed; the run test finds what is wrong, and a joint confirms it."""
    said = current_result(found, "run", "verdict")
    assert said.decision == "reject"
    assert said.details["run"]["causes"][0]["key"] == "open-field-path"
    assert said.details["run"]["causes"][0]["probability"] > 0.9
    rejected = {one.name for one in job_stand(found).rejected}
    assert rejected == {"frame.joints", "run.verdict", "run.lock-torque"}
