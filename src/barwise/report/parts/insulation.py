"""What insulation tests come to in plain words, part by part, decision first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from barwise.inspect.insulation.assessment import InsulationAssessment
from barwise.inspect.insulation.timed import Ratio
from barwise.report.ohms import ohms
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words
from barwise.route.cautions import find_caution

PARTS = {"armature": "Armature to shaft", "fields": "Fields to frame", "brush-holders": "Holders to plate"}
_LONG_S = 600.0
"""A shorter discharge is over before the leads are off."""
_DECIDED = {"accept": "good", "reject": "not good enough", "undecided": "too close to call"}


def insulation_text(found: Sequence[InsulationAssessment]) -> str:
    """The whole answer; no line is wider than `WIDTH`, ends with a line end."""
    lines: list[str] = []
    for one in found:
        lines += [*([""] if lines else []), f"{one.outcome.upper()}: {PARTS[one.test.part]}", *_part(one)]
    said = dict.fromkeys(note for one in found for note in one.notes)
    lines += section("Notes", bullets(said))
    lines += section("Care", bullets([*find_caution("insulation").lines, *_discharge(found)]))
    return "\n".join(lines) + "\n"


def _part(one: InsulationAssessment) -> Iterator[str]:
    for line in (*_tester(one), *_lamp(one), *(_ratio(ratio) for ratio in one.ratios)):
        yield from wrapped(line, "  ")
    yield from wrapped(f"least at 40 °C: {ohms(one.minimum.ohm, 4)} ({one.minimum.source})", "  ")
    if one.settle:
        yield from wrapped(f"next: {one.settle}", "  ")


def _tester(one: InsulationAssessment) -> Iterator[str]:
    if one.ohm_40 is None or one.ohm_40_low is None or one.ohm_40_high is None or one.decision is None:
        return
    if one.beyond_range:
        yield f"more than {ohms(one.ohm_40)} at 40 °C: the meter is beyond its range"
        return
    if one.reads_nothing:
        digit = max(reading.digit_ohm for reading in one.test.readings)
        yield f"the meter reads nothing: less than its last digit, {ohms(digit)}"
        return
    sure = probability_in_words(one.decision.conforming)
    yield (
        f"{ohms(one.ohm_40)} at 40 °C ({ohms(one.ohm_40_low, 2)} to {ohms(one.ohm_40_high, 2)}), "
        f"{_DECIDED[one.decision.outcome]}; chance that it is enough: {sure}"
    )


def _lamp(one: InsulationAssessment) -> Iterator[str]:
    state, below = one.test.lamp_state, one.lights_below
    if state is None:
        return
    if below is None:
        yield f"the lamp was {state}; enter its volts and watts to hear what that speaks for"
        return
    if state == "dark":
        yield (
            f"the lamp stayed dark: more than {ohms(below.plain_ohm, 2)}, no more is known. It needs "
            f"{1000 * below.plain_a:.0f} mA to be seen"
        )
        return
    said = "lit" if state == "lit" else "glowed"
    yield f"the lamp {said}: less than {ohms(below.faintest_ohm, 2)}, a ground"


def _ratio(ratio: Ratio) -> str:
    reach = 1.96 * ratio.value.standard_uncertainty
    said = f"{ratio.name} {ratio.value.value:.2f} ± {reach:.1g}: {ratio.course}"
    least = None if ratio.decision is None else ratio.decision.limit.lower
    if ratio.decision is None or least is None:
        return said
    return f"{said}; {ratio.decision.outcome} against {least:g} or more (IEEE 43, from memory; guidance here)"


def _discharge(found: Sequence[InsulationAssessment]) -> Iterator[str]:
    longest = max((one.discharge_s for one in found), default=0.0)
    if longest >= _LONG_S:
        minutes = longest / 60
        yield (
            f"Leave winding and frame joined for {minutes:.0f} minutes afterwards, four times as long as the "
            "voltage was on (common practice, no source)."
        )
