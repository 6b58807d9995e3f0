"""How worn is it: the wear scale between new (0 %) and discard (100 %), from the points of the sheet.

The scale goes straight from point to point, and on beyond the outer ones along the outer stretch, which
it then says. No percentage is clipped: thicker than new is below 0 %, under discard is above 100 %. It
serves what shrinks with wear (commutator, brush) and what grows (a bore).

The scale and its straight lines are common practice, no source.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from barwise.errors import MeasurementError
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.distribution import below, coverage_factor

NEW, HALF_WORN, DISCARD = 0.0, 50.0, 100.0

_SMALL = 1e-9
"""Of a cut: a whole number of cuts must not be missed by a rounding of the arithmetic."""

_MOST_CUTS = 10_000


class WearPoint(NamedTuple):
    """One point of the sheet: this worn [%] at this size [m]."""

    percent: float
    size_m: float


@dataclass(frozen=True)
class Wear:
    """How worn a measured size is.

    Attributes
    ----------
    percent : float
        Signed and never clipped.
    standard_uncertainty : float
        In percent, from that of the size.
    low, high : float
        Interval [%] that holds the true wear with probability `level`.
    extrapolated : str or None
        Beyond which of the sheet's points `percent` lies, or None when it lies between two.
    """

    percent: float
    standard_uncertainty: float
    low: float
    high: float
    level: float
    extrapolated: str | None


@dataclass(frozen=True)
class CutsLeft:
    """How often it can still be cut before discard.

    Attributes
    ----------
    exact : float
        Room over removal; negative when the size is already past discard.
    whole : int
        Whole cuts that end at discard or before, by the plain arithmetic.
    assured : int
        Whole cuts after which it is still not past discard with probability `level`.
    """

    exact: float
    whole: int
    assured: int
    level: float


@dataclass(frozen=True)
class WearScale:
    """Percent worn against size, from two or more points.

    Parameters
    ----------
    points : tuple of WearPoint
        In any order; kept from the least worn to the most.
    grows : bool
        Whether wear makes the size larger, as in a bore.

    Raises
    ------
    MeasurementError
        If there are fewer than two points, a size is not above 0, or the sizes do not all run one way
        (discard above new, two points at one percentage).

    Examples
    --------
    >>> scale = WearScale((WearPoint(50, 1.0750 * 0.0254), WearPoint(100, 1.0630 * 0.0254)))
    >>> round(scale.percent(1.0785 * 0.0254), 1), round(scale.size_at(0) / 0.0254, 4)
    (35.4, 1.087)
    """

    points: tuple[WearPoint, ...]
    grows: bool = False

    def __post_init__(self) -> None:
        ordered = tuple(sorted(WearPoint(*point) for point in self.points))
        if len(ordered) < 2:
            raise MeasurementError(f"wear scale: found {len(ordered)} points, expected two or more")
        for point in ordered:
            if not (math.isfinite(point.percent) and math.isfinite(point.size_m) and point.size_m > 0):
                raise MeasurementError(f"wear scale: found {_shown(point)}, expected a size above 0")
        for before, after in pairwise(ordered):
            _check_order(before, after, self.grows)
        object.__setattr__(self, "points", ordered)

    def percent(self, size_m: float) -> float:
        """Percent worn at a size [m], signed, never clipped."""
        before, after = self._stretch_of_size(size_m)
        return before.percent + (size_m - before.size_m) * _slope(before, after)

    def size_at(self, percent: float) -> float:
        """Size [m] at which it is this worn, beyond the points if need be."""
        stops = [point.percent for point in self.points[1:-1]]
        before, after = self._stretch(bisect_right(stops, percent))
        return before.size_m + (percent - before.percent) / _slope(before, after)

    def room_m(self, size_m: float, percent: float = DISCARD) -> float:
        """How much [m] may still wear or be cut away until `percent`; negative when past it."""
        room = size_m - self.size_at(percent)
        return -room if self.grows else room

    def extrapolated(self, size_m: float) -> str | None:
        """Beyond which point a size [m] lies, in words, or None when it lies between two."""
        least, most = self.points[0], self.points[-1]
        if self.room_m(size_m, least.percent) > 0:
            return f"less worn than the sheet's first point, {least.percent:g} %"
        if self.room_m(size_m, most.percent) < 0:
            return f"more worn than the sheet's last point, {most.percent:g} %"
        return None

    def wear(self, size_m: float, standard_uncertainty_m: float = 0.0, level: float = USUAL_LEVEL) -> Wear:
        """Percent worn with its uncertainty.

        Notes
        -----
        The standard uncertainty is that of the size times the slope (JCGM 100:2008, 5.1.2; on a point of
        the sheet the steeper of its two slopes). The interval needs no slope: the scale runs one way, so
        the ends of the size's interval are the ends of the wear's.
        """
        if not math.isfinite(size_m):
            raise MeasurementError(f"size: found {size_m}, expected a finite number")
        if not (math.isfinite(standard_uncertainty_m) and standard_uncertainty_m >= 0):
            found = f"found {standard_uncertainty_m}"
            raise MeasurementError(f"standard uncertainty: {found}, expected 0 or more")
        reach = coverage_factor(level) * standard_uncertainty_m
        ends = sorted((self.percent(size_m - reach), self.percent(size_m + reach)))
        return Wear(
            percent=self.percent(size_m),
            standard_uncertainty=self._steepness(size_m) * standard_uncertainty_m,
            low=ends[0],
            high=ends[1],
            level=level,
            extrapolated=self.extrapolated(size_m),
        )

    def cuts_left(
        self,
        size_m: float,
        removal_m: float,
        standard_uncertainty_m: float = 0.0,
        removal_spread_m: float = 0.0,
        level: float = USUAL_LEVEL,
    ) -> CutsLeft:
        """Cuts until discard, when each takes the usual removal off the size.

        Parameters
        ----------
        size_m, standard_uncertainty_m : float
            Size now and its standard uncertainty [m].
        removal_m, removal_spread_m : float
            What one cut usually takes off the size (on diameter, not on radius), and its standard
            deviation from cut to cut [m].

        Notes
        -----
        After n cuts the room has the mean room - n removal and the variance u² + n spread².
        """
        if not (math.isfinite(removal_m) and removal_m > 0):
            raise MeasurementError(f"removal: found {removal_m}, expected more than 0")
        room = self.room_m(size_m)
        exact = room / removal_m
        whole = max(0, math.floor(exact + _SMALL))
        assured = 0
        for cuts in range(1, min(whole, _MOST_CUTS) + 1):
            spread = math.hypot(standard_uncertainty_m, math.sqrt(cuts) * removal_spread_m)
            left = room - cuts * removal_m
            if spread > 0 and below(left / spread) < level:
                break
            assured = cuts
        return CutsLeft(exact, whole, assured, level)

    def _stretch_of_size(self, size_m: float) -> tuple[WearPoint, WearPoint]:
        way = 1 if self.grows else -1
        stops = [way * point.size_m for point in self.points[1:-1]]
        return self._stretch(bisect_right(stops, way * size_m))

    def _stretch(self, number: int) -> tuple[WearPoint, WearPoint]:
        return self.points[number], self.points[number + 1]

    def _steepness(self, size_m: float) -> float:
        slopes = [
            abs(_slope(before, after))
            for before, after in pairwise(self.points)
            if size_m in (before.size_m, after.size_m)
        ]
        return max([*slopes, abs(_slope(*self._stretch_of_size(size_m)))])


def _slope(before: WearPoint, after: WearPoint) -> float:
    return (after.percent - before.percent) / (after.size_m - before.size_m)


def _check_order(before: WearPoint, after: WearPoint, grows: bool) -> None:
    if before.percent == after.percent:
        both = f"{_shown(before)} and {_shown(after)}"
        raise MeasurementError(f"wear scale: found {both}, expected one of them")
    if before.size_m == after.size_m or (after.size_m > before.size_m) != grows:
        way = "larger" if grows else "smaller"
        raise MeasurementError(
            f"wear scale: found {_shown(before)} but {_shown(after)}, expected the more worn one to be {way}"
        )


def _shown(point: WearPoint) -> str:
    """Both units, as this layer does not know which of them was entered."""
    return f"{point.percent:g} % at {point.size_m / 0.0254:.5g} in ({point.size_m * 1000:.5g} mm)"
