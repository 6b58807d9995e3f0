"""The shaft's answer in words and as JSON."""

from __future__ import annotations

import json
import math

from barwise.inspect.checks.plain import plain
from barwise.inspect.finding import said_to_its_digit
from barwise.inspect.shaft.bow import Bow
from barwise.inspect.shaft.judgement import ShaftAnswer, shape_in_words
from barwise.inspect.shaft.lobes import Lobed, angles_that_show
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Unit
from barwise.report.lengths import length_text
from barwise.report.parts.findings import findings_text, sections, verdict_line
from barwise.report.probability import probability_in_words

ALONG_DIGIT_M = 2.54e-4
"""Places along a shaft are said to a hundredth of an inch or a tenth of a millimetre."""


def shaft_text(answer: ShaftAnswer) -> str:
    """Verdict, run-out at each place, where it is bent, what centres and lobes do, for a terminal."""
    lines = [
        *verdict_line(answer.verdict, "" if answer.bow is None else bend_in_words(answer)),
        *findings_text(answer.findings),
        *sections(
            ("Shape", [] if answer.bow is None else _shapes(answer.bow)),
            ("Centres", _centres(answer)),
            ("Out of round", [line for name, some in answer.lobes for line in _lobes(name, some, answer)]),
            ("Notes", answer.notes),
        ),
    ]
    return "\n".join(lines) + "\n"


def shaft_json(answer: ShaftAnswer) -> str:
    """The same as one JSON object, in SI and degrees, nothing rounded."""
    bow = answer.bow
    whole = {
        "verdict": answer.verdict,
        "findings": plain(answer.findings),
        "places": [
            {
                "name": one.reading.name,
                "at_m": one.reading.at_m,
                "runout_m": one.runout.value,
                "runout_standard_uncertainty_m": one.runout.standard_uncertainty,
                "off_centre_m": None if one.offset is None else [float(part) for part in one.offset.offset_m],
                "lobes": [] if one.turn is None else plain(one.turn.lobes),
            }
            for one in answer.places
        ],
        "shape": None if bow is None else dict(bow.shapes),
        "bend": None if bow is None or bow.shape == "straight" else _bend(bow),
        "centres_off_m": None if answer.centres_m is None else list(answer.centres_m),
        "lobes": {name: plain(some[:3]) for name, some in answer.lobes},
        "notes": list(answer.notes),
    }
    return json.dumps(whole, allow_nan=False)


def bend_in_words(answer: ShaftAnswer) -> str:
    """One sentence: shape, place, size and direction."""
    bow, unit = answer.bow, answer.work.unit
    if bow is None:
        return ""
    if bow.place is None:
        return "These places do not tell where a bend would be."
    said = f"The shaft looks {shape_in_words(bow)}"
    if bow.shape == "straight":
        return f"{said}."
    place = ""
    if bow.shape == "kinked":
        low, best, high = (_along(one, unit) for one in (bow.place.low, bow.place.best, bow.place.high))
        place = f" at {best} ({low} to {high})"
    off = said_to_its_digit(bow.offset, unit)
    return f"{said}{place}, off by {off} at its worst, high side at {bow.high_deg:.0f} degrees from the mark."


def _bend(bow: Bow) -> dict[str, object]:
    return {
        "place_m": None if bow.place is None else plain(bow.place),
        "off_m": plain(bow.offset),
        "high_deg": bow.high_deg,
        "angle_rad": plain(bow.angle_rad),
        "alone": list(bow.alone),
    }


def _shapes(bow: Bow) -> list[str]:
    names = {"straight": "straight", "kinked": "bent in one place", "bowed": "bowed evenly"}
    said = [f"{names[shape]}: {probability_in_words(chance)}" for shape, chance in bow.shapes]
    if bow.shape == "kinked" and bow.place is not None:
        said.append(f"angle of the bend: {math.degrees(bow.angle_rad.value):.3f} degrees")
    said += [
        f"{name} does not fit the rest: read it again, else it is not true to its journals by itself"
        for name in bow.alone
    ]
    return said


def _centres(answer: ShaftAnswer) -> list[str]:
    if answer.centres_m is None:
        return []
    unit = answer.work.unit
    first, second = (said_to_its_digit(Estimate(2 * one, 1e-6), unit) for one in answer.centres_m)
    return [
        f"between these centres the journals swing by {first} and {second}: a commutator turned on them runs "
        "out on its journals by what lies between"
    ]


def _lobes(name: str, some: tuple[Lobed, ...], answer: ShaftAnswer) -> list[str]:
    best, size = some[0], said_to_its_digit(some[0].out_of_round, answer.work.unit)
    chance = probability_in_words(best.probability)
    said = [f"{name}: {best.lobes} lobes most likely, {chance}, out of round {size}"]
    if best.probability < 0.9:
        others = ", ".join(f"{one.lobes} ({probability_in_words(one.probability)})" for one in some[1:3])
        show = ", ".join(f"{angle:g}" for angle in angles_that_show(some[1].lobes)[:2])
        said.append(f"{name}: could also be {others}; a V-block of {show} degrees tells")
    return said


def _along(metres: float, unit: Unit) -> str:
    named = "in" if unit.name in ("in", "thou") else "mm"
    return length_text(metres, named, ALONG_DIGIT_M if named == "in" else 1e-4)
