"""One armature as a plain circuit: which branches there are between bars, taps and shaft.

Conventions: bars and coils count from 1 in the direction of rotation seen from the commutator end;
coil k starts at bar k, ends at bar k + step (wrapping) and is centred at 2 pi (k - 1) / bars.

Sources: textbook rules for lap and wave windings (step ±m, or (bars ± m) / pole pairs); full-pitch
coils in a uniform gap, coupled by the overlap of their pitches (derived in
docs/reference-solvers.md). The exciter's flux, a bell of Gaussian density round each of two poles,
is an assumption.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import erf

Array = NDArray[np.float64]
TURN = 2.0 * math.pi

OPEN_RATIO = 1e7
"""Resistance put in series with an open coil, over the coil's own."""
EQUALIZER_RATIO = 0.1
"""Resistance of one piece of an equalizer ring over the coil's: common practice, no source."""

SHAFT = "shaft"

KINDS = (
    "open-coil",
    "high-resistance-joint",
    "shorted-coil",
    "turn-short",
    "bar-bridge",
    "reversed-coil",
    "grounded-coil",
)


@dataclass(frozen=True)
class Winding:
    """How the coils are joined to the bars.

    Parameters
    ----------
    kind : str
        "lap" or "wave".
    poles, bars, turns : int
        `turns` is turns of one coil.
    progression : str
        "progressive" or "retrogressive".
    plex : int
        1 simplex, 2 duplex.
    slots : int, optional
        Slots of the core.
    equalizers : int
        Equalizer rings of a lap winding.
    """

    kind: str
    poles: int
    bars: int
    turns: int = 1
    progression: str = "progressive"
    plex: int = 1
    slots: int | None = None
    equalizers: int = 0

    @classmethod
    def from_sheet(cls, sheet: Mapping[str, object]) -> Winding:
        """From the keys of a `[winding]` table; keys not about the connection are passed over."""
        names = {"turns_per_coil": "turns"}
        known = ("kind", "poles", "bars", "turns", "progression", "plex", "slots", "equalizers")
        renamed = {names.get(key, key): value for key, value in sheet.items()}
        return cls(**{key: renamed[key] for key in known if key in renamed})  # type: ignore[arg-type]

    def sheet(self) -> dict[str, object]:
        """The keys of a `[winding]` table, without those left at what they usually are."""
        table: dict[str, object] = {
            "kind": self.kind,
            "poles": self.poles,
            "bars": self.bars,
            "turns_per_coil": self.turns,
            "progression": self.progression,
        }
        if self.plex != 1:
            table["plex"] = self.plex
        if self.slots is not None:
            table["slots"] = self.slots
        if self.equalizers:
            table["equalizers"] = self.equalizers
        return table

    @property
    def step(self) -> int:
        """Bars from the start to the end of a coil, signed.

        Raises
        ------
        ValueError
            If (bars ± plex) does not divide by the pole pairs of a wave winding.
        """
        move = self.plex if self.progression == "progressive" else -self.plex
        if self.kind == "lap":
            return move
        pairs = self.poles // 2
        if (self.bars + move) % pairs:
            raise ValueError(f"no wave winding: {self.bars} {move:+d} does not divide by {pairs}")
        return (self.bars + move) // pairs

    @property
    def pitch_rad(self) -> float:
        """Angle between the two sides of a full-pitch coil [rad]."""
        return TURN / self.poles

    def wrap(self, bar: int) -> int:
        """Bar or coil number brought into 1..bars."""
        return (bar - 1) % self.bars + 1

    def centre_rad(self, coil: int) -> float:
        """Angle of a coil's centre [rad]."""
        return TURN * (coil - 1) / self.bars

    def coil_slots(self, coil: int) -> tuple[int, int]:
        """Slots of the two sides, slot 1 being the one whose upper layer holds coil 1."""
        if self.slots is None:
            raise ValueError("the winding's slots are not known")
        side_by_side = -(-self.bars // self.slots)
        top = (coil - 1) // side_by_side
        return top + 1, (top + max(1, self.slots // self.poles)) % self.slots + 1


@dataclass(frozen=True)
class Fault:
    """One fault; only the fields its kind needs are looked at.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    coil : int
        The coil, or for a bar-bridge the bar whose next one it is bridged to.
    factor : float
        Joint: coil with joint over healthy coil.
    bridge_ratio : float
        Shorted coil, turn-short, bar-bridge: bridge over coil resistance.
    turns : int
        Turn-short: turns bridged.
    fraction : float
        Ground: place along the coil from its starting bar.
    ground_ratio : float
        Ground: contact with the core over coil resistance.
    """

    kind: str
    coil: int
    factor: float = 2.0
    bridge_ratio: float = 0.0
    turns: int = 1
    fraction: float = 0.0
    ground_ratio: float = 0.0

    def truth(self, winding: Winding) -> dict[str, object]:
        """The fault as it is written into a case."""
        if self.kind == "bar-bridge":
            bars = [self.coil, winding.wrap(self.coil + 1)]
            return {"kind": self.kind, "bars": bars, "bridge_ratio": self.bridge_ratio}
        table: dict[str, object] = {"kind": self.kind, "coil": self.coil}
        for name in _SEVERITIES.get(self.kind, ()):
            table[name] = getattr(self, name)
        return table

    @classmethod
    def from_truth(cls, table: Mapping[str, object]) -> Fault:
        """Back from `truth`."""
        values = {key: value for key, value in table.items() if key != "bars"}
        if table["kind"] == "bar-bridge":
            values["coil"] = table["bars"][0]  # type: ignore[index]
        return cls(**values)  # type: ignore[arg-type]


_SEVERITIES = {
    "high-resistance-joint": ("factor",),
    "shorted-coil": ("bridge_ratio",),
    "turn-short": ("turns", "bridge_ratio"),
    "grounded-coil": ("fraction", "ground_ratio"),
}


@dataclass(frozen=True)
class Exciter:
    """Two poles of equal and opposite flux below the armature.

    Parameters
    ----------
    separation_rad : float
        Angle from the first pole to the second [rad].
    spread_rad : float
        Standard deviation of each pole's flux round the armature [rad].
    offset_rad : float
        First pole, from the centre of the coil that starts at the probed bar [rad].
    volts_per_turn : float
        EMF of one turn that links the whole flux of one pole [V].
    """

    separation_rad: float = TURN / 4
    spread_rad: float = 0.21
    offset_rad: float = 0.0
    volts_per_turn: float = 0.045

    def linked(self, lower_rad: ArrayLike, upper_rad: ArrayLike) -> Array:
        """Flux through a coil between two angles, over one pole's whole flux.

        Examples
        --------
        >>> one_pole_inside = Exciter(separation_rad=TURN / 2, spread_rad=0.01)
        >>> float(one_pole_inside.linked(-0.5, 0.5))
        1.0
        """
        lower = np.asarray(lower_rad, dtype=float) - self.offset_rad
        upper = np.asarray(upper_rad, dtype=float) - self.offset_rad
        apart = self.separation_rad
        return self._pole(lower, upper) - self._pole(lower - apart, upper - apart)

    def _pole(self, lower: Array, upper: Array) -> Array:
        """Part of a bell round zero that lies between the two angles, over all whole turns."""
        turns = TURN * np.arange(-4, 5)
        root = self.spread_rad * math.sqrt(2.0)
        ends = [erf((angle[..., None] + turns) / root).sum(axis=-1) for angle in (upper, lower)]
        return np.asarray(0.5 * (ends[0] - ends[1]))


@dataclass(frozen=True)
class Electrical:
    """Values of one healthy coil.

    Parameters
    ----------
    coil_ohm : float
        Resistance [ohm].
    reactance_ohm : float
        Magnetising reactance [ohm].
    leakage_ratio : float
        Leakage over magnetising reactance.
    """

    coil_ohm: float = 1e-3
    reactance_ohm: float = 1.5e-3
    leakage_ratio: float = 0.15


@dataclass(frozen=True)
class Armature:
    """One armature with its faults, on one exciter.

    Parameters
    ----------
    winding : Winding
    faults : sequence of Fault
    electrical : Electrical
    exciter : Exciter
    coil_ohm_factor : sequence of float
        Each coil's own resistance over `electrical.coil_ohm`: no two coils are wound quite alike.
        Empty is all alike. Severities of faults stay relative to `electrical.coil_ohm`.
    side_shift_rad : sequence of (float, float)
        How far the two sides of each coil lie from where they should [rad]. Empty is nowhere.
    """

    winding: Winding
    faults: Sequence[Fault] = ()
    electrical: Electrical = field(default_factory=Electrical)
    exciter: Exciter = field(default_factory=Exciter)
    coil_ohm_factor: Sequence[float] = ()
    side_shift_rad: Sequence[tuple[float, float]] = ()

    @property
    def grounded(self) -> bool:
        """Whether the winding touches the shaft."""
        return any(fault.kind == "grounded-coil" for fault in self.faults)

    def coil_ohm(self, coil: int) -> float:
        """Resistance of one coil before anything is wrong with it [ohm]."""
        factor = self.coil_ohm_factor[coil - 1] if self.coil_ohm_factor else 1.0
        return self.electrical.coil_ohm * factor

    def emf_v(self) -> Array:
        """EMF of coil j while bar k is at the probing place, [j - 1, k - 1], shape (C, C) [V]."""
        winding = self.winding
        shift = np.array(self.side_shift_rad or [(0.0, 0.0)] * winding.bars)
        places = np.arange(winding.bars)
        # In whole places first, so that equal distances give equal EMFs to the last digit.
        centre = TURN * ((places[:, None] - places[None, :]) % winding.bars) / winding.bars
        lower = centre - winding.pitch_rad / 2 + shift[:, :1]
        upper = centre + winding.pitch_rad / 2 + shift[:, 1:]
        return self.exciter.volts_per_turn * winding.turns * self.exciter.linked(lower, upper)

    def reactance_ohm(self, coil: int, other: int) -> float:
        """Self or mutual reactance of two whole coils [ohm]."""
        winding = self.winding
        apart = winding.centre_rad(coil) - winding.centre_rad(other)
        ratio = coupling(apart, winding.pitch_rad)
        if coil == other:
            ratio += self.electrical.leakage_ratio
        return self.electrical.reactance_ohm * ratio


def coupling(apart_rad: float, pitch_rad: float) -> float:
    """Mutual over magnetising self reactance of two equal full-pitch coils in a uniform gap.

    Notes
    -----
    Overlap of the two pitches less the even return of the flux over the whole gap, over the same
    for no distance:

    M(d) = [max(0, p - d) + max(0, p - (2 pi - d)) - p^2 / (2 pi)] / [p - p^2 / (2 pi)].

    Examples
    --------
    >>> coupling(0.0, TURN / 4)
    1.0
    >>> round(coupling(TURN / 2, TURN / 4), 6)
    -0.333333
    """
    apart = abs(math.remainder(apart_rad, TURN))
    overlap = max(0.0, pitch_rad - apart) + max(0.0, pitch_rad - (TURN - apart))
    even = pitch_rad**2 / TURN
    return (overlap - even) / (pitch_rad - even)


@dataclass(frozen=True)
class Branch:
    """A piece of conductor from one node to another.

    Parameters
    ----------
    name, start, end : str
        Nodes are "b<bar>", "t<coil>.<n>" for a tap inside a coil, and "shaft".
    ohm : float
        Resistance [ohm].
    coil : int
        The coil it belongs to, 0 for none.
    share : float
        Part of that coil's turns it has, counted along the coil.
    """

    name: str
    start: str
    end: str
    ohm: float
    coil: int = 0
    share: float = 0.0


def bar_node(bar: int) -> str:
    """Name of a bar's node."""
    return f"b{bar}"


def wiring(armature: Armature) -> tuple[Branch, ...]:
    """Every branch of the armature, faults included, meter and feed left out."""
    branches: list[Branch] = []
    for coil in range(1, armature.winding.bars + 1):
        mine = [f for f in armature.faults if f.kind != "bar-bridge" and f.coil == coil]
        branches += _coil(armature, coil, mine)
    branches += _bar_bridges(armature)
    branches += _equalizers(armature)
    return tuple(branches)


def _coil(armature: Armature, coil: int, faults: Sequence[Fault]) -> list[Branch]:
    """One coil cut at its taps, with what bridges or grounds it."""
    winding, ohm = armature.winding, armature.electrical.coil_ohm
    own_ohm = armature.coil_ohm(coil)
    start, end = bar_node(coil), bar_node(winding.wrap(coil + winding.step))
    if any(fault.kind == "reversed-coil" for fault in faults):
        start, end = end, start
    wanted = [_tap(fault, winding) for fault in faults]
    taps = sorted({place for place in wanted if place is not None} - {0.0, 1.0})
    nodes = {0.0: start, 1.0: end}
    nodes |= {place: f"t{coil}.{n}" for n, place in enumerate(taps, start=1)}
    places = [0.0, *taps, 1.0]
    branches = []
    for n, (near, far) in enumerate(itertools.pairwise(places)):
        share = far - near
        total = share * own_ohm + (_in_series(faults) * ohm if n == 0 else 0.0)
        branches.append(Branch(f"c{coil}.{n}", nodes[near], nodes[far], total, coil, share))
    for n, fault in enumerate(faults):
        branches += _bridge(fault, f"x{coil}.{n}", nodes, winding, ohm)
    return branches


def _tap(fault: Fault, winding: Winding) -> float | None:
    """Place along the coil where the fault needs a node inside it."""
    if fault.kind == "turn-short":
        return 1.0 - fault.turns / winding.turns
    return fault.fraction if fault.kind == "grounded-coil" else None


def _in_series(faults: Sequence[Fault]) -> float:
    """Resistance added at the start of the coil, over the coil's own."""
    added = sum(f.factor - 1.0 for f in faults if f.kind == "high-resistance-joint")
    return added + sum(OPEN_RATIO for f in faults if f.kind == "open-coil")


def _bridge(
    fault: Fault, name: str, nodes: Mapping[float, str], winding: Winding, ohm: float
) -> list[Branch]:
    if fault.kind == "shorted-coil":
        return [Branch(name, nodes[0.0], nodes[1.0], fault.bridge_ratio * ohm)]
    place = _tap(fault, winding)
    if place is None:
        return []
    if fault.kind == "turn-short":
        return [Branch(name, nodes[place], nodes[1.0], fault.bridge_ratio * ohm)]
    return [Branch(name, nodes[place], SHAFT, fault.ground_ratio * ohm)]


def _bar_bridges(armature: Armature) -> list[Branch]:
    winding, ohm = armature.winding, armature.electrical.coil_ohm
    bridges = [fault for fault in armature.faults if fault.kind == "bar-bridge"]
    return [
        Branch(
            f"y{n}",
            bar_node(fault.coil),
            bar_node(winding.wrap(fault.coil + 1)),
            fault.bridge_ratio * ohm,
        )
        for n, fault in enumerate(bridges)
    ]


def _equalizers(armature: Armature) -> list[Branch]:
    """Rings of pieces from bar to bar, one pair of poles apart, evenly placed."""
    winding = armature.winding
    if not winding.equalizers:
        return []
    pairs = winding.poles // 2
    span = winding.bars // pairs
    ohm = EQUALIZER_RATIO * armature.electrical.coil_ohm
    first = sorted({round(n * span / winding.equalizers) for n in range(winding.equalizers)})
    return [
        Branch(
            f"e{ring}.{piece}",
            bar_node(winding.wrap(1 + ring + piece * span)),
            bar_node(winding.wrap(1 + ring + (piece + 1) * span)),
            ohm,
        )
        for ring in first
        for piece in range(pairs)
    ]


def separate_parts(branches: Sequence[Branch]) -> list[list[str]]:
    """Nodes that branches join, one list for each part of the circuit that hangs together."""
    parts: list[set[str]] = []
    for branch in branches:
        touched = {branch.start, branch.end}
        apart = [part for part in parts if not part & touched]
        for part in parts:
            if part & touched:
                touched |= part
        parts = [*apart, touched]
    return [sorted(part) for part in parts]
