"""`barwise brushes`: lengths, springs and holders in, what is worn and how long the rest lasts out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import say


def brushes(
    file: Annotated[Path, typer.Argument(metavar="BRUSHES.toml", help="The set as measured.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw what is left of each brush.")
    ] = None,
) -> None:
    """Judge the brush gear: length, life left, spring force and pressure, holders."""
    from barwise.files.brushes_file import load_brushes
    from barwise.inspect.brush_gear.judgement import judge_brush_gear
    from barwise.report.parts.brushes import brushes_json, brushes_text

    answer = judge_brush_gear(load_brushes(file))
    if picture is not None:
        from barwise.cli.drawing import write_drawing
        from barwise.report.parts.brushes_picture import brushes_picture

        write_drawing(brushes_picture(answer), picture)
    if json:
        typer.echo(brushes_json(answer))
        return
    say(brushes_text(answer))
