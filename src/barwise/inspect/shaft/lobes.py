"""What a V-block makes of a part that is out of round: how much of n lobes the dial on top shows.

A part turned in a V-block rides up and down on its own lobes, so the dial shows them too large, too small or
not at all, after the angle of the V: **in a V of 60 degrees an oval shows nothing, in one of 90 degrees seven
lobes do not.** Between two points (a micrometer) odd lobes show nothing. Between centres the dial shows lobes
as they are, and the centres' own error besides, as one swing a turn.

Sources
-------
ISO 4292:1985, Methods for the assessment of departure from roundness - Measurement by two- and three-point
methods: table of factors F of the symmetric three-point method (from memory). The formula is derived: the
contacts at angles of +-(90 + v/2) degrees from the dial carry the centre; for n lobes of amplitude a the dial
above the V swings by a F with F = 1 + cos(n (90 + v/2)) / sin(v/2).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate

LOBES = tuple(range(2, 10))
"""Numbers of lobes that are told apart; more is roughness for a starter's shaft."""

BLIND = 0.25
"""Below this factor a method says nothing useful of that many lobes."""

_USUAL_ANGLES = (60.0, 72.0, 90.0, 108.0, 120.0)


def v_block_factor(lobes: int, angle_deg: float) -> float:
    """How large the dial above a V-block shows `lobes`, as a multiple of their own swing; signed.

    Parameters
    ----------
    lobes : int
        1 is a part that is merely off centre: the V does not show it at all, the factor is 0.
    angle_deg : float
        Whole angle of the V.

    Raises
    ------
    MeasurementError
        If there is no lobe, or no such V.

    Examples
    --------
    >>> [round(v_block_factor(n, 90), 2) + 0.0 for n in (1, 2, 3, 4, 5, 6, 7, 8)]
    [0.0, 1.0, 2.0, -0.41, 2.0, 1.0, 0.0, 2.41]
    """
    if lobes < 1:
        raise MeasurementError(f"lobes: found {lobes}, expected 1 or more")
    _check_angle(angle_deg)
    half = math.radians(angle_deg / 2)
    factor = 1 + math.cos(lobes * (math.pi / 2 + half)) / math.sin(half)
    return 0.0 if abs(factor) < 1e-12 else factor


def two_point_factor(lobes: int) -> float:
    """The same for a diameter, between two points: 2 for even lobes, 0 for odd ones.

    Examples
    --------
    >>> two_point_factor(2), two_point_factor(3)
    (2.0, 0.0)
    """
    if lobes < 2:
        raise MeasurementError(f"lobes: found {lobes}, expected 2 or more")
    return 0.0 if lobes % 2 else 2.0


def unseen_lobes(angle_deg: float) -> tuple[int, ...]:
    """Numbers of lobes a V of this angle hides.

    Examples
    --------
    >>> unseen_lobes(60), unseen_lobes(90)
    ((2, 4, 5, 7, 8), (7, 9))
    """
    return tuple(count for count in LOBES if abs(v_block_factor(count, angle_deg)) < BLIND)


def angles_that_show(lobes: int) -> tuple[float, ...]:
    """Usual angles of a V that show so many lobes, the best first."""
    seen = [(abs(v_block_factor(lobes, angle)), angle) for angle in _USUAL_ANGLES]
    return tuple(angle for factor, angle in sorted(seen, reverse=True) if factor >= BLIND)


@dataclass(frozen=True)
class Lobed:
    """One explanation of how a part is out of round.

    Attributes
    ----------
    lobes : int
    out_of_round : Estimate
        Largest less smallest radius, corrected for what each method makes of them [m].
    chi_squared : float
        Sum of squared misfits in standard uncertainties.
    probability : float
        Against the other numbers of lobes, all taken as equally likely before.
    """

    lobes: int
    out_of_round: Estimate
    chi_squared: float
    probability: float


def explain_lobes(swings: Mapping[float, Estimate], two_point: Estimate | None = None) -> tuple[Lobed, ...]:
    """How many lobes explain what different V-blocks, and a micrometer, say of the same place.

    Parameters
    ----------
    swings : mapping of float to Estimate
        Whole swing of the dial [m] by the V's angle [deg]; the angle 180 stands for a flat plate.
    two_point : Estimate, optional
        Largest less smallest diameter there [m].

    Returns
    -------
    tuple of Lobed
        The likeliest first.

    Raises
    ------
    MeasurementError
        If there is nothing to go by, or a swing is negative or has no uncertainty.

    Notes
    -----
    Each swing is |F| times the same out-of-round: one unknown by weighted least squares for each number of
    lobes, compared by their misfit. One number of lobes is taken to stand out.

    Examples
    --------
    >>> seen = {60.0: Estimate(12e-6, 1e-6), 90.0: Estimate(8e-6, 1e-6)}
    >>> best = explain_lobes(seen, Estimate(0.0, 1e-6))[0]
    >>> best.lobes, round(best.out_of_round.value * 1e6, 1)
    (3, 4.0)
    """
    seen = [*swings.items(), *([] if two_point is None else [(None, two_point)])]
    if not seen:
        raise MeasurementError("lobes: found no swing, expected one or more")
    for _, swing in seen:
        if not (math.isfinite(swing.value) and swing.value >= 0 and swing.standard_uncertainty > 0):
            raise MeasurementError(f"swing: found {swing.value:g} m, expected 0 or more, with an uncertainty")
    fits = [_fit(count, seen) for count in LOBES]
    best = min(fit[2] for fit in fits)
    weights = [math.exp(-(fit[2] - best) / 2) for fit in fits]
    found = [
        Lobed(count, Estimate(value, spread), misfit, weight / sum(weights))
        for (count, value, misfit, spread), weight in zip(fits, weights, strict=True)
    ]
    return tuple(sorted(found, key=lambda one: (-one.probability, one.lobes)))


def _fit(lobes: int, seen: list[tuple[float | None, Estimate]]) -> tuple[int, float, float, float]:
    """Lobes, out-of-round [m], misfit, and standard uncertainty [m]."""
    factors = [two_point_factor(lobes) if v is None else abs(v_block_factor(lobes, v)) for v, _ in seen]
    weights = [1 / swing.standard_uncertainty**2 for _, swing in seen]
    normal = sum(factor**2 * weight for factor, weight in zip(factors, weights, strict=True))
    if normal <= 0:
        value, spread = 0.0, math.inf
    else:
        whole = zip(factors, weights, seen, strict=True)
        value = sum(factor * weight * swing.value for factor, weight, (_, swing) in whole) / normal
        spread = 1 / math.sqrt(normal)
    left = (
        (swing.value - factor * value) ** 2 * weight
        for factor, weight, (_, swing) in zip(factors, weights, seen, strict=True)
    )
    return lobes, value, sum(left), spread


def _check_angle(angle_deg: float) -> None:
    if not (math.isfinite(angle_deg) and 20 <= angle_deg <= 180):
        raise MeasurementError(f"V-block: found an angle of {angle_deg:g} deg, expected 20 to 180 deg")
