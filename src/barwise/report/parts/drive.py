"""The drive's answer in words and as JSON."""

from __future__ import annotations

import json

from barwise.inspect.checks.plain import plain
from barwise.inspect.drive.measured import DriveAnswer
from barwise.inspect.finding import said_to_its_digit
from barwise.measure.units import UNITS
from barwise.report.parts.findings import cautions_of, findings_text, sections, verdict_line


def drive_text(answer: DriveAnswer) -> str:
    """Verdict, findings, what the teeth measure, and notes, for a terminal."""
    lines = [
        *verdict_line(answer.verdict),
        *findings_text(answer.findings),
        *sections(
            ("Teeth", _teeth(answer)),
            ("Notes", answer.notes),
            ("Take care", cautions_of("spring")),
        ),
    ]
    return "\n".join(lines) + "\n"


def drive_json(answer: DriveAnswer) -> str:
    """The same as one JSON object, in SI, nothing rounded."""
    return json.dumps(plain(answer), allow_nan=False)


def _teeth(answer: DriveAnswer) -> list[str]:
    said, wear, mm = [], answer.teeth, UNITS["mm"]
    if wear is None:
        return []
    if wear.new is not None:
        new, now = said_to_its_digit(wear.new, mm, finer=True), said_to_its_digit(wear.size, mm)
        said.append(f"when new {new}, now {now} at the worst place, reading {wear.place}")
    if answer.tooth is not None:
        said.append(f"each tooth {said_to_its_digit(answer.tooth, mm)} thick on the pitch circle there")
    if wear.spread_m > 0:
        said.append(f"readings round the pinion differ by {1000 * wear.spread_m:.2f} mm")
    return said
