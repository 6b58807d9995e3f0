"""The starter's route, the invented sheet and readings of examples/demo as checks take them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from barwise.files.readings_file import load_readings
from barwise.files.winding_file import load_winding
from barwise.inspect.checks import Taken
from barwise.machine.feed import Feed
from barwise.measure.units import UNITS
from barwise.route.family import Family, load_family
from barwise.route.sheet import ModelSheet, load_sheet
from reference import dense
from reference.armature import Armature
from reference.armature import Winding as Wound

DEMO = Path(__file__).parents[2] / "examples" / "demo"
Read = Callable[..., Taken]


@pytest.fixture(scope="session")
def starter() -> Family:
    return load_family("starter")


@pytest.fixture(scope="session")
def sheet() -> ModelSheet:
    return load_sheet("demo-57-wave")


@pytest.fixture(scope="session")
def read() -> Read:
    """One number as typed: ``read("1.2421", "in", "1", "0.2")``."""

    def typed(text: str, unit: str, *place: str) -> Taken:
        return Taken(float(text) * UNITS[unit].factor, text, unit, place)

    return typed


@pytest.fixture(scope="session")
def said() -> Callable[..., Taken]:
    """One answer in words."""
    return lambda text, *place: Taken(None, text, "", place)


@pytest.fixture(scope="session")
def faulty_walk() -> tuple[Taken, ...]:
    """The walk of examples/demo, whose armature has a bad joint."""
    winding = load_winding(DEMO / "winding.toml").winding
    return tuple(
        Taken(
            one.value,
            one.entered,
            one.unit,
            tuple(str(bar) for bar in (one.start, one.end) if bar is not None),
            one.test,
            one.feed,
        )
        for one in load_readings(DEMO / "readings.csv", winding)
    )


@pytest.fixture(scope="session")
def sound_walk() -> tuple[Taken, ...]:
    """Drops, induced voltages and lamps of a sound armature of that winding, by the reference solution."""
    made = Armature(Wound("wave", 4, 57, progression="retrogressive", slots=29), ())
    noise = np.random.default_rng(3)
    drops = dense.bar_drop(made, 1, 15, 10.0) * (1 + 2e-3 * noise.standard_normal(57))
    induced = dense.induced(made, None) * (1 + 2e-3 * noise.standard_normal(57))
    pairs = [(str(bar), str(bar % 57 + 1)) for bar in range(1, 58)]
    walk = [
        Taken(round(volts, 5), f"{volts * 1e3:.2f}", "mV", pair, "drop", Feed(1, 15, 10.0))
        for volts, pair in zip(drops, pairs, strict=True)
    ]
    walk += [
        Taken(round(volts, 4), f"{volts * 1e3:.1f}", "mV", pair, "induced")
        for volts, pair in zip(np.abs(induced), pairs, strict=True)
    ]
    walk += [Taken(None, "dark", "", (str(bar), "shaft"), "ground") for bar in (1, 15, 30)]
    return tuple(walk)


@pytest.fixture(scope="session")
def profile() -> tuple[Taken, ...]:
    """The indicator walk of examples/demo."""
    lines = (DEMO / "profile.csv").read_text(encoding="utf-8").splitlines()
    cells = [line.split(",") for line in lines if line and line[0].isdigit()]
    return tuple(Taken(float(v) * 0.0254, v, "in", (bar, track)) for bar, track, v in cells)
