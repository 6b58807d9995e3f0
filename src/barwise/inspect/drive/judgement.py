"""Everything measured on one drive, judged."""

from __future__ import annotations

from collections.abc import Iterator

from barwise.errors import MeasurementError
from barwise.inspect.drive.clutch import judge_slip, needed_torque
from barwise.inspect.drive.measured import Drive, DriveAnswer, Feels, PinionTeeth
from barwise.inspect.drive.pinion import (
    CUT_THINNER_M,
    ToothWear,
    arc_of_chord,
    miscounted,
    new_span,
    new_thickness,
    span_wear,
    thickness_wear,
    tooth_of_span,
)
from barwise.inspect.finding import SHEET, Bound, Finding, Verdict, hold_against, said_to_its_digit, worst_of
from barwise.measure.decision import USUAL_LEVEL, Limit
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS

UNEVEN = 0.3
"""Share of the wear by which places round the pinion may differ unremarked: common practice, no source."""


def judge_drive(drive: Drive, level: float = USUAL_LEVEL) -> DriveAnswer:
    """Judge teeth, clutch, spline, springs, travel and lever, as far as each was measured."""
    wear = _wear(drive.teeth, level)
    findings = (
        *_of_teeth(drive.teeth, wear, level),
        *_by_hand(drive),
        *_of_clutch(drive, level),
        *(
            hold_against(one.part, one.value.estimate, one.value.unit, one.bound, level=level, then=one.then)
            for one in drive.sizes
        ),
    )
    return DriveAnswer(
        worst_of(findings), findings, wear, _tooth(drive.teeth, wear), tuple(_notes(drive, wear))
    )


def _readings(teeth: PinionTeeth) -> tuple[Quantity, ...]:
    return teeth.spans or teeth.thicknesses


def _new(teeth: PinionTeeth) -> Estimate | None:
    """Of the sheet, or by the numbers of the gear where its profile shift is known."""
    if teeth.new is not None:
        new = teeth.new.estimate
        return new if teeth.spans else arc_of_chord(teeth.gear, new)
    if teeth.gear is None or not teeth.shift_known:
        return None
    if teeth.spans:
        return None if teeth.spanned is None else new_span(teeth.gear, teeth.spanned)
    return new_thickness(teeth.gear)


def _wear(teeth: PinionTeeth, level: float) -> ToothWear | None:
    if not _readings(teeth):
        return None
    _check_minimum(teeth)
    if teeth.spans:
        spans = [one.estimate for one in teeth.spans]
        minimum = None if teeth.minimum is None else teeth.minimum.value
        return span_wear(spans, teeth.gear, _new(teeth), minimum, level)
    arcs = [arc_of_chord(teeth.gear, one.estimate) for one in teeth.thicknesses]
    least = None if teeth.minimum is None else arc_of_chord(teeth.gear, teeth.minimum.estimate).value
    return thickness_wear(arcs, _new(teeth), least, level)


def _check_minimum(teeth: PinionTeeth) -> None:
    new = _new(teeth)
    if new is None or teeth.minimum is None:
        return
    least = teeth.minimum.value
    least = least if teeth.spans else arc_of_chord(teeth.gear, teeth.minimum.estimate).value
    if not least < new.value:
        whence = "by its teeth, module and shift" if teeth.new is None else "by the sheet"
        size = said_to_its_digit(new, teeth.minimum.unit)
        raise MeasurementError(
            f"pinion, minimum: found {teeth.minimum.entered} for one that measures {size} when new {whence}, "
            "expected it to be smaller: is the shift right, and the number of teeth spanned?"
        )


def _tooth(teeth: PinionTeeth, wear: ToothWear | None) -> Estimate | None:
    if wear is None or not teeth.spans or teeth.gear is None or teeth.spanned is None:
        return None
    return tooth_of_span(teeth.gear, teeth.spanned, wear.size)


def _of_teeth(teeth: PinionTeeth, wear: ToothWear | None, level: float) -> Iterator[Finding]:
    """The worst place against the minimum; not judged where the teeth seem to be miscounted."""
    if wear is None:
        return
    read = _readings(teeth)[wear.place - 1]
    span = bool(teeth.spans)
    part = f"pinion, span over {teeth.spanned} teeth" if span and teeth.spanned else "pinion, tooth thickness"
    if span and teeth.gear is not None and teeth.spanned is not None and teeth.shift_known:
        looks = miscounted(teeth.gear, teeth.spanned, read.value)
        if looks is not None:
            line = f"Pinion: {read.entered} is no span over {teeth.spanned} teeth; it looks like {looks}."
            settle = "Count the teeth between the jaws again."
            yield Finding(part, "undecided", line, settle, read.value, None, "length", read.unit.name)
            return
    bound = None
    if teeth.minimum is not None:
        bound = Bound(Limit(lower=teeth.minimum.value), teeth.minimum.unit.name, SHEET)
    said = [f"worst of {len(_readings(teeth))}"] if len(_readings(teeth)) > 1 else []
    if wear.lost is not None:
        said.append(f"{said_to_its_digit(wear.lost, read.unit, finer=True)} of flank lost")
    if wear.wear is not None:
        worn = wear.wear
        said.append(f"{worn.percent:.0f} % worn, {worn.low:.0f} to {worn.high:.0f} %")
    then = "New pinion or drive, and look at the ring gear."
    found = read.estimate
    yield hold_against(part, found, read.unit, bound, level=level, then=then, said="; ".join(said))


def _by_hand(drive: Drive) -> Iterator[Finding]:
    felt: dict[Feels, tuple[Verdict, str]] = {
        "locks and runs free": ("accept", ""),
        "slips": ("reject", "New clutch."),
        "rough": ("reject", "New clutch: it will burn out or seize."),
    }
    if drive.feels is not None:
        outcome, settle = felt[drive.feels]
        yield Finding("clutch, by hand", outcome, f"Clutch, by hand: {drive.feels}.", settle)
    if drive.slides is not None:
        words = "slides and comes back of itself" if drive.slides else "does not slide and come back freely"
        settle = "" if drive.slides else "Clean spline and shaft, look for burrs and a bent shaft."
        outcome = "accept" if drive.slides else "reject"
        yield Finding("spline", outcome, f"Drive on its spline: {words}.", settle)


def _of_clutch(drive: Drive, level: float) -> Iterator[Finding]:
    if drive.slip is not None:
        bound = drive.slip_bound
        if bound is None and drive.locked is not None:
            bound = needed_torque(drive.locked, drive.reduction)
        unit = drive.slip_unit or UNITS["Nm"]
        if drive.slip_bound is not None:
            unit = UNITS[drive.slip_bound.unit]
        yield judge_slip(drive.slip, bound, unit, level)
    if drive.drag is not None:
        then = "New clutch: it drags, heats and spins the armature when the engine fires."
        unit = drive.drag_unit or UNITS["Nm"]
        yield hold_against("clutch, the free way", drive.drag, unit, drive.drag_bound, level=level, then=then)


def _notes(drive: Drive, wear: ToothWear | None) -> Iterator[str]:
    teeth = drive.teeth
    if wear is not None and wear.new is None:
        yield (
            "Without the size when new, or the gear's numbers with its profile shift, wear cannot be told in "
            "percent: starter pinions are commonly cut with a shift."
        )
    elif wear is not None and teeth.new is None:
        yield (
            f"The size when new is worked out from the gear's numbers; pinions are cut up to "
            f"{1000 * CUT_THINNER_M:g} mm thinner for backlash, which is counted as doubt."
        )
    yield from _odd(wear)
    if drive.slip is not None and drive.slip_bound is None and drive.locked is None:
        yield "Without a limit or the locked torque nothing says what the clutch must carry."
    if wear is not None:
        yield "A worn pinion and its ring gear wore each other: tell the customer to look at the ring gear."


def _odd(wear: ToothWear | None) -> Iterator[str]:
    """Wear that is not alike all round, or less than none."""
    if wear is None or wear.lost is None:
        return
    uneven = max(UNEVEN * wear.lost.value, 4 * wear.size.standard_uncertainty)
    if wear.lost.value > 0 and wear.spread_m > uneven:
        yield "The teeth are not worn alike round the pinion: look for the ones that took the blow."
    if wear.lost.value < -2 * wear.lost.standard_uncertainty:
        yield "It measures more than new: is it another pinion, or another number of teeth?"
