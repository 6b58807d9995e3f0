"""Reference circles of a profile: least squares, minimum zone, maximum inscribed, minimum circumscribed.

As ISO 12181-1:2011 defines them (from memory). The profile is a radius at each angle about the axis it was
turned on. For parts that are nearly round the limacon r - a cos t - b sin t stands for the distance from a
centre (a, b); `about` gives the exact distances, and `exact` moves the centre until the limacon about it has
nothing left to move.

The last three are small linear programmes (three or four unknowns), solved by the dual exchange method: the
most violated point enters, the one that must leave is found by the ratio of multipliers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError

Array = NDArray[np.float64]
Kind = Literal["least-squares", "minimum-zone", "maximum-inscribed", "minimum-circumscribed"]
KINDS: tuple[Kind, ...] = ("least-squares", "minimum-zone", "maximum-inscribed", "minimum-circumscribed")

MOST_EXCHANGES = 2000
SETTLED = 1e-13
"""Of the profile's radius: where the centre moves less, it is found."""


@dataclass(frozen=True)
class Circle:
    """A reference circle.

    Attributes
    ----------
    x_m, y_m : float
        Its centre from the axis, x towards angle 0 [m].
    radius_m : float
        For the minimum zone the middle of the two circles [m].
    peak_m, valley_m : float
        Highest and lowest point from the circle [m].
    """

    kind: Kind
    x_m: float
    y_m: float
    radius_m: float
    peak_m: float
    valley_m: float

    @property
    def eccentricity_m(self) -> float:
        """Distance of the centre from the axis [m]."""
        return float(np.hypot(self.x_m, self.y_m))

    @property
    def roundness_m(self) -> float:
        """RONt: from the lowest point to the highest, about this centre [m]."""
        return self.peak_m - self.valley_m


def circle(kind: Kind, angle_rad: Array, radius_m: Array) -> Circle:
    """A reference circle in the limacon approximation.

    Parameters
    ----------
    kind : str
    angle_rad, radius_m : ndarray, shape (N,)
        At least four points that leave less than half of the round open.

    Raises
    ------
    MeasurementError
        If the points leave the centre open.
    """
    _check(angle_rad, radius_m)
    middle, scale = float(np.mean(radius_m)), max(float(np.ptp(radius_m)), 1e-300)
    x, y, radius = _solve(kind, np.cos(angle_rad), np.sin(angle_rad), (radius_m - middle) / scale)
    x, y, radius = x * scale, y * scale, middle + radius * scale
    left = radius_m - radius - x * np.cos(angle_rad) - y * np.sin(angle_rad)
    return Circle(kind, x, y, radius, float(left.max()), float(left.min()))


def exact(kind: Kind, angle_rad: Array, radius_m: Array) -> Circle:
    """A reference circle of the points themselves, no limacon: parameters as `circle`.

    The centre moves to that of the limacon about it until it stands still; for nearly round parts each move
    leaves the square of what the last one left.
    """
    _check(angle_rad, radius_m)
    px, py = radius_m * np.cos(angle_rad), radius_m * np.sin(angle_rad)
    x = y = 0.0
    for _ in range(60):
        distance = np.hypot(px - x, py - y)
        moved = circle(kind, np.arctan2(py - y, px - x), distance)
        x, y = x + moved.x_m, y + moved.y_m
        if moved.eccentricity_m <= SETTLED * moved.radius_m:
            break
    distance = np.hypot(px - x, py - y)
    radius = {
        "least-squares": float(distance.mean()),
        "minimum-zone": float(distance.max() + distance.min()) / 2,
        "maximum-inscribed": float(distance.min()),
        "minimum-circumscribed": float(distance.max()),
    }[kind]
    return Circle(kind, x, y, radius, float(distance.max()) - radius, float(distance.min()) - radius)


def _check(angle_rad: Array, radius_m: Array) -> None:
    if len(angle_rad) < 4 or len(angle_rad) != len(radius_m):
        raise MeasurementError(f"circle: found {len(angle_rad)} points, expected at least 4")
    around = np.sort(np.mod(angle_rad, 2 * np.pi))
    gap = float(np.max(np.diff(np.append(around, around[0] + 2 * np.pi))))
    if gap >= np.pi:
        raise MeasurementError(
            f"circle: found {np.degrees(gap):.0f} degrees without a point, expected less than half round"
        )


def _solve(kind: Kind, cosine: Array, sine: Array, height: Array) -> tuple[float, float, float]:
    one = np.ones(len(height))
    outward = np.column_stack([cosine, sine, one])
    x, y, radius = np.linalg.lstsq(outward, height, rcond=None)[0]
    if kind == "least-squares":
        return float(x), float(y), float(radius)
    # the points farthest off the least-squares circle are mostly among those that settle the others
    off = height - outward @ np.array([x, y, radius])
    top, bottom = int(off.argmax()), int(off.argmin())
    if kind == "minimum-circumscribed":
        x, y, radius = _least(np.array([0.0, 0, 1]), outward, height, [top])
        return float(x), float(y), float(radius)
    if kind == "maximum-inscribed":
        x, y, radius = _least(np.array([0.0, 0, -1]), -outward, -height, [bottom])
        return float(x), float(y), float(radius)
    none = np.zeros(len(height))
    outer = np.column_stack([cosine, sine, one, none])
    inner = np.column_stack([-cosine, -sine, none, -one])
    both = np.concatenate([outer, inner])
    x, y, high, low = _least(
        np.array([0.0, 0, 1, -1]), both, np.concatenate([height, -height]), [top, len(height) + bottom]
    )
    return float(x), float(y), float(high + low) / 2


def _least(cost: Array, rows: Array, least: Array, start: list[int]) -> Array:
    """Smallest cost @ x with rows @ x >= least, from points `start` and a wide box round the centre."""
    box = 1e6
    sides = np.zeros((4, len(cost)))
    sides[[0, 1], 0], sides[[2, 3], 1] = (1, -1), (1, -1)
    rows, least = np.vstack([rows, sides]), np.concatenate([least, np.full(4, -box)])
    first = len(rows) - 4
    share = cost - rows[start].sum(axis=0)
    basis = [*start, first + (share[0] < 0), first + 2 + (share[1] < 0)]
    for turn in range(MOST_EXCHANGES):
        # a few unknowns: one inverse gives the corner, its multipliers and the pull of the row that enters
        inverse = np.linalg.inv(rows[basis])
        x = inverse @ least[basis]
        short = least - rows @ x
        short[basis] = 0.0
        wrong = np.flatnonzero(short > 1e-13 * (1 + np.abs(x).max()))
        if not len(wrong):
            return np.asarray(np.linalg.solve(rows[basis], least[basis]))
        # the first one wrong after many turns, so that equal points cannot go round in circles
        enters = int(wrong[0] if turn > 200 else short.argmax())
        multiplier = cost @ inverse
        pull = rows[enters] @ inverse
        ratio = np.where(pull > 1e-12, np.maximum(multiplier, 0) / np.where(pull > 1e-12, pull, 1), np.inf)
        if not np.isfinite(ratio.min()):
            break
        basis[int(ratio.argmin())] = enters
    raise MeasurementError("circle: the points leave its centre open")
