"""``barwise people``: accounts for a bench that is served to the shop's network."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from barwise.web.data_folder import data_folder
from barwise.web.started import prepare

people = typer.Typer(help="Who may sign in over the shop's network, and as what.", no_args_is_help=True)

Name = Annotated[str, typer.Argument(help="As the person signs in.")]
Role = Annotated[str, typer.Option(help="bench, office or reader.")]
FromInput = Annotated[bool, typer.Option("--password-stdin", help="Read the password from standard input.")]


@people.callback()
def _ready() -> None:
    """Open the shop's database before each of these commands."""
    prepare(data_folder())


@people.command("list")
def list_people() -> None:
    """Show every account."""
    from barwise.web.people import accounts

    for account in accounts():
        typer.echo(f"{account.name:<30} {account.role:<8}{'' if account.open else ' closed'}".rstrip())


@people.command()
def add(name: Name, role: Role = "bench", password_stdin: FromInput = False) -> None:
    """Make an account."""
    from barwise.web.people import add as make

    make(name, role, _password(password_stdin))
    typer.echo(f"{name} may sign in now ({role}).")


@people.command()
def role(name: Name, role: Annotated[str, typer.Argument(help="bench, office or reader.")]) -> None:
    """Give an account another role."""
    from barwise.web.people import change_role

    change_role(name, role)
    typer.echo(f"{name} is {role} now.")


@people.command()
def password(name: Name, password_stdin: FromInput = False) -> None:
    """Give an account another password; where it is signed in, it must sign in again."""
    from barwise.web.people import change_password

    change_password(name, _password(password_stdin))
    typer.echo(f"{name} has a new password.")


@people.command()
def close(name: Name) -> None:
    """Let an account sign in no more. What it did stays under its name."""
    from barwise.web.people import change_open

    change_open(name, is_open=False)
    typer.echo(f"{name} may not sign in any more.")


@people.command("open")
def open_account(name: Name) -> None:
    """Let a closed account sign in again."""
    from barwise.web.people import change_open

    change_open(name, is_open=True)
    typer.echo(f"{name} may sign in again.")


@people.command()
def free() -> None:
    """End every wait after too many wrong passwords."""
    from barwise.web.people import free as end_waits

    typer.echo(f"{end_waits()} counts of wrong passwords were wiped.")


def _password(from_input: bool) -> str:
    if from_input:
        return sys.stdin.readline().rstrip("\n")
    typed: str = typer.prompt("Password, at least 10 characters", hide_input=True, confirmation_prompt=True)
    return typed
