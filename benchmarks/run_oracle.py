"""How well anybody could tell what only drops volts from two points: `python -m benchmarks run-oracle`.

A bad joint, poor brush contact and an open armature coil all drop volts and hardly anything else. The oracle
knows the model of the starter exactly, how motors of one model differ, how each of these faults is made, that
it is one of the three, and how the meters err. It makes starters of that model by the generator's own
equations, runs them at the volts that were read, and weighs each by how likely its readings are: Bayes' rule
by brute force, as near as so many made starters come. The engine's own answer about the same starters, which
knows the model by its printed sheet, stands beside it. Writes docs/figures/run-oracle.json and its table in
docs/run-test.md.
"""

from __future__ import annotations

import argparse
import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from multiprocessing import Pool
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from benchmarks import blocks, run_accuracy
from reference import starters

Array = NDArray[np.float64]

FIGURES = Path("docs/figures/run-oracle.json")
SEED, COUNT, GUESSES = 770_000, 240, 200
GROUP = ("high-resistance", "brush-contact", "open-armature-coil")
_ENOUGH, _SLOPED = 60, 20
"""Guesses that must count, else the meters are taken for worse, by as little as does it; and guesses of one
cause that must count before a plane is laid through them."""


@dataclass(frozen=True)
class Told:
    """What oracle and engine say of one starter: the likeliest of the three, and power over the true one."""

    truth: str
    oracle: str
    engine: str
    left: float
    oracle_power: float | None
    engine_power: float | None


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--count", type=int, default=COUNT)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--guesses", type=int, default=GUESSES, help="made starters for each cause")
    parser.add_argument("--processes", type=int, default=min(2, os.cpu_count() or 1))


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Ask both about every starter of a set that has one of these faults, and keep the figures."""
    asked = [(seed, chosen.guesses) for seed in range(chosen.seed, chosen.seed + chosen.count)]
    with Pool(chosen.processes) as pool:
        told = [one for one in pool.starmap(tell, asked, chunksize=2) if one is not None]
    figures = {"count": chosen.count, "seed": chosen.seed, "guesses": chosen.guesses, **summary(told)}
    FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    blocks.put(run_accuracy.PAGE, "run oracle", f"{table(figures)}\n")
    return figures


def tell(seed: int, guesses: int) -> Told | None:
    """What both say of the starter of this number; None where it is none of the three."""
    it = run_accuracy.made(seed)
    if it.truth not in GROUP:
        return None
    random = np.random.default_rng(seed + 1)
    made = [_guessed(it, cause, random) for cause in GROUP for _ in range(guesses)]
    shares = _shares(np.array([_log_likelihood(it.rows, points) for points, _ in made]))
    chances = shares.reshape(len(GROUP), guesses).sum(1)
    apart = np.array([_apart(it.rows, points) for points, _ in made])
    counted = run_accuracy.one(seed)
    chance = dict(zip(counted.ranked, counted.chances, strict=False))
    true = it.true_power_w
    powers = np.array([power for _, power in made])
    for part in np.split(np.arange(len(powers)), len(GROUP)):
        powers[part] = _as_if_read(powers[part], apart[part], shares[part])
    return Told(
        truth=it.truth,
        oracle=GROUP[int(np.argmax(chances))],
        engine=max(GROUP, key=lambda cause: chance.get(cause, 0.0)),
        left=true / counted.rated_power_w,
        oracle_power=_middle(powers, shares) / true if true > 0 else None,
        engine_power=counted.power_w / true if true > 0 and counted.power_w is not None else None,
    )


def _guessed(
    it: run_accuracy.Made, cause: str, random: np.random.Generator
) -> tuple[tuple[starters.Point, starters.Point], float]:
    """A starter of the same model with this fault, at volts the meter may have read so, and its power."""
    starter = starters.spoil(starters.make_one(it.model, random), cause, random)
    gain = 1 + starters.Meters().gain * random.standard_normal()
    free, held = (
        row["volts"] / (gain * (1 + starters.Meters().scatter * random.standard_normal())) for row in it.rows
    )
    rated = it.printed["rated"]
    points = starters.running(starter, free), starters.locked(starter, held)
    return points, starters.power_at(starter, cause, rated["volts"], rated["amps"])


def _log_likelihood(rows: Sequence[Mapping[str, float]], points: Sequence[starters.Point]) -> float:
    """Of amperes, speed and torque: each meter has a gain of its own for both points, and scatters."""
    meters = starters.Meters()
    off = []
    for name, spread in (("amps", 0.5), ("speed", 5 * starters.RPM), ("torque", 0.05)):
        read = [(row[name], getattr(point, name)) for row, point in zip(rows, points, strict=True)]
        apart = np.array([got / true - 1 for got, true in read if true > 0])
        rounded = np.array([spread / np.sqrt(3) / true for _, true in read if true > 0])
        if not len(apart):
            continue
        cover = meters.gain**2 + np.diag(meters.scatter**2 + rounded**2)
        off.append(float(apart @ np.linalg.solve(cover, apart)) + float(np.linalg.slogdet(cover)[1]))
    return -0.5 * sum(off)


def _apart(rows: Sequence[Mapping[str, float]], points: Sequence[starters.Point]) -> list[float]:
    """Logarithms of what was read over what the guess does, those that are above nought in every guess."""
    (free, held), (running, locked) = rows, points
    pairs = (
        (free["amps"], running.amps), (free["speed"], running.speed), (held["amps"], locked.amps),
        (held["torque"], locked.torque),
    )  # fmt: skip
    return [float(np.log(max(read, 1e-9) / max(true, 1e-9))) for read, true in pairs]


def _as_if_read(powers: Array, apart: Array, shares: Array) -> Array:
    """The guesses' powers, carried along a plane through them to where they would read what was read."""
    if shares.sum() ** 2 < _SLOPED * float((shares**2).sum()):
        return powers
    weights = np.sqrt(shares / shares.sum())[:, None]
    plane = np.hstack([np.ones((len(powers), 1)), apart])
    slopes = np.linalg.lstsq(plane * weights, powers * weights[:, 0], rcond=1e-6)[0][1:]
    return np.asarray(np.maximum(powers - apart @ slopes, 0.0))


def _shares(log_weights: Array) -> Array:
    for eased in np.geomspace(1.0, 0.05, 40):
        weights = np.exp(eased * (log_weights - log_weights.max()))
        weights /= weights.sum()
        if 1 / float((weights**2).sum()) >= _ENOUGH:
            break
    return np.asarray(weights)


def _middle(values: Array, shares: Array) -> float:
    order = np.argsort(values)
    return float(values[order][np.searchsorted(np.cumsum(shares[order]), 0.5)])


def summary(told: Sequence[Told]) -> dict[str, Any]:
    """By truth: how often each is right, and how far off the power is."""
    found = {}
    for truth in GROUP:
        some = [one for one in told if one.truth == truth]
        if not some:
            continue
        found[truth] = {
            "count": len(some),
            "oracle_right": float(np.mean([one.oracle == truth for one in some])),
            "engine_right": float(np.mean([one.engine == truth for one in some])),
            "left": float(np.median([one.left for one in some])),
            **_errors("oracle", [one.oracle_power for one in some]),
            **_errors("engine", [one.engine_power for one in some]),
        }
    return {"by_cause": found}


def _errors(who: str, ratios: Sequence[float | None]) -> dict[str, float | None]:
    off = [abs(one - 1) for one in ratios if one is not None]
    both = (float(np.median(off)), float(np.quantile(off, 0.95))) if off else (None, None)
    return {f"{who}_error_median": both[0], f"{who}_error_95": both[1]}


def table(figures: Mapping[str, Any]) -> str:
    """Oracle and engine side by side."""

    def percent(share: float | None) -> str:
        return "-" if share is None else f"{100 * share:.0f} %"

    rows = [
        "| truth | starters | told right: oracle | engine | power left | power off, median: oracle | engine "
        "| 95th: oracle | engine |",
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for truth, one in figures["by_cause"].items():
        cells = [
            one[key]
            for key in (
                "oracle_right", "engine_right", "left", "oracle_error_median", "engine_error_median",
                "oracle_error_95", "engine_error_95",
            )
        ]  # fmt: skip
        rows.append(f"| {truth} | {one['count']} | {' | '.join(percent(cell) for cell in cells)} |")
    return "\n".join(rows)
