"""An answer on the terminal: its verdict stands out, and what cannot be measured so names its file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import typer

from barwise.errors import MeasurementError


def say(answer: str) -> None:
    """Print an answer whose first line is its verdict, that in bold where the output is a terminal."""
    verdict, line_end, rest = answer.partition("\n")
    typer.echo(typer.style(verdict, bold=True) + line_end + rest, nl=False)


@contextmanager
def read_in(file: Path) -> Iterator[None]:
    """Measurements that stand in a file; what is wrong with them is said with its name."""
    try:
        yield
    except MeasurementError as error:
        raise MeasurementError(f"{file}: {error}") from None
