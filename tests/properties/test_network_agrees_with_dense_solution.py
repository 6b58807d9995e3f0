"""The package's network against the plain reference solution, over random windings and faults.

Source: `reference.dense`, the full set of circuit equations solved without any use of symmetry,
itself checked against ngspice and against figures worked out by hand. Windings of one closed ring or
several, sound or with up to four faults anywhere, also several in one coil.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.machine import faults as machine
from barwise.machine.exciter import CoilImpedance
from barwise.machine.exciter import Exciter as MachineExciter
from barwise.machine.feed import Feed
from barwise.machine.network import Network
from barwise.machine.winding import Winding as MachineWinding
from reference import dense
from reference.armature import (
    Armature,
    Electrical,
    Exciter,
    Fault,
    Winding,
    bar_node,
    separate_parts,
    wiring,
)

Array = NDArray[np.float64]
TIGHT = 1e-9
TRANSLATED: dict[str, Callable[[Fault], machine.Fault]] = {
    "open-coil": lambda f: machine.OpenCoil(f.coil),
    "high-resistance-joint": lambda f: machine.HighResistanceJoint(f.coil, f.factor),
    "shorted-coil": lambda f: machine.ShortedCoil(f.coil, f.bridge_ratio),
    "turn-short": lambda f: machine.TurnShort(f.coil, f.turns, f.bridge_ratio),
    "bar-bridge": lambda f: machine.BarBridge(f.coil, f.bridge_ratio),
    "reversed-coil": lambda f: machine.ReversedCoil(f.coil),
    "grounded-coil": lambda f: machine.GroundedCoil(f.coil, f.fraction, f.ground_ratio),
}


@st.composite
def windings(draw: st.DrawFn) -> Winding:
    """A winding that closes, one to three times over, now and then a lap with equalizers."""
    kind = draw(st.sampled_from(["lap", "wave"]))
    poles = draw(st.sampled_from([2, 4, 6, 8] if kind == "lap" else [4, 6, 8]))
    pairs = poles // 2
    plex = draw(st.sampled_from([1, 1, 1, 2, 3]))
    progression = draw(st.sampled_from(["progressive", "retrogressive"]))
    bars = draw(st.integers(3 * poles, 40))
    equalizers = 0
    if kind == "wave":
        bars = bars // pairs * pairs + (-plex if progression == "progressive" else plex)
    elif draw(st.booleans()) and pairs > 1:
        bars = bars // pairs * pairs
        equalizers = draw(st.integers(1, bars // pairs))
    turns = draw(st.integers(1, 6))
    return Winding(kind, poles, bars, turns, progression, plex, equalizers=equalizers)


@st.composite
def armatures(draw: st.DrawFn) -> Armature:
    winding = draw(windings())
    places = st.one_of(st.integers(1, winding.bars), st.integers(1, min(3, winding.bars)))
    alike = st.tuples(st.sampled_from(list(TRANSLATED)), places)
    listed = draw(st.lists(alike, unique=True, max_size=4))
    faults = tuple(draw(faults_at(winding, kind, place)) for kind, place in listed)
    ohm = draw(st.floats(1e-4, 1.0))
    electrical = Electrical(ohm, ohm / draw(st.floats(0.2, 2.0)), leakage_ratio=draw(st.floats(0.02, 0.5)))
    exciter = Exciter(
        separation_rad=draw(st.floats(1.2, 2.0)),
        spread_rad=draw(st.floats(0.1, 0.35)),
        offset_rad=draw(st.floats(-0.3, 0.3)),
        volts_per_turn=draw(st.floats(0.01, 0.1)),
    )
    return Armature(winding, faults, electrical, exciter)


@st.composite
def faults_at(draw: st.DrawFn, winding: Winding, kind: str, place: int) -> Fault:
    return Fault(
        kind,
        place,
        factor=draw(st.floats(1.01, 10.0)),
        bridge_ratio=draw(st.floats(0.001, 2.0)),
        turns=draw(st.integers(1, winding.turns)),
        fraction=draw(st.floats(0.0, 1.0)),
        ground_ratio=draw(st.floats(0.001, 1.0)),
    )


def network(armature: Armature) -> Network:
    winding, exciter, coil = armature.winding, armature.exciter, armature.electrical
    same = MachineWinding(
        kind=winding.kind,  # type: ignore[arg-type]
        poles=winding.poles,
        bars=winding.bars,
        turns_per_coil=winding.turns,
        progression=winding.progression,  # type: ignore[arg-type]
        plex=winding.plex,
        equalizers=winding.equalizers,
    )
    return Network(
        same,
        tuple(TRANSLATED[fault.kind](fault) for fault in armature.faults),
        coil_resistance_ohm=coil.coil_ohm,
        exciter=MachineExciter(exciter.separation_rad, exciter.spread_rad, exciter.offset_rad),
        impedance=CoilImpedance(coil.coil_ohm / coil.reactance_ohm, coil.leakage_ratio),
        pole_volts=exciter.volts_per_turn * winding.turns,
    )


def parts(armature: Armature) -> NDArray[np.intp]:
    """A number for each bar, the same for bars that hang together, shape (C,)."""
    listed = separate_parts(wiring(armature))
    part = {node: number for number, nodes in enumerate(listed) for node in nodes}
    return np.array([part[bar_node(bar)] for bar in range(1, armature.winding.bars + 1)])


def at_joined_pairs(readings: Array, armature: Armature) -> Array:
    """Readings from bar to next bar, 0 where nothing joins the two: no current would move the meter."""
    part = parts(armature)
    return np.where(part == np.roll(part, -1), readings, 0.0)


@st.composite
def fed_armatures(draw: st.DrawFn) -> tuple[Armature, tuple[int, int]]:
    """An armature, and two bars that hang together."""
    armature = draw(armatures())
    part = parts(armature)
    into = draw(st.integers(1, armature.winding.bars))
    joined = (np.flatnonzero(part == part[into - 1]) + 1).tolist()
    return armature, (into, draw(st.sampled_from([bar for bar in joined if bar != into])))


def close(found: Array | float, expected: Array | float, whole: float) -> None:
    """Equal to 1e-9, or where terms of size `whole` cancel, to 1e-9 of that."""
    np.testing.assert_allclose(found, expected, rtol=TIGHT, atol=TIGHT * whole)


@settings(max_examples=120, deadline=None)
@given(fed_armatures())
def test_direct_current_readings_agree(fed: tuple[Armature, tuple[int, int]]) -> None:
    armature, feed = fed
    mine, amps = network(armature), 10.0
    ohm = dense.resistance(armature, *feed)
    close(mine.resistance(*feed), ohm, ohm)
    drop = at_joined_pairs(dense.bar_drop(armature, *feed, amps), armature)
    close(mine.bar_drop(Feed(*feed, amps)), drop, ohm * amps)
    lit = dense.ground(armature)
    assert mine.ground().tolist() == lit.tolist()
    if armature.grounded:
        shaft = np.where(lit, dense.shaft_drop(armature, *feed, amps), 0.0)
        close(mine.shaft_drop(Feed(*feed, amps)), shaft, ohm * amps)


@settings(max_examples=120, deadline=None)
@given(armatures(), st.sampled_from([None, 0.05, 10.0]))
def test_readings_on_the_exciter_agree(armature: Armature, meter_ohm: float | None) -> None:
    expected = at_joined_pairs(dense.induced(armature, meter_ohm), armature)
    coil_volts = armature.exciter.volts_per_turn * armature.winding.turns
    close(network(armature).induced(meter_ohm), expected, max(coil_volts, float(expected.max())))


@settings(max_examples=60, deadline=None)
@given(armatures())
def test_circulating_currents_agree(armature: Armature) -> None:
    """Where one place of the coil has the greatest EMF; of two as great either may be taken."""
    emf = np.sort(np.abs(armature.emf_v()[:, 0]))
    assume(emf[-1] > emf[-2] * (1 + 1e-6))
    close(network(armature).circulating(), dense.circulating(armature), 1.0)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(armatures())
def test_bars_that_nothing_joins_have_no_resistance_between_them(armature: Armature) -> None:
    apart = np.flatnonzero(parts(armature) != parts(armature)[0]) + 1
    assume(len(apart))
    with pytest.raises(WindingError, match="closures"):
        network(armature).resistance(1, int(apart[0]))


@settings(max_examples=60, deadline=None)
@given(fed_armatures())
def test_a_winding_without_a_ground_has_no_shaft_drop(fed: tuple[Armature, tuple[int, int]]) -> None:
    armature, feed = fed
    if armature.grounded:
        assert any(network(armature).ground())
        return
    with pytest.raises(WindingError, match="floats"):
        network(armature).shaft_drop(Feed(*feed, 10.0))
