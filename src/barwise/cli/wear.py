"""``barwise wear``: how worn a measured size is on the sheet's scale, and how many cuts are left."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from barwise.cli.typed_lengths import option, typed
from barwise.errors import MeasurementError
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.length import Length, parse_length
from barwise.measure.wear import DISCARD, HALF_WORN, NEW, WearPoint, WearScale
from barwise.report.measured.wear import WearAnswer, wear_answer, wear_text


def wear(
    size: Annotated[list[str], typer.Argument(help="Measured size, with unit: 1.0785 in.")],
    new: Annotated[str | None, typer.Option(help="Size at 0 % worn.")] = None,
    half_worn: Annotated[str | None, typer.Option(help="Size at 50 % worn.")] = None,
    discard: Annotated[str | None, typer.Option(help="Size at 100 % worn.")] = None,
    at: Annotated[list[str] | None, typer.Option(help="Any other point: 25=1.0810 (percent=size).")] = None,
    u: Annotated[str | None, typer.Option(help="Standard uncertainty of the size.")] = None,
    removal: Annotated[str | None, typer.Option(help="What a cut usually takes off the diameter.")] = None,
    removal_spread: Annotated[str | None, typer.Option(help="Its standard deviation.")] = None,
    grows: Annotated[bool, typer.Option("--grows", help="Wear makes it larger, as a bore.")] = False,
    level: Annotated[float, typer.Option(help="Probability of the interval.")] = USUAL_LEVEL,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Say how worn a size is, in percent of the way from new to discard."""
    measured = typed(size, "size")
    if len(measured) != 1:
        raise MeasurementError(f"size: found {len(measured)} lengths, expected one")
    if not 0.5 < level < 1:
        raise MeasurementError(f"--level: found {level}, expected between 0.5 and 1, such as 0.95")
    now, unit = measured[0], measured[0].unit.name
    named = ((NEW, "--new", new), (HALF_WORN, "--half-worn", half_worn), (DISCARD, "--discard", discard))
    points = [
        WearPoint(percent, parse_length(written, unit, what).metres)
        for percent, what, written in named
        if written is not None
    ]
    points += [_other_point(written, unit) for written in at or []]
    scale = WearScale(tuple(points), grows)
    spread = _metres(option(u, unit, "--u"))
    cut = option(removal, unit, "--removal")
    cuts = None
    if cut is not None:
        varies = _metres(option(removal_spread, unit, "--removal-spread"))
        cuts = scale.cuts_left(now.metres, cut.metres, spread, varies, level)
    answer = WearAnswer(scale, now, scale.wear(now.metres, spread, level), cuts)
    typer.echo(json.dumps(wear_answer(answer), allow_nan=False) if as_json else wear_text(answer))


def _other_point(written: str, unit: str) -> WearPoint:
    percent, equals, size = written.partition("=")
    try:
        worn = float(percent)
    except ValueError:
        equals = ""
    if not equals:
        raise MeasurementError(f"--at: found {written!r:.40}, expected percent=size, such as 25=1.0810")
    return WearPoint(worn, parse_length(size, unit, "--at").metres)


def _metres(length: Length | None) -> float:
    return 0.0 if length is None else length.metres
