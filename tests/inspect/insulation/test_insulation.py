"""Insulation judged: corrected to 40 °C, against the least that is asked for, with a tester or a lamp."""

from __future__ import annotations

import math

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.insulation import Lamp, assess, lights_below
from barwise.inspect.insulation.assessment import InsulationAssessment, InsulationTest, Megohms
from barwise.inspect.insulation.minimum import Minimum, at_40, minimum_for
from barwise.inspect.insulation.timed import ratios
from barwise.measure.uncertainty import Estimate

ROOM = Estimate(22.0, 1.0)
FORTY = Estimate(40.0, 0.5)
LAMP_12 = Lamp(12.0, 21.0, 12.0)
LAMP_MAINS = Lamp(230.0, 25.0, 230.0)


def judged(*megohms: float, **more: object) -> InsulationAssessment:
    times: tuple[float | None, ...] = (60.0, 30.0, 600.0)
    readings = tuple(
        Megohms(one * 1e6, 1e4, at) for one, at in zip(megohms, times[: len(megohms)], strict=True)
    )
    known = {"part": "fields", "rated_v": 12.0, "temperature": FORTY, "test_v": 500.0, **more}
    return assess(InsulationTest(readings=readings, **known))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("celsius", "factor"), [(20, 0.25), (25, 0.353553), (30, 0.5), (40, 1), (50, 2), (60, 4), (70, 8)]
)
def test_the_resistance_halves_with_every_10_degrees(celsius: float, factor: float) -> None:
    """Kt = 0.5^((40 - T) / 10), IEEE 43-2013 clause 6.3 (from memory)."""
    assert at_40(1.0, celsius) == pytest.approx(factor, rel=1e-5)


def test_15_megohms_at_70_degrees_are_120_at_40() -> None:
    """Worked case of a service paper on IEEE 43, Kt = 8 (from memory)."""
    assert at_40(15e6, 70.0) == pytest.approx(120e6)


def test_the_least_values_are_the_standard_s() -> None:
    """IEEE 43-2013, 12.3, minimum values: 5 Mohm for dc armatures, 100 before (T. Bishop, What's new in the
    IEEE 43 insulation resistance testing standard, EASA, April 2016); kV + 1 for fields (from memory)."""
    assert minimum_for("fields", 12.0).ohm == pytest.approx(1.012e6)
    assert minimum_for("fields", 600.0).ohm == pytest.approx(1.6e6)
    assert minimum_for("armature", 24.0).ohm == 5e6
    assert "guidance" in minimum_for("armature", 24.0).source


@pytest.mark.parametrize(("megohms", "outcome"), [(3.0, "accept"), (1.01, "undecided"), (0.5, "reject")])
def test_fields_at_40_degrees_are_judged_against_kilovolts_plus_one(megohms: float, outcome: str) -> None:
    assert judged(megohms, gain=0.03).outcome == outcome


def test_a_cold_reading_counts_less_than_it_reads() -> None:
    """2.5 Mohm at 20 °C are 0.625 at 40 (the rule above), less than 1.012."""
    assert judged(2.5, temperature=Estimate(20.0, 0.5)).outcome != "accept"
    assert judged(2.5).outcome == "accept"


def test_a_missing_temperature_widens_the_interval_and_is_said() -> None:
    """5 to 35 °C is 1.5 halvings either way (the rule above)."""
    found = judged(40.0, temperature=None)
    assert found.ohm_40 == pytest.approx(10e6)
    assert (found.ohm_40_high or 0) / (found.ohm_40_low or 1) > 8
    assert any("none is assumed" in note for note in found.notes)
    near = judged(6.0, temperature=None)
    assert (near.outcome, near.settle[:10]) == ("undecided", "Write down")


def test_nothing_on_the_meter_is_a_ground_and_beyond_its_range_is_at_least_that() -> None:
    dead = assess(InsulationTest("fields", 12.0, (Megohms(0.0, 1e4, 60.0),), temperature=FORTY))
    assert (dead.outcome, dead.settle[:14]) == ("reject", "It is grounded")
    over = assess(InsulationTest("fields", 12.0, (Megohms(2e9, 1e6, 60.0, over=True),), temperature=FORTY))
    assert (over.outcome, over.beyond_range) == ("accept", True)
    low_range = assess(
        InsulationTest("fields", 12.0, (Megohms(1e5, 1e3, 60.0, over=True),), temperature=FORTY)
    )
    assert low_range.outcome == "undecided"


def test_both_ratios_come_from_their_own_times() -> None:
    """60 s over 30 s and 10 min over 1 min: TM 5-683/NAVFAC MO-116."""
    found = {one.name: one for one in judged(200.0, 150.0, 500.0).ratios}
    assert found["dielectric absorption ratio"].value.value == pytest.approx(200 / 150)
    assert found["polarization index"].value.value == pytest.approx(2.5)
    assert {one.course for one in found.values()} == {"rises"}


@pytest.mark.parametrize(("thermal", "late", "outcome"), [("A", 320.0, "accept"), ("F", 320.0, "reject")])
def test_the_index_is_judged_by_thermal_class(thermal: str, late: float, outcome: str) -> None:
    """At least 1.5 for class A, 2.0 for B, F and H: IEEE 43-2000, as the appendix of an instrument's handbook
    (not named here) prints it. 320 / 200 = 1.6."""
    (found,) = (
        one for one in judged(200.0, 150.0, late, thermal_class=thermal).ratios if one.decision is not None
    )
    assert found.decision is not None
    assert found.decision.outcome == outcome


def test_the_index_is_of_no_use_above_5000_megohms() -> None:
    """IEEE 43 (from memory)."""
    found = judged(6000.0, 5900.0, 6100.0, thermal_class="F")
    assert all(one.decision is None for one in found.ratios)
    assert any("Above 5000 Mohm" in note for note in found.notes)


def test_a_resistance_that_falls_is_said_to() -> None:
    found = judged(100.0, 150.0)
    assert found.ratios[0].course == "falls"
    assert any("loose clip" in note for note in found.notes)


def test_times_that_are_not_those_of_a_ratio_give_none() -> None:
    logs = {45.0: Estimate(17.0, 0.0), 60.0: Estimate(17.1, 0.0), 300.0: Estimate(18.0, 0.0)}
    assert ratios(logs, None, 0.95) == ()


def test_a_dark_lamp_passes_only_what_a_lamp_can_see() -> None:
    dark = assess(InsulationTest("fields", 12.0, lamp=LAMP_12, lamp_state="dark"))
    assert (dark.outcome, dark.ohm_40) == ("undecided", None)
    kilohm = Minimum(1e3, "as entered")
    seen = assess(InsulationTest("fields", 12.0, lamp=LAMP_MAINS, lamp_state="dark", minimum=kilohm))
    unseen = assess(InsulationTest("fields", 12.0, lamp=LAMP_12, lamp_state="dark", minimum=kilohm))
    assert (seen.outcome, unseen.outcome) == ("accept", "undecided")


@pytest.mark.parametrize("state", ["lit", "glows"])
def test_a_lit_lamp_rejects_whatever_the_tester_said(state: str) -> None:
    assert judged(500.0, lamp=LAMP_MAINS, lamp_state=state).outcome == "reject"


def test_what_a_lamp_needs_to_glow_bounds_what_it_can_show() -> None:
    """At 1200 K of 2700 the filament takes (1200/2700)^4 = 3.9 % of its watts at (1200/2700)^1.2 = 0.378 of
    its hot resistance, so 0.321 of its rated current (Stefan and Boltzmann; the exponent from memory)."""
    found = lights_below(LAMP_12)
    rated_a, hot_ohm = 21 / 12, 12**2 / 21
    assert found.plain_a == pytest.approx(0.3212 * rated_a, rel=1e-3)
    assert found.plain_ohm == pytest.approx(12 / (0.3212 * rated_a) - 0.3779 * hot_ohm, rel=1e-3)
    assert found.plain_ohm < found.faintest_ohm
    assert lights_below(LAMP_MAINS).plain_ohm > 100 * found.plain_ohm


@pytest.mark.parametrize(
    ("volts", "watts", "supply"), [(0, 21, 12), (12, -1, 12), (12, 21, 230), (230, 25, 12)]
)
def test_a_lamp_that_cannot_burn_on_its_supply_is_refused(volts: float, watts: float, supply: float) -> None:
    with pytest.raises(MeasurementError, match="lamp"):
        Lamp(volts, watts, supply)


def test_the_test_voltage_is_spoken_of() -> None:
    """500 V dc for windings below 1000 V: IEEE 43-2000 table 1 (from memory)."""
    assert any("more than the 500 V" in note for note in judged(100.0, test_v=1000.0).notes)
    assert any("only a dead ground shows" in note for note in judged(100.0, test_v=3.0).notes)
    assert any("was not entered" in note for note in judged(100.0, test_v=None).notes)


@pytest.mark.parametrize("ohm", [-1.0, math.nan, math.inf])
def test_a_resistance_that_is_none_is_refused(ohm: float) -> None:
    with pytest.raises(MeasurementError, match="insulation"):
        Megohms(ohm, 1e4)


def test_two_readings_of_one_minute_and_none_at_all_are_refused() -> None:
    twice = (Megohms(1e6, 1e4, 60.0), Megohms(2e6, 1e4))
    with pytest.raises(MeasurementError, match="two readings after 60 s"):
        assess(InsulationTest("fields", 12.0, twice))
    with pytest.raises(MeasurementError, match="no reading"):
        assess(InsulationTest("fields", 12.0))
    with pytest.raises(MeasurementError, match="temperature"):
        judged(5.0, temperature=Estimate(400.0, 1.0))
