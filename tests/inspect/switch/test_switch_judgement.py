"""A switch judged as a whole: corrections, what is missing, contacts and travel."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.finding import SHEET, Bound, Finding
from barwise.inspect.switch.contacts import contacts_of
from barwise.inspect.switch.judgement import judge_switch
from barwise.inspect.switch.readings import WindingReading
from barwise.inspect.switch.tested import SwitchAnswer, SwitchSheet, SwitchTest
from barwise.machine.switch_windings import Path
from barwise.measure.decision import Limit
from barwise.measure.quantity import parse_quantity
from barwise.measure.uncertainty import Estimate

SHEET_12 = SwitchSheet(
    reference_v=10.0,
    pull_in_amps=Bound(Limit(30, 44), "A", SHEET),
    hold_in_amps=Bound(Limit(8, 12), "A", SHEET),
    pull_in_volts=Bound(Limit(upper=7.5), "V", SHEET),
    release_volts=Bound(Limit(0.3, 2.5), "V", SHEET),
    contact_drop=Bound(Limit(upper=0.2), "V", SHEET),
)


def read(path: Path, amps: float) -> WindingReading:
    return WindingReading(path, Estimate(10.0, 0.03), Estimate(amps, 0.05))


GOOD = SwitchTest(SHEET_12, (read("S to M", 37.0), read("S to ground", 9.8)), Estimate(20.0, 0.5))


def found(answer: SwitchAnswer, part: str) -> Finding:
    return next(one for one in answer.findings if one.part == part)


def test_a_good_switch_is_accepted() -> None:
    test = replace(
        GOOD,
        pull_in_volts=parse_quantity("6.2 V", "voltage"),
        release_volts=parse_quantity("1.4 V", "voltage"),
        drop=parse_quantity("0.050 V", "voltage"),
        drop_amps=parse_quantity("150 A", "current"),
        cranking_amps=parse_quantity("380 A", "current"),
    )
    answer = judge_switch(test)
    assert answer.verdict == "accept"
    assert answer.contacts is not None
    assert found(answer, "contact drop").value == pytest.approx(0.050 * 380 / 150)


def test_a_pull_in_voltage_read_warm_is_judged_cold_and_told_hot() -> None:
    """Source: (234.5 + t) of copper, NEMA MG 1 (from memory): 7.9 V at 60 °C are 6.827 V at 20 °C."""
    warm = replace(GOOD, celsius=Estimate(60.0, 1.0), pull_in_volts=parse_quantity("7.9 V", "voltage"))
    pulled = found(judge_switch(warm), "pull-in voltage")
    assert pulled.value == pytest.approx(7.9 * 254.5 / 294.5)
    assert pulled.outcome == "accept"
    assert "at 80 °C it will want 8.4 V" in pulled.line


def test_without_a_temperature_the_doubt_grows_and_it_is_said() -> None:
    with_it, without = judge_switch(GOOD), judge_switch(replace(GOOD, celsius=None))
    sure, vague = (found(one, "pull-in winding").standard_uncertainty or 0 for one in (with_it, without))
    assert vague > 2 * sure
    assert any("temperature of the windings was not read" in note for note in without.notes)
    assert not any("temperature" in note for note in with_it.notes)


def test_a_winding_is_worked_out_from_both_at_once_less_the_other() -> None:
    test = replace(GOOD, readings=(read("S to M and ground", 46.8), read("S to ground", 9.8)))
    windings = {one.winding: one for one in judge_switch(test).windings}
    assert windings["pull-in"].now.value == pytest.approx(10 / 37.0)
    assert windings["pull-in"].from_paths == ("S to M and ground", "S to ground")


def test_an_open_winding_is_rejected_and_no_resistance_is_made_up_for_it() -> None:
    answer = judge_switch(replace(GOOD, readings=(read("S to M", 0.0), read("S to ground", 9.8))))
    assert answer.verdict == "reject"
    assert [one.winding for one in answer.windings] == ["hold-in"]
    assert "pull-in winding open" in found(answer, "windings").line


def test_one_reading_alone_is_left_open_and_the_next_is_named() -> None:
    answer = judge_switch(replace(GOOD, readings=(read("S to M", 37.0),)))
    assert found(answer, "windings").outcome == "undecided"
    assert "Read S to ground next" in found(answer, "windings").settle


def test_contacts_without_a_current_or_with_crossed_leads_are_refused() -> None:
    with pytest.raises(MeasurementError, match="a current through the contacts"):
        contacts_of(Estimate(0.05, 0.0), Estimate(0.0, 0.1))
    with pytest.raises(MeasurementError, match="the wrong way round"):
        contacts_of(Estimate(-0.05, 0.0), Estimate(100.0, 0.1))


@pytest.mark.parametrize(("closes", "outcome"), [("9.6 mm", "accept"), ("11.2 mm", "reject")])
def test_contacts_that_touch_only_at_the_end_of_the_travel_are_rejected(closes: str, outcome: str) -> None:
    sheet = replace(SHEET_12, overtravel=Bound(Limit(lower=0.0006), "mm", SHEET))
    test = SwitchTest(
        sheet, travel=parse_quantity("11.4 mm", "length"), closes_at=parse_quantity(closes, "length")
    )
    assert found(judge_switch(test), "travel left when the contacts touch").outcome == outcome
