"""``barwise key``: the key that finished jobs are signed with."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from barwise.files.signing_key import grouped
from barwise.web.data_folder import chosen_folder, data_folder
from barwise.web.started import plain_words, prepare

key = typer.Typer(
    help="The key that finished jobs are signed with: show it, make another.", no_args_is_help=True
)

Where = Annotated[Path | None, typer.Option("--data", help="Folder of the shop; else its usual one.")]


@key.command()
def show(data: Where = None) -> None:
    """Say the fingerprint of each key, and which signs; the first is made if there is none."""
    folder = data_folder() if data is None else chosen_folder(data)
    prepare(folder)
    from barwise.record.shop_key import public_keys, the_key

    with plain_words(folder):
        signs = the_key().fingerprint
        for one in public_keys():
            by = f", vouched for by {grouped(one.follows)}" if one.follows else ""
            now = "signs now" if one.fingerprint == signs else "signed before"
            typer.echo(f"{grouped(one.fingerprint)}  {now}, since {one.made_at[:10]}{by}")
    typer.echo(
        f"Its file: {folder.signing_key}. Keep a copy that nobody else can reach: it signs as this shop."
    )


@key.command()
def new(data: Where = None) -> None:
    """Make another key that signs from now on; the one before vouches for it, and its file is then gone."""
    folder = data_folder() if data is None else chosen_folder(data)
    prepare(folder)
    from barwise.record.shop_key import new_key, the_key

    with plain_words(folder):
        old = the_key().fingerprint
        made = new_key()
    typer.echo(f"{grouped(made.fingerprint)} signs from now on; {grouped(old)} vouches for it.")
    typer.echo("What was signed before stays as it is. Copies of the old key's file should go.")
