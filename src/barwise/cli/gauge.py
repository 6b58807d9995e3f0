"""`barwise gauge`: is the measuring itself good enough, from the same parts measured again and again."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Annotated

import typer

from barwise.errors import MeasurementError


def gauge(
    study_file: Annotated[
        Path, typer.Argument(metavar="STUDY.csv", help="Readings: part,person,value; repeats are more rows.")
    ],
    tolerance: Annotated[
        float | None, typer.Option(help="Width of the tolerance to judge it by, in the readings' unit.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Say how much of the spread is the gauge and the people, and how much the parts."""
    from barwise.files.study_file import load_study
    from barwise.measure.gauge_study import gauge_study
    from barwise.report.measured.gauge import GaugeAnswer, gauge_answer, gauge_text

    if tolerance is not None and not (math.isfinite(tolerance) and tolerance > 0):
        raise MeasurementError(f"--tolerance: found {tolerance:g}, expected a width above 0")
    study = load_study(study_file)
    answer = GaugeAnswer(gauge_study(study.value), study.unit, tolerance)
    typer.echo(json.dumps(gauge_answer(answer), allow_nan=False) if as_json else gauge_text(answer))
