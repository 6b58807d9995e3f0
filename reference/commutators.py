"""Makes worn commutators with a known surface, and the readings a shop would take of them.

    python -m reference.commutators --count 500 --seed 1 --out build/commutators.json.gz

Everything is invented. The surface is built from what wears a commutator: an axis that is off, lobes, bars
that have moved, taper, the brush track's groove, and burned bars. Each case holds the specification, the
readings and the diameter at which all of the brush band has just cleaned up, from a fine grid.
"""

from __future__ import annotations

import argparse
import gzip
import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Rng = np.random.Generator
THOU = 1e-3


@dataclass(frozen=True)
class Wear:
    """Ranges that a commutator's wear is drawn from, lengths in thousandths of an inch.

    Ranges are (low, high), drawn evenly; `bar_step` is a standard deviation.
    """

    eccentricity: tuple[float, float] = (0.0, 1.5)
    lobes: tuple[float, float] = (0.0, 0.8)
    bar_step: tuple[float, float] = (0.05, 0.25)
    taper: tuple[float, float] = (-0.6, 0.6)
    groove: tuple[float, float] = (0.0, 3.0)
    groove_centre: tuple[float, float] = (0.40, 0.60)
    groove_width: tuple[float, float] = (0.12, 0.26)
    groove_flatness: tuple[float, float] = (2.0, 4.0)
    burned: tuple[int, int] = (0, 3)
    burn_depth: tuple[float, float] = (0.5, 3.0)
    burn_centre: tuple[float, float] = (0.37, 0.63)
    burn_width: tuple[float, float] = (0.10, 0.22)
    indicator_noise: float = 0.05
    micrometer_noise: float = 0.05


def surface(rng: Rng, bars: int, along: Array, wear: Wear) -> Array:
    """Radius of each bar along its length about the journals' axis, less the nominal, (bars, Z) [thou]."""
    theta = 2 * np.pi * np.arange(bars) / bars
    out = np.zeros((bars, len(along)))
    out += (rng.uniform(*wear.eccentricity) * np.cos(theta - rng.uniform(0, 2 * np.pi)))[:, None]
    for order in (2, 3, 4):
        size = rng.uniform(*wear.lobes) / (order - 1)
        out += (size * np.cos(order * theta - rng.uniform(0, 2 * np.pi)))[:, None]
    out += rng.normal(0, rng.uniform(*wear.bar_step), bars)[:, None]
    out += rng.uniform(*wear.taper) * (along - 0.5)
    out -= rng.uniform(*wear.groove) * _dip(
        along,
        rng.uniform(*wear.groove_centre),
        rng.uniform(*wear.groove_width),
        rng.uniform(*wear.groove_flatness),
    )
    for bar in rng.choice(bars, rng.integers(*wear.burned), replace=False):
        centre, width = rng.uniform(*wear.burn_centre), rng.uniform(*wear.burn_width)
        out[bar] -= rng.uniform(*wear.burn_depth) * _dip(along, centre, width, 2.0)
    return out


def _dip(along: Array, centre: float, width: float, flatness: float) -> Array:
    return np.asarray(np.exp(-0.5 * np.abs((along - centre) / width) ** flatness))


def make(
    seed: int, wear: Wear | None = None, tracks: tuple[float, ...] = (0.2, 0.5, 0.8)
) -> dict[str, object]:
    """One commutator and its readings, inches."""
    wear = wear or Wear()
    rng = np.random.default_rng(seed)
    bars = int(rng.choice([24, 29, 32, 48, 57, 62]))
    new = float(rng.choice([1.25, 1.5, 1.654, 2.25]))
    band = (0.12, 0.88)
    along = np.linspace(*band, 153)
    grid = np.concatenate([along, tracks])
    shape = surface(rng, bars, grid, wear)
    nominal = new / 2 - rng.uniform(0.5, 6.0) * THOU
    radius = nominal + shape * THOU
    resolution = float(rng.choice([0.0001, 0.0005]))
    on_tracks = radius[:, len(along) :]
    noisy = on_tracks - on_tracks[0, 0] + rng.normal(0, wear.indicator_noise * THOU, on_tracks.shape)
    noisy[0, 0] = 0.0
    readings = [
        {"bar": k + 1, "track": t, "value": float(round(round(noisy[k, j] / resolution) * resolution, 6))}
        for j, t in enumerate(tracks)
        for k in range(bars)
    ]
    across = on_tracks[0, 0] + _opposite(on_tracks[:, 0], bars) + rng.normal(0, wear.micrometer_noise * THOU)
    micrometer = {"bar": 1, "track": tracks[0], "diameter": round(float(across), 4), "resolution": 0.0001}
    return {
        "seed": seed,
        "bars": bars,
        "unit": "in",
        "indicator_resolution": resolution,
        "micrometer": micrometer,
        "spec": {"new": new, "half_worn": new - 0.012, "discard": new - 0.024, "brush_band": list(band)},
        "readings": readings,
        "truth": {"cleanup_diameter": float(2 * radius[:, : len(along)].min())},
    }


def _opposite(radius: Array, bars: int) -> float:
    """Radius opposite bar 1; with an odd count the anvil rests on the higher of two bars' edges."""
    if bars % 2 == 0:
        return float(radius[bars // 2])
    return float(max(radius[bars // 2], radius[bars // 2 + 1]))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path, default=Path("build/commutators.json.gz"))
    args = parser.parse_args()
    args.out.parent.mkdir(parents=True, exist_ok=True)
    cases = [make(args.seed * 100_000 + i) for i in range(args.count)]
    with gzip.open(args.out, "wt") as file:
        json.dump(cases, file)
    print(f"{args.out}: {len(cases)} commutators")


if __name__ == "__main__":
    main()
