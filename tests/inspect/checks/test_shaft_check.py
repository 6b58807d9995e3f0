"""Twelve readings, three places at four angles, and where the shaft is bent.

The readings are made from a bend of known place, size and direction; nothing of them is of the package.
"""

from __future__ import annotations

import math

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, Taken
from barwise.inspect.checks.shaft import bend, bend_on_centres
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


ALONG = {"drive end": 0.0, **SHARES, "comm. end": 1.0}
ON_CENTRES = tuple(f"{share} {angle}°" for share in ALONG for angle in (0, 90, 180, 270))


def on_centres(bend_mm: float, centre_mm: float) -> tuple[Taken, ...]:
    """A bend at the middle towards 120 degrees, and a centre hole out towards the mark at the drive end."""
    read = []
    for share, s in ALONG.items():
        off = complex(centre_mm * (1 - s), 0.0)
        turn = math.radians(120)
        off += bend_mm * min(s, 1 - s) / 0.5 * complex(math.cos(turn), math.sin(turn))
        size, way = abs(off), math.degrees(math.atan2(off.imag, off.real))
        read += [reading(share, angle, size, way) for angle in (0, 90, 180, 270)]
    return tuple(read)


def decide_on_centres(readings: tuple[Taken, ...]) -> Outcome:
    return bend_on_centres(
        Evidence(readings, LIMIT, what="Bend", quantity="length", unit="mm", places=ON_CENTRES)
    )


def test_between_centres_a_bad_centre_is_no_bend_and_the_bend_is_found_all_the_same() -> None:
    straight = decide_on_centres(on_centres(0.0, 0.10))
    assert straight.decision == "accept"
    assert "the centres are out by 0.100 mm" in straight.line
    crooked = decide_on_centres(on_centres(0.10, 0.10))
    assert crooked.decision == "reject"
    assert crooked.value == pytest.approx(0.20 * MM, abs=0.005 * MM)
    assert crooked.details["high_deg"] == pytest.approx(120, abs=3)


def test_between_centres_both_journals_are_asked_for() -> None:
    found = decide_on_centres(bent(0.10, 0.5))
    assert found.decision == "undecided"
    assert "the drive end and the comm. end journal was not read all round" in found.line
    only = tuple(one for one in on_centres(0.1, 0.1) if one.place[0].startswith(("drive", "comm")))
    assert "only the journals were read" in decide_on_centres(only).line


def test_a_dial_that_does_not_come_back_is_asked_to_be_read_again() -> None:
    again = Taken(1.3 * MM, "1.300", "mm", ("1/2 0°",))
    found = decide((*bent(0.10, 0.5), again))
    assert found.decision == "undecided"
    assert "at 1/2 the dial did not come back" in found.line
