"""`barwise fields`: what was read across a frame's field coils in, which coil is bad out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwise.cli.answering import say

if TYPE_CHECKING:
    from barwise.files.fields_file import FieldsFile
    from barwise.inspect.fields.ground import Located


def fields(
    fields_file: Annotated[
        Path, typer.Argument(metavar="FILE.toml", help="Its coils, and what was read across them.")
    ],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
) -> None:
    """Compare field coils: open, shorted turns, bad joint or ground, and in which coil."""
    from barwise.files.fields_file import load_fields
    from barwise.inspect.fields import FrameAnswer, assess
    from barwise.inspect.fields.shunt import assess_shunt

    known = load_fields(fields_file)
    circuit = known.circuit
    answer = FrameAnswer(
        kind=known.kind,
        coils=assess(circuit) if circuit is not None and circuit.readings else None,
        shunt=assess_shunt(known.shunt) if known.shunt is not None else None,
        ground=_ground(known, fields_file),
        notes=known.notes,
    )
    if json:
        from barwise.report.parts.fields_json import fields_json

        typer.echo(fields_json(answer))
        return
    from barwise.report.parts.fields import fields_text

    say(fields_text(answer))


def _ground(known: FieldsFile, fields_file: Path) -> Located | None:
    """Where the ground sits, by the drops of the coils of the path that is fed."""
    from barwise.errors import InputError
    from barwise.inspect.fields.ground import locate_on_path

    drops, circuit = known.ground, known.circuit
    if drops is None or circuit is None:
        return None
    found = locate_on_path(circuit, drops.path, drops.first, drops.last, drops.whole)
    if found is None:
        expected = f"a reading of every coil of path {drops.path}: the ground is placed by them"
        raise InputError(f"{fields_file}, [ground]", "coils that were not read", expected)
    return found
