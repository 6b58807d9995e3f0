"""`barwise instrument`: meters and gauges that talk."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from barwise.measure.spoken import Spoken
    from barwise.talk.meter import Meter

instrument = typer.Typer(help="Meters and gauges that talk: docs/instruments.md.", no_args_is_help=True)

Profile = Annotated[Path, typer.Argument(metavar="PROFILE.toml", help="How the meter or gauge talks.")]
Address = Annotated[str, typer.Option(help="Where it is plugged in, in the place of the profile's.")]
Visa = Annotated[str, typer.Option(help="Which VISA library PyVISA is to use.")]
PYTHONS_OWN = "@py"
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]


@instrument.command("list")
def list_ports(visa: Visa = PYTHONS_OWN, as_json: AsJson = False) -> None:
    """Show where something is plugged in, as a profile's address names it."""
    from barwise.talk.wires import plugged_in

    found = plugged_in(visa)
    if as_json:
        typer.echo(json.dumps({"addresses": list(found)}))
        return
    for address in found or ("Nothing is plugged in that could be a meter.",):
        typer.echo(address)
    typer.echo("Meters in the network are not looked for: their profile names their address.")


@instrument.command()
def check(
    profile_file: Profile,
    line: Annotated[
        list[str] | None, typer.Option(help="A line as the device wrote it; says what it means.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Say what a profile means, and what lines of the device mean by it; nothing need be plugged in."""
    from barwise.report.measured.meter import profile_answer, profile_text, reading_text
    from barwise.talk.profile import load_profile

    profile = load_profile(profile_file)
    read = [profile.read(one) for one in line or ()]
    if as_json:
        typer.echo(json.dumps({**profile_answer(profile), "lines": [_answer(one) for one in read]}))
        return
    typer.echo(profile_text(profile))
    for one in read:
        typer.echo(f"{one.line!r} is {reading_text(one)}")


@instrument.command()
def read(
    profile_file: Profile,
    count: Annotated[int, typer.Option("-n", help="How many readings.", min=1, max=1_000_000)] = 1,
    steady: Annotated[bool, typer.Option(help="Only readings that settled, one for each touch.")] = False,
    address: Address = "",
    visa: Visa = PYTHONS_OWN,
    as_json: AsJson = False,
) -> None:
    """Read the meter or gauge, at this computer, and print what it says."""
    from barwise.report.measured.meter import reading_text
    from barwise.talk.meter import open_meter
    from barwise.talk.profile import load_profile

    meter = open_meter(load_profile(profile_file), address, visa)
    try:
        if meter.identity and not as_json:
            typer.echo(f"{meter.profile.title}: {meter.identity}", err=True)
        for n, one in enumerate(_readings(meter, steady=steady), start=1):
            typer.echo(json.dumps(_answer(one), allow_nan=False) if as_json else reading_text(one))
            if n == count:
                break
    finally:
        meter.close()


@instrument.command()
def listen(
    profile_file: Profile,
    tag: Annotated[str, typer.Option("--instrument", help="Tag of the shop's instrument that this is.")],
    server: Annotated[str, typer.Option(help="Where the bench is served.")] = "http://127.0.0.1:8437",
    name: Annotated[str, typer.Option(help="An account, where the bench is served to the network.")] = "",
    password_stdin: Annotated[
        bool, typer.Option("--password-stdin", help="Read its password from standard input.")
    ] = False,
    address: Address = "",
    visa: Visa = PYTHONS_OWN,
    as_json: AsJson = False,
) -> None:
    """Listen to a meter plugged in here, for the walk that asks for it, until Ctrl-C."""
    from barwise.report.measured.meter import rule_in_words
    from barwise.talk.bench import Bench
    from barwise.talk.listener import Listener
    from barwise.talk.profile import load_profile

    def say(line: str) -> None:
        typer.echo(json.dumps({"said": line}) if as_json else line)

    profile = load_profile(profile_file)
    bench = Bench(server, name, _password(password_stdin) if name else "")
    Listener(profile, bench, tag, rule_in_words(profile), say, address, visa).run()


def _password(from_input: bool) -> str:
    if from_input:
        return sys.stdin.readline().rstrip("\n")
    typed: str = typer.prompt("Password", hide_input=True)
    return typed


def _readings(meter: Meter, *, steady: bool) -> Iterator[Spoken]:
    from barwise.talk.taking import Taking

    taking = Taking(meter.profile)
    taking.begin("steady")
    while True:
        spoken = meter.reading()
        if not steady:
            yield spoken
            continue
        taken = taking.hear(spoken, time.monotonic(), range_moved=meter.range_moved)
        if taken is not None:
            yield taken


def _answer(one: Spoken) -> dict[str, Any]:
    return {"text": one.text, "unit": one.unit.name, "value_si": one.value_si, "line": one.line}
