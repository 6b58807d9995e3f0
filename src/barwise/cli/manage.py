"""``barwise manage``: Django's own commands on the shop's database."""

from __future__ import annotations

from typing import Annotated

import typer

from barwise.web.started import manage as managed

SETTINGS = {"ignore_unknown_options": True, "help_option_names": []}
"""Everything after ``manage`` is for Django, ``--help`` too."""


def manage(arguments: Annotated[list[str] | None, typer.Argument(metavar="COMMAND ...")] = None) -> None:
    """Run one of Django's own commands on the shop: check, migrate, dumpdata, ..."""
    managed(arguments or [])
