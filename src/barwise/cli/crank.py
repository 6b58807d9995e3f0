"""``barwise crank``: speed and current in the vehicle, where the volts go, and whose fault it is."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.drawing import write_drawing


def crank(
    vehicle_file: Annotated[
        Path, typer.Argument(metavar="VEHICLE.toml", help="Battery, legs, starter, engine.")
    ],
    run: Annotated[
        Path | None,
        typer.Option(metavar="RUN.toml", help="The starter as its run test has it, as for barwise run."),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw where the volts go and how it comes up.")
    ] = None,
) -> None:
    """Say whether the starter will crank this engine, and what is to blame where it will not."""
    from barwise.files.cranking_file import load_cranking
    from barwise.files.run_file import load_run
    from barwise.inspect.cranking import crank as answer_for
    from barwise.report.run.cranking import cranking_json, cranking_text

    given = load_cranking(vehicle_file, None if run is None else load_run(run))
    answer = answer_for(given.vehicle, given.readings, given.seconds)
    if picture is not None:
        from barwise.report.run.cranking_picture import cranking_picture

        write_drawing(cranking_picture(answer.summary), picture)
    typer.echo(cranking_json(given, answer) if json else cranking_text(given, answer), nl=json)
