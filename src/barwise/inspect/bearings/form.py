"""What shape is a bore or a journal: mean size, oval, taper, and how large and small it is at its worst.

Sizes are two-point ones, across the part. They are described by size = d + t (z - middle) + a cos 2w +
b sin 2w, with z along the part and w the direction of measuring; what the places read cannot show is left
out and named. Readings in two directions a quarter turn apart show an oval that lies along them, and nothing
of one that lies between; three directions show any. **A part with an odd number of lobes measures the same
all round**: two points never show it, V-blocks do (`barwise.inspect.shaft.lobes`).

Sources
-------
Two-point measurement and odd lobes: ISO 4292:1985, Methods for the assessment of departure from roundness -
Measurement by two- and three-point methods (from memory). Least squares and how its uncertainty goes on:
JCGM 100:2008, 5.1 and annex G.4 (from memory). The model is our own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]
_SAME = 1e-6


@dataclass(frozen=True)
class SizeReading:
    """One size across the part.

    Parameters
    ----------
    value_m : float
        [m].
    along : float
        Where along the part, in any unit that is the same for all, such as 0 for outer and 1 for inner.
    direction_deg : float
        Direction of measuring; 0 and 180 are one.
    random_m : float
        Standard uncertainty that is this reading's own: scale step and repeatability [m].
    """

    value_m: float
    along: float = 0.0
    direction_deg: float = 0.0
    random_m: float = 0.0


@dataclass(frozen=True)
class Form:
    """Shape of one part, sizes as diameters [m].

    Attributes
    ----------
    mean, largest, smallest : Estimate
        Mean size, and the size where the shape is largest and smallest among the places read.
    oval, taper : Estimate or None
        Largest less smallest diameter round the part; size at the far end less that at the near one. None
        where the places read cannot show it.
    oval_direction_deg : float or None
        Direction of the largest diameter, 0 to 180.
    every_direction : bool
        Whether an oval in any direction would have been seen.
    residual_m : float
        Root mean square of what the shape leaves over.
    readings : int
    """

    mean: Estimate
    largest: Estimate
    smallest: Estimate
    oval: Estimate | None
    taper: Estimate | None
    oval_direction_deg: float | None
    every_direction: bool
    residual_m: float
    readings: int

    @property
    def unseen(self) -> tuple[str, ...]:
        """What these readings could not show, in words."""
        said = [] if self.taper else ["taper: read at both ends"]
        if self.oval is None:
            said.append("oval: read crosswise too")
        elif not self.every_direction:
            said.append("an oval that lies between the two directions: read in a third one")
        return tuple(said)


def form_of(readings: Sequence[SizeReading], common_m: float = 0.0) -> Form:
    """Shape from its readings.

    Parameters
    ----------
    readings : sequence of SizeReading
        One or more.
    common_m : float
        Standard uncertainty that all readings share: the instrument's calibration [m].

    Raises
    ------
    MeasurementError
        If there is no reading, or one is not a size above 0.

    Notes
    -----
    Weighted least squares. Where the readings scatter about the shape more than their own uncertainty allows,
    the scatter counts instead, with as few degrees of freedom as it has.

    Examples
    --------
    >>> places = [(0, 0, 12.04), (0, 90, 12.02), (1, 0, 12.03), (1, 90, 12.01)]
    >>> form = form_of([SizeReading(mm * 1e-3, along, way, 1e-6) for along, way, mm in places])
    >>> [round(one.value * 1e6, 1) for one in (form.oval, form.taper, form.largest, form.smallest)]
    [20.0, -10.0, 12040.0, 12010.0]
    """
    _check(readings, common_m)
    along = np.array([one.along for one in readings])
    ways = np.deg2rad([one.direction_deg for one in readings])
    terms = _terms(along, ways)
    sizes = np.array([one.value_m for one in readings])
    own = np.array([max(one.random_m, 1e-12) for one in readings])
    solved = _solve(_rows(along, ways, terms, along.mean()), sizes, own)
    return _form(solved, terms, along, ways, common_m, len(readings))


@dataclass(frozen=True)
class _Terms:
    taper: bool
    oval: bool
    turned: bool

    @property
    def names(self) -> tuple[str, ...]:
        wanted = {"taper": self.taper, "cos": self.oval, "sin": self.turned}
        return ("mean", *(name for name, there in wanted.items() if there))


@dataclass(frozen=True)
class _Solved:
    """Coefficients with their covariance, in the order of the terms."""

    values: Array
    covariance: Array
    degrees_of_freedom: float
    residual_m: float


def _terms(along: Array, ways: Array) -> _Terms:
    """What these places can show."""
    doubled = np.column_stack([np.cos(2 * ways), np.sin(2 * ways)])
    rank = int(np.linalg.matrix_rank(doubled - doubled.mean(axis=0), tol=1e-3))
    terms = _Terms(bool(np.ptp(along) > _SAME), rank >= 1, rank >= 2)
    # Direction and place changed together: neither can be told from the other, so only the mean stands.
    rows = _rows(along, ways, terms, float(along.mean()))
    if np.linalg.matrix_rank(rows, tol=1e-6) < rows.shape[1]:
        return _Terms(False, False, False)
    return terms


def _rows(along: Array, ways: Array, terms: _Terms, middle: float) -> Array:
    """Design of the least squares, shape (n, terms).

    Where only one axis of ovals can be seen, it is the one the directions lie along.
    """
    axis = 0.0 if terms.turned else float(ways[0])
    columns = [np.ones_like(along)]
    if terms.taper:
        columns.append(along - middle)
    if terms.oval:
        columns.append(np.cos(2 * (ways - axis)))
    if terms.turned:
        columns.append(np.sin(2 * ways))
    return np.column_stack(columns)


def _solve(rows: Array, sizes: Array, own: Array) -> _Solved:
    weighted = rows / own[:, None]
    values: Array = np.asarray(np.linalg.lstsq(weighted, sizes / own, rcond=None)[0], dtype=np.float64)
    # Readings of very unlike scales would make the normal equations singular.
    spread = np.linalg.pinv(weighted)
    covariance: Array = np.asarray(spread @ spread.T, dtype=np.float64)
    left = sizes - rows @ values
    freedom = len(sizes) - rows.shape[1]
    residual = float(np.sqrt(np.mean(left**2)))
    if freedom == 0:
        return _Solved(values, covariance, math.inf, residual)
    scatter = float(np.sum((left / own) ** 2)) / freedom
    if scatter <= 1:
        return _Solved(values, covariance, math.inf, residual)
    return _Solved(values, np.asarray(covariance * scatter, dtype=np.float64), freedom, residual)


def _form(solved: _Solved, terms: _Terms, along: Array, ways: Array, common_m: float, readings: int) -> Form:
    names, middle = terms.names, float(along.mean())
    part = dict(zip(names, solved.values, strict=True))
    axis = 0.0 if terms.turned else float(ways[0])
    cosine, sine = part.get("cos", 0.0), part.get("sin", 0.0)
    half = math.hypot(cosine, sine)
    turned = math.atan2(sine, cosine) / 2
    ends = float(along.min()) - middle, float(along.max()) - middle
    slope = part.get("taper", 0.0)
    wide_end, narrow_end = (ends[1], ends[0]) if slope >= 0 else ends

    def at(place: float, way: float) -> Estimate:
        """Size at one place and direction (against the axis); the calibration is common to all sizes."""
        row = {"mean": 1.0, "taper": place, "cos": math.cos(2 * way), "sin": math.sin(2 * way)}
        return _estimate(solved, np.array([row[name] for name in names]), common_m)

    def only(**row: float) -> Estimate:
        return _estimate(solved, np.array([row.get(name, 0.0) for name in names]), 0.0)

    double = {"cos": 2 * math.cos(2 * turned), "sin": 2 * math.sin(2 * turned)}
    return Form(
        mean=_estimate(solved, np.array([float(name == "mean") for name in names]), common_m),
        largest=at(wide_end, turned),
        smallest=at(narrow_end, turned + math.pi / 2),
        oval=only(**double) if terms.oval else None,
        taper=only(taper=ends[1] - ends[0]) if terms.taper else None,
        oval_direction_deg=math.degrees(turned + axis) % 180 if terms.oval and half > 0 else None,
        every_direction=terms.turned,
        residual_m=solved.residual_m,
        readings=readings,
    )


def _estimate(solved: _Solved, row: Array, common_m: float) -> Estimate:
    random = math.sqrt(max(0.0, float(row @ solved.covariance @ row)))
    total = math.hypot(random, common_m)
    freedom = math.inf
    if random > 0 and math.isfinite(solved.degrees_of_freedom):
        freedom = solved.degrees_of_freedom * (total / random) ** 4
    return Estimate(float(row @ solved.values), total, freedom)


def _check(readings: Sequence[SizeReading], common_m: float) -> None:
    if not readings:
        raise MeasurementError("sizes: found no reading, expected one or more")
    for one in readings:
        if not (math.isfinite(one.value_m) and one.value_m > 0):
            raise MeasurementError(f"size: found {one.value_m:g} m, expected a size above 0")
        figures = (one.along, one.direction_deg, one.random_m)
        if not all(math.isfinite(figure) for figure in figures) or one.random_m < 0:
            raise MeasurementError(f"size: found place and uncertainty {figures}, expected finite numbers")
    if not (math.isfinite(common_m) and common_m >= 0):
        raise MeasurementError(f"calibration: found {common_m:g} m, expected 0 or more")
