"""The shunt coil against the sheet, at the sheet's temperature."""

from __future__ import annotations

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.fields.shunt import Shunt, assess_shunt
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate

AT_80_F = Estimate((80 - 32) / 1.8, 0.3)
SHEET = Limit(10.9, 11.4)


def shunt(ohm: float, **more: object) -> Shunt:
    known: dict[str, object] = {
        "sheet": SHEET,
        "sheet_c": AT_80_F.value,
        "temperature": AT_80_F,
        "turns": 300,
    }
    return Shunt(Estimate(ohm, 0.01), **{**known, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("ohm", "outcome", "why"),
    [
        (11.15, "accept", "within"),
        (10.4, "reject", "low"),
        (11.9, "reject", "high"),
        (10.9, "undecided", "low"),
    ],
)
def test_a_field_of_10_9_to_11_4_ohm_at_80_fahrenheit_is_judged_there(
    ohm: float, outcome: str, why: str
) -> None:
    """Limits: TM 5-3805-262-34 p. 3-213."""
    found = assess_shunt(shunt(ohm))
    assert (found.outcome, found.why) == (outcome, why)


def test_the_same_limits_hold_a_cold_coil_after_correction() -> None:
    """11.15 (234.5 + 20) / (234.5 + 26.667) = 10.865 ohm at 20 °C (IEEE 118, from memory)."""
    found = assess_shunt(shunt(10.865, temperature=Estimate(20.0, 0.3)))
    assert found.ohm is not None
    assert found.ohm.value == pytest.approx(11.15, abs=1e-3)
    assert found.outcome == "accept"


def test_without_a_temperature_a_reading_near_the_limit_stays_open() -> None:
    found = assess_shunt(shunt(11.3, temperature=None))
    assert found.outcome == "undecided"
    assert "temperature" in found.settle


def test_the_sheet_s_range_says_how_many_turns_it_could_hide() -> None:
    """1 - 10.9 / 11.4 = 4.4 % of 300 turns: 13 (arithmetic)."""
    found = assess_shunt(shunt(11.1))
    assert found.hidden_share == pytest.approx(1 - 10.9 / 11.4)
    assert found.hidden_turns == 13


def test_an_open_coil_goes_and_one_without_a_sheet_stays_open() -> None:
    assert assess_shunt(Shunt(None, SHEET)).why == "open"
    assert assess_shunt(shunt(11.1, sheet=None)).outcome == "undecided"
    with pytest.raises(MeasurementError, match="above 0"):
        assess_shunt(shunt(0.0))
