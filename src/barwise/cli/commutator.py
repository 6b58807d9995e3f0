"""`barwise commutator`: indicator and micrometer readings in, cut plan out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from barwise.cli.answering import read_in, say
from barwise.cli.drawing import write_drawing
from barwise.errors import InputError

if TYPE_CHECKING:
    from barwise.files.commutator_file import CommutatorFile
    from barwise.inspect.commutator.plan import CutPlan
    from barwise.inspect.commutator.profile import Profile
    from barwise.inspect.commutator.update import AfterPass


def commutator(
    commutator_file: Annotated[
        Path, typer.Argument(metavar="COMMUTATOR.toml", help="Its sheet, and the diameter measured.")
    ],
    profile_file: Annotated[Path, typer.Argument(metavar="PROFILE.csv", help="Its indicator readings.")],
    json: Annotated[bool, typer.Option("--json", help="Answer as one JSON object.")] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.svg", help="Draw the profile and what each pass cleans.")
    ] = None,
    cut_to: Annotated[
        float | None, typer.Option(help="After a pass: the diameter it measures now, in the files' unit.")
    ] = None,
    untouched: Annotated[
        str | None, typer.Option(help="After a pass: bars that still show old metal, 4,17,18 or none.")
    ] = None,
) -> None:
    """Plan the cut: where it cleans up, how worn it is then, and whether it is worth it."""
    from barwise.files.commutator_file import load_commutator

    known = load_commutator(commutator_file)
    profile, said = _walk(known, profile_file)
    found = _after_pass(known, profile, cut_to, untouched)
    plan = _plan(known, profile, found, said, profile_file)
    if picture is not None:
        _draw(known, plan, picture)
    if json:
        from barwise.report.commutator.as_json import commutator_json

        typer.echo(commutator_json(plan, known.unit))
        return
    from barwise.report.commutator.text import commutator_text

    say(commutator_text(plan, known.unit))


def _walk(known: CommutatorFile, profile_file: Path) -> tuple[Profile, tuple[str, ...]]:
    from barwise.files.profile_file import load_profile

    return load_profile(profile_file, known)


def _plan(
    known: CommutatorFile,
    profile: Profile,
    found: AfterPass | None,
    said: tuple[str, ...],
    profile_file: Path,
) -> CutPlan:
    from dataclasses import replace

    from barwise.inspect.commutator.plan import plan_cut

    with read_in(profile_file):
        plan = plan_cut(profile, known.micrometers, known.brush_band, known.sheet, known.setup, found)
    return replace(plan, notes=(*said, *plan.notes))


def _after_pass(
    known: CommutatorFile, profile: Profile, cut_to: float | None, untouched: str | None
) -> AfterPass | None:
    """What was found after a pass; it leaves at most what the highest place was, by the walk."""
    from barwise.inspect.commutator.update import AfterPass
    from barwise.measure.units import UNITS

    if cut_to is None:
        if untouched is not None:
            raise InputError(
                "--untouched", untouched, "--cut-to with it, the diameter measured after the pass"
            )
        return None
    first = known.micrometers[0]
    factor = UNITS[known.unit].factor
    rises = float(profile.value_m.max() - profile.value_m.min()) + first.resolution_m
    if not 0.6 * first.diameter_m < cut_to * factor <= first.diameter_m + 2 * rises:
        before = f"{first.diameter_m / factor:.5g} {known.unit}"
        raise InputError("--cut-to", f"{cut_to:g}", f"a diameter near or below the {before} before the cut")
    return AfterPass(cut_to * factor, first.resolution_m, _bars(untouched, known.bars))


def _bars(written: str | None, bars: int) -> frozenset[int] | None:
    if written is None:
        return None
    words = written.replace(",", " ").split()
    if words == ["none"]:
        return frozenset()
    for word in words:
        if not (word.isascii() and word.isdigit() and 1 <= int(word) <= bars):
            raise InputError("--untouched", f'"{word}"', f"bars from 1 to {bars} such as 4,17,18, or none")
    return frozenset(int(word) - 1 for word in words)


def _draw(known: CommutatorFile, plan: CutPlan, picture: Path) -> None:
    from barwise.report.commutator.picture import commutator_picture

    write_drawing(commutator_picture(plan, known.unit), picture)
