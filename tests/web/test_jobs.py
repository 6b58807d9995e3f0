"""The jobs on hand, the intake of a unit, and the page of one job."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.contrib.auth.models import Group, User
from django.test import Client
from django.utils import timezone

from barwise.record.dispositions import decide_part
from barwise.record.jobs import close_job, wait_for
from barwise.record.models import Customer, Job, Person, Unit
from barwise.web.roles import make_roles
from tests.web.shop import open_invented_job, read

pytestmark = pytest.mark.django_db

ARRIVAL = {
    "tag": "T-7",
    "customer": "Invented Farm",
    "contact": "",
    "serial": "S-77",
    "family": "starter",
    "sheet": "",
    "complaint": "clicks now & then",
    "number": "",
}


def said(answer: Any) -> str:
    """The words of a page, as they are read."""
    text = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(text.replace("&amp;", "&").replace("&#x27;", "'").replace("&quot;", '"').split())


def test_the_list_says_of_each_job_where_it_stands_and_what_comes_next(bench: Client) -> None:
    job = open_invented_job()
    for check, text in (
        ("tag", "none"),
        ("complaint", "slow"),
        ("turns-by-hand", "stiff"),
        ("outside", "whole"),
    ):
        read(job, "intake", check, text)
    Job.objects.update(opened_at=timezone.now() - timedelta(days=12))
    words = said(bench.get("/"))
    assert "T-100 Invented Farm" in words
    assert "Teardown next: Nose and switch marked" in words
    assert "1 open question" in words
    assert "12 days" in words


def test_what_a_job_was_said_to_wait_for_stands_in_the_list(bench: Client) -> None:
    wait_for(open_invented_job(), "an armature from the winder")
    assert "waits for an armature from the winder" in said(bench.get("/"))


@pytest.mark.parametrize("words", ["t-20", "S-T-20", "harbour", "harbour t-20"])
def test_a_job_is_found_by_tag_serial_and_customer(bench: Client, words: str) -> None:
    open_invented_job("T-10")
    open_invented_job("T-20", customer="Harbour Works (invented)")
    page = said(bench.get("/", {"find": words}))
    assert "T-20" in page
    assert "T-10" not in page


def test_a_search_without_a_find_says_so_and_offers_all(bench: Client) -> None:
    open_invented_job()
    assert "Nothing found for “X-9”" in said(bench.get("/", {"find": "X-9"}))


def test_closed_jobs_are_not_on_hand_and_are_found_among_the_closed(bench: Client) -> None:
    close_job(open_invented_job())
    assert "T-100" not in said(bench.get("/"))
    assert "T-100" in said(bench.get("/", {"closed": "1"}))


def test_twenty_jobs_stand_on_a_page_and_the_rest_on_the_next(bench: Client) -> None:
    for number in range(23):
        open_invented_job(f"T-{200 + number}", sheet="")
    first, second = said(bench.get("/")), said(bench.get("/", {"page": "2"}))
    assert "1 to 20 of 23" in first
    assert ("T-219" in first, "T-220" in first) == (True, False)
    assert ("T-219" in second, "T-220" in second) == (False, True)


@pytest.mark.parametrize("page", ["0", "-1", "9999999999", "x", "99"])
def test_a_page_number_that_cannot_be_shows_a_page_all_the_same(bench: Client, page: str) -> None:
    open_invented_job()
    assert "T-100" in said(bench.get("/", {"page": page}))


def test_the_queries_of_the_list_do_not_grow_with_the_jobs(
    bench: Client, django_assert_max_num_queries
) -> None:
    for number in range(5):
        read(open_invented_job(f"T-{number}"), "intake", "tag", "none")
    with django_assert_max_num_queries(6):
        bench.get("/")


def test_a_unit_is_taken_in_with_its_customer_and_its_complaint(bench: Client) -> None:
    answer = bench.post("/jobs/new", ARRIVAL)
    job = Job.objects.get()
    assert answer["Location"] == f"/jobs/{job.pk}"
    assert (job.unit.tag, job.unit.serial, job.customer.name) == ("T-7", "S-77", "Invented Farm")
    assert job.complaint == "clicks now & then"
    assert job.changes.get(what="job opened").person == Person.objects.get()


def test_a_known_customer_is_not_made_a_second_time(bench: Client) -> None:
    Customer.objects.create(name="Invented Farm", contact="by the mill")
    bench.post("/jobs/new", {**ARRIVAL, "customer": "  invented   farm "})
    assert Job.objects.get().customer == Customer.objects.get()


def test_of_two_customers_of_one_name_it_is_asked_which(bench: Client) -> None:
    for contact in ("by the mill", "by the bridge"):
        Customer.objects.create(name="Invented Farm", contact=contact)
    answer = bench.post("/jobs/new", ARRIVAL)
    assert answer.status_code == 422
    assert "several customers called Invented Farm" in said(answer)
    bench.post("/jobs/new", {**ARRIVAL, "contact": "by the bridge"})
    assert Job.objects.get().customer.contact == "by the bridge"
    assert Customer.objects.count() == 2


@pytest.mark.parametrize(
    ("slip", "says"),
    [
        ({"tag": ""}, "Expected 1 to 60 characters"),
        ({"customer": " "}, "Expected 1 to 200 characters"),
        ({"sheet": "no-such"}, "a model sheet of this shop"),
        ({"tag": "T-100"}, "on the bench already"),
        ({"number": "TAKEN"}, "found on another job"),
    ],
)
def test_what_was_typed_stays_when_a_unit_cannot_be_taken_in(bench: Client, slip: dict, says: str) -> None:
    Job.objects.filter(pk=open_invented_job().pk).update(number="TAKEN")
    answer = bench.post("/jobs/new", {**ARRIVAL, "serial": "S-T-100", **slip})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in said(answer)
    for name, typed in {**ARRIVAL, "serial": "S-T-100", **slip}.items():
        if name not in ("family", "sheet", "complaint") and typed.strip():
            assert f'name="{name}" value="{typed}"' in page
    assert "clicks now &amp; then</textarea>" in page
    assert not Unit.objects.filter(tag="T-7").exists()
    assert Job.objects.count() == 1


def test_without_a_name_nothing_is_taken_in_and_nothing_typed_is_lost() -> None:
    answer = Client(HTTP_HOST="localhost").post("/jobs/new", ARRIVAL)
    assert answer.status_code == 422
    assert 'value="T-7"' in answer.content.decode()
    assert "Say who is at the bench first" in said(answer)
    assert not Job.objects.exists()


def test_a_unit_that_comes_back_keeps_its_history(bench: Client) -> None:
    close_job(open_invented_job())
    bench.post("/jobs/new", {**ARRIVAL, "tag": "T-100", "serial": ""})
    assert Unit.objects.get().jobs.count() == 2


def test_a_job_shows_its_route_with_what_is_done_open_and_rejected(bench: Client) -> None:
    job = open_invented_job()
    read(job, "armature", "look", "clean")
    read(job, "armature", "splines", "worn or twisted")
    words = said(bench.get(f"/jobs/{job.pk}"))
    assert re.search(r"Armature 3 open 1 done ✗ 1 rejected", words)
    assert "cranks slowly when hot" in words
    for station in ("Intake", "Commutator", "Frame and fields", "Handover"):
        assert station in words


def test_a_rejected_part_is_an_open_question_until_somebody_decides(bench: Client) -> None:
    job = open_invented_job()
    read(job, "armature", "splines", "worn or twisted")
    asked = "Armature: Shaft splines and threads"
    assert asked in said(bench.get(f"/jobs/{job.pk}"))
    decide_part(job, "armature", "replace")
    words = said(bench.get(f"/jobs/{job.pk}"))
    assert asked not in words
    assert "rejected replace" in words


def test_closing_names_what_is_still_open_and_may_be_done_all_the_same(bench: Client) -> None:
    job = open_invented_job()
    answer = bench.post(f"/jobs/{job.pk}/close")
    assert answer.status_code == 422
    assert "Intake: Tag and marks" in said(answer)
    job.refresh_from_db()
    assert job.state == "open"
    bench.post(f"/jobs/{job.pk}/close", {"all_the_same": "1"})
    job.refresh_from_db()
    assert job.state == "closed"


def test_a_closed_job_is_opened_again_for_a_reason_only(bench: Client) -> None:
    job = close_job(open_invented_job())
    assert bench.post(f"/jobs/{job.pk}/reopen", {"reason": " "}).status_code == 422
    bench.post(f"/jobs/{job.pk}/reopen", {"reason": "came back noisy"})
    job.refresh_from_db()
    assert job.state == "open"
    assert "came back noisy" in job.changes.get(what="job opened again").line


def test_a_job_is_judged_by_the_sheet_that_is_given_to_it_later(bench: Client) -> None:
    job, other = open_invented_job(sheet=""), open_invented_job("T-101")
    page = said(bench.get(f"/jobs/{job.pk}/sheet", {"sheet": "demo-57-wave"}))
    assert "Now no model sheet: only general limits hold" in page
    bench.post(f"/jobs/{job.pk}/sheet", {"sheet": "demo-57-wave", "version": "1"})
    job.refresh_from_db()
    assert job.sheet == other.sheet
    assert bench.post(f"/jobs/{job.pk}/sheet", {"sheet": "no-such"}).status_code == 422


def test_what_is_waited_for_is_kept_and_taken_back(bench: Client) -> None:
    job = open_invented_job()
    for what, state in (("the customer's word", "waiting"), ("", "open")):
        bench.post(f"/jobs/{job.pk}/wait", {"waits_for": what})
        job.refresh_from_db()
        assert (job.waits_for, job.state) == (what, state)


def test_too_long_a_wait_is_refused_and_stays_in_its_field(bench: Client) -> None:
    job, long = open_invented_job(), "x" * 201
    answer = bench.post(f"/jobs/{job.pk}/wait", {"waits_for": long})
    assert answer.status_code == 422
    assert f'value="{long}"' in answer.content.decode()


def test_a_job_that_is_not_there_is_not_found(bench: Client) -> None:
    assert bench.get("/jobs/99").status_code == 404


class TestInTheNetwork:
    @pytest.fixture
    def signed_in(self, lan: None):
        make_roles()

        def signing_in(role: str) -> Client:
            user = User.objects.create_user(role, password="kommutator-62")
            user.groups.add(Group.objects.get(name=role))
            Person.objects.create(name=role, role=role, user=user)
            client = Client()
            client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
            return client

        return signing_in

    def test_a_reader_sees_and_changes_nothing(self, signed_in) -> None:
        reader, job = signed_in("reader"), open_invented_job()
        page = reader.get(f"/jobs/{job.pk}")
        assert page.status_code == 200
        assert "Close this job" not in said(page)
        assert "Take in a unit" not in said(reader.get("/"))
        for address in ("/jobs/new", f"/jobs/{job.pk}/close", f"/jobs/{job.pk}/wait"):
            assert reader.post(address, ARRIVAL).status_code == 403

    def test_the_bench_closes_a_job_and_the_office_opens_it_again(self, signed_in) -> None:
        bench, office, job = signed_in("bench"), signed_in("office"), open_invented_job()
        bench.post(f"/jobs/{job.pk}/close", {"all_the_same": "1"})
        assert bench.post(f"/jobs/{job.pk}/reopen", {"reason": "more"}).status_code == 403
        office.post(f"/jobs/{job.pk}/reopen", {"reason": "more"})
        job.refresh_from_db()
        assert job.state == "open"
        done_by = [one.person.name for one in job.changes.order_by("id") if one.person]
        assert done_by == ["bench", "bench", "office"]  # closed, sealed, opened again
