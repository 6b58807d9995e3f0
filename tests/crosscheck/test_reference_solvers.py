"""The plain reference solution against a circuit simulator that shares nothing with it.

Source: ngspice, a general circuit simulator (Debian package `ngspice`), given the same armature as
a netlist of resistors, coupled inductors and sources.
"""

from __future__ import annotations

import numpy as np
import pytest

from reference import dense, spice
from reference.armature import Armature, Electrical, Exciter, Fault, Winding
from reference.makers import Bench, Mix, draw_armature, make_case

WINDINGS = [
    Winding("lap", 2, 24, turns=8),
    Winding("lap", 4, 32, turns=3, progression="retrogressive"),
    Winding("wave", 4, 29, turns=2),
    Winding("wave", 6, 44, turns=4),
]
FAULTS = {
    "sound": (),
    "open": (Fault("open-coil", 5),),
    "joint": (Fault("high-resistance-joint", 23, factor=1.6),),
    "shorted": (Fault("shorted-coil", 12, bridge_ratio=0.05),),
    "dead short": (Fault("shorted-coil", 12),),
    "turn short": (Fault("turn-short", 8, turns=1, bridge_ratio=0.03),),
    "bar bridge": (Fault("bar-bridge", 20, bridge_ratio=0.2),),
    "reversed": (Fault("reversed-coil", 17),),
    "grounded": (Fault("grounded-coil", 9, fraction=0.3, ground_ratio=0.2),),
    "two grounds": (
        Fault("grounded-coil", 9, fraction=0.3, ground_ratio=0.2),
        Fault("grounded-coil", 2, fraction=0.8),
    ),
    "open and shorted": (Fault("open-coil", 3), Fault("shorted-coil", 15, bridge_ratio=0.1)),
    "reversed and turns shorted": (Fault("reversed-coil", 3), Fault("turn-short", 3)),
}
TIGHT = 1e-6


def armature(winding: Winding, faults: tuple[Fault, ...]) -> Armature:
    ohm = 0.35e-3 * winding.turns**2
    exciter = Exciter(separation_rad=1.52, spread_rad=0.2, offset_rad=0.04)
    return Armature(winding, faults, Electrical(ohm, ohm / 0.7, 0.15), exciter)


@pytest.mark.parametrize("winding", WINDINGS, ids=str)
@pytest.mark.parametrize("faults", FAULTS.values(), ids=FAULTS.keys())
def test_direct_current_readings_agree_with_the_simulator(
    winding: Winding, faults: tuple[Fault, ...]
) -> None:
    made = armature(winding, faults)
    feed = (1, 1 + round(winding.bars / winding.poles), 10.0)
    volts = dense.bar_drop(made, *feed)
    np.testing.assert_allclose(
        spice.bar_drop(made, *feed), volts, rtol=TIGHT, atol=1e-9 * np.abs(volts).max()
    )
    assert spice.resistance(made, 4, 9) == pytest.approx(dense.resistance(made, 4, 9), rel=TIGHT)
    if made.grounded:
        shaft = dense.shaft_drop(made, *feed)
        np.testing.assert_allclose(
            spice.shaft_drop(made, *feed), shaft, rtol=TIGHT, atol=1e-9 * np.abs(shaft).max()
        )


@pytest.mark.parametrize("winding", WINDINGS, ids=str)
@pytest.mark.parametrize("faults", FAULTS.values(), ids=FAULTS.keys())
def test_readings_on_the_exciter_agree_with_the_simulator_in_size_and_phase(
    winding: Winding, faults: tuple[Fault, ...]
) -> None:
    made = armature(winding, faults)
    volts = dense.induced_complex(made)
    found = spice.induced_complex(made)
    np.testing.assert_allclose(found, volts, rtol=TIGHT, atol=1e-9 * np.abs(volts).max())


@pytest.mark.parametrize("faults", ["sound", "open", "joint"])
def test_a_meter_that_loads_the_winding_agrees_with_the_simulator(faults: str) -> None:
    made = armature(WINDINGS[2], FAULTS[faults])
    volts = dense.induced_complex(made, meter_ohm=0.02)
    found = spice.induced_complex(made, meter_ohm=0.02)
    np.testing.assert_allclose(found, volts, rtol=TIGHT, atol=1e-9 * np.abs(volts).max())


def test_a_lap_with_equalizers_agrees_with_the_simulator() -> None:
    made = armature(Winding("lap", 4, 24, equalizers=4), FAULTS["shorted"])
    np.testing.assert_allclose(spice.induced(made), dense.induced(made), rtol=TIGHT)
    np.testing.assert_allclose(spice.bar_drop(made, 1, 7, 10.0), dense.bar_drop(made, 1, 7, 10.0), rtol=TIGHT)


def test_coils_that_are_not_quite_alike_agree_with_the_simulator() -> None:
    made = draw_armature(WINDINGS[2], np.random.default_rng(3), Mix(sound_share=1.0))
    assert len(set(made.coil_ohm_factor)) == WINDINGS[2].bars
    np.testing.assert_allclose(spice.induced(made), dense.induced(made), rtol=TIGHT)
    np.testing.assert_allclose(spice.bar_drop(made, 1, 8, 10.0), dense.bar_drop(made, 1, 8, 10.0), rtol=TIGHT)


@pytest.mark.parametrize("number", [0, 4])
def test_a_made_case_reads_the_same_whichever_way_it_is_solved(number: int) -> None:
    """Both ways draw the same noise; what is left after the meter's resolution is equal."""
    plain = make_case(11, number, Mix(), Bench())
    simulated = make_case(11, number, Mix(), Bench(), by_spice=True)
    assert simulated["solver"] == "ngspice"
    assert simulated["truth"] == plain["truth"]
    assert simulated["readings"] == plain["readings"]


def test_the_simulator_says_so_when_a_deck_cannot_be_solved() -> None:
    with pytest.raises(RuntimeError, match="ngspice"):
        spice.run("* nothing in it\nR1 a 0 what\n.control\nop\nquit\n.endc\n.end\n")
