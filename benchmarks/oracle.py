"""How well anybody could do: a judge who knows the armature as it was before the fault, and the meter.

The oracle knows each coil's own resistance and the place of its sides, reactance, leakage and exciter, the
drift of each test as it was drawn, the law by which a reading scatters and a touch goes bad, and how often
each fault and severity is made. It does not know which readings are bad touches, nor what is wrong. Of every
single fault, and every pair that holds a fault that is there or one of the best singles, it takes those that
a first look leaves standing, weighs them by exact likelihood with the severity integrated out, and names the
most probable.

It is an upper bound: no diagnosis knows what it knows, and it never has to tell the truth from a pair of
which neither half is near. Where two grounds are there at once it is told how they lie, and weighs no other
pair of grounds against them.

The healthy armature comes from `reference.dense`: its full set of circuit equations is inverted once, and a
fault is an edit of few rows of it (W. W. Hager, Updating the inverse of a matrix, SIAM Review 31, 1989, from
memory). tests/benchmarks holds every kind of fault against `reference.dense` solved outright.
"""

from __future__ import annotations

import copy
import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from benchmarks.counting import Answer, Claim, Place, place_of
from benchmarks.made_set import Case, Column
from reference import dense
from reference.armature import Armature, Fault, Winding, bar_node
from reference.makers import FEED_AMPS, Bench, Mix, armature_of, make_case
from reference.meter import Meter

Array = NDArray[np.float64]
Ints = NDArray[np.intp]
Values = NDArray[Any]

SERIES, COIL, BARS = range(3)
NEVER = 1e12
"""Inverse strength of an edit that is not there."""
LOWEST = -690.0
"""Log probability below which a reading is simply impossible."""
SEEDS = 2
"""Best singles that pairs are grown from, besides the faults that are there."""
FINALISTS = 12
HOPELESS = 20.0
"""How far behind the best a first look may fall and still be weighed [log]."""
MADE = {
    "high-resistance-joint": Mix().joint_factor,
    "shorted-coil": Mix().bridge_ratio,
    "bar-bridge": Mix().bridge_ratio,
    "turn-short": Mix().turn_bridge_ratio,
}
"""Severities that are made, from and to."""
ROUNDS = 7
NODES = np.linspace(-3.5, 3.5, 9)


# ---------------------------------------------------------------------------------------------------
# The armature: a healthy one inverted once, faults as edits


@dataclass(frozen=True)
class Responses:
    """What one test reads on a healthy armature, and what edits of its equations do to it.

    Attributes
    ----------
    base : ndarray, shape (K,)
        Healthy readings [V].
    sensed : ndarray, shape (P, K)
        What port p senses while reading k is taken.
    shown : ndarray, shape (P, K)
        What reading k shows of one unit at port p.
    answer : ndarray, shape (P, P)
        What port p senses of one unit at port q.
    """

    base: Values
    sensed: Values
    shown: Values
    answer: Values

    def readings(self, ports: Ints, inverse: Values) -> Values:
        """Readings for H sets of F edits, shape (H, K) [V]; ports (H, F), inverse strengths (H, F, F)."""
        matrix = inverse + self.answer[ports[:, :, None], ports[:, None, :]]
        drive = np.linalg.solve(matrix, self.sensed[ports])
        return np.asarray(self.base - np.einsum("hfk,hfk->hk", self.shown[ports], drive))


@dataclass(frozen=True)
class Known:
    """The healthy armature behind a case, and how its readings answer to faults.

    `to_bar[feed]` gives all bar voltages under one feed of the direct tests; `exciter` the induced pairs.
    """

    armature: Armature
    to_bar: tuple[Responses, ...]
    exciter: Responses

    @classmethod
    def of(cls, armature: Armature, feeds: Sequence[tuple[int, int]]) -> Known:
        """From an armature, whose faults are left out."""
        healthy = replace(armature, faults=())
        still = dense.direct(healthy)
        inverse, ports = _inverted(still, healthy)
        to_bar = tuple(_fed(still, healthy, inverse, ports, feed) for feed in feeds)
        driven = dense.on_exciter(healthy)
        return cls(healthy, to_bar, _excited(driven, healthy, *_inverted(driven, healthy)))

    def edits(self, faults: Sequence[Sequence[Fault]]) -> tuple[Ints, Array]:
        """Ports and inverse strengths of H equally long sets of faults, shape (H, F) and (H, F, F)."""
        width = max((2 * len(group) for group in faults), default=0)
        ports = np.zeros((len(faults), width), dtype=np.intp)
        inverse = np.zeros((len(faults), width, width))
        for h, group in enumerate(faults):
            for n, fault in enumerate(group):
                one, other = 2 * n, 2 * n + 1
                ports[h, one], ports[h, other], strength, crossed = self._edit(fault)
                inverse[h, one, one], inverse[h, other, other] = strength, 0.0 if crossed else NEVER
                inverse[h, one, other] = inverse[h, other, one] = crossed
        return ports, inverse

    def _edit(self, fault: Fault) -> tuple[int, int, float, float]:
        """Two ports of one fault, the inverse strength of the first, and what crosses to the second.

        Only a reversed coil uses the second.
        """
        winding, place = self.armature.winding, fault.coil - 1
        ohm = self.armature.electrical.coil_ohm
        series, coil, bars = (kind * winding.bars + place for kind in (SERIES, COIL, BARS))
        match fault.kind:
            case "open-coil":
                return series, coil, -1e-7 / ohm, 0.0
            case "high-resistance-joint":
                return series, coil, -1.0 / ((fault.factor - 1.0) * ohm), 0.0
            case "shorted-coil":
                return coil, series, fault.bridge_ratio * ohm, 0.0
            case "turn-short":
                part = fault.turns / winding.turns
                left = self.armature.coil_ohm(fault.coil) * (1.0 / part - 1.0)
                return coil, series, left + fault.bridge_ratio * ohm / part**2, 0.0
            case "bar-bridge":
                return bars, series, fault.bridge_ratio * ohm, 0.0
            case "reversed-coil":
                return coil, series, 0.0, -0.5
        return series, coil, NEVER, 0.0


def _inverted(equations: dense.Tableau, armature: Armature) -> tuple[Values, tuple[Values, Values]]:
    """Inverse of the equations, and the ports as rows that sense and columns that drive, shape (P, N + B)."""
    winding, node, count = armature.winding, equations.node, len(equations.node)
    size = len(equations.matrix)
    row = {branch.coil: n for n, branch in enumerate(equations.branches) if branch.coil}
    sense = np.zeros((3 * winding.bars, size))
    for bar in range(1, winding.bars + 1):
        sense[SERIES * winding.bars + bar - 1, count + row[bar]] = 1.0
        for kind, end in ((COIL, winding.wrap(bar + winding.step)), (BARS, winding.wrap(bar + 1))):
            port = kind * winding.bars + bar - 1
            sense[port, node[bar_node(bar)]] += 1.0
            sense[port, node[bar_node(end)]] -= 1.0
    drive = sense.copy()
    for part in dense.separate_parts(equations.branches):
        drive[:, node[part[0]]] = 0.0  # that row of the equations says "this node is at zero"
    return np.linalg.inv(equations.matrix), (sense, drive)


def _fed(
    equations: dense.Tableau,
    armature: Armature,
    inverse: Values,
    ports: tuple[Values, Values],
    feed: tuple[int, int],
) -> Responses:
    sense, drive = ports
    node = equations.node
    feeds = np.zeros((len(node), 1))
    feeds[node[bar_node(feed[0])]] += FEED_AMPS
    feeds[node[bar_node(feed[1])]] -= FEED_AMPS
    solved = np.concatenate(equations.solve(feeds, np.zeros((len(equations.branches), 1))))
    rows = [node[bar_node(bar)] for bar in range(1, armature.winding.bars + 1)]
    driven = inverse @ drive.T
    sensed = np.broadcast_to(sense @ solved, (len(sense), len(rows)))
    return Responses(solved[rows, 0], sensed, driven[rows].T, sense @ driven)


def _excited(
    equations: dense.Tableau, armature: Armature, inverse: Values, ports: tuple[Values, Values]
) -> Responses:
    sense, drive = ports
    emf = armature.emf_v()
    rows = np.array([emf[branch.coil - 1] * branch.share for branch in equations.branches])
    solved = np.concatenate(equations.solve(np.zeros((len(equations.node), emf.shape[1])), rows))
    bars = range(1, armature.winding.bars + 1)
    here = [equations.node[bar_node(bar)] for bar in bars]
    after = [equations.node[bar_node(armature.winding.wrap(bar + 1))] for bar in bars]
    driven = inverse @ drive.T
    probed = solved[after, range(len(here))] - solved[here, range(len(here))]
    return Responses(probed, sense @ solved, (driven[after] - driven[here]).T, sense @ driven)


# ---------------------------------------------------------------------------------------------------
# The meter: the exact law of a reading


@dataclass(frozen=True)
class Series:
    """One test under one feed, as it was read: values [V] at bars (from 0), drift known, last digit."""

    test: str
    feed: int
    bar: Ints
    value: Array
    warming: Array
    step_v: float


class _DriftWatch(Meter):
    """The maker's meter, noting the drift it draws for each test."""

    def __init__(self) -> None:
        super().__init__()
        object.__setattr__(self, "drawn", [])

    def read(self, volts: Array, rng: np.random.Generator, step_v: float) -> tuple[Array, NDArray[np.bool_]]:
        self.drawn.append(float(copy.deepcopy(rng).uniform(-self.drift, self.drift)))  # type: ignore[attr-defined]
        return super().read(volts, rng, step_v)


def drifts_of(case: Case, seed: int, mix: Mix | None = None) -> list[float]:
    """Drift over the turn of each test of a case in the order taken, by making the case again."""
    watch = _DriftWatch()
    make_case(seed, case["seed"], mix or Mix(), Bench(meter=watch))
    return list(watch.drawn)  # type: ignore[attr-defined]


def series_of(case: Case, drifts: Sequence[float]) -> tuple[list[Series], list[tuple[int, int]]]:
    """Readings with numbers, test by test, and the feeds of the direct ones."""
    meter = Meter()
    numbers = [r for r in case["readings"] if r["test"] != "ground"]
    feeds = list(dict.fromkeys((r["feed_a"], r["feed_b"]) for r in numbers if "feed_a" in r))
    grouped: dict[tuple[str, int], list[dict[str, Any]]] = {}
    for r in numbers:
        feed = feeds.index((r["feed_a"], r["feed_b"])) if "feed_a" in r else 0
        grouped.setdefault((r["test"], feed), []).append(r)
    out = []
    for ((test, feed), rows), drift in zip(grouped.items(), drifts, strict=True):
        step = meter.alternating_step_v if test == "induced" else meter.direct_step_v
        value = np.array([r["value"] for r in rows]) * 1e-3
        bar = np.array([r["a"] - 1 for r in rows], dtype=np.intp)
        out.append(Series(test, feed, bar, value, 1.0 + drift * np.arange(len(rows)) / len(rows), step))
    return out, feeds


def log_probability(series: Series, volts: Array, slack: Array | None = None) -> Array:
    """Log probability of each shown value when the true voltages are `volts` (H, K), shape (H, K).

    The probability is that of the whole last digit. `slack` [V] widens a good reading, for a first look.
    """
    meter, half = Meter(), series.step_v / 2
    mean = volts * series.warming
    spread = np.maximum(meter.gain_sd * np.abs(mean), 1e-12)
    if slack is not None:
        spread = np.hypot(spread, slack)
    off = series.value - mean
    good = ndtr((off + half) / spread) - ndtr((off - half) / spread)
    most = np.maximum(meter.bad_high * np.abs(mean), 1e-12)
    along = series.value * np.where(mean < 0, -1.0, 1.0)
    low, high = (np.clip((along + shift) / most, 0.0, 1.0) for shift in (-half, half))
    total = (1.0 - meter.bad_share) * np.maximum(good, 0.0) + meter.bad_share * (high - low)
    return np.asarray(np.log(np.maximum(total, np.exp(LOWEST))))


# ---------------------------------------------------------------------------------------------------
# What can be wrong


@dataclass(frozen=True)
class Slot:
    """One fault with its severity left open: `scale` runs evenly from 0 to 1 over what is made.

    `share` is how often it is made among all single faults.
    """

    kind: str
    coil: int
    turns: int
    share: float

    @property
    def graded(self) -> bool:
        """Whether it has a severity."""
        return self.kind not in ("open-coil", "reversed-coil")

    def fault(self, scale: float, contact: float = 0.1) -> Fault:
        """The fault at one severity."""
        if self.kind == "grounded-coil":
            return Fault(self.kind, self.coil, fraction=scale, ground_ratio=contact)
        if not self.graded:
            return Fault(self.kind, self.coil)
        low, high = MADE[self.kind]
        severity = low * (high / low) ** scale
        if self.kind == "high-resistance-joint":
            return Fault(self.kind, self.coil, factor=severity)
        return Fault(self.kind, self.coil, bridge_ratio=severity, turns=self.turns)

    def scale_of(self, fault: Fault) -> float:
        """Where between the mildest and the worst a fault lies."""
        if self.kind == "grounded-coil":
            return fault.fraction
        if not self.graded:
            return 0.5
        name = "factor" if self.kind == "high-resistance-joint" else "bridge_ratio"
        ends = [getattr(self.fault(scale), name) for scale in (0.0, 1.0)]
        return float(np.log(getattr(fault, name) / ends[0]) / np.log(ends[1] / ends[0]))

    def place(self, bars: int) -> Place:
        """As it is counted."""
        return place_of(self.kind, self.coil, (self.coil, self.coil % bars + 1))


def slots_of(winding: Winding, grounded: bool) -> list[Slot]:
    """Every fault that the makers give a winding; grounds only where the lamp lit."""
    kinds = ["open-coil", "high-resistance-joint", "shorted-coil", "reversed-coil", "grounded-coil"]
    kinds += ["turn-short"] * (winding.turns > 1) + ["bar-bridge"] * (winding.kind == "wave")
    share = 1.0 / len(kinds) / winding.bars
    slots = []
    for kind, coil in itertools.product(kinds, range(1, winding.bars + 1)):
        if kind == "grounded-coil" and not grounded:
            continue
        turns = range(1, winding.turns) if kind == "turn-short" else (1,)
        slots += [Slot(kind, coil, t, share / len(turns)) for t in turns]
    return slots


@dataclass(frozen=True)
class Candidate:
    """A set of faults, where its severities stand, and the log of prior times likelihood."""

    slots: tuple[Slot, ...]
    scales: tuple[float, ...]
    weight: float = -np.inf


@dataclass
class Oracle:
    """The judge of one case."""

    case: Case
    drifts: Sequence[float]
    armature: Armature = field(init=False)
    series: list[Series] = field(init=False)
    known: Known = field(init=False)
    slots: list[Slot] = field(init=False)
    truth: Candidate = field(init=False)
    _shapes: dict[str, Any] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.armature = armature_of(self.case)
        self.series, feeds = series_of(self.case, self.drifts)
        self.known = Known.of(self.armature, feeds)
        self.slots = slots_of(self.armature.winding, self.armature.grounded)
        self.truth = self._true_candidate()

    def answer(self, column: Column) -> Answer:
        """The most probable set, and how probable each of its faults is."""
        finalists = self._finalists(column)
        weighed = [self._weigh(candidate, column) for candidate in finalists]
        weight = np.array([candidate.weight for candidate in weighed])
        share = np.exp(weight - weight.max())
        share /= share.sum()
        bars = self.armature.winding.bars
        sets: dict[frozenset[Place], float] = {}
        for candidate, part in zip(weighed, share, strict=True):
            places = frozenset(slot.place(bars) for slot in candidate.slots)
            sets[places] = sets.get(places, 0.0) + float(part)
        best = max(sets, key=lambda places: sets[places])
        told = {place: sum(p for places, p in sets.items() if place in places) for place in best}
        claims = [Claim(place, p) for place, p in sorted(told.items(), key=lambda item: -item[1])]
        return Answer("faulty" if best else "sound", tuple(claims))

    # -- candidates

    def _true_candidate(self) -> Candidate:
        slots = []
        for fault in self.armature.faults:
            alike = [s for s in self.slots if (s.kind, s.coil) == (fault.kind, fault.coil)]
            slots.append(next(s for s in alike if s.kind != "turn-short" or s.turns == fault.turns))
        scales = [slot.scale_of(fault) for slot, fault in zip(slots, self.armature.faults, strict=True)]
        return Candidate(tuple(slots), tuple(scales))

    def _finalists(self, column: Column) -> list[Candidate]:
        """Sets worth weighing exactly: of the singles and the grown pairs the best, and the truth always."""
        grounded = self.armature.grounded
        singles = [Candidate((slot,), (float(scale),)) for slot in self.slots for scale in _coarse(slot)]
        first = self._looked_at(singles, column)
        best_singles = _best_places(first, SEEDS)
        seeds = [
            Candidate((slot,), (scale,))
            for slot, scale in zip(self.truth.slots, self.truth.scales, strict=True)
        ]
        pairs = self._looked_at(_grown([*seeds, *best_singles], singles, grounded), column)
        alone = [c for c in first if not grounded or c.slots[0].kind == "grounded-coil"]
        always = [self.truth]
        if self.truth.slots and not grounded:
            always.append(Candidate((), ()))
        rivals = _best_places([*alone, *pairs], FINALISTS)
        rivals = [c for c in rivals if frozenset(c.slots) != frozenset(self.truth.slots)]
        close = [c for c in rivals if c.weight > rivals[0].weight - HOPELESS]
        return [*always, *close]

    def _prior(self, slots: tuple[Slot, ...]) -> float:
        mix, bars = Mix(), self.armature.winding.bars
        if not slots:
            return float(np.log(mix.sound_share))
        shares = float(np.prod([slot.share for slot in slots]))
        if len(slots) == 1:
            return float(np.log((1.0 - mix.sound_share - mix.double_share) * shares))
        # two places are drawn without putting back, in either order
        return float(np.log(mix.double_share * 2.0 * shares * bars / (bars - 1)))

    # -- likelihood

    def _looked_at(self, candidates: list[Candidate], column: Column) -> list[Candidate]:
        """Rough weights: the severities stand on a coarse grid, so each leaves a share of its effect open."""
        if not candidates:
            return []
        scales = np.array([c.scales for c in candidates])
        rough = self._log_likelihood([c.slots for c in candidates], scales, column, slack=0.12)
        prior = np.array([self._prior(c.slots) for c in candidates])
        return [replace(c, weight=float(w)) for c, w in zip(candidates, rough + prior, strict=True)]

    def _weigh(self, candidate: Candidate, column: Column) -> Candidate:
        """Likelihood with the severities integrated out, each evenly over what is made."""
        graded = [n for n, slot in enumerate(candidate.slots) if slot.graded]
        if len(candidate.slots) == 2 and all(s.kind == "grounded-coil" for s in candidate.slots):
            graded = []
        scales = np.array(candidate.scales, dtype=float)

        def likelihood(points: Array) -> Array:
            every = np.tile(scales, (len(points), 1))
            every[:, graded] = points
            return self._log_likelihood([candidate.slots] * len(points), every, column)

        if not graded:
            weight = float(likelihood(np.zeros((1, 0)))[0])
        else:
            weight = _integrated(likelihood, scales[graded])
        return replace(candidate, weight=weight + self._prior(candidate.slots))

    def _log_likelihood(
        self, slots: Sequence[tuple[Slot, ...]], scales: Array, column: Column, slack: float = 0.0
    ) -> Array:
        """Log likelihood of all readings of the column, shape (H,)."""
        if any(_two_grounds(group) for group in slots):
            return np.array([self._outright(g, s, column) for g, s in zip(slots, scales, strict=True)])
        faults = [
            [slot.fault(scale) for slot, scale in zip(group, row, strict=True)]
            for group, row in zip(slots, scales, strict=True)
        ]
        ports, inverse = self.known.edits(faults)
        total = np.zeros(len(faults))
        for series in self.series:
            if series.test not in column.tests:
                continue
            volts, healthy = self._volts(series, ports, inverse, faults)
            open_still = slack * np.abs(volts - healthy) if slack else None
            total += log_probability(series, volts, open_still).sum(axis=1)
        return total

    def _volts(
        self, series: Series, ports: Ints, inverse: Array, faults: Sequence[Sequence[Fault]]
    ) -> tuple[Array, Array]:
        """True readings of one test for each set, (H, K), and those of the healthy armature."""
        if series.test == "induced":
            part = self.known.exciter
            return np.abs(part.readings(ports, inverse))[:, series.bar], np.abs(part.base)[series.bar]
        part = self.known.to_bar[series.feed]
        volts = part.readings(ports, inverse)
        if series.test == "drop":
            drop = volts - np.roll(volts, -1, axis=1)
            return drop[:, series.bar], (part.base - np.roll(part.base, -1))[series.bar]
        shaft = self._shaft(volts, faults)
        return (volts - shaft[:, None])[:, series.bar], (part.base[None, :] - shaft[:, None])[:, series.bar]

    def _shaft(self, volts: Array, faults: Sequence[Sequence[Fault]]) -> Array:
        """Voltage of the one place that touches the shaft; without one, that of no bar at all."""
        winding = self.armature.winding
        out = np.full(len(faults), np.inf)
        for h, group in enumerate(faults):
            for fault in group:
                if fault.kind == "grounded-coil":
                    start, end = fault.coil - 1, winding.wrap(fault.coil + winding.step) - 1
                    out[h] = volts[h, start] + fault.fraction * (volts[h, end] - volts[h, start])
        return np.where(np.isfinite(out), out, volts.mean(axis=1))

    def _outright(self, slots: tuple[Slot, ...], scales: Array, column: Column) -> float:
        """Two grounds, which drive a current through the shaft: solved by the reference as they stand."""
        contacts = [f.ground_ratio for f in self.armature.faults if f.kind == "grounded-coil"]
        contacts = (contacts * 2)[:2] or [0.1, 0.1]
        faults = [s.fault(x, c) for s, x, c in zip(slots, scales, contacts, strict=True)]
        armature = replace(self.armature, faults=tuple(faults))
        total = 0.0
        feeds = series_of(self.case, self.drifts)[1]
        for series in self.series:
            if series.test not in column.tests:
                continue
            if series.test == "induced":
                volts = np.abs(self.known.exciter.base)
            elif series.test == "drop":
                volts = dense.bar_drop(armature, *feeds[series.feed], FEED_AMPS)
            else:
                volts = dense.shaft_drop(armature, *feeds[series.feed], FEED_AMPS)
            total += float(log_probability(series, volts[None, series.bar]).sum())
        return total


def _coarse(slot: Slot) -> Array:
    """Severities for a first look."""
    if not slot.graded:
        return np.array([0.5])
    if slot.kind == "high-resistance-joint":
        return np.linspace(0.05, 0.95, 8)
    if slot.kind == "turn-short":
        return np.array([0.3, 0.8])
    if slot.kind == "grounded-coil":
        return np.linspace(0.05, 0.95, 9)
    # a bridge is told from a dead short only at the upper end of what is made
    return np.array([0.3, 0.7, 0.83, 0.92, 0.98])


def _grown(seeds: list[Candidate], singles: list[Candidate], grounded: bool) -> list[Candidate]:
    """Every single added to every seed, each pair of places once; a lit lamp must be explained."""
    out: dict[tuple[tuple[Slot, float], ...], Candidate] = {}
    for seed, other in itertools.product(seeds, singles):
        slots = (seed.slots[0], other.slots[0])
        if slots[0].coil == slots[1].coil or _two_grounds(slots):
            continue
        if grounded and all(slot.kind != "grounded-coil" for slot in slots):
            continue
        out[(slots[0], seed.scales[0]), (slots[1], other.scales[0])] = Candidate(
            slots, (seed.scales[0], other.scales[0])
        )
    return list(out.values())


def _two_grounds(slots: tuple[Slot, ...]) -> bool:
    return len(slots) == 2 and all(slot.kind == "grounded-coil" for slot in slots)


def _best_places(candidates: list[Candidate], count: int) -> list[Candidate]:
    """The best severity of each set of faults, best sets first."""
    seen: set[frozenset[Slot]] = set()
    out = []
    for candidate in sorted(candidates, key=lambda c: -c.weight):
        key = frozenset(candidate.slots)
        if key not in seen:
            seen.add(key)
            out.append(candidate)
            if len(out) == count:
                break
    return out


def _integrated(likelihood: Any, start: Array) -> float:
    """Log of the mean of a likelihood over the unit square or interval, from a peak near `start`.

    The peak is found by a shrinking search; round it a grid of nodes, as wide as the curvature says and cut
    off at the edges of what is made, is summed by the trapezoid rule.
    """
    at, best, width = np.clip(start, 0.0, 1.0), -np.inf, 0.15
    moves = np.array(list(itertools.product((-1.0, -0.5, 0.0, 0.5, 1.0), repeat=len(start))))
    for _ in range(ROUNDS):
        points = np.clip(at + width * moves, 0.0, 1.0)
        values = likelihood(points)
        if values.max() >= best:
            at, best = points[int(np.argmax(values))], float(values.max())
        width *= 0.5
    axes = [_axis(likelihood, at, n) for n in range(len(at))]
    points = np.array(list(itertools.product(*axes)))
    values = likelihood(points)
    cell = np.ones(len(points))
    for n, axis in enumerate(axes):
        cell *= _trapezoid(axis)[np.searchsorted(axis, points[:, n])]
    top = float(values.max())
    return top + float(np.log((np.exp(values - top) * cell).sum()))


def _axis(likelihood: Any, at: Array, n: int) -> Array:
    """Nodes along one severity: out to where the likelihood has fallen by about exp(-6)."""
    reach = 0.001
    while reach < 1.0:
        points = np.tile(at, (3, 1))
        points[:, n] = np.clip(at[n] + reach * np.array([-1.0, 0.0, 1.0]), 0.0, 1.0)
        values = likelihood(points)
        if values[1] - max(values[0], values[2]) > 6.0:
            break
        reach *= 1.6
    axis = np.unique(np.clip(at[n] + reach * NODES / NODES.max(), 0.0, 1.0))
    return axis if len(axis) > 1 else np.array([at[n] - 5e-4, at[n] + 5e-4])


def _trapezoid(axis: Array) -> Array:
    """Width that each node stands for."""
    apart = np.diff(axis)
    return np.asarray((np.append(apart, 0.0) + np.append(0.0, apart)) / 2)
