"""Spur gear teeth: what spans and thicknesses they measure when new, and how much flank is gone.

Sources
-------
Involute geometry. The same formulas with printed examples: Elements of Metric Gear Technology, section 10
(tooth thickness: chordal, span). A span over k teeth is tangent to the base circle, so neither the outside
diameter nor a run-out of the gear enters it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError

USUAL_ANGLE_DEG = 20.0


@dataclass(frozen=True)
class SpurGear:
    """A gear with straight teeth.

    Parameters
    ----------
    teeth : int
    module_m : float
        Pitch diameter over number of teeth [m]; 0.0254 over the diametral pitch.
    pressure_angle_deg : float
    shift : float
        Profile shift coefficient x: starter pinions of few teeth are commonly cut with some.

    Raises
    ------
    MeasurementError
        If no such gear can be.
    """

    teeth: int
    module_m: float
    pressure_angle_deg: float = USUAL_ANGLE_DEG
    shift: float = 0.0

    def __post_init__(self) -> None:
        if not (self.teeth >= 4 and 0 < self.module_m < 1 and 10 <= self.pressure_angle_deg <= 35):
            found = f"found z {self.teeth}, m {1000 * self.module_m:g} mm, {self.pressure_angle_deg:g} deg"
            raise MeasurementError(f"gear: {found}, expected 4 teeth or more, a module and 10 to 35 deg")
        if not abs(self.shift) < 2:
            raise MeasurementError(f"gear: found a profile shift of {self.shift:g}, expected within -2 to 2")

    @property
    def pitch_diameter_m(self) -> float:
        """Z m [m]."""
        return self.teeth * self.module_m

    @property
    def base_diameter_m(self) -> float:
        """Of the circle the flanks unroll from [m]."""
        return self.pitch_diameter_m * math.cos(self._angle)

    @property
    def base_pitch_m(self) -> float:
        """From tooth to tooth along the base circle, by which one more tooth lengthens a span [m]."""
        return math.pi * self.module_m * math.cos(self._angle)

    @property
    def _angle(self) -> float:
        return math.radians(self.pressure_angle_deg)


def involute(angle_rad: float) -> float:
    """Tan a - a.

    Examples
    --------
    >>> round(involute(math.radians(20)), 7)
    0.0149044
    """
    return math.tan(angle_rad) - angle_rad


def teeth_to_span(gear: SpurGear) -> int:
    """How many teeth to take between the jaws, so that they touch near the pitch circle; at least 2.

    Notes
    -----
    k = z (sqrt((1 + 2 x / z)² / cos² a - 1) - inv a - 2 x tan a / z) / pi + 0.5, rounded: z a / 180 + 0.5
    near enough where x is 0.
    """
    angle = math.radians(gear.pressure_angle_deg)
    share = 2 * gear.shift / gear.teeth
    reach = math.sqrt((1 + share) ** 2 / math.cos(angle) ** 2 - 1)
    turns = (reach - involute(angle) - share * math.tan(angle)) / math.pi
    return max(2, round(gear.teeth * turns + 0.5))


def span_m(gear: SpurGear, spanned: int) -> float:
    """Length over `spanned` teeth when new, without backlash [m].

    Notes
    -----
    W = m cos a (pi (k - 0.5) + z inv a) + 2 x m sin a.

    Examples
    --------
    >>> round(1000 * span_m(SpurGear(24, 0.003, shift=0.4), 4), 4)
    32.8266
    """
    _check_spanned(gear, spanned)
    angle = math.radians(gear.pressure_angle_deg)
    turned = math.pi * (spanned - 0.5) + gear.teeth * involute(angle)
    return gear.module_m * (math.cos(angle) * turned + 2 * gear.shift * math.sin(angle))


def thickness_m(gear: SpurGear) -> float:
    """Arc of a tooth along the pitch circle when new [m]: m (pi / 2 + 2 x tan a)."""
    return gear.module_m * (math.pi / 2 + 2 * gear.shift * math.tan(math.radians(gear.pressure_angle_deg)))


def thickness_from_span_m(gear: SpurGear, spanned: int, span: float) -> float:
    """Arc of a tooth along the pitch circle, from a span as measured [m].

    Notes
    -----
    A span is k - 1 base pitches and one tooth at the base circle, s cos a + d_b inv a; the profile shift
    need not be known. It takes all spanned teeth for alike and sees both outer flanks together: which of
    the two wore it cannot tell.
    """
    _check_spanned(gear, spanned)
    angle = math.radians(gear.pressure_angle_deg)
    at_base = span - (spanned - 1) * gear.base_pitch_m
    return (at_base - gear.base_diameter_m * involute(angle)) / math.cos(angle)


def chordal_thickness_m(gear: SpurGear, arc_m: float) -> float:
    """What a gear-tooth caliper reads straight across a tooth of this arc [m]: d sin(s / d)."""
    return gear.pitch_diameter_m * math.sin(arc_m / gear.pitch_diameter_m)


def chordal_height_m(gear: SpurGear, arc_m: float, addendum_m: float) -> float:
    """How deep below the tip the caliper must be set [m]: d (1 - cos(s / d)) / 2 + addendum."""
    diameter = gear.pitch_diameter_m
    return diameter / 2 * (1 - math.cos(arc_m / diameter)) + addendum_m


def arc_from_chord_m(gear: SpurGear, chord_m: float) -> float:
    """The arc along the pitch circle of a tooth that reads this straight across [m]: d arcsin(c / d).

    Raises
    ------
    MeasurementError
        If the chord is longer than the pitch diameter.
    """
    diameter = gear.pitch_diameter_m
    if not 0 < chord_m < diameter:
        found = f"found {1000 * chord_m:g} mm with a pitch diameter of {1000 * diameter:g} mm"
        raise MeasurementError(f"tooth thickness: {found}, expected above 0 and below it")
    return diameter * math.asin(chord_m / diameter)


def contact_diameter_m(gear: SpurGear, span: float) -> float:
    """Diameter at which the jaws touch the flanks, taken as alike on both sides [m]: sqrt(d_b² + W²)."""
    return math.hypot(gear.base_diameter_m, span)


def _check_spanned(gear: SpurGear, spanned: int) -> None:
    if not 1 <= spanned <= gear.teeth // 2 + 1:
        found = f"found {spanned} of {gear.teeth}"
        raise MeasurementError(f"teeth spanned: {found}, expected 1 to {gear.teeth // 2 + 1}")
