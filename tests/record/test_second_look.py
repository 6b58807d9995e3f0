"""A diameter that does not fit the one before is asked about: most probably a slip at the micrometer.

A turn of the thimble is 0.025 in or 0.5 mm: 40 threads an inch, or a pitch of half a millimetre; common
practice, no source.
"""

from __future__ import annotations

import uuid
from typing import Any

import pytest

from barwise.record.cutting import FoundAfterPass, take_pass
from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.in_force import in_force
from barwise.record.instruments import Figures, add_instrument
from barwise.record.models import Job, Person
from barwise.record.route_of import route_of
from tests.record.conftest import Take


@pytest.fixture
def measured(job: Job, take: Take) -> Job:
    take("commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.2")
    return job


def diameter(job: Job, text: str, unit: str = "in", bar: str = "1", **more: Any) -> Stored | Question:
    where = {"place_from": bar, "track": "0.2"}
    return take_reading(job, Entry(uuid.uuid4(), "commutator", "diameter", text, unit, **where, **more))


@pytest.mark.parametrize(
    ("text", "unit", "bar", "slip", "meant"),
    [
        ("1.2171", "in", "1", "A turn of the thimble too little", "1.2421"),
        ("1.2671", "in", "15", "A turn of the thimble too much", "1.2421"),
        ("1.4221", "in", "1", "Two digits changed over", "1.2421"),
        ("31.05", "mm", "1", "A turn of the thimble too little", "31.55"),
    ],
)
def test_a_diameter_that_a_slip_explains_is_asked_about_with_what_was_probably_meant(
    measured: Job, text: str, unit: str, bar: str, slip: str, meant: str
) -> None:
    asked = diameter(measured, text, unit, bar)
    assert isinstance(asked, Question)
    assert f"{text} {unit} does not fit the 1.2421 in read before. {slip}: is it {meant} {unit}?" == asked.ask
    assert (asked.suggested_number, asked.suggested_unit) == (meant, unit)
    assert in_force(measured, "commutator", "diameter").count() == 1
    assert isinstance(diameter(measured, text, unit, bar, confirmed=True), Stored)


@pytest.mark.parametrize(
    ("text", "bar"), [("1.2420", "1"), ("1.2435", "1"), ("1.2385", "15"), ("1.2461", "29")]
)
def test_what_a_worn_commutator_may_well_be_is_taken(measured: Job, text: str, bar: str) -> None:
    assert isinstance(diameter(measured, text, bar=bar), Stored)


def test_a_correction_is_not_held_against_what_it_corrects(job: Job, take: Take) -> None:
    wrong = take("commutator", "diameter", "1.2171", unit="in", place_from="1", track="0.2").reading
    assert isinstance(diameter(job, "1.2421", supersedes=wrong.key), Stored)


def test_a_tool_without_a_thimble_cannot_slip_by_a_turn(measured: Job, anna: Person) -> None:
    caliper = add_instrument("C1", "caliper", Figures(0.00001, 0.00001, 0.0), "length", "mm", anna)
    assert isinstance(diameter(measured, "1.2171", instrument=caliper), Stored)


@pytest.mark.parametrize(
    ("text", "asks"), [("1.2171", True), ("1.2151", True), ("1.2371", False), ("1.2301", False)]
)
def test_a_pass_that_took_a_whole_turn_of_the_thimble_is_asked_about(
    measured: Job, text: str, asks: bool
) -> None:
    check = route_of(measured).family.check("commutator", "cut")
    found = take_pass(measured, check, FoundAfterPass(uuid.uuid4(), text, "in"))
    assert isinstance(found, Question) is asks
    if isinstance(found, Question):
        assert "does not fit the 1.2421 in read before" in found.ask


def test_another_brush_is_another_part(job: Job, take: Take) -> None:
    take("brushes", "length", "0.75", unit="in", place_from="1")
    other = Entry(uuid.uuid4(), "brushes", "length", "0.725", "in", place_from="2")
    assert isinstance(take_reading(job, other), Stored)
