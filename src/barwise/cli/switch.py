"""`barwise switch`: readings of a switch (solenoid) in; which winding, contact or travel is off, out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import say


def switch(
    file: Annotated[Path, typer.Argument(metavar="SWITCH.toml", help="Its readings and limits.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw windings, contacts and plunger.")
    ] = None,
) -> None:
    """Judge the switch (solenoid): windings, pull-in and release, contacts, travel."""
    from barwise.files.switch_file import load_switch
    from barwise.inspect.switch.judgement import judge_switch
    from barwise.report.parts.switch import switch_json, switch_text

    answer = judge_switch(load_switch(file))
    if picture is not None:
        from barwise.cli.drawing import write_drawing
        from barwise.report.parts.switch_picture import draw

        write_drawing(draw(answer), picture)
    if json:
        typer.echo(switch_json(answer))
        return
    say(switch_text(answer))
