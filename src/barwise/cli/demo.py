"""``barwise demo``: an invented shop with four jobs, in a folder of its own."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Annotated

import typer

from barwise.web.data_folder import chosen_folder, data_folder
from barwise.web.started import plain_words, prepare

Past = Annotated[bool, typer.Option("--past", help="With two invented years of closed jobs before them.")]
Where = Annotated[Path | None, typer.Option("--data", help="Folder for it; else one beside the shop's own.")]


def demo(data: Where = None, past: Past = False) -> None:
    """Fill an invented shop with four jobs and say how to open it; the real shop is not touched."""
    own = data_folder().path
    folder = chosen_folder(data or own.with_name(f"{own.name}-demo"))
    prepare(folder)
    from barwise.record.shop import NAME, demo_shop

    with plain_words(folder):
        jobs = demo_shop(with_past=past)
    typer.echo(f"{NAME}: an invented shop, nothing in it is real. It lies in {folder.path}")
    for job in jobs:
        waits = f", waits for {job.waits_for}" if job.waits_for else ""
        typer.echo(f"  job {job.number}: {job.complaint} ({job.state}{waits})")
    typer.echo(f"Open it:  BARWISE_DATA={shlex.quote(str(folder.path))} barwise serve")
