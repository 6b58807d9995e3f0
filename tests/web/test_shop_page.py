"""The shop's habits on a screen: how it writes numbers, and what follows at the bench."""

from __future__ import annotations

import pytest
from django.test import Client

from barwise.record.models import Reading, Shop
from tests.web.shop import open_invented_job
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

HABITS = {"name": "Invented shop", "sign": "comma", "length_unit": "mm", "level": "95"}


def test_a_shop_that_writes_commas_types_commas_from_then_on(bench: Client) -> None:
    job = open_invented_job()
    address = f"/jobs/{job.pk}/commutator/diameter/take"
    sent = {"value": "31,55", "unit": "mm", "place": "1", "track": "0.5"}
    assert bench.post(address, sent).status_code == 422
    assert bench.post("/shop", HABITS).status_code == 302
    assert bench.post(address, sent).status_code == 302
    kept = Reading.objects.get()
    assert (kept.entered, kept.unit) == ("31,55", "mm")
    assert kept.value_si == pytest.approx(0.03155)


@pytest.mark.parametrize("typed", ["1.238,5", "1,238,5", "1.238.5"])
def test_nothing_is_taken_for_a_sign_between_thousands(bench: Client, typed: str) -> None:
    job = open_invented_job()
    bench.post("/shop", HABITS)
    sent = {"value": typed, "unit": "mm", "place": "1", "track": "0.5"}
    answer = bench.post(f"/jobs/{job.pk}/commutator/diameter/take", sent)
    assert answer.status_code == 422
    assert f'value="{typed}"' in answer.content.decode()
    assert not Reading.objects.exists()


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("level", "40", "between 50 and 100 %"),
        ("level", "sure", "percent, such as 95"),
        ("sign", "", "a comma"),
    ],
)
def test_what_cannot_be_is_refused_and_stays_in_its_field(
    bench: Client, field: str, typed: str, says: str
) -> None:
    answer = bench.post("/shop", HABITS | {field: typed})
    assert answer.status_code == 422
    assert says in said(answer)
    assert 'value="Invented shop"' in answer.content.decode()
    assert not Shop.objects.filter(decimal_comma=True).exists()


def test_what_is_printed_is_kept_with_its_lines_and_left_alone_by_a_form_that_does_not_name_it(
    bench: Client,
) -> None:
    printed = {"paper": "letter", "address": "1 Invented Lane\r\nNowhere \r\n", "warranty": " A year. "}
    assert bench.post("/shop", HABITS | printed).status_code == 302
    assert bench.post("/shop", HABITS).status_code == 302
    kept = Shop.objects.get()
    assert (kept.paper, kept.address) == ("letter", "1 Invented Lane\nNowhere")
    assert kept.warranty == "A year."
    assert bench.post("/shop", HABITS | {"paper": "napkin"}).status_code == 422
