"""`barwise run`: readings of the run bench in, causes, curve and limits out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.cli.answering import say
from barwise.cli.drawing import write_drawing


def run(
    file: Annotated[
        Path, typer.Argument(metavar="RUN.toml|LOG.csv", help="Points read on the bench, or a logged run.")
    ],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[Path | None, typer.Option(metavar="OUT.svg", help="Draw the motor's curve.")] = None,
    bars: Annotated[int | None, typer.Option(help="For a log: bars of the commutator.")] = None,
    poles: Annotated[int | None, typer.Option(help="For a log: poles.")] = None,
) -> None:
    """Judge a run test: which cause, how sure, the curve at the sheet's volts, what to test next."""
    if file.suffix.lower() == ".csv":
        _logged(file, json, bars, poles)
        return
    from barwise.files.run_file import load_run
    from barwise.inspect.run_test import assess

    known = load_run(file)
    found = assess(known.sheet, known.points, taken=known.taken)
    if picture is not None:
        from barwise.report.run.picture import curve_picture

        write_drawing(curve_picture(found), picture)
    if json:
        from barwise.report.run.as_json import run_json

        typer.echo(run_json(found))
        return
    from barwise.report.run.text import run_text

    say(run_text(found))


def _logged(file: Path, json: bool, bars: int | None, poles: int | None) -> None:
    from barwise.files.run_log import load_log
    from barwise.inspect.run_test.logged import study_log
    from barwise.report.run.log import log_json, log_text

    found = study_log(load_log(file), bars, poles)
    typer.echo(log_json(found) if json else log_text(found), nl=json)
