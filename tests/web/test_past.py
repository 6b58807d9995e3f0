"""The pages of the shop's history."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from django.db.transaction import atomic, set_rollback
from django.test import Client

from barwise.record.invented_past import MODEL, invented_past
from barwise.record.jobs import add_unit, open_job
from barwise.record.models import Instrument, Job
from tests.web.shop import read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def past(django_db_setup: None, django_db_blocker: Any) -> Iterator[list[Job]]:
    with django_db_blocker.unblock(), atomic():
        yield invented_past(12)
        set_rollback(True)


def test_the_page_of_the_shop_says_how_rebuilds_went_and_leads_on(bench: Client, past: list[Job]) -> None:
    page = bench.get("/history")
    words = said(page)
    assert "Right the first time: 11 of 12" in words
    assert "Brush gear" in words
    for address in (f"/history/models/{MODEL}", "/history/instruments/", "/history/rebuilds.csv"):
        assert address in page.text


def test_the_unit_of_a_job_is_marked_among_its_kind(bench: Client, past: list[Job]) -> None:
    one = past[3]
    page = bench.get(f"/history/models/{MODEL}/run/no-load-speed", {"job": str(one.pk)})
    assert "This one: " in said(page)
    assert "This one: " in said(bench.get(f"/history/models/{MODEL}", {"job": str(one.pk)}))
    assert "This one" not in said(bench.get(f"/history/models/{MODEL}", {"job": "nonsense"}))


def test_a_station_says_what_is_usual_where_there_is_no_limit_and_never_calls_it_one(
    bench: Client, past: list[Job]
) -> None:
    job = open_job(add_unit("T-7", "starter"), past[0].customer, past[0].sheet)
    before = said(bench.get(f"/jobs/{job.pk}/teardown", {"check": "end-play-found"}))
    assert "own history, no limit" in before
    assert "95 % of 12 units" in before
    assert "How others of this model read" in before
    read(job, "teardown", "end-play-found", "0.090", unit="in", confirmed=True)
    after = said(bench.get(f"/jobs/{job.pk}/teardown", {"check": "end-play-found"}))
    assert "Unusual for this model: above what is usual, higher than all 12 others." in after
    assert "reject" not in after


def test_an_instrument_has_its_drift_and_its_table(bench: Client, past: list[Job]) -> None:
    tool = Instrument.objects.get(tag="M1")
    assert "shows within about 20 readings" in said(bench.get(f"/history/instruments/{tool.pk}"))
    table = bench.get(f"/history/instruments/{tool.pk}.csv")
    assert table.headers["Content-Type"] == "text/csv; charset=utf-8"
    assert table.headers["Content-Disposition"] == f'attachment; filename="history-drift-{tool.pk}.csv"'
