"""``barwise recheck``: every result worked out again from the readings that are kept."""

from __future__ import annotations

from typing import Annotated

import typer

from barwise.web.data_folder import data_folder
from barwise.web.started import plain_words, prepare

DIFFERS = 1
"""Exit code where a result differs from what its own inputs give now."""

Number = Annotated[str, typer.Option("--job", help="Only this job, by its number.")]


def recheck(job: Number = "") -> None:
    """Work out every result again and say what differs; changes nothing. Ends with 1 where one differs."""
    folder = data_folder()
    prepare(folder)
    from barwise.record import recheck as checking
    from barwise.record.jobs import job_numbered

    with plain_words(folder):
        found = checking.recheck(job_numbered(job) if job else None)
    for one in found.differences:
        place = f"{one.station}, {one.check}" if one.check else "whole job"
        typer.echo(f"{one.job_number} {place}: {one.kind}: {one.line}")
    jobs = "1 job" if found.jobs == 1 else f"{found.jobs} jobs"
    open_ones = len(found.differences)
    typer.echo(f"{jobs}, {found.checks} checks worked out again: {open_ones or 'nothing'} to report.")
    if not found.agrees:
        raise typer.Exit(DIFFERS)
