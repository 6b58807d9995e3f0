"""Histories: of customers and of units, each job with what was decided."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from barwise.record.dispositions import decide_part
from barwise.record.jobs import add_customer, close_job, open_job
from barwise.record.models import Customer, Job
from tests.web.shop import open_invented_job, read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db


def worn_job() -> Job:
    """A job whose brushes are too short, decided on and closed."""
    job = open_invented_job()
    for place in "1234":
        read(job, "brushes", "length", "0.350", place_from=place)
    decide_part(job, "brushes", "replace", "", "all four brushes")
    close_job(job)
    return job


def test_a_unit_has_its_jobs_the_latest_first_with_what_was_decided(bench: Client) -> None:
    first = worn_job()
    second = open_job(first.unit, add_customer("Harbour Works (invented)"))
    words = said(bench.get(f"/units/{first.unit_id}"))
    assert words.index(f"Job {second.number}") < words.index(f"Job {first.number}")
    assert "replace all four brushes" in words
    assert "reject Brush gear: " in words
    assert "version 1" in words


def test_a_customer_has_jobs_and_units(bench: Client) -> None:
    job = worn_job()
    words = said(bench.get(f"/customers/{job.customer_id}"))
    assert "T-100, serial S-T-100" in words
    assert f"Job {job.number}" in words


@pytest.mark.parametrize("words", ["harbour", "WORKS", "t-20", "S-T-20", "harbour t-20"])
def test_a_customer_is_found_by_name_and_by_unit(bench: Client, words: str) -> None:
    open_invented_job("T-10")
    open_invented_job("T-20", customer="Harbour Works (invented)")
    page = said(bench.get("/customers", {"find": words}))
    assert "Harbour Works (invented)" in page
    assert "Invented Farm" not in page


def test_each_customer_has_its_count_of_jobs_and_those_on_hand_come_first(bench: Client) -> None:
    worn_job()
    open_invented_job("T-20", customer="Zinc Works (invented)")
    page = said(bench.get("/customers"))
    assert page.index("Zinc Works (invented) 1 on hand 1 job") < page.index(
        "Invented Farm none on hand 1 job"
    )


def test_a_search_without_a_find_says_so(bench: Client) -> None:
    open_invented_job()
    assert "Nothing found for “X-9”" in said(bench.get("/customers", {"find": "X-9"}))


def test_the_list_costs_no_more_queries_for_more_customers(
    bench: Client, django_assert_max_num_queries: Any
) -> None:
    for number in range(25):
        Customer.objects.create(name=f"Invented {number}")
    with django_assert_max_num_queries(8):
        bench.get("/customers")


@pytest.mark.parametrize("address", ["/units/999", "/customers/999"])
def test_what_is_not_there_is_not_found(bench: Client, address: str) -> None:
    assert bench.get(address).status_code == 404


def test_sizes_read_on_two_jobs_stand_together_on_the_page_of_the_unit(bench: Client) -> None:
    first = worn_job()
    second = open_job(first.unit, first.customer, first.sheet)
    for place in "1234":
        read(second, "brushes", "length", "0.720", place_from=place)
    words = said(bench.get(f"/units/{first.unit_id}"))
    measured = words[words.index("What was measured before") :]
    assert measured.index("0.35 in") < measured.index("0.72 in")


def test_a_unit_that_is_not_on_hand_can_be_taken_in_again(bench: Client) -> None:
    first = worn_job()
    address = f"/units/{first.unit_id}"
    assert f"/jobs/new?tag={first.unit.tag}" in bench.get(address).content.decode()
    open_job(first.unit, first.customer, first.sheet)
    assert "Take it in again" not in said(bench.get(address))


def test_a_job_leads_to_its_customer_and_its_unit(bench: Client) -> None:
    job = open_invented_job()
    page = bench.get(f"/jobs/{job.pk}").content.decode()
    assert f'href="/customers/{job.customer_id}"' in page
    assert f'href="/units/{job.unit_id}"' in page
