"""Which winding is at fault: plain cases, subsets of readings, and made switches with known answers."""

from __future__ import annotations

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.switch.readings import WindingReading, from_ohmmeter, open_circuit
from barwise.inspect.switch.winding_faults import (
    HOW_OFTEN,
    USUAL_OHM,
    Healthy,
    WindingDiagnosis,
    diagnose_windings,
)
from barwise.machine.switch_windings import PATHS, Path, current_a, grounded_pull_in, network_of
from barwise.measure.uncertainty import Estimate

HEALTHY = Healthy(Estimate(0.27, 0.025), Estimate(1.05, 0.1))
ROOM = Estimate(20.0, 1.0)


def read(path: Path, amps: float, volts: float = 10.0) -> WindingReading:
    return WindingReading(path, Estimate(volts, 0.03), Estimate(amps, max(0.01, 0.005 * amps)))


def diagnosed(*readings: WindingReading, celsius: Estimate | None = ROOM) -> WindingDiagnosis:
    return diagnose_windings(readings, HEALTHY, celsius)


@pytest.mark.parametrize(
    ("readings", "fault"),
    [
        ([("S to M", 37.0), ("S to ground", 9.5)], "sound"),
        ([("S to M", 0.0), ("S to ground", 9.5)], "pull-in open"),
        ([("S to M", 37.0), ("S to ground", 0.0)], "hold-in open"),
        ([("S to M", 0.0), ("S to ground", 0.0)], "common lead open"),
        ([("S to M", 62.0), ("S to ground", 9.5)], "pull-in turns shorted"),
        ([("S to M", 37.0), ("S to ground", 18.0)], "hold-in turns shorted"),
        ([("S to M", 62.0), ("S to ground", 18.0)], "both windings shorted"),
        ([("S to M", 1500.0), ("S to ground", 9.5)], "pull-in shorted across"),
        ([("S to M", 37.0), ("S to ground", 600.0)], "hold-in shorted to ground"),
        ([("S to M", 15.0), ("S to ground", 9.5)], "pull-in joint"),
        ([("S to M", 37.0), ("S to ground", 4.0)], "hold-in joint"),
        ([("S to M and ground", 9.5), ("S to M", 0.0)], "pull-in open"),
        ([("S to M and ground", 37.0), ("S to M", 37.0)], "hold-in open"),
        ([("M to ground", 0.0), ("S to M", 37.0)], "hold-in open"),
    ],
)
def test_the_fault_a_rebuilder_would_name_comes_first(readings: list[tuple[Path, float]], fault: str) -> None:
    """Source: TM 10-3930-653-14&P, p. 4-99, for continuity S to M and S to body; the rest is Ohm's law."""
    found = diagnosed(*(read(path, amps) for path, amps in readings))
    assert found.explanations[0].fault == fault
    assert found.explanations[0].probability > 0.6


def test_a_ground_within_the_pull_in_winding_is_placed_from_all_three_readings() -> None:
    network = grounded_pull_in(np.array(0.27), np.array(1.05), np.array(0.3))
    paths: tuple[Path, ...] = ("S to M", "S to ground", "M to ground")
    found = diagnosed(*(read(path, float(current_a(network, path, 10.0))) for path in paths))
    assert found.explanations[0].fault == "pull-in grounded"
    assert found.explanations[0].severity == pytest.approx(0.3, abs=0.03)


def test_the_share_of_shorted_turns_is_told() -> None:
    found = diagnosed(read("S to M", 10 / (0.27 * 0.6)), read("S to ground", 9.5))
    assert found.explanations[0].severity == pytest.approx(0.4, abs=0.06)


def test_both_at_once_alone_cannot_say_which_winding_and_names_the_reading_that_can() -> None:
    found = diagnosed(read("S to M and ground", 70.0))
    assert found.explanations[0].probability < 0.7
    assert found.next_path in ("S to M", "S to ground", "M to ground")
    one, other = found.expected
    assert abs(one - other) > 0.2 * max(one, other)


def test_no_reading_at_all_leaves_what_is_usual() -> None:
    found = diagnosed()
    assert {one.fault: one.probability for one in found.explanations} == pytest.approx(
        dict(HOW_OFTEN), abs=2e-3
    )


def test_without_the_sheets_ranges_an_open_is_still_certain_and_shorted_turns_are_not() -> None:
    usual = Healthy(USUAL_OHM["pull-in"], USUAL_OHM["hold-in"])
    opened = diagnose_windings([read("S to M", 0.0), read("S to ground", 9.5)], usual, ROOM)
    assert opened.explanations[0].fault == "pull-in open"
    assert opened.explanations[0].probability > 0.95
    half = diagnose_windings([read("S to M", 55.0), read("S to ground", 9.5)], usual, ROOM)
    assert half.explanations[0].fault == "sound"


def test_an_unread_temperature_makes_less_sure_and_never_more() -> None:
    readings = (read("S to M", 47.0), read("S to ground", 9.5))
    sure, vague = diagnosed(*readings), diagnosed(*readings, celsius=None)
    assert sure.sound < vague.sound


def test_an_ohmmeter_says_the_same_as_volts_and_amperes() -> None:
    by_amps = diagnosed(
        read("S to M", 0.0), WindingReading("S to ground", Estimate(1, 0), Estimate(0.95, 0.005))
    )
    by_ohms = diagnosed(open_circuit("S to M"), from_ohmmeter("S to ground", Estimate(1 / 0.95, 0.0055)))
    assert by_ohms.explanations[0].fault == by_amps.explanations[0].fault == "pull-in open"
    assert by_ohms.explanations[0].probability == pytest.approx(by_amps.explanations[0].probability, abs=0.02)


def test_one_bad_touch_among_good_readings_does_not_condemn_the_switch() -> None:
    good = [read("S to M", 37.0), read("S to M", 37.1), read("S to ground", 9.5), read("S to ground", 9.5)]
    assert diagnosed(*good, read("S to M", 12.0)).explanations[0].fault == "sound"


def test_of_made_switches_the_true_fault_comes_first_or_second_and_the_chances_are_honest() -> None:
    """Source: our own generator: Gaussian meters, faults drawn evenly, all three direct readings taken."""
    rng = np.random.default_rng(11)
    firsts, seconds, claimed = 0, 0, 0.0
    faults = ["sound", "pull-in open", "hold-in open", "pull-in turns", "hold-in turns", "hold-in joint"]
    named = {"pull-in turns": "pull-in turns shorted", "hold-in turns": "hold-in turns shorted"}
    cases = 30
    for number in range(cases):
        fault = faults[number % len(faults)]
        found = diagnosed(*_made(fault, rng))
        ranked = [one.fault for one in found.explanations]
        firsts += ranked[0] == named.get(fault, fault)
        seconds += named.get(fault, fault) in ranked[:2]
        claimed += found.explanations[0].probability
    assert firsts / cases > 0.85
    assert seconds / cases > 0.95
    assert abs(firsts - claimed) / cases < 0.1


def _made(fault: str, rng: np.random.Generator) -> list[WindingReading]:
    pull_in, hold_in = np.array([0.27, 1.05]) * np.exp(0.08 * rng.standard_normal(2))
    bad = rng.uniform(0.3, 0.8)
    pull_in *= {"pull-in open": np.inf, "pull-in turns": 1 - bad}.get(fault, 1.0)
    hold_in *= {"hold-in open": np.inf, "hold-in turns": 1 - bad, "hold-in joint": 1 + 4 * bad}.get(
        fault, 1.0
    )
    network = network_of(np.array(pull_in), np.array(hold_in))
    paths: tuple[Path, ...] = ("S to M", "S to ground", "S to M and ground")
    return [
        read(path, max(0.0, float(current_a(network, path, 10.0)) * (1 + 0.01 * rng.standard_normal())))
        for path in paths
    ]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize(("volts", "amps"), [(0.0, 1.0), (-1.0, 1.0), (10.0, -1.0), (float("nan"), 1.0)])
def test_a_reading_without_a_voltage_or_with_a_backward_current_is_refused(
    path: Path, volts: float, amps: float
) -> None:
    with pytest.raises(MeasurementError, match="a voltage above 0"):
        WindingReading(path, Estimate(volts, 0.0), Estimate(amps, 0.0))


def test_amperes_no_winding_draws_are_refused_with_what_was_read() -> None:
    """By hand: 10 V drive no million amperes through windings of tenths of an ohm."""
    far = [
        WindingReading(path, Estimate(10.0, 0.01), Estimate(1e6, 1.0)) for path in ("S to M", "S to ground")
    ]
    near = WindingReading("S to M and ground", Estimate(10.0, 0.01), Estimate(1.0, 0.01))
    with pytest.raises(MeasurementError, match=r"10 V and 1e\+06 A.*which no winding gives, expected"):
        diagnose_windings([*far, near], Healthy(Estimate(0.27, 0.03), Estimate(1.0, 0.1)))
