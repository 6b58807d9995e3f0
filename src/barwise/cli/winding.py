"""``barwise winding``: which windings fit what was counted, and the table or picture of one."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn, TypeVar

import typer

from barwise.errors import BarwiseError, InputError, WindingError
from barwise.machine.candidates import Candidate, fitting_windings, left_out
from barwise.machine.tables import coil_table, pitches, sequence_text
from barwise.machine.winding import Kind, Progression, Winding
from barwise.report.armature.end_view import draw
from barwise.report.armature.winding import candidates_text, coil_table_text, winding_summary

if TYPE_CHECKING:
    from barwise.inspect.armature.connection import Connection

Word = TypeVar("Word")

KINDS: dict[str, Kind] = {"lap": "lap", "wave": "wave"}
PROGRESSIONS: dict[str, Progression] = {
    "progressive": "progressive",
    "retrogressive": "retrogressive",
}


def winding(
    bars: Annotated[int, typer.Option(help="Commutator bars.")],
    slots: Annotated[int | None, typer.Option(help="Slots of the core.")] = None,
    poles: Annotated[int | None, typer.Option(help="Poles of the field.")] = None,
    kind: Annotated[str | None, typer.Option(help="lap or wave: only these.")] = None,
    progression: Annotated[str | None, typer.Option(help="progressive or retrogressive: only these.")] = None,
    plex: Annotated[int | None, typer.Option(help="1 simplex, 2 duplex: only these.")] = None,
    turns: Annotated[int, typer.Option(help="Turns per coil.")] = 1,
    coil_pitch: Annotated[
        int | None, typer.Option(help="Slots from top to bottom side: 7 for slots 1 and 8.")
    ] = None,
    table: Annotated[
        bool, typer.Option("--table", help="Coil table of the most usual winding that fits.")
    ] = False,
    picture: Annotated[
        Path | None, typer.Option(help="Write an end view of that winding to this SVG file.")
    ] = None,
    readings: Annotated[
        Path | None,
        typer.Option(metavar="READINGS.csv", help="Readings of the armature: which winding they speak for."),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object.")] = False,
) -> None:
    """List the windings that fit a count of bars, slots and poles, most usual first."""
    try:
        fits = _fits(bars, slots, poles, kind, progression, plex, turns)
        found = None if readings is None else _inferred(fits, readings)
        chosen = _with_pitch((found.fits if found else fits)[0].winding, coil_pitch)
    except BarwiseError as error:
        _refuse(str(error))
    if picture is not None:
        _write(picture, draw(chosen))
    notes = left_out(bars, poles) if poles is not None and kind is None else ()
    if as_json:
        answer = _answer(fits, notes, chosen if table else None)
        typer.echo(json.dumps(answer if found is None else found.into(answer), ensure_ascii=False))
    elif table:
        typer.echo(coil_table_text(chosen))
    elif found is not None:
        typer.echo(found.text(), nl=False)
    elif picture is not None:
        typer.echo(f"{winding_summary(chosen)}\npicture written to {picture}")
    else:
        typer.echo(candidates_text(fits, notes))


@dataclass(frozen=True)
class _Inferred:
    """What readings say of the windings that fit, most probable first."""

    connections: tuple[Connection, ...]
    fits: tuple[Candidate, ...]
    explained: bool
    fed: bool

    def text(self) -> str:
        from barwise.report.armature.connection import connection_text

        return connection_text(self.connections, explained=self.explained, fed=self.fed)

    def into(self, answer: dict[str, object]) -> dict[str, object]:
        from barwise.report.armature.connection import connection_answer

        share = [connection.probability for connection in self.connections]
        fits = [_fit(fit) | {"probability": p} for fit, p in zip(self.fits, share, strict=True)]
        connection = connection_answer(self.connections, explained=self.explained, fed=self.fed)
        return answer | {"fits": fits, "connection": connection}


def _inferred(fits: tuple[Candidate, ...], path: Path) -> _Inferred:
    from barwise.files.readings_file import Counts, load_readings
    from barwise.inspect.armature import diagnose
    from barwise.inspect.armature.connection import infer_connection
    from barwise.inspect.armature.wording import CONTRADICTORY

    by_winding = {fit.winding: fit for fit in fits}
    counted = fits[0].winding
    taken = load_readings(path, Counts(counted.bars, counted.slots))
    connections = infer_connection(tuple(by_winding), taken)
    best = connections[0]
    if best.probability == 0.0:
        expected = "bars and feeds that one of the windings that fit joins (a blade needs --slots)"
        raise InputError(str(path), "readings between bars that no winding that fits joins", expected)
    return _Inferred(
        connections,
        tuple(by_winding[connection.winding] for connection in connections),
        CONTRADICTORY not in diagnose(best.winding, taken).notes,
        any(reading.test in ("drop", "resistance") for reading in taken),
    )


def _fits(
    bars: int,
    slots: int | None,
    poles: int | None,
    kind: str | None,
    progression: str | None,
    plex: int | None,
    turns: int,
) -> tuple[Candidate, ...]:
    wanted_kind = None if kind is None else _one_of("--kind", kind, KINDS)
    if plex is not None and plex < 1:
        raise WindingError(f"--plex: found {plex}, expected a whole number from 1")
    fits = fitting_windings(bars, slots, poles, kind=wanted_kind, most_plex=plex or 2, turns_per_coil=turns)
    way = None if progression is None else _one_of("--progression", progression, PROGRESSIONS)
    left = tuple(
        fit
        for fit in fits
        if (way is None or fit.winding.progression == way) and (plex is None or fit.winding.plex == plex)
    )
    if not left:
        # Only one winding can be meant now, and it says itself why it cannot exist.
        Winding(wanted_kind or "lap", poles or 4, bars, turns, way or "progressive", slots, plex or 1)
        raise WindingError(f"bars: no winding of {bars} bars fits all that was asked for")
    return left


def _with_pitch(chosen: Winding, coil_pitch: int | None) -> Winding:
    if coil_pitch is None:
        return chosen
    return Winding(
        chosen.kind, chosen.poles, chosen.bars, chosen.turns_per_coil, chosen.progression,
        chosen.slots, chosen.plex, coil_pitch_slots=coil_pitch,
    )  # fmt: skip


def _one_of(option: str, found: str, words: Mapping[str, Word]) -> Word:
    if found not in words:
        raise WindingError(f"{option}: found {found!r}, expected {' or '.join(words)}")
    return words[found]


def _answer(fits: tuple[Candidate, ...], notes: tuple[str, ...], chosen: Winding | None) -> dict[str, object]:
    answer: dict[str, object] = {"fits": [_fit(fit) for fit in fits], "notes": list(notes)}
    if chosen is not None:
        answer["table"] = [vars(row) for row in coil_table(chosen)]
        answer["sequence"] = [sequence_text(chosen, ring) for ring in range(chosen.closures)]
    return answer


def _fit(fit: Candidate) -> dict[str, object]:
    of, pitch = fit.winding, pitches(fit.winding)
    return {
        "kind": of.kind,
        "poles": of.poles,
        "bars": of.bars,
        "slots": of.slots,
        "progression": of.progression,
        "plex": of.plex,
        "step": of.step,
        "back_pitch": pitch.back,
        "front_pitch": pitch.front,
        "parallel_paths": of.parallel_paths,
        "closures": of.closures,
        "coils_per_slot": of.coils_per_slot,
        "dead_coils": of.dead_coils,
        "coil_pitches_slots": list(fit.pitches_slots),
        "standing": fit.standing,
        "reason": fit.reason,
    }


def _write(path: Path, drawing: str) -> None:
    try:
        path.write_text(drawing, encoding="utf-8")
    except OSError as error:
        _refuse(f"{path}: cannot be written ({error.strerror})")


def _refuse(message: str) -> NoReturn:
    typer.echo(message, err=True)
    raise typer.Exit(2)
