"""Model sheets: the list, one to read, its versions in words, and a job moved to the newest on purpose."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from barwise.record.models import Job, SheetVersion
from barwise.record.sheets import store_sheet
from barwise.route.sheet import dump_sheet, load_sheet
from tests.web.shop import open_invented_job, read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

SHEET = "demo-57-wave"


def text_of(sheet: str = SHEET) -> str:
    return dump_sheet(load_sheet(sheet))


def second_version(old: str, new: str) -> SheetVersion:
    """Version 2 of the demo sheet, with one piece of its text replaced."""
    text = text_of().replace("version = 1\n", "version = 2\n", 1)
    assert old in text
    return store_sheet(text.replace(old, new, 1))


def tighter() -> SheetVersion:
    """Version 2, whose brushes are worn out sooner: discard 0.700 in for 0.400 in."""
    return second_version("discard = 0.400", "discard = 0.700")


def judged_job() -> Job:
    """A job whose four brushes are 0.650 in long: good by version 1, too short by version 2."""
    job = open_invented_job()
    for place in "1234":
        read(job, "brushes", "length", "0.650", place_from=place)
    return job


def test_the_list_has_the_newest_version_of_each_sheet(bench: Client) -> None:
    store_sheet(text_of())
    tighter()
    words = said(bench.get("/sheets"))
    assert words.count("Invented 12 V starter, 57 bars, wave wound") == 1
    assert "version 2" in words


def test_a_limit_stands_with_digits_unit_and_source(bench: Client) -> None:
    store_sheet(text_of())
    words = said(bench.get(f"/sheets/{SHEET}"))
    assert "Commutator diameter" in words or "Diameter" in words
    assert "From own measurement: invented" in words
    assert "new 1.250 in half worn 1.238 in discard 1.226 in Depth of the mica" in words


def test_a_source_that_is_not_the_usual_one_stands_with_its_limit(bench: Client) -> None:
    kind = '[limits.shaft-runout.source]\nkind = "own measurement"\ntext = "invented"'
    assert kind in text_of()
    other = kind.replace("own measurement", "published").replace("invented", "a handbook, p. 12")
    store_sheet(text_of().replace(kind, other))
    words = said(bench.get(f"/sheets/{SHEET}"))
    assert "at most 0.003 in published: a handbook, p. 12" in words


def test_where_the_sheet_is_silent_the_general_figure_is_marked_with_its_source(bench: Client) -> None:
    store_sheet(text_of())
    page = said(bench.get(f"/sheets/{SHEET}"))
    assert "at least 0.025 in at most 0.032 in general published: typical, one machine" in page


def test_what_changed_between_versions_is_said_in_words(bench: Client) -> None:
    store_sheet(text_of())
    tighter()
    page = said(bench.get(f"/sheets/{SHEET}"))
    assert "brush-length, discard: from 0.400 in to 0.700 in." in page


def test_an_older_version_says_so_and_leads_to_the_newest(bench: Client) -> None:
    store_sheet(text_of())
    tighter()
    page = said(bench.get(f"/sheets/{SHEET}", {"version": "1"}))
    assert "This is an older version. Show version 2, the newest" in page


@pytest.mark.parametrize("address", ["/sheets/none-such", f"/sheets/{SHEET}?version=9"])
def test_a_sheet_or_version_that_is_not_there_is_not_found(bench: Client, address: str) -> None:
    store_sheet(text_of())
    assert bench.get(address).status_code == 404


def test_a_job_keeps_the_version_it_was_judged_with(bench: Client) -> None:
    job = judged_job()
    tighter()
    bench.get(f"/sheets/{SHEET}")
    job.refresh_from_db()
    assert job.sheet is not None
    assert job.sheet.version == 1


def test_what_the_newest_version_would_change_is_shown_before_anything_is_done(bench: Client) -> None:
    job = judged_job()
    tighter()
    page = said(bench.get(f"/jobs/{job.pk}/sheet", {"sheet": SHEET}))
    assert "1 decision would change" in page
    assert "Now accept" in page
    assert "Then reject" in page
    job.refresh_from_db()
    assert job.sheet is not None
    assert job.sheet.version == 1


def test_a_job_is_moved_to_the_newest_version_on_purpose(bench: Client) -> None:
    job = judged_job()
    tighter()
    answer = bench.post(f"/jobs/{job.pk}/sheet", {"sheet": SHEET, "version": "2"})
    assert answer.status_code == 302
    job.refresh_from_db()
    assert job.sheet is not None
    assert job.sheet.version == 2


def test_a_move_agreed_to_for_a_version_that_is_no_longer_the_newest_is_asked_again(bench: Client) -> None:
    job = judged_job()
    tighter()
    answer: Any = bench.post(f"/jobs/{job.pk}/sheet", {"sheet": SHEET, "version": "1"})
    assert answer.status_code == 422
    job.refresh_from_db()
    assert job.sheet is not None
    assert job.sheet.version == 1


def test_the_job_page_leads_to_the_same_question_and_moves_nothing_by_itself(bench: Client) -> None:
    job = judged_job()
    tighter()
    page = bench.get(f"/jobs/{job.pk}").content.decode()
    assert f'action="/jobs/{job.pk}/sheet"' in page
    assert f'href="/jobs/{job.pk}/sheet?sheet={SHEET}"' in bench.get(f"/sheets/{SHEET}").content.decode()
    asked: Any = bench.post(f"/jobs/{job.pk}/sheet", {"sheet": SHEET})
    assert asked.status_code == 422
    assert "1 decision would change" in said(asked)
    job.refresh_from_db()
    assert job.sheet is not None
    assert job.sheet.version == 1
