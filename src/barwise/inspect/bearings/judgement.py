"""Bushes, a new bush, gears and the air gap judged together: what the bearings station comes to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from barwise.inspect.bearings.clearance import Clearance, Worn, clearance, worn
from barwise.inspect.bearings.fits import Fit, Limits
from barwise.inspect.bearings.form import Form, SizeReading, form_of
from barwise.inspect.bearings.gears import Offset, Planetary, backlash
from barwise.inspect.bearings.press_fit import PressFit, Ring, pressed_in
from barwise.inspect.bearings.rub import Bearing, Rub, rub
from barwise.inspect.finding import Bound, Finding, Verdict, hold_against, said_to_its_digit, worst_of
from barwise.machine.gear_teeth import SpurGear, thickness_from_span_m
from barwise.measure import decision
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, Unit

NOT_NEGATIVE = Limit(lower=0.0)
MM = UNITS["mm"]
NOTHING = Estimate(0.0, 0.0)
MOST_OF_THE_DOUBT = 0.9


@dataclass(frozen=True)
class Sizes:
    """One part as measured: its readings, and the calibration they share [m]."""

    readings: tuple[SizeReading, ...]
    common_m: float = 0.0

    @property
    def form(self) -> Form:
        """Its shape."""
        return form_of(self.readings, self.common_m)


@dataclass(frozen=True)
class BushOnJournal:
    """One bearing: bush and journal, what is allowed, and their sizes when new where they are known [m]."""

    name: str
    bore: Sizes
    journal: Sizes
    unit: Unit
    limit: Bound | None = None
    fit: Fit | None = None
    new_bore_m: float | None = None
    new_journal_m: float | None = None


@dataclass(frozen=True)
class NewBush:
    """A bush about to be pressed in; `bearing` names the one it is for."""

    bearing: str
    bore: Estimate
    outside: Estimate
    housing_bore: Estimate
    housing_outside_m: float
    bush: Ring
    housing: Ring
    unit: Unit = MM


@dataclass(frozen=True)
class AirGap:
    """What `rub` needs besides the clearances of the two named bearings; distances from core's middle [m]."""

    pole_bore: Estimate
    core: Estimate
    drive_end: str
    commutator_end: str
    drive_end_m: float
    commutator_end_m: float
    core_runout: Estimate = NOTHING
    end_frame: Estimate = NOTHING
    unit: Unit = MM


@dataclass(frozen=True)
class GearPlay:
    """Backlash as a dial saw it, and its limit along the pitch circle; radii [m]."""

    dial: Estimate
    dial_radius_m: float
    pitch_radius_m: float
    limit: Bound | None = None
    unit: Unit = MM


@dataclass(frozen=True)
class WornGear:
    """A gear's span over teeth when new and now [m], and how much wear is allowed along the pitch circle."""

    name: str
    gear: SpurGear
    spanned: int
    new: Estimate
    now: Estimate
    limit: Bound | None = None
    unit: Unit = MM


@dataclass(frozen=True)
class BearingsWork:
    """All that was measured at the station; each part may be missing."""

    bearings: tuple[BushOnJournal, ...] = ()
    new_bush: NewBush | None = None
    air_gap: AirGap | None = None
    train: Planetary | Offset | None = None
    play: GearPlay | None = None
    gears: tuple[WornGear, ...] = ()
    level: float = decision.USUAL_LEVEL


@dataclass(frozen=True)
class JudgedBearing:
    """One bearing with its shapes, its play, and what wore."""

    bearing: BushOnJournal
    bore: Form
    journal: Form
    play: Clearance
    worn: Worn | None


@dataclass(frozen=True)
class BearingsAnswer:
    """What it all comes to; `work` is what it was judged from."""

    verdict: Verdict
    findings: tuple[Finding, ...]
    work: BearingsWork
    bearings: tuple[JudgedBearing, ...] = ()
    press: PressFit | None = None
    rub: Rub | None = None
    ratio: float | None = None
    notes: tuple[str, ...] = field(default=())


def judge_bearings(work: BearingsWork) -> BearingsAnswer:
    """Judge everything that was measured.

    Raises
    ------
    MeasurementError
        If sizes cannot be as given: a journal larger than its bore, a bush loose in its housing.
    """
    bearings = tuple(_bearing(one, work.level) for one in work.bearings)
    by_name = {one.bearing.name: one for one in bearings}
    findings = [finding for one in bearings for finding in _plays(one, work.level)]
    press = touching = None
    if work.new_bush is not None:
        press, found = _press(work.new_bush, by_name, work.level)
        findings += found
    if work.air_gap is not None:
        touching = _rub(work.air_gap, by_name)
        findings.append(_gap_finding(touching, work.air_gap.unit, work.level))
    findings += _gears(work)
    return BearingsAnswer(
        verdict=worst_of(findings),
        findings=tuple(findings),
        work=work,
        bearings=bearings,
        press=press,
        rub=touching,
        ratio=None if work.train is None else work.train.ratio,
        notes=tuple(note for one in bearings for note in _notes(one)),
    )


def _bearing(one: BushOnJournal, level: float) -> JudgedBearing:
    bore, journal = one.bore.form, one.journal.form
    play = clearance(bore, journal, None if one.limit is None else one.limit.limit, level)
    known = one.new_bore_m is not None and one.new_journal_m is not None
    wear = worn(bore, journal, one.new_bore_m or 0.0, one.new_journal_m or 0.0) if known else None
    return JudgedBearing(one, bore, journal, play, wear)


def _plays(one: JudgedBearing, level: float) -> list[Finding]:
    """The play's loose end against the upper limit, its tight end against the lower one."""
    bound, unit, name = one.bearing.limit, one.bearing.unit, one.bearing.name
    if bound is None:
        return [hold_against(f"{name}, most play", one.play.loosest, unit, None, level=level)]
    found = []
    if bound.limit.upper is not None:
        upper = Bound(Limit(upper=bound.limit.upper), bound.unit, bound.source)
        then = _what_to_replace(one)
        found.append(
            hold_against(f"{name}, most play", one.play.loosest, unit, upper, level=level, then=then)
        )
    if bound.limit.lower is not None:
        lower = Bound(Limit(lower=bound.limit.lower), bound.unit, bound.source)
        then = "It is too tight: size the bush with its mandrel."
        found.append(
            hold_against(f"{name}, least play", one.play.tightest, unit, lower, level=level, then=then)
        )
    return found


def _what_to_replace(one: JudgedBearing) -> str:
    if one.worn is None or one.worn.bush_share is None:
        return "New bush; measure the journal as well before it is ordered."
    share = one.worn.bush_share
    if share >= 0.75:
        return f"New bush: it made {100 * share:.0f} % of the wear."
    if share <= 0.25:
        return f"The journal made {100 * (1 - share):.0f} % of the wear: a new bush alone will not hold long."
    return f"Both are worn, the bush by {100 * share:.0f} % of it: a new bush, and the journal looked at."


def _press(bush: NewBush, bearings: dict[str, JudgedBearing], level: float) -> tuple[PressFit, list[Finding]]:
    found = pressed_in(
        bush.bore, bush.outside, bush.housing_bore, bush.housing_outside_m, bush.bush, bush.housing
    )
    on = bearings.get(bush.bearing)
    if on is None:
        return found, []
    journal = on.journal.smallest
    spread = (found.bore.standard_uncertainty**2 + journal.standard_uncertainty**2) ** 0.5
    play = Estimate(found.bore.value - journal.value, spread)
    then = "Another bush, or size it with a mandrel once it is in."
    part = f"new bush, {bush.bearing}, play once it is pressed in"
    finding = hold_against(part, play, on.bearing.unit, on.bearing.limit, level=level, then=then)
    return found, [finding]


def _rub(gap: AirGap, bearings: dict[str, JudgedBearing]) -> Rub:
    return rub(
        gap.pole_bore,
        gap.core,
        Bearing(bearings[gap.drive_end].play.loosest, gap.drive_end_m),
        Bearing(bearings[gap.commutator_end].play.loosest, gap.commutator_end_m),
        gap.core_runout,
        gap.end_frame,
    )


def _gap_finding(found: Rub, unit: Unit, level: float) -> Finding:
    largest = found.parts[0].name if found.parts else "nothing"
    part = "air gap left when all of it points one way"
    then = f"The armature touches its pole shoes; most is taken by {largest}."
    return hold_against(part, found.left, unit, Bound(NOT_NEGATIVE, unit.name), level=level, then=then)


def _gears(work: BearingsWork) -> list[Finding]:
    found: list[Finding] = []
    if isinstance(work.train, Planetary):
        said = work.train.complaints()
        found += [Finding("planet gears", "undecided", f"{line[0].upper()}{line[1:]}.") for line in said]
    if work.play is not None:
        play = backlash(work.play.dial, work.play.dial_radius_m, work.play.pitch_radius_m)
        then = "Teeth or bearings are worn: look at both gears' flanks."
        found.append(
            hold_against(
                "backlash", play.along_m, work.play.unit, work.play.limit, level=work.level, then=then
            )
        )
    found += [_worn_gear(one, work.level) for one in work.gears]
    return found


def _worn_gear(one: WornGear, level: float) -> Finding:
    """Wear of the tooth along the pitch circle: what the span lost, over the cosine of the angle."""
    gone = [thickness_from_span_m(one.gear, one.spanned, span.value) for span in (one.new, one.now)]
    spread = (one.new.standard_uncertainty**2 + one.now.standard_uncertainty**2) ** 0.5
    wear = Estimate(gone[0] - gone[1], spread)
    then = "New gear; look at its mate too."
    part = f"{one.name}, tooth worn by"
    return hold_against(part, wear, one.unit, one.limit, level=level, then=then)


def _notes(one: JudgedBearing) -> list[str]:
    name, unit = one.bearing.name, one.bearing.unit
    said = [f"{name}: {_shape('bore', one.bore, unit)}; {_shape('journal', one.journal, unit)}"]
    unseen = dict.fromkeys((*one.bore.unseen, *one.journal.unseen))
    said += [f"{name}: these readings do not show {line}" for line in unseen]
    if one.bearing.fit is not None:
        said += [f"{name}: {line}" for line in _against_fit(one, one.bearing.fit)]
    if one.play.from_bore > MOST_OF_THE_DOUBT:
        said.append(f"{name}: nearly all of the doubt is the bore's; a better bore gauge would help")
    return said


def _shape(name: str, form: Form, unit: Unit) -> str:
    """``bore oval 0.0006 in, taper not seen``: what is within its own doubt is not seen."""
    said = []
    for what, size in (("oval", form.oval), ("taper", form.taper)):
        if size is not None:
            seen = abs(size.value) > 2 * size.standard_uncertainty
            shown = said_to_its_digit(Estimate(abs(size.value), size.standard_uncertainty), unit)
            said.append(f"{what} {shown}" if seen else f"no {what} seen")
    return f"{name} {', '.join(said)}" if said else f"{name} read at one place"


def _against_fit(one: JudgedBearing, fit: Fit) -> list[str]:
    unit = one.bearing.unit
    low, high = (said_to_its_digit(Estimate(size, 0.3e-6), unit) for size in (fit.least_m, fit.largest_m))
    return [
        f"{fit.hole.code}/{fit.shaft.code} leaves {low} to {high} when new",
        *_beyond("bore", one.bore.mean, fit.hole, unit),
        *_beyond("journal", one.journal.mean, fit.shaft, unit),
    ]


def _beyond(name: str, size: Estimate, limits: Limits, unit: Unit) -> Sequence[str]:
    over, under = size.value - limits.largest_m, limits.least_m - size.value
    far = max(over, under)
    if far <= 0:
        return [f"{name} is still within {limits.code}"]
    said = said_to_its_digit(Estimate(far, size.standard_uncertainty), unit)
    return [f"{name} is {said} {'above' if over > under else 'below'} {limits.code}"]
