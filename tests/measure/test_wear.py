"""The wear scale: points, straight lines between and beyond them, and cuts left."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import make_interp_spline

from barwise.errors import MeasurementError
from barwise.measure.wear import WearPoint, WearScale

INCH = 0.0254


def scale_in(*points: tuple[float, float], grows: bool = False) -> WearScale:
    return WearScale(tuple(WearPoint(percent, inch * INCH) for percent, inch in points), grows)


def test_the_missing_new_is_found_beyond_half_worn_and_discard() -> None:
    """Common practice, no source: half-worn 1.0750 in, discard 1.0630 in, measured 1.0785 in."""
    scale = scale_in((50, 1.0750), (100, 1.0630))
    wear = scale.wear(1.0785 * INCH)
    assert wear.percent == pytest.approx(35.4167, abs=1e-4)
    assert scale.room_m(1.0785 * INCH, 50) / INCH == pytest.approx(0.0035, abs=1e-9)
    assert scale.size_at(0) / INCH == pytest.approx(1.0870, abs=1e-9)
    assert wear.extrapolated == "less worn than the sheet's first point, 50 %"


@pytest.mark.parametrize(
    ("new", "limit", "measured", "percent"),
    [(1.680, 1.647, 1.660, 60.606), (0.750, 0.375, 0.500, 66.667), (1.680, 1.647, 1.647, 100.0)],
)
def test_percent_is_the_share_of_the_way_from_new_to_discard(
    new: float, limit: float, measured: float, percent: float
) -> None:
    """Sizes: US Army TM 5-6115-545-34, table 1-2 (commutator 1.6800 in, least turned 1.6470 in; brush
    0.7500 in, wear 0.3750 in). Percentages derived: (new - measured) / (new - limit).
    """
    assert scale_in((0, new), (100, limit)).percent(measured * INCH) == pytest.approx(percent, abs=5e-4)


def test_nothing_is_clipped_under_discard_or_above_new() -> None:
    scale = scale_in((0, 1.250), (50, 1.238), (100, 1.226))
    assert scale.percent(1.220 * INCH) == pytest.approx(125)
    assert scale.percent(1.256 * INCH) == pytest.approx(-25)
    assert scale.room_m(1.220 * INCH) / INCH == pytest.approx(-0.006)
    assert "last point, 100 %" in (scale.extrapolated(1.220 * INCH) or "")
    assert scale.extrapolated(1.226 * INCH) is None


def test_a_bore_grows_with_wear() -> None:
    bore = scale_in((0, 0.500), (100, 0.510), grows=True)
    assert bore.percent(0.5025 * INCH) == pytest.approx(25)
    assert bore.percent(0.499 * INCH) == pytest.approx(-10)
    assert bore.room_m(0.5025 * INCH) / INCH == pytest.approx(0.0075)
    assert bore.extrapolated(0.511 * INCH) == "more worn than the sheet's last point, 100 %"


@st.composite
def scales(draw: st.DrawFn) -> WearScale:
    count = draw(st.integers(2, 5))
    percents = np.cumsum(draw(st.lists(st.floats(1, 60), min_size=count, max_size=count)))
    drops = np.cumsum(draw(st.lists(st.floats(0.001, 0.01), min_size=count, max_size=count)))
    grows = draw(st.booleans())
    sizes = 1 + drops if grows else 1.5 - drops
    points = [WearPoint(float(p), float(s)) for p, s in zip(percents, sizes, strict=True)]
    return WearScale(tuple(draw(st.permutations(points))), grows)


@given(scales(), st.floats(1.2, 1.6))
def test_the_scale_agrees_with_scipys_linear_spline(scale: WearScale, size: float) -> None:
    """Source: scipy.interpolate.make_interp_spline of degree 1, which also extends the outer stretches."""
    ordered = sorted(scale.points, key=lambda point: point.size_m)
    sizes, percents = [p.size_m for p in ordered], [p.percent for p in ordered]
    theirs = float(make_interp_spline(sizes, percents, k=1)(size))
    assert scale.percent(size) == pytest.approx(theirs, rel=1e-7, abs=1e-7)
    assert scale.size_at(scale.percent(size)) == pytest.approx(size, rel=1e-9)


@given(scales(), st.floats(1.2, 1.6), st.floats(0, 0.003))
def test_the_interval_holds_what_the_interval_of_the_size_holds(
    scale: WearScale, size: float, spread: float
) -> None:
    wear = scale.wear(size, spread)
    assert wear.low <= wear.percent <= wear.high
    for drawn in np.linspace(size - 1.9599 * spread, size + 1.9599 * spread, 7):
        assert wear.low - 1e-9 <= scale.percent(float(drawn)) <= wear.high + 1e-9


def test_between_two_points_the_uncertainty_is_the_slope_times_that_of_the_size() -> None:
    """Source: JCGM 100:2008, equation 10 (from memory): u(y) = |c| u(x); 100 % over 24 thou."""
    wear = scale_in((0, 1.250), (100, 1.226)).wear(1.240 * INCH, 0.0003 * INCH)
    assert wear.standard_uncertainty == pytest.approx(1.25)
    assert wear.high - wear.low == pytest.approx(2 * 1.959964 * 1.25, rel=1e-6)


def test_cuts_left_are_whole_and_a_cut_that_ends_at_discard_counts() -> None:
    scale = scale_in((0, 1.0870), (100, 1.0630))
    cuts = scale.cuts_left(1.0785 * INCH, 0.0031 * INCH)
    assert (cuts.whole, cuts.assured) == (5, 5)
    assert cuts.exact == pytest.approx(5)


def test_an_uncertain_size_leaves_fewer_cuts_assured() -> None:
    """Derived: after 5 cuts 0 thou are left, after 4 cuts 3.1 thou, against u² + n spread²."""
    scale = scale_in((0, 1.0870), (100, 1.0630))
    sure = scale.cuts_left(1.0785 * INCH, 0.0031 * INCH, 0.0001 * INCH, 0.0005 * INCH)
    assert (sure.whole, sure.assured) == (5, 4)
    loose = scale.cuts_left(1.0785 * INCH, 0.0031 * INCH, 0.0001 * INCH, 0.0010 * INCH)
    assert loose.assured == 3


def test_past_discard_no_cut_is_left_and_it_says_by_how_much() -> None:
    cuts = scale_in((0, 1.0870), (100, 1.0630)).cuts_left(1.0600 * INCH, 0.0030 * INCH)
    assert (cuts.whole, cuts.assured) == (0, 0)
    assert cuts.exact == pytest.approx(-1)


@pytest.mark.parametrize(
    "points",
    [
        (),
        ((0, 1.25),),
        ((0, 1.25), (100, 1.26)),
        ((0, 1.25), (50, 1.22), (100, 1.23)),
        ((0, 1.25), (0, 1.24)),
        ((0, 1.25), (100, 1.25)),
        ((0, 1.25), (100, -1.0)),
        ((0, math.nan), (100, 1.0)),
    ],
)
def test_points_that_make_no_scale_are_refused(points: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(MeasurementError, match=r"wear scale: found .* expected"):
        scale_in(*points)


def test_discard_above_new_is_refused_with_both_numbers() -> None:
    with pytest.raises(MeasurementError, match=r"0 % at 1.25 in .* 100 % at 1.26 in .* to be smaller"):
        scale_in((0, 1.25), (100, 1.26))
