"""What a place should read before it is read: the same rule that calls a reading odd afterwards."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.inspect.bar_walk import BarWalk, WalkTest, usual_feed
from barwise.inspect.commutator.neighbours import REACH, outlook
from barwise.machine.network import Network
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

LAP = Winding(kind="lap", poles=4, bars=36, slots=36)
COIL_OHM = 0.35e-3


def walked(test: WalkTest, scatter: float, seed: int) -> tuple[BarWalk, dict[int, Reading]]:
    """A healthy armature read all round, by the network's own voltages with a little scatter."""
    feed = usual_feed(LAP) if test in ("drop", "shaft-drop") else None
    walk = BarWalk(LAP, test, feed)
    if feed is not None:
        volts = Network(LAP, coil_resistance_ohm=COIL_OHM).bar_voltages(feed)
    else:
        volts = np.zeros(LAP.bars)
    noise = np.random.default_rng(seed).normal(1, scatter, LAP.bars)
    taken = {}
    for n, (start, end) in enumerate(walk.places):
        clean = 12e-3 if feed is None else volts[start - 1] - (0.0 if end is None else volts[end - 1])
        taken[n] = Reading(test, start, end, float(clean * noise[n]), None, 1e-6, feed)
    return walk, taken


@pytest.mark.parametrize("test", ["drop", "induced", "shaft-drop"])
@given(
    seed=st.integers(0, 99), far=st.sampled_from([0.0, 0.02, 0.25, 0.6]), place=st.integers(0, LAP.bars - 1)
)
def test_a_reading_beyond_its_margin_is_the_one_that_is_called_odd(
    test: WalkTest, seed: int, far: float, place: int
) -> None:
    walk, taken = walked(test, 0.002, seed)
    old = taken[place]
    taken[place] = Reading(test, old.start, old.end, (old.value or 0) * (1 + far), None, 1e-6, old.feed)
    for n, known in enumerate(walk.outlook(taken)):
        beyond = known is not None and abs((taken[n].value or 0) - known.expected) > known.margin
        odd = walk.odd(taken, n)
        assert beyond == (odd is not None)
        if odd is not None and known is not None:
            assert known.expected == pytest.approx(odd.expected)


@pytest.mark.parametrize("test", ["drop", "induced", "shaft-drop"])
def test_the_next_place_is_known_before_it_is_read(test: WalkTest) -> None:
    walk, whole = walked(test, 0.002, 1)
    taken = {n: whole[n] for n in range(9)}
    known = walk.outlook(taken)[9]
    assert known is not None
    assert abs((whole[9].value or 0) - known.expected) < known.margin


def test_nothing_is_expected_of_too_few_readings_or_of_an_insulation_test() -> None:
    walk, whole = walked("drop", 0.002, 1)
    assert walk.outlook({n: whole[n] for n in range(4)}) == (None,) * 36
    assert BarWalk(LAP, "ground").outlook({}) == (None,) * 36


def dial(bars: int, eccentric: float, noise: float, seed: int) -> dict[int, float]:
    """What a dial reads on a commutator that runs out."""
    rng = np.random.default_rng(seed)
    turn = 2 * math.pi * np.arange(bars) / bars
    return dict(enumerate(eccentric * np.cos(turn - 1) + rng.normal(0, noise, bars)))


@given(seed=st.integers(0, 200), bar=st.integers(0, 56), eccentric=st.sampled_from([0.0, 2e-3, 2e-2]))
def test_a_bar_that_leaves_the_curve_of_its_neighbours_is_odd_and_they_are_not(
    seed: int, bar: int, eccentric: float
) -> None:
    taken = dial(57, eccentric, 5e-5, seed)
    taken[bar] -= 6e-3
    known = outlook(taken, 57, 1e-4)
    odd = [n for n, one in enumerate(known) if one and abs(taken[n] - one.expected) > one.margin]
    assert odd == [bar]


@given(seed=st.integers(0, 200), eccentric=st.sampled_from([0.0, 2e-3, 1e-2]), until=st.integers(6, 56))
def test_no_bar_of_a_sound_commutator_is_odd_while_it_is_walked(
    seed: int, eccentric: float, until: int
) -> None:
    whole = dial(57, eccentric, 5e-5, seed)
    known = outlook({n: whole[n] for n in range(until)}, 57, 1e-4)
    here = known[until]
    assert here is not None
    assert abs(whole[until] - here.expected) < here.margin


def test_a_bar_out_of_reach_of_every_reading_is_not_judged() -> None:
    taken = dict.fromkeys(range(10), 0.0)
    known = outlook(taken, 57, 1e-4)
    assert known[9 + REACH] is not None
    assert known[9 + REACH + 1] is None
