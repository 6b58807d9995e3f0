"""The shop's clock may jump: what counts goes by number, never by time."""

from __future__ import annotations

from datetime import timedelta
from unittest.mock import patch

import pytest
from django.utils import timezone

from barwise.record.in_force import in_force
from barwise.record.jobs import close_job
from barwise.record.recheck import recheck
from barwise.record.results import decide_check, newest_result
from tests.web.shop import open_invented_job, read

pytestmark = pytest.mark.django_db
AT = {"unit": "in", "place_from": "1", "track": "0.5"}
JUMPS = [timedelta(days=-400), timedelta(hours=-1), timedelta(days=400)]


@pytest.mark.parametrize("jump", JUMPS, ids=str)
def test_after_the_clock_jumped_the_later_reading_counts_and_is_numbered_after(jump: timedelta) -> None:
    job = open_invented_job()
    first = read(job, "commutator", "diameter", "1.2300", **AT).reading
    first_result = decide_check(job, "commutator", "diameter")
    with patch.object(timezone, "now", return_value=timezone.now() + jump):
        second = read(job, "commutator", "diameter", "1.2421", **AT, supersedes=first.key).reading
        again = decide_check(job, "commutator", "diameter")
    assert second.seq == first.seq + 1
    assert [row.entered for row in in_force(job, "commutator", "diameter")] == ["1.2421"]
    assert newest_result(job, "commutator", "diameter") == again != first_result
    assert recheck(job).agrees


def test_a_job_closed_while_the_clock_was_wrong_is_closed() -> None:
    job = open_invented_job()
    with patch.object(timezone, "now", return_value=timezone.now() - timedelta(days=400)):
        close_job(job)
    job.refresh_from_db()
    assert job.state == "closed"
