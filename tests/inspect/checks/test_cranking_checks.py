"""The drops in the vehicle as the station decides them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, Taken
from barwise.inspect.checks.cranking import adds_up, drop
from barwise.measure import decision

RULE = Limit("vehicle-drop", decision.Limit(upper=0.20), "V", "TM 10-3930-671-24 p. F-303", general=True)


def noted(value: float, uncertainty: float = 0.005) -> Outcome:
    return Outcome("noted", "", value=value, uncertainty=uncertainty)


def evidence(volts: str, context: dict[str, Outcome], limit: Limit | None = RULE) -> Evidence:
    read = (Taken(float(volts), volts, "V"),) if volts else ()
    return Evidence(read, limit, context=context, what="Ground side", quantity="voltage", unit="V")


@pytest.mark.parametrize(
    ("volts", "amperes", "decided"),
    [
        ("0.35", 200.0, "accept"),
        ("0.35", 150.0, "reject"),
        ("0.87", 282.0, "reject"),
        ("0.400", 200.0, "undecided"),
    ],
)
def test_a_drop_is_held_against_the_limit_at_its_own_amperes(
    volts: str, amperes: float, decided: str
) -> None:
    """The limit is 0.20 V for each 100 A: TM 10-3930-671-24 p. F-303."""
    found = drop(evidence(volts, {"current": noted(amperes)}))
    assert found.decision == decided
    assert found.details["upper"] == pytest.approx(0.20 * amperes / 100)
    assert found.details["ohm"] == pytest.approx(float(volts) / amperes)


def test_without_amperes_it_is_open_and_asks_for_them() -> None:
    found = drop(evidence("0.35", {}))
    assert found.decision == "undecided"
    assert "amperes" in found.settle


def test_nothing_read_is_not_taken() -> None:
    assert drop(evidence("", {"current": noted(200.0)})).decision == "not taken"
    assert adds_up(evidence("", {})).decision == "not taken"


ALL = {
    "current": noted(282.0, 2.0),
    "battery": noted(10.42),
    "positive cable": noted(0.17),
    "switch": noted(0.12),
    "ground": noted(0.87),
}


def test_volts_that_add_up_are_accepted_and_say_where_most_is_lost() -> None:
    found = adds_up(evidence("9.26", ALL, None))
    assert found.decision == "accept"
    assert "most is lost in the ground" in found.line


def test_battery_volts_entered_as_starter_volts_are_asked_about() -> None:
    found = adds_up(evidence("10.42", ALL, None))
    assert found.decision == "undecided"
    assert "read at the battery?" in found.settle


def test_what_is_missing_is_asked_for_by_name() -> None:
    context = {**ALL, "switch": replace(ALL["switch"], value=None)}
    del context["battery"]
    found = adds_up(evidence("9.26", context, None))
    assert found.decision == "undecided"
    assert "battery volts, switch" in found.settle


def test_amperes_and_both_volts_alone_ask_for_the_drops_between() -> None:
    context = {name: ALL[name] for name in ("current", "battery")}
    found = adds_up(evidence("9.26", context, None))
    assert found.decision != "accept"
    assert "the drops of the cables and the switch" in found.settle
