"""`barwise assembly`: which shims to put in, ring gear, torque list, marks compared."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import read_in, say


def assembly(
    file: Annotated[
        Path, typer.Argument(metavar="ASSEMBLY.toml", help="End play, shims in stock and so on.")
    ],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
) -> None:
    """Choose shims for end play and pinion clearance; check mesh, torques, rotation and marks."""
    from barwise.files.assembly_file import load_assembly
    from barwise.inspect.assembly.judgement import judge_assembly
    from barwise.report.parts.assembly import assembly_json, assembly_text

    work = load_assembly(file)
    with read_in(file):
        answer = judge_assembly(work)
    if json:
        typer.echo(assembly_json(answer))
        return
    say(assembly_text(answer))
