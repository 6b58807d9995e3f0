"""Reference circles against SciPy's linear programmes, brute force, and a general circle-fit library."""

from __future__ import annotations

from itertools import combinations

import circle_fit
import numpy as np
import pytest
from scipy.optimize import least_squares, linprog

from barwise.errors import MeasurementError
from barwise.inspect.commutator.circles import circle, exact

INCH = 0.0254
WITHIN = 1e-9 * INCH


def profile(seed: int, points: int) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    angle = 2 * np.pi * np.arange(points) / points
    radius = 0.6 + 1e-3 * rng.normal(size=2) @ np.stack([np.cos(angle), np.sin(angle)])
    radius += 4e-4 * np.cos(rng.integers(2, 6) * angle) + 2e-4 * rng.normal(size=points)
    if seed % 2:
        radius = np.round(radius, 4)  # equal readings, as an indicator gives them
    return angle, radius * INCH


def by_linprog(kind: str, angle: np.ndarray, radius: np.ndarray) -> float:
    """Zone width, or radius of the circle [m], scaled so that the solver's tolerance is far below 1e-9 in."""
    one, none = np.ones(len(angle)), np.zeros(len(angle))
    middle, scale = radius.mean(), np.ptp(radius)
    height = (radius - middle) / scale
    wave = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    outer = np.column_stack([-wave, -one, none])
    inner = np.column_stack([wave, none, one])
    rows, most, cost = {
        "minimum-zone": (np.vstack([outer, inner]), np.concatenate([-height, height]), [0, 0, 1, -1]),
        "minimum-circumscribed": (outer, -height, [0, 0, 1, 0]),
        "maximum-inscribed": (inner, height, [0, 0, 0, -1]),
    }[kind]
    tight = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
    found = linprog(cost, rows, most, bounds=[(None, None)] * 4, method="highs", options=tight)
    value = float(found.fun) * scale
    return {
        "minimum-zone": value,
        "minimum-circumscribed": middle + value,
        "maximum-inscribed": middle - value,
    }[kind]


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("kind", ["minimum-zone", "minimum-circumscribed", "maximum-inscribed"])
def test_circles_agree_with_a_linear_programme_to_a_billionth_of_an_inch(kind: str, seed: int) -> None:
    """SciPy linprog (HiGHS) on the same limacon inequalities, written out here on their own."""
    angle, radius = profile(seed, [24, 29, 57, 62, 360][seed % 5])
    fit = circle(kind, angle, radius)
    ours = fit.roundness_m if kind == "minimum-zone" else fit.radius_m
    assert ours == pytest.approx(by_linprog(kind, angle, radius), abs=WITHIN)


@pytest.mark.parametrize("seed", range(4))
def test_exact_circumscribed_circle_is_the_smallest_through_any_two_or_three_points(seed: int) -> None:
    """Every pair's and triple's circle that holds all points, tried by brute force."""
    angle, radius = profile(seed, 18)
    radius = radius - 0.59 * INCH  # small and lumpy: where limacon and circle differ
    points = np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1)
    best = np.inf
    for group in [*combinations(points, 2), *combinations(points, 3)]:
        centre = _centre(np.array(group))
        if centre is None:
            continue
        reach = float(np.hypot(*(group[0] - centre)))
        if np.all(np.hypot(*(points - centre).T) <= reach * (1 + 1e-12)):
            best = min(best, reach)
    assert exact("minimum-circumscribed", angle, radius).radius_m == pytest.approx(best, abs=WITHIN)


def _centre(group: np.ndarray) -> np.ndarray | None:
    if len(group) == 2:
        return group.mean(axis=0)
    sides = 2 * (group[1:] - group[0])
    if abs(np.linalg.det(sides)) < 1e-18:
        return None
    return np.linalg.solve(sides, (group[1:] ** 2 - group[0] ** 2).sum(axis=1))


@pytest.mark.parametrize("seed", range(6))
def test_least_squares_circle_agrees_with_a_circle_fit_library(seed: int) -> None:
    """circle-fit's geometric least squares, and SciPy's general one on the distances themselves."""
    angle, radius = profile(seed, 57)
    points = np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1) * 1000
    fit = exact("least-squares", angle, radius)
    ours = fit.x_m * 1000, fit.y_m * 1000, fit.radius_m * 1000
    # the library stops a little early: some billionths of an inch short
    assert ours == pytest.approx(circle_fit.least_squares_circle(points)[:3], abs=1e-8 * INCH * 1000)

    def off(circle: np.ndarray) -> np.ndarray:
        return np.hypot(*(points - circle[:2]).T) - circle[2]

    general = least_squares(off, (0, 0, 15), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert ours == pytest.approx(tuple(general.x), abs=WITHIN * 1000)


def test_points_on_half_the_round_are_refused() -> None:
    angle = np.linspace(0, 3, 20)
    with pytest.raises(MeasurementError, match="less than half"):
        circle("minimum-zone", angle, np.full(20, 0.01))
