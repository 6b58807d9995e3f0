"""The cut plan in plain words, decision first, for reading at the lathe."""

from __future__ import annotations

import math
from collections.abc import Iterator

from barwise.inspect.commutator.after import (
    FINAL_RUNOUT_M,
    FINAL_RUNOUT_SOURCE,
    USUAL_UNDERCUT,
    Advice,
    advice,
)
from barwise.inspect.commutator.centres import OnCentres
from barwise.inspect.commutator.lathe import LatheSettings
from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.commutator.profile import TrackShape
from barwise.report.commutator.words import ShopUnit, why
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words

CARE = (
    "Lathe: no long sleeves, gloves, rings or loose hair near it; chuck key out before you start it.",
    "Copper and mica dust: guard eyes and lungs, vacuum it away, and keep it out of the winding.",
)
SPEEDS = "light cuts, TM 55-6115-498-40; high-speed steel on copper takes 100 to 250 ft/min"
KINDS = {"rough": "rough", "finish": "finish", "if-needed": "only if needed"}


def commutator_text(plan: CutPlan, unit_name: str) -> str:
    """The whole answer; no line is wider than `WIDTH`, ends with a line end."""
    unit = ShopUnit(unit_name)
    lines = [f"{plan.worth.verdict.upper()}", *wrapped(_sentence(why(plan, unit)), "  ")]
    lines += section("Diameter and wear", _wear(plan, unit))
    lines += section("What was found", _found(plan, unit))
    lines += section("Passes, turning on the journals", _passes(plan, unit))
    if plan.passes:
        lines += section("Lathe", _lathe(plan, unit))
        lines += section("Afterwards", _afterwards(plan, unit))
    lines += section("Would narrow the answer", _next(plan))
    lines += section("Notes", bullets(plan.notes))
    if plan.passes:
        lines += section("Care", bullets(CARE))
    return "\n".join(lines) + "\n"


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def _wear(plan: CutPlan, unit: ShopUnit) -> Iterator[str]:
    worth, scale = plan.worth, plan.sheet.scale
    low, high = sorted(scale.percent(end) for end in (plan.cleanup.low_m, plan.cleanup.high_m))
    yield f"  now            {unit.size(plan.diameter_m.value_m)}   {worth.now.percent:.1f} % worn"
    stays = ""
    if plan.sheet.may_turn:
        label = "cleans up at" if plan.passes or plan.after_pass else "if cut"
        yield f"  {label:<12}   {unit.size(plan.cleanup.value_m)}   {worth.after.percent:.1f} % worn"
        yield f"    95 % sure    {unit.between(plan.cleanup)}, {low:.1f} to {high:.1f} %"
        stays = f"   chance to stay above it: {probability_in_words(worth.above_discard)}"
    yield f"  discard        {unit.size(plan.sheet.discard_m)}{stays}"
    if worth.now.extrapolated:
        yield from wrapped(f"The wear is extrapolated: {worth.now.extrapolated}.", "  ")
    if worth.lasts is not None:
        yield from wrapped(
            f"Chance that it lasts another interval: {probability_in_words(worth.lasts)}.", "  "
        )


def _found(plan: CutPlan, unit: ShopUnit) -> Iterator[str]:
    for shape in plan.tracks:
        yield from wrapped(f"track {shape.track:g}: {track_in_words(plan, shape, unit)}", "  ")
    step = plan.worst_step
    pair = f"bars {step.step_bars[0]} and {step.step_bars[1]}, track {step.track:g}"
    yield from wrapped(f"worst step from bar to bar {unit.small(step.step_m)}, {pair}", "  ")
    yield f"  groove {unit.small(plan.groove_m)}, taper {unit.small(plan.taper_m)} over the band"
    if plan.burned:
        bars = ", ".join(f"{bar} ({probability_in_words(chance)})" for bar, chance in plan.burned)
        yield from wrapped(f"burned or sunk: bar {bars}", "  ")


def track_in_words(plan: CutPlan, shape: TrackShape, unit: ShopUnit) -> str:
    """Run-out, how far the axis is out, lobes and roundness of one track."""
    bars = plan.profile.bars
    high = round(shape.high_side_rad / (2 * math.pi) * bars) % bars + 1
    out = f"axis out by {unit.small(shape.eccentricity_m)} toward bar {high}"
    lobes = _lobes(shape.lobes_m, unit)
    return f"run-out {unit.small(shape.runout_m)}, {out}, {lobes}{_round(plan, shape.track, unit)}"


def _lobes(lobes_m: tuple[float, ...], unit: ShopUnit) -> str:
    largest = max(range(len(lobes_m)), key=lambda i: lobes_m[i])
    return f"{largest + 2} lobes of {unit.small(lobes_m[largest])}"


def _round(plan: CutPlan, track: float, unit: ShopUnit) -> str:
    zone = [one for one in plan.circles.get(track, ()) if one.kind == "minimum-zone"]
    return f", out of round {unit.small(zone[0].roundness_m)} (minimum zone)" if zone else ""


def _passes(plan: CutPlan, unit: ShopUnit) -> Iterator[str]:
    if not plan.passes:
        return
    in_all = f"in all {unit.small(plan.infeed_m)} in on the radius"
    start = "now at" if plan.after_pass else "first touch at"
    yield f"  {start} {unit.size(plan.start_m)}, {in_all}"
    yield "  pass   cut to        infeed       fresh metal   all clean"
    for number, one in enumerate(plan.passes, start=1):
        clean = probability_in_words(one.all_clean)
        yield (
            f"  {number:>4}   {unit.size(one.diameter_m):<12}  {unit.small(one.infeed_m):<11}  "
            f"{100 * one.cleaned_fraction:>7.1f} %   {clean:>12}   {KINDS[one.kind]}"
        )
    yield from wrapped(
        "After each pass look for old metal and measure; run again with --cut-to and --untouched "
        "to bring the rest up to date. Stop when all of the band is clean.",
        "  ",
    )


def _lathe(plan: CutPlan, unit: ShopUnit) -> Iterator[str]:
    lathe = plan.lathe
    speed = speed_in_words(lathe)
    yield from wrapped(f"{lathe.turns_per_minute:.0f} turns a minute ({speed}; {SPEEDS})", "  ")
    marks = lathe.peak_to_valley_m * 1e6
    high = f"{marks:.2f} µm ({marks / 0.0254:.0f} µin)"
    nose = f"{unit.value(lathe.nose_m):.3g} {unit.name}"
    feed = f"feed {unit.small(lathe.feed_m)} a turn with a nose radius of {nose}"
    yield from wrapped(f"{feed} leaves marks {high} high, f²/8r", "  ")
    yield from wrapped(centres_in_words(plan.centres, unit), "  ")


def speed_in_words(lathe: LatheSettings) -> str:
    """Surface speed as the trade gives it, and metric."""
    metres = lathe.surface_speed_m_per_s * 60
    return f"{metres / 0.3048:.0f} ft/min, {metres:.0f} m/min"


def centres_in_words(centres: OnCentres | None, unit: ShopUnit) -> str:
    """What turning on centres would cost, where it was measured."""
    if centres is None:
        return "Turn on the journals: on centres that are out by e the finished commutator runs out by 2 e."
    clean, worst = unit.size(centres.cleanup_m), unit.size(centres.worst_cleanup_m)
    more = f"{unit.small(centres.extra_m)} more off the diameter, cleans up at {clean} (worst way {worst})"
    left = f"and {unit.small(centres.runout_m)} run-out stays"
    return f"On centres out by {unit.small(centres.offset_m)}: {more}, {left}. Turn on the journals."


def _afterwards(plan: CutPlan, unit: ShopUnit) -> Iterator[str]:
    for one in afterwards(plan, unit):
        yield from wrapped(f"{one.what} ({one.source})", "  ")


def afterwards(plan: CutPlan, unit: ShopUnit) -> tuple[Advice, ...]:
    """What is left to do when the last pass is clean: undercut, edges, final check."""
    said: list[Advice] = []
    if plan.sheet.may_undercut:
        least, most = unit.value(USUAL_UNDERCUT.least_m), unit.value(USUAL_UNDERCUT.most_m)
        depth = f"Undercut {least:.3f} to {most:.3f} {unit.name} deep, unless the sheet says else"
        said.append(Advice(depth, USUAL_UNDERCUT.source))
    said += advice(plan.sheet.may_undercut)
    own = plan.sheet.runout_m
    limit = unit.small(FINAL_RUNOUT_M if own is None else own)
    whence = FINAL_RUNOUT_SOURCE if own is None else "as the sheet has it, or the general limit in its place"
    said.append(Advice(f"Final check: run-out on the journals at most {limit}", whence))
    return tuple(said)


def _next(plan: CutPlan) -> Iterator[str]:
    reading = plan.next_reading
    if reading is None:
        return
    what = "indicator reading" if reading.instrument == "indicator" else "diameter"
    yield from wrapped(
        f"{what} at bar {reading.bar}, track {reading.track:.2f}: "
        f"the interval would shrink by about {100 * reading.narrows:.0f} %",
        "  ",
    )
