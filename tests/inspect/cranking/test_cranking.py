"""What is expected, what was measured, and whose fault it is."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barwise.errors import InputError, MeasurementError
from barwise.inspect.cranking import (
    DropReadings,
    Vehicle,
    WayLeg,
    blame,
    crank,
    fit_drops,
    outlook,
)
from barwise.inspect.cranking.blame import shapley
from barwise.inspect.cranking.measured_run import as_measured, learn
from barwise.inspect.cranking.vehicle import draw
from barwise.machine.battery import Battery
from barwise.machine.cranking_course import Rotor
from barwise.machine.engine import Engine, usual_drag
from barwise.machine.motor import Motor
from barwise.measure.uncertainty import Estimate

SOUND = Motor(
    "series", flux_vs=0.05, armature_ohm=0.0022, field_ohm=0.0016, friction_nm=1.2, windage_nms2=2e-6,
    saturation_a=200.0, residual=0.01, brush_v=0.5, brush_ohm=0.0005,
)  # fmt: skip
NAMES = ("positive cable", "switch", "ground")


def leg(name: str, ohm: float, healthy: float) -> WayLeg:
    return WayLeg(name, Estimate(ohm, 0.05 * ohm), healthy)


def vehicle(
    ground: float = 4e-4, motor: Motor = SOUND, charge: float = 1.0, at: float | None = 5.0
) -> Vehicle:
    return Vehicle(
        battery=Battery(12, 800, charge),
        temperature_c=at,
        legs=(leg("positive cable", 5e-4, 5e-4), leg("switch", 3e-4, 3e-4), leg("ground", ground, 4e-4)),
        starter=motor,
        sound_starter=SOUND,
        ratio=12.0,
        engine=Engine(2.4e-3, 4, 4, "diesel-indirect", 20.0),
        rotor=Rotor(0.004),
    )


def test_the_volts_leg_by_leg_are_the_battery_s_loaded_volts() -> None:
    found = outlook(vehicle())
    whole = sum(row.volts.middle for row in found.budget)
    assert whole == pytest.approx(12.65 - 0.6, abs=0.15)
    assert [row.name for row in found.budget] == ["battery", *NAMES, "starter"]
    assert found.budget[0].volts.middle + found.battery_v.middle == pytest.approx(12.05, abs=0.15)


def test_cold_makes_it_slower_at_more_amperes() -> None:
    mild, cold = (outlook(vehicle(at=at)) for at in (20.0, -20.0))
    assert cold.speed_rpm.middle < mild.speed_rpm.middle
    assert cold.current_a.middle > mild.current_a.middle
    assert cold.starts < mild.starts


def test_without_a_temperature_none_is_assumed_the_interval_widens_and_it_says_so() -> None:
    known, unknown = outlook(vehicle()), outlook(vehicle(at=None))
    widths = [one.speed_rpm.high - one.speed_rpm.low for one in (known, unknown)]
    assert widths[1] > 1.3 * widths[0]
    assert any("No temperature" in line for line in unknown.said)
    assert not any("No temperature" in line for line in known.said)


@pytest.mark.parametrize(
    ("slow", "link"),
    [
        (vehicle(ground=6e-3), "ground"),
        (vehicle(charge=0.25), "battery"),
        (vehicle(motor=replace(SOUND, joint_ohm=6e-3)), "starter"),
    ],
)
def test_the_one_bad_link_is_the_weakest_and_takes_most_of_the_loss(slow: Vehicle, link: str) -> None:
    found = blame(slow)
    assert found.weakest.name == link
    assert found.weakest.weakest > 0.9
    assert found.weakest.share_rpm.middle > 0.7 * found.loss_rpm.middle
    if found.starter_share is not None:
        assert (found.starter_share.middle > 0.7) == (link == "starter")


def test_a_starter_in_order_explains_nothing_of_a_slow_crank() -> None:
    found = blame(vehicle(ground=6e-3))
    assert found.starter_share is not None
    assert found.starter_share.high < 0.02


def test_with_everything_in_order_nothing_is_lost() -> None:
    found = blame(vehicle())
    assert found.loss_rpm.middle < 0.02 * found.sound_rpm.middle
    assert found.starter_share is None


def test_shapley_values_of_the_glove_game_are_the_published_ones() -> None:
    """The glove game with two left gloves and one right: 1/6, 1/6, 4/6 (any text on cooperative games)."""
    players = ("left", "other left", "right")
    sets = [frozenset(some) for size in range(4) for some in combinations(players, size)]
    worth = {one: np.array([float("right" in one and len(one) > 1)]) for one in sets}
    values = [float(shapley(worth, players, player)[0]) for player in players]
    assert values == pytest.approx([1 / 6, 1 / 6, 4 / 6])


@settings(max_examples=50)
@given(st.lists(st.floats(-50, 50), min_size=16, max_size=16))
def test_shares_add_up_to_the_whole_loss_whatever_the_links_are_worth(values: list[float]) -> None:
    links = ("a", "b", "c", "d")
    sets = [frozenset(some) for size in range(5) for some in combinations(links, size)]
    worth = {one: np.array([value]) for one, value in zip(sets, values, strict=True)}
    total = sum(float(shapley(worth, links, link)[0]) for link in links)
    assert total == pytest.approx(values[-1] - values[0], abs=1e-9)


def readings(**changed: object) -> DropReadings:
    given: dict[str, object] = {
        "current": Estimate(300.0, 3.0),
        "drops": {
            name: Estimate(volts, 0.005) for name, volts in zip(NAMES, (0.20, 0.10, 0.90), strict=True)
        },
        "battery": Estimate(10.20, 0.005),
        "starter": Estimate(9.00, 0.005),
        "rest": Estimate(12.60, 0.005),
        "temperature_c": 5.0,
    }
    return DropReadings(**{**given, **changed})  # type: ignore[arg-type]


def test_drops_give_resistances_and_the_bad_leg_is_found() -> None:
    """The limit is 0.20 V for each 100 A, TM 10-3930-671-24 p. F-303."""
    found = fit_drops(readings(), NAMES)
    assert [one.decision.outcome for one in found.legs] == ["accept", "accept", "reject"]
    assert found.legs[2].ohm.value == pytest.approx(0.90 / 300, rel=1e-3)
    assert found.legs[2].ohm.standard_uncertainty == pytest.approx(0.003 * 0.01, rel=0.2)
    assert found.closes
    assert found.misfit_v == pytest.approx(0.0, abs=1e-12)


@settings(max_examples=100)
@given(
    st.lists(st.floats(0.05, 1.0), min_size=3, max_size=3),
    st.lists(st.floats(-2.5, 2.5), min_size=5, max_size=5),
    st.lists(st.floats(0.001, 0.02), min_size=5, max_size=5),
)
def test_after_the_adjustment_no_drop_is_less_well_known_and_the_misfit_is_shared_by_variance(
    true: list[float], off: list[float], spread: list[float]
) -> None:
    """Against least squares with a constraint in matrices, for all five readings at once."""
    volts = [9.0 + sum(true), 9.0, *true]
    read = [Estimate(value + o * u, u) for value, o, u in zip(volts, off, spread, strict=True)]
    given = readings(battery=read[0], starter=read[1], drops=dict(zip(NAMES, read[2:], strict=True)))
    found = fit_drops(given, NAMES)
    row = np.array([1.0, -1.0, -1.0, -1.0, -1.0])
    cover = np.diag(np.square(spread))
    values = np.array([one.value for one in read])
    gain = cover @ row / (row @ cover @ row)
    expected = values - gain * (row @ values)
    left = cover - np.outer(gain, row) @ cover
    for place, one in enumerate(found.legs):
        assert one.volts.value == pytest.approx(expected[place + 2], abs=1e-12)
        assert one.volts.standard_uncertainty**2 == pytest.approx(left[place + 2, place + 2], abs=1e-12)


def test_volts_of_the_battery_entered_as_volts_of_the_starter_are_asked_about() -> None:
    found = fit_drops(readings(starter=Estimate(10.20, 0.005)), NAMES)
    assert found.closes is False
    assert "read at the battery?" in found.questions[0]


def test_volts_that_do_not_add_up_are_asked_about() -> None:
    found = fit_drops(readings(starter=Estimate(8.40, 0.005)), NAMES)
    assert found.closes is False
    assert "+0.60 V" in found.questions[0]


@pytest.mark.parametrize(
    "wrong",
    [
        {"current": Estimate(-300.0, 1.0)},
        {"current": Estimate(0.0, 1.0)},
        {"drops": {"ground": Estimate(-0.5, 0.005)}},
        {"drops": {"door": Estimate(0.5, 0.005)}},
        {"rest": Estimate(9.0, 0.005)},
    ],
)
def test_readings_that_cannot_be_are_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(MeasurementError, match="expected"):
        fit_drops(readings(**wrong), NAMES)


def test_a_measured_run_narrows_what_is_expected() -> None:
    """Readings made by the model itself with an engine that asks 30 % more than usual."""
    told, true = vehicle(at=10.0), vehicle(at=10.0)
    asks = usual_drag(true.engine)
    true = replace(true, drag=replace(asks, friction_pa=1.3 * float(asks.friction_pa)))
    run = crank(true).outlook
    read = DropReadings(
        current=Estimate(run.current_a.middle, 2.0),
        speed=Estimate(run.speed_rpm.middle * 2 * np.pi / 60, 0.1),
        temperature_c=10.0,
    )
    cold = replace(told, temperature_c=-10.0)
    learnt = learn(cold, read)
    assert learnt.agrees
    before, after = outlook(cold), outlook(cold, learnt.draws)
    widths = [one.speed_rpm.high - one.speed_rpm.low for one in (before, after)]
    assert widths[1] < 0.75 * widths[0]
    real = outlook(replace(true, temperature_c=-10.0)).speed_rpm.middle
    assert after.speed_rpm.low < real < after.speed_rpm.high


def test_a_starter_known_by_its_run_test_may_be_any_that_is_left_possible_each_beside_itself_in_order() -> (
    None
):
    """Two motors as likely each: the interval holds both, and only the bad one explains anything."""
    joints = np.array([0.0, 6e-3] * 20)
    one = vehicle(ground=4e-4)
    unsure = replace(
        one, starter=replace(SOUND, joint_ohm=joints), sound_starter=replace(SOUND, joint_ohm=0 * joints)
    )
    good, bad, either = (
        outlook(each).speed_rpm
        for each in (one, replace(one, starter=replace(SOUND, joint_ohm=6e-3)), unsure)
    )
    assert either.low == pytest.approx(bad.low, rel=0.05)
    assert either.high == pytest.approx(good.high, rel=0.05)
    starter = next(link for link in blame(unsure).links if link.name == "starter")
    assert starter.gain_rpm.low == pytest.approx(0.0, abs=0.01)
    assert starter.gain_rpm.high > 0.8 * (good.middle - bad.middle)
    assert crank(unsure).course.speed_rad_s.shape == crank(one).course.speed_rad_s.shape


def test_readings_that_do_not_go_with_the_description_teach_nothing() -> None:
    read = DropReadings(current=Estimate(1500.0, 5.0), speed=Estimate(40.0, 0.2), temperature_c=5.0)
    assert learn(vehicle(), read).agrees is False


def test_measured_resistances_take_the_place_of_worked_out_ones() -> None:
    found = as_measured(vehicle(), fit_drops(readings(), NAMES), 5.0)
    assert [one.measured for one in found.legs] == [True] * 3
    assert found.legs[2].now.value == pytest.approx(0.003, rel=1e-3)
    assert found.battery_ohm is not None


def test_an_inductance_too_small_for_the_steps_changes_no_speed() -> None:
    usual, tiny = (outlook(replace(vehicle(), rotor=Rotor(0.004, henry))) for henry in (1e-4, 1e-6))
    assert tiny.speed_rpm.middle == pytest.approx(usual.speed_rpm.middle, rel=0.005)


def test_the_same_question_gives_the_same_answer() -> None:
    first, second = draw(vehicle(), 64), draw(vehicle(), 64)
    assert np.array_equal(first.flux, second.flux)
    assert np.array_equal(first.temperature_c, second.temperature_c)


@pytest.mark.parametrize("at", [-90.0, 200.0])
def test_a_temperature_that_cannot_be_is_refused(at: float) -> None:
    with pytest.raises(InputError, match="temperature"):
        vehicle(at=at)
