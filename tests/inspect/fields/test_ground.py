"""Where the fields touch the frame, against a circuit simulator and by arithmetic.

Source: ngspice, a general circuit simulator (Debian package `ngspice`), given the coils as resistors, the
ground as one more, and a voltmeter of 10 Mohm.
"""

from __future__ import annotations

import math

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.fields import locate_ground
from barwise.inspect.fields.circuit import Coil, CoilReading, FieldCircuit
from barwise.inspect.fields.ground import Located, locate_on_path
from barwise.measure.uncertainty import Estimate
from reference import spice

COILS = tuple(Coil(str(k), 1, 8) for k in (1, 2, 3, 4))
OHM = (2.1e-3, 2.12e-3, 2.1e-3, 2.11e-3)
DROPS = tuple(Estimate(20 * ohm, 3e-5) for ohm in OHM)
METER_OHM = 10e6


def exact(volts: float) -> Estimate:
    return Estimate(volts, 3e-5)


def at(millivolts: float, whole: float = 168.6, through: float = 1.0) -> Located:
    first, last = through * millivolts * 1e-3, through * (whole - millivolts) * 1e-3
    return locate_ground(COILS, DROPS, exact(first), exact(last), exact(whole * 1e-3))


def simulated(coil: int, share: float, ground_ohm: float) -> tuple[float, float]:
    """Drops [V] from both end leads to the frame: the meter reads first the one, then the other."""
    before, after = OHM[coil] * share, OHM[coil] * (1 - share)
    nodes = ["a", *(f"n{k}" for k in range(1, 4)), "b"]
    lines = ["field coils with a ground", "Ifeed b a 20", "Rzero b 0 1"]
    for k, ohm in enumerate(OHM):
        if k != coil:
            lines.append(f"Rcoil{k} {nodes[k]} {nodes[k + 1]} {ohm:.9g}")
    lines += [f"Rstart {nodes[coil]} hit {before:.9g}", f"Rend hit {nodes[coil + 1]} {after:.9g}"]
    lines.append(f"Rground hit frame {ground_ohm:.9g}")
    read = []
    for lead in ("a", "b"):
        commands = ["op", f"let w_{lead} = v({lead}) - v(frame)", f"print w_{lead}"]
        deck = "\n".join(
            [*lines, f"Rmeter {lead} frame {METER_OHM:.9g}", ".control", "set numdgt=16", *commands, "quit",
             ".endc", ".end", ""]
        )  # fmt: skip
        read.append(abs(spice.run(deck)[lead].real))
    return read[0], read[1]


@pytest.mark.parametrize(("coil", "share"), [(0, 0.4), (2, 0.5), (3, 0.75)])
@pytest.mark.parametrize("ground_ohm", [0.1, 2e6])
def test_the_simulator_s_ground_is_found_in_its_coil_dead_or_not(
    coil: int, share: float, ground_ohm: float
) -> None:
    first, last = simulated(coil, share, ground_ohm)
    found = locate_ground(COILS, DROPS, exact(first), exact(last), exact(20 * sum(OHM)))
    assert found.verdict == "located"
    assert found.places[0].name == f"coil {coil + 1}"
    assert found.places[0].turn == pytest.approx(8 * share, abs=0.05)
    assert found.through == pytest.approx(METER_OHM / (METER_OHM + ground_ohm), rel=1e-3)


def test_a_ground_at_a_joint_is_not_put_into_either_coil_for_sure() -> None:
    """The joint of coils 2 and 3 lies at 84.4 of 168.6 mV (arithmetic)."""
    found = at(84.4)
    assert found.places[0].name == "the joint of coils 2 and 3"
    assert found.verdict == "undecided"


def test_a_ground_outside_of_the_fed_path_holds_its_first_lead_at_the_frame() -> None:
    found = at(0.0)
    assert found.places[0].name == "the first lead, or what hangs on it"


def test_drops_that_add_up_to_more_than_the_whole_are_at_odds() -> None:
    found = locate_ground(COILS, DROPS, exact(0.120), exact(0.120), exact(0.1686))
    assert found.verdict == "at odds"
    assert "two grounds" in found.why


def test_strays_of_a_sound_field_are_no_ground() -> None:
    assert at(84.0, through=0.005).verdict == "no ground"


def test_the_coils_of_the_path_that_is_fed_are_taken_from_its_own_readings() -> None:
    coils = tuple(Coil(str(k + 1), k // 2 + 1, 8) for k in range(4))
    readings = tuple(CoilReading(k, "drop", 20 * OHM[k], 3e-5, k // 2) for k in range(3))
    circuit = FieldCircuit("series-parallel", coils, readings, (None, None))
    found = locate_on_path(circuit, 1, exact(0.021), exact(0.0634))
    assert found is not None
    assert found.places[0].name == "coil 1"
    # Coil 4 was not read, so nothing can be said of its path.
    assert locate_on_path(circuit, 2, exact(0.021), exact(0.0634)) is None


@pytest.mark.parametrize(("first", "last"), [(0.0, 0.0), (-0.02, 0.1)])
def test_drops_that_are_none_are_refused(first: float, last: float) -> None:
    with pytest.raises(MeasurementError, match="drops to the frame"):
        locate_ground(COILS, DROPS, exact(first), exact(last))
    with pytest.raises(MeasurementError, match="lead to lead"):
        locate_ground(COILS, DROPS, exact(0.1), exact(0.1), exact(0.0))


def test_the_chances_of_all_places_make_one() -> None:
    assert math.fsum(place.probability for place in at(50.0).places) == pytest.approx(1)
