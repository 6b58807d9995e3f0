"""``barwise micrometer``: from a reading to the lines and back, a picture, and the misread question."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.typed_lengths import option, typed
from barwise.errors import MeasurementError
from barwise.measure.length import Length, parse_length
from barwise.measure.micrometer import (
    GRADUATIONS,
    Micrometer,
    ScaleReading,
    System,
    lines_at,
    micrometer_for,
    needs_vernier,
)
from barwise.measure.misread import MisreadCheck, check_misread
from barwise.measure.uncertainty import last_digit
from barwise.report.measured.micrometer import micrometer_answer, micrometer_text
from barwise.report.measured.micrometer_picture import draw_micrometer


def micrometer(
    reading: Annotated[list[str] | None, typer.Argument(help="Reading with its unit: 1.2385 in.")] = None,
    frame: Annotated[int | None, typer.Option(help="1 for 1-2 in or 25-50 mm; else what fits.")] = None,
    sleeve: Annotated[int | None, typer.Option(help="Last number on the sleeve, or whole mm lines.")] = None,
    after: Annotated[int, typer.Option(help="Sleeve lines seen after it.")] = 0,
    thimble: Annotated[int, typer.Option(help="Thimble line at the long line.")] = 0,
    vernier: Annotated[int | None, typer.Option(help="Vernier line that meets a thimble line.")] = None,
    metric: Annotated[bool, typer.Option("--metric", help="Lines of a metric micrometer.")] = False,
    expect: Annotated[str | None, typer.Option(help="What the reading should be about.")] = None,
    sd: Annotated[str | None, typer.Option(help="Standard deviation of that.")] = None,
    picture: Annotated[Path | None, typer.Option(help="Write how the scales look to this SVG file.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Show how a micrometer's scales stand at a reading, or read the lines given."""
    if (sleeve is None) == (not reading):
        raise MeasurementError("micrometer: expected either a reading, such as 1.2385 in, or --sleeve")
    if reading:
        typed_length = _only(typed(reading, "reading"))
        shown = _lines(typed_length, frame)
    else:
        system: System = "metric" if metric else "inch"
        tool = Micrometer(system, frame or 0, vernier is not None)
        shown = ScaleReading(tool, sleeve or 0, after, thimble, vernier or 0)
        typed_length = parse_length(_as_text(shown))
    check = _check(typed_length, shown, expect, sd)
    if picture is not None:
        _write(picture, draw_micrometer(shown))
    if as_json:
        typer.echo(json.dumps(micrometer_answer(shown, check), allow_nan=False))
        return
    typer.echo(micrometer_text(shown, check))
    if picture is not None:
        typer.echo(f"picture written to {picture}")


def _only(lengths: list[Length]) -> Length:
    if len(lengths) != 1:
        raise MeasurementError(f"reading: found {len(lengths)} lengths, expected one")
    return lengths[0]


def _lines(length: Length, frame: int | None) -> ScaleReading:
    system: System = "inch" if length.imperial else "metric"
    vernier = needs_vernier(length.metres, system)
    tool = (
        micrometer_for(length.metres, system, vernier)
        if frame is None
        else Micrometer(system, frame, vernier)
    )
    return lines_at(length.metres, tool)


def _as_text(shown: ScaleReading) -> str:
    lines = GRADUATIONS[shown.micrometer.system]
    return f"{shown.value:.{lines.decimals - (not shown.micrometer.vernier)}f} {lines.unit}"


def _check(length: Length, shown: ScaleReading, expect: str | None, sd: str | None) -> MisreadCheck | None:
    unit = length.unit.name
    known, spread = option(expect, unit, "--expect"), option(sd, unit, "--sd")
    if known is None and spread is None:
        return None
    if known is None or spread is None:
        raise MeasurementError("micrometer: --expect and --sd go together: what is known, and how well")
    tool = shown.micrometer
    return check_misread(length, known.metres, spread.metres, last_digit(tool.step_m), tool.system)


def _write(path: Path, drawing: str) -> None:
    try:
        path.write_text(drawing, encoding="utf-8")
    except OSError as error:
        raise MeasurementError(f"{path}: cannot be written ({error.strerror})") from None
