"""What could be wrong: the kinds of fault, where, how bad, and how likely before any reading.

A hypothesis is a set of faults coded in arrays: kind, place (coil or bar from 0) and a severity u that may
take any value, so that many are computed at once. Priors are stated here and nowhere else; they are common
practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

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
from barwise.machine.kernel import BARS, COIL, NODE, SERIES
from barwise.machine.low_rank import Mix
from barwise.machine.ports import ABSENT, OPEN_RATIO, Ports
from barwise.machine.winding import Winding

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

BRIDGE, JOINT, OPEN, BAR_BRIDGE, REVERSED = range(5)
NONE = -1
PORT_OF = np.array([COIL, SERIES, SERIES, BARS, SERIES, SERIES], dtype=np.intp)
"""Port kind of each fault for direct current; NONE indexes the last, which is of no strength."""
KINDS = (BRIDGE, JOINT, OPEN, BAR_BRIDGE, REVERSED)
GROUND, TIE = 5, 6
"""Two grounds are a set of their own: (GROUND, GROUND, TIE). u is the place along the coil, and of the TIE
the log of the resistance through the shaft over a coil's. One ground carries no current: see `grounding`."""

PRIOR_COUNT = (0.5, 0.4, 0.1)
"""Probability of no, one and two faults among armatures worth measuring."""
PRIOR_GROUND = 0.1
PRIOR_SECOND_GROUND = 0.1
"""Probability that a grounded armature is grounded twice."""
PRIOR_KIND = {BRIDGE: 0.35, JOINT: 0.2, OPEN: 0.15, BAR_BRIDGE: 0.15, REVERSED: 0.15}
JOINT_FLOOR = float(np.log(1.12))
"""A coil less than 12 % above its neighbours is not called a bad joint."""
WEAKEST_BRIDGE = float(np.log(25.0))
"""A path that takes less than 4 % of a coil's current is within what sound coils differ by."""


@dataclass(frozen=True)
class Hypotheses:
    """H sets of F faults; NONE marks an empty place. All arrays have shape (H, F)."""

    kind: Ints
    place: Ints
    severity: Array

    def __len__(self) -> int:
        return int(self.kind.shape[0])

    def take(self, index: Ints | NDArray[np.bool_] | list[int]) -> Hypotheses:
        """Only these sets."""
        return Hypotheses(self.kind[index], self.place[index], self.severity[index])

    def with_severity(self, severity: Array) -> Hypotheses:
        """The same faults, this bad."""
        return Hypotheses(self.kind, self.place, severity)

    @staticmethod
    def join(*parts: Hypotheses) -> Hypotheses:
        """All of them one after the other, padded to the most faults."""
        width = max(p.kind.shape[1] for p in parts)
        return Hypotheses(
            np.concatenate([_pad(p.kind, width, NONE) for p in parts]),
            np.concatenate([_pad(p.place, width, 0) for p in parts]),
            np.concatenate([_pad(p.severity, width, 0.0) for p in parts]),
        )


def nothing_wrong() -> Hypotheses:
    """The one hypothesis without a fault."""
    return Hypotheses(np.full((1, 1), NONE, dtype=np.intp), np.zeros((1, 1), dtype=np.intp), np.zeros((1, 1)))


def possible_kinds(winding: Winding) -> tuple[int, ...]:
    """Kinds this winding can have: a bar bridge is its own fault only where no coil joins the bars."""
    neighbours = winding.step % winding.bars in (1, winding.bars - 1)
    return tuple(k for k in KINDS if not (k == BAR_BRIDGE and neighbours))


def severity_prior(kind: Ints, turns: int) -> tuple[Array, Array]:
    """Mean and standard deviation of u, same shape as `kind`.

    u is the log of bridge over coil resistance, or of coil with joint over healthy coil.
    """
    bridge_mean, bridge_sd = (np.log(0.08), 1.4) if turns == 1 else (np.log(0.3), 2.0)
    which = [kind == BRIDGE, kind == JOINT, kind == BAR_BRIDGE, kind == GROUND, kind == TIE]
    mean = np.select(which, [bridge_mean, np.log(2.0), np.log(0.08), 0.5, np.log(0.2)])
    sd = np.select(which, [bridge_sd, 0.5, 1.4, 0.3, 1.4], 1.0)
    return np.asarray(mean, dtype=float), np.asarray(sd, dtype=float)


def severity_grid(kind: int, turns: int, fine: bool = True) -> Array:
    """Severities u worth a first look; a coarse grid for a fault beside another."""
    if kind == BRIDGE:
        # alone, a weak short such as carbon dust is looked for too; beside another, only among turns
        ratios = [0.003, 0.08, 0.2, 0.45, 1.0, 2.2, 5.0, 12.0] if fine else [0.02, 0.3]
        if turns > 1 and not fine:
            ratios += [1.4, 6.0] if turns > 3 else [1.4]
        return np.asarray(np.log(ratios))
    if kind == BAR_BRIDGE:
        return np.asarray(np.log([0.003, 0.08, 0.2, 0.45, 1.2, 4.0, 14.0] if fine else [0.02, 0.3]))
    if kind == JOINT:
        return np.asarray(np.log([1.25, 1.6, 2.2, 3.1, 4.5] if fine else [1.35, 2.2, 3.8]))
    return np.zeros(1)


def singles(winding: Winding, visible: NDArray[np.bool_], fine: bool = True) -> Hypotheses:
    """Every single fault that is `visible`, over its grid of severities.

    `visible` has shape (possible kinds, bars).
    """
    kind, place, severity = [], [], []
    for code, seen in zip(possible_kinds(winding), visible, strict=True):
        grid = severity_grid(code, winding.turns_per_coil, fine)
        where = np.flatnonzero(seen)
        place.append(np.repeat(where, len(grid)))
        severity.append(np.tile(grid, len(where)))
        kind.append(np.full(len(where) * len(grid), code))
    column = [np.concatenate(part)[:, None] for part in (kind, place, severity)]
    return Hypotheses(column[0].astype(np.intp), column[1].astype(np.intp), column[2].astype(float))


def paired(first: Hypotheses, second: Hypotheses) -> tuple[Hypotheses, NDArray[np.bool_]]:
    """Each of `first` with each single of `second`, and which of the len(first) x len(second) they are.

    A coil takes one fault; a bar bridge may stand beside any.
    """
    a = np.repeat(np.arange(len(first)), len(second))
    b = np.tile(np.arange(len(second)), len(first))
    kind = np.concatenate([first.kind[a], second.kind[b]], axis=1)
    place = np.concatenate([first.place[a], second.place[b]], axis=1)
    severity = np.concatenate([first.severity[a], second.severity[b]], axis=1)
    alike = (kind[:, :-1] == BAR_BRIDGE) == (kind[:, -1:] == BAR_BRIDGE)
    keep = ~(alike & (place[:, :-1] == place[:, -1:])).any(axis=1)
    return Hypotheses(kind, place, severity).take(keep), keep


def log_prior(hypotheses: Hypotheses, winding: Winding) -> Array:
    """Log prior probability of each set's kinds and places, shape (H,); of two grounds, given one."""
    if grounded_twice(hypotheses):
        pairs = winding.bars * (winding.bars - 1) / 2
        among = PRIOR_COUNT[0] * PRIOR_SECOND_GROUND / pairs
        return np.full(len(hypotheses), float(np.log(among)))
    share = np.zeros(max(KINDS) + 2)
    possible = possible_kinds(winding)
    total = sum(PRIOR_KIND[k] for k in possible)
    for k in possible:
        share[k] = np.log(PRIOR_KIND[k] / total / winding.bars)
    there = hypotheses.kind != NONE
    count = there.sum(axis=1)
    odds = np.log([*PRIOR_COUNT, *(PRIOR_COUNT[2] * 0.1**n for n in range(1, 4))])
    # a set of n faults can be listed in n! orders; it is counted once
    orders = np.cumsum(np.log(np.maximum(np.arange(6), 1)))
    return np.asarray(odds[count] + orders[count] + np.where(there, share[hypotheses.kind], 0).sum(axis=1))


def grounded_twice(hypotheses: Hypotheses) -> bool:
    """Whether these are sets of two grounds; they do not stand among others."""
    return bool((hypotheses.kind == TIE).any())


def direct_ports(hypotheses: Hypotheses) -> Ports:
    """Ports as direct current sees them: a reversed coil is no port at all."""
    if grounded_twice(hypotheses):
        return _tied_through_shaft(hypotheses)
    strength = _strength(hypotheses.kind, hypotheses.severity)
    return Ports(PORT_OF[hypotheses.kind], hypotheses.place, _diagonal(strength))


def _tied_through_shaft(hypotheses: Hypotheses) -> Ports:
    """Two places inside coils joined through the shaft: one column of four ports (see `machine.ports`)."""
    at, ohm = hypotheses.severity[:, :2], np.exp(hypotheses.severity[:, 2])
    kind = np.tile(np.array([NODE, COIL, NODE, COIL], dtype=np.intp), (len(hypotheses), 1))
    one = np.ones(len(hypotheses))
    weight = np.stack([one, -at[:, 0], -one, at[:, 1]], axis=1)
    inside = (at * (1 - at)).sum(axis=1)
    return Ports(
        kind,
        np.repeat(hypotheses.place[:, :2], 2, axis=1),
        -(ohm + inside)[:, None, None],
        Mix(weight[:, :, None], np.array([NODE], dtype=np.intp)),
    )


def exciter_ports(hypotheses: Hypotheses) -> Ports:
    """Ports on the exciter; a reversed coil takes a second column."""
    base = direct_ports(hypotheses)
    turned = hypotheses.kind == REVERSED
    columns = np.flatnonzero(turned.any(axis=0))
    if not len(columns):
        return base
    wide = turned[:, columns]
    kind = np.concatenate([base.kind, np.where(wide, COIL, SERIES)], axis=1)
    place = np.concatenate([base.place, hypotheses.place[:, columns]], axis=1)
    faults, extra = base.kind.shape[1], len(columns)
    inverse = np.zeros((len(hypotheses), faults + extra, faults + extra))
    inverse[:, :faults, :faults] = base.inverse
    for i, column in enumerate(columns):
        both = turned[:, column]
        inverse[both, column, column] = 0.0
        inverse[both, column, faults + i] = inverse[both, faults + i, column] = 0.5
        inverse[~both, faults + i, faults + i] = ABSENT
    return Ports(kind.astype(np.intp), place, inverse)


def exciter_visible(hypotheses: Hypotheses, meter: bool) -> NDArray[np.bool_]:
    """Whether a set can change an induced reading at all, shape (H,): a lone open or bad joint cannot."""
    there = hypotheses.kind != NONE
    inert = (hypotheses.kind == JOINT) | (hypotheses.kind == OPEN)
    return np.asarray((there & ~inert).any(axis=1) | (meter & there.any(axis=1)))


def graded(hypotheses: Hypotheses) -> NDArray[np.bool_]:
    """Whether the last fault of a set has a severity, shape (H,)."""
    return np.asarray(np.isin(hypotheses.kind[:, -1], (BRIDGE, JOINT, BAR_BRIDGE, TIE)))


def as_fault(kind: int, place: int, u: float, turns: int) -> Fault:
    """The fault in the trade's terms.

    Bridged turns and a whole coil bridged through some resistance read the same; a bridge that would have
    to be above half a coil's resistance is called a turn short where the coil has turns to bridge.
    """
    if kind == JOINT:
        return HighResistanceJoint(place + 1, float(np.exp(u)))
    if kind == OPEN:
        return OpenCoil(place + 1)
    if kind == BAR_BRIDGE:
        return BarBridge(place + 1, float(np.exp(u)))
    if kind == REVERSED:
        return ReversedCoil(place + 1)
    if kind == GROUND:
        return GroundedCoil(place + 1, u)
    ratio = float(np.exp(u))
    bridged = turns_bridged(ratio, turns)
    if bridged < turns:
        share = bridged / turns
        return TurnShort(place + 1, bridged, max(0.0, (ratio - (1 / share - 1)) * share**2))
    return ShortedCoil(place + 1, ratio)


def turns_bridged(ratio: float, turns: int) -> int:
    """Most turns that, dead-shorted, act at least as strongly as a bridge of `ratio` does."""
    if ratio < 0.5 / turns or turns == 1:
        return turns
    return int(np.clip(np.floor(turns / (1 + ratio) + 0.5), 1, turns - 1))


def _strength(kind: Ints, u: Array) -> Array:
    """D^-1 of each fault for direct current."""
    out = np.full(kind.shape, ABSENT)
    bridged = (kind == BRIDGE) | (kind == BAR_BRIDGE)
    out[bridged] = -np.exp(np.clip(u[bridged], -30, 30))
    joint = kind == JOINT
    out[joint] = 1 / np.maximum(np.expm1(np.minimum(u[joint], 30)), 1e-9)
    out[kind == OPEN] = 1 / OPEN_RATIO
    return out


def _diagonal(strength: Array) -> Array:
    return np.asarray(strength[:, :, None] * np.eye(strength.shape[1]))


def _pad(values: NDArray[np.generic], width: int, fill: float) -> NDArray[np.generic]:
    missing = width - values.shape[1]
    return np.pad(values, ((0, 0), (0, missing)), constant_values=fill)
