"""The pictures of one check at the bench: its limit line, and the part drawn where that says more."""

from __future__ import annotations

from collections.abc import Sequence

from barwise.inspect.checks import Outcome, Taken
from barwise.inspect.cranking.at_the_job import JobCrank
from barwise.report import svg
from barwise.report.measured.limit_line import draw, limit_line_of
from barwise.report.parts.drive_picture import arm_picture, tooth_picture
from barwise.report.parts.shaft_picture import bend_picture
from barwise.report.parts.switch_picture import travel_picture, windings_picture
from barwise.report.run.cranking_picture import cranking_picture


def check_pictures(title: str, outcome: Outcome, readings: Sequence[Taken]) -> tuple[str, ...]:
    """SVG texts, none where there is nothing to draw.

    Which part is drawn follows from what the outcome's details hold, not from the check's name.
    """
    if isinstance(outcome.answer, JobCrank):
        return () if outcome.answer.answer is None else (cranking_picture(outcome.answer.answer.summary),)
    line = None if "arm" in outcome.details else limit_line_of(title, outcome, readings)
    return (*(() if line is None else (draw(line),)), *part_pictures(title, outcome))


def part_pictures(title: str, outcome: Outcome) -> tuple[svg.Picture, ...]:
    """The part alone, without a limit line."""
    known = outcome.details
    drawn = (
        bend_picture(title, outcome) if "off_centre_m" in known else None,
        windings_picture(outcome) if "explanations" in known else None,
        travel_picture(outcome) if "touches_m" in known else None,
        tooth_picture(outcome) if "flank_lost_m" in known else None,
        arm_picture(outcome) if "arm" in known else None,
    )
    return tuple(one for one in drawn if one is not None)
