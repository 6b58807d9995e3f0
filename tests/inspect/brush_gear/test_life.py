"""What is left of a set of brushes, against Fieller's limits and against drawing it out many times."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.brush_gear.life import Use, WornBrushes, chance_to_last, remaining_life
from barwise.measure.uncertainty import Estimate

NEW = Estimate(0.0188, 0.00006)
WORN = Estimate(0.0155, 0.00004)
MINIMUM = 0.0102


def brushes(
    *lengths: Estimate, use: Use | None = None, spread: float = 0.0, new: Estimate = NEW
) -> WornBrushes:
    return WornBrushes(lengths or (WORN,), new, MINIMUM, use or Use(2000, 2000, "h"), spread)


def test_with_known_use_and_a_steady_rate_the_limits_are_fiellers() -> None:
    """Source: E. C. Fieller, J. Royal Statistical Society B 16 (1954), 175-185 (from memory).

    The limits of a ratio a / b of two normal estimates are the roots x of
    (a - x b)² = z² (var a - 2 x cov + x² var b); here a = L - minimum and b = new - L, so cov = -var L.
    """
    a, b = WORN.value - MINIMUM, NEW.value - WORN.value
    var_l, var_new, z = WORN.standard_uncertainty**2, NEW.standard_uncertainty**2, 1.959963984540054
    roots = np.sort(
        np.roots([b**2 - z**2 * (var_l + var_new), -2 * a * b - 2 * z**2 * var_l, a**2 - z**2 * var_l])
    )
    left = remaining_life(brushes())
    assert left.low == pytest.approx(2000 * roots[0], rel=1e-6)
    assert left.high == pytest.approx(2000 * roots[1], rel=1e-6)
    assert left.middle == pytest.approx(2000 * a / b, rel=1e-6)


def test_the_set_lasts_as_often_as_when_it_is_drawn_out_a_million_times() -> None:
    """Source: Monte Carlo with NumPy's generator; its own error is 0.05 %."""
    use, spread = Use(1500, 2500, "h"), 0.25
    lengths = (WORN, Estimate(0.0152, 0.00004), Estimate(0.0160, 0.0001))
    rng = np.random.default_rng(5)
    count = 1_000_000
    stretch = np.exp(math.hypot(use.spread, spread) * rng.standard_normal(count)) / use.middle
    lasts = np.ones(count, dtype=bool)
    for length in lengths:
        now = length.value + length.standard_uncertainty * rng.standard_normal(count)
        new = NEW.value + NEW.standard_uncertainty * rng.standard_normal(count)
        lasts &= (now - MINIMUM) > 3000 * stretch * (new - now)
    found = chance_to_last(brushes(*lengths, use=use, spread=spread), 3000)
    assert found == pytest.approx(lasts.mean(), abs=0.002)


def test_wear_that_cannot_be_told_from_none_has_no_upper_end() -> None:
    barely = Estimate(NEW.value - 0.00005, 0.00006)
    left = remaining_life(brushes(barely))
    assert left.high is None
    assert left.low > 2000


def test_a_brush_below_its_minimum_has_nothing_left() -> None:
    assert remaining_life(brushes(Estimate(0.0095, 0.00004))).middle == 0.0


def test_the_shortest_brush_rules_the_set_and_more_brushes_never_last_longer() -> None:
    one, set_of_four = (
        remaining_life(brushes()),
        remaining_life(brushes(WORN, WORN, WORN, Estimate(0.0140, 4e-5))),
    )
    alone = remaining_life(brushes(Estimate(0.0140, 4e-5)))
    assert (set_of_four.middle or 9e9) < (one.middle or 0)
    assert set_of_four.middle == pytest.approx(alone.middle, rel=0.01)


def test_not_knowing_the_use_well_widens_what_is_left_and_keeps_its_middle() -> None:
    sure, vague = remaining_life(brushes()), remaining_life(brushes(use=Use(1000, 4000, "h")))
    assert vague.middle == pytest.approx(sure.middle, rel=1e-3)
    assert vague.low < 0.6 * sure.low


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Use(0, 100, "h"), "above 0"),
        (lambda: Use(200, 100, "h"), "the smaller first"),
        (lambda: Use(100, math.inf, "h"), "above 0"),
        (lambda: WornBrushes((), NEW, MINIMUM), "at least one"),
        (lambda: WornBrushes((WORN,), NEW, NEW.value), "minimum below the new length"),
        (lambda: chance_to_last(brushes(), math.nan), "0 or more"),
        (lambda: remaining_life(brushes(), 1.0), "between 0.5 and 1"),
    ],
)
def test_what_cannot_be_is_refused(make: object, said: str) -> None:
    with pytest.raises(MeasurementError, match=said):
        make()  # type: ignore[operator]
