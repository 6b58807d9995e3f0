"""Instruments: when each is due in words, added and calibrated in the unit as entered, taken out of use."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from barwise.record.instruments import Figures, add_instrument
from barwise.record.models import Instrument, Person
from barwise.web import people
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

TYPED = {
    "tag": "M-9",
    "kind": "micrometer 1-2 in",
    "quantity": "length",
    "unit": "in",
    "resolution": "0.0001",
    "uncertainty": "0.00008",
    "coverage": "2",
    "repeatability": "0.00003",
    "calibrated_on": "2024-01-31",
    "due_on": "2024-07-31",
}


def test_an_overdue_calibration_is_said_in_words_and_stands_first(bench: Client) -> None:
    today = timezone.localdate()
    for tag, days in (("A", 200), ("B", -3), ("C", 10)):
        add_instrument(tag, "micrometer", Figures(2.54e-6, due_on=today + timedelta(days=days)))
    words = said(bench.get("/instruments"))
    assert words.index("B micrometer") < words.index("C micrometer") < words.index("A micrometer")
    assert "overdue since" in words
    assert "due soon due" in words
    assert "in date due" in words


def test_figures_are_kept_in_si_and_shown_in_the_unit_as_entered(bench: Client) -> None:
    """0.0001 in is 2.54 um: 1 in = 2.54 cm exactly (NIST SP 811, 2008, appendix B.8; from memory)."""
    answer = bench.post("/instruments/new", TYPED, follow=True)
    kept = Instrument.objects.get(tag="M-9")
    assert kept.resolution_si == pytest.approx(2.54e-6)
    assert kept.repeatability_si == pytest.approx(7.62e-7)
    assert "0.0001 in" in said(answer)
    assert "0.00003 in" in said(answer)


def test_an_uncertainty_stated_with_k_2_is_kept_as_half_of_it(bench: Client) -> None:
    """A standard uncertainty is the expanded one divided by its coverage factor (JCGM 100:2008, 6.2.1)."""
    bench.post("/instruments/new", TYPED)
    kept = Instrument.objects.get(tag="M-9")
    assert kept.calibration_standard_uncertainty_si == pytest.approx(0.00004 * 0.0254)


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("tag", "", "Found nothing"),
        ("unit", "V", "a unit of length"),
        ("resolution", "", "the step of its last digit"),
        ("resolution", "fine", "a number such as 3.59"),
        ("uncertainty", "-1", "0 or more"),
        ("due_on", "2023-01-01", "a later day"),
        ("calibrated_on", "31.1.24", "a day such as 2026-03-31"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field_and_nothing_typed_is_lost(
    bench: Client, field: str, typed: str, says: str
) -> None:
    answer = bench.post("/instruments/new", TYPED | {field: typed})
    assert answer.status_code == 422
    assert says in said(answer)
    assert answer.context["field"] == field
    assert 'value="0.00003"' in answer.content.decode()
    assert not Instrument.objects.exists()


def test_a_new_calibration_follows_the_old_one_which_keeps_its_figures(bench: Client) -> None:
    bench.post("/instruments/new", TYPED)
    old = Instrument.objects.get()
    answer = bench.post(
        f"/instruments/{old.pk}/edit", TYPED | {"uncertainty": "0.0001", "due_on": "2025-01-31"}, follow=True
    )
    old.refresh_from_db()
    new = Instrument.objects.get(retired=False)
    assert (new.follows, old.retired) == (old, True)
    assert old.calibration_standard_uncertainty_si == pytest.approx(0.00004 * 0.0254)
    assert "Earlier calibrations" in said(answer)


def test_an_instrument_taken_out_of_use_is_no_longer_listed(bench: Client) -> None:
    one = add_instrument("A", "micrometer", Figures(2.54e-6))
    bench.post(f"/instruments/{one.pk}/retire")
    assert "A micrometer" not in said(bench.get("/instruments"))
    assert "out of use" in said(bench.get(f"/instruments/{one.pk}"))


def test_the_form_opens_with_the_figures_that_hold(bench: Client) -> None:
    bench.post("/instruments/new", TYPED)
    page = bench.get(f"/instruments/{Instrument.objects.get().pk}/edit").content.decode()
    assert 'name="resolution" value="0.0001"' in page
    assert 'value="2024-07-31"' in page


def test_without_a_name_at_the_bench_nothing_is_kept() -> None:
    answer = Client(HTTP_HOST="localhost").post("/instruments/new", TYPED)
    assert "Say who is at the bench first" in said(answer)
    assert not Instrument.objects.exists()


@pytest.mark.parametrize(
    ("role", "look", "change"), [("reader", 200, 403), ("bench", 200, 403), ("office", 200, 200)]
)
@pytest.mark.usefixtures("lan")
def test_who_may_look_and_who_may_change(role: str, look: int, change: int) -> None:
    people.add("Some one", role, "kommutator-62")
    assert Person.objects.filter(role=role).exists()
    client = Client(HTTP_HOST="localhost")
    client.post("/sign-in", {"username": "Some one", "password": "kommutator-62"})
    for address in ("/instruments", "/sheets", "/customers"):
        assert client.get(address).status_code == 200
    for address in ("/instruments/new", "/sheets/new"):
        assert client.get(address).status_code == change
