"""Windings as plain text: the tables a rebuilder keeps beside the winding stand."""

from __future__ import annotations

from collections.abc import Sequence

from barwise.machine.candidates import Candidate
from barwise.machine.tables import CoilRow, coil_table, pitches, sequence_text, slot_table
from barwise.machine.winding import Winding

PLEX_WORDS = {1: "simplex", 2: "duplex", 3: "triplex"}


def winding_summary(winding: Winding) -> str:
    """Kind, pitches, paths and closures, a few lines."""
    pitch = pitches(winding)
    turns = "1 turn" if winding.turns_per_coil == 1 else f"{winding.turns_per_coil} turns"
    sides = f"back pitch {pitch.back:+d}, front pitch {pitch.front:+d} coil sides"
    lines = [
        f"{winding_name(winding)}, {winding.bars} bars, {turns} per coil",
        f"coil 1 goes from bar 1 to bar {winding.coil_bars(1)[1]}",
        f"commutator pitch {pitch.commutator:+d} bars, {sides}",
        f"{winding.parallel_paths} parallel paths, {_rings(winding.closures)}",
    ]
    if winding.slots is not None and winding.slot_pitch is not None:
        dead = f", {winding.dead_coils} dead" if winding.dead_coils else ""
        lines.append(
            f"{winding.slots} slots, {winding.coils_per_slot} coils to a slot{dead}; "
            f"coil lies in slots 1 and {1 + winding.slot_pitch}"
        )
    if winding.poles == 2 and winding.kind == "wave":
        lines.append("with 2 poles this is the same circuit as a lap winding")
    return "\n".join(lines)


def winding_name(winding: Winding) -> str:
    """Such as ``4-pole simplex wave, retrogressive``."""
    plex = PLEX_WORDS.get(winding.plex, f"{winding.plex}-plex")
    return f"{winding.poles}-pole {plex} {winding.kind}, {winding.progression}"


def coil_table_text(winding: Winding) -> str:
    """Coil, bars, coil sides and slots, one line for each coil, then the order of connection."""
    header = ["coil", "from bar", "to bar", "top side", "bottom side"]
    if winding.slots is not None:
        header += ["top slot", "bottom slot"]
    rows = [_cells(row)[: len(header)] for row in coil_table(winding)]
    parts = [winding_summary(winding), _columns(header, rows)]
    parts += [f"ring {ring + 1}: {sequence_text(winding, ring)}" for ring in range(winding.closures)]
    dead = [str(row.slot) for row in slot_table(winding) if row.dead_sides]
    if dead:
        parts.append(f"a side of a dead coil lies in slot {' and slot '.join(dead)}")
    return "\n\n".join(parts)


def candidates_text(candidates: Sequence[Candidate], notes: Sequence[str] = ()) -> str:
    """The windings that fit, most usual first, and why others were left out."""
    lines = []
    for count, fit in enumerate(candidates, 1):
        winding = fit.winding
        lines.append(
            f"{count:2}. {winding_name(winding)}: coil 1 from bar 1 to bar "
            f"{winding.coil_bars(1)[1]}{_span(fit)}"
        )
        lines.append(f"    {fit.standing}: {fit.reason}")
    return "\n".join([*lines, *notes])


def _cells(row: CoilRow) -> tuple[int | None, ...]:
    connected = (row.coil, row.start_bar, row.end_bar, row.top_side, row.bottom_side)
    return (*connected, row.top_slot, row.bottom_slot)


def _span(fit: Candidate) -> str:
    if not fit.pitches_slots:
        return ""
    spans = " or ".join(f"1 and {1 + pitch}" for pitch in fit.pitches_slots)
    return f", slots {spans}"


def _rings(closures: int) -> str:
    return "one closed ring" if closures == 1 else f"{closures} separate closed rings"


def _columns(header: Sequence[str], rows: Sequence[Sequence[int | None]]) -> str:
    widths = [len(word) for word in header]
    lines = ["  ".join(header)]
    for row in rows:
        cells = ("" if cell is None else str(cell) for cell in row)
        lines.append("  ".join(c.rjust(w) for c, w in zip(cells, widths, strict=True)))
    return "\n".join(lines)
