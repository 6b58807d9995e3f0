"""``barwise limit``: one dimension against its limit, and what would settle it when undecided."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Annotated

import typer

from barwise.cli.typed_lengths import option, typed
from barwise.errors import MeasurementError
from barwise.measure.decision import USUAL_LEVEL, Limit, decide, what_settles
from barwise.measure.instrument import Instrument, Measured, measured
from barwise.measure.length import Length, parse_length
from barwise.measure.uncertainty import Budget, Component, from_expanded
from barwise.report.measured.limit import Judgement, limit_answer, limit_text


def limit(
    values: Annotated[list[str], typer.Argument(help="Measured, with unit: 1.0640 in. Several are repeats.")],
    lower: Annotated[str | None, typer.Option(help="Lower limit; in two units: '0.031 in (0.8 mm)'.")] = None,
    upper: Annotated[str | None, typer.Option(help="Upper limit.")] = None,
    u: Annotated[str | None, typer.Option(help="Standard uncertainty, all of it, instead of parts.")] = None,
    resolution: Annotated[str | None, typer.Option(help="Step of the scale; else the last digit.")] = None,
    calibration: Annotated[str | None, typer.Option(help="Uncertainty U of the certificate.")] = None,
    k: Annotated[float, typer.Option(help="Coverage factor k of that certificate.")] = 2.0,
    repeatability: Annotated[str | None, typer.Option(help="Standard deviation of one reading.")] = None,
    repeats: Annotated[int | None, typer.Option(help="The value is a mean of so many readings.")] = None,
    level: Annotated[float, typer.Option(help="Probability that decides.")] = USUAL_LEVEL,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Decide one dimension: accept, reject or undecided, and what would settle it."""
    readings = typed(values, "value")
    unit = readings[-1].unit.name
    sides = [option(lower, unit, "--lower"), option(upper, unit, "--upper")]
    allowed = Limit(*(None if side is None else side.metres for side in sides))
    tool = _instrument(readings, resolution, calibration, k, repeatability)
    found = measured(tool, [reading.metres for reading in readings], repeats)
    if u is not None:
        found = _stated(found, u, unit, (resolution, calibration, repeatability))
    decision = decide(
        found.value_m, found.budget.standard_uncertainty, allowed, level, found.budget.degrees_of_freedom
    )
    judgement = Judgement(
        decision=decision,
        settling=what_settles(decision, found.repeatability_m, found.fixed_uncertainty_m, found.estimated),
        measured=found,
        unit=unit,
        digit_m=min(reading.digit_m for reading in readings),
        bare=u is None and calibration is None and found.repeatability_m == 0,
    )
    typer.echo(json.dumps(limit_answer(judgement), allow_nan=False) if as_json else limit_text(judgement))


def _instrument(
    readings: list[Length],
    resolution: str | None,
    calibration: str | None,
    k: float,
    repeatability: str | None,
) -> Instrument:
    unit = readings[-1].unit.name
    step, known, spread = (
        option(resolution, unit, "--resolution"),
        option(calibration, unit, "--calibration"),
        option(repeatability, unit, "--repeatability"),
    )
    return Instrument(
        name="instrument",
        resolution_m=min(reading.digit_m for reading in readings) if step is None else step.metres,
        calibration_standard_uncertainty_m=0.0 if known is None else from_expanded(known.metres, k),
        repeatability_m=0.0 if spread is None else spread.metres,
    )


def _stated(found: Measured, u: str, unit: str, parts: tuple[str | None, ...]) -> Measured:
    if any(part is not None for part in parts):
        raise MeasurementError("--u: found parts of the uncertainty as well, expected --u or its parts")
    stated = parse_length(u, unit, "--u").metres
    whole = Budget((Component("as given", stated),))
    return replace(found, budget=whole, repeatability_m=0.0, fixed_uncertainty_m=stated, estimated=False)
