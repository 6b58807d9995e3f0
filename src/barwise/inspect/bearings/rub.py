"""Can the armature touch its pole shoes: the air gap against clearance, bend and what the end frames lost.

Magnet and pinion pull the shaft to one side of its bushes, so half the clearance of each bush is used up on
that side; a bent shaft sweeps its bend round and meets every shoe once a turn; an end frame that is worn or
sits crooked is off centre for good. What is left is the least air gap. The worst case is meant, in which all
of them point the same way: with the pull towards the nearest shoe that is what a worn starter does. How much
the shaft bends under load is not counted: look for fresh marks as well.

Sources
-------
Derived; that magnetic pull draws the armature to the nearer pole is common knowledge of machines (from
memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.distribution import below
from barwise.measure.uncertainty import Budget, Component, Estimate

_NONE = Estimate(0.0, 0.0)


@dataclass(frozen=True)
class Part:
    """What takes away from the air gap: how much [m], on radius, with its standard uncertainty."""

    name: str
    taken: Estimate


@dataclass(frozen=True)
class Rub:
    """Least air gap when everything points the same way.

    Attributes
    ----------
    gap : Estimate
        Air gap with the armature in the middle, on radius [m].
    parts : tuple of Part
        What takes it away, the largest first.
    left : Estimate
        What remains [m]; negative: it touches.
    touches : float
        Probability that it touches.
    """

    gap: Estimate
    parts: tuple[Part, ...]
    left: Estimate
    touches: float


@dataclass(frozen=True)
class Bearing:
    """One bush: its clearance on diameter [m], and how far from the core's middle it stands [m]."""

    clearance: Estimate
    distance_m: float


def rub(
    pole_bore: Estimate,
    core: Estimate,
    drive_end: Bearing,
    commutator_end: Bearing,
    core_runout: Estimate = _NONE,
    end_frame: Estimate = _NONE,
) -> Rub:
    """Whether the armature can touch its pole shoes.

    Parameters
    ----------
    pole_bore, core : Estimate
        Diameter between opposite shoes where it is least, and of the core where it is largest [m].
    drive_end, commutator_end : Bearing
        The two bushes that carry it.
    core_runout : Estimate
        Whole swing of a dial on the core, journals on V-blocks [m].
    end_frame : Estimate
        How far the end frames' seats put the shaft off the middle of the shoes [m].

    Raises
    ------
    MeasurementError
        If a figure cannot be, such as a core larger than the bore between the shoes.

    Notes
    -----
    The core's middle drops by (b1 c2 + b2 c1) / 2 (b1 + b2) for bushes at distances b1, b2 with clearances
    c1, c2 on diameter: the lever of each is the other's distance.

    Examples
    --------
    >>> sizes = Estimate(80.0e-3, 0), Estimate(79.0e-3, 0)
    >>> ends = Bearing(Estimate(0.1e-3, 0), 60e-3), Bearing(Estimate(0.2e-3, 0), 60e-3)
    >>> found = rub(*sizes, *ends, core_runout=Estimate(0.1e-3, 0.0))
    >>> round(found.left.value * 1e3, 3), found.touches
    (0.375, 0.0)
    """
    gap = _half_difference(pole_bore, core)
    taking = (
        *_drops(drive_end, commutator_end),
        Part("bend and core out of round", _scaled(_positive(core_runout, "core run-out"), 0.5)),
        Part("end frames off centre", _positive(end_frame, "end frame")),
    )
    parts = tuple(sorted((one for one in taking if one.taken != _NONE), key=lambda one: -one.taken.value))
    left = _left(gap, parts)
    return Rub(gap, parts, left, _below_nothing(left))


def _half_difference(pole_bore: Estimate, core: Estimate) -> Estimate:
    for name, one in (("pole bore", pole_bore), ("core", core)):
        if not (math.isfinite(one.value) and one.value > 0):
            raise MeasurementError(f"{name}: found {one.value:g} m, expected a diameter above 0")
    if core.value >= pole_bore.value:
        raise MeasurementError(
            f"pole bore: found {pole_bore.value * 1e3:.4g} mm for a core of {core.value * 1e3:.4g} mm, "
            "expected it to be larger: swapped, or in another unit?"
        )
    return _sum([(0.5, pole_bore), (-0.5, core)])


def _drops(drive_end: Bearing, commutator_end: Bearing) -> tuple[Part, Part]:
    span = drive_end.distance_m + commutator_end.distance_m
    for name, one in (("drive end", drive_end), ("commutator end", commutator_end)):
        if not (math.isfinite(one.distance_m) and one.distance_m > 0):
            raise MeasurementError(
                f"{name}: found {one.distance_m:g} m from bush to core, expected more than 0"
            )
        _positive(one.clearance, f"clearance, {name}")
    return (
        Part("bush clearance, drive end", _scaled(drive_end.clearance, commutator_end.distance_m / span / 2)),
        Part(
            "bush clearance, commutator end",
            _scaled(commutator_end.clearance, drive_end.distance_m / span / 2),
        ),
    )


def _left(gap: Estimate, parts: Sequence[Part]) -> Estimate:
    return _sum([(1.0, gap), *((-1.0, one.taken) for one in parts)])


def _below_nothing(left: Estimate) -> float:
    if left.standard_uncertainty == 0:
        return float(left.value < 0)
    return below(-left.value / left.standard_uncertainty, left.degrees_of_freedom)


def _sum(weighted: Sequence[tuple[float, Estimate]]) -> Estimate:
    parts = [
        Component(str(place), one.standard_uncertainty, weight, one.degrees_of_freedom)
        for place, (weight, one) in enumerate(weighted)
    ]
    return Budget(tuple(parts)).estimate(sum(weight * one.value for weight, one in weighted))


def _scaled(one: Estimate, factor: float) -> Estimate:
    return Estimate(one.value * factor, one.standard_uncertainty * factor, one.degrees_of_freedom)


def _positive(one: Estimate, what: str) -> Estimate:
    if not (math.isfinite(one.value) and one.value >= 0):
        raise MeasurementError(f"{what}: found {one.value:g} m, expected 0 or more")
    return one
