"""What the readers of files do with text that a tired hand, a broken disk or an enemy wrote.

Every reader must give a value or refuse with one plain line; every command must answer or refuse, in strict
JSON or one line. Half of the texts are the examples of this repository with a few places spoilt, as text made
of nothing but chance hardly gets past the first line.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import tempfile
import warnings
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from barwise.cli.main import BAD_INPUT, exit_code
from barwise.cli.verify import NOT_WHOLE
from barwise.errors import BarwiseError
from barwise.files.assembly_file import parse_assembly
from barwise.files.bearings_file import parse_bearings
from barwise.files.brushes_file import parse_brushes
from barwise.files.commutator_file import parse_commutator
from barwise.files.cranking_file import parse_cranking
from barwise.files.drive_file import parse_drive
from barwise.files.fields_file import parse_fields
from barwise.files.insulation_file import parse_insulation
from barwise.files.profile_file import parse_profile
from barwise.files.readings_file import parse_readings
from barwise.files.run_file import parse_run
from barwise.files.run_log import parse_log
from barwise.files.shaft_file import parse_shaft
from barwise.files.study_file import parse_study
from barwise.files.switch_file import parse_switch
from barwise.files.verifying import verify_bytes
from barwise.files.winding_file import parse_winding
from barwise.files.worth_file import parse_worth
from barwise.route.family import parse_family
from barwise.route.sheet import built_in_text, parse_sheet
from barwise.talk.profile import parse_profile as parse_meter
from benchmarks.blocks import put

ROOT = Path(__file__).parent.parent
EXAMPLES = ROOT / "examples"
FIGURES = Path("docs/figures/fuzz.json")
PAGE = Path("docs/reliability.md")
LONGEST_LINE = 600
"""A refusal longer than this nobody reads."""

NASTY = (
    "", "0", "-0", "-1", "1e999", "-1e308", "1e-320", "nan", "inf", "NaN", "1,5", "1.2.3", "1_0",
    "0x1F", "٣", "½", "1" * 400, "9999999999999999999", "true", "[]", "{}", '""', '"', "'", "[[",
    "]]", "=", "\x00", "\ufeff", "\r", "# x", "1.5 in", "1.5 mm", "3 °C", "5 furlong", "12 V",
    "1 %", "../../x", "日本", "💥", "\u202e", "null", "--",
)  # fmt: skip


LINE_SLIPS = ("drop", "double", "swap")


def spoilt(text: str) -> st.SearchStrategy[str]:
    """A text with one to four of its places spoilt: cut, doubled, swapped, or something nasty put in."""
    words = text.split(" ")
    lines = text.split("\n")
    spoiling = st.one_of(
        st.tuples(st.just("word"), st.integers(0, len(words) - 1), st.sampled_from(NASTY)),
        st.tuples(st.just("line"), st.integers(0, len(lines) - 1), st.sampled_from(LINE_SLIPS)),
        st.tuples(st.just("cell"), st.integers(0, len(lines) - 1), st.sampled_from(NASTY)),
        st.tuples(st.just("put"), st.integers(0, len(text)), st.text(max_size=5)),
        st.tuples(st.just("cut"), st.integers(0, len(text)), st.just("")),
    )
    return st.lists(spoiling, min_size=1, max_size=4).map(lambda wanted: _spoil(text, wanted))


def _spoil(text: str, wanted: list[tuple[str, int, str]]) -> str:
    for how, place, what in wanted:
        if how == "put":
            text = text[:place] + what + text[place:]
        elif how == "cut":
            text = text[:place]
        elif how == "word":
            text = _replaced(text, " ", place, what)
        else:
            text = _spoil_line(text, place, how, what)
    return text


def _replaced(text: str, between: str, place: int, what: str) -> str:
    parts = text.split(between)
    parts[place % len(parts)] = what
    return between.join(parts)


def _spoil_line(text: str, place: int, how: str, what: str) -> str:
    lines = text.split("\n")
    place %= len(lines)
    if how == "cell":
        between = "," if "," in lines[place] else "="
        lines[place] = _replaced(lines[place], between, -1 if between == "=" else place % 9, what)
    elif what == "drop":
        del lines[place]
    elif what == "double":
        lines.insert(place, lines[place])
    else:
        lines[place - 1], lines[place] = lines[place], lines[place - 1]
    return "\n".join(lines)


@dataclass(frozen=True)
class Reader:
    """A reader of text, and a text that it takes."""

    read: Callable[[str], object]
    example: str


def _example(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


def readers() -> Mapping[str, Reader]:
    """Every reader of a file that people write."""
    winding = parse_winding(_example("demo/winding.toml")).winding
    commutator = parse_commutator(_example("demo/commutator.toml"))
    family = (ROOT / "src/barwise/route/families/starter.toml").read_text(encoding="utf-8")
    log = "time,volts,amps,rpm\n" + "\n".join(f"{0.001 * n:.3f},11.5,{400 - n},{n}" for n in range(40)) + "\n"
    return {
        "winding": Reader(parse_winding, _example("demo/winding.toml")),
        "readings": Reader(lambda text: parse_readings(text, winding), _example("demo/readings.csv")),
        "commutator": Reader(parse_commutator, _example("demo/commutator.toml")),
        "profile": Reader(lambda text: parse_profile(text, commutator), _example("demo/profile.csv")),
        "vehicle": Reader(parse_cranking, _example("demo/vehicle.toml")),
        "worth": Reader(parse_worth, _example("demo/worth.toml")),
        "fields": Reader(parse_fields, _example("fields/series-parallel.toml")),
        "insulation": Reader(parse_insulation, _example("fields/insulation.toml")),
        "brushes": Reader(parse_brushes, _example("parts/brushes.toml")),
        "switch": Reader(parse_switch, _example("parts/switch.toml")),
        "drive": Reader(parse_drive, _example("parts/drive.toml")),
        "bearings": Reader(parse_bearings, _example("parts/bearings.toml")),
        "shaft": Reader(parse_shaft, _example("parts/shaft.toml")),
        "assembly": Reader(parse_assembly, _example("parts/assembly.toml")),
        "run": Reader(parse_run, _example("run/demo.toml")),
        "log": Reader(parse_log, log),
        "seal": Reader(_verified, _example("proof/seal.json")),
        "study": Reader(parse_study, _example("gauge/study.csv")),
        "sheet": Reader(parse_sheet, built_in_text("demo-57-wave")),
        "family": Reader(parse_family, family),
        "meter": Reader(parse_meter, _example("instruments/dial-serial.toml")),
        "meter's line": Reader(parse_meter(_example("instruments/dial-serial.toml")).read, "01A +0.012 mm"),
        "meter's answer": Reader(parse_meter(_example("instruments/milliohm-scpi.toml")).read, "+7.13E-04"),
    }


def _verified(text: str) -> None:
    """Checked, and taken only if whole: whichever sign of it is altered, it is no longer that."""
    found = verify_bytes(text.encode("utf-8", "surrogatepass"))
    if found.word != "whole":
        said = "; ".join(one.line for one in found.altered[:3]) or "not signed"
        raise BarwiseError(said[: LONGEST_LINE // 2])


def texts_for(reader: Reader) -> st.SearchStrategy[str]:
    """Texts of nothing but chance, and its example spoilt."""
    return st.one_of(st.text(), spoilt(reader.example))


def check_reader(reader: Reader, text: str) -> bool:
    """Whether a text is taken. AssertionError if it is refused in more than one plain line."""
    try:
        reader.read(text)
    except BarwiseError as refusal:
        said = str(refusal)
        assert said.isprintable(), ascii(said)
        assert 0 < len(said) < LONGEST_LINE, said
        return False
    return True


@dataclass(frozen=True)
class Command:
    """A command with its files: the last is spoilt."""

    name: str
    files: tuple[str, ...]


COMMANDS = (
    Command("armature", ("demo/winding.toml", "demo/readings.csv")),
    Command("armature", ("demo/readings.csv", "demo/winding.toml")),
    Command("commutator", ("demo/commutator.toml", "demo/profile.csv")),
    Command("commutator", ("demo/profile.csv", "demo/commutator.toml")),
    Command("crank", ("demo/vehicle.toml",)),
    Command("worth", ("demo/worth.toml",)),
    Command("fields", ("fields/series-parallel.toml",)),
    Command("insulation", ("fields/insulation.toml",)),
    Command("brushes", ("parts/brushes.toml",)),
    Command("switch", ("parts/switch.toml",)),
    Command("drive", ("parts/drive.toml",)),
    Command("bearings", ("parts/bearings.toml",)),
    Command("shaft", ("parts/shaft.toml",)),
    Command("assembly", ("parts/assembly.toml",)),
    Command("run", ("run/demo.toml",)),
    Command("verify", ("proof/seal.json",)),
)


def check_command(command: Command, text: str, folder: Path) -> bool:
    """Whether a command answers with its last file spoilt. AssertionError if it neither does nor refuses."""
    spoilt_file = folder / Path(command.files[-1]).name
    spoilt_file.write_text(text, encoding="utf-8", newline="", errors="surrogatepass")
    files = [str(EXAMPLES / name) for name in command.files[:-1]] + [str(spoilt_file)]
    if command.files[-1].endswith("toml") and len(files) == 2:
        files.reverse()  # the sheet is named first, whichever of the two is spoilt
    code, out, err = _run([command.name, *files, "--json"])
    assert code in (0, BAD_INPUT, *((NOT_WHOLE,) if command.name == "verify" else ())), (code, err)
    if code != BAD_INPUT:
        json.loads(out, parse_constant=_no_number)
        return True
    assert not out, out
    assert err.strip().isprintable(), ascii(err)
    return False


def _run(arguments: list[str]) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), warnings.catch_warnings():
        warnings.simplefilter("error")
        code = exit_code(arguments)
    return code, out.getvalue(), err.getvalue()


def _no_number(word: str) -> None:
    raise AssertionError(f"{word} in the JSON")


def options(parser: argparse.ArgumentParser) -> None:
    """Options of the command line."""
    parser.add_argument("--texts", type=int, default=100_000, help="texts for the readers together")
    parser.add_argument("--answers", type=int, default=4500, help="spoilt files for the commands together")
    parser.add_argument("--only", default="", help="one reader or command")


def run(arguments: argparse.Namespace) -> dict[str, Any]:
    """Try them all; ends with the first text that is neither taken nor refused."""
    every = readers()
    each = -(-arguments.texts // len(every))
    found = {
        name: _counted(texts_for(one), each, lambda text, one=one: check_reader(one, text))
        for name, one in every.items()
        if arguments.only in ("", name)
    }
    each = -(-arguments.answers // len(COMMANDS))
    answered: dict[str, dict[str, int]] = {}
    with tempfile.TemporaryDirectory() as folder:
        for command in COMMANDS:
            if arguments.only in ("", command.name):
                text = spoilt(_example(command.files[-1]))
                answered[f"{command.name}, {command.files[-1]}"] = _counted(
                    text, each, lambda text, one=command: check_command(one, text, Path(folder))
                )
    figures = {"readers": found, "commands": answered}
    if not arguments.only:
        FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
        put(PAGE, "fuzz", block(figures))
    return figures


def _counted(texts: st.SearchStrategy[str], count: int, check: Callable[[str], bool]) -> dict[str, int]:
    """How many of so many texts were taken."""
    taken = {True: 0, False: 0}

    @settings(
        max_examples=count,
        deadline=None,
        database=None,
        phases=[Phase.generate, Phase.shrink],
        suppress_health_check=list(HealthCheck),
    )
    @given(texts)
    def tried(text: str) -> None:
        taken[check(text)] += 1

    tried()
    return {"texts": sum(taken.values()), "taken": taken[True]}


def table(found: dict[str, Any]) -> str:
    """What was tried, for the page."""
    lines = ["| reader | texts | of them taken |", "| --- | --- | --- |"]
    lines += [f"| {name} | {one['texts']:,} | {one['taken']:,} |" for name, one in found["readers"].items()]
    lines += ["", "| command, its spoilt file | files | of them answered |", "| --- | --- | --- |"]
    lines += [f"| {name} | {one['texts']:,} | {one['taken']:,} |" for name, one in found["commands"].items()]
    return "\n".join(lines)


def block(figures: dict[str, Any]) -> str:
    """The same with room about it."""
    return f"\n{table(figures)}\n\n"
