"""Field checks at the bench: each decides both ways, and leans on current and temperature.

Drops are Ohm's law with a healthy coil of 2.1 mohm at 20 °C; the limits are the invented sheet's.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.checks import fields as checks
from barwise.inspect.checks.fields import coils, feed, ground, shunt
from barwise.measure import decision

SHEET = Limit("field-coil-drop", decision.Limit(0.038, 0.046), "mV", "the sheet, at 20 A and 20 °C")
FEED = Limit("field-feed-current", None, "A", "the sheet", target=20.0)
SHUNT = Limit("shunt-resistance", decision.Limit(1.2, 1.6), "ohm", "the sheet")
COILS = ("1", "2", "3", "4")
HEALTHY = ("42.0", "42.2", "41.9", "42.1")
WARM = Outcome("noted", "", value=20.0, uncertainty=0.5, quantity="temperature", unit="degC")


def drop(text: str, place: str, unit: str = "mV") -> Taken:
    return Taken(float(text) * 1e-3, text, unit, (place,))


def evidence(
    texts: tuple[str, ...],
    field: str = "series",
    context: Mapping[str, Outcome] | None = None,
    limit: Limit | None = SHEET,
) -> Evidence:
    facts = SheetFacts(facts={"field": field, "field-coils": 4, "field-turns": 8})
    taken = tuple(drop(text, place) for text, place in zip(texts, COILS, strict=False) for _ in range(2))
    return Evidence(
        taken, limit, facts, context or {"temperature": WARM}, "Drop across each coil", "voltage", "mV", COILS
    )


def fed(amperes: float) -> Outcome:
    taken = (Taken(amperes, f"{amperes:.1f}", "A"),)
    return feed(Evidence(taken, FEED, what="Current", quantity="current", unit="A"))


@pytest.mark.parametrize("field", ["series", "series-parallel"])
def test_coils_alike_and_within_the_sheet_are_accepted(field: str) -> None:
    found = coils(evidence(HEALTHY, field))
    assert found.decision == "accept"
    assert "a short of 1 turn would have shown" in found.line
    assert json.loads(json.dumps(found.details))["lower"] == 0.038


def test_a_coil_with_one_turn_of_eight_shorted_is_named() -> None:
    """42.1 less one turn of eight is 36.8 (arithmetic)."""
    found = coils(evidence(("42.0", "42.2", "36.8", "42.1")))
    assert found.decision == "reject"
    assert "coil 3 has shorted turns" in found.line
    assert "about 1 of 8 turns" in found.line
    assert found.value == pytest.approx(0.0368, rel=1e-6)


def test_half_the_sheet_s_current_gives_half_the_drop_and_is_no_fault() -> None:
    half = tuple(f"{float(text) / 2:.1f}" for text in HEALTHY)
    with_current = coils(evidence(half, context={"temperature": WARM, "current": fed(10.0)}))
    without = coils(evidence(half))
    assert (with_current.decision, without.decision) == ("accept", "reject")


def test_a_hot_coil_is_corrected_and_a_missing_temperature_widens_the_doubt() -> None:
    """44.9 mV at 70 °C is 37.5 at 20 (234.5 + T; IEEE 118, from memory): below the sheet."""
    hot = Outcome("noted", "", value=70.0, uncertainty=0.5)
    texts = ("44.9", "45.0", "44.8", "44.9")
    assert coils(evidence(texts, context={"temperature": hot})).decision == "reject"
    unknown = coils(evidence(texts, context={"current": fed(20.0)}))
    assert unknown.decision == "undecided"
    assert "temperature" in unknown.settle


def test_a_coil_that_was_not_read_and_one_that_reads_nothing_stay_open() -> None:
    three = coils(evidence(HEALTHY[:3]))
    assert (three.decision, three.settle) == ("undecided", "Read coil 4.")
    nothing = coils(evidence((*HEALTHY[:3], "0.0")))
    assert nothing.decision == "undecided"
    assert "coil 4 reads nothing" in nothing.line


def test_without_a_sheet_the_coils_are_held_against_one_another() -> None:
    assert coils(evidence(HEALTHY, limit=None)).decision == "accept"
    assert coils(evidence(("42.0", "42.2", "36.8", "42.1"), limit=None)).decision == "reject"


def test_the_current_is_noted_with_the_sheet_s_own() -> None:
    found = fed(19.6)
    assert found.decision == "noted"
    assert found.line == "Current: 19.6 A; the sheet's drops are at 20 A."


@pytest.mark.parametrize(
    ("text", "decided", "said"),
    [
        ("1.40", "accept", "within the sheet"),
        ("1.00", "reject", "shorted turns"),
        ("1.90", "reject", "bad joint"),
    ],
)
def test_the_shunt_coil_is_judged_at_20_degrees(text: str, decided: str, said: str) -> None:
    taken = (Taken(float(text), text, "ohm"),)
    found = shunt(Evidence(taken, SHUNT, context={"temperature": WARM}, what="Shunt", unit="ohm"))
    assert found.decision == decided
    assert said in found.line


def test_a_shunt_coil_without_a_limit_stays_open() -> None:
    found = shunt(Evidence((Taken(1.4, "1.40", "ohm"),), None, what="Shunt", unit="ohm"))
    assert found.decision == "undecided"


def ends(names: tuple[str, ...], **read: str) -> Evidence:
    before = coils(evidence(HEALTHY, "series-parallel" if len(names) > 2 else "series"))
    taken = tuple(drop(text, name.replace("_", " ")) for name, text in read.items())
    facts = SheetFacts(facts={"field-turns": 8})
    return Evidence(taken, None, facts, {"coils": before}, "Ground", "voltage", "mV", names)


def test_a_ground_is_placed_by_the_drops_from_both_ends() -> None:
    """105 of 168.2 mV lie before it: coil 3 begins at 84.2 and ends at 126.1 (arithmetic)."""
    found = ground(ends(("first lead", "last lead"), first_lead="105.0", last_lead="63.2"))
    assert found.decision == "noted"
    assert "coil 3" in found.line
    assert "near turn 4.0 of 8" in found.line


def test_of_two_paths_the_one_that_holds_the_ground_is_named() -> None:
    """Path 1 hangs on the frame by its stud, path 2 by the middle of its second coil (arithmetic)."""
    names = ("path 1 stud", "path 1 brush", "path 2 stud", "path 2 brush")
    read = {"path_1_stud": "0.0", "path_1_brush": "84.2", "path_2_stud": "63.0", "path_2_brush": "21.0"}
    found = ground(ends(names, **read))
    assert "coil 4" in found.line


def test_a_ground_at_a_joint_stays_open_and_one_end_alone_places_nothing() -> None:
    names = ("first lead", "last lead")
    joint = ground(ends(names, first_lead="84.2", last_lead="84.0"))
    assert joint.decision == "undecided"
    assert "joint of coils 2 and 3" in joint.line
    assert ground(ends(names, first_lead="84.2")).settle == "Read last lead."


@pytest.mark.parametrize("name", ["coils", "feed", "shunt", "ground"])
def test_what_was_not_read_is_not_taken(name: str) -> None:
    assert getattr(checks, name)(Evidence()).decision == "not taken"


@pytest.mark.parametrize(("third", "word"), [("45.9", "rework"), ("36.8", None)])
def test_a_coil_with_a_bad_joint_is_put_right_and_one_with_shorted_turns_is_not(
    third: str, word: str | None
) -> None:
    """Common practice, no source: a joint is soldered again before a coil is condemned."""
    found = coils(evidence(("42.0", "42.2", third, "42.1"), limit=None))
    assert found.decision == "reject"
    assert found.details.get("proposes") == word


def test_coils_read_as_ohms_are_compared_and_held_against_the_sheet_too() -> None:
    """42.1 mV at 20 A is 2.105 mohm, and one turn of eight less is 1.842 (arithmetic)."""
    limit = Limit("field-coil-resistance", decision.Limit(1.9e-3, 2.3e-3), "mohm", "the sheet")
    for third, decided in (("2.105", "accept"), ("1.842", "reject")):
        read = tuple(
            drop(text, place, "mohm")
            for text, place in zip(("2.100", "2.110", third, "2.105"), COILS, strict=True)
            for _ in range(2)
        )
        facts = SheetFacts(facts={"field": "series", "field-coils": 4, "field-turns": 8})
        found = coils(
            Evidence(read, limit, facts, {"temperature": WARM}, "Coils", "resistance", "mohm", COILS)
        )
        assert found.decision == decided
        assert found.value == pytest.approx(float(third) * 1e-3, rel=0.01)


@pytest.mark.parametrize("amperes", [0.0, -5.0])
def test_a_current_of_nothing_or_the_wrong_way_round_is_asked_for_again(amperes: float) -> None:
    found = coils(evidence(HEALTHY, context={"current": fed(amperes), "temperature": WARM}))
    assert (found.decision, found.settle) == ("undecided", "Read the current again.")
