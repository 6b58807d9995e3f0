"""The run test on readings made by equations of its own, and everything it has to ask about."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from barwise.inspect.run_test import Point, RunTest, Sheet, assess, figure, from_limit
from barwise.inspect.run_test.further_points import further_points
from barwise.inspect.run_test.next_test import PART_TESTS
from barwise.inspect.run_test.nominal import sound_motors, unit_prior
from barwise.inspect.run_test.prediction import problem
from barwise.inspect.run_test.questions import sag_of
from barwise.machine.motor import state_at_current
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate
from benchmarks import run_accuracy
from reference import starters

RPM = 2 * math.pi / 60
POUND_FOOT = 1.3558179483314


def about(value: float) -> Estimate:
    return Estimate(value, 0.01 * abs(value))


def sheet() -> Sheet:
    limits = (
        ("no-load", "current", Limit(55.0, 85.0)),
        ("no-load", "speed", Limit(3600 * RPM, 5400 * RPM)),
        ("lock", "torque", Limit(lower=12.0 * POUND_FOOT)),
    )
    return Sheet(
        field="series-parallel",
        points=(
            Point("no-load", Estimate(11.5, 0.02), figure(70.0), figure(4600 * RPM)),
            Point("lock", Estimate(4.0, 0.01), figure(450.0), None, figure(13.8 * POUND_FOOT)),
        ),
        limits=limits,  # type: ignore[arg-type]
        temperature=Estimate(20.0, 2.0),
        field_paths=2,
        bars=57,
    )


FREE = Point("no-load", about(11.5), about(70.0), about(4600 * RPM), None, Estimate(20.0, 2.0))
HELD = Point("lock", about(4.0), about(450.0), None, about(13.8 * POUND_FOOT), Estimate(25.0, 2.0))


@cache
def usual() -> RunTest:
    """A sound one's usual run, weighed once for all tests."""
    return assess(sheet(), [FREE, HELD])


def asked(*points: Point) -> str:
    return " ".join(assess(sheet(), points).questions)


def test_a_motor_that_does_as_the_sheet_says_has_nothing_wrong() -> None:
    found = usual()
    assert found.causes[0].key == "healthy"
    assert found.healthy > 0.8
    assert found.verdict in ("sound", "undecided")
    assert {one.decision.outcome for one in found.corrected} == {"accept"}
    assert found.questions == ()


def test_a_point_typed_twice_is_asked_about_and_counts_once() -> None:
    """Common practice, no source: two readings alike to the last digit tell no more than one."""
    single = usual()
    twice = assess(sheet(), [FREE, HELD, replace(HELD, current=about(450.0))])
    assert single.questions == ()
    (question,) = twice.questions
    assert question.startswith("Locked: volts, amperes and torque stand there twice with the very same")
    assert "read again, or typed twice?" in question
    assert twice.causes == single.causes
    assert twice.rated_power == single.rated_power


def test_a_point_read_again_with_another_digit_counts_and_is_not_asked_about() -> None:
    again = replace(HELD, current=about(451.0))
    found = assess(sheet(), [FREE, HELD, again])
    assert found.questions == ()
    assert found.causes != usual().causes


def test_the_same_readings_give_the_same_answer() -> None:
    first, second = (assess(sheet(), [FREE, HELD]) for _ in range(2))
    assert first.causes == second.causes


def test_readings_at_other_volts_are_brought_to_the_sheets() -> None:
    """Speed goes with the volts (TM 5-4310-354-14, seen): 10 V and 4000 rpm come to 4600 at 11.5 V."""
    slow = replace(FREE, volts=about(10.0), speed=about(4000 * RPM))
    corrected = {one.name: one for one in assess(sheet(), [slow, HELD]).corrected}
    assert corrected["speed"].read == pytest.approx(4000 * RPM)
    assert corrected["speed"].value == pytest.approx(4600 * RPM, rel=0.03)
    assert corrected["speed"].decision.outcome == "accept"


def test_a_motor_that_may_give_nothing_at_all_still_has_its_readings_brought_to_the_sheets_volts() -> None:
    """Usual amperes and half the speed: some of the motors that remain lose all volts and stand."""
    slow = replace(FREE, volts=about(11.6), current=about(75.0), speed=about(2400 * RPM))
    found = assess(sheet(), [slow])
    assert all(math.isfinite(one.value) and one.value > 0 for one in found.corrected)


def test_any_subset_of_points_gives_an_answer() -> None:
    loaded = Point("loaded", about(9.5), about(350.0), about(1480 * RPM), about(10.0 * POUND_FOOT))
    for points in ([FREE], [HELD], [loaded], [FREE, loaded], [FREE, HELD, loaded]):
        found = assess(sheet(), points)
        assert sum(one.probability for one in found.causes) == pytest.approx(1.0)
        assert found.curve is not None
        assert found.causes[0].key == "healthy"


def test_without_a_sheet_nothing_certain_is_said_and_the_curve_is_wider() -> None:
    known, unknown = usual(), assess(Sheet("series-parallel"), [FREE, HELD])
    assert unknown.verdict == "undecided"
    assert any("no figures" in note for note in unknown.notes)
    assert known.curve is not None
    assert unknown.curve is not None

    def width(power: object) -> float:
        band = power.power  # type: ignore[attr-defined]
        best = int(np.argmax(band.value))
        return float((band.high - band.low)[best] / band.value[best])

    assert width(unknown.curve) > width(known.curve)


def test_nothing_read_is_undecided_and_says_so() -> None:
    found = assess(sheet(), [])
    assert found.verdict == "undecided"
    assert found.curve is None
    assert "Nothing was read" in " ".join(found.questions)


def test_a_lock_test_without_torque_is_used_and_asked_about() -> None:
    bare = replace(HELD, torque=None)
    assert "no torque was read" in asked(FREE, bare)
    assert assess(sheet(), [FREE, bare]).causes[0].key == "healthy"


def test_a_speed_that_the_volts_cannot_give_is_asked_about() -> None:
    """A tenfold slip as printed in TM 9-4940-568-34 p. 5-157 (360 against 5400 rpm, seen) must not pass."""
    assert "more than 11.5 V can give" in asked(replace(FREE, speed=about(46000 * RPM)), HELD)


def test_a_reversed_shunt_is_turned_and_asked_about() -> None:
    turned = replace(FREE, current=about(-70.0)), replace(HELD, current=about(-450.0))
    found = assess(sheet(), turned)
    assert "wrong way round" in " ".join(found.questions)
    assert "drove only" not in " ".join(found.questions)
    assert found.causes[0].key == "healthy"


def test_volts_read_at_the_battery_are_asked_about() -> None:
    """Locked, a starter pulls any battery down: volts that stay are not the starter's."""
    assert "at the battery" in asked(FREE, replace(HELD, volts=about(11.3)))


def test_volts_that_drive_nothing_are_an_open_circuit_and_not_asked_about() -> None:
    open_circuit = replace(FREE, current=about(0.0), speed=about(0.0))
    locked = replace(HELD, current=about(0.0), torque=about(0.0))
    assert "read at the starter" not in asked(open_circuit, locked)


def test_volts_that_drive_too_little_are_asked_about() -> None:
    assert "read at the starter" in asked(FREE, replace(HELD, volts=about(8.0)))


def test_missing_volts_are_asked_for_and_the_point_is_left_out() -> None:
    found = assess(sheet(), [FREE, replace(HELD, volts=None)])
    assert "volts are missing" in " ".join(found.questions)


def test_without_a_temperature_none_is_assumed_the_interval_is_wider_and_it_is_said() -> None:
    rated = Point("loaded", Estimate(9.5, 0.02), figure(350.0), figure(1480 * RPM), figure(10 * POUND_FOOT))
    model = replace(sheet(), rated=rated, points=(*sheet().points, rated))
    unknown = [replace(one, temperature=None) for one in (FREE, HELD)]
    known, wide = assess(model, [FREE, HELD]), assess(model, unknown)
    assert any("temperature is missing" in note for note in wide.notes)
    assert known.rated_power is not None
    assert wide.rated_power is not None
    assert wide.rated_power.high - wide.rated_power.low > known.rated_power.high - known.rated_power.low


def test_a_wrong_limit_rejects_by_the_one_decision_rule() -> None:
    weak = replace(HELD, torque=about(8.0 * POUND_FOOT))
    torque = next(one for one in assess(sheet(), [FREE, weak]).corrected if one.name == "torque")
    assert torque.decision.outcome == "reject"


def test_two_points_show_how_the_battery_sags() -> None:
    sag = sag_of([replace(FREE, volts=about(12.0)), replace(HELD, volts=about(4.0))])
    assert sag is not None
    assert sag.ohm == pytest.approx(8.0 / 380)
    assert sag.volts_v == pytest.approx(12.0 + 70 * 8.0 / 380)


def test_limits_say_what_a_sound_motor_reads() -> None:
    assert from_limit(Limit(55.0, 85.0)).value == 70.0
    assert from_limit(Limit(upper=520.0)).value < 520.0
    assert from_limit(Limit(lower=12.0)).value > 12.0


@pytest.mark.parametrize("fault", ["healthy", "friction", "open-field-path", "dead-ground", "open", "seized"])
def test_what_was_put_into_a_made_starter_comes_out_first(fault: str) -> None:
    """The starter and its readings come from `reference.starters`, whose equations are its own."""
    random = np.random.default_rng(77)
    model = starters.make_model(random)
    while model.field != "series-parallel":
        model = starters.make_model(random)
    starter = starters.spoil(starters.make_one(model, random), fault, random)
    rows = starters.read(starters.bench_points(starter, fault, random), starters.Meters(), random)
    found = assess(run_accuracy.sheet(model, starters.sheet_of(model)), run_accuracy.points(rows))
    first = found.causes[0].key
    assert ("open" if first in run_accuracy.OPEN else first) == fault


@pytest.mark.parametrize("field", ["permanent-magnet", "series"])
def test_a_sheet_tells_friction_from_what_grows_with_speed_as_the_made_motor_has_them(field: str) -> None:
    """How a motor's drag goes with speed says how much of its amperes a slower one saves."""
    random = np.random.default_rng(41)
    off = []
    while len(off) < 8:
        model = starters.make_model(random)
        if model.field != field:
            continue
        sound = sound_motors(run_accuracy.sheet(model, starters.sheet_of(model)), 400)
        known = np.log(np.asarray(sound.friction_nm))
        off.append((math.log(model.friction_nm) - known.mean()) / known.std())
    assert np.abs(off).max() < 2.5


def made(fault: str, seed: int) -> tuple[Sheet, tuple[Point, ...]]:
    """A made starter's sheet, and its two points and two more at half the volts."""
    random = np.random.default_rng(seed)
    model = starters.make_model(random)
    starter = starters.spoil(starters.make_one(model, random), fault, random)
    rows = starters.read(starters.bench_points(starter, fault, random), starters.Meters(), random)
    return run_accuracy.sheet(model, starters.sheet_of(model)), run_accuracy.points(rows)


def chance_of(key: str, found: RunTest) -> float:
    return next(one.probability for one in found.causes if one.key == key)


@pytest.mark.parametrize("fault", ["brush-contact", "high-resistance"])
def test_a_second_lock_point_at_half_the_volts_parts_a_bad_joint_from_poor_brush_contact(fault: str) -> None:
    """A constant drop takes the larger share of fewer volts; a resistance takes the same."""
    one_point, two_points = [], []
    for seed in (500, 501, 505, 507):
        known, points = made(fault, seed)
        one_point.append(chance_of(fault, assess(known, points[:2])))
        two_points.append(chance_of(fault, assess(known, (*points[:2], points[3]))))
    assert np.mean(two_points) > np.mean(one_point) + 0.1
    assert np.sum(np.array(two_points) > 0.8) >= 3


@pytest.mark.parametrize("seed", [541, 550])
def test_a_sound_starter_read_at_two_voltages_is_not_accused_for_what_grease_takes(seed: int) -> None:
    """They were: drag that goes with speed was shorted coils' alone, the brush drop bent at one current."""
    known, points = made("healthy", seed)
    assert assess(known, points).causes[0].key == "healthy"


def test_what_a_meter_is_off_at_every_point_does_not_wear_off_with_more_points() -> None:
    """Of two readings by one meter, half of whose variance is its gain, the mean has 3/4 of that of one."""
    twice = problem(unit_prior(sheet()), [FREE, replace(FREE, volts=about(11.6))], bench=True)
    places = [place for place, one in enumerate(twice.measured) if one.name == "current"]
    precision = (twice.apart.T @ twice.apart)[np.ix_(places, places)]
    spread = np.array([twice.measured[place].uncertainty for place in places])
    meter = np.array([FREE.current.standard_uncertainty] * 2) if FREE.current else spread
    rest = spread**2 - meter**2
    expected = np.full((2, 2), 0.5 * meter[0] ** 2) + np.diag(0.5 * meter**2 + rest)
    assert np.linalg.inv(precision) * np.outer(spread, spread) == pytest.approx(expected)
    volts = twice.volts_root @ twice.volts_root.T
    assert volts[0, 1] == pytest.approx(0.5 * 0.01**2 * 11.5 * 11.6)


def test_a_point_at_half_the_volts_is_not_held_against_the_limits_and_shows_no_sag() -> None:
    low = Point("no-load", about(5.7), about(59.0), about(2400 * RPM), None, Estimate(20.0, 2.0))
    with_low, without = assess(sheet(), [FREE, HELD, low]), usual()
    assert [one.read for one in with_low.corrected] == [one.read for one in without.corrected]
    assert with_low.sag == without.sag


def test_a_point_at_half_the_volts_is_proposed_until_it_was_read() -> None:
    known, points = made("brush-contact", 500)
    first = assess(known, points[:2]).next_test
    taken = tuple(one.key for one in PART_TESTS)
    assert first is not None
    proposed = assess(known, points[:2], taken=taken).next_test
    assert proposed is not None
    assert proposed.key in ("lock-low", "no-load-low")
    assert "V" in proposed.do
    left = assess(known, points, taken=taken).next_test
    assert left is None


@pytest.mark.parametrize(
    ("read", "left"),
    [(1, ["lock", "no-load-low"]), (2, ["no-load-low", "lock-low"]), (3, ["lock-low"]), (4, [])],
)
def test_each_kind_of_point_is_left_to_read_until_it_was_read_at_two_voltages(
    read: int, left: list[str]
) -> None:
    known, points = made("brush-contact", 500)
    posed = problem(unit_prior(known), points, bench=True)
    assert [one.key for one in further_points(posed, (), points[:read])] == left


def test_the_motors_that_remain_possible_are_the_same_each_time_and_run_as_the_curve_says() -> None:
    found = usual()
    assert sum(one.weights.sum() for one in found.posterior) == pytest.approx(1.0)
    singles = found.motors(25)
    assert singles == assess(sheet(), [FREE, HELD]).motors(25)
    assert len(singles) == 25
    assert sum(one.weight for one in singles) == pytest.approx(1.0)
    assert found.curve is not None
    at = len(found.curve.current_a) // 2
    middle = np.median([
        state_at_current(one.motor, found.curve.volts_v, float(found.curve.current_a[at])).torque_nm
        for one in singles
    ])  # fmt: skip
    assert found.curve.torque.low[at] < middle < found.curve.torque.high[at]
    assert assess(sheet(), [replace(FREE, current=about(0.0), speed=about(0.0))]).motors(25) == ()
