"""Switch windings, contacts and copper against printed values."""

from __future__ import annotations

import pytest

from barwise.inspect.finding import SHEET, Bound
from barwise.inspect.switch.contacts import contacts_of
from barwise.inspect.switch.judgement import healthy_windings, judge_switch
from barwise.inspect.switch.moving import voltage_at
from barwise.inspect.switch.readings import WindingReading, at_reference, at_reference_voltage
from barwise.inspect.switch.tested import SwitchSheet, SwitchTest
from barwise.measure.decision import Limit
from barwise.measure.quantity import parse_quantity
from barwise.measure.uncertainty import Estimate

SHEET_24 = SwitchSheet(
    reference_v=20.0,
    pull_in_amps=Bound(Limit(100, 125), "A", SHEET),
    hold_in_amps=Bound(Limit(12, 14), "A", SHEET),
)


def test_printed_currents_and_resistances_of_one_switch_agree() -> None:
    """Source: TM 9-4940-568-34, p. 5-157: pull-in 100 to 125 A at 20 V, 0.16 to 0.20 ohm; hold-in 12 to 14 A
    at 20 V, printed as 1.45 to 1.65 ohm (1.43 to 1.67, rounded)."""
    healthy = healthy_windings(SHEET_24)
    assert healthy.pull_in.value == pytest.approx((0.16 * 0.20) ** 0.5)
    assert healthy.hold_in.value == pytest.approx((1.45 * 1.65) ** 0.5, rel=0.005)
    for ohm, amps in ((0.16, 125), (0.20, 100), (1.45, 14), (1.65, 12)):
        assert at_reference_voltage(Estimate(ohm, 0.0), 20.0).value == pytest.approx(amps, rel=0.02)


def test_a_reading_at_another_voltage_and_temperature_is_brought_to_the_sheets() -> None:
    """Source: TM 9-4940-568-34, p. 5-157, for the limits; copper by (234.5 + t), NEMA MG 1 (from memory).

    112 A at 20 V and 20 °C is 56 A x 254.5 / 269.5 = 52.88 A at 10 V and 35 °C.
    """
    reading = WindingReading("S to M", Estimate(10.0, 0.01), Estimate(56 * 254.5 / 269.5, 0.05))
    answer = judge_switch(SwitchTest(SHEET_24, (reading,), Estimate(35.0, 0.5)))
    assert answer.windings[0].amps is not None
    assert answer.windings[0].amps.value == pytest.approx(112.0, rel=1e-9)
    assert answer.findings[1].outcome == "accept"


def test_winding_resistance_follows_copper() -> None:
    """Source: P. C. Sen or any machines text (from memory): 80 ohm at 20 °C is 100 ohm at 83.625 °C."""
    found, _ = at_reference(Estimate(100.0, 0.0), Estimate(83.625, 0.0))
    assert found.value == pytest.approx(80.0)


def test_the_pull_in_voltage_rises_with_the_copper() -> None:
    """Source: the copper rule: from 20 to 75 °C it is 1.21611 times (IEC 60028: 1.21615, from memory)."""
    warm, _ = voltage_at(Estimate(7.0, 0.0), Estimate(20.0, 0.0), 75.0)
    assert warm.value == pytest.approx(7.0 * 1.21611, rel=1e-5)


@pytest.mark.parametrize(("drop", "outcome"), [("0.19", "accept"), ("0.25", "reject")])
def test_the_drop_of_a_12_volt_switch_is_held_to_two_tenths(drop: str, outcome: str) -> None:
    """Source: TM 5-3820-256-24-4: solenoid switch 0.2 V on a 12 V machine while cranking."""

    sheet = SwitchSheet(contact_drop=Bound(Limit(upper=0.2), "V", "TM 5-3820-256-24-4"))
    volts, amps = parse_quantity(f"{drop} V", "voltage"), parse_quantity("400 A", "current")
    answer = judge_switch(SwitchTest(sheet, drop=volts, drop_amps=amps, cranking_amps=amps))
    assert answer.findings[0].outcome == outcome


def test_two_tenths_of_a_volt_per_hundred_amperes_is_two_milliohms() -> None:
    """Source: TM 10-3930-671-24, F-303: a circuit drops no more than 0.20 V for each 100 A."""
    found = contacts_of(Estimate(0.20, 0.0), Estimate(100.0, 0.0), Estimate(500.0, 0.0))
    assert found.ohm.value == pytest.approx(0.002)
    assert found.drop_cranking is not None
    assert found.drop_cranking.value == pytest.approx(1.0)
