"""`barwise brushes`: lengths, springs and holders in, what is worn and how long the rest lasts out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwise.errors import InputError

if TYPE_CHECKING:
    from barwise.inspect.brush_gear.gear import BrushGearAnswer


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
    from barwise.report.brushes_text import brushes_json, brushes_text

    answer = judge_brush_gear(load_brushes(file))
    if picture is not None:
        _draw(answer, picture)
    if json:
        typer.echo(brushes_json(answer))
        return
    verdict, line_end, rest = brushes_text(answer).partition("\n")
    typer.echo(typer.style(verdict, bold=True) + line_end + rest, nl=False)


def _draw(answer: BrushGearAnswer, picture: Path) -> None:
    from barwise.report.brushes_picture import brushes_picture

    drawn = brushes_picture(answer)
    try:
        picture.write_text(drawn, encoding="utf-8")
    except OSError as error:
        found = f"a file that cannot be written ({error.strerror})"
        raise InputError(str(picture), found, "a path for the picture") from None
