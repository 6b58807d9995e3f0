"""``barwise restore``: the newest copy in the place of a damaged database."""

from __future__ import annotations

import typer

from barwise.web.data_folder import data_folder
from barwise.web.database_file import put_back


def restore() -> None:
    """Put the newest readable copy in the place of a damaged database; the damaged file is kept."""
    copy, aside = put_back(data_folder())
    typer.echo(f"In its place now: {copy}")
    if aside is not None:
        typer.echo(f"The damaged file is kept: {aside}")
