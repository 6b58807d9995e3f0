"""The page of a job's prices: worked out, approved as shown, and never otherwise."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client

from barwise.record.approvals import standing_approval
from barwise.record.dispositions import decide_part
from barwise.record.habits import change_shop
from barwise.record.jobs import close_job
from barwise.record.models import Approval, Job
from tests.web.shop import read

pytestmark = pytest.mark.django_db

PRICES = {
    "currency": "EUR", "labour_rate": "64.00", "tax": "19", "base_hours": "1.75", "materials": "14",
    "exchange_price": "289", "exchange_deposit": "60", "unit": "hours",
    "name-0": "brush set", "need-0": "must", "price-0": "38.50", "hours-0": "0.4",
    "key-0": "", "why-0": "short",
}  # fmt: skip
WORD = {
    "do": "approve",
    "choice": "must",
    "said_by": "Ada (invented)",
    "way": "in person",
    "answer": "approved",
}


def seal_in(page: Any) -> str:
    found = re.search(r'name="seal" value="([0-9a-f]{64})"', page.content.decode())
    assert found
    return found[1]


def test_the_page_offers_what_was_rejected_and_the_way_back_to_the_job(bench: Client, job: Job) -> None:
    read(job, "commutator", "look", "bars loose or raised")
    page = bench.get(f"/jobs/{job.pk}/worth")
    assert page.status_code == 200
    words = page.content.decode()
    assert "bars loose or raised" in words
    assert f'href="/jobs/{job.pk}"' in words
    assert "The customer was not asked yet" in bench.get(f"/jobs/{job.pk}").content.decode()


def test_a_station_decided_as_a_whole_is_named_by_the_checks_that_condemned_it(
    bench: Client, job: Job
) -> None:
    read(job, "frame", "joints", "one reads high")
    read(job, "frame", "pole-screws", "will not hold")
    decide_part(job, "frame", "rework")
    words = bench.get(f"/jobs/{job.pk}/worth").content.decode()
    assert 'value="Frame and fields: Joints between the coils, Pole screws"' in words
    assert "Rework; rejected: Joints between the coils, Pole screws." in words


def test_a_worn_part_that_is_asked_for_stands_on_the_page_once_with_its_wear(bench: Client, job: Job) -> None:
    for brush in "1234":
        read(job, "brushes", "length", "0.39", unit="in", place_from=brush)
    words = bench.get(f"/jobs/{job.pk}/worth").content.decode()
    assert words.count('value="Brush gear: Brush length"') == 1
    assert 'name="key-0" value="brushes.length"' in words


def test_prices_are_worked_out_and_nothing_is_kept_by_looking(bench: Client, job: Job) -> None:
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, "do": "work-out"})
    # (38.50 + 14 + 2.15 h x 64) x 1.19
    assert "226.22 EUR" in page.content.decode()
    assert "343.91 EUR" in page.content.decode()
    assert not Approval.objects.exists()


def test_the_word_is_kept_with_the_figures_of_the_page(bench: Client, job: Job) -> None:
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, "do": "work-out"})
    answer = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, **WORD, "seal": seal_in(page)})
    assert answer.status_code == 302
    kept = standing_approval(job)
    assert kept is not None
    assert [Decimal(end) for end in kept.shown["choices"][0]["cost"]] == [Decimal("226.219")] * 2
    assert kept.person is not None
    assert kept.person.name == "Anna (invented)"
    shown = bench.get(f"/jobs/{job.pk}").content.decode()
    assert "226.22 EUR" in shown
    assert "Ada (invented)" in shown
    again = bench.get(f"/jobs/{job.pk}/worth").content.decode()
    assert 'value="64.00"' in again
    assert 'name="tax" value="19"' in again


def test_figures_that_were_not_shown_are_not_approved(bench: Client, job: Job) -> None:
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, "do": "work-out"})
    changed = {**PRICES, **WORD, "price-0": "83.50", "seal": seal_in(page)}
    answer = bench.post(f"/jobs/{job.pk}/worth", changed)
    assert answer.status_code == 422
    assert "other figures than were shown" in answer.content.decode()
    assert 'value="83.50"' in answer.content.decode()
    assert not Approval.objects.exists()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"labour_rate": "much"}, "labour rate"),
        ({"labour_rate": "-5"}, "labour rate"),
        ({"price-0": "38,50"}, "with a decimal point"),
        ({"price-0": ""}, "price of brush set"),
        ({"currency": ""}, "currency"),
        ({"tax": "900"}, "tax"),
        ({"need-0": "perhaps"}, "must, optional or keep"),
        ({"so_far": "nan"}, "so far"),
        ({"name-1": "brush set", "need-1": "must", "price-1": "1"}, "twice"),
    ],
)
def test_what_cannot_be_is_said_and_what_was_typed_stays(
    bench: Client, job: Job, typed: dict[str, str], said: str
) -> None:
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, **typed, "do": "work-out"})
    assert page.status_code == 422
    assert said in page.content.decode()
    assert 'value="brush set"' in page.content.decode()


def test_a_shop_that_writes_commas_may(bench: Client, job: Job) -> None:
    change_shop(None, decimal_comma=True)
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, "price-0": "38,50", "do": "work-out"})
    assert "226,22 EUR" in page.content.decode()


def test_a_closed_job_takes_no_word(bench: Client, job: Job) -> None:
    page = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, "do": "work-out"})
    close_job(job)
    answer = bench.post(f"/jobs/{job.pk}/worth", {**PRICES, **WORD, "seal": seal_in(page)})
    assert answer.status_code == 422
    assert not Approval.objects.exists()


def test_without_a_name_at_the_bench_no_word_is_taken(job: Job) -> None:
    nobody = Client(HTTP_HOST="localhost")
    page = nobody.post(f"/jobs/{job.pk}/worth", {**PRICES, "do": "work-out"})
    assert "Say who is at the bench" in page.content.decode()
    assert 'name="seal"' not in page.content.decode()
