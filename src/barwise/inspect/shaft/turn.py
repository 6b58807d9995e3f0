"""One turn under the dial: how far the place runs off centre and which way, and what is out of round.

The dial's swing alone cannot tell a place that is off centre from one that is not round. Read at several
angles it can: off centre goes up and down once a turn, an oval twice. Off centre is what a bend makes.

Sources
-------
The first harmonic as the least-squares circle's centre: ISO 12181-1:2011 (from memory). Least squares:
JCGM 100:2008 (from memory). A swing of 2 e for a place that is off centre by e: derived.
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

FEWEST_ANGLES = 3
MOST_LOBES = 3
"""Higher lobes are left to the residual: a bench turn has 8 or 12 angles."""

_FINE_DEG = 1.0
_SPARE = 2
"""Angles left over before a further harmonic is fitted: without any, nothing shows whether it is real."""


@dataclass(frozen=True)
class Lobe:
    """What goes up and down `count` times a turn: half of its swing, with its uncertainty [m]."""

    count: int
    amplitude: Estimate


@dataclass(frozen=True)
class Turn:
    """One turn under the dial, reduced.

    Attributes
    ----------
    offset_m : ndarray, shape (2,)
        How far the surface's middle is off the axis it turns on: towards the mark, and a quarter turn on from
        it, the way the angles count [m].
    covariance_m2 : ndarray, shape (2, 2)
        Of the offset.
    swing_m : float
        Largest less smallest reading.
    whole_swing : Estimate
        The same of the fitted curve, also between the angles that were read.
    lobes : tuple of Lobe
        Those that the number of angles allows to fit.
    residual_m : float
        Root mean square of what is left.
    angles : int
        Different angles read.
    closes_m : float or None
        Largest difference between readings of the same angle; None where none was read twice.
    """

    offset_m: Array
    covariance_m2: Array
    swing_m: float
    whole_swing: Estimate
    lobes: tuple[Lobe, ...]
    residual_m: float
    angles: int
    closes_m: float | None

    @property
    def eccentricity(self) -> Estimate:
        """How far off centre, unsigned [m]; a dial shows twice as much."""
        size = float(np.hypot(*self.offset_m))
        if size == 0:
            return Estimate(0.0, math.sqrt(float(np.trace(self.covariance_m2)) / 2))
        along = self.offset_m / size
        return Estimate(size, math.sqrt(max(0.0, float(along @ self.covariance_m2 @ along))))

    @property
    def runout(self) -> Estimate:
        """Swing that being off centre makes, 2 e [m]: what is left when the lobes are taken away."""
        found = self.eccentricity
        return Estimate(2 * found.value, 2 * found.standard_uncertainty)

    @property
    def high_deg(self) -> float:
        """Direction of the high side, from the mark, 0 to 360."""
        return math.degrees(math.atan2(self.offset_m[1], self.offset_m[0])) % 360

    @property
    def mostly_out_of_round(self) -> bool:
        """Whether lobes make more of the swing than being off centre does."""
        return any(lobe.amplitude.value > self.eccentricity.value for lobe in self.lobes)


def reduce_turn(angles_deg: Sequence[float], readings_m: Sequence[float], random_m: float) -> Turn:
    """Reduce the readings of one turn.

    Parameters
    ----------
    angles_deg : sequence of float
        Where the part stood, from a mark on it, counted the way it is turned. One read twice counts twice,
        and 360 is 0 again: whether the dial comes back to its number.
    readings_m : sequence of float
        Dial, plus outward [m].
    random_m : float
        Standard uncertainty of one reading: scale step and repeatability [m].

    Raises
    ------
    MeasurementError
        If there are fewer than three angles, they lie on one side, numbers are missing or not finite.

    Notes
    -----
    Least squares of c + x cos t + y sin t, and of lobes 2 and 3 where two angles more than needed are there.
    Where the readings scatter more than `random_m`, that scatter counts.

    Examples
    --------
    >>> dial = [0.030, 0.020, 0.010, 0.020]
    >>> turn = reduce_turn([0, 90, 180, 270], [mm * 1e-3 for mm in dial], 1e-6)
    >>> round(turn.eccentricity.value * 1e6, 3), round(turn.high_deg), round(turn.swing_m * 1e6)
    (10.0, 0, 20)
    """
    ways, values = _checked(angles_deg, readings_m, random_m)
    different = len(np.unique(np.round(ways, 6)))
    harmonics = [1]
    while harmonics[-1] < MOST_LOBES and different >= 2 * (harmonics[-1] + 1) + 1 + _SPARE:
        harmonics.append(harmonics[-1] + 1)
    rows = np.column_stack([np.ones_like(ways), *(f(n * ways) for n in harmonics for f in (np.cos, np.sin))])
    if np.linalg.matrix_rank(rows, tol=1e-3) < rows.shape[1]:
        raise MeasurementError(
            "turn: found angles that all lie on one side, expected them spread round the turn"
        )
    found, covariance, residual = _solve(rows, values, random_m)
    return Turn(
        offset_m=found[1:3],
        covariance_m2=covariance[1:3, 1:3],
        swing_m=float(np.ptp(values)),
        whole_swing=_whole_swing(harmonics, found, covariance),
        lobes=tuple(_lobe(n, found, covariance) for n in harmonics[1:]),
        residual_m=residual,
        angles=different,
        closes_m=_closes(ways, values),
    )


def from_swing(swing: Estimate) -> Estimate:
    """Half of a whole swing: how far off centre at most, if the place is round.

    Examples
    --------
    >>> from_swing(Estimate(0.12, 0.01))
    Estimate(value=0.06, standard_uncertainty=0.005, degrees_of_freedom=inf)
    """
    if not (math.isfinite(swing.value) and swing.value >= 0):
        raise MeasurementError(f"swing: found {swing.value:g} m, expected 0 or more")
    return Estimate(swing.value / 2, swing.standard_uncertainty / 2, swing.degrees_of_freedom)


def _checked(
    angles_deg: Sequence[float], readings_m: Sequence[float], random_m: float
) -> tuple[Array, Array]:
    if len(angles_deg) != len(readings_m):
        found = f"{len(angles_deg)} angles and {len(readings_m)} readings"
        raise MeasurementError(f"turn: found {found}, expected one reading for each angle")
    ways, values = np.array(angles_deg, dtype=float), np.array(readings_m, dtype=float)
    if not (np.isfinite(ways).all() and np.isfinite(values).all()):
        raise MeasurementError("turn: found a reading or an angle that is no number, expected finite numbers")
    if not (math.isfinite(random_m) and random_m > 0):
        raise MeasurementError(f"turn: found an uncertainty of {random_m:g} m, expected more than 0")
    ways = np.deg2rad(ways % 360)
    different = len(np.unique(np.round(ways, 6)))
    if different < FEWEST_ANGLES:
        raise MeasurementError(
            f"turn: found {different} angle{'s' * (different != 1)}, expected {FEWEST_ANGLES} or more"
        )
    return ways, values


def _rows(ways: Array, harmonics: Sequence[int]) -> Array:
    """Columns 1, cos t, sin t, cos 2t, ... at each angle."""
    return np.column_stack([np.ones_like(ways), *(f(n * ways) for n in harmonics for f in (np.cos, np.sin))])


def _whole_swing(harmonics: Sequence[int], found: Array, covariance: Array) -> Estimate:
    rows = _rows(np.deg2rad(np.arange(0.0, 360.0, _FINE_DEG)), harmonics)
    curve = rows @ found
    across = rows[int(curve.argmax())] - rows[int(curve.argmin())]
    return Estimate(float(np.ptp(curve)), math.sqrt(max(0.0, float(across @ covariance @ across))))


def _solve(rows: Array, values: Array, random_m: float) -> tuple[Array, Array, float]:
    found: Array = np.asarray(np.linalg.lstsq(rows, values, rcond=None)[0], dtype=np.float64)
    left = values - rows @ found
    freedom = len(values) - rows.shape[1]
    scatter = math.sqrt(float(left @ left) / freedom) if freedom > 0 else 0.0
    own = max(random_m, scatter)
    covariance: Array = np.asarray(np.linalg.inv(rows.T @ rows) * own**2, dtype=np.float64)
    return found, covariance, math.sqrt(float(left @ left) / len(values))


def _lobe(count: int, found: Array, covariance: Array) -> Lobe:
    at = 2 * count - 1
    part, own = found[at : at + 2], covariance[at : at + 2, at : at + 2]
    size = float(np.hypot(*part))
    along = part / size if size > 0 else np.array([1.0, 0.0])
    return Lobe(count, Estimate(size, math.sqrt(max(0.0, float(along @ own @ along)))))


def _closes(ways: Array, values: Array) -> float | None:
    """Largest spread of readings at one angle."""
    spreads = [
        float(np.ptp(values[np.abs(ways - way) < 1e-6]))
        for way in np.unique(np.round(ways, 6))
        if (np.abs(ways - way) < 1e-6).sum() > 1
    ]
    return max(spreads, default=None)
