"""`barwise bearings`: bushes on their journals, a new bush, the air gap and the gears."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import read_in, say


def bearings(
    file: Annotated[Path, typer.Argument(metavar="BEARINGS.toml", help="Sizes as measured.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
) -> None:
    """Judge the bearings: play with the doubt of both sizes, a new bush, rub on the pole shoes, gears."""
    from barwise.files.bearings_file import load_bearings
    from barwise.inspect.bearings.judgement import judge_bearings
    from barwise.report.parts.bearings import bearings_json, bearings_text

    work = load_bearings(file)
    with read_in(file):
        answer = judge_bearings(work)
    if json:
        typer.echo(bearings_json(answer))
        return
    say(bearings_text(answer))
