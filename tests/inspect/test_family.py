"""Out of family: a healthy walk raises no alarm, an odd reading does, against independent networks.

The networks are solved by `reference.dense` (modified nodal analysis, no code shared with barwise).
"""

from __future__ import annotations

import numpy as np
import pytest

from barwise.inspect.bar_walk import BarWalk, usual_feed
from barwise.inspect.family import FEWEST, out_of_family, step_out_of_family
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from reference import dense
from reference.armature import Armature, Fault
from reference.armature import Winding as TrueWinding
from reference.meter import Meter

KINDS = [
    ("lap", 2, 24, "progressive"),
    ("lap", 4, 32, "progressive"),
    ("lap", 6, 48, "retrogressive"),
    ("wave", 4, 11, "progressive"),
    ("wave", 4, 29, "progressive"),
    ("wave", 4, 57, "retrogressive"),
    ("wave", 6, 62, "progressive"),
]
STEADY = Meter(bad_share=0.0)


def walked(kind: str, poles: int, bars: int, progression: str) -> BarWalk:
    winding = Winding(kind, poles=poles, bars=bars, progression=progression)  # type: ignore[arg-type]
    return BarWalk(winding, "drop", usual_feed(winding))


def alarms(walk: BarWalk, volts: np.ndarray, step_v: float = 1e-5) -> list[int]:
    """Bars at which a walk that took these readings in order would have said out of family."""
    taken: dict[int, Reading] = {}
    said = []
    for place, (start, end) in enumerate(walk.places):
        taken[place] = Reading(walk.test, start, end, float(volts[place]), None, step_v, walk.feed)
        if walk.odd(taken, place):
            said.append(start)
    return said


def true_drop(walk: BarWalk, *faults: Fault) -> np.ndarray:
    winding, feed = walk.winding, walk.feed
    assert feed is not None
    armature = Armature(
        TrueWinding(winding.kind, winding.poles, winding.bars, progression=winding.progression),
        faults,
    )
    return dense.bar_drop(armature, feed.into, feed.out, feed.amps)


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: f"{k[0]}-{k[2]}")
def test_a_sound_armature_on_a_drifting_meter_raises_hardly_any_alarm(
    kind: tuple[str, int, int, str],
) -> None:
    walk = walked(*kind)
    rng = np.random.default_rng(5)
    volts = true_drop(walk)
    said = [bar for _ in range(20) for bar in alarms(walk, STEADY.read(volts, rng, 1e-5)[0])]
    assert len(said) <= 0.002 * 20 * walk.winding.bars


@pytest.mark.parametrize("kind", KINDS[1:3] + KINDS[5:], ids=lambda k: f"{k[0]}-{k[2]}")
def test_a_joint_four_tenths_too_high_is_noticed_as_it_is_probed(
    kind: tuple[str, int, int, str],
) -> None:
    walk = walked(*kind)
    volts = true_drop(walk, Fault("high-resistance-joint", 12, factor=1.4))
    read, _ = STEADY.read(volts, np.random.default_rng(6), 1e-5)
    shown = [bar for bar in range(1, walk.winding.bars + 1) if 12 in walk.winding.coils_between(bar)]
    assert set(shown) <= set(alarms(walk, read))


def test_the_shops_rule_of_thumb_would_call_this_sound_wave_winding_bad() -> None:
    """Healthy drops differ by more than 10 % where the current leaves: closed form of 11 bars.

    Nodal analysis of 11 equal coils, wave, 4 poles, step 6, 1 A fed in at bar 1 and out at bar 4:
    0.90909, -1.09091 and -0.09091 V per ohm (derived).
    """
    walk = BarWalk(Winding("wave", poles=4, bars=11), "drop", Feed(1, 4, 1.0))
    pattern = walk.healthy_pattern
    assert pattern is not None
    values = sorted(set(np.round(pattern, 6)))
    assert values == pytest.approx([-12 / 11, -1 / 11, 10 / 11], abs=1e-6)
    assert alarms(walk, 3.5e-3 * pattern) == []
    sizes = np.abs(pattern)
    assert np.any(np.abs(sizes / np.median(sizes) - 1) > 0.1)


def test_one_bad_touch_among_good_readings_is_out_and_its_neighbours_are_not() -> None:
    values = np.full(12, 3.5)
    values[7] = 2.4
    assert np.flatnonzero(out_of_family(values, np.ones(12)).out).tolist() == [7]


def test_leads_swapped_throughout_are_one_family_and_a_single_wrong_sign_is_not() -> None:
    values = -3.5 * np.ones(10)
    assert not out_of_family(values, np.ones(10)).out.any()
    values[4] = 3.5
    assert np.flatnonzero(out_of_family(values, np.ones(10)).out).tolist() == [4]


def test_nothing_is_out_of_family_before_there_is_a_family() -> None:
    values = np.array([3.5, 3.5, 9.9, 3.5])
    assert len(values) < FEWEST
    assert not out_of_family(values, np.ones(4)).out.any()
    assert not step_out_of_family(values[:1], np.ones(1)).out.any()


def test_one_step_of_the_meter_is_never_out_of_family() -> None:
    values = np.array([3, 3, 3, 3, 3, 4, 3], dtype=float)
    assert not out_of_family(values, np.ones(7), resolution=1.0).out.any()
    assert out_of_family(values, np.ones(7), resolution=0.01).out.any()


def test_a_drop_to_the_shaft_is_judged_by_its_step_whatever_the_ground_is() -> None:
    walk = BarWalk(Winding("lap", poles=4, bars=32), "shaft-drop", Feed(1, 17, 10.0))
    pattern = walk.healthy_pattern
    assert pattern is not None
    volts = 3.6e-4 * pattern * 10 - 7.7e-3
    volts[20] *= 0.5
    assert 21 in alarms(walk, volts)
    volts[20] *= 2.0
    assert alarms(walk, volts) == []
