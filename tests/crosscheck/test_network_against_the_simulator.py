"""The package's network, FFT base and low-rank edits, straight against a circuit simulator.

Source: ngspice, a general circuit simulator (Debian package `ngspice`), given the same armature as a netlist
of resistors, coupled inductors and sources. Two grounds are compared for direct current only where the
package models them so; see docs/reference-solvers.md.
"""

from __future__ import annotations

import numpy as np
import pytest

from barwise.machine.feed import Feed
from reference import spice
from reference.armature import Fault, Winding
from tests.crosscheck.test_reference_solvers import FAULTS, TIGHT, WINDINGS, armature
from tests.properties.test_network_agrees_with_dense_solution import network

EVERY = pytest.mark.parametrize("faults", FAULTS.values(), ids=FAULTS.keys())
ON_THE_EXCITER = pytest.mark.parametrize(
    "faults",
    [faults for name, faults in FAULTS.items() if name != "two grounds"],
    ids=[name for name in FAULTS if name != "two grounds"],
)


@pytest.mark.parametrize("winding", WINDINGS, ids=str)
@EVERY
def test_direct_current_readings_are_the_simulator_s(winding: Winding, faults: tuple[Fault, ...]) -> None:
    made = armature(winding, faults)
    into, out = 1, 1 + round(winding.bars / winding.poles)
    volts = spice.bar_drop(made, into, out, 10.0)
    found = network(made).bar_drop(Feed(into, out, 10.0))
    np.testing.assert_allclose(found, volts, rtol=TIGHT, atol=1e-8 * np.abs(volts).max())
    assert network(made).resistance(4, 9) == pytest.approx(spice.resistance(made, 4, 9), rel=TIGHT)
    if made.grounded:
        shaft = spice.shaft_drop(made, into, out, 10.0)
        found = network(made).shaft_drop(Feed(into, out, 10.0))
        np.testing.assert_allclose(found, shaft, rtol=TIGHT, atol=1e-8 * np.abs(shaft).max())


@pytest.mark.parametrize("winding", WINDINGS, ids=str)
@ON_THE_EXCITER
def test_readings_on_the_exciter_are_the_simulator_s(winding: Winding, faults: tuple[Fault, ...]) -> None:
    made = armature(winding, faults)
    volts = np.abs(spice.induced(made))
    np.testing.assert_allclose(network(made).induced(), volts, rtol=TIGHT, atol=1e-8 * np.abs(volts).max())
