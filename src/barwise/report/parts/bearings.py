"""The bearings' answer in words and as JSON."""

from __future__ import annotations

import json

from barwise.inspect.bearings.judgement import BearingsAnswer, JudgedBearing
from barwise.inspect.bearings.press_fit import PressFit
from barwise.inspect.bearings.rub import Rub
from barwise.inspect.checks.plain import plain
from barwise.measure.units import Unit
from barwise.report.lengths import length_text, spread_text
from barwise.report.parts.findings import findings_text, sections, verdict_line
from barwise.report.probability import probability_in_words
from barwise.route.cautions import find_caution


def bearings_text(answer: BearingsAnswer) -> str:
    """Verdict, findings, what the new bush will be, the air gap, and notes, for a terminal."""
    lines = [
        *verdict_line(answer.verdict),
        *findings_text(answer.findings),
        *sections(
            ("Reduction gear", [] if answer.ratio is None else [f"ratio {answer.ratio:.4g} to 1"]),
            ("New bush", _new_bush(answer)),
            ("Air gap", _air_gap(answer)),
            ("Notes", answer.notes),
            ("Take care", find_caution("press").lines if answer.press is not None else ()),
        ),
    ]
    return "\n".join(lines) + "\n"


def bearings_json(answer: BearingsAnswer) -> str:
    """The same as one JSON object, in SI, nothing rounded."""
    whole = {
        "verdict": answer.verdict,
        "findings": plain(answer.findings),
        "bearings": {one.bearing.name: _judged(one) for one in answer.bearings},
        "new_bush": None if answer.press is None else plain(answer.press),
        "air_gap": None if answer.rub is None else plain(answer.rub),
        "ratio": answer.ratio,
        "notes": list(answer.notes),
    }
    return json.dumps(whole, allow_nan=False)


def _judged(one: JudgedBearing) -> dict[str, object]:
    return {
        "bore": plain(one.bore),
        "journal": plain(one.journal),
        "play": plain(one.play),
        "worn": None if one.worn is None else plain(one.worn),
    }


def _new_bush(answer: BearingsAnswer) -> list[str]:
    if answer.press is None or answer.work.new_bush is None:
        return []
    return _press(answer.press, answer.work.new_bush.unit)


def _air_gap(answer: BearingsAnswer) -> list[str]:
    if answer.rub is None or answer.work.air_gap is None:
        return []
    return _rub(answer.rub, answer.work.air_gap.unit)


def _press(found: PressFit, unit: Unit) -> list[str]:
    share = 100 * found.closing.value / found.interference.value
    doubt = spread_text(found.closing.standard_uncertainty, unit.name)
    return [
        f"pressed with {_to_a_micrometre(found.interference.value, unit)}, its bore closes by "
        f"{_to_a_micrometre(found.closing.value, unit)} (standard uncertainty {doubt}), {share:.0f} % of it",
        f"bore once it is in: {_to_a_micrometre(found.bore.value, unit)}",
        "How much goes into the roughness is a rule of the trade, no source; a sizing mandrel settles it.",
    ]


def _rub(found: Rub, unit: Unit) -> list[str]:
    taken = [
        f"{part.name}: {_to_a_micrometre(part.taken.value, unit)} less"
        for part in found.parts
        if part.taken.value
    ]
    left = _to_a_micrometre(found.left.value, unit)
    return [
        f"{_to_a_micrometre(found.gap.value, unit)} with the armature in the middle",
        *taken,
        f"{left} left at the worst; chance that it touches: {probability_in_words(found.touches)}. "
        "The shaft's bending under load is not counted.",
    ]


def _to_a_micrometre(metres: float, unit: Unit) -> str:
    return length_text(metres, unit.name, 1e-6 if unit.name == "mm" else 2.54e-6)
