"""How much flank a pinion's teeth have lost, by a span over several or by the thickness of single ones.

A starter's pinion wears on the flank that drives. A span touches one flank of each outer tooth, so it sees
what both flanks lost together; which of them wore, the eye must say.

Source
------
Geometry: `barwise.machine.gear_teeth`. That pinions are cut some hundredths thinner than the plain formula
says, so that they run with backlash, is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwise.errors import MeasurementError
from barwise.machine.gear_teeth import (
    SpurGear,
    arc_from_chord_m,
    span_m,
    thickness_from_span_m,
    thickness_m,
)
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.distribution import coverage_factor
from barwise.measure.uncertainty import Estimate, rectangular
from barwise.measure.wear import DISCARD, NEW, Wear, WearPoint, WearScale

CUT_THINNER_M = 0.0001
"""By how much, at most, a new span may be under the formula for backlash: common practice, no source [m]."""


@dataclass(frozen=True)
class ToothWear:
    """What the worst place of a pinion measures.

    Attributes
    ----------
    place : int
        Which of the readings, from 1.
    size, new : Estimate
        Span or thickness there, and when new [m]; `new` None where nobody knows it.
    lost : Estimate or None
        Flank lost on the pitch circle, both sides of the tooth together [m].
    wear : Wear or None
        Percent between new and minimum, where both are known.
    spread_m : float
        Largest less smallest reading round the pinion.
    """

    place: int
    size: Estimate
    new: Estimate | None
    lost: Estimate | None
    wear: Wear | None
    spread_m: float


def new_span(gear: SpurGear, spanned: int) -> Estimate:
    """Span of a new pinion by its numbers, with what is not known of its backlash [m].

    Examples
    --------
    >>> nominal = new_span(SpurGear(24, 0.003, shift=0.4), 4)
    >>> round(1000 * nominal.value, 3), round(1000 * nominal.standard_uncertainty, 3)
    (32.777, 0.029)
    """
    half = CUT_THINNER_M / 2
    return Estimate(span_m(gear, spanned) - half, rectangular(half))


def new_thickness(gear: SpurGear) -> Estimate:
    """Arc of a new tooth by the numbers, with the same doubt of the backlash [m]."""
    half = CUT_THINNER_M / 2
    return Estimate(thickness_m(gear) - half, rectangular(half))


def span_wear(
    spans: Sequence[Estimate],
    gear: SpurGear | None,
    new: Estimate | None,
    minimum_m: float | None,
    level: float = USUAL_LEVEL,
) -> ToothWear:
    """Wear by spans taken at several places round the pinion.

    Notes
    -----
    A span that is shorter by d has lost d / cos a of arc on the pitch circle (20 degrees without a gear).
    """
    angle = 20.0 if gear is None else gear.pressure_angle_deg
    return _wear(spans, new, minimum_m, 1 / math.cos(math.radians(angle)), level)


def thickness_wear(
    chords: Sequence[Estimate],
    new: Estimate | None,
    minimum_m: float | None,
    level: float = USUAL_LEVEL,
) -> ToothWear:
    """Wear by the thickness of single teeth, with a gear-tooth caliper set to the pitch circle."""
    return _wear(chords, new, minimum_m, 1.0, level)


def miscounted(gear: SpurGear, spanned: int, span: float) -> int | None:
    """How many teeth this span looks like, where that is another number than was counted; else None.

    Notes
    -----
    One tooth more is one base pitch. A worn pinion has lost less than half of that.

    Examples
    --------
    >>> gear = SpurGear(11, 0.0025, shift=0.4)
    >>> miscounted(gear, 2, span_m(gear, 3)), miscounted(gear, 2, span_m(gear, 2) - 0.0008)
    (3, None)
    """
    looks = spanned + round((span - span_m(gear, spanned)) / gear.base_pitch_m)
    return None if looks == spanned else looks


def arc_of_chord(gear: SpurGear | None, chord: Estimate) -> Estimate:
    """What the caliper reads straight across, as arc where the gear is known [m]."""
    return (
        chord if gear is None else Estimate(arc_from_chord_m(gear, chord.value), chord.standard_uncertainty)
    )


def tooth_of_span(gear: SpurGear, spanned: int, span: Estimate) -> Estimate:
    """Thickness on the pitch circle that a span leaves to each tooth [m]; needs no profile shift."""
    value = thickness_from_span_m(gear, spanned, span.value)
    return Estimate(value, span.standard_uncertainty / math.cos(math.radians(gear.pressure_angle_deg)))


def _wear(
    sizes: Sequence[Estimate], new: Estimate | None, minimum_m: float | None, arc: float, level: float
) -> ToothWear:
    if not sizes:
        raise MeasurementError("pinion: found no reading, expected one or more")
    place, worst = min(enumerate(sizes, start=1), key=lambda one: one[1].value)
    values = [one.value for one in sizes]
    lost = wear = None
    if new is not None:
        spread = math.hypot(new.standard_uncertainty, worst.standard_uncertainty)
        lost = Estimate(arc * (new.value - worst.value), arc * spread)
        if minimum_m is not None:
            wear = _percent(worst, new, minimum_m, level)
    return ToothWear(place, worst, new, lost, wear, max(values) - min(values))


def _percent(size: Estimate, new: Estimate, minimum_m: float, level: float) -> Wear:
    """Percent worn, with the doubt of the new size in it as well."""
    scale = WearScale((WearPoint(NEW, new.value), WearPoint(DISCARD, minimum_m)))
    worn = scale.wear(size.value, 0.0, level)
    room = new.value - minimum_m
    left = 1 - worn.percent / 100
    spread = 100 / room * math.hypot(size.standard_uncertainty, new.standard_uncertainty * left)
    reach = coverage_factor(level) * spread
    return replace(worn, standard_uncertainty=spread, low=worn.percent - reach, high=worn.percent + reach)
