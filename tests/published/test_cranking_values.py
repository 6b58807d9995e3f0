"""Battery, cable and oil against printed figures; each test names where they stand."""

from __future__ import annotations

import pytest

from barwise.machine.battery import (
    Battery,
    BatteryHabits,
    charge_from_gravity,
    charge_from_rest_volts,
    cranking_power_share,
    internal_resistance,
    loaded_volts,
    rest_volts,
)
from barwise.machine.cable import Cable, cable_resistance, gauge_area_mm2
from barwise.machine.oil import HOT_RANGE, WINTER_LIMIT, oil_of_grade, viscosity_pa_s, walther


@pytest.mark.parametrize(("volts", "cells"), [(6, 3), (12, 6)])
@pytest.mark.parametrize("rated", [350.0, 650.0, 1000.0])
def test_a_full_battery_shows_1_2_volts_a_cell_at_its_rated_current_in_the_cold(
    volts: int, cells: int, rated: float
) -> None:
    """SAE J537, cold cranking rating (from memory): 12 V battery, 7.2 V at -18 °C, rated current."""
    battery = Battery(volts, rated)
    left = loaded_volts(battery) - rated * internal_resistance(battery, -18.0)
    assert left == pytest.approx(1.2 * cells, abs=1e-9)


@pytest.mark.parametrize(("at", "percent"), [(26.7, 100), (0.0, 65), (-17.8, 40), (-28.8, 20)])
def test_cranking_power_in_the_cold_is_the_printed_one(at: float, percent: float) -> None:
    """TM 5-4210-230-14&P-1, table 3: share of a full battery's output for cranking."""
    assert float(cranking_power_share(at)) == pytest.approx(percent / 100, rel=1e-9)


@pytest.mark.parametrize(("at", "percent"), [(26.7, 100), (0.0, 65), (-28.8, 20)])
def test_most_power_out_of_a_battery_goes_as_the_printed_table_where_it_is_taken_as_it_is(
    at: float, percent: float
) -> None:
    """TM 5-4210-230-14&P-1, table 3; most power out of a source is E^2 / 4 R (circuit theory)."""
    battery, as_printed = Battery(12, 650), BatteryHabits(cold=1.0)

    def most_w(celsius: float) -> float:
        ohm = internal_resistance(battery, celsius, as_printed)
        return float(loaded_volts(battery, as_printed) ** 2 / (4 * ohm))

    assert most_w(at) / most_w(-17.8) == pytest.approx(percent / 40, rel=1e-9)


def test_the_mild_end_of_the_spread_gives_a_quarter_more_current_at_freezing() -> None:
    """Common practice, no source: a rating at 0 °C is some 1.25 times the one at -18 °C."""
    battery, mild = Battery(12, 650), BatteryHabits(cold=0.45)
    at_freezing = (loaded_volts(battery, mild) - 7.2) / internal_resistance(battery, 0.0, mild)
    assert at_freezing / 650 == pytest.approx(1.25, rel=0.02)


@pytest.mark.parametrize(
    ("gravity", "charge"), [(1.265, 1.0), (1.225, 0.75), (1.190, 0.5), (1.155, 0.25), (1.120, 0.0)]
)
def test_charge_by_the_hydrometer_is_the_printed_one(gravity: float, charge: float) -> None:
    """TM 5-4210-230-14&P-1, table 2."""
    assert charge_from_gravity(gravity) == pytest.approx(charge, abs=1e-12)


@pytest.mark.parametrize(("volts", "charge"), [(12.65, 1.0), (12.45, 0.75), (12.24, 0.5), (12.06, 0.25)])
def test_charge_by_the_voltmeter_is_the_printed_one(volts: float, charge: float) -> None:
    """A battery council's table of charge and volts at rest, read second hand."""
    assert charge_from_rest_volts(volts, 6) == pytest.approx(charge)
    assert rest_volts(Battery(12, 650, charge=charge)) == pytest.approx(volts)
    assert rest_volts(Battery(12, 650, charge=charge, in_series=2)) == pytest.approx(2 * volts)


@pytest.mark.parametrize(
    ("gauge", "area_mm2", "ohm_per_km"),
    [
        ("4/0", 107.219, 0.16080), ("2/0", 67.431, 0.25568), ("1/0", 53.475, 0.32241), ("2", 33.631, 0.51265),
        ("4", 21.151, 0.81515), ("6", 13.302, 1.29614), ("10", 5.2612, 3.27704), ("14", 2.0809, 8.28533),
    ],
)  # fmt: skip
def test_area_and_resistance_of_a_gauge_are_the_wire_table_s(
    gauge: str, area_mm2: float, ohm_per_km: float
) -> None:
    """ASTM B258 diameters, copper of IEC 60028 (from memory), as wire tables print them to four figures."""
    assert gauge_area_mm2(gauge) == pytest.approx(area_mm2, rel=1e-4)
    assert 1000 * cable_resistance(Cable(gauge_area_mm2(gauge), 1.0, joints=0)) == pytest.approx(
        ohm_per_km, rel=2e-4
    )


@pytest.mark.parametrize(("gauge", "mils"), [("10", 10_380), ("4/0", 211_600)])
def test_circular_mils_are_the_published_table_s(gauge: str, mils: float) -> None:
    """NBS Handbook 100 (1966), rounded diameters: 10 AWG 10 380, 4/0 211 600 circular mils (second hand)."""
    assert gauge_area_mm2(gauge) / 5.067_07e-4 == pytest.approx(mils, rel=1e-3)


def test_ten_feet_of_2_0_cost_0_39_volts_at_500_amperes() -> None:
    """Derived from the wire table's 0.07793 ohm per 1000 ft at 20 °C."""
    assert 500 * cable_resistance(Cable(gauge_area_mm2("2/0"), 3.048, joints=0)) == pytest.approx(
        0.07793 / 1000 * 10 * 500, rel=2e-4
    )


def test_a_cold_cable_is_the_better_one() -> None:
    """R2/R1 = (234.5 + t2) / (234.5 + t1), NEMA MG 1 and IEEE 118 (from memory): 20 to 75 °C is 1.21611."""
    cable = Cable(50, 2.0, joints=0)
    assert cable_resistance(cable, 75.0) / cable_resistance(cable, 20.0) == pytest.approx(1.21611, abs=1e-5)


def test_oil_between_two_temperatures_is_the_worked_example_s() -> None:
    """ASTM D341 by a published worksheet: 32 mm2/s at 40 °C, 5.4 at 100: A 9.5259, B 3.7449, 8.5 at 80.

    The worksheet counts 273 K for 0 °C, hence the tolerance on A and B.
    """
    oil = walther((40.0, 32.0), (100.0, 5.4))
    assert oil.a == pytest.approx(9.5259, abs=0.006)
    assert oil.b == pytest.approx(3.7449, abs=0.0025)
    assert float(oil.kinematic_mm2_per_s(80.0)) == pytest.approx(8.5, abs=0.05)


@pytest.mark.parametrize("winter", WINTER_LIMIT)
@pytest.mark.parametrize("hot", ["30", "40", "50"])
def test_an_oil_of_a_grade_keeps_both_of_its_promises(winter: str, hot: str) -> None:
    """SAE J300, January 2015 (its table, read second hand): largest cranking viscosity, range at 100 °C."""
    oil, (at, largest) = oil_of_grade(f"{winter}-{hot}", 1.0), WINTER_LIMIT[winter]
    assert 1000 * viscosity_pa_s(oil, at) == pytest.approx(largest, rel=1e-9)
    low, high = HOT_RANGE[hot]
    assert low <= float(oil.kinematic_mm2_per_s(100.0)) < high


def test_the_cold_asks_of_an_engine_what_the_trade_s_table_says() -> None:
    """A trade table read second hand, no author: power to turn it is 155 % at 0, 210 % at -18, 350 % at
    -29 °C of that at 27 °C. The oil of the table is not named; 10W-30 is taken, a fifth allowed."""
    from barwise.machine.engine import Drag, Engine, friction_torque

    engine, drag = Engine(5e-3, 8, 4, "petrol", 9.0), Drag(1e5)
    oil = oil_of_grade("10W-30")
    base = friction_torque(engine, drag, viscosity_pa_s(oil, 26.7), 10.0)
    for at, asked in ((0.0, 1.55), (-17.8, 2.10), (-28.8, 3.50)):
        ratio = friction_torque(engine, drag, viscosity_pa_s(oil, at), 10.0) / base
        assert ratio == pytest.approx(asked, rel=0.2)
