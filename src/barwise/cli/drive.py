"""`barwise drive`: pinion, clutch, spline, springs and lever in, what is worn out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import read_in, say


def drive(
    file: Annotated[Path, typer.Argument(metavar="DRIVE.toml", help="The drive as measured.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="OUT.svg", help="Draw the drive, and which part each finding is of."),
    ] = None,
) -> None:
    """Judge the drive: pinion teeth, clutch slip and drag, spline, spring, travel, lever."""
    from barwise.files.drive_file import load_drive
    from barwise.inspect.drive.judgement import judge_drive
    from barwise.report.parts.drive import drive_json, drive_text

    measured = load_drive(file)
    with read_in(file):
        answer = judge_drive(measured)
    if picture is not None:
        from barwise.cli.drawing import write_drawing
        from barwise.report.parts.drive_picture import draw

        write_drawing(draw(answer), picture)
    if json:
        typer.echo(drive_json(answer))
        return
    say(drive_text(answer))
