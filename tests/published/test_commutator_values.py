"""Commutator figures against manuals, handbook formulas, and profiles with answers in closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.inspect.commutator.after import FINAL_RUNOUT_M, judge_final_runout
from barwise.inspect.commutator.circles import KINDS, circle
from barwise.inspect.commutator.lathe import (
    FOOT_PER_MINUTE,
    mean_roughness,
    peak_to_valley,
    peak_to_valley_exact,
    turns_per_minute,
)
from barwise.inspect.commutator.profile import Profile, track_shape
from barwise.measure.wear import WearPoint, WearScale

INCH = 0.0254
SIX = np.array([20.010, 20.006, 19.998, 19.990, 19.994, 20.002]) * 1e-3


def test_a_six_bar_set_has_the_eccentricity_worked_out_by_hand() -> None:
    """Derived by hand: a = 2/n sum R cos t = 0.0093333 mm, b = 0.0023094 mm, TIR 0.020 mm."""
    angle = 2 * np.pi * np.arange(6) / 6
    fit = circle("least-squares", angle, SIX)
    assert fit.x_m * 1e3 == pytest.approx(0.0093333, abs=5e-8)
    assert fit.y_m * 1e3 == pytest.approx(0.0023094, abs=5e-8)
    assert fit.eccentricity_m * 1e3 == pytest.approx(0.0096148, abs=5e-8)
    assert fit.radius_m * 1e3 == pytest.approx(20.0, abs=1e-9)
    assert fit.roundness_m * 1e3 == pytest.approx(0.0013333, abs=5e-8)
    shape = track_shape(Profile(6, np.arange(6), np.full(6, 0.5), SIX, 1e-6), 0.5)
    assert shape.runout_m * 1e3 == pytest.approx(0.020, abs=1e-9)
    assert shape.step_m * 1e3 == pytest.approx(0.008, abs=1e-9)
    assert 2 * SIX.min() * 1e3 == pytest.approx(39.980)


PROFILES = {
    "eccentric only": (0, 0.0, 0.021541, 0.0),
    "two lobes": (2, 0.005, 0.026333, 0.010),
    "three lobes": (3, 0.005, 0.030291, 0.010),
}


@pytest.mark.parametrize(("order", "lobe", "tir", "roundness"), PROFILES.values(), ids=PROFILES)
def test_roundness_of_made_profiles_about_every_reference_circle(
    order: int, lobe: float, tir: float, roundness: float
) -> None:
    """Derived: 720 points, R0 20 mm, centre (0.010, -0.004) mm; terms of ISO 12181-1:2011, from memory."""
    angle = 2 * np.pi * np.arange(720) / 720
    radius = 20 + 0.010 * np.cos(angle) - 0.004 * np.sin(angle) + lobe * np.cos(order * angle)
    assert np.ptp(radius) == pytest.approx(tir, abs=1.5e-6)
    # two lobes leave the inscribed and the circumscribed circle free to slide: only their radius is settled
    for kind in KINDS[:2]:
        fit = circle(kind, angle, radius * 1e-3)
        assert fit.roundness_m * 1e3 == pytest.approx(roundness, abs=1e-9)
        assert (fit.x_m * 1e3, fit.y_m * 1e3) == pytest.approx((0.010, -0.004), abs=1e-9)
    if lobe:
        outside, inside = (circle(k, angle, radius * 1e-3) for k in (KINDS[3], KINDS[2]))
        assert (outside.radius_m * 1e3, inside.radius_m * 1e3) == pytest.approx((20.005, 19.995), abs=1e-9)


def test_a_micrometer_sees_two_lobes_and_not_three() -> None:
    """Derived: r(t) + r(t + 180 degrees) is 40 mm everywhere with odd lobes, 39.990 to 40.010 with two."""
    angle = 2 * np.pi * np.arange(720) / 720
    for order, low, high in ((2, 39.990, 40.010), (3, 40.0, 40.0)):
        radius = 20 + 0.005 * np.cos(order * angle)
        across = radius + np.roll(radius, 360)
        assert (across.min(), across.max()) == pytest.approx((low, high), abs=1e-9)


def test_percent_worn_of_a_published_commutator() -> None:
    """TM 5-6115-545-34, table 1-2: commutator 1.680 in new, turned to no less than 1.647 in."""
    scale = WearScale((WearPoint(0, 1.680 * INCH), WearPoint(100, 1.647 * INCH)))
    assert scale.percent(1.660 * INCH) == pytest.approx(60.606, abs=5e-4)
    assert scale.percent(1.646 * INCH) > 100


def test_percent_worn_of_a_published_brush() -> None:
    """TM 5-6115-545-34, table 1-2: brush 0.7500 in long when new, worn out at 0.3750 in."""
    scale = WearScale((WearPoint(0, 0.750 * INCH), WearPoint(100, 0.375 * INCH)))
    assert scale.percent(0.500 * INCH) == pytest.approx(66.667, abs=5e-4)
    assert scale.percent(0.375 * INCH) == pytest.approx(100)


@pytest.mark.parametrize(
    ("feet", "inches", "rpm"), [(200, 2.8, 272.84), (600, 2.8, 818.51), (100, 1.66, 230.10)]
)
def test_spindle_speed_is_twelve_v_over_pi_d(feet: float, inches: float, rpm: float) -> None:
    """rpm = 12 V / (pi d), Army course OD1645; speeds of TM 55-6115-498-40. Numbers derived."""
    assert turns_per_minute(feet * FOOT_PER_MINUTE, inches * INCH) == pytest.approx(rpm, abs=5e-3)


def test_roughness_of_a_round_nose() -> None:
    """Rt = f²/8r, Ra = f²/(18 sqrt(3) r), any machining text (from memory); numbers derived."""
    assert peak_to_valley(0.2e-3, 0.8e-3) * 1e6 == pytest.approx(6.25)
    assert peak_to_valley_exact(0.2e-3, 0.8e-3) * 1e6 == pytest.approx(6.2746, abs=5e-5)
    assert mean_roughness(0.2e-3, 0.8e-3) * 1e6 == pytest.approx(1.6038, abs=5e-5)
    assert peak_to_valley(0.05e-3, 0.4e-3) * 1e6 == pytest.approx(0.78125)
    assert mean_roughness(0.05e-3, 0.4e-3) * 1e6 == pytest.approx(0.20047, abs=5e-6)
    microinch = 25.4e-9
    assert peak_to_valley(0.002 * INCH, INCH / 64) / microinch == pytest.approx(32.0)
    assert mean_roughness(0.002 * INCH, INCH / 64) / microinch == pytest.approx(8.211, abs=5e-4)


def test_mean_roughness_is_that_of_the_parabola_integrated() -> None:
    """Ra = mean of |z - mean z| over one feed, z = x²/2r: integrated here by a fine sum."""
    feed, nose = 0.2e-3, 0.8e-3
    place = (np.arange(200_000) + 0.5) / 200_000 * feed - feed / 2
    height = place**2 / (2 * nose)
    assert mean_roughness(feed, nose) == pytest.approx(float(np.abs(height - height.mean()).mean()), rel=1e-6)


def test_final_runout_limit_is_the_printed_one() -> None:
    """TM 10-3930-653-14&P p. 4-98: after turning out-of-round below 0.05 mm (0.002 in)."""
    assert pytest.approx(0.05e-3, abs=1e-6) == FINAL_RUNOUT_M
    assert judge_final_runout(0.0010 * INCH, 0.0001 * INCH).outcome == "accept"
    assert judge_final_runout(0.0035 * INCH, 0.0001 * INCH).outcome == "reject"
    assert math.isclose(judge_final_runout(FINAL_RUNOUT_M, 0.0001 * INCH).conforming, 0.5)
