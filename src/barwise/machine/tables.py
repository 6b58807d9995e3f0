"""The connection tables of a winding, as textbooks print them and as a rebuilder lays it.

Coil sides are numbered as in the textbooks: odd in the top layer, even in the bottom layer, dead
coils left out. A coil joins side s to s + Y_b across the back (the pitch at the far end) and to the
next coil's side s + Y_b + Y_f across the front (at the commutator), so

    Y_b + Y_f = 2 y_c        y_c: bars from start to end of a coil

with Y_b and Y_f odd; Y_f is negative in a lap winding. A coil whose sides all stay together in
their slots has Y_b = 2 u n + 1 (u coils per slot, n slots of pitch).

Source of the rules: R. Prasad, Fundamentals of Electrical Engineering, 3rd edition, 2014, chapter
8.
"""

from __future__ import annotations

from dataclasses import dataclass

from barwise.machine.winding import Winding


@dataclass(frozen=True)
class Pitches:
    """Pitches in coil sides (`back`, `front`, `resultant`) and in bars (`commutator`), signed."""

    back: int
    front: int
    commutator: int

    @property
    def resultant(self) -> int:
        """From one coil's top side to the next coil's, in coil sides."""
        return self.back + self.front


@dataclass(frozen=True)
class CoilRow:
    """Where one coil goes: its bars, its coil sides and, when the slots are known, its slots."""

    coil: int
    start_bar: int
    end_bar: int
    top_side: int
    bottom_side: int
    top_slot: int | None
    bottom_slot: int | None


@dataclass(frozen=True)
class ConnectionRow:
    """`top` across the back to `bottom`, then across the front to `onward`."""

    top: int
    bottom: int
    onward: int


@dataclass(frozen=True)
class SlotRow:
    """What lies in one slot: coils whose top sides and whose bottom sides are here."""

    slot: int
    top_coils: tuple[int, ...]
    bottom_coils: tuple[int, ...]
    dead_sides: int


def pitches(winding: Winding) -> Pitches:
    """Back, front and commutator pitch of a winding.

    With slots the back pitch follows from the coil pitch. Without, it is the odd number that makes
    the coil nearest to a full pitch: Y_b = 2C/P ± m for lap, half of 2 y_c for wave, and where that
    half is even one more (as the textbooks choose).

    Examples
    --------
    >>> pitches(Winding("wave", poles=4, bars=11))
    Pitches(back=7, front=5, commutator=6)
    >>> pitches(Winding("lap", poles=4, bars=16))
    Pitches(back=9, front=-7, commutator=1)
    """
    back = _back_pitch(winding)
    return Pitches(back, 2 * winding.step - back, winding.step)


def coil_table(winding: Winding) -> tuple[CoilRow, ...]:
    """One row for each live coil, in coil order."""
    back = pitches(winding).back
    return tuple(_coil_row(winding, coil, back) for coil in range(1, winding.bars + 1))


def slot_table(winding: Winding) -> tuple[SlotRow, ...]:
    """One row for each slot, in slot order; empty when the slots are unknown."""
    if winding.slots is None or winding.coils_per_slot is None:
        return ()
    top: dict[int, list[int]] = {slot: [] for slot in range(1, winding.slots + 1)}
    bottom: dict[int, list[int]] = {slot: [] for slot in range(1, winding.slots + 1)}
    for coil in range(1, winding.bars + 1):
        above, below = winding.coil_slots(coil)
        top[above].append(coil)
        bottom[below].append(coil)
    full = 2 * winding.coils_per_slot
    return tuple(
        SlotRow(slot, tuple(top[slot]), tuple(bottom[slot]), full - len(top[slot] + bottom[slot]))
        for slot in range(1, winding.slots + 1)
    )


def connection_table(winding: Winding, closure: int = 0) -> tuple[ConnectionRow, ...]:
    """Coil sides of one closed ring in the order in which they are connected.

    The first row starts at the top side of coil ``closure + 1``; the last row leads back to it.

    Examples
    --------
    >>> connection_table(Winding("lap", poles=4, bars=16))[-1]
    ConnectionRow(top=31, bottom=8, onward=1)
    """
    table, ring = coil_table(winding), winding.ring(closure)
    rows = [table[coil - 1] for coil in ring]
    return tuple(
        ConnectionRow(row.top_side, row.bottom_side, following.top_side)
        for row, following in zip(rows, rows[1:] + rows[:1], strict=True)
    )


def sequence_text(winding: Winding, closure: int = 0) -> str:
    """The winding in one line of coil sides, each coil in brackets.

    Examples
    --------
    >>> sequence_text(Winding("wave", poles=4, bars=3))
    '(1-4)-(5-2)-(3-6)-1'
    """
    rows = connection_table(winding, closure)
    return "-".join(f"({row.top}-{row.bottom})" for row in rows) + f"-{rows[-1].onward}"


def _back_pitch(winding: Winding) -> int:
    if winding.coils_per_slot is not None and winding.slot_pitch is not None:
        return 2 * winding.coils_per_slot * winding.slot_pitch + 1
    if winding.kind == "wave":
        return winding.step if winding.step % 2 else winding.step + 1
    return _nearest_odd(2 * winding.bars / winding.poles, winding.step)


def _nearest_odd(pole_pitch: float, step: int) -> int:
    """Odd number nearest to pole pitch + step; of two as near, the one nearer to the pole pitch."""
    aim = pole_pitch + step
    below = 2 * int((aim - 1) // 2) + 1
    candidates = (below, below + 2)
    return max(1, min(candidates, key=lambda odd: (abs(odd - aim), abs(odd - pole_pitch))))


def _coil_row(winding: Winding, coil: int, back: int) -> CoilRow:
    start, end = winding.coil_bars(coil)
    slots: tuple[int | None, ...] = winding.coil_slots(coil) or (None, None)
    top = 2 * coil - 1
    bottom = (top + back - 1) % (2 * winding.bars) + 1
    return CoilRow(coil, start, end, top, bottom, slots[0], slots[1])
