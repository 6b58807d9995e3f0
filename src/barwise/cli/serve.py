"""``barwise serve``: the bench in a browser."""

from __future__ import annotations

from typing import Annotated

import typer

from barwise.web.serve import PORT, Serving
from barwise.web.serve import serve as served


def serve(
    port: Annotated[int, typer.Option(help="Port to listen on.")] = PORT,
    lan: Annotated[bool, typer.Option("--lan", help="Serve the shop's network too, with accounts.")] = False,
    https: Annotated[str, typer.Option(help="Name under which a proxy here serves it by https.")] = "",
    name: Annotated[list[str] | None, typer.Option(help="A further name it answers to; repeatable.")] = None,
) -> None:
    """Serve the bench to this computer's browser, or with --lan to the shop's network."""
    served(Serving(port=port, lan=lan, https=https, names=tuple(name or ())), typer.echo)
