"""Twelve readings, three places at four angles, and where the shaft is bent.

The readings are made from a bend of known place, size and direction; nothing of them is of the package.
"""

from __future__ import annotations

import math

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, Taken
from barwise.inspect.checks.shaft import bend
from barwise.measure import decision

MM = 1e-3
LIMIT = Limit("shaft-runout", decision.Limit(upper=0.08e-3), "mm", "its sheet")
SHARES = {"1/4": 0.25, "1/2": 0.5, "3/4": 0.75}
EVERY = tuple(f"{share} {angle}°" for share in SHARES for angle in (0, 90, 180, 270))


def reading(share: str, angle: int, off_mm: float, high_deg: float) -> Taken:
    dial = 1.0 + off_mm * math.cos(math.radians(angle - high_deg))
    text = f"{dial:.3f}"
    return Taken(float(text) * MM, text, "mm", (f"{share} {angle}°",))


def bent(worst_mm: float, at: float, high_deg: float = 120.0) -> tuple[Taken, ...]:
    return tuple(
        reading(share, angle, worst_mm * (s / at if s <= at else (1 - s) / (1 - at)), high_deg)
        for share, s in SHARES.items()
        for angle in (0, 90, 180, 270)
    )


def decide(readings: tuple[Taken, ...], limit: Limit | None = LIMIT) -> Outcome:
    return bend(Evidence(readings, limit, what="Bend", quantity="length", unit="mm", places=EVERY))


def test_a_bend_is_rejected_and_its_place_and_direction_said() -> None:
    found = decide(bent(0.10, 0.5))
    assert found.decision == "reject"
    assert found.value == pytest.approx(0.20 * MM, abs=0.003 * MM)
    low, best, high = found.details["bend_at"]
    assert low <= 0.5 <= high
    assert best == pytest.approx(0.5, abs=0.03)
    assert found.details["high_deg"] == pytest.approx(120, abs=2)
    assert "bent in one place" in found.line


def test_a_straight_shaft_is_accepted() -> None:
    found = decide(bent(0.003, 0.5))
    assert found.decision == "accept"
    assert "straight" in found.line


def test_without_a_limit_it_only_notes_where() -> None:
    assert decide(bent(0.10, 0.5), None).decision == "noted"


def test_places_not_read_keep_it_open() -> None:
    some = tuple(one for one in bent(0.003, 0.5) if not one.place[0].startswith("3/4"))
    found = decide(some)
    assert found.decision == "undecided"
    assert "Read 3/4 0°" in found.settle


def test_one_place_alone_says_that_it_does_not_tell_where() -> None:
    found = decide(tuple(one for one in bent(0.10, 0.5) if one.place[0].startswith("1/2")))
    assert found.decision == "reject"
    assert "two more places would tell" in found.line


def test_two_angles_are_no_turn() -> None:
    found = decide(bent(0.10, 0.5)[:2])
    assert (found.decision, found.value) == ("undecided", None)


def test_an_angle_read_twice_counts_twice() -> None:
    once = decide(bent(0.10, 0.5))
    twice = decide((*bent(0.10, 0.5), *bent(0.10, 0.5)))
    assert twice.value == pytest.approx(once.value)
    assert twice.uncertainty is not None
    assert once.uncertainty is not None
    assert twice.uncertainty < once.uncertainty
