"""Makes armatures with known faults and the readings a shop takes of them, for scoring a diagnosis.

    python -m reference.makers --count 2000 --spice 500 --seed 1 --out build/cases.json.gz

Everything is invented. Each case holds the winding, the truth, which readings are bad touches, the
readings, and the electrical values behind them (for a judge who knows them).
"""

from __future__ import annotations

import argparse
import gzip
import json
import math
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, field
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from reference import dense, spice
from reference.armature import KINDS, Armature, Electrical, Exciter, Fault, Winding
from reference.meter import Meter

Array = NDArray[np.float64]
Rng = np.random.Generator
Reading = dict[str, object]

WINDINGS = (
    Winding("lap", 2, 24, turns=8),
    Winding("lap", 6, 48, progression="retrogressive"),
    Winding("lap", 4, 32),
    Winding("wave", 4, 57, progression="retrogressive"),
    Winding("wave", 4, 29, turns=2),
    Winding("wave", 6, 62),
)
FEED_AMPS = 10.0
OHM_PER_SQUARE_TURN = 0.35e-3
"""Coil resistance over turns squared: a fixed winding window [ohm]."""


@dataclass(frozen=True)
class Mix:
    """What is made: shares of sound and double-fault armatures, severities, exciter and coils.

    Ranges are (low, high); bridges, ground contacts and joints are drawn evenly on a logarithmic
    scale, all else evenly.

    Parameters
    ----------
    coil_ohm_sd : float
        Standard deviation of sound coils' resistances, over their mean.
    side_shift_deg : float
        The sides of the coils lie this far out of place at most, evenly.
    """

    sound_share: float = 0.175
    double_share: float = 0.20
    joint_factor: tuple[float, float] = (1.25, 4.0)
    bridge_ratio: tuple[float, float] = (0.002, 0.4)
    turn_bridge_ratio: tuple[float, float] = (0.002, 0.2)
    ground_ratio: tuple[float, float] = (0.01, 1.0)
    separation_deg: tuple[float, float] = (80.0, 100.0)
    spread_deg: tuple[float, float] = (9.0, 16.0)
    offset_deg: tuple[float, float] = (-4.0, 4.0)
    leakage_ratio: tuple[float, float] = (0.05, 0.4)
    resistance_over_reactance: tuple[float, float] = (0.4, 1.0)
    ohm_spread: tuple[float, float] = (0.9, 1.1)
    volts_per_turn: tuple[float, float] = (0.030, 0.050)
    coil_ohm_sd: float = 0.005
    side_shift_deg: float = 0.25


@dataclass(frozen=True)
class Bench:
    """How the readings are taken.

    Parameters
    ----------
    meter : Meter
    shaft_feeds : int
        Feeds of the shaft-drop test of a grounded armature: 1, or 2 with the second moved on.
    meter_ohm : float, optional
        Load of the meter on the induced readings, written on the winding's sheet [ohm].
    random_windings : bool
        Other windings than the six.
    """

    meter: Meter = field(default_factory=Meter)
    shaft_feeds: int = 2
    meter_ohm: float | None = None
    random_windings: bool = False


def make_case(seed: int, number: int, mix: Mix, bench: Bench, by_spice: bool = False) -> dict[str, object]:
    """One case, the same for the same `seed` and `number` whichever way it is solved."""
    rng = np.random.default_rng([seed, number])
    winding = WINDINGS[number % len(WINDINGS)]
    if bench.random_windings:
        winding = random_winding(rng)
    armature = draw_armature(winding, rng, mix)
    readings, bad = take_readings(armature, bench, rng, by_spice)
    sheet = winding.sheet()
    if bench.meter_ohm is not None:
        sheet["meter_ohms"] = bench.meter_ohm
    return {
        "seed": number,
        "winding": sheet,
        "truth": [fault.truth(winding) for fault in armature.faults],
        "bad_touches": bad,
        "readings": readings,
        "solver": "ngspice" if by_spice else "dense",
        "electrical": asdict(armature.electrical),
        "exciter": asdict(armature.exciter),
        "coil_ohm_factor": armature.coil_ohm_factor,
        "side_shift_rad": armature.side_shift_rad,
    }


def armature_of(case: dict[str, object]) -> Armature:
    """The armature behind a case, for a judge who knows the truth."""
    return Armature(
        Winding.from_sheet(case["winding"]),  # type: ignore[arg-type]
        tuple(Fault.from_truth(t) for t in case["truth"]),  # type: ignore[attr-defined]
        Electrical(**case["electrical"]),  # type: ignore[arg-type]
        Exciter(**case["exciter"]),  # type: ignore[arg-type]
        case["coil_ohm_factor"],  # type: ignore[arg-type]
        case["side_shift_rad"],  # type: ignore[arg-type]
    )


def draw_armature(winding: Winding, rng: Rng, mix: Mix) -> Armature:
    """An armature with none, one or two faults, on an exciter of its own."""
    ohm = OHM_PER_SQUARE_TURN * winding.turns**2 * rng.uniform(*mix.ohm_spread)
    electrical = Electrical(
        coil_ohm=ohm,
        reactance_ohm=ohm / rng.uniform(*mix.resistance_over_reactance),
        leakage_ratio=rng.uniform(*mix.leakage_ratio),
    )
    exciter = Exciter(
        separation_rad=math.radians(rng.uniform(*mix.separation_deg)),
        spread_rad=math.radians(rng.uniform(*mix.spread_deg)),
        offset_rad=math.radians(rng.uniform(*mix.offset_deg)),
        volts_per_turn=rng.uniform(*mix.volts_per_turn),
    )
    faults = draw_faults(winding, rng, mix)
    factors = 1.0 + mix.coil_ohm_sd * rng.standard_normal(winding.bars)
    most = math.radians(mix.side_shift_deg)
    shifts = rng.uniform(-most, most, (winding.bars, 2))
    sides = [(float(one), float(other)) for one, other in shifts]
    return Armature(winding, faults, electrical, exciter, factors.tolist(), sides)


def draw_faults(winding: Winding, rng: Rng, mix: Mix) -> tuple[Fault, ...]:
    """Kinds evenly among those the winding can have; two faults are never on one coil."""
    lot = rng.random()
    if lot < mix.sound_share:
        return ()
    count = 2 if lot > 1.0 - mix.double_share else 1
    places = rng.choice(winding.bars, size=count, replace=False) + 1
    return tuple(draw_fault(winding, int(place), rng, mix) for place in places)


def draw_fault(winding: Winding, place: int, rng: Rng, mix: Mix) -> Fault:
    """One fault at the given coil, or at the given bar for a bridge between bars."""
    kinds = [kind for kind in KINDS if _possible(kind, winding)]
    kind = kinds[int(rng.integers(len(kinds)))]
    factor = _even_log(rng, mix.joint_factor)
    bridge = _even_log(rng, mix.turn_bridge_ratio if kind == "turn-short" else mix.bridge_ratio)
    turns = int(rng.integers(1, max(2, winding.turns)))
    fraction = rng.uniform(0.0, 1.0)
    contact = _even_log(rng, mix.ground_ratio)
    return Fault(kind, place, factor, bridge, turns, fraction, contact)


def random_winding(rng: Rng) -> Winding:
    """A simplex winding of 20 to 70 bars, 2 to 8 poles and 1 to 8 turns."""
    while True:
        winding = Winding(
            kind=str(rng.choice(["lap", "wave"])),
            poles=int(rng.choice([2, 4, 6, 8])),
            bars=int(rng.integers(20, 71)),
            turns=int(rng.choice([1, 1, 1, 2, 2, 3, 4, 8])),
            progression=str(rng.choice(["progressive", "retrogressive"])),
        )
        if _closes(winding):
            return winding


def take_readings(
    armature: Armature, bench: Bench, rng: Rng, by_spice: bool = False
) -> tuple[list[Reading], dict[str, list[int]]]:
    """Drop, induced, ground and, if grounded, shaft-drop; and the bars of bad touches by test."""
    bars = armature.winding.bars
    opposite = 1 + round(bars / armature.winding.poles)
    feeds = [(1, opposite)]
    if armature.grounded and bench.shaft_feeds > 1:
        move = round(bars / 4)
        feeds += [(1 + move, armature.winding.wrap(opposite + move))]
    solver = spice if by_spice else dense
    volts = [_direct(armature, solver, feed) for feed in feeds]
    meter, readings, bad = bench.meter, [], {}

    shown, touch = meter.read(volts[0][0], rng, meter.direct_step_v)
    bad["drop"] = _listed(touch)
    readings += _between(armature, "drop", shown, 2, feeds[0])
    exact = solver.induced(armature, bench.meter_ohm)
    shown, touch = meter.read(exact, rng, meter.alternating_step_v)
    bad["induced"] = _listed(touch)
    readings += _between(armature, "induced", shown, 1, None)
    readings += [
        {"test": "ground", "a": bar, "value": "lit" if lit else "dark"}
        for bar, lit in enumerate(dense.ground(armature), start=1)
    ]
    if armature.grounded:
        bad["shaft-drop"] = []
        for feed, (_, to_shaft) in zip(feeds, volts, strict=True):
            assert to_shaft is not None
            shown, touch = meter.read(to_shaft, rng, meter.direct_step_v)
            bad["shaft-drop"] += _listed(touch)
            readings += _to_shaft(shown, feed)
    return readings, bad


def _direct(armature: Armature, solver: object, feed: tuple[int, int]) -> tuple[Array, Array | None]:
    """Drops between bars and, if grounded, from bars to shaft [V]."""
    drop: Callable[..., Array] = solver.bar_drop  # type: ignore[attr-defined]
    if not armature.grounded:
        return drop(armature, *feed, FEED_AMPS), None
    to_shaft = solver.shaft_drop(armature, *feed, FEED_AMPS)  # type: ignore[attr-defined]
    return to_shaft - np.roll(to_shaft, -1), to_shaft


def _between(
    armature: Armature, test: str, volts: Array, digits: int, feed: tuple[int, int] | None
) -> list[Reading]:
    rows: list[Reading] = []
    for bar, value in enumerate(volts, start=1):
        shown = round(float(value) * 1e3, digits)
        after = armature.winding.wrap(bar + 1)
        rows.append({"test": test, "a": bar, "b": after, "value": shown, "unit": "mV"} | _fed(feed))
    return rows


def _to_shaft(volts: Array, feed: tuple[int, int]) -> list[Reading]:
    rows: list[Reading] = []
    for bar, value in enumerate(volts, start=1):
        shown = round(float(value) * 1e3, 2)
        rows.append({"test": "shaft-drop", "a": bar, "value": shown, "unit": "mV"} | _fed(feed))
    return rows


def _fed(feed: tuple[int, int] | None) -> Reading:
    return {} if feed is None else {"feed_a": feed[0], "feed_b": feed[1], "amps": FEED_AMPS}


def _listed(bad: NDArray[np.bool_]) -> list[int]:
    return [int(bar) + 1 for bar in np.flatnonzero(bad)]


def _possible(kind: str, winding: Winding) -> bool:
    """Whether a winding can have it: on a lap, bridged bars are a shorted coil."""
    if kind == "bar-bridge":
        return winding.kind == "wave"
    return kind != "turn-short" or winding.turns >= 2


def _closes(winding: Winding) -> bool:
    """Whether the winding exists, is one closed ring, and spans between two and all bars."""
    try:
        step = winding.step
    except ValueError:
        return False
    if winding.kind == "wave" and winding.poles == 2:
        return False
    return math.gcd(step, winding.bars) == 1 and winding.bars >= 3 * winding.poles


def _even_log(rng: Rng, between: tuple[float, float]) -> float:
    return float(math.exp(rng.uniform(math.log(between[0]), math.log(between[1]))))


def _job(task: tuple[int, int, Mix, Bench, bool]) -> tuple[dict[str, object], float]:
    began = time.perf_counter()
    case = make_case(*task)
    return case, time.perf_counter() - began


def main(arguments: Sequence[str] | None = None) -> None:
    """Write cases to a compressed JSON file and say what is in it."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--spice", type=int, default=0, help="so many of them solved by ngspice")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path, default=Path("build/cases.json.gz"))
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--windings", choices=("six", "random"), default="six")
    parser.add_argument("--shaft-feeds", type=int, choices=(1, 2), default=2)
    parser.add_argument("--meter-ohms", type=float)
    parser.add_argument("--no-noise", action="store_true", help="exact values, rounded")
    parser.add_argument("--alike", action="store_true", help="all coils alike and in their places")
    options = parser.parse_args(arguments)
    meter = Meter(gain_sd=0.0, drift=0.0, bad_share=0.0) if options.no_noise else Meter()
    bench = Bench(meter, options.shaft_feeds, options.meter_ohms, options.windings == "random")
    mix = Mix(coil_ohm_sd=0.0, side_shift_deg=0.0) if options.alike else Mix()
    # Spread over the run, so that every winding gets its part of the slower solver.
    by_spice = [
        (n * options.spice) // options.count != ((n + 1) * options.spice) // options.count
        for n in range(options.count)
    ]
    tasks = [(options.seed, n, mix, bench, by_spice[n]) for n in range(options.count)]
    with Pool(options.processes) as pool:
        made = pool.map(_job, tasks, chunksize=8)
    options.out.parent.mkdir(parents=True, exist_ok=True)
    with gzip.open(options.out, "wt") as file:
        json.dump([case for case, _ in made], file)
    print(_summary(made, options.out))


def _summary(made: Sequence[tuple[dict[str, object], float]], out: Path) -> str:
    faults = Counter(len(case["truth"]) for case, _ in made)  # type: ignore[arg-type]
    kinds = Counter(f["kind"] for case, _ in made for f in case["truth"])  # type: ignore[attr-defined]
    lines = [
        f"{out}: {len(made)} armatures, {faults[0]} sound, {faults[1]} single, {faults[2]} double",
        ", ".join(f"{kind} {count}" for kind, count in sorted(kinds.items())),
    ]
    for solver in ("dense", "ngspice"):
        spent = [seconds for case, seconds in made if case["solver"] == solver]
        if spent:
            median = 1e3 * float(np.median(spent))
            lines.append(f"{solver}: {len(spent)} cases, {median:.1f} ms a case (median)")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
