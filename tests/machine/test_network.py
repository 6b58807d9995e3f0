"""The network of one armature against what Kirchhoff's and Ohm's laws give in closed form.

Source, unless a test names another: resistances in series and in parallel, as in any text on circuits; the
figures are worked out in the test. Ohms are coil resistances.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from barwise.errors import WindingError
from barwise.machine.exciter import CoilImpedance, Exciter
from barwise.machine.faults import (
    BarBridge,
    Fault,
    GroundedCoil,
    HighResistanceJoint,
    OpenCoil,
    ReversedCoil,
    ShortedCoil,
    TurnShort,
)
from barwise.machine.feed import Feed
from barwise.machine.network import Network
from barwise.machine.ports import OPEN_RATIO
from barwise.machine.winding import Winding

LAP = Winding("lap", poles=4, bars=24, turns_per_coil=8)
WAVE = Winding("wave", poles=4, bars=29, turns_per_coil=5)
DUPLEX = Winding("lap", poles=4, bars=24, turns_per_coil=8, plex=2)
EXACT = 1e-11
EXCITER = Exciter(offset_rad=0.1)


def network(winding: Winding, *faults: Fault) -> Network:
    return Network(winding, faults, coil_resistance_ohm=1.0, exciter=EXCITER, pole_volts=1.0)


def parallel(*ohms: float) -> float:
    return 1 / sum(1 / ohm for ohm in ohms)


def same_readings(one: Network, other: Network, feed: Feed) -> None:
    np.testing.assert_allclose(one.bar_drop(feed), other.bar_drop(feed), rtol=EXACT, atol=EXACT)
    for meter_ohm in (None, 3.0):
        np.testing.assert_allclose(one.induced(meter_ohm), other.induced(meter_ohm), rtol=EXACT, atol=EXACT)
    np.testing.assert_allclose(one.circulating(), other.circulating(), rtol=EXACT, atol=EXACT)


# Healthy ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("apart", [1, 5, 12, 23])
def test_a_lap_reads_two_paths_in_parallel(apart: int) -> None:
    assert network(LAP).resistance(1, 1 + apart) == pytest.approx(parallel(apart, 24 - apart), rel=EXACT)


@pytest.mark.parametrize("apart", [1, 5, 11])
def test_each_ring_of_a_duplex_lap_reads_its_own_two_paths(apart: int) -> None:
    ohm = network(DUPLEX).resistance(2, 2 + 2 * apart)
    assert ohm == pytest.approx(parallel(apart, 12 - apart), rel=EXACT)


def test_a_ring_that_is_not_fed_drops_nothing() -> None:
    volts = network(DUPLEX).bar_voltages(Feed(1, 13, 10.0))
    np.testing.assert_allclose(volts[1::2], 0.0, atol=EXACT)
    np.testing.assert_allclose(volts[::2].mean(), 0.0, atol=EXACT)


def test_bars_that_nothing_joins_read_nothing() -> None:
    """No current can flow through the meter."""
    duplex = network(DUPLEX, ShortedCoil(3))
    assert not duplex.bar_drop(Feed(1, 13, 10.0)).any()
    assert not duplex.induced().any()


@pytest.mark.parametrize("winding", [LAP, WAVE], ids=["lap", "wave"])
def test_a_sound_winding_reads_alike_all_round_on_the_exciter(winding: Winding) -> None:
    volts = network(winding).induced()
    np.testing.assert_allclose(volts, volts[0], rtol=EXACT)


# Open coils ------------------------------------------------------------------------------------------


def test_beside_an_open_coil_only_one_path_is_left() -> None:
    one_path = parallel(6.0, 18.0 + OPEN_RATIO)
    assert network(LAP, OpenCoil(20)).resistance(1, 7) == pytest.approx(one_path, rel=EXACT)


@pytest.mark.parametrize("others", [(), (12,), (10, 14), (9, 11, 13, 15)], ids=len)
def test_several_open_coils_share_the_voltage_of_the_dead_path_to_the_last_digits(
    others: Sequence[int],
) -> None:
    """18 coils and the leaks in series, across 6 coils: one ampere divides between the two paths."""
    opened = (8, 16, *others)
    armature = network(LAP, *(OpenCoil(coil) for coil in opened))
    dead = 18.0 + len(opened) * OPEN_RATIO
    expected = np.full(24, -6.0 / (dead + 6.0))
    expected[:6] = dead / (dead + 6.0)
    expected[[coil - 1 for coil in opened]] *= 1 + OPEN_RATIO
    np.testing.assert_allclose(armature.bar_drop(Feed(1, 7, 1.0)), expected, rtol=EXACT, atol=EXACT)


def test_the_shaft_takes_the_voltage_behind_the_break_of_a_grounded_open_coil() -> None:
    """The break is at the coil's start, so all the rest of the coil hangs on its end bar."""
    armature = network(LAP, OpenCoil(10), GroundedCoil(10, fraction=0.25))
    feed = Feed(1, 13, 10.0)
    shaft_drop = armature.shaft_drop(feed)
    # 12 live coils take all current; 0.75 of a coil, with next to no current, lies up to bar 11
    assert shaft_drop[11 - 1] == pytest.approx(0.0, abs=1e-4)
    assert shaft_drop[10 - 1] == pytest.approx(armature.bar_drop(feed)[10 - 1], rel=1e-6)


def test_a_joint_before_a_grounded_place_is_all_on_the_side_of_the_start_bar() -> None:
    """Coil 3 of 4 ohm carries the current of its path: 3 + 0.5 of it up to the middle of the coil."""
    armature = network(LAP, HighResistanceJoint(3, factor=4.0), GroundedCoil(3, fraction=0.5))
    amps = 12 / (12 + 15)
    shaft_drop = armature.shaft_drop(Feed(1, 13, 1.0))
    assert shaft_drop[3 - 1] == pytest.approx(3.5 * amps, rel=EXACT)
    assert shaft_drop[4 - 1] == pytest.approx(-0.5 * amps, rel=EXACT)


# Grounds ---------------------------------------------------------------------------------------------


def test_one_ground_changes_nothing_between_bars() -> None:
    same_readings(network(WAVE, GroundedCoil(5, 0.3, 0.1)), network(WAVE), Feed(1, 8, 1.0))


def test_two_grounds_join_their_bars_through_the_shaft() -> None:
    armature = network(LAP, GroundedCoil(3, ground_ratio=0.5), GroundedCoil(10, ground_ratio=1.5))
    assert armature.resistance(3, 10) == pytest.approx(parallel(7.0, 17.0, 2.0), rel=EXACT)


def test_two_grounds_within_a_coil_bridge_the_turns_between_them() -> None:
    """The same circuit in two ways: 3 of 8 turns bridged by 0.5 + 0.2, direct and on the exciter."""
    grounds = (
        GroundedCoil(6, fraction=5 / 8, ground_ratio=0.5),
        GroundedCoil(6, fraction=1.0, ground_ratio=0.2),
    )
    bridged = TurnShort(6, turns=3, bridge_ratio=0.7)
    same_readings(network(LAP, *grounds), network(LAP, bridged), Feed(1, 7, 1.0))


def test_two_grounds_at_the_ends_of_a_coil_bridge_it_on_the_exciter_too() -> None:
    grounds = GroundedCoil(6, ground_ratio=0.1), GroundedCoil(6, fraction=1.0, ground_ratio=0.2)
    bridged = ShortedCoil(6, bridge_ratio=0.3)
    same_readings(network(WAVE, *grounds), network(WAVE, bridged), Feed(1, 8, 1.0))


def test_a_reversed_coil_is_grounded_from_its_other_end() -> None:
    """Laid in the other way round, a quarter from its own start is three quarters from its start bar."""
    turned = network(LAP, ReversedCoil(4), GroundedCoil(4, 0.25, 0.1), GroundedCoil(9, 0.0, 0.1))
    straight = network(LAP, GroundedCoil(4, 0.75, 0.1), GroundedCoil(9, 0.0, 0.1))
    feed = Feed(1, 13, 1.0)
    np.testing.assert_allclose(turned.shaft_drop(feed), straight.shaft_drop(feed), rtol=EXACT, atol=EXACT)


def test_two_dead_grounds_at_one_bar_are_one() -> None:
    """The end of coil 5 is the start of coil 6: no loop is closed."""
    twice = network(LAP, GroundedCoil(5, fraction=1.0), GroundedCoil(6))
    same_readings(twice, network(LAP), Feed(1, 13, 1.0))
    feed = Feed(1, 13, 1.0)
    expected = network(LAP, GroundedCoil(6)).shaft_drop(feed)
    np.testing.assert_allclose(twice.shaft_drop(feed), expected, atol=EXACT)


# Several rings ---------------------------------------------------------------------------------------


def test_a_lamp_lights_at_the_bars_of_the_grounded_ring_only() -> None:
    assert network(DUPLEX, GroundedCoil(4)).ground().tolist() == [False, True] * 12
    assert network(DUPLEX, GroundedCoil(4), GroundedCoil(7)).ground().all()


def test_one_ground_in_each_ring_joins_them_in_series() -> None:
    """From bar 1 to coil 5 in the one ring, through the shaft, from coil 10 to bar 2 in the other."""
    armature = network(DUPLEX, GroundedCoil(5, ground_ratio=0.25), GroundedCoil(10, ground_ratio=0.5))
    series = parallel(2, 10) + 0.25 + 0.5 + parallel(4, 8)
    assert armature.resistance(1, 2) == pytest.approx(series, rel=EXACT)
    assert armature.resistance(1, 13) == pytest.approx(parallel(6, 6), rel=EXACT)


def test_bridged_bars_of_two_rings_join_them_in_series() -> None:
    armature = network(DUPLEX, BarBridge(5, bridge_ratio=0.5))
    series = parallel(2, 10) + 0.5 + parallel(2, 10)
    assert armature.resistance(1, 2) == pytest.approx(series, rel=EXACT)


def test_an_equalizer_joins_two_rings_where_it_lies_from_one_to_the_other() -> None:
    """26 bars, 2 pole pairs: two pieces of 0.1 in parallel, from bar 1 to bar 14 of the other ring."""
    winding = Winding("lap", poles=4, bars=26, plex=2, equalizers=1)
    series = parallel(2, 11) + 0.05 + parallel(3, 10)
    assert network(winding).resistance(5, 14 + 6) == pytest.approx(series, rel=EXACT)


def test_an_equalizer_within_one_ring_leaves_the_other_floating() -> None:
    """24 bars, 2 pole pairs: bars 1 and 13 are of one ring, half of its 12 coils apart."""
    armature = network(replace(DUPLEX, equalizers=1))
    assert armature.resistance(1, 13) == pytest.approx(parallel(6, 6, 0.05), rel=EXACT)
    with pytest.raises(WindingError, match="closures"):
        armature.resistance(1, 2)


def test_a_bar_of_a_ring_that_is_not_grounded_reads_nothing_to_the_shaft() -> None:
    drop = network(DUPLEX, GroundedCoil(3)).shaft_drop(Feed(1, 13, 1.0))
    assert not drop[1::2].any()
    assert drop[3 - 1] == pytest.approx(0.0, abs=EXACT)
    assert drop[1 - 1] == pytest.approx(0.5, rel=EXACT)


# Temperature -----------------------------------------------------------------------------------------


def test_copper_warmed_from_20_to_75_reads_309_5_over_254_5() -> None:
    """Copper: (234.5 + t2) / (234.5 + t1), IEC 60034-1, from memory."""
    cold = Network(LAP, (ShortedCoil(2, 0.1),), coil_resistance_ohm=1e-3)
    warm = replace(cold, temperature_c=75.0)
    assert warm.resistance(1, 4) / cold.resistance(1, 4) == pytest.approx(309.5 / 254.5, rel=1e-12)


def test_the_sheet_says_at_which_temperature_its_resistance_holds() -> None:
    sheet = replace(LAP, temperature_c=25.0)
    there = Network(sheet, coil_resistance_ohm=1e-3, temperature_c=25.0)
    assert there.resistance(1, 13) == pytest.approx(6e-3, rel=1e-12)


def test_warm_copper_has_more_resistance_on_the_exciter_but_the_same_reactance() -> None:
    """Reactance is a matter of turns and iron: 309.5 / 254.5 times the ratio of the two."""
    ratio = 0.7 * 309.5 / 254.5
    faults = (ShortedCoil(2, 0.1),)
    warm = Network(LAP, faults, coil_resistance_ohm=1e-3, temperature_c=75.0)
    same = Network(
        LAP, faults, coil_resistance_ohm=1e-3 * 309.5 / 254.5, impedance=CoilImpedance(ratio, 0.15)
    )
    for meter_ohm in (None, 0.05):
        np.testing.assert_allclose(warm.induced(meter_ohm), same.induced(meter_ohm), rtol=1e-12)
    assert np.abs(warm.induced() / replace(warm, temperature_c=20.0).induced() - 1).max() > 0.01


# The strip -------------------------------------------------------------------------------------------


def test_a_strip_buzzes_over_the_two_slots_of_a_dead_shorted_coil() -> None:
    """Common practice, no source: the sides of a shorted coil lie one pole pitch apart."""
    winding = replace(LAP, slots=24)
    buzz = network(winding, ShortedCoil(5)).blade()
    assert np.flatnonzero(buzz).tolist() == [4, 10]
    assert not network(winding).blade().any()


def test_a_dead_shorted_coil_carries_its_own_current() -> None:
    """By definition: currents are over that of a dead-shorted coil turned to the same place."""
    assert network(WAVE, ShortedCoil(1)).circulating()[0] == pytest.approx(1.0, rel=EXACT)


# What cannot be asked --------------------------------------------------------------------------------


@pytest.mark.parametrize("bar", [0, 25])
def test_a_bar_that_is_not_there_is_refused(bar: int) -> None:
    with pytest.raises(WindingError, match=f"bar {bar}, expected 1 to 24"):
        network(LAP).resistance(1, bar)
    with pytest.raises(WindingError, match=f"bar {bar}, expected 1 to 24"):
        network(LAP).bar_drop(Feed(bar, 3, 1.0))


def test_a_feed_from_one_ring_to_another_is_refused() -> None:
    with pytest.raises(WindingError, match=r"bars 1 and 2 belong to different closures.*multiple of 2"):
        network(DUPLEX).bar_drop(Feed(1, 2, 10.0))


def test_a_shaft_that_floats_has_no_voltage() -> None:
    with pytest.raises(WindingError, match="no coil is grounded, so the shaft floats"):
        network(LAP, OpenCoil(3)).shaft_drop(Feed(1, 13, 10.0))


def test_a_strip_needs_to_know_the_slots() -> None:
    with pytest.raises(WindingError, match="slots"):
        network(LAP).blade()


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (OpenCoil(25), "place 25, expected 1 to 24"),
        (BarBridge(0), "place 0, expected 1 to 24"),
        (TurnShort(3, turns=9), "9 turns bridged, but a coil has 8"),
        (HighResistanceJoint(3, factor=0.0), "joint factor 0.0, expected a number above 0"),
        (ShortedCoil(3, bridge_ratio=-0.1), "bridge of -0.1 coil resistances"),
        (GroundedCoil(3, fraction=1.5), "ground at 1.5 of a coil, expected 0 to 1"),
        (GroundedCoil(3, ground_ratio=-1.0), "ground of -1.0 coil resistances"),
    ],
    ids=str,
)
def test_a_fault_that_cannot_be_is_refused(fault: Fault, words: str) -> None:
    with pytest.raises(WindingError, match=words):
        network(LAP, fault).resistance(1, 2)
