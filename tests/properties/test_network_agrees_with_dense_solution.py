"""The package's network against the plain reference solution, over random windings and faults.

Source: `reference.dense`, the full set of circuit equations solved without any use of symmetry,
itself checked against ngspice and against figures worked out by hand.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
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
from reference.armature import Armature, Electrical, Exciter, Fault, Winding

Array = NDArray[np.float64]
TIGHT = 1e-9
SEVERAL_OPEN = 1e-6
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
    """A winding that closes, single or double, now and then a lap with equalizers."""
    kind = draw(st.sampled_from(["lap", "wave"]))
    poles = draw(st.sampled_from([2, 4, 6, 8] if kind == "lap" else [4, 6, 8]))
    pairs = poles // 2
    plex = draw(st.sampled_from([1, 1, 1, 2]))
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
    places = draw(st.lists(st.integers(1, winding.bars), unique=True, max_size=3))
    faults = tuple(draw(faults_at(winding, place)) for place in places)
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
def faults_at(draw: st.DrawFn, winding: Winding, place: int) -> Fault:
    kinds = [kind for kind in TRANSLATED if kind != "bar-bridge" or winding.plex == 1]
    return Fault(
        draw(st.sampled_from(kinds)),
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


def grounds(armature: Armature) -> int:
    return sum(fault.kind == "grounded-coil" for fault in armature.faults)


def feed_of(armature: Armature) -> tuple[int, int]:
    """Two bars of one closed ring."""
    rings = math.gcd(armature.winding.step, armature.winding.bars)
    return 1, 1 + rings * max(1, armature.winding.bars // armature.winding.poles // rings)


def close(found: Array, expected: Array, armature: Armature, whole: float | None = None) -> None:
    """Equal to 1e-9, or where terms of size `whole` cancel, to 1e-9 of that.

    Several open coils, each 1e7 of the rest, cost the low-rank edits digits that the dense solution keeps.
    """
    tight = TIGHT if sum(fault.kind == "open-coil" for fault in armature.faults) < 2 else SEVERAL_OPEN
    whole = float(np.abs(expected).max()) if whole is None else whole
    np.testing.assert_allclose(found, expected, rtol=tight, atol=tight * whole)


@settings(max_examples=100, deadline=None)
@given(armatures())
def test_direct_current_readings_agree(armature: Armature) -> None:
    """Not where a shaft or equalizers join separate closed rings: the package holds those rings
    at one mean voltage, so that a current flows between them that should not.
    """
    rings = math.gcd(armature.winding.step, armature.winding.bars)
    if rings > 1 and (grounds(armature) > 1 or armature.winding.equalizers):
        return
    feed = feed_of(armature)
    mine, theirs = network(armature), dense.bar_drop(armature, *feed, 10.0)
    if rings == 1:
        close(mine.bar_drop(Feed(*feed, 10.0)), theirs, armature)
    close(np.array(mine.resistance(*feed)), np.array(dense.resistance(armature, *feed)), armature)
    assert mine.ground().tolist() == dense.ground(armature).tolist()
    if armature.grounded and all(dense.ground(armature)):
        close(mine.shaft_drop(Feed(*feed, 10.0)), dense.shaft_drop(armature, *feed, 10.0), armature)


@settings(max_examples=100, deadline=None)
@given(armatures(), st.sampled_from([None, 0.05, 10.0]))
def test_readings_on_the_exciter_agree(armature: Armature, meter_ohm: float | None) -> None:
    """Not with two grounds: the package leaves their loop through the core out on the exciter."""
    if grounds(armature) > 1:
        return
    if math.gcd(armature.winding.step, armature.winding.bars) != 1:
        return
    coil_volts = armature.exciter.volts_per_turn * armature.winding.turns
    close(network(armature).induced(meter_ohm), dense.induced(armature, meter_ohm), armature, coil_volts)


@settings(max_examples=60, deadline=None)
@given(armatures())
def test_a_winding_without_a_ground_has_no_shaft_drop(armature: Armature) -> None:
    if armature.grounded:
        assert any(network(armature).ground())
        return
    with pytest.raises(WindingError, match="floats"):
        network(armature).shaft_drop(Feed(*feed_of(armature), 10.0))
