"""`barwise shaft`: dial readings along a shaft in, run-out and where it is bent out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import read_in, say


def shaft(
    file: Annotated[Path, typer.Argument(metavar="SHAFT.toml", help="Dial readings along the shaft.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw the shaft, its bend, and which way.")
    ] = None,
) -> None:
    """Run-out at each place, where the shaft is bent and by how much, what is only out of round."""
    from barwise.files.shaft_file import load_shaft
    from barwise.inspect.shaft.judgement import judge_shaft
    from barwise.report.parts.shaft import shaft_json, shaft_text

    work = load_shaft(file)
    with read_in(file):
        answer = judge_shaft(work)
    if picture is not None:
        from barwise.cli.drawing import write_drawing
        from barwise.report.parts.shaft_picture import draw

        write_drawing(draw(answer), picture)
    if json:
        typer.echo(shaft_json(answer))
        return
    say(shaft_text(answer))
