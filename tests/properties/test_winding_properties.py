"""What holds for every winding that can be made."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from barwise.errors import WindingError
from barwise.machine.candidates import fitting_windings
from barwise.machine.tables import coil_table, connection_table, pitches, slot_table
from barwise.machine.winding import Kind, Progression, Winding, slots_fit, wave_fits

KINDS: st.SearchStrategy[Kind] = st.sampled_from(["lap", "wave"])
WAYS: st.SearchStrategy[Progression] = st.sampled_from(["progressive", "retrogressive"])


@st.composite
def windings(draw: st.DrawFn, most_plex: int = 3) -> Winding:
    """Any winding of 3 to 120 bars on 2 to 12 poles, half of them with slots."""
    pairs, bars = draw(st.integers(1, 6)), draw(st.integers(3, 120))
    kind, way, plex = draw(KINDS), draw(WAYS), draw(st.integers(1, most_plex))
    assume(plex < bars)
    assume(kind == "lap" or wave_fits(bars, pairs, plex, way))
    fitting = [None] + [n for n in range(1, bars + 1) if slots_fit(bars, n, pairs)]
    slots = draw(st.sampled_from(fitting))
    return Winding(kind, 2 * pairs, bars, progression=way, slots=slots, plex=plex)


@given(windings())
def test_the_rings_together_hold_every_coil_once_and_close(winding: Winding) -> None:
    rings = [winding.ring(closure) for closure in range(winding.closures)]
    assert sorted(coil for ring in rings for coil in ring) == list(range(1, winding.bars + 1))
    for ring in rings:
        assert winding.coil_bars(ring[-1])[1] == winding.coil_bars(ring[0])[0]
        for coil, following in pairwise(ring):
            assert winding.coil_bars(coil)[1] == winding.coil_bars(following)[0]


@given(windings())
def test_every_bar_holds_two_coil_ends_of_two_coils(winding: Winding) -> None:
    ends = Counter(bar for row in coil_table(winding) for bar in (row.start_bar, row.end_bar))
    assert set(ends) == set(range(1, winding.bars + 1))
    assert set(ends.values()) == {2}
    assert all(row.start_bar != row.end_bar for row in coil_table(winding))


@given(windings())
def test_every_coil_side_is_used_once_and_pitches_are_odd_and_add_up(winding: Winding) -> None:
    pitch = pitches(winding)
    assert pitch.back % 2 == pitch.front % 2 == 1
    assert pitch.back + pitch.front == 2 * winding.step
    rows = [row for n in range(winding.closures) for row in connection_table(winding, n)]
    sides = sorted(side for row in rows for side in (row.top, row.bottom))
    assert sides == list(range(1, 2 * winding.bars + 1))
    for row in rows:
        assert (row.bottom + pitch.front - row.onward) % (2 * winding.bars) == 0


@given(windings(most_plex=1))
def test_coils_between_neighbours_lead_from_bar_to_bar_the_short_way(winding: Winding) -> None:
    for bar in range(1, winding.bars + 1):
        path = winding.coils_between(bar)
        assert 1 <= len(path) <= winding.bars / 2
        at = bar
        for coil in path:
            start, end = winding.coil_bars(coil)
            assert at in (start, end)
            at = end if at == start else start
        assert at == bar % winding.bars + 1


@given(windings(most_plex=1))
def test_a_simplex_winding_is_one_ring(winding: Winding) -> None:
    assert winding.closures == 1


@given(windings())
def test_a_multiplex_winding_has_rings_that_divide_the_plex_and_bars(winding: Winding) -> None:
    assert winding.plex % winding.closures == 0
    assert winding.bars % winding.closures == 0
    if winding.kind == "lap":
        assert winding.closures == math.gcd(winding.plex, winding.bars)


@given(windings())
def test_slots_hold_as_many_sides_as_fit_and_the_dead_coils_account_for_the_rest(
    winding: Winding,
) -> None:
    assume(winding.slots is not None)
    table = slot_table(winding)
    assert sum(len(row.top_coils) for row in table) == winding.bars
    assert sum(len(row.bottom_coils) for row in table) == winding.bars
    assert sum(row.dead_sides for row in table) == 2 * winding.dead_coils
    assert all(row.dead_sides >= 0 for row in table)
    assert max(len(row.top_coils) for row in table) == winding.coils_per_slot


@given(st.integers(3, 120), st.integers(1, 6), st.integers(1, 3), WAYS)
def test_a_wave_exists_exactly_when_bars_and_plex_divide_by_the_pole_pairs(
    bars: int, pairs: int, plex: int, way: Progression
) -> None:
    assume(plex < bars)
    sign = 1 if way == "progressive" else -1
    closes = (bars + sign * plex) % pairs == 0 and (bars + sign * plex) // pairs % bars != 0
    try:
        made = Winding("wave", 2 * pairs, bars, progression=way, plex=plex)
    except WindingError:
        assert not closes
    else:
        assert closes
        assert made.pole_pairs * made.step == bars + sign * plex


@given(st.integers(3, 120), st.integers(1, 60), st.sampled_from([2, 4, 6, 8, None]))
def test_whatever_is_listed_fits_the_count_and_whatever_is_refused_says_why(
    bars: int, slots: int, poles: int | None
) -> None:
    tried = (2, 4, 6, 8) if poles is None else (poles,)
    if not any(slots_fit(bars, slots, number // 2) for number in tried):
        with pytest.raises(WindingError, match=r"^slots: .* nearest [0-9]"):
            fitting_windings(bars, slots, poles)
        return
    fits = fitting_windings(bars, slots, poles)
    assert fits
    connections = [(f.winding.poles, f.winding.kind, f.winding.step % bars) for f in fits]
    assert all(f.winding.bars == bars and f.winding.slots == slots for f in fits)
    assert all(f.winding.poles == poles for f in fits if poles is not None)
    assert len(connections) == len(fits)
