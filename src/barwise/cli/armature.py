"""`barwise armature`: readings in, located fault out; or a walk that takes the readings."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from barwise.cli.answering import say
from barwise.cli.drawing import write_drawing
from barwise.errors import InputError, WindingError

if TYPE_CHECKING:
    from barwise.files.winding_file import WindingFile
    from barwise.inspect.diagnosis import Diagnosis

Walk = Literal["drop", "induced", "resistance", "ground", "shaft-drop"]


def armature(
    winding_file: Annotated[Path, typer.Argument(metavar="WINDING.toml", help="How the armature is wound.")],
    readings_file: Annotated[
        Path | None, typer.Argument(metavar="READINGS.csv", help="Its readings.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw the armature and its readings.")
    ] = None,
    walk: Annotated[
        Walk | None,
        typer.Option(
            help="Take the readings of this test bar by bar. They go to READINGS.csv, or without "
            "one beside the winding file under its name."
        ),
    ] = None,
    feed_from: Annotated[int | None, typer.Option(help="Walk: bar where current goes in.")] = None,
    feed_to: Annotated[int | None, typer.Option(help="Walk: bar where it comes out.")] = None,
    amps: Annotated[float | None, typer.Option(help="Walk: the current [A].")] = None,
    unit: Annotated[str | None, typer.Option(help="Walk: unit of the readings.")] = None,
) -> None:
    """Find the fault in an armature from its readings, or take the readings."""
    from barwise.files.winding_file import load_winding

    if walk is not None:
        from barwise.cli.walk import WalkOptions, walk_in_terminal

        if json or picture:
            raise InputError("--walk", "--json or --picture with it", "one after the other")
        path = readings_file or winding_file.with_suffix(".csv")
        options = WalkOptions(walk, feed_from, feed_to, amps, unit)
        walk_in_terminal(load_winding(winding_file).winding, path, options)
        return
    for name, value in (
        ("feed-from", feed_from),
        ("feed-to", feed_to),
        ("amps", amps),
        ("unit", unit),
    ):
        if value is not None:
            raise InputError(f"--{name}", str(value), "--walk with it")
    if readings_file is None:
        raise InputError("READINGS.csv", "nothing", "a file of readings, or --walk drop to take them")
    _answer(load_winding(winding_file), readings_file, json=json, picture=picture)


def _answer(wound: WindingFile, readings_file: Path, *, json: bool, picture: Path | None) -> None:
    diagnosis = _diagnose(wound, readings_file)
    if picture is not None:
        _draw(wound, diagnosis, picture)
    if json:
        from barwise.report.armature.as_json import armature_json

        typer.echo(armature_json(wound.winding, diagnosis))
        return
    from barwise.report.armature.text import armature_text

    say(armature_text(wound.winding, diagnosis))


def _diagnose(wound: WindingFile, readings_file: Path) -> Diagnosis:
    from barwise.files.readings_file import load_readings
    from barwise.inspect.armature import diagnose

    readings = load_readings(readings_file, wound.winding)
    try:
        return diagnose(wound.winding, readings, meter_ohm=wound.meter_ohm)
    except InputError as error:
        where = f"{readings_file} {error.where}"
        raise InputError(where, error.found, error.expected) from None
    except WindingError as error:
        raise WindingError(f"{readings_file}: {error}") from None


def _draw(wound: WindingFile, diagnosis: Diagnosis, picture: Path) -> None:
    from barwise.report.armature.picture import armature_picture

    write_drawing(armature_picture(wound.winding, diagnosis), picture)
