"""``barwise worth``: rebuild, exchange or new - what each costs and how long it lasts."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def worth(
    prices_file: Annotated[
        Path, typer.Argument(metavar="WORTH.toml", help="Parts with prices and times, other units.")
    ],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
) -> None:
    """Say whether to put it back, and what must be done to it."""
    from barwise.files.worth_file import load_worth
    from barwise.inspect.worth import weigh
    from barwise.report.parts.worth import worth_json, worth_text

    given = load_worth(prices_file)
    said = worth_json if json else worth_text
    typer.echo(said(given.title, given.quote, weigh(given.quote), given.decimals), nl=json)
