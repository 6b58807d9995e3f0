"""How near the clean-up diameter is, and how often its interval holds the truth, on made commutators.

    python -m benchmarks commutators --count 300

Every set is made by `reference.commutators`, some with shapes that differ from what the engine holds likely.
Writes docs/figures/commutator-accuracy.json and the table in docs/commutator-model.md.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from barwise.inspect.commutator.plan import plan_cut
from barwise.inspect.commutator.profile import Profile
from barwise.inspect.commutator.surface import Micrometer
from barwise.inspect.commutator.worth import Sheet
from barwise.measure.wear import WearPoint, WearScale
from benchmarks import blocks
from reference.commutators import Wear, make

FIGURES = Path("docs/figures/commutator-accuracy.json")
PAGE = Path("docs/commutator-model.md")
SEED = 20_000
INCH, THOU = 0.0254, 1e-3

THREE = (0.2, 0.5, 0.8)
USUAL = Wear(burned=(0, 4))
SETS: Mapping[str, tuple[str, Wear, tuple[float, ...]]] = {
    "usual": ("as expected, up to 3 burned bars", USUAL, THREE),
    "few burns": ("at most 2 burned bars", Wear(), THREE),
    "flat": ("flat-bottomed grooves", replace(USUAL, groove_flatness=(4.0, 8.0)), THREE),
    "pointed": ("pointed grooves", replace(USUAL, groove_flatness=(1.5, 2.0)), THREE),
    "off centre": ("grooves off centre", replace(USUAL, groove_centre=(0.35, 0.65)), THREE),
    "odd burns": (
        "burns anywhere, narrow and wide",
        replace(USUAL, burn_centre=(0.3, 0.7), burn_width=(0.06, 0.25)),
        THREE,
    ),
    "many burns": (
        "up to 5 burns, to 5 thou deep",
        replace(USUAL, burned=(0, 6), burn_depth=(0.3, 5.0)),
        THREE,
    ),
    "rough": ("bars that moved, large lobes", replace(USUAL, bar_step=(0.2, 0.6), lobes=(0.0, 2.0)), THREE),
    "noisy": ("twice the noise", replace(USUAL, indicator_noise=0.1, micrometer_noise=0.1), THREE),
    "one track": ("one track, 0.5", USUAL, (0.5,)),
    "two tracks": ("two tracks, 0.3 and 0.65", USUAL, (0.3, 0.65)),
    "four tracks": ("four tracks", USUAL, (0.2, 0.4, 0.6, 0.8)),
    "five tracks": ("five tracks", USUAL, (0.15, 0.3, 0.5, 0.7, 0.85)),
}


@dataclass(frozen=True)
class Outcome:
    """One commutator: errors of the three methods and the interval's ends less the truth [thou]."""

    resolution: float
    error: float
    low: float
    high: float
    shortcut: float
    split: float
    seconds: float


def judge(name: str, number: int) -> Outcome:
    """Make one commutator and plan its cut."""
    _, wear, tracks = SETS[name]
    case: Any = make(SEED + number, wear, tracks)
    truth = case["truth"]["cleanup_diameter"]
    readings, micrometer = case["readings"], case["micrometer"]
    given = taken(case)
    began = time.process_time()
    plan = plan_cut(*given)
    spent = time.process_time() - began
    lowest = min(r["value"] for r in readings)
    found = plan.cleanup
    return Outcome(
        resolution=case["indicator_resolution"],
        error=(found.value_m / INCH - truth) / THOU,
        low=(found.low_m / INCH - truth) / THOU,
        high=(found.high_m / INCH - truth) / THOU,
        shortcut=(micrometer["diameter"] + 2 * lowest - truth) / THOU,
        split=(_split(case) - truth) / THOU,
        seconds=spent,
    )


def taken(case: Any) -> tuple[Profile, tuple[Micrometer, ...], tuple[float, float], Sheet]:
    """A made case as `plan_cut` takes it."""
    readings, micrometer, spec = case["readings"], case["micrometer"], case["spec"]
    profile = Profile(
        case["bars"],
        np.array([r["bar"] - 1 for r in readings]),
        np.array([r["track"] for r in readings]),
        np.array([r["value"] for r in readings]) * INCH,
        case["indicator_resolution"] * INCH,
    )
    measured = Micrometer(
        micrometer["bar"] - 1,
        micrometer["track"],
        micrometer["diameter"] * INCH,
        micrometer["resolution"] * INCH,
    )
    sheet = Sheet(WearScale((WearPoint(0, spec["new"] * INCH), WearPoint(100, spec["discard"] * INCH))))
    low, high = spec["brush_band"]
    return profile, (measured,), (low, high), sheet


def _split(case: Any) -> float:
    """Eccentricity split properly and the deepest reading taken for the deepest place."""
    bars, track = case["bars"], case["micrometer"]["track"]
    value = {(r["bar"], r["track"]): r["value"] for r in case["readings"]}
    opposite = [bars // 2 + 1] if bars % 2 == 0 else [bars // 2 + 1, bars // 2 + 2]
    across = max(value[bar, track] for bar in opposite)
    radius = (case["micrometer"]["diameter"] - value[1, track] - across) / 2
    return float(2 * (radius + min(value.values())))


def summary(outcomes: Sequence[Outcome]) -> dict[str, float]:
    """Figures of one set."""
    holds = np.array([o.low <= 0 <= o.high for o in outcomes])
    fine = np.array([o.resolution < 0.0003 for o in outcomes])

    def size(values: Sequence[float], share: float) -> float:
        return float(np.quantile(np.abs(values), share))

    return {
        "commutators": len(outcomes),
        "median_error": size([o.error for o in outcomes], 0.5),
        "error_95": size([o.error for o in outcomes], 0.95),
        "coverage": float(holds.mean()),
        "coverage_fine": float(holds[fine].mean()),
        "coverage_coarse": float(holds[~fine].mean()),
        "truth_below": float(np.mean([o.low > 0 for o in outcomes])),
        "median_width": float(np.median([o.high - o.low for o in outcomes])),
        "split_median": size([o.split for o in outcomes], 0.5),
        "split_95": size([o.split for o in outcomes], 0.95),
        "shortcut_median": size([o.shortcut for o in outcomes], 0.5),
        "shortcut_95": size([o.shortcut for o in outcomes], 0.95),
        "seconds": float(np.median([o.seconds for o in outcomes])),
    }


def table(figures: Mapping[str, Mapping[str, float]]) -> str:
    """The figures as a Markdown table, lengths in thou."""
    lines = [
        "| made set | median error | 95th | coverage | 0.1 thou | 0.5 thou | median width "
        "| split only | shortcut |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
    ]
    lines += [
        f"| {SETS[name][0]} | {f['median_error']:.2f} | {f['error_95']:.2f} | {f['coverage']:.3f} "
        f"| {f['coverage_fine']:.3f} | {f['coverage_coarse']:.3f} | {f['median_width']:.2f} "
        f"| {f['split_median']:.2f}, {f['split_95']:.2f} "
        f"| {f['shortcut_median']:.2f}, {f['shortcut_95']:.2f} |"
        for name, f in figures.items()
    ]
    return "\n".join(lines)


def options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--count", type=int, default=400, help="commutators in each set")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--sets", default=",".join(SETS), help="which sets, parted by commas")


def run(chosen: argparse.Namespace) -> dict[str, dict[str, float]]:
    """Judge every set, keep the figures, and write the page's table when all sets were taken."""
    figures = {}
    with ProcessPoolExecutor(chosen.workers) as pool:
        for name in chosen.sets.split(","):
            outcomes = list(pool.map(partial(judge, name), range(chosen.count), chunksize=10))
            figures[name] = summary(outcomes)
            print(
                f"{SETS[name][0]}: {json.dumps({k: round(v, 3) for k, v in figures[name].items()})}",
                flush=True,
            )
    if set(figures) == set(SETS):
        FIGURES.parent.mkdir(parents=True, exist_ok=True)
        FIGURES.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
        write_page(figures)
    return figures


def write_page(figures: Mapping[str, Mapping[str, float]]) -> None:
    """Put the table into the page between its marks."""
    page = PAGE.read_text(encoding="utf-8")
    PAGE.write_text(filled(page, figures), encoding="utf-8")


def filled(page: str, figures: Mapping[str, Mapping[str, float]]) -> str:
    """The page's text with the table in place."""
    return blocks.filled(page, "commutator accuracy", f"{table(figures)}\n")
