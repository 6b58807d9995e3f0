"""The ranking of causes agrees with every row of the no-load table that Army manuals print.

The rows are those of TM 10-4320-307-24 p. 2-174, the same in TM 10-3930-671-24, TM 5-3805-291-23-1,
TM 5-6115-400-35 and TM 5-4310-354-14 (seen). No rule of it is in the package: the motors make the ranking.
"""

from __future__ import annotations

import math

import pytest

from barwise.inspect.run_test import Point, Sheet, assess, figure
from barwise.inspect.run_test.assessment import RunTest
from barwise.measure.uncertainty import Estimate

RPM = 2 * math.pi / 60
POUND_FOOT = 1.3558179483314
VOLTS, AMPS, SPEED = 11.5, 70.0, 4600 * RPM

FRICTION_ROW = {"friction", "shorted-armature", "grounded-winding"}
STANDS_ROW = {"dead-ground", "seized"}
NOTHING_ROW = {"open-field", "open-armature", "brushes-not-touching"}
RESISTANCE_ROW = {"high-resistance", "brush-contact", "open-armature-coil"}
FIELD_ROW = {"shorted-field", "open-field-path"}
ROWS = [
    pytest.param(1.0, 1.0, {"healthy"}, id="rated, rated: normal"),
    pytest.param(1.5, 0.7, FRICTION_ROW, id="high, low: friction, shorted armature, grounded winding"),
    pytest.param(1.3, 0.8, FRICTION_ROW, id="high, low, a little"),
    pytest.param(2.2, 0.6, FRICTION_ROW, id="high, low, much"),
    pytest.param(14.0, 0.0, STANDS_ROW, id="high, zero: direct ground, seized"),
    pytest.param(25.0, 0.0, STANDS_ROW, id="high, zero, as high as it goes"),
    pytest.param(0.0, 0.0, NOTHING_ROW, id="zero, zero: open field, open armature, brushes not touching"),
    pytest.param(0.92, 0.75, RESISTANCE_ROW, id="low, low: high resistance in connections, leads, brushes"),
    pytest.param(0.85, 0.6, RESISTANCE_ROW, id="low, low, more"),
    pytest.param(1.25, 1.2, FIELD_ROW, id="high, high: shorted field coils"),
    pytest.param(1.45, 1.35, FIELD_ROW, id="high, high, more"),
    pytest.param(0.6, 1.5, {"not-covered"}, id="low, high: in no table"),
    pytest.param(0.5, 1.3, {"not-covered"}, id="low, high, less fast"),
]


def sheet() -> Sheet:
    """An invented model with no-load, lock and rated figures."""
    loaded = Point(
        "loaded", Estimate(9.5, 0.02), figure(350.0), figure(1480 * RPM), figure(10.0 * POUND_FOOT)
    )
    return Sheet(
        field="series-parallel",
        volts_v=12.0,
        points=(
            Point("no-load", Estimate(VOLTS, 0.02), figure(AMPS), figure(SPEED)),
            Point("lock", Estimate(4.0, 0.01), figure(450.0), None, figure(13.8 * POUND_FOOT)),
            loaded,
        ),
        rated=loaded,
        temperature=Estimate(20.0, 2.0),
        field_paths=2,
        bars=57,
        poles=4,
    )


def no_load(current: float, speed: float) -> RunTest:
    """Assessed from the no-load point alone, as the table is, at shares of the sheet's current and speed."""
    point = Point(
        "no-load",
        Estimate(VOLTS, 0.01 * VOLTS),
        Estimate(current * AMPS, max(0.5, 0.01 * current * AMPS)),
        Estimate(speed * SPEED, max(10 * RPM, 0.01 * speed * SPEED)),
        None,
        Estimate(20.0, 2.0),
    )
    return assess(sheet(), [point])


@pytest.mark.parametrize(("current", "speed", "row"), ROWS)
def test_the_first_cause_is_one_of_the_tables_row(current: float, speed: float, row: set[str]) -> None:
    found = no_load(current, speed)
    assert found.causes[0].key in row
    assert sum(one.probability for one in found.causes if one.key in row) > 0.6
    assert math.isclose(sum(one.probability for one in found.causes), 1.0, rel_tol=1e-9)


def test_a_little_more_voltage_raises_speed_in_proportion_and_hardly_the_current() -> None:
    """TM 5-4310-354-14 (seen): exact voltage is not needed, speed follows it and current nearly stays."""
    from barwise.inspect.run_test.nominal import model_prior
    from barwise.machine import motor

    model = model_prior(sheet())
    unit = model.motor(model.mean)
    lower, higher = motor.no_load(unit, 11.0), motor.no_load(unit, 12.0)
    assert float(higher.speed_rad_s) / float(lower.speed_rad_s) == pytest.approx(12 / 11, rel=0.06)
    assert float(higher.current_a) / float(lower.current_a) == pytest.approx(1.0, abs=0.06)


def test_high_current_without_speed_asks_for_the_hand_or_the_insulation() -> None:
    found = no_load(20.0, 0.0)
    assert found.next_test is not None
    assert found.next_test.key in {"turn-by-hand", "insulation", "lock"}


def test_friction_and_a_shorted_armature_look_alike_without_load_and_a_further_test_is_named() -> None:
    found = no_load(1.5, 0.7)
    chances = {one.key: one.probability for one in found.causes}
    assert chances["friction"] > 0.1
    assert chances["shorted-armature"] > 0.1
    assert found.next_test is not None
    assert found.next_test.bits > 0.2
