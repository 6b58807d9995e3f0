"""Readings of made armatures: the reference solution (`reference.dense`) and a meter's noise.

The reference shares no code with the package. Seeds are fixed; bad touches come only where a test asks.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from reference import dense
from reference.armature import Armature, Fault
from reference.armature import Winding as Wound
from reference.meter import Meter

Read = Callable[..., tuple[Reading, ...]]
METER = Meter(bad_share=0.0)
LAP = Wound("lap", 4, 32, slots=16)
LAP_OF_TURNS = Wound("lap", 2, 24, turns=8)
WAVE = Wound("wave", 4, 57, progression="retrogressive", slots=29)


def package_winding(of: Wound) -> Winding:
    """The same winding as the package has it."""
    return Winding(of.kind, of.poles, of.bars, of.turns, of.progression, of.slots)  # type: ignore[arg-type]


def take(
    wound: Wound,
    faults: Sequence[Fault],
    tests: Sequence[str],
    feed: tuple[int, int] | None = None,
    seed: int = 1,
    meter_ohm: float | None = None,
) -> tuple[Reading, ...]:
    """One walk round the commutator for each of `tests`."""
    rng = np.random.default_rng(seed)
    made, bars = Armature(wound, tuple(faults)), wound.bars
    feed = feed or (1, 1 + round(bars / wound.poles))
    fed = Feed(*feed, 10.0)
    out: list[Reading] = []
    for test in tests:
        if test == "drop":
            volts, _ = METER.read(dense.bar_drop(made, *feed, 10.0), rng, 1e-5)
            out += _between(test, volts, 1e-5, fed)
        elif test == "induced":
            volts, _ = METER.read(dense.induced(made, meter_ohm), rng, 1e-4)
            out += _between(test, volts, 1e-4, None)
        elif test == "resistance":
            ohm = [dense.resistance(made, bar, bar % bars + 1) for bar in range(1, bars + 1)]
            out += _between(test, METER.read(np.array(ohm), rng, 1e-6)[0], 1e-6, None)
        elif test == "ground":
            lit = dense.ground(made)
            out += [Reading("ground", n + 1, None, state="lit" if on else "dark") for n, on in enumerate(lit)]
        elif test == "shaft-drop":
            volts, _ = METER.read(dense.shaft_drop(made, *feed, 10.0), rng, 1e-5)
            out += [
                Reading("shaft-drop", n + 1, None, float(v), resolution=1e-5, feed=fed)
                for n, v in enumerate(volts)
            ]
        elif test == "blade":
            heard = dense.blade(made)
            out += [
                Reading("blade", n + 1, None, state="buzz" if b else "quiet") for n, b in enumerate(heard)
            ]
        else:
            pytest.fail(f"no such test: {test}")
    return tuple(out)


def _between(test: str, values: np.ndarray, step: float, fed: Feed | None) -> list[Reading]:
    bars = len(values)
    return [
        Reading(test, n + 1, (n + 1) % bars + 1, float(v), resolution=step, feed=fed)  # type: ignore[arg-type]
        for n, v in enumerate(values)
    ]


@pytest.fixture
def read() -> Read:
    """Readings of a made armature: `read(wound, faults, tests, feed=None, seed=1, meter_ohm=None)`."""
    return take


@pytest.fixture(params=[LAP, WAVE], ids=["lap", "wave"])
def wound(request: pytest.FixtureRequest) -> Wound:
    """A lap and a wave winding."""
    return request.param
