"""A check that leans on others is decided when its reading is in, and again when what it leans on is read."""

from __future__ import annotations

from collections.abc import Callable

from barwise.record.models import Job
from barwise.record.results import newest_result
from barwise.record.standing import job_stand

Take = Callable[..., object]


def test_coil_drops_are_decided_with_the_last_coil_and_again_with_the_current(job: Job, take: Take) -> None:
    """42 mV at the sheet's 20 A; at 10 A the same drops are twice the sheet's (Ohm's law)."""
    for coil in ("1", "2", "3", "4"):
        take("frame", "coil-drop", "42.1", unit="mV", place_from=coil)
    first = newest_result(job, "frame", "coil-drop")
    assert first is not None
    assert first.decision == "accept"
    take("frame", "feed-current", "10.0", unit="A")
    after = newest_result(job, "frame", "coil-drop")
    assert after is not None
    assert after.decision == "reject"
    stand = next(one for one in job_stand(job).checks if one.name == "frame.coil-drop")
    assert (stand.decision, stand.out_of_date) == ("reject", False)
