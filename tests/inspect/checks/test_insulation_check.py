"""Insulation at the bench: the sheet's limit as it stands, the general one at 40 °C; lamp and times."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, Taken
from barwise.inspect.checks.insulation import resistance, timed
from barwise.measure import decision

GENERAL = Limit(
    "armature-insulation", decision.Limit(lower=5e6), "Mohm", "published: IEEE 43-2013", general=True
)
OWN = replace(GENERAL, general=False, source="the sheet")
NAMES = ("30 s", "10 min")


def temperature(celsius: float) -> Outcome:
    return Outcome("noted", "", value=celsius, uncertainty=0.5)


def megohms(text: str, *place: str) -> Taken:
    return Taken(float(text) * 1e6, text, "Mohm", place)


def judged(text: str, limit: Limit | None = GENERAL, **context: Outcome) -> Outcome:
    return resistance(
        Evidence((megohms(text),), limit, context=context, what="Winding", quantity="resistance", unit="Mohm")
    )


@pytest.mark.parametrize(
    ("text", "celsius", "decided"),
    [("40.0", 20, "accept"), ("20.0", 20, "undecided"), ("8.0", 20, "reject"), ("8.0", 40, "accept")],
)
def test_the_general_limit_is_held_against_the_reading_at_40_degrees(
    text: str, celsius: float, decided: str
) -> None:
    """At 20 °C a quarter counts (IEEE 43-2013, 6.3, from memory): 40, 20, 8 Mohm are 10, 5, 2."""
    found = judged(text, temperature=temperature(celsius))
    assert found.decision == decided
    assert "at 40 °C about" in found.line
    assert "IEEE 43-2013" in found.line
    json.dumps(found.details)


def test_without_a_temperature_the_interval_is_wider_and_that_is_said() -> None:
    assert judged("30.0", temperature=temperature(20)).decision == "accept"
    found = judged("30.0")
    assert found.decision == "undecided"
    assert "No temperature was taken" in found.line
    assert found.settle == "Write down the temperature of the winding."


def test_the_sheet_s_own_limit_is_taken_as_it_stands() -> None:
    """A sheet gives what its maker reads on the bench: common practice, no source."""
    assert [judged(text, OWN).decision for text in ("5.5", "4.5")] == ["accept", "reject"]
    assert judged("0.00").decision == "reject"
    assert judged("5.5", None).decision == "undecided"


def test_a_lit_lamp_beside_good_megohms_stays_open() -> None:
    lit = Outcome("reject", "Lamp: lit.")
    assert judged("500", OWN, lamp=lit).decision == "undecided"
    assert judged("0.10", OWN, lamp=lit).decision == "reject"
    assert judged("500", OWN, lamp=Outcome("noted", "Lamp: dark.")).decision == "accept"


def minute(text: str) -> Outcome:
    return judged(text, OWN)


def after(half: str, ten: str, first: str) -> Outcome:
    taken = (megohms(half, "30 s"), megohms(ten, "10 min"))
    return timed(Evidence(taken, context={"minute": minute(first)}, what="Times", places=NAMES, unit="Mohm"))


def test_timed_readings_give_both_ratios() -> None:
    """60 s to 30 s and 10 min to 1 min: TM 5-683/NAVFAC MO-116."""
    found = after("150", "500", "200")
    assert found.decision == "noted"
    assert "dielectric absorption ratio 1.33, it rises" in found.line
    assert "polarization index 2.50, it rises" in found.line


def test_a_resistance_that_falls_stays_open_and_a_missing_minute_too() -> None:
    falling = after("300", "100", "200")
    assert falling.decision == "undecided"
    assert "falls" in falling.settle
    lone = timed(Evidence((megohms("150", "30 s"),), what="Times", places=NAMES))
    assert lone.settle == "Read after one minute too."


def test_what_was_not_read_is_not_taken() -> None:
    assert resistance(Evidence()).decision == "not taken"
    assert timed(Evidence()).decision == "not taken"
