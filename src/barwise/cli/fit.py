"""`barwise fit`: how large bore and journal may be by an ISO fit."""

from __future__ import annotations

import json
from typing import Annotated

import typer


def fit(
    size: Annotated[str, typer.Argument(help='Nominal size with its unit: "12 mm".')],
    code: Annotated[str, typer.Argument(help="Bore and shaft: F7/h6, the bore in capitals.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """Limits of size of bore and shaft, and what clearance or interference they leave (ISO 286-1)."""
    from barwise.inspect.bearings.fits import fit_of
    from barwise.measure.quantity import parse_quantity
    from barwise.report.measured.fit import fit_answer, fit_text

    nominal = parse_quantity(size, "length", "size")
    found = fit_of(nominal.value, code)
    if as_json:
        typer.echo(json.dumps(fit_answer(found), allow_nan=False))
        return
    typer.echo(fit_text(found, nominal.unit))
