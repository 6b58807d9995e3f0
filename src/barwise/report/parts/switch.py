"""The switch's answer in words and as JSON."""

from __future__ import annotations

import json

from barwise.inspect.checks.plain import plain
from barwise.inspect.finding import said_to_its_digit
from barwise.inspect.switch.tested import SwitchAnswer
from barwise.measure.units import UNITS
from barwise.report.parts.findings import cautions_of, findings_text, sections, verdict_line
from barwise.report.probability import probability_in_words

_SHOWN = 0.005
"""Explanations less probable than this are left to the JSON."""


def switch_text(answer: SwitchAnswer) -> str:
    """Verdict, findings, what the windings measure, the explanations and notes, for a terminal."""
    lines = [
        *verdict_line(answer.verdict),
        *findings_text(answer.findings),
        *sections(
            ("Windings", _windings(answer)),
            ("What may be the matter with the windings", _explanations(answer)),
            ("Notes", answer.notes),
            ("Take care", cautions_of("switch", "battery")),
        ),
    ]
    return "\n".join(lines) + "\n"


def switch_json(answer: SwitchAnswer) -> str:
    """The same as one JSON object, in SI, nothing rounded."""
    return json.dumps(plain(answer), allow_nan=False)


def _windings(answer: SwitchAnswer) -> list[str]:
    ohm = UNITS["ohm"]
    said = []
    for one in answer.windings:
        now, cold = said_to_its_digit(one.now, ohm), said_to_its_digit(one.at_reference, ohm)
        whence = " less ".join(one.from_paths)
        amps = (
            "" if one.amps is None else f", {said_to_its_digit(one.amps, UNITS['A'])} at the sheet's voltage"
        )
        said.append(f"{one.winding}: {now} as read ({whence}), {cold} at the sheet's temperature{amps}")
    return said


def _explanations(answer: SwitchAnswer) -> list[str]:
    if answer.diagnosis is None:
        return []
    return [
        f"{probability_in_words(one.probability)}: {one.words}"
        for one in answer.diagnosis.explanations
        if one.probability >= _SHOWN
    ]
