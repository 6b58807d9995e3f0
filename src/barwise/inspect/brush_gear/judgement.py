"""Everything measured on the brush gear of one unit, judged."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from barwise.inspect.brush_gear.gear import Brush, BrushGear, BrushGearAnswer, BrushPressure, Moves
from barwise.inspect.brush_gear.holder import CLEARANCE_SOURCE, GAP, GAP_SOURCE, holder_clearance
from barwise.inspect.brush_gear.life import UNKNOWN_USE, WornBrushes, chance_to_last, remaining_life
from barwise.inspect.brush_gear.spring import (
    PUBLISHED,
    PUBLISHED_SOURCE,
    SpringArm,
    contact_pressure,
    force_along_brush,
)
from barwise.inspect.brush_gear.words import HALF_SOURCE, notes
from barwise.inspect.finding import (
    SHEET,
    Bound,
    Finding,
    Verdict,
    hold_against,
    mean_of_repeats,
    said_to_its_digit,
    worst_of,
)
from barwise.measure.decision import USUAL_LEVEL, Limit
from barwise.measure.distribution import coverage_factor
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS
from barwise.measure.wear import DISCARD, NEW, Wear, WearPoint, WearScale

HALF = 0.5
SEATED = Limit(lower=0.95)
SEATED_SOURCE = "about 95 % after bedding with 120 grit, EASA guidance on brush seating"


def judge_brush_gear(gear: BrushGear, level: float = USUAL_LEVEL) -> BrushGearAnswer:
    """Judge every brush, spring and holder, and say how long the set lasts."""
    worn = _worn_brushes(gear)
    pressures = tuple(_pressures(gear))
    findings = tuple(one for brush in gear.brushes for one in _of_brush(gear, brush, pressures, level))
    sides = tuple(_sides(gear, level))
    return BrushGearAnswer(
        verdict=worst_of((*findings, *sides)),
        findings=(*findings, *sides),
        wear=tuple(_wear(gear, level)),
        life=None if worn is None else remaining_life(worn, level),
        lasts=None if worn is None or gear.to_come is None else chance_to_last(worn, gear.to_come),
        pressures=pressures,
        notes=tuple(notes(gear, worn)),
    )


def _minimum(gear: BrushGear) -> Bound | None:
    """What a brush must still measure."""
    if gear.minimum is not None:
        return Bound(Limit(lower=gear.minimum.value), gear.minimum.unit.name, SHEET)
    if gear.new is None:
        return None
    return Bound(Limit(lower=HALF * gear.new.value), gear.new.unit.name, HALF_SOURCE)


def _worn_brushes(gear: BrushGear) -> WornBrushes | None:
    """The lengths measured, for the life that is left; None where they do not tell."""
    bound = _minimum(gear)
    lengths = tuple(mean_of_repeats(one.lengths, one.name) for one in gear.brushes if one.lengths)
    if not lengths or gear.new is None or bound is None or bound.limit.lower is None:
        return None
    return WornBrushes(
        lengths, gear.new.estimate, bound.limit.lower, gear.use or UNKNOWN_USE, gear.rate_spread
    )


def _wear(gear: BrushGear, level: float) -> Iterator[tuple[str, Wear]]:
    bound = _minimum(gear)
    if gear.new is None or bound is None or bound.limit.lower is None:
        return
    scale = WearScale((WearPoint(NEW, gear.new.value), WearPoint(DISCARD, bound.limit.lower)))
    for brush in gear.brushes:
        if brush.lengths:
            found = mean_of_repeats(brush.lengths, brush.name)
            yield brush.name, _with_new_in_doubt(scale.wear(found.value, 0.0, level), found, gear.new, bound)


def _with_new_in_doubt(worn: Wear, found: Estimate, new: Quantity, minimum: Bound) -> Wear:
    """Percent worn, with what is not known of the length now and of the length when new.

    Notes
    -----
    w = 100 (new - L) / (new - minimum), so dw/dL = -100 / (new - minimum) and
    dw/dnew = 100 (L - minimum) / (new - minimum)².
    """
    room = new.value - (minimum.limit.lower or 0.0)
    left = room * (1 - worn.percent / 100)
    spread = 100 / room * math.hypot(found.standard_uncertainty, new.standard_uncertainty * left / room)
    reach = coverage_factor(worn.level) * spread
    return replace(worn, standard_uncertainty=spread, low=worn.percent - reach, high=worn.percent + reach)


def _of_brush(
    gear: BrushGear, brush: Brush, pressures: tuple[BrushPressure, ...], level: float
) -> Iterator[Finding]:
    measured = (brush.lengths, brush.pulls, brush.moves, brush.seated, brush.gap)
    if not any(measured):
        yield Finding(f"brush {brush.name}", "undecided", f"Brush {brush.name}: not measured.", "Measure it.")
        return
    if brush.lengths:
        yield _length(gear, brush, level)
    if brush.pulls:
        yield _spring(gear, brush, level)
    for found in pressures:
        if found.brush == brush.name:
            yield _pressure(gear, found, level)
    if brush.moves is not None:
        yield _freedom(brush.name, brush.moves)
    if brush.seated is not None:
        bound = gear.seated or Bound(SEATED, "%", SEATED_SOURCE)
        part, share = f"brush {brush.name}, seated", brush.seated
        then = "Bed it again, and see whether the holder stands straight."
        yield hold_against(part, share.estimate, share.unit, bound, level=level, then=then)
    if brush.gap is not None:
        bound = gear.gap or Bound(GAP, "mm", GAP_SOURCE)
        part, then = f"brush {brush.name}, holder to commutator", "Set the holder, or the plate."
        yield hold_against(part, brush.gap.estimate, brush.gap.unit, bound, level=level, then=then)


def _length(gear: BrushGear, brush: Brush, level: float) -> Finding:
    part, found = f"brush {brush.name}, length", mean_of_repeats(brush.lengths, brush.name)
    unit = brush.lengths[0].unit
    if gear.new is not None and found.value - gear.new.value > 0:
        spread = (found.standard_uncertainty**2 + gear.new.standard_uncertainty**2) ** 0.5
        if found.value - gear.new.value > 3 * spread:
            size, new = said_to_its_digit(found, unit), said_to_its_digit(gear.new.estimate, unit)
            line = f"Brush {brush.name}, length: {size}, longer than when new, {new}."
            settle = "Read it again: another brush, or a misread rule?"
            return Finding(
                part, "undecided", line, settle, found.value, found.standard_uncertainty, "length", unit.name
            )
    return hold_against(part, found, unit, _minimum(gear), level=level, then="New brushes, all of the set.")


def _spring(gear: BrushGear, brush: Brush, level: float) -> Finding:
    """The pull against the sheet, both taken at the same place or brought to it by the arms."""
    part, unit = f"brush {brush.name}, spring", brush.pulls[0].unit
    pull = mean_of_repeats(brush.pulls, brush.name)
    then = "New spring: a blued or soft one lets the brush float and burn."
    if gear.force is None or gear.read_at == gear.sheet_at:
        return hold_against(part, pull, unit, gear.force, level=level, then=then)
    along = force_along_brush(pull, gear.read_at, gear.arm)
    if along is None or gear.arm is None:
        line = (
            f"Brush {brush.name}, spring: {said_to_its_digit(pull, unit)} at the {gear.read_at}; the sheet's "
            f"figure is for the {gear.sheet_at}, and the spring's arms are not known."
        )
        settle = f"Pull at the {gear.sheet_at}, or measure both arms of the spring from its pivot."
        return Finding(
            part, "undecided", line, settle, pull.value, pull.standard_uncertainty, "force", unit.name
        )
    if gear.sheet_at == "lever":
        flipped = SpringArm(scale=gear.arm.brush, brush=gear.arm.scale)
        along = force_along_brush(pull, "lever", flipped) or pull
    said = f"{said_to_its_digit(pull, unit)} at the {gear.read_at}"
    return hold_against(part, along, unit, gear.force, level=level, then=then, said=said)


def _pressures(gear: BrushGear) -> Iterator[BrushPressure]:
    if gear.width is None or gear.thickness is None:
        return
    width, thickness = gear.width.estimate, gear.thickness.estimate
    for brush in gear.brushes:
        if not brush.pulls:
            continue
        force = force_along_brush(mean_of_repeats(brush.pulls, brush.name), gear.read_at, gear.arm)
        if force is None:
            continue
        section, _ = contact_pressure(force, width, thickness)
        touching = None
        if brush.seated is not None and brush.seated.value > 0:
            touching, _ = contact_pressure(force, width, thickness, brush.seated.estimate)
        yield BrushPressure(brush.name, section, touching)


def _pressure(gear: BrushGear, found: BrushPressure, level: float) -> Finding:
    """Against the published range, which decides only where the sheet gives no force.

    A starter's brushes of copper and graphite are commonly pressed harder than the range, which was
    written for machines that run all day; so too much of it alone condemns nothing.
    """
    bound = Bound(PUBLISHED.limit, "psi", PUBLISHED_SOURCE)
    part, kpa = f"brush {found.brush}, pressure", UNITS["kPa"]
    said = said_to_its_digit(found.section, UNITS["psi"])
    held = hold_against(part, found.section, kpa, bound, level=level, said=said)
    value = f"Brush {found.brush}, pressure: {said_to_its_digit(found.section, UNITS['kPa'])} ({said})"
    where, outcome, settle = "within", held.outcome, held.settle
    if held.outcome == "reject":
        above = found.section.value > (PUBLISHED.limit.upper or 0.0)
        where, outcome = ("above", "undecided") if above else ("below", "reject")
        settle = (
            "Look up what force the sheet wants." if above else "New spring, or the brush is too big for it."
        )
    elif held.outcome == "undecided":
        where = "near the edge of"
    if gear.force is not None:
        outcome, settle = "noted", ""
    source = f"the published range for machines that run all day, {bound.words()} ({PUBLISHED_SOURCE})"
    usual = "; starters are commonly pressed harder" if where == "above" else ""
    return Finding(
        part, outcome, f"{value}, {where} {source}{usual}.", settle, found.section.value,
        found.section.standard_uncertainty, "pressure", "kPa", held.probability, bound,
    )  # fmt: skip


def _freedom(name: str, moves: Moves) -> Finding:
    said: dict[Moves, tuple[Verdict, str, str]] = {
        "free": ("accept", "slides of itself and does not rock", ""),
        "sticks": ("reject", "sticks", "Clean the holder and dress the brush; a bent holder goes."),
        "rocks": ("reject", "rocks", "Worn holder or wrong brush: replace which is off."),
    }
    outcome, words, settle = said[moves]
    return Finding(f"brush {name}, in its holder", outcome, f"Brush {name} in its holder: {words}.", settle)


def _sides(gear: BrushGear, level: float) -> Iterator[Finding]:
    """Clearance of the holder along both sides of the brush."""
    for side, brush, holder in (
        ("width", gear.width, gear.holder_width),
        ("thickness", gear.thickness, gear.holder_thickness),
    ):
        if brush is None or holder is None:
            continue
        spread = (brush.standard_uncertainty**2 + holder.standard_uncertainty**2) ** 0.5
        clearance, limit = Estimate(holder.value - brush.value, spread), holder_clearance(brush.value)
        bound = None if limit is None else Bound(limit, "mm", CLEARANCE_SOURCE)
        part = f"holder, clearance along the brush's {side}"
        then = "Too tight sticks, too loose rocks and wears askew: another brush or holder."
        yield hold_against(part, clearance, holder.unit, bound, level=level, then=then)
