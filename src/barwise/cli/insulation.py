"""`barwise insulation`: megohms or a lamp in, good enough or not out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import read_in


def insulation(
    insulation_file: Annotated[
        Path, typer.Argument(metavar="FILE.toml", help="What the tester or the lamp said of each part.")
    ],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
) -> None:
    """Judge the insulation of armature, fields and brush holders, at 40 °C."""
    from barwise.files.insulation_file import load_insulation
    from barwise.inspect.insulation import assess

    with read_in(insulation_file):
        found = [assess(test) for test in load_insulation(insulation_file)]
    if json:
        from barwise.report.parts.insulation_json import insulation_json

        typer.echo(insulation_json(found))
        return
    from barwise.report.parts.insulation import insulation_text

    typer.echo(insulation_text(found), nl=False)
