"""The walk's page: how it is set up, what it hands to its script, and the form where no script runs."""

from __future__ import annotations

import json
import re
import uuid
from typing import Any

import pytest
from django.test import Client

from barwise.machine.feed import Feed
from barwise.record.in_force import in_force
from barwise.record.jobs import close_job
from barwise.record.models import Job, Reading
from barwise.record.walking import walk_plan
from tests.web.shop import bench_client, open_invented_job, read

pytestmark = pytest.mark.django_db
FED = {"test": "drop", "feed_from": "1", "feed_to": "15", "feed_amps": "10"}


def at(job: Job, station: str = "armature", check: str = "winding") -> str:
    return f"/jobs/{job.pk}/{station}/{check}/walk"


def handed(answer: Any) -> dict[str, Any]:
    """What the page hands to its script."""
    found = re.search(
        r'<script id="walk-plan" type="application/json">(.*?)</script>', answer.content.decode()
    )
    plan: dict[str, Any] = json.loads(found[1])
    return plan


def drop(job: Job, bar: int, text: str, feed: Feed | None = None) -> Reading:
    place = {"place_from": str(bar), "place_to": str(bar % 57 + 1)}
    taken = read(job, "armature", "winding", text, test="drop", feed=feed or Feed(1, 15, 10.0), **place)
    return taken.reading


def test_a_test_that_is_fed_asks_for_the_feed_first_and_offers_the_usual_one(bench: Client, job: Job) -> None:
    said = bench.get(at(job), {"test": "drop"}).content.decode()
    assert "Where does the current go in and out, and how much?" in said
    assert re.search(r'name="feed_to" value="15"', said)  # one pole pitch of a wave winding of 57 bars
    assert "The feed heats the winding" in said
    assert "walk-plan" not in said


def test_a_test_without_a_feed_begins_at_once_with_its_caution_in_sight(bench: Client, job: Job) -> None:
    answer = bench.get(at(job), {"test": "ground"})
    assert [stop[:2] for stop in handed(answer)["stops"][:2]] == [["1", "shaft"], ["2", "shaft"]]
    message = re.search(r'<div id="said".*?</div>', answer.content.decode(), re.DOTALL)[0]
    assert "A mains-fed test lamp can kill" in message


def test_the_walk_is_set_up_as_it_was_taken_last(bench: Client, job: Job) -> None:
    drop(job, 1, "3.5", Feed(2, 16, 8.0))
    plan = handed(bench.get(at(job), {"test": "drop"}))
    assert (plan["feed"], plan["unit"]) == ({"into": 2, "out": 16, "amps": 8.0}, "mV")
    assert [row["text"] for row in plan["rows"]] == ["3.5"]


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({**FED, "feed_to": "1"}, "another bar than where the current goes in"),
        ({**FED, "feed_to": "58"}, "a bar from 1 to 57"),
        ({**FED, "feed_amps": "0"}, "a current above 0 in amperes"),
        ({**FED, "unit": "in"}, "one of V, mV, uV"),
        ({"test": "drpo"}, "one of drop, induced"),
        ({"test": "drop", "instrument": "99", **FED}, "an instrument for voltage, or none"),
    ],
)
def test_a_setup_that_cannot_be_is_refused_with_what_was_typed_still_there(
    bench: Client, job: Job, said: dict[str, str], message: str
) -> None:
    page = bench.get(at(job), said).content.decode()
    assert message in page
    if "feed_amps" in said:
        assert f'name="feed_amps" value="{said["feed_amps"]}"' in page


def test_a_page_of_no_walk_or_no_check_is_not_there(bench: Client, job: Job) -> None:
    assert bench.get(at(job, check="look")).status_code == 404
    assert bench.get(at(job, check="nothing")).status_code == 404
    assert bench.get(at(job, station="nowhere")).status_code == 404


def test_bars_that_no_sheet_knows_are_asked_for(bench: Client) -> None:
    job = open_invented_job(sheet="")
    assert "How many bars?" in bench.get(at(job), {"test": "induced"}).content.decode()
    plan = handed(bench.get(at(job), {"test": "induced", "bars": "5"}))
    assert [stop[:2] for stop in plan["stops"]] == [
        ["1", "2"],
        ["2", "3"],
        ["3", "4"],
        ["4", "5"],
        ["5", "1"],
    ]


def test_without_a_script_a_form_takes_one_reading_and_goes_on_to_the_next_place(
    bench: Client, job: Job
) -> None:
    first = bench.get(at(job), FED).content.decode()
    form = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', first))
    form |= {"value": "3.50"}
    answer = bench.post(at(job), form, follow=True)
    assert "1–2: 3.50 mV" in answer.content.decode()
    assert '<input type="hidden" name="place_from" value="2">' in answer.content.decode()
    assert bench.post(at(job), form).status_code == 302  # sent twice, stored once
    assert [one.entered for one in in_force(job)] == ["3.50"]


def test_without_a_script_a_reading_that_is_refused_stays_in_the_field(bench: Client, job: Job) -> None:
    form = {**FED, "key": str(uuid.uuid4()), "place_from": "1", "place_to": "2", "value": "3,5x"}
    answer = bench.post(at(job), form)
    assert answer.status_code == 422
    assert 'value="3,5x"' in answer.content.decode()
    assert "Not taken: found" in answer.content.decode()
    assert not Reading.objects.exists()


def test_nobody_enters_without_a_name_or_into_a_closed_job(job: Job) -> None:
    nameless = Client(HTTP_HOST="localhost")
    page = nameless.get(at(job), FED).content.decode()
    assert "Every reading carries a name" in page
    assert "walk.js" not in page
    close_job(job)
    page = bench_client().get(at(job), FED).content.decode()
    assert "This job is closed" in page
    assert "walk.js" not in page


def test_a_walk_with_the_dial_keeps_every_track_that_was_read(job: Job) -> None:
    read(job, "commutator", "cut", "0.0002", place_from="1", track="0.5")
    plan = walk_plan(job, "commutator", "cut", {"tracks": "0.2 0,8"})
    assert plan.setup.tracks == ("0.2", "0.5", "0.8")
    assert len(plan.stops) == 3 * 57


def test_what_a_place_should_read_is_said_before_it_is_read(job: Job) -> None:
    for bar in range(1, 9):
        drop(job, bar, "3.50")
    outlook = walk_plan(job, "armature", "winding", FED).outlook()
    assert outlook[8] is not None
    assert abs(outlook[8].expected) == pytest.approx(3.5e-3, rel=0.05)
    assert outlook[8].margin < 0.4e-3


def test_the_page_of_a_long_walk_asks_the_database_a_fixed_number_of_times(
    bench: Client, job: Job, django_assert_max_num_queries: Any
) -> None:
    for bar in range(1, 31):
        drop(job, bar, "3.50")
    with django_assert_max_num_queries(16):
        bench.get(at(job), FED)
