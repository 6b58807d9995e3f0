"""``barwise backup``: the whole shop copied, checked, and brought to a second place, while it is in use."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.web.backup.plan import the_plan
from barwise.web.backup.taking import bring_to_second_place, on_one_drive, pack, take, take_when_due
from barwise.web.data_folder import DataFolder, data_folder

Where = Annotated[Path | None, typer.Option("--data", help="Folder of the shop; else its usual one.")]
To = Annotated[Path | None, typer.Option("--to", help="Also as one file, a zip with all photos.")]
Due = Annotated[bool, typer.Option("--due", help="Only if the newest is older than backup.toml asks.")]


def backup(data: Where = None, to: To = None, due: Due = False) -> None:
    """Back the whole shop up: database, photos, keys, settings. The bench goes on meanwhile."""
    folder = data_folder() if data is None else DataFolder(data.absolute())
    taken = take_when_due(folder) if due else take(folder)
    if taken is None:
        typer.echo("The newest backup is young enough.")
    else:
        one = taken.contents
        typer.echo(f"Backup: {taken.path}")
        typer.echo(
            f"It has {one.jobs} jobs, {one.readings} readings, {len(one.photos) - len(one.missing)} photos."
        )
        if one.missing:
            typer.echo(f"Photos that are gone from the data folder: {len(one.missing)}")
        if to is not None:
            pack(taken, to.absolute())
            typer.echo(f"As one file: {to}")
    second = bring_to_second_place(folder)
    if second is not None:
        typer.echo(f"In the second place: {second}")
        if on_one_drive(folder, the_plan(folder)):
            typer.echo("That is on the same drive: if the drive is lost, both are.")
