"""The diagnosis of one armature: every test together, one joint posterior, an honest verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError, WindingError
from barwise.inspect.armature import wording
from barwise.inspect.armature.blade import blade_gain
from barwise.inspect.armature.detectability import (
    SEEN_AT_ALL,
    expected_gain,
    mildest_shown,
    nominal_theta,
    severities,
    worst_everywhere,
)
from barwise.inspect.armature.grounding import GROUND_OHM, Tap, ground_probability, tap_posterior
from barwise.inspect.armature.hypotheses import (
    BAR_BRIDGE,
    GROUND,
    JOINT,
    NONE,
    OPEN,
    REVERSED,
    TIE,
    Hypotheses,
    as_fault,
    grounded_twice,
    log_prior,
    nothing_wrong,
    possible_kinds,
    singles,
)
from barwise.inspect.armature.likelihood import GAIN_NOISE, OF_THE_SOURCE, Meter
from barwise.inspect.armature.next_reading import most_telling, moved_feed, usual_feed
from barwise.inspect.armature.observations import Observations, observe
from barwise.inspect.armature.prediction import Predictor
from barwise.inspect.armature.screening import Pool, first_look
from barwise.inspect.armature.search import Explanations, fault_set, reweighed, search
from barwise.inspect.armature.severity import how_bad
from barwise.inspect.diagnosis import (
    Detectable,
    Diagnosis,
    Finding,
    NextReading,
    SuspectReading,
    Verdict,
)
from barwise.machine.faults import Fault, TurnShort
from barwise.machine.kernel import fully_equalized
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

SURE = 0.9
"""Probability at which the verdict is sound or faulty; between is undecided."""
MENTIONED = 0.01
"""Least probability of a runner-up explanation that is still told."""
MOST_TOLD = 4
UNPLACED = 0.05
"""Share of a ground's places below which one of them is not told."""
OUT_OF_SIGHT = 0.25
"""An armature is not called sound with more of it than this out of sight of every test."""
SUSPECT = 0.5
TOO_MANY_BAD = 0.15
"""Share of doubted readings above which no explanation is trusted."""
DOUBT = 0.5


@dataclass(frozen=True)
class Telling:
    """One explanation with a place for its ground."""

    fitted: Explanations
    row: int
    tap: Tap | None
    probability: float

    @property
    def faults(self) -> tuple[tuple[int, int, float], ...]:
        """Kind, place and severity of each fault between the bars."""
        h = self.fitted.fit.hypotheses
        return tuple(
            (int(k), int(p), float(u))
            for k, p, u in zip(h.kind[self.row], h.place[self.row], h.severity[self.row], strict=True)
            if k not in (NONE, TIE)
        )

    @property
    def grounded(self) -> bool:
        """Whether it has a ground, or two."""
        return self.tap is not None or any(kind == GROUND for kind, *_ in self.faults)


def diagnose(winding: Winding, readings: Sequence[Reading], meter_ohm: float | None = None) -> Diagnosis:
    """Verdict, located faults and what the readings could have missed.

    Parameters
    ----------
    winding : Winding
        Its connection.
    readings : sequence of Reading
        Any tests, any bars, in the order they were taken; repeats are used.
    meter_ohm : float, optional
        Resistance of the meter on induced readings [ohm]; without it the meter draws no current.

    Returns
    -------
    Diagnosis

    Raises
    ------
    InputError
        If there are no readings.
    WindingError
        If a feed joins bars that the winding does not join, or only some of the bars have equalizers.
    """
    found = explain(winding, readings, meter_ohm)
    seen = found[0].predictor.seen
    tellings, grounded = _tellings(seen, found)
    best = tellings[0]
    sound = sum(t.probability for t in tellings if not t.faults and t.tap is None)
    detectable = _detectable(seen, best, grounded)
    contradictory = _contradictory(best)
    # readings that contradict each other blame no coil; a lit lamp still speaks for itself
    misread = contradictory and (grounded is None or grounded < SURE)
    verdict: Verdict = "undecided" if misread else _verdict(winding, sound, detectable)
    findings = _findings(winding, tellings)
    if contradictory:
        findings = tuple(replace(f, probability=f.probability * DOUBT) for f in findings)
    return Diagnosis(
        verdict=verdict,
        sound_probability=float(sound),
        findings=findings,
        suspects=_suspects(seen, best),
        smallest_detectable=detectable,
        next_reading=_next(seen, tellings, verdict, detectable, grounded),
        readings=tuple(readings),
        expected=_expected(seen, best),
        notes=_notes(seen, detectable, contradictory, meter_ohm, found[0].predictor),
    )


def explain(
    winding: Winding, readings: Sequence[Reading], meter_ohm: float | None = None
) -> list[Explanations]:
    """Fitted explanations between the bars, by number of faults; grounds are placed afterwards.

    Raises as `diagnose` does.
    """
    if not readings:
        raise InputError("readings", "none", "at least one reading")
    _check_equalizers(winding)
    _check_closures(winding, readings)
    seen = observe(winding, readings)
    predictor, meter = _prepared(seen, meter_ohm)
    return reweighed(search(predictor, meter, _visible(predictor, meter)))


def _check_equalizers(winding: Winding) -> None:
    """With equalizers at some bars only, no two bars are alike, and the search counts on that they are."""
    if winding.equalizers and not fully_equalized(winding):
        every = winding.bars // winding.pole_pairs
        raise WindingError(
            f"equalizers: found {winding.equalizers}; a diagnosis needs every bar equalized ({every}) or none"
        )


def _check_closures(winding: Winding, readings: Sequence[Reading]) -> None:
    """Voltages between bars that no coil joins mean nothing."""
    rings = winding.closures
    if rings == 1 or winding.equalizers:
        return
    for r in readings:
        if r.test == "blade":
            continue
        pairs = [] if r.end is None else [(r.start, r.end)]
        pairs += [(r.feed.into, r.feed.out)] if r.feed else []
        for start, end in pairs:
            if (start - end) % rings:
                raise InputError(
                    f"line {r.line}",
                    f"bars {start} and {end}, which this winding does not join",
                    f"bars a multiple of {rings} apart: it closes on itself {rings} times",
                )


def _verdict(winding: Winding, sound: float, detectable: dict[str, Detectable]) -> Verdict:
    if 1 - sound >= SURE:
        return "faulty"
    of_coils = [d for name, d in detectable.items() if name not in ("grounded-coil", "bar-bridge")]
    looked = any(d.severity and len(d.hidden) <= OUT_OF_SIGHT * winding.bars for d in of_coils)
    return "sound" if sound >= SURE and looked else "undecided"


def _contradictory(best: Telling) -> bool:
    """Whether even the best explanation leaves far more bad touches than a bench makes."""
    good = best.fitted.fit.good[best.row]
    return bool((1 - good).sum() > TOO_MANY_BAD * len(good) + 3)


def _prepared(seen: Observations, meter_ohm: float | None) -> tuple[Predictor, Meter]:
    """Predictor and meter; levels from a first look over the single faults."""
    direct, induced = _gain_noise(seen)
    meter = Meter.of(seen, direct, induced)
    predictor = Predictor.of(seen, 1)
    look = first_look(predictor, meter, Pool.of_singles(nothing_wrong()))
    level = max(float(look.level[0]), _least_level(predictor, meter))
    predictor = replace(predictor, level=level, strength=float(look.strength[0]))
    if meter_ohm is not None and seen.induced is not None:
        coil_ohm = seen.winding.coil_resistance_ohm or _coil_ohm(predictor, meter)
        if coil_ohm is not None:
            predictor = replace(predictor, meter_ratio=meter_ohm / coil_ohm)
    return predictor, meter


def _least_level(predictor: Predictor, meter: Meter) -> float:
    """Log of a third of the level that the readings' mere size speaks for, whatever their signs."""
    if not predictor.direct_count:
        return 0.0
    direct = slice(0, predictor.direct_count)
    of_coils = meter.gain[direct] < OF_THE_SOURCE
    read = float(np.abs(meter.value[direct][of_coils]).mean())
    shape = float(np.abs(predictor.healthy_direct[:, of_coils]).mean())
    return float(np.log(max(read, 1e-12) / max(shape, 1e-12) / 3))


def _coil_ohm(predictor: Predictor, meter: Meter) -> float | None:
    """Resistance of a healthy coil as the likeliest single fault makes it out of the direct readings [ohm].

    A fault changes how the current divides, and so what the readings would say of a healthy winding's coils.
    """
    winding = predictor.seen.winding
    if not predictor.seen.direct:
        return None
    everywhere = np.ones((len(possible_kinds(winding)), winding.bars), dtype=bool)
    each = Hypotheses.join(nothing_wrong(), singles(winding, everywhere))
    look = first_look(predictor, meter, Pool.of_singles(each))
    score = look.density[:, : predictor.direct_count].sum(axis=1) + log_prior(each, winding)
    return float(np.exp(look.level[int(np.argmax(score))]))


def _gain_noise(seen: Observations) -> tuple[float, float]:
    """Gain noise of the direct and the induced readings, from how neighbours scatter."""
    out = []
    for groups in (seen.direct, (seen.induced,) if seen.induced else ()):
        scatter = [s for g in groups for s in _scatter(g.value, g.floor)]
        n, expected = len(scatter), 15.0
        typical = 1.4826 * float(np.median(scatter)) if n else GAIN_NOISE
        noise = np.sqrt((expected * GAIN_NOISE**2 + n * typical**2) / (expected + n))
        out.append(float(np.clip(noise, 0.75 * GAIN_NOISE, 0.03)))
    return out[0], out[1]


def _scatter(value: Array, floor: Array) -> list[float]:
    """Size of each reading's departure from its two neighbours' mean over itself, floor taken out."""
    if len(value) < 3:
        return []
    middle = (value[:-2] + value[2:]) / 2
    size = np.abs(value[1:-1])
    clear = size > 30 * floor[1:-1]
    off = np.abs(value[1:-1] - middle)[clear] / np.sqrt(1.5)
    return list(np.sqrt(np.maximum(off**2 - floor[1:-1][clear] ** 2, 0)) / size[clear])


def _visible(predictor: Predictor, meter: Meter) -> NDArray[np.bool_]:
    """Which kinds and places these readings could show at their worst, shape (kinds, bars)."""
    worst = worst_everywhere(predictor.seen.winding)
    gain = expected_gain(predictor, meter, nothing_wrong(), nominal_theta(predictor), worst)
    gain = gain + blade_gain(predictor, worst)
    return np.asarray(gain >= SEEN_AT_ALL).reshape(-1, predictor.seen.winding.bars)


def _tellings(seen: Observations, found: list[Explanations]) -> tuple[list[Telling], float | None]:
    """Explanations with ground places, most probable first, and the probability of a ground."""
    every = [(e, i, float(e.weight[i])) for e in found for i in range(len(e.weight))]
    every.sort(key=lambda r: r[2])
    # a set may have been grown from each of its faults: it counts once, as it fitted best
    distinct = {fault_set(e.fit.hypotheses, i): (e, i, weight) for e, i, weight in every}
    rows = sorted(distinct.values(), key=lambda r: -r[2])
    ground = ground_probability(seen, rows[0][0])
    out: list[tuple[Explanations, int, Tap | None, float]] = []
    for e, i, weight in rows[:24]:
        if ground is None:
            out.append((e, i, None, weight))
            continue
        if grounded_twice(e.fit.hypotheses):
            out.append((e, i, None, weight + float(np.log(ground))))
            continue
        out.append((e, i, None, weight + float(np.log1p(-min(ground, 1 - 1e-13)))))
        if ground > 1e-3:
            taps, evidence = tap_posterior(seen, e, i)
            out += [(e, i, tap, weight + evidence + float(np.log(ground * tap.probability))) for tap in taps]
    weights = np.array([w for *_, w in out])
    share = np.exp(weights - weights.max())
    share /= share.sum()
    tellings = [Telling(e, i, tap, float(p)) for (e, i, tap, _), p in zip(out, share, strict=True)]
    # a ground whose place is open is many small shares, together likelier than no ground
    grounded = sum(t.probability for t in tellings if t.grounded) > 0.5
    return sorted(tellings, key=lambda t: (t.grounded != grounded, -t.probability)), ground


def _findings(winding: Winding, tellings: Sequence[Telling]) -> tuple[Finding, ...]:
    """Faults of the best explanations, each with the probability that it is there at all."""
    told = [t for t in tellings if t.faults or t.tap][:MOST_TOLD]
    told = [t for i, t in enumerate(told) if i == 0 or _worth_telling(t)]
    first = 1 if tellings[0] in told else 2
    out: list[Finding] = []
    known: set[tuple[str, int]] = set()
    for number, telling in enumerate(told, start=first):
        findings = _told(winding, tellings, telling, number)
        findings.sort(key=lambda f: (_key(f) in known, -f.probability))
        known |= {_key(f) for f in findings}
        out += findings
    return tuple(out)


def _worth_telling(telling: Telling) -> bool:
    """Not one of many places that a lamp alone leaves open."""
    placed = telling.tap is None or telling.tap.probability >= UNPLACED
    return placed and telling.probability >= MENTIONED


def _key(finding: Finding) -> tuple[str, int]:
    return finding.fault, finding.coil or finding.bars[0]


def _told(winding: Winding, tellings: Sequence[Telling], telling: Telling, number: int) -> list[Finding]:
    out = []
    for kind, place, u in telling.faults:
        fault = as_fault(kind, place, u, winding.turns_per_coil)
        probability = sum(
            t.probability for t in tellings if any((k, p) == (kind, place) for k, p, _ in t.faults)
        )
        severity = how_bad(telling.fitted, telling.row, fault, kind, place)
        out.append(_finding(winding, fault, kind, place, probability, severity, number))
    if telling.tap is not None:
        coil = telling.tap.coil
        probability = sum(t.probability for t in tellings if t.tap and t.tap.coil == coil)
        tap = telling.tap
        severity = {"fraction": tap.fraction, "fraction_low": tap.low, "fraction_high": tap.high}
        out.append(
            Finding(
                "grounded-coil",
                coil,
                winding.coil_bars(coil),
                winding.coil_slots(coil),
                min(1.0, float(probability)),
                severity,
                number,
            )
        )
    return out


NAMES = {
    JOINT: "high-resistance-joint",
    OPEN: "open-coil",
    BAR_BRIDGE: "bar-bridge",
    REVERSED: "reversed-coil",
    GROUND: "grounded-coil",
}


def _finding(
    winding: Winding,
    fault: Fault,
    kind: int,
    place: int,
    probability: float,
    severity: dict[str, float],
    number: int,
) -> Finding:
    name = NAMES.get(kind, "turn-short" if isinstance(fault, TurnShort) else "shorted-coil")
    probability = min(1.0, float(probability))
    if kind == BAR_BRIDGE:
        bars = (place + 1, (place + 1) % winding.bars + 1)
        return Finding(name, None, bars, (), probability, severity, number)
    coil = place + 1
    bars = winding.coil_bars(coil)
    return Finding(name, coil, bars, winding.coil_slots(coil), probability, severity, number)


def _columns(seen: Observations) -> NDArray[np.intp]:
    """Reading behind each column of the prediction."""
    if not seen.groups:
        return np.zeros(0, dtype=np.intp)
    return np.concatenate([g.row for g in seen.groups])


def _suspects(seen: Observations, best: Telling) -> tuple[SuspectReading, ...]:
    fit, row = best.fitted.fit, best.row
    out = []
    for column, reading in enumerate(_columns(seen)):
        bad = 1 - float(fit.good[row, column])
        if bad > SUSPECT:
            out.append(
                SuspectReading(
                    seen.readings[reading],
                    wording.bad_touch(float(best.fitted.meter.value[column]), float(fit.mean[row, column])),
                    bad,
                )
            )
    out += [
        SuspectReading(seen.readings[i], wording.bad_touch(value, mean), 0.99)
        for i, value, mean in seen.aside
    ]
    out += [
        SuspectReading(seen.readings[i], wording.odd_lamp(lit), 0.9)
        for i, _, lit in seen.lamp
        if lit != best.grounded
    ]
    return tuple(out)


def _expected(seen: Observations, best: Telling) -> tuple[float | None, ...]:
    out: list[float | None] = [None] * len(seen.readings)
    mean = best.fitted.fit.mean[best.row]
    at = 0
    for group in seen.groups:
        for rows in group.speaks_for:
            for row in rows:
                out[row] = float(-mean[at] if group.swapped else mean[at])
            at += 1
    return tuple(out)


def _detectable(seen: Observations, best: Telling, grounded: float | None) -> dict[str, Detectable]:
    """Smallest severity per kind that would have shown beside what was found."""
    fitted, winding = best.fitted, seen.winding
    base = fitted.fit.hypotheses.take([best.row])
    theta = fitted.fit.theta[[best.row]]
    if not best.faults or grounded_twice(base):
        base = nothing_wrong()
    out = {}
    for kind, rungs in mildest_shown(fitted.predictor, fitted.meter, base, theta).items():
        taken = [p for k, p, _ in best.faults if (k == BAR_BRIDGE) == (kind == BAR_BRIDGE)]
        free = np.setdiff1d(np.arange(winding.bars), taken)
        for detectable in _limits(winding, kind, rungs, free, seen):
            out[detectable.fault] = detectable
    out["grounded-coil"] = Detectable(
        "grounded-coil",
        {} if grounded is None else {"insulation_ohm": GROUND_OHM},
        () if grounded is not None else tuple(range(1, winding.bars + 1)),
        wording.ground_limit(grounded is not None),
    )
    return out


def _limits(winding: Winding, kind: int, rungs: Ints, free: Ints, seen: Observations) -> list[Detectable]:
    """Detectability of one kind at the places that have no fault yet, from the rungs that would show."""
    shows = rungs[free]
    hidden = tuple(int(p) + 1 for p in free[shows == 0])
    limit = None
    if (shows > 0).any():
        limit = float(np.exp(severities(kind)[shows[shows > 0].min() - 1]))
    return wording.limits(winding, NAMES.get(kind, "shorted-coil"), limit, hidden, seen)


def _next(
    seen: Observations,
    tellings: Sequence[Telling],
    verdict: Verdict,
    detectable: dict[str, Detectable],
    grounded: float | None,
) -> NextReading | None:
    """What to probe next: what separates the explanations, else what no reading has looked at yet."""
    best = tellings[0]
    if grounded is not None and grounded > 0.5 and _ground_unplaced(tellings):
        feeds = [g.feed for g in seen.direct if g.test == "shaft-drop" and g.feed]
        drops = [g.feed for g in seen.direct if g.test == "drop" and g.feed]
        feed = moved_feed(seen.winding, feeds[0]) if feeds else (drops or [usual_feed(seen.winding)])[0]
        return NextReading("shaft-drop", 1, None, feed, wording.place_the_ground(bool(feeds), feed))
    open_coils = [place + 1 for kind, place, _ in best.faults if kind == OPEN]
    around = wording.past_the_open(seen, detectable, open_coils)
    if verdict == "faulty" and around is not None:
        return around
    by_faults: dict[tuple[tuple[int, int], ...], tuple[Telling, float]] = {}
    for t in tellings:
        key = tuple(sorted((k, p) for k, p, _ in t.faults))
        kept, total = by_faults.get(key, (t, 0.0))
        by_faults[key] = (kept, total + t.probability)
    ranked = sorted(by_faults.values(), key=lambda v: -v[1])[:10]
    if len(ranked) > 1 and ranked[0][1] < 0.99 and seen.numeric_count:
        sets = [(*_one(t), p) for t, p in ranked]
        told = most_telling(seen, best.fitted.predictor, sets)
        if told is not None:
            reading, _ = told
            return NextReading(
                reading.test,
                reading.start,
                reading.end,
                reading.feed,
                wording.separates(seen, reading),
            )
    return wording.unseen_next(seen, detectable, verdict)


def _one(telling: Telling) -> tuple[Hypotheses, Array]:
    fit = telling.fitted.fit
    return fit.hypotheses.take([telling.row]), fit.theta[[telling.row]]


def _ground_unplaced(tellings: Sequence[Telling]) -> bool:
    shares: dict[int, float] = {}
    for t in tellings:
        if t.tap is not None:
            shares[t.tap.coil] = shares.get(t.tap.coil, 0.0) + t.probability
    return bool(shares) and max(shares.values()) < SURE


def _notes(
    seen: Observations,
    detectable: dict[str, Detectable],
    contradictory: bool,
    meter_ohm: float | None,
    predictor: Predictor,
) -> tuple[str, ...]:
    notes = [wording.swapped(g.test, g.feed) for g in seen.direct if g.swapped]
    notes += wording.nothing_read(seen)
    if contradictory:
        notes += wording.why_contradictory(seen)
    if meter_ohm is not None and seen.induced is not None and predictor.meter_ratio is None:
        notes.append(wording.METER_UNUSED)
    return (*notes, *wording.blind_spots(detectable))
