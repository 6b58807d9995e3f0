"""What a walk with the indicator and one micrometer reading say about turning a commutator.

`plan_cut` puts together what the other modules of this package answer one by one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from barwise.errors import MeasurementError
from barwise.inspect.commutator import pattern
from barwise.inspect.commutator.centres import OnCentres, on_centres
from barwise.inspect.commutator.circles import KINDS, Circle, circle
from barwise.inspect.commutator.lathe import LatheSettings, settings
from barwise.inspect.commutator.levels import rounding_sd, usual_noise
from barwise.inspect.commutator.next_reading import ExtraReading, best_extra_reading
from barwise.inspect.commutator.passes import Pass, PassLimits, plan_passes
from barwise.inspect.commutator.pattern import Array
from barwise.inspect.commutator.profile import Profile, TrackShape, remarks, track_shape
from barwise.inspect.commutator.surface import Micrometer, Surface, draw_surface
from barwise.inspect.commutator.update import AfterPass, update
from barwise.inspect.commutator.worth import Known, Sheet, Stage, Worth, weigh, where_from

INTERVAL = 0.95
USUAL_LIMITS = PassLimits()


@dataclass(frozen=True)
class Estimate:
    """A length with the shortest interval that holds it with probability `INTERVAL` [m]."""

    value_m: float
    low_m: float
    high_m: float
    spread_m: float


@dataclass(frozen=True)
class LatheSetup:
    """How the commutator will be turned; lengths [m].

    `centres_offset_m` is how far the centres' axis lies from the journals', None where it is not asked.
    """

    limits: PassLimits = USUAL_LIMITS
    surface_speed_m_per_s: float | None = None
    feed_m: float | None = None
    nose_m: float | None = None
    centres_offset_m: float | None = None


@dataclass(frozen=True)
class CutPlan:
    """The answer.

    Attributes
    ----------
    tracks : tuple of TrackShape
        What each track walked shows by itself.
    circles : dict of float to tuple of Circle
        Reference circles of each track that has enough bars, in the order of `KINDS`.
    groove_m : float
        Expected depth of the lowest place along the bars below the higher end of the band, bars averaged [m].
    taper_m : float
        Height of the far end of the band over the riser end, expected [m].
    diameter_m : Estimate
        Diameter now, as the micrometer gives it.
    highest_diameter_m : float
        Twice the highest radius about the journals' axis: where the tool first touches [m].
    cleanup : Estimate
    start_m : float
        Where the tool touches next: the highest diameter, or what the last pass left [m].
    infeed_m : float
        From there to clean-up, on the radius [m].
    passes : tuple of Pass
    burned : tuple of (int, float)
        Bars from 1 that are probably burned, and how probable.
    """

    profile: Profile
    band: tuple[float, float]
    sheet: Sheet
    tracks: tuple[TrackShape, ...]
    circles: dict[float, tuple[Circle, ...]]
    groove_m: float
    taper_m: float
    diameter_m: Estimate
    highest_diameter_m: float
    cleanup: Estimate
    start_m: float
    infeed_m: float
    passes: tuple[Pass, ...]
    lathe: LatheSettings
    centres: OnCentres | None
    worth: Worth
    next_reading: ExtraReading | None
    burned: tuple[tuple[int, float], ...]
    surface: Surface
    after_pass: AfterPass | None
    notes: tuple[str, ...]

    @property
    def worst_track(self) -> TrackShape:
        """The track with the largest run-out."""
        return max(self.tracks, key=lambda shape: shape.runout_m)

    @property
    def worst_step(self) -> TrackShape:
        """The track with the largest step between neighbouring bars."""
        return max(self.tracks, key=lambda shape: shape.step_m)


def plan_cut(
    profile: Profile,
    micrometers: tuple[Micrometer, ...],
    band: tuple[float, float],
    sheet: Sheet,
    setup: LatheSetup | None = None,
    after_pass: AfterPass | None = None,
) -> CutPlan:
    """Work out the cut.

    Parameters
    ----------
    profile : Profile
    micrometers : tuple of Micrometer
        Diameters measured before the cut, at least one.
    band : (float, float)
        Part of the length that must clean up, fractions from the riser end.
    sheet : Sheet
    setup : LatheSetup, optional
    after_pass : AfterPass, optional
        What was found after the last pass; the plan then starts there.

    Raises
    ------
    InputError
        If no track has three bars.
    MeasurementError
        If a number cannot be.
    """
    if not micrometers:
        raise MeasurementError("micrometer: found no diameter, expected at least one")
    setup = setup or LatheSetup()
    surface = draw_surface(profile, micrometers, band)
    notes = [*remarks(profile, band), *filter(None, [where_from(sheet)])]
    if after_pass is not None:
        surface, hardly = update(surface, after_pass)
        notes += _doubts(hardly)
    lowest = surface.lowest_m()
    cut = _cut(surface, lowest, micrometers, after_pass)
    tracks = tuple(track_shape(profile, t) for t in profile.tracks if len(profile.on(t)[0]) >= 3)
    worst = max(shape.runout_m for shape in tracks)
    worth = weigh(
        sheet,
        Known(cut.diameter.value_m, cut.diameter.spread_m),
        Known(cut.cleanup.value_m, cut.cleanup.spread_m),
        _unevenness(surface, lowest),
        Known(worst, math.sqrt(2) * usual_noise(profile.resolution_m)),
        stage=_stage(after_pass),
        dead=profile.dead,
    )
    turns = sheet.may_turn and not profile.dead and worth.verdict in ("cut", "undecided")
    asks = turns and _stage(after_pass) != "clean"
    fine = micrometers[0].resolution_m
    along = surface.along_m.mean(axis=0)
    return CutPlan(
        profile=profile,
        band=band,
        sheet=sheet,
        tracks=tracks,
        circles=_circles(profile, cut.diameter.value_m),
        groove_m=float(max(along[0], along[-1]) - along.min()),
        taper_m=float(along[-1] - along[0]),
        diameter_m=cut.diameter,
        highest_diameter_m=cut.highest_m,
        cleanup=cut.cleanup,
        start_m=cut.start_m,
        infeed_m=max(cut.start_m - cut.cleanup.value_m, 0.0) / 2,
        passes=_passes(surface, cut, setup.limits) if turns else (),
        lathe=_settings(setup, cut.cleanup.value_m),
        centres=None if setup.centres_offset_m is None else on_centres(lowest, setup.centres_offset_m),
        worth=worth,
        next_reading=best_extra_reading(surface, lowest, profile.resolution_m, fine) if asks else None,
        burned=_burned(surface),
        surface=surface,
        after_pass=after_pass,
        notes=tuple(notes),
    )


@dataclass(frozen=True)
class _Cut:
    """Diameter now, where the tool first touched and touches next, and clean-up with its draws, (S,) [m]."""

    diameter: Estimate
    highest_m: float
    start_m: float
    cleanup_m: Array
    cleanup: Estimate


def _cut(
    surface: Surface, lowest: Array, micrometers: tuple[Micrometer, ...], found: AfterPass | None
) -> _Cut:
    highest, ends_at = 2 * float(np.median(_highest(surface))), 2 * lowest.min(axis=1)
    if found is None:
        return _Cut(_measured(micrometers), highest, highest, ends_at, estimate(ends_at))
    # what is clean already needs no deeper cut than the last
    ends_at = np.minimum(ends_at, found.diameter_m)
    return _Cut(_as_cut(found), highest, found.diameter_m, ends_at, estimate(ends_at))


def _passes(surface: Surface, cut: _Cut, limits: PassLimits) -> tuple[Pass, ...]:
    ends = cut.cleanup.high_m, cut.cleanup.value_m, cut.cleanup.low_m
    return plan_passes(surface, cut.cleanup_m, ends, cut.start_m, limits)


def _burned(surface: Surface) -> tuple[tuple[int, float], ...]:
    """Bars from 1 that are more probably burned than not."""
    share = surface.bars.burned
    return tuple((int(bar) + 1, float(share[bar])) for bar in np.flatnonzero(share > 0.5))


def estimate(draws_m: Array) -> Estimate:
    """Median, shortest interval with `INTERVAL` of the draws, and their standard deviation."""
    ordered = np.sort(draws_m)
    held = int(np.ceil(INTERVAL * len(ordered)))
    widths = ordered[held - 1 :] - ordered[: len(ordered) - held + 1]
    first = int(widths.argmin())
    value = float(np.median(ordered))
    return Estimate(value, float(ordered[first]), float(ordered[first + held - 1]), float(ordered.std()))


def _measured(micrometers: tuple[Micrometer, ...]) -> Estimate:
    """Mean of the diameters measured, with the uncertainty of one."""
    value = float(np.mean([m.diameter_m for m in micrometers]))
    return _known(value, micrometers[0].resolution_m)


def _as_cut(found: AfterPass) -> Estimate:
    return _known(found.diameter_m, found.resolution_m)


def _known(value: float, resolution_m: float) -> Estimate:
    spread = float(np.hypot(rounding_sd(resolution_m), pattern.TOUCH_SD))
    return Estimate(value, value - 1.96 * spread, value + 1.96 * spread, spread)


def _highest(surface: Surface) -> Array:
    """Highest radius in the band for each draw, shape (S,) [m]."""
    highest = surface.bars.height_m.max(axis=1) + surface.along_m.max(axis=1)
    return np.asarray(surface.zero_radius_m + highest)


def _unevenness(surface: Surface, lowest: Array) -> Known:
    """From the highest to the lowest place of the band, on the radius."""
    span = _highest(surface) - lowest.min(axis=1)
    return Known(float(np.median(span)), float(span.std()))


def _circles(profile: Profile, diameter_m: float) -> dict[float, tuple[Circle, ...]]:
    """Reference circles of each track; those whose bars leave half the round open have none."""
    out = {}
    for track in profile.tracks:
        bar, value = profile.on(track)
        try:
            angle = 2 * np.pi * bar / profile.bars
            out[float(track)] = tuple(circle(kind, angle, diameter_m / 2 + value) for kind in KINDS)
        except MeasurementError:
            continue
    return out


def _settings(setup: LatheSetup, diameter_m: float) -> LatheSettings:
    given = {
        "surface_speed_m_per_s": setup.surface_speed_m_per_s,
        "feed_m": setup.feed_m,
        "nose_m": setup.nose_m,
    }
    return settings(diameter_m, **{name: value for name, value in given.items() if value is not None})


def _stage(found: AfterPass | None) -> Stage:
    if found is None:
        return "before"
    return "clean" if found.untouched is not None and not len(found.untouched) else "turning"


def _doubts(hardly: tuple[int, ...]) -> list[str]:
    """Bars that do not look as the profile says they must."""
    if not hardly:
        return []
    named = ", ".join(str(bar + 1) for bar in hardly[:6]) + (", ..." if len(hardly) > 6 else "")
    return [
        f"Bar {named}: not as the profile read before the cut says it must look by now. Check bar numbers "
        "and diameter, and that it turns on its journals."
    ]
