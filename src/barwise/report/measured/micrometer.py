"""A micrometer reading in words and as JSON, and the question after a likely misread."""

from __future__ import annotations

from typing import Any

from barwise.measure.micrometer import GRADUATIONS, ScaleReading
from barwise.measure.misread import Explanation, MisreadCheck, Slip
from barwise.report.lengths import length_text
from barwise.report.measured.micrometer_picture import parts
from barwise.report.probability import probability_in_words

LOOK_AGAIN: dict[Slip, str] = {
    "as-read": "it is right as read",
    "one-turn": "one turn of the thimble too {much}: count the sleeve lines again",
    "numbered-line": "one numbered sleeve line too {much}: look at the last number again",
    "whole-frame": "one frame too {much}: look at the size stamped on the frame",
    "no-vernier": "the vernier left out: look which of its lines meets",
    "digits-swapped": "two digits changed over in writing: read it off again",
    "other": "no usual slip: look whether the anvils are clean and square, and read it again",
}


def micrometer_text(shown: ScaleReading, check: MisreadCheck | None = None) -> str:
    """Frame and reading, what each scale adds, and the question if there is one."""
    lines = [f"{shown.micrometer.name} at {_reading(shown)}"]
    lines += [f"  {name:22} {number:>4}  {worth:>8}" for name, number, worth in parts(shown)]
    if check is not None:
        lines += _question(shown, check)
    return "\n".join(lines)


def micrometer_answer(shown: ScaleReading, check: MisreadCheck | None = None) -> dict[str, Any]:
    """The same as plain values, lengths in the micrometer's own unit."""
    tool = shown.micrometer
    answer: dict[str, Any] = {
        "micrometer": {
            "system": tool.system,
            "frame": tool.frame,
            "name": tool.name,
            "vernier": tool.vernier,
        },
        "unit": tool.graduation.unit,
        "reading": shown.value,
        "lines": {
            "sleeve": shown.major,
            "after": shown.minor,
            "thimble": shown.thimble,
            "vernier": shown.vernier if tool.vernier else None,
        },
        "misread": None,
    }
    if check is not None:
        answer["misread"] = {
            "ask": check.ask,
            "as_read": check.as_read,
            "explanations": [_explanation(shown, way) for way in check.explanations],
        }
    return answer


def _explanation(shown: ScaleReading, way: Explanation) -> dict[str, Any]:
    unit_m = GRADUATIONS[shown.micrometer.system].step_m * 10.0**shown.micrometer.graduation.decimals
    reading = None if way.metres is None else way.metres / unit_m
    return {"slip": way.slip, "reading": reading, "probability": way.probability}


def _question(shown: ScaleReading, check: MisreadCheck) -> list[str]:
    if not check.ask:
        return [f"it fits what was expected: right as read with {probability_in_words(check.as_read)}"]
    best = check.best_slip
    unit, digit = shown.micrometer.graduation.unit, shown.micrometer.graduation.step_m
    would = "" if best.metres is None else f", which would be {length_text(best.metres, unit, digit)}"
    slip = LOOK_AGAIN[best.slip].format(much="much" if best.too_large_m > 0 else "little")
    return [
        f"please look again: right as read with {probability_in_words(check.as_read)}",
        f"{probability_in_words(best.probability)} for {slip}{would}",
        "nothing was changed: the reading stands until you enter another",
    ]


def _reading(shown: ScaleReading) -> str:
    lines, tool = shown.micrometer.graduation, shown.micrometer
    return length_text(shown.metres, lines.unit, tool.step_m)
