"""Lathe settings for copper, and the roughness that feed and tool nose leave.

Surface speed and feed: TM 55-6115-498-40 (light cuts at about 200 ft/min on scored commutators, one light
cut at about 600 ft/min to take off the film), and a machine-tool handout (high-speed steel on copper 100 to
250 ft/min, finishing feed 0.004 to 0.008 in/rev; its columns could not be read with certainty). Roughness:
f²/8r, any machining text (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError

FOOT_PER_MINUTE = 0.3048 / 60
"""[m/s]."""
LIGHT_CUTS = 200 * FOOT_PER_MINUTE
FILM_CUT = 600 * FOOT_PER_MINUTE
HIGH_SPEED_STEEL = (100 * FOOT_PER_MINUTE, 250 * FOOT_PER_MINUTE)

USUAL_FEED_M = 0.002 * 0.0254
USUAL_NOSE_M = 0.0254 / 64
"""Common practice, no source."""


@dataclass(frozen=True)
class LatheSettings:
    """What to set: surface speed, spindle speed, feed, tool nose, and the roughness they leave."""

    surface_speed_m_per_s: float
    turns_per_minute: float
    feed_m: float
    nose_m: float
    peak_to_valley_m: float
    mean_roughness_m: float


def settings(
    diameter_m: float,
    surface_speed_m_per_s: float = LIGHT_CUTS,
    feed_m: float = USUAL_FEED_M,
    nose_m: float = USUAL_NOSE_M,
) -> LatheSettings:
    """Settings for one diameter."""
    return LatheSettings(
        surface_speed_m_per_s,
        turns_per_minute(surface_speed_m_per_s, diameter_m),
        feed_m,
        nose_m,
        peak_to_valley(feed_m, nose_m),
        mean_roughness(feed_m, nose_m),
    )


def turns_per_minute(surface_speed_m_per_s: float, diameter_m: float) -> float:
    """Spindle speed [1/min]: V / (pi d).

    Examples
    --------
    >>> round(turns_per_minute(200 * FOOT_PER_MINUTE, 2.8 * 0.0254), 2)
    272.84
    """
    if not diameter_m > 0:
        raise MeasurementError(f"diameter: found {diameter_m:g} m, expected above 0")
    return 60 * surface_speed_m_per_s / (math.pi * diameter_m)


def peak_to_valley(feed_m: float, nose_m: float) -> float:
    """Theoretical height of the feed marks, f²/8r [m].

    Examples
    --------
    >>> round(peak_to_valley(0.2e-3, 0.8e-3) * 1e6, 4)
    6.25
    """
    _check(feed_m, nose_m)
    return feed_m**2 / (8 * nose_m)


def peak_to_valley_exact(feed_m: float, nose_m: float) -> float:
    """The same of the round nose itself, r - sqrt(r² - f²/4) [m]."""
    _check(feed_m, nose_m)
    # r - sqrt(r² - q) without the difference of nearly equal numbers
    quarter = feed_m**2 / 4
    return quarter / (nose_m + math.sqrt(nose_m**2 - quarter))


def mean_roughness(feed_m: float, nose_m: float) -> float:
    """Theoretical Ra [m]: f² / (18 sqrt(3) r), of the parabola about its mean line."""
    _check(feed_m, nose_m)
    return feed_m**2 / (18 * math.sqrt(3) * nose_m)


def _check(feed_m: float, nose_m: float) -> None:
    if not 0 < feed_m < 2 * nose_m:
        raise MeasurementError(
            f"feed: found {feed_m * 1e3:g} mm/rev with a tool nose of {nose_m * 1e3:g} mm, expected above "
            "0 and below twice the nose radius: a wider feed leaves threads"
        )
