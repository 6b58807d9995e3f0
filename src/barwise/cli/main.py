"""The `barwise` command: bad input ends in one plain line on stderr and exit code 2."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import Annotated

import typer
from typer.exceptions import TyperException

from barwise.errors import BarwiseError
from barwise.version import __version__

BAD_INPUT, INTERRUPTED = 2, 130

COMMANDS = {
    "armature": "barwise.cli.armature",
    "winding": "barwise.cli.winding",
    "micrometer": "barwise.cli.micrometer",
    "wear": "barwise.cli.wear",
    "limit": "barwise.cli.limit",
    "gauge": "barwise.cli.gauge",
    "instrument": "barwise.cli.instrument",
    "commutator": "barwise.cli.commutator",
    "crank": "barwise.cli.crank",
    "worth": "barwise.cli.worth",
    "fields": "barwise.cli.fields",
    "insulation": "barwise.cli.insulation",
    "brushes": "barwise.cli.brushes",
    "switch": "barwise.cli.switch",
    "drive": "barwise.cli.drive",
    "bearings": "barwise.cli.bearings",
    "fit": "barwise.cli.fit",
    "shaft": "barwise.cli.shaft",
    "assembly": "barwise.cli.assembly",
    "run": "barwise.cli.run",
    "demo": "barwise.cli.demo",
    "print": "barwise.cli.printing",
    "serve": "barwise.cli.serve",
    "people": "barwise.cli.people",
    "backup": "barwise.cli.backup",
    "restore": "barwise.cli.restore",
    "history": "barwise.cli.history",
    "recheck": "barwise.cli.recheck",
    "verify": "barwise.cli.verify",
    "key": "barwise.cli.key",
    "manage": "barwise.cli.manage",
}
"""Each command's function, or its group of commands, has its name and stands in this module."""


def application(wanted: str = "") -> typer.Typer:
    """The command line, with only the `wanted` command if it is one: the others need not load."""
    app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)
    app.callback()(barwise)
    for name in (wanted,) if wanted in COMMANDS else COMMANDS:
        module = import_module(COMMANDS[name])
        command = getattr(module, name)
        if isinstance(command, typer.Typer):
            app.add_typer(command, name=name)
        else:
            app.command(name, context_settings=getattr(module, "SETTINGS", None))(command)
    return app


def _say_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"barwise {__version__}")
        raise typer.Exit


def barwise(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_say_version, is_eager=True, help="Say the version."),
    ] = False,
) -> None:
    """The bench file for people who rebuild starter motors."""


def run() -> None:
    """Run the command line and leave with its exit code."""
    sys.exit(exit_code(sys.argv[1:]))


def exit_code(arguments: list[str]) -> int:
    """Run one command: 0 when it computed an answer, 2 on bad input, said in one line on stderr."""
    try:
        app = application(arguments[0] if arguments else "")
        code = app(arguments or ["--help"], prog_name="barwise", standalone_mode=False)
    except BarwiseError as error:
        return _refuse(str(error))
    except TyperException as error:
        return _refuse(f"{error.format_message()} (barwise --help says how)")
    except KeyboardInterrupt:
        return INTERRUPTED
    return code if isinstance(code, int) else 0


def _refuse(reason: str) -> int:
    print(" ".join(reason.split()), file=sys.stderr)
    return BAD_INPUT


if __name__ == "__main__":
    run()
