"""What a frame's field coils come to in plain words, decision first."""

from __future__ import annotations

from collections.abc import Iterator

from barwise.inspect.fields.assessment import FieldAssessment, Finding, FrameAnswer
from barwise.inspect.fields.comparison import CoilShift
from barwise.inspect.fields.detectable import Detectable
from barwise.inspect.fields.ground import Located
from barwise.inspect.fields.shunt import ShuntAssessment
from barwise.report.ohms import ohms
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words
from barwise.route.cautions import find_caution

MAGNETS = (
    "There are no coils to read. Look at each magnet for cracks, lifted edges and loose glue.",
    "Hold a steel strip to each in turn: they pull alike, and neighbours turn a compass opposite ways.",
    "Weak magnets show on the run test: no-load speed above the sheet's, locked torque below it.",
)
FAULTS = {
    "open": "open",
    "short": "shorted turns",
    "high": "reads high: a bad joint, a broken strand, or the wrong coil",
}
_SHEET = {
    "accept": "within the sheet",
    "reject": "beyond the sheet",
    "undecided": "too close to the sheet's limit",
}
_LIKELY = 0.5
"""A short less probable than this has no size worth saying."""
_WHY = {
    "within": "within the sheet's limits",
    "low": "below the sheet: shorted turns, or another coil than the sheet's",
    "high": "above the sheet: a bad joint, or another coil than the sheet's",
    "open": "open",
    "not compared": "no limit to hold it against",
}


def fields_text(answer: FrameAnswer) -> str:
    """The whole answer; no line is wider than `WIDTH`, ends with a line end."""
    if answer.kind == "permanent-magnet":
        return "\n".join(["PERMANENT MAGNETS", *bullets(MAGNETS)]) + "\n"
    found, shunt, ground = answer.coils, answer.shunt, answer.ground
    lines = [answer.verdict.upper(), *_headlines(answer)]
    if found is not None:
        lines += section("Coil by coil", _coils(found))
        lines += section("What these readings would have shown, in 95 of 100 such coils", _shown(found))
        lines += section("Joints", _joints(found))
    if shunt is not None:
        lines += section("Shunt coil", _shunt(shunt))
    if ground is not None:
        lines += section("Where the ground is", _ground(ground))
    lines += section("Next", _next(found, shunt))
    lines += section("Notes", bullets([*answer.notes, *(found.notes if found is not None else ())]))
    lines += section("Care", bullets(find_caution("feed").lines))
    return "\n".join(lines) + "\n"


def _headlines(answer: FrameAnswer) -> Iterator[str]:
    if answer.grounded:
        yield from wrapped(f"The fields touch the frame{_where(answer.ground)}.", "  ")
    if answer.coils is not None:
        yield from wrapped(headline(answer.coils), "  ")
    if answer.shunt is not None:
        yield from wrapped(f"Shunt coil: {_WHY[answer.shunt.why]}.", "  ")


def _where(ground: Located | None) -> str:
    if ground is None or not ground.places:
        return ""
    likeliest = ground.places[0]
    return f", most likely at {likeliest.name} ({probability_in_words(likeliest.probability)})"


def headline(found: FieldAssessment) -> str:
    """One sentence: what is the matter, or how sure it is that nothing is."""
    sure = probability_in_words(found.sound)
    if found.verdict == "sound":
        return f"No coil is open, shorted or badly joined, {sure} sure."
    named = "; ".join(_named(one, found) for one in found.findings)
    if not named and found.verdict == "faulty":
        return "A coil is beyond the sheet's limits."
    if found.verdict == "faulty":
        return f"{named}."
    return f"Chance that all are sound: {sure}." + (f" Otherwise most likely: {named}." if named else "")


def _named(one: Finding, found: FieldAssessment) -> str:
    said = f"coil {one.coil.name} {FAULTS[one.fault]} ({probability_in_words(one.probability)})"
    if one.fault != "short" or one.probability < _LIKELY:
        return said
    shift = next(shift for shift in found.comparison.coils if shift.coil == one.coil)
    return f"{said}, {_lost(shift)}"


def _lost(shift: CoilShift) -> str:
    turns = shift.coil.turns
    if turns is None:
        low, high = 100 * shift.lost_low, 100 * shift.lost_high
        return f"about {100 * shift.lost:.0f} % of its winding ({low:.0f} to {high:.0f} %)"
    low, most, high = (round(share * turns, 1) for share in (shift.lost_low, shift.lost, shift.lost_high))
    reach = "" if low == high else f" ({low:g} to {high:g})"
    return f"about {most:g} of {turns} turns{reach}"


def _coils(found: FieldAssessment) -> Iterator[str]:
    by_coil = {one.coil: one for one in found.resistances}
    for shift in found.comparison.coils:
        said = [f"coil {shift.coil.name}"]
        if shift.ratio is None or shift.ratio_low is None or shift.ratio_high is None:
            said.append("nothing to compare it with")
        else:
            said.append(
                f"{100 * shift.ratio:.1f} % of the others ({100 * shift.ratio_low:.1f} to "
                f"{100 * shift.ratio_high:.1f} %)"
            )
        own = by_coil.get(shift.coil)
        if own is not None:
            spread = ohms(1.96 * own.ohm.standard_uncertainty, 2)
            said.append(f"{ohms(own.ohm.value, 4)} ± {spread} at {found.circuit.sheet_c:g} °C")
            if own.decision is not None:
                said.append(_SHEET[own.decision.outcome])
        yield from wrapped(", ".join(said), "  ")


def _shown(found: FieldAssessment) -> Iterator[str]:
    for words in dict.fromkeys(_detectable(one) for one in found.detectable):
        names = ", ".join(one.coil.name for one in found.detectable if _detectable(one) == words)
        yield from wrapped(f"coil {names}: {words}", "  ")


def _detectable(one: Detectable) -> str:
    if one.share is None:
        return "no short would have shown"
    share = f"{100 * one.share:.1f} % of the winding"
    if one.turns is not None and one.coil.turns is not None:
        word = "turn" if one.turns == 1 else "turns"
        return f"{one.turns} shorted {word} of {one.coil.turns}, or more (the limit is {share})"
    return f"a short of {share}, or more"


def _joints(found: FieldAssessment) -> Iterator[str]:
    for one in found.missing:
        drop, spread = 1000 * one.drop.value, 1960 * one.drop.standard_uncertainty
        yield from wrapped(
            f"The coils of path {one.path} add up to {drop:.2g} ± {spread:.1g} mV less than the other "
            "path's, though both see the same voltage: the rest drops in a joint or lead of that path. Read "
            "across each.",
            "  ",
        )


def _shunt(shunt: ShuntAssessment) -> Iterator[str]:
    ohm = shunt.ohm
    reads = (
        "reads open" if ohm is None else f"{ohms(ohm.value, 4)} ± {ohms(1.96 * ohm.standard_uncertainty, 2)}"
    )
    yield from wrapped(f"{shunt.outcome}: {reads}, {_WHY[shunt.why]}", "  ")
    if shunt.hidden_share is not None:
        turns = "" if shunt.hidden_turns is None else f", {shunt.hidden_turns} turns, "
        yield from wrapped(
            f"The sheet's range is wide enough to hide shorted turns, {100 * shunt.hidden_share:.1f} % of "
            f"the winding{turns or ' '}in a coil from its top.",
            "  ",
        )


def _ground(ground: Located) -> Iterator[str]:
    if ground.verdict == "at odds":
        yield from wrapped(f"These drops do not go together: {ground.why}.", "  ")
        return
    reach = 196 * ground.uncertainty
    if ground.verdict == "no ground":
        yield from wrapped("The drops to the frame are next to nothing: no ground shows.", "  ")
        return
    yield from wrapped(
        f"{ground.verdict}: {100 * ground.fraction:.1f} ± {reach:.1f} % of the copper lies before it", "  "
    )
    for place in ground.places:
        if place.probability >= 0.01:
            turn = "" if place.turn is None else f", near turn {place.turn:.1f} of {place.turns}"
            yield from wrapped(f"{place.name}: {probability_in_words(place.probability)}{turn}", "  ")
    if ground.through is not None and ground.through < 0.9:
        yield from wrapped(
            f"The drops to the frame add up to {100 * ground.through:.0f} % of the drop end to end: the "
            "ground is not dead, or the meter loads it. The place stays the same.",
            "  ",
        )


def _next(found: FieldAssessment | None, shunt: ShuntAssessment | None) -> Iterator[str]:
    if found is not None and found.next_reading:
        yield from wrapped(found.next_reading, "  ")
    if shunt is not None and shunt.settle:
        yield from wrapped(f"Shunt: {shunt.settle}", "  ")
