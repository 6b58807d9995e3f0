"""Readings of an armature that can be worked out on paper.

Sources
-------
Worked out here from Ohm's and Kirchhoff's laws (any text on circuits): a closed winding of C coils
is a ring, so a pair of bars that spans m coils sees those m in parallel with the other C - m.

What a shorted, open or grounded coil looks like bar to bar, and at how many places:
"Identification and Testing of DC Armatures", lesson JQR 251.36/.37/.41 (a service school's
qualification text).

Each test is run on the plain reference solution and on the package's network.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from barwise.machine import faults as machine_faults
from barwise.machine.feed import Feed
from barwise.machine.network import Network
from barwise.machine.winding import Winding as MachineWinding
from reference import dense
from reference.armature import Armature, Electrical, Fault, Winding

Array = NDArray[np.float64]
TIGHT = 1e-6
NAMES = {
    "open-coil": "OpenCoil",
    "high-resistance-joint": "HighResistanceJoint",
    "shorted-coil": "ShortedCoil",
    "bar-bridge": "BarBridge",
    "grounded-coil": "GroundedCoil",
}


@dataclass(frozen=True)
class Readings:
    """The three direct-current readings of a winding of 1 ohm coils."""

    resistance: Callable[[int, int], float]
    drop: Callable[[int, int], Array]
    shaft_drop: Callable[[int, int], Array]


Solver = Callable[..., Readings]


def plain(winding: Winding, faults: Sequence[Fault] = ()) -> Readings:
    armature = Armature(winding, faults, Electrical(coil_ohm=1.0))
    return Readings(
        lambda a, b: dense.resistance(armature, a, b),
        lambda a, b: dense.bar_drop(armature, a, b, 1.0),
        lambda a, b: dense.shaft_drop(armature, a, b, 1.0),
    )


def package(winding: Winding, faults: Sequence[Fault] = ()) -> Readings:
    same = MachineWinding(
        kind=winding.kind,  # type: ignore[arg-type]
        poles=winding.poles,
        bars=winding.bars,
        progression=winding.progression,  # type: ignore[arg-type]
        plex=winding.plex,
    )
    network = Network(same, tuple(map(translated, faults)), coil_resistance_ohm=1.0)
    return Readings(
        network.resistance,
        lambda a, b: network.bar_drop(Feed(a, b, 1.0)),
        lambda a, b: network.shaft_drop(Feed(a, b, 1.0)),
    )


def translated(fault: Fault) -> machine_faults.Fault:
    kind = getattr(machine_faults, NAMES[fault.kind])
    severities = {
        "high-resistance-joint": (fault.factor,),
        "shorted-coil": (fault.bridge_ratio,),
        "bar-bridge": (fault.bridge_ratio,),
        "grounded-coil": (fault.fraction, fault.ground_ratio),
    }
    return kind(fault.coil, *severities.get(fault.kind, ()))


@pytest.fixture(params=[plain, package], ids=["reference", "package"])
def solved(request: pytest.FixtureRequest) -> Solver:
    return request.param  # type: ignore[no-any-return]


def at_every_pair(readings: Readings, bars: int) -> Array:
    """Resistance between each bar and the next, the meter's own current fed at that pair."""
    return np.array([readings.resistance(k, k % bars + 1) for k in range(1, bars + 1)])


def coil_of(s: float) -> list[Fault]:
    """Coil 6 at s times its resistance: a dead short, a bridge that leaves s, or a bad joint."""
    if s == 1.0:
        return []
    if s < 1.0:
        return [Fault("shorted-coil", 6, bridge_ratio=s / (1.0 - s))]
    return [Fault("high-resistance-joint", 6, factor=s)]


WAVES = [
    Winding("wave", 4, 11),
    Winding("wave", 4, 11, progression="retrogressive"),
    Winding("wave", 4, 29),
    Winding("wave", 4, 29, progression="retrogressive"),
    Winding("wave", 4, 57, progression="retrogressive"),
    Winding("wave", 6, 43, progression="retrogressive"),
    Winding("wave", 6, 44),
    Winding("wave", 6, 62),
    Winding("wave", 8, 61, progression="retrogressive"),
]
LAPS = [
    Winding("lap", 4, 16),
    Winding("lap", 4, 16, progression="retrogressive"),
    Winding("lap", 2, 24),
    Winding("lap", 6, 48, progression="retrogressive"),
]
SEVERITIES = [0.0, 0.25, 0.5, 1.0, 1.25, 2.0, 50.0]


@pytest.mark.parametrize("winding", WAVES, ids=str)
@pytest.mark.parametrize("s", SEVERITIES)
def test_a_wave_shows_a_coil_of_s_times_its_resistance_at_as_many_pairs_as_pole_pairs(
    solved: Solver, winding: Winding, s: float
) -> None:
    """Ring arms: (p - 1 + s)(C - p) / (C - 1 + s) where spanned, else p (C - 1 - p + s) / (...)."""
    bars, pairs = winding.bars, winding.poles // 2
    ring = bars - 1 + s
    spanning, others = (pairs - 1 + s) * (bars - pairs) / ring, pairs * (ring - pairs) / ring
    found = np.sort(at_every_pair(solved(winding, coil_of(s)), bars))
    expected = np.sort([spanning] * pairs + [others] * (bars - pairs))
    np.testing.assert_allclose(found, expected, rtol=TIGHT, atol=1e-9)


@pytest.mark.parametrize("winding", LAPS, ids=str)
@pytest.mark.parametrize("s", SEVERITIES)
def test_a_lap_shows_a_coil_of_s_times_its_resistance_at_its_own_pair_only(
    solved: Solver, winding: Winding, s: float
) -> None:
    """Ring arms: s (C - 1) / (C - 1 + s) across the coil, (C - 2 + s) / (C - 1 + s) elsewhere."""
    bars = winding.bars
    expected = np.full(bars, (bars - 2 + s) / (bars - 1 + s))
    own_pair = 6 if winding.step > 0 else 5  # retrogressive: from bar 6 back to bar 5
    expected[own_pair - 1] = s * (bars - 1) / (bars - 1 + s)
    found = at_every_pair(solved(winding, coil_of(s)), bars)
    np.testing.assert_allclose(found, expected, rtol=TIGHT, atol=1e-9)


WAVE_11 = Winding("wave", 4, 11)


@pytest.mark.parametrize(
    ("faults", "spanning", "others"),
    [
        ([], 1.636364, 1.636364),
        ([Fault("shorted-coil", 1)], 0.900, 1.600),
        ([Fault("shorted-coil", 1, bridge_ratio=1.0)], 1.285714, 1.619048),
        ([Fault("high-resistance-joint", 1, factor=2.0)], 2.250, 1.666667),
        ([Fault("open-coil", 1)], 9.0, 2.0),
    ],
    ids=["sound", "shorted", "bridged to half", "bad riser", "open"],
)
def test_an_11_bar_wave_reads_the_worked_figures_at_the_two_pairs_the_bad_coil_lies_in(
    solved: Solver, faults: list[Fault], spanning: float, others: float
) -> None:
    """Coil 1 lies between bars 1 and 2 and between bars 6 and 7 (step 6)."""
    expected = np.full(11, others)
    expected[[0, 5]] = spanning
    found = at_every_pair(solved(WAVE_11, faults), 11)
    np.testing.assert_allclose(found, expected, rtol=2e-6)


@pytest.mark.parametrize(
    ("winding", "low", "share"),
    [
        (Winding("wave", 4, 29), 2, 0.51786),
        (Winding("wave", 4, 29, progression="retrogressive"), 2, 0.51786),
        (Winding("wave", 6, 43, progression="retrogressive"), 3, 0.6825),
        (Winding("wave", 6, 44), 3, 0.6822),
    ],
    ids=str,
)
def test_one_shorted_coil_of_a_wave_reads_low_at_every_pole_pair_but_never_nothing(
    solved: Solver, winding: Winding, low: int, share: float
) -> None:
    """The lesson counts P/2 low readings; that they are "zero or very low" holds for a lap only."""
    sound = at_every_pair(solved(winding), winding.bars)
    found = at_every_pair(solved(winding, [Fault("shorted-coil", 4)]), winding.bars) / sound
    assert np.sum(found < 0.9) == low
    np.testing.assert_allclose(found[found < 0.9], share, atol=6e-5)


def test_a_sound_lap_fed_across_the_diameter_halves_the_current(solved: Solver) -> None:
    drops = solved(LAPS[0]).drop(1, 9)
    np.testing.assert_allclose(drops, [0.5] * 8 + [-0.5] * 8, rtol=TIGHT)


def test_a_shorted_coil_of_a_lap_reads_nothing_and_its_path_takes_more_current(
    solved: Solver,
) -> None:
    drops = solved(LAPS[0], [Fault("shorted-coil", 6)]).drop(1, 9)
    expected = [8 / 15] * 5 + [0.0] + [8 / 15] * 2 + [-7 / 15] * 8
    np.testing.assert_allclose(drops, expected, rtol=TIGHT, atol=1e-9)


def test_an_open_coil_of_a_lap_takes_the_whole_drop_with_zeros_either_side(solved: Solver) -> None:
    """As the lesson has it: one reading off the scale, zeros either side, the other path whole."""
    drops = solved(LAPS[0], [Fault("open-coil", 6)]).drop(1, 9)
    expected = [0.0] * 5 + [8.0] + [0.0] * 2 + [-1.0] * 8
    np.testing.assert_allclose(drops, expected, rtol=2e-6, atol=2e-6)


def test_a_sound_wave_of_few_bars_does_not_read_alike_all_round(solved: Solver) -> None:
    """Fed one pole pitch apart, an 11-bar wave reads 10/11, -12/11 and, by the brushes, -1/11."""
    drops = solved(WAVE_11).drop(1, 4)
    assert {round(float(v), 5) for v in drops} == {0.90909, -1.09091, -0.09091}
    assert abs(float(drops.sum())) < 1e-9


def test_bars_bridged_on_a_wave_read_nothing_there_and_low_at_two_more_places(
    solved: Solver,
) -> None:
    """29 bars, 4 poles, by hand: loops of 2 and 27 coils that share the bridge's two bars."""
    found = at_every_pair(solved(Winding("wave", 4, 29), [Fault("bar-bridge", 7)]), 29)
    assert found[6] == pytest.approx(0.0, abs=1e-9)
    places = np.flatnonzero((found > 0.1) & (found < 1.6))
    assert len(places) == 2
    # One coil of the loop of 2 (1 * 1 / 2), in series with one of the loop of 27 (1 * 26 / 27).
    np.testing.assert_allclose(found[places], 1 / 2 + 26 / 27, rtol=TIGHT)
    rest = np.delete(found, [6, *places])
    np.testing.assert_allclose(rest, 2 * 25 / 27, rtol=TIGHT)


@pytest.mark.parametrize(
    ("winding", "zeros"),
    [
        (Winding("lap", 2, 24), 2),
        (Winding("lap", 4, 32), 2),
        (Winding("lap", 6, 48, progression="retrogressive"), 2),
        (Winding("wave", 4, 57, progression="retrogressive"), 4),
        (Winding("wave", 4, 29), 4),
        (Winding("wave", 6, 62), 6),
    ],
    ids=str,
)
def test_bar_to_shaft_readings_change_sign_at_two_places_on_a_lap_and_as_many_as_poles_on_a_wave(
    solved: Solver, winding: Winding, zeros: int
) -> None:
    """The lesson: lap 2 places, one of them a phantom; wave P places."""
    feed = (1, 1 + round(winding.bars / winding.poles))
    ground = Fault("grounded-coil", 1 + round(winding.bars / winding.poles / 2), fraction=0.37)
    sign = np.sign(solved(winding, [ground]).shaft_drop(*feed))
    assert np.sum(sign != np.roll(sign, -1)) == zeros


def test_moving_the_feed_moves_the_phantom_zero_but_not_the_ground(solved: Solver) -> None:
    """As the lesson has it: shift the feed, and the real ground stays where it is."""
    readings = solved(Winding("lap", 2, 24), [Fault("grounded-coil", 5, fraction=0.4)])
    places = []
    for feed in ((1, 13), (8, 20)):
        sign = np.sign(readings.shaft_drop(*feed))
        places.append({int(k) + 1 for k in np.flatnonzero(sign != np.roll(sign, -1))})
    assert places[0] & places[1] == {5}


def test_two_grounds_carry_current_between_them(solved: Solver) -> None:
    """Bars 1 and 9 of a 16-bar lap are tied to the shaft: 8 || 8 || 0 leaves no voltage at all."""
    grounds = [Fault("grounded-coil", 1), Fault("grounded-coil", 9)]
    assert solved(LAPS[0], grounds).resistance(1, 9) == pytest.approx(0.0, abs=1e-9)


def test_a_ground_inside_a_coil_sits_at_its_fraction_between_the_two_bars(solved: Solver) -> None:
    shaft = solved(LAPS[0], [Fault("grounded-coil", 3, fraction=0.25)]).shaft_drop(1, 9)
    np.testing.assert_allclose(shaft[2:4], [0.125, -0.375], rtol=TIGHT)


def test_a_sum_of_drops_round_the_commutator_is_nothing(solved: Solver) -> None:
    """Kirchhoff's voltage law."""
    for winding in [*WAVES, *LAPS]:
        drops = solved(winding, [Fault("high-resistance-joint", 3, factor=1.7)]).drop(1, 5)
        assert abs(float(drops.sum())) < 1e-9 * float(np.abs(drops).sum())
