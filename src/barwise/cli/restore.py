"""``barwise restore``: a backup in the place of a damaged shop, or a shop made again elsewhere."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.errors import BarwiseError
from barwise.web.backup.restoring import Restored, put_right
from barwise.web.backup.restoring import restore as restored
from barwise.web.data_folder import DataFolder, data_folder, elsewhere

Given = Annotated[Path | None, typer.Argument(help="Its folder or zip; else the newest sound one.")]
Where = Annotated[Path | None, typer.Option("--data", help="Folder to put it into; else the shop's own.")]
Replace = Annotated[bool, typer.Option("--replace", help="Also where a shop is alive, which is set aside.")]


def restore(backup: Given = None, data: Where = None, replace: Replace = False) -> None:
    """Put a backup in the place of a damaged shop, and photos that are gone; what was there is kept."""
    folder = data_folder() if data is None else DataFolder(data.absolute())
    if backup is not None:
        done = restored(backup, folder, elsewhere(), replace=replace)
    elif elsewhere():
        raise BarwiseError("barwise restore: found no backup named, expected one: DATABASE_URL is set")
    else:
        done = put_right(folder)
    for line in _lines(done, folder):
        typer.echo(line)


def _lines(done: Restored, folder: DataFolder) -> list[str]:
    said = []
    if done.contents is not None:
        one = done.contents
        last = f", the last of {one.last_reading[:16].replace('T', ' ')} UTC" if one.last_reading else ""
        said.append(f"In its place now: {done.backup}")
        said.append(f"It has {one.jobs} jobs and {one.readings} readings{last}. Folder: {folder.path}")
    if done.aside:
        said.append(f"What was there before is kept: {done.aside}")
    if done.photos:
        said.append(f"Photos put back: {len(done.photos)}")
    if done.lost:
        said.append(f"Photos of which there is no copy: {', '.join(name[:12] for name in done.lost)}")
    return said
