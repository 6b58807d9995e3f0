"""The walk round the commutator: its places, its feed, and which readings belong to it."""

from __future__ import annotations

import pytest

from barwise.inspect.bar_walk import BarWalk, usual_feed
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

LAP = Winding("lap", poles=4, bars=32)
WAVE = Winding("wave", poles=4, bars=57, progression="retrogressive")
DUPLEX = Winding("lap", poles=4, bars=32, plex=2)


def test_a_walk_takes_every_pair_of_neighbours_once_round() -> None:
    places = BarWalk(LAP, "drop", Feed(1, 17, 10.0)).places
    assert places[0] == (1, 2)
    assert places[-1] == (32, 1)
    assert len(set(places)) == 32


def test_a_walk_to_the_shaft_takes_every_bar() -> None:
    assert BarWalk(LAP, "ground").places == tuple((bar, None) for bar in range(1, 33))


def test_two_separate_rings_are_walked_each_within_itself() -> None:
    """Odd bars with odd, even with even: common practice for duplex windings, no source."""
    places = BarWalk(DUPLEX, "drop", usual_feed(DUPLEX)).places
    assert all(end is not None and (end - start) % 2 == 0 for start, end in places)
    assert len(set(places)) == 32


@pytest.mark.parametrize(("winding", "feed"), [(LAP, (1, 17)), (WAVE, (1, 15)), (DUPLEX, (1, 17))], ids=str)
def test_a_lap_is_fed_at_opposite_bars_and_a_wave_a_pole_pitch_apart(
    winding: Winding, feed: tuple[int, int]
) -> None:
    usual = usual_feed(winding)
    assert (usual.into, usual.out) == feed


@pytest.mark.parametrize(("bars", "plex"), [(3, 1), (6, 2), (26, 2), (33, 3), (9, 3)])
def test_the_usual_feed_is_always_on_one_ring_and_on_two_bars(bars: int, plex: int) -> None:
    winding = Winding("lap", poles=2, bars=bars, plex=plex)
    into, out = usual_feed(winding).into, usual_feed(winding).out
    assert 1 <= into < out <= bars
    assert (out - into) % winding.closures == 0
    assert BarWalk(winding, "drop", Feed(into, out, 1.0)).healthy_pattern is not None


def test_a_lap_with_equalizers_is_not_fed_at_bars_that_an_equalizer_joins() -> None:
    """Bars a pole pair apart are one point there, so current fed at two of them leaves the coils dry."""
    winding = Winding("lap", poles=4, bars=32, equalizers=16)
    pattern = BarWalk(winding, "drop", usual_feed(winding)).healthy_pattern
    assert pattern is not None
    assert abs(pattern).min() > 0.1 * abs(pattern).max()


def test_only_readings_of_the_same_test_and_feed_belong_to_a_walk() -> None:
    feed = Feed(1, 17, 10.0)
    walk = BarWalk(LAP, "drop", feed)
    assert walk.place_of(Reading("drop", 4, 5, 1.0, feed=feed)) == 3
    assert walk.place_of(Reading("drop", 5, 4, 1.0, feed=feed)) == 3
    assert walk.place_of(Reading("drop", 4, 6, 1.0, feed=feed)) is None
    assert walk.place_of(Reading("drop", 4, 5, 1.0, feed=Feed(2, 18, 10.0))) is None
    assert walk.place_of(Reading("induced", 4, 5, 1.0)) is None


def test_a_pair_probed_the_other_way_round_counts_with_its_sign_turned() -> None:
    feed = Feed(1, 17, 10.0)
    walk = BarWalk(LAP, "drop", feed)
    taken = {n: Reading("drop", n + 1, n + 2, 3.5, feed=feed) for n in range(8)}
    taken[5] = Reading("drop", 7, 6, -3.5, feed=feed)
    assert walk.odd(taken, 5) is None
    taken[5] = Reading("drop", 7, 6, 3.5, feed=feed)
    odd = walk.odd(taken, 5)
    assert odd is not None
    assert (odd.value, odd.expected) == pytest.approx((-3.5, 3.5))


def test_a_lamp_has_no_family() -> None:
    walk = BarWalk(LAP, "ground")
    taken = {n: Reading("ground", n + 1, None, state="dark") for n in range(8)}
    taken[8] = Reading("ground", 9, None, state="lit")
    assert walk.odd(taken, 8) is None
