"""What V-blocks make of lobes, against a part rolled in a V by geometry; one turn under the dial.

The rolled part shares no formula with the package: its contact points are searched for.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from barwise.errors import MeasurementError
from barwise.inspect.shaft.lobes import angles_that_show, explain_lobes, unseen_lobes, v_block_factor
from barwise.inspect.shaft.turn import from_swing, reduce_turn
from barwise.measure.uncertainty import Estimate

UM = 1e-6


def dial_over_v(lobes: int, amplitude: float, v_deg: float) -> float:
    """Swing of a dial above a part of radius 1 that is turned in a V: supports found by sliding it down."""
    around = np.linspace(0, 2 * np.pi, 7200, endpoint=False)
    heights = []
    for turned in np.linspace(0, 2 * np.pi, 144, endpoint=False):
        radius = 1 + amplitude * np.cos(lobes * (around - turned))
        reach = [
            float((radius * np.cos(around - way)).max())
            for way in (-math.pi / 2 - (math.pi / 2 - math.radians(v_deg / 2)),
                        -math.pi / 2 + (math.pi / 2 - math.radians(v_deg / 2)))
        ]  # fmt: skip
        # Planes of the V touch where n . c = -reach; the centre sits where both do.
        half = math.radians(v_deg / 2)
        normals = np.array([[-math.cos(half), -math.sin(half)], [math.cos(half), -math.sin(half)]])
        centre = np.linalg.solve(normals, -np.array(reach))
        at_top = lambda way, r=radius, c=centre: float(  # noqa: E731
            c[0] + np.interp(way % (2 * np.pi), around, r, period=2 * np.pi) * math.cos(way)
        )
        top = brentq(at_top, math.pi / 2 - 0.5, math.pi / 2 + 0.5)
        heights.append(centre[1] + np.interp(top, around, radius, period=2 * np.pi) * math.sin(top))
    return float(np.ptp(heights))


@pytest.mark.parametrize("v_deg", [60.0, 90.0, 120.0])
@pytest.mark.parametrize("lobes", [2, 3, 5, 6])
def test_the_factor_is_what_a_part_rolled_in_a_v_shows(lobes: int, v_deg: float) -> None:
    amplitude = 2e-4
    seen = dial_over_v(lobes, amplitude, v_deg) / (2 * amplitude)
    assert seen == pytest.approx(abs(v_block_factor(lobes, v_deg)), abs=0.03)


def test_a_v_of_60_degrees_hides_an_oval_and_one_of_90_shows_it() -> None:
    assert 2 in unseen_lobes(60)
    assert 2 not in unseen_lobes(90)
    assert angles_that_show(2)[0] == 120
    assert angles_that_show(3)[0] == 60


def test_an_off_centre_part_is_not_seen_by_its_own_v() -> None:
    assert v_block_factor(1, 90) == 0.0


@pytest.mark.parametrize("lobes", [2, 3, 5])
def test_swings_on_two_vs_and_a_micrometer_tell_the_number_of_lobes(lobes: int) -> None:
    doubt = 0.3 * UM
    swings = {v: Estimate(abs(v_block_factor(lobes, v)) * 8 * UM, doubt) for v in (60.0, 90.0)}
    two_point = Estimate(16 * UM if lobes == 2 else 0.0, doubt)
    best = explain_lobes(swings, two_point)[0]
    assert best.lobes == lobes
    assert best.probability > 0.9
    assert best.out_of_round.value == pytest.approx(8 * UM, rel=0.02)


def test_one_swing_alone_leaves_the_number_of_lobes_open() -> None:
    found = explain_lobes({90.0: Estimate(8 * UM, UM)})
    assert found[0].probability < 0.3


@pytest.mark.parametrize(
    ("swings", "said"),
    [({}, "found no swing"), ({90.0: Estimate(-1e-6, 1e-6)}, "0 or more"),
     ({10.0: Estimate(1e-6, 1e-6)}, "20 to 180")],
)  # fmt: skip
def test_swings_that_cannot_be_are_refused(swings: dict[float, Estimate], said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        explain_lobes(swings)


def turned(angles: list[float], off: float, high: float, oval: float = 0.0) -> list[float]:
    return [
        1e-3 + off * math.cos(math.radians(a - high)) + oval * math.cos(math.radians(2 * a)) for a in angles
    ]


@pytest.mark.parametrize("count", [3, 4, 6, 8, 12])
def test_off_centre_and_its_direction_come_out_of_any_number_of_angles(count: int) -> None:
    angles = [360 * k / count for k in range(count)]
    turn = reduce_turn(angles, turned(angles, 20 * UM, 50), UM)
    assert turn.eccentricity.value == pytest.approx(20 * UM)
    assert turn.runout.value == pytest.approx(40 * UM)
    assert turn.high_deg == pytest.approx(50)
    assert turn.whole_swing.value == pytest.approx(40 * UM, rel=1e-3)


def test_the_printed_example_of_an_eccentric_profile() -> None:
    """Derived: ex 0.010, ey -0.004 mm; e = 0.0107703 mm, swing 0.021541 mm."""
    angles = list(np.arange(0.0, 360.0, 30.0))
    readings = [0.010e-3 * math.cos(math.radians(a)) - 0.004e-3 * math.sin(math.radians(a)) for a in angles]
    turn = reduce_turn(angles, readings, UM)
    assert turn.eccentricity.value == pytest.approx(0.0107703e-3, rel=1e-5)
    assert turn.whole_swing.value == pytest.approx(0.021541e-3, rel=1e-3)


def test_an_oval_is_told_from_off_centre_with_eight_angles() -> None:
    angles = [45.0 * k for k in range(8)]
    turn = reduce_turn(angles, turned(angles, 2 * UM, 0, 15 * UM), 0.5 * UM)
    assert turn.mostly_out_of_round
    assert turn.eccentricity.value == pytest.approx(2 * UM)
    assert turn.lobes[0].amplitude.value == pytest.approx(15 * UM)


def test_an_angle_read_twice_counts_twice_and_its_difference_is_kept() -> None:
    angles = [0.0, 90.0, 180.0, 270.0, 360.0]
    readings = turned(angles, 20 * UM, 0)
    readings[-1] += 3 * UM
    turn = reduce_turn(angles, readings, UM)
    assert turn.angles == 4
    assert turn.closes_m == pytest.approx(3 * UM)


def test_the_uncertainty_is_what_made_turns_scatter_by() -> None:
    rng = np.random.default_rng(5)
    angles = [45.0 * k for k in range(8)]
    clean = np.array(turned(angles, 20 * UM, 30))
    found = [
        reduce_turn(angles, list(clean + rng.normal(0, UM, 8)), UM).eccentricity.value for _ in range(800)
    ]
    stated = reduce_turn(angles, list(clean), UM).eccentricity.standard_uncertainty
    assert np.std(found) == pytest.approx(stated, rel=0.1)


@pytest.mark.parametrize(
    ("angles", "readings", "said"),
    [([0, 90], [0, 1], "2 angles, expected 3"), ([0, 90, 180], [0, 1], "one reading for each"),
     ([0, 360, 0], [0, 1, 2], "1 angle, expected 3"), ([0, 1, 2], [0, 1, 2], "all lie on one side"),
     ([0, 90, 180], [0, float("nan"), 1], "no number")],
)  # fmt: skip
def test_turns_that_cannot_be_reduced_are_refused(angles, readings, said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        reduce_turn(angles, readings, UM)


def test_a_swing_alone_is_twice_off_centre_at_most() -> None:
    assert from_swing(Estimate(40 * UM, 2 * UM)) == Estimate(20 * UM, UM)
    with pytest.raises(MeasurementError, match="0 or more"):
        from_swing(Estimate(float("nan"), UM))
