"""Faults as edits of the healthy network: which ports each takes and how strong.

| fault | port | D^-1 (coil resistance r) |
|---|---|---|
| joint, open | series in the coil | 1 / (added resistance) |
| shorted coil | across the coil's two bars | - bridge |
| turns bridged, share x of the coil | the same port | - (r (1/x - 1) + bridge / x^2) |
| bar bridge, equalizer piece | between its two bars | - bridge |
| reversed coil | series and coil together | [[0, 1/2], [1/2, 0]] |
| ground at p of the coil | start bar, less p times across the coil | - (contact + r p (1 - p)) |

**Places inside a coil.** All turns of a coil share its flux. With i its ampere-turns over its turns, what
is drawn at a place p of it therefore splits as in a rod of even resistance: the start bar gives 1 - p of
it, the end bar p. The place has the voltage (1 - p) start + p end behind a resistance r p (1 - p), on the
exciter as for direct current, for p is its share of the EMF, and of the flux of other coils, too. Currents
drawn at p and q of one coil meet in r (min(p, q) - p q), and whatever is in series at the coil's start
carries 1 - p of what is drawn behind it, at p > 0. Bridged turns are drawn at p = 1 - x and given back at
the end; counted 1/x-fold they look like a bridge across the whole coil.

**The shaft** floats. It has a column of its own, 1 to each ground: its row says that the currents of all
grounds add up to nothing, its strength is the shaft's voltage.

**Rings that float** (see `kernel`) and are tied by the shaft, by equalizers or by bridged bars get RING
ports.

**Open coils.** Two in one ring leave the arc between them to their leaks alone, which are lost in the
rounding of the current round the ring. Not if the second column is the difference of their ports: round the
ring it sees exactly nothing. Likewise of grounds in one ring, whose currents add up to nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.machine.faults import (
    BarBridge,
    Fault,
    GroundedCoil,
    HighResistanceJoint,
    OpenCoil,
    ReversedCoil,
    ShortedCoil,
    TurnShort,
)
from barwise.machine.kernel import (
    BARS,
    COIL,
    EQUALIZER,
    EQUALIZER_RATIO,
    NODE,
    RING,
    SERIES,
    double_pole_pitch,
    floating_parts,
    fully_equalized,
)
from barwise.machine.low_rank import SHAFT, Ints, Mix, Ports, port_currents
from barwise.machine.winding import Winding

OPEN_RATIO = 1e7
"""An open coil still conducts this little, so that cut-off arcs have a voltage: resistance over r."""
ABSENT = 1e15
LEAST_CONTACT = 1e-12
"""A dead contact still has this little, over r, so that two of them side by side can share a current."""
LEAKY = 1e-3
"""Conductance over a coil's under which an added resistance leaves next to nothing of the current."""


@dataclass(frozen=True)
class _Column:
    """One unknown of the edit.

    Attributes
    ----------
    kind : int
        Port kind, or SHAFT.
    parts : tuple of (kind, place, weight)
        The ports it is made of.
    own : float
        Its entry in D^-1, without what lies inside the coil.
    coil : int
        The coil it is inside of or in series with, from 0; -1 for none.
    at : float
        Place along the coil where current is drawn.
    scale : float
        How many times it counts what is drawn; 0 where nothing is drawn inside a coil.
    reversal : bool
        One of the two of a reversed coil.
    """

    kind: int
    parts: tuple[tuple[int, int, float], ...]
    own: float
    coil: int = -1
    at: float = 0.0
    scale: float = 0.0
    reversal: bool = False


def fault_ports(winding: Winding, faults: Sequence[Fault]) -> Ports:
    """One set of ports for faults that are there together, equalizers included.

    A fault listed twice is there once.

    Raises
    ------
    WindingError
        If a fault's place or severity cannot exist in the winding.
    """
    faults = tuple(dict.fromkeys(faults))
    for fault in faults:
        _check(winding, fault)
    turned = {fault.coil - 1 for fault in faults if isinstance(fault, ReversedCoil)}
    columns = [column for fault in faults for column in _columns(winding, fault, turned)]
    columns += [_bridge(EQUALIZER, at, EQUALIZER_RATIO) for at in _equalizer_places(winding)]
    columns += [_Column(SHAFT, (), 0.0)] * any(isinstance(fault, GroundedCoil) for fault in faults)
    columns += _freed_rings(winding, faults)
    return _assembled(winding, columns)


def joined_parts(winding: Winding, faults: Sequence[Fault]) -> Ints:
    """Which bars hang together: the lowest part that each bar's part is joined to, shape (C,).

    Notes
    -----
    A single ground joins nothing to anything but the shaft. Open coils count as joined, see `OPEN_RATIO`.
    """
    count = floating_parts(winding)
    span = double_pole_pitch(winding)
    grounded = [fault.coil - 1 for fault in faults if isinstance(fault, GroundedCoil)]
    ties = [(fault.bar - 1, fault.bar) for fault in faults if isinstance(fault, BarBridge)]
    ties += [(grounded[0], other) for other in grounded[1:]]
    ties += [(at, at + span) for at in _equalizer_places(winding)]
    part = np.arange(count)
    for one, other in ties:
        a, b = part[one % count], part[other % count]
        part[part == max(a, b)] = min(a, b)
    return np.asarray(part[np.arange(winding.bars) % count], dtype=np.intp)


def _columns(winding: Winding, fault: Fault, turned: set[int]) -> list[_Column]:
    match fault:
        case OpenCoil(coil=coil):
            return [_series(coil - 1, OPEN_RATIO)]
        case HighResistanceJoint(coil=coil, factor=factor):
            return [] if factor == 1 else [_series(coil - 1, factor - 1)]
        case ShortedCoil(coil=coil, bridge_ratio=ratio):
            return [_bridge(COIL, coil - 1, ratio)]
        case BarBridge(bar=bar, bridge_ratio=ratio):
            return [_bridge(BARS, bar - 1, ratio)]
        case TurnShort(coil=coil, bridge_ratio=ratio):
            share = _share(fault, winding.turns_per_coil)
            own = -max(ratio, LEAST_CONTACT) / share**2
            sign = -1.0 if coil - 1 in turned else 1.0
            return [_Column(COIL, ((COIL, coil - 1, sign),), own, coil - 1, 1 - share, 1 / share)]
        case GroundedCoil(coil=coil, fraction=at, ground_ratio=ratio):
            along = 1 - at if coil - 1 in turned else at
            parts = ((NODE, coil - 1, 1.0), (COIL, coil - 1, -along))
            return [_Column(NODE, parts, -max(ratio, LEAST_CONTACT), coil - 1, at, 1.0)]
        case ReversedCoil(coil=coil):
            return [
                _Column(kind, ((kind, coil - 1, 1.0),), 0.0, coil - 1, reversal=True)
                for kind in (SERIES, COIL)
            ]


def _series(coil: int, ratio: float) -> _Column:
    return _Column(SERIES, ((SERIES, coil, 1.0),), 1 / ratio, coil)


def _bridge(kind: int, at: int, ratio: float) -> _Column:
    return _Column(kind, ((kind, at, 1.0),), -max(ratio, LEAST_CONTACT))


def _freed_rings(winding: Winding, faults: Sequence[Fault]) -> list[_Column]:
    """Every part that is tied to a lower one loses its hold."""
    count = floating_parts(winding)
    part = joined_parts(winding, faults)[:count]
    return [_Column(RING, ((RING, n, 1.0),), winding.bars / count) for n in range(count) if part[n] != n]


def _assembled(winding: Winding, columns: Sequence[_Column]) -> Ports:
    parts = sorted({(kind, place) for column in columns for kind, place, _ in column.parts})
    row = {part: n for n, part in enumerate(parts)}
    weight = np.zeros((len(parts), len(columns)))
    for n, column in enumerate(columns):
        for kind, place, share in column.parts:
            weight[row[kind, place], n] += share
    inverse = np.array([[_entry(a, b) for b in columns] for a in columns]).reshape((len(columns),) * 2)
    differences = _differences(winding, columns)
    ports = np.array(parts, dtype=np.intp).reshape(1, -1, 2)
    return Ports(
        ports[:, :, 0],
        ports[:, :, 1],
        (differences.T @ inverse @ differences)[None],
        Mix(weight @ differences, np.array([column.kind for column in columns], dtype=np.intp)),
    )


def _entry(a: _Column, b: _Column) -> float:
    """Entry of D^-1 that two columns share."""
    own = a.own if a is b else 0.0
    if {a.kind, b.kind} == {NODE, SHAFT}:
        return 1.0
    if a.coil < 0 or a.coil != b.coil:
        return own
    if a.reversal and b.reversal:
        return 0.0 if a is b else 0.5
    if a.scale and b.scale:
        return own - a.scale * b.scale * (min(a.at, b.at) - a.at * b.at)
    drawn, other = (a, b) if a.scale else (b, a)
    passes = other.kind == SERIES and not other.reversal and drawn.at > 0
    return drawn.scale * (1 - drawn.at) if passes and drawn.scale else own


def _differences(winding: Winding, columns: Sequence[_Column]) -> NDArray[np.float64]:
    """The first ground of a ring stays and is taken from the others; likewise of coils all but open."""
    matrix = np.eye(len(columns))
    first: dict[tuple[int, int], int] = {}
    for n, column in enumerate(columns):
        if column.kind == NODE or (column.kind == SERIES and 0 < column.own < LEAKY):
            other = first.setdefault((column.kind, column.coil % winding.closures), n)
            matrix[other, n] = -1.0 if other != n else 1.0
    return matrix


def _share(fault: TurnShort, turns_per_coil: int) -> float:
    if not 0 < fault.turns <= turns_per_coil:
        raise WindingError(
            f"turn-short: {fault.turns} turns bridged, but a coil has {turns_per_coil}; "
            f"expected 1 to {turns_per_coil}"
        )
    return fault.turns / turns_per_coil


def _check(winding: Winding, fault: Fault) -> None:
    number = fault.bar if isinstance(fault, BarBridge) else fault.coil
    if not 1 <= number <= winding.bars:
        raise WindingError(f"{type(fault).__name__}: place {number}, expected 1 to {winding.bars}")
    match fault:
        case HighResistanceJoint(factor=factor) if not factor > 0:
            raise WindingError(f"joint factor {factor}, expected a number above 0")
        case GroundedCoil(fraction=fraction) if not 0 <= fraction <= 1:
            raise WindingError(f"ground at {fraction} of a coil, expected 0 to 1")
        case ShortedCoil(bridge_ratio=ratio) | TurnShort(bridge_ratio=ratio) | BarBridge(bridge_ratio=ratio):
            _check_contact("bridge", ratio)
        case GroundedCoil(ground_ratio=ratio):
            _check_contact("ground", ratio)
        case _:
            pass


def _check_contact(name: str, ratio: float) -> None:
    if not ratio >= 0:
        raise WindingError(f"{name} of {ratio} coil resistances, expected 0 or more")


def _equalizer_places(winding: Winding) -> list[int]:
    """First bars of the pieces of equalizer rings that do not reach every bar."""
    if winding.equalizers == 0 or fully_equalized(winding):
        return []
    span = double_pole_pitch(winding)
    rings = {round(n * span / winding.equalizers) for n in range(winding.equalizers)}
    return [ring + piece * span for ring in sorted(rings) for piece in range(winding.pole_pairs)]


__all__ = [
    "ABSENT",
    "OPEN_RATIO",
    "Ints",
    "Ports",
    "fault_ports",
    "joined_parts",
    "port_currents",
]
