"""A logged run in words and as JSON."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator

from barwise.inspect.checks.plain import plain
from barwise.inspect.run_test.logged import LogStudy, Stretch
from barwise.report.paragraphs import bullets, section


def log_json(found: LogStudy) -> str:
    """The whole study as one JSON object, SI."""
    return json.dumps(plain(found), indent=1, allow_nan=False)


def log_text(found: LogStudy) -> str:
    """The study for a terminal."""
    many = len(found.stretches)
    verdict = f"Logged run: {many} steady stretch{'es' * (many != 1)}, {found.rate_hz:.0f} samples a second."
    lines = [
        verdict,
        *section("Start", bullets(_start(found))),
        *section("Steady", bullets(_steady(one) for one in found.stretches)),
        *section("Noticed", bullets(found.notes)),
    ]
    return "\n".join(lines) + "\n"


def _start(found: LogStudy) -> Iterator[str]:
    if found.inrush_a is not None:
        least = "at least " if found.clipped_s else ""
        fall = f", most of it gone after {found.inrush_s:.2g} s" if found.inrush_s is not None else ""
        yield f"Inrush {least}{found.inrush_a:.0f} A{fall}."


def _steady(one: Stretch) -> str:
    speed = "" if one.speed_rad_s is None else f", {one.speed_rad_s * 30 / math.pi:.0f} rpm"
    return (
        f"{one.start_s:.2f} to {one.end_s:.2f} s: {one.volts_v:.2f} V, {one.current_a:.1f} A{speed}; ripple "
        f"{100 * one.ripple.share:.2g} % of the current. {one.ripple.why}"
    )
