"""The brush gear's answer in words and as JSON."""

from __future__ import annotations

import json

from barwise.inspect.brush_gear.gear import BrushGearAnswer
from barwise.inspect.brush_gear.words import life_in_words
from barwise.inspect.checks.plain import plain
from barwise.report.parts.findings import cautions_of, findings_text, sections, verdict_line


def brushes_text(answer: BrushGearAnswer) -> str:
    """Verdict, what is left, findings, wear and notes, for a terminal."""
    worn = [
        f"brush {name}: {wear.percent:.1f} % worn ({wear.low:.1f} to {wear.high:.1f} %)"
        for name, wear in answer.wear
    ]
    lines = [
        *verdict_line(answer.verdict, life_in_words(answer)),
        *findings_text(answer.findings),
        *sections(
            ("Wear, between new and minimum", worn),
            ("Notes", answer.notes),
            ("Take care", cautions_of("spring", "dust")),
        ),
    ]
    return "\n".join(lines) + "\n"


def brushes_json(answer: BrushGearAnswer) -> str:
    """The same as one JSON object, in SI, nothing rounded."""
    wear = {name: plain(one) for name, one in answer.wear}
    whole = {
        "verdict": answer.verdict,
        "life": plain(answer.life),
        "life_in_words": life_in_words(answer),
        "chance_to_last": answer.lasts,
        "wear_percent": wear,
        "pressures_pa": {one.brush: plain(one) for one in answer.pressures},
        "findings": plain(answer.findings),
        "notes": list(answer.notes),
    }
    return json.dumps(whole, allow_nan=False)
