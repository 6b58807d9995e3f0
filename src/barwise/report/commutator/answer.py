"""The cut plan laid out for a page: is it worth it, how deep, in which passes, and what comes after."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.inspect.commutator.after import Advice
from barwise.inspect.commutator.next_reading import ExtraReading
from barwise.inspect.commutator.plan import CutPlan
from barwise.report.commutator.text import (
    CARE,
    KINDS,
    SPEEDS,
    afterwards,
    centres_in_words,
    speed_in_words,
    track_in_words,
)
from barwise.report.commutator.words import ShopUnit, why
from barwise.report.probability import probability_in_words

FEED_SOURCE = "common practice, no source"
MARKS_SOURCE = "f²/8r, any machining text, from memory"
_HEADLINES = {"cut": "CUT IT", "leave": "LEAVE IT", "scrap": "SCRAP IT", "undecided": "UNDECIDED"}
_WORTH = {
    "cut": "this commutator is worth it",
    "leave": "this commutator is good as it is",
    "scrap": "this commutator is used up",
    "undecided": "worth it or not: not known yet",
}


@dataclass(frozen=True)
class Figure:
    """One number to be seen from the lathe, with what stands beside it in small."""

    label: str
    value: str
    beside: str = ""


@dataclass(frozen=True)
class SaidPass:
    """One pass of the tool: the diameter to cut to, and what it is expected to leave."""

    number: int
    diameter: str
    infeed: str
    fresh: str
    clean: str
    kind: str


@dataclass(frozen=True)
class CutAnswer:
    """All of a plan in words; `passes`, `lathe` and `afterwards` are empty where no cut is proposed.

    Attributes
    ----------
    figures : tuple of Figure
        Diameter now, clean-up, depth, discard: the numbers the decision rests on.
    found : tuple of str
        What the walk shows of each track.
    following : ExtraReading or None
        The reading that would narrow the answer most; `next_words` says it.
    passes_begin : str
        Where the first pass starts, and how far in altogether.
    """

    headline: str
    worth: str
    why: str
    bars: int
    may_turn: bool
    may_undercut: bool
    all_clean: bool
    figures: tuple[Figure, ...]
    found: tuple[str, ...]
    passes: tuple[SaidPass, ...]
    passes_begin: str
    lathe: tuple[Figure, ...]
    centres: str
    afterwards: tuple[Advice, ...]
    following: ExtraReading | None
    next_words: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def cut_answer_in_words(plan: CutPlan, unit_name: str) -> CutAnswer:
    """A plan laid out, lengths in `unit_name` (in or mm)."""
    unit = ShopUnit(unit_name)
    all_clean = plan.worth.reason == "all-clean"
    turned = plan.sheet.may_turn and (bool(plan.passes) or all_clean)
    return CutAnswer(
        headline="STOP: ALL CLEAN" if all_clean else _HEADLINES[plan.worth.verdict],
        worth="this commutator is done" if all_clean else _WORTH[plan.worth.verdict],
        why=_sentence(why(plan, unit)),
        bars=plan.profile.bars,
        may_turn=plan.sheet.may_turn,
        may_undercut=plan.sheet.may_undercut,
        all_clean=all_clean,
        figures=_figures(plan, unit),
        found=_found(plan, unit),
        passes=_passes(plan, unit),
        passes_begin=_begin(plan, unit) if plan.passes else "",
        lathe=_lathe(plan, unit) if plan.passes else (),
        centres=centres_in_words(plan.centres, unit) if plan.passes else "",
        afterwards=afterwards(plan, unit) if turned else (),
        following=plan.next_reading,
        next_words=_next(plan.next_reading),
        notes=tuple(map(_sentence, plan.notes)),
        cautions=CARE if turned else (),
    )


def _figures(plan: CutPlan, unit: ShopUnit) -> tuple[Figure, ...]:
    worth = plan.worth
    figures = [Figure("Now", unit.size(plan.diameter_m.value_m), f"{worth.now.percent:.0f} % worn")]
    chance = ""
    if plan.sheet.may_turn and worth.reason != "all-clean":
        low, high = sorted(plan.sheet.scale.percent(end) for end in (plan.cleanup.low_m, plan.cleanup.high_m))
        figures.append(
            Figure(
                "Cleans up at" if plan.passes else "Would clean up at",
                unit.size(plan.cleanup.value_m),
                f"95 % sure: {unit.between(plan.cleanup)}; {low:.0f} to {high:.0f} % worn then",
            )
        )
        figures.append(Figure("In on the radius", unit.small(plan.infeed_m), _from_where(plan)))
        chance = f"chance to stay above it: {probability_in_words(worth.above_discard)}"
    figures.append(Figure("Discard", unit.size(plan.sheet.discard_m), chance))
    if worth.lasts is not None:
        lasts = probability_in_words(worth.lasts)
        figures.append(Figure("Lasts another interval", lasts, "chance to be above discard then"))
    return tuple(figures)


def _from_where(plan: CutPlan) -> str:
    return "from first touch" if plan.after_pass is None else "from where it stands"


def _found(plan: CutPlan, unit: ShopUnit) -> tuple[str, ...]:
    said = [f"Track {one.track:g}: {track_in_words(plan, one, unit)}." for one in plan.tracks]
    step = plan.worst_step
    first, second = step.step_bars
    said.append(f"Worst step: {unit.small(step.step_m)}, bars {first} and {second}, track {step.track:g}.")
    said.append(f"Groove {unit.small(plan.groove_m)}, taper {unit.small(plan.taper_m)} over the band.")
    if plan.burned:
        bars = ", ".join(f"{bar} ({probability_in_words(chance)})" for bar, chance in plan.burned)
        said.append(f"Burned or sunk: bar {bars}.")
    if plan.worth.now.extrapolated:
        said.append(f"The wear scale is drawn on: {plan.worth.now.extrapolated}.")
    return tuple(said)


def _passes(plan: CutPlan, unit: ShopUnit) -> tuple[SaidPass, ...]:
    return tuple(
        SaidPass(
            number=number,
            diameter=unit.size(one.diameter_m),
            infeed=unit.small(one.infeed_m),
            fresh=f"{100 * one.cleaned_fraction:.1f} %",
            clean=probability_in_words(one.all_clean),
            kind=KINDS[one.kind],
        )
        for number, one in enumerate(plan.passes, start=1)
    )


def _begin(plan: CutPlan, unit: ShopUnit) -> str:
    start = "It stands at" if plan.after_pass else "The tool first touches at"
    return f"{start} {unit.size(plan.start_m)}; in all {unit.small(plan.infeed_m)} in on the radius."


def _lathe(plan: CutPlan, unit: ShopUnit) -> tuple[Figure, ...]:
    lathe = plan.lathe
    speed = f"{speed_in_words(lathe)} at the tool; {SPEEDS}"
    marks = lathe.peak_to_valley_m * 1e6
    nose = f"{unit.value(lathe.nose_m):.3g} {unit.name}"
    return (
        Figure("Turns a minute", f"{lathe.turns_per_minute:.0f}", speed),
        Figure("Feed a turn", unit.small(lathe.feed_m), FEED_SOURCE),
        Figure("Nose radius", nose, FEED_SOURCE),
        Figure("Marks left, high", f"{marks:.2f} µm", f"{marks / 0.0254:.0f} µin; {MARKS_SOURCE}"),
    )


def _next(reading: ExtraReading | None) -> str:
    if reading is None:
        return ""
    what = "Indicator" if reading.instrument == "indicator" else "Micrometer"
    narrows = f"the interval would shrink by about {100 * reading.narrows:.0f} %"
    return f"{what} at bar {reading.bar}, {reading.track:.2f} of the length from the riser end: {narrows}."


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith('.') else '.'}"
