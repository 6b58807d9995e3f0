"""How near anybody could come to a starter's power from two points: `python -m benchmarks run-oracle`.

A bad joint, poor brush contact and an open armature coil all drop volts and hardly anything else; a ground
takes current past the motor. The oracle knows the model of the starter exactly, how motors of one model
differ, whether the fault is one of the three or the ground, how each is made, and how the meters err. It
makes starters of that model by the generator's own equations, runs them at the volts that were read, and
weighs each by how likely its readings are: Bayes' rule by brute force, as near as so many made starters come.
It states the power that most probably is within 12 % of the true one, and how probable that is: nobody who
knows as much or less hits it more often. Every other starter that turns is given to it as known without
error, so the share it misses is the least that anybody misses.

The engine's own answer about the same starters, which knows the model by its printed sheet, stands beside it.
Writes docs/figures/run-oracle.json and its table in docs/run-test.md.
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
SEED, COUNT, GUESSES = run_accuracy.SEED, run_accuracy.COUNT, 10_000
GROUPS = (("high-resistance", "brush-contact", "open-armature-coil"), ("grounded-winding",))
AIM = 0.12
"""Share of the true power that the statement may be off."""
_ENOUGH, _SLOPED = 60, 20
"""Guesses that must count, else the meters are taken for worse, by as little as does it; and guesses of one
cause that must count before a plane is laid through them."""


@dataclass(frozen=True)
class Told:
    """What oracle and engine say of one starter; powers as shares of the rated power.

    Attributes
    ----------
    truth, oracle, engine : str
        What is wrong, and which of its group each holds for the likeliest.
    left, oracle_power, engine_power : float
        Power that is left, and what each states of it; the engine's None where it states none.
    reach : float
        Probability that the oracle's power is within 12 % of the true one, as the oracle itself sees it.
    eased : float
        How far the meters had to be taken for worse: 1 not at all, 0.25 as of half their precision.
    """

    truth: str
    oracle: str
    engine: str
    left: float
    oracle_power: float
    engine_power: float | None
    reach: float
    eased: float


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--count", type=int, default=COUNT)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--guesses", type=int, default=GUESSES, help="made starters for each cause")
    parser.add_argument("--processes", type=int, default=min(2, os.cpu_count() or 1))


def run(chosen: argparse.Namespace) -> dict[str, Any]:
    """Ask both about every starter of a set that has one of these faults, and keep the figures."""
    asked = [(seed, chosen.guesses) for seed in range(chosen.seed, chosen.seed + chosen.count)]
    with Pool(chosen.processes) as pool:
        answers = pool.starmap(tell, asked, chunksize=2)
    told = [one for one in answers if isinstance(one, Told)]
    turning = sum(bool(one) for one in answers)
    figures = {
        "count": chosen.count, "seed": chosen.seed, "guesses": chosen.guesses, "turning": turning,
        **summary(told, turning),
    }  # fmt: skip
    FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    blocks.put(run_accuracy.PAGE, "run oracle", f"{table(figures)}\n")
    return figures


def tell(seed: int, guesses: int) -> Told | bool:
    """What both say of the starter of this number; of any other fault, whether it gives power."""
    it = run_accuracy.made(seed)
    group = next((one for one in GROUPS if it.truth in one), None)
    if group is None or it.true_power_w <= 0:
        return it.true_power_w > 0
    random = np.random.default_rng(seed + 1)
    parts = [_guessed(it, cause, guesses, random) for cause in group]
    shares, eased = _shares(np.concatenate([_log_likelihood(it.rows, points) for points, _ in parts]))
    chances = shares.reshape(len(group), guesses).sum(1)
    powers = np.concatenate(
        [
            _as_if_read(power, _apart(it.rows, points), some)
            for (points, power), some in zip(parts, np.split(shares, len(group)), strict=True)
        ]
    )
    stated, reach = _most_probably_near(powers, shares)
    counted = run_accuracy.one(seed)
    chance = dict(zip(counted.ranked, counted.chances, strict=False))
    rated = counted.rated_power_w
    return Told(
        truth=it.truth,
        oracle=group[int(np.argmax(chances))],
        engine=max(group, key=lambda cause: chance.get(cause, 0.0)),
        left=it.true_power_w / rated,
        oracle_power=stated / rated,
        engine_power=None if counted.power_w is None else counted.power_w / rated,
        reach=reach,
        eased=eased,
    )


def _guessed(
    it: run_accuracy.Made, cause: str, count: int, random: np.random.Generator
) -> tuple[tuple[starters.Point, starters.Point], Array]:
    """Starters of the same model with this fault, at volts the meter may have read so, and their power."""
    each = [starters.spoil(starters.make_one(it.model, random), cause, random) for _ in range(count)]
    guesses, meters = starters.stacked(each), starters.Meters()
    gain = 1 + meters.gain * random.standard_normal(count)
    free, held = (
        row["volts"] / (gain * (1 + meters.scatter * random.standard_normal(count))) for row in it.rows
    )
    rated = it.printed["rated"]
    points = starters.running(guesses, free), starters.locked(guesses, held)
    return points, np.asarray(starters.power_at(guesses, cause, rated["volts"], rated["amps"]))


READ = (("amps", 0, 0.5), ("amps", 1, 0.5), ("speed", 0, 5 * starters.RPM), ("torque", 1, 0.05))
"""What is compared: of which point, and half a digit of the meter."""


def _apart(rows: Sequence[Mapping[str, float]], points: Sequence[starters.Point]) -> Array:
    """Logarithms of what was read over what each guess does, shape (N, 4)."""
    pairs = [(rows[place][name], getattr(points[place], name)) for name, place, _ in READ]
    return np.stack([np.log(max(read, 1e-9) / np.maximum(true, 1e-9)) for read, true in pairs], axis=1)


def _log_likelihood(rows: Sequence[Mapping[str, float]], points: Sequence[starters.Point]) -> Array:
    """Of each guess: a meter has one gain for both points, scatters, and shows so many digits."""
    meters, apart = starters.Meters(), _apart(rows, points)
    true = np.stack([np.maximum(getattr(points[place], name), 1e-9) for name, place, _ in READ], axis=1)
    digits = np.array([half for _, _, half in READ]) / np.sqrt(3) / true
    alone = meters.scatter**2 + digits**2
    cover = np.apply_along_axis(np.diag, 1, alone) + meters.gain**2 * np.eye(len(READ))
    cover[:, 0, 1] = cover[:, 1, 0] = meters.gain**2  # both points' amperes are of one meter
    off = np.einsum("ni,ni->n", apart, np.linalg.solve(cover, apart[..., None])[..., 0])
    return np.asarray(-0.5 * (off + np.linalg.slogdet(cover)[1]))


def _as_if_read(powers: Array, apart: Array, shares: Array) -> Array:
    """The guesses' powers, carried along a plane through them to where they would read what was read."""
    if shares.sum() ** 2 < _SLOPED * float((shares**2).sum()):
        return powers
    some = shares > 1e-6 * shares.max()
    weights = np.sqrt(shares[some] / shares.sum())[:, None]
    plane = np.hstack([np.ones((int(some.sum()), 1)), apart[some]])
    slopes = np.linalg.lstsq(plane * weights, powers[some] * weights[:, 0], rcond=1e-6)[0][1:]
    return np.asarray(np.maximum(powers - apart @ slopes, 0.0))


def _shares(log_weights: Array) -> tuple[Array, float]:
    """What each guess counts, and the power its likelihood was taken to so that enough of them do."""
    for eased in np.geomspace(1.0, 0.05, 40):
        weights = np.exp(eased * (log_weights - log_weights.max()))
        weights /= weights.sum()
        if 1 / float((weights**2).sum()) >= _ENOUGH:
            break
    return np.asarray(weights), float(eased)


def _most_probably_near(powers: Array, shares: Array) -> tuple[float, float]:
    """The power that is most probably within the aim of the true one, and that probability.

    That there is some power left is known to it, too: starters without are not counted.
    """
    some = (powers > 0) & (shares > 1e-6 * shares.max())
    if not some.any():
        return 0.0, 0.0
    order = np.argsort(powers[some])
    left, counts = powers[some][order], shares[some][order]
    reached = np.concatenate([[0.0], np.cumsum(counts / counts.sum())])
    # a statement p holds the true powers p / (1 + aim) to p / (1 - aim); the best begins at one of them
    tried = left * (1 + AIM)
    near = reached[np.searchsorted(left, tried / (1 - AIM), side="right")] - reached[:-1]
    # of those that reach as far as any, the middle
    best = np.flatnonzero(near >= near.max() - 1e-9)
    return float(tried[best[len(best) // 2]]), float(near.max())


def summary(told: Sequence[Told], turning: int) -> dict[str, Any]:
    """By truth: how often each is right, how far off the power is; and what nobody reaches of the whole."""
    found = {}
    for truth in [cause for group in GROUPS for cause in group]:
        some = [one for one in told if one.truth == truth]
        if some:
            found[truth] = _of_one_truth(some)
    beyond = sum(1 - one.reach for one in told)
    return {
        "by_cause": found,
        "beyond_anybody": beyond / turning,
        "oracle_beyond": sum(_off(one.oracle_power, one.left) > AIM for one in told) / turning,
        "not_eased": float(np.mean([one.eased >= 1 for one in told])),
    }


def _off(stated: float | None, true: float) -> float:
    return 1.0 if stated is None else abs(stated / true - 1)


def _of_one_truth(some: Sequence[Told]) -> dict[str, float]:
    both = {
        who: [_off(getattr(one, f"{who}_power"), one.left) for one in some] for who in ("oracle", "engine")
    }
    return {
        "count": len(some),
        "oracle_right": float(np.mean([one.oracle == one.truth for one in some])),
        "engine_right": float(np.mean([one.engine == one.truth for one in some])),
        "left": float(np.median([one.left for one in some])),
        "reach": float(np.mean([one.reach for one in some])),
        **{f"{who}_error_median": float(np.median(off)) for who, off in both.items()},
        **{f"{who}_within": float(np.mean(np.array(off) <= AIM)) for who, off in both.items()},
    }


COLUMNS = (
    "oracle_right", "engine_right", "left", "oracle_error_median", "engine_error_median", "reach",
    "oracle_within", "engine_within",
)  # fmt: skip


def table(figures: Mapping[str, Any]) -> str:
    """Oracle and engine side by side, and what that comes to in the whole set."""

    def percent(share: float) -> str:
        return f"{100 * share:.0f} %"

    rows = [
        "| truth | starters | told right: oracle | engine | power left | power off, median: oracle | engine "
        "| within 12 %: oracle expects | oracle | engine |",
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for truth, one in figures["by_cause"].items():
        rows.append(f"| {truth} | {one['count']} | {' | '.join(percent(one[key]) for key in COLUMNS)} |")
    return "\n".join(
        [
            *rows,
            "",
            f"Of the {figures['turning']} that turn the oracle expects to miss "
            f"{100 * figures['beyond_anybody']:.1f} % by more than 12 %, all others taken as known without "
            f"error, and missed {100 * figures['oracle_beyond']:.1f} %. A 95th within 12 % would need 5 %.",
        ]
    )
