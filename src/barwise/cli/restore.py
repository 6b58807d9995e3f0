"""``barwise restore``: the newest copy in place of a damaged database, and lost photos from the copies."""

from __future__ import annotations

import typer

from barwise.web.data_folder import data_folder
from barwise.web.database_file import put_back


def restore() -> None:
    """Put the newest readable copy in place of a damaged database, and photos that are gone or damaged."""
    done = put_back(data_folder())
    if done.copy is not None:
        typer.echo(f"In its place now: {done.copy}")
    if done.aside is not None:
        typer.echo(f"The damaged file is kept: {done.aside}")
    if done.photos:
        typer.echo(f"Photos put back: {len(done.photos)}")
    if done.lost:
        typer.echo(f"Photos of which there is no copy: {', '.join(name[:12] for name in done.lost)}")
