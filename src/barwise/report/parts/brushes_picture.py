"""The brushes of a set on one limit line: how much of each is left above its minimum."""

from __future__ import annotations

from barwise.errors import MeasurementError
from barwise.inspect.brush_gear.gear import BrushGearAnswer
from barwise.report.measured.limit_line import LimitLine, OnLine, draw

_PART = ", length"


def brushes_picture(answer: BrushGearAnswer) -> str:
    """The lengths as SVG text.

    Raises
    ------
    MeasurementError
        If no length was held against a minimum: there is nothing to draw.
    """
    found = [one for one in answer.findings if one.part.endswith(_PART) and one.bound is not None]
    if not found or found[0].bound is None:
        raise MeasurementError("picture: found no brush length with a minimum, expected at least one to draw")
    bound = found[0].bound
    places = tuple(
        OnLine(
            one.part.removesuffix(_PART), one.value or 0.0, one.standard_uncertainty or 0.0, (), one.outcome
        )
        for one in found
    )
    # A last digit d leaves 0.29 d of standard uncertainty.
    digit = min(3.5 * place.uncertainty for place in places)
    return draw(
        LimitLine(
            "Brush length",
            found[0].unit,
            digit,
            bound.unit,
            bound.limit.lower,
            bound.limit.upper,
            None,
            places,
        )
    )
