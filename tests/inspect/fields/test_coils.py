"""Field coils compared: which one, how sure, and how small a short would have shown.

The judge is arithmetic: a made frame's drops are current times resistance, a coil with k of its n turns
shorted having (n - k) / n of its resistance (Ohm's law; every turn alike). Frames have a fixed seed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barwise.errors import MeasurementError
from barwise.inspect.fields import assess
from barwise.inspect.fields.assessment import FieldAssessment
from barwise.inspect.fields.circuit import Coil, CoilReading, FieldCircuit
from barwise.inspect.fields.comparison import compare
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate

DIGIT = 0.1e-3 / math.sqrt(12)
SOUND = (42.1, 42.3, 41.9, 42.2)
SHEET = Limit(1.9e-3, 2.3e-3)
AT_20_A = Estimate(20.0, 0.05)


def frame(
    millivolts: Sequence[float], *, repeats: int = 1, turns: int | None = 8, coils: int = 0, **more: object
) -> FieldCircuit:
    """Coils in series, all read at one current."""
    names = [Coil(str(k + 1), 1, turns) for k in range(coils or len(millivolts))]
    readings = [
        CoilReading(k, "drop", volts * 1e-3, DIGIT)
        for k, volts in enumerate(millivolts)
        for _ in range(repeats)
    ]
    return FieldCircuit("series", tuple(names), tuple(readings), **more)  # type: ignore[arg-type]


def paths(
    millivolts: Sequence[float], currents: tuple[Estimate | None, ...], *, together: bool = False
) -> FieldCircuit:
    """Two paths of as many coils, each with its current."""
    each = len(millivolts) // 2
    coils = tuple(Coil(str(k + 1), k // each + 1, 8) for k in range(2 * each))
    readings = tuple(
        CoilReading(k, "drop", volts * 1e-3, DIGIT, k // each)
        for k, volts in enumerate(millivolts)
        for _ in range(2)
    )
    return FieldCircuit("series-parallel", coils, readings, currents, fed_together=together)


def faults(found: FieldAssessment) -> list[tuple[str, str]]:
    return [(one.coil.name, one.fault) for one in found.findings]


def test_coils_that_read_alike_are_sound() -> None:
    found = assess(frame(SOUND))
    assert found.verdict == "sound"
    assert found.sound > 0.99
    assert found.findings == ()
    assert found.next_reading == ""


def test_one_shorted_turn_of_eight_read_twice_is_found_in_its_coil() -> None:
    """42.1 mV less one turn of eight is 36.8 mV (arithmetic)."""
    found = assess(frame((42.1, 42.3, 36.8, 42.2), repeats=2))
    assert found.verdict == "faulty"
    assert faults(found) == [("3", "short")]
    worst = found.comparison.coils[2]
    assert worst.lost == pytest.approx(1 / 8)
    assert worst.ratio == pytest.approx(36.8 / np.mean([42.1, 42.3, 42.2]), rel=2e-3)


def test_one_low_reading_taken_once_asks_for_the_same_coil_again() -> None:
    found = assess(frame((42.1, 42.3, 36.8, 42.2)))
    assert found.verdict == "undecided"
    assert found.next_reading.startswith("Read coil 3 once more")


def test_a_bad_joint_reads_high() -> None:
    found = assess(frame((42.1, 42.3, 42.2, 55.2), repeats=2))
    assert (found.verdict, faults(found)) == ("faulty", [("4", "high")])


def test_two_coils_with_shorted_turns_are_both_named() -> None:
    found = assess(frame((42.1, 36.9, 36.8, 42.2), repeats=2))
    assert sorted(faults(found)) == [("2", "short"), ("3", "short")]


def test_two_coils_differ_without_saying_which_and_the_sheet_settles_it() -> None:
    """The sheet's 1.9 to 2.3 mohm hold the one that reads 2.1, not the one that reads 2.8 (arithmetic)."""
    alone = assess(frame((56.0, 42.1), repeats=2, turns=None))
    assert alone.verdict == "faulty"
    assert {name for name, _ in faults(alone)} == {"1", "2"}
    assert "Two coils only tell that they differ" in alone.next_reading
    told = assess(
        frame(
            (56.0, 42.1), repeats=2, turns=None, currents=(AT_20_A,), sheet=SHEET, temperature=Estimate(20, 1)
        )
    )
    assert faults(told)[0] == ("1", "high")
    assert told.findings[0].probability > 0.9


def test_without_a_current_nothing_is_held_against_the_sheet() -> None:
    found = assess(frame(SOUND, sheet=SHEET))
    assert found.resistances == ()
    assert found.verdict == "sound"


def test_a_missing_temperature_widens_the_sheet_s_side_and_nothing_else() -> None:
    """Any shop from 5 to 35 °C is 30 / root 12 = 8.66 K, of 254.5: 3.4 % (arithmetic)."""
    known = assess(frame(SOUND, currents=(AT_20_A,), sheet=SHEET, temperature=Estimate(20.0, 0.5)))
    unknown = assess(frame(SOUND, currents=(AT_20_A,), sheet=SHEET))
    ohm = unknown.resistances[0].ohm
    assert ohm.standard_uncertainty / ohm.value == pytest.approx(0.0341, abs=5e-4)
    assert known.resistances[0].ohm.standard_uncertainty < 0.2 * ohm.standard_uncertainty
    assert unknown.comparison.coils[0].ratio == pytest.approx(known.comparison.coils[0].ratio or 0, rel=1e-3)
    assert any("No temperature was entered, and none is assumed" in note for note in unknown.notes)
    assert not any("No temperature" in note for note in known.notes)


def test_coils_that_are_all_low_alike_are_caught_by_the_sheet_alone() -> None:
    low = [0.75 * volts for volts in SOUND]
    by_sheet = frame(low, currents=(AT_20_A,), sheet=SHEET, temperature=Estimate(20, 1), repeats=2)
    assert assess(frame(low, repeats=2)).verdict == "sound"
    assert assess(by_sheet).verdict == "faulty"


def test_a_warm_coil_is_corrected_before_the_sheet_judges_it() -> None:
    """2.1 mohm at 20 °C reads 2.1 (234.5 + 70) / 254.5 = 2.513 mohm at 70 (IEEE 118, from memory)."""
    warm = [2.1 * 304.5 / 254.5 * 20] * 4
    judged = frame(warm, currents=(AT_20_A,), sheet=SHEET, temperature=Estimate(70.0, 1.0))
    found = assess(judged)
    assert found.resistances[0].ohm.value == pytest.approx(2.1e-3, rel=1e-6)
    assert found.verdict == "sound"


def test_paths_fed_together_hide_a_short_and_say_so() -> None:
    """Two coils side by side see one voltage, whatever their turns (Kirchhoff)."""
    found = assess(paths((42.1, 42.1), (None, None), together=True))
    assert found.verdict == "undecided"
    assert found.comparison.coils[0].ratio is None
    assert "feed one path at a time" in found.next_reading
    assert all(one.share is None for one in found.detectable)


def test_a_short_in_one_path_shows_once_the_current_of_each_is_known() -> None:
    current = (Estimate(20.0, 0.03), Estimate(20.0, 0.03))
    found = assess(paths((42.1, 36.8), current))
    assert (found.verdict, found.findings[0].fault) == ("faulty", "short")
    assert found.findings[0].coil.name == "2"


def test_within_a_path_coils_compare_without_any_current() -> None:
    found = assess(paths((42.1, 42.3, 36.8, 42.1), (None, None)))
    assert found.verdict == "faulty"
    # Its only neighbour is coil 4: one low, or the other high.
    assert {name for name, _ in faults(found)} <= {"3", "4"}


def test_the_drop_that_one_path_s_coils_do_not_make_up_is_in_its_joints() -> None:
    """84.2 mV on the one side, 78.0 + joint on the other: 6.2 mV in the joint (Kirchhoff)."""
    found = assess(paths((42.1, 42.1, 39.0, 39.0), (None, None), together=True))
    (missing,) = found.missing
    assert missing.path == 2
    assert missing.drop.value == pytest.approx(6.2e-3)


def test_an_open_coil_is_open_when_it_reads_open_twice() -> None:
    readings = frame(SOUND[:3]).readings
    coils = frame(SOUND).coils
    once = FieldCircuit("series", coils, (*readings, CoilReading(3, "open")))
    twice = FieldCircuit("series", coils, (*readings, CoilReading(3, "open"), CoilReading(3, "open")))
    assert assess(once).verdict == "undecided"
    assert assess(once).next_reading.startswith("Touch coil 4 again")
    assert assess(twice).verdict == "faulty"
    assert faults(assess(twice))[0] == ("4", "open")


def test_one_coil_alone_has_nothing_to_be_compared_with() -> None:
    found = assess(frame((42.1,)))
    assert found.verdict == "undecided"
    assert found.comparison.coils[0].ratio is None
    assert found.next_reading.startswith("One coil alone")


def test_a_coil_nobody_read_keeps_the_rest_from_being_passed() -> None:
    found = assess(frame(SOUND[:3], coils=4))
    assert found.verdict == "undecided"
    assert found.next_reading == "Read coil 4."


def test_a_two_wire_ohmmeter_that_cannot_read_so_little_compares_nothing() -> None:
    coils = frame(SOUND).coils
    readings = tuple(CoilReading(k, "resistance", 0.01, 0.02) for k in range(4))
    found = assess(FieldCircuit("series", coils, readings))
    assert found.verdict == "undecided"
    assert found.next_reading.startswith("Feed 10 to 20 A")
    assert any("too coarse" in note for note in found.notes)


def test_a_slipped_decimal_is_asked_about() -> None:
    found = assess(frame((42.1, 4.23, 41.9, 42.2)))
    assert any("slipped decimal or wrong unit" in note for note in found.notes)


@pytest.mark.parametrize("value", [0.0, -0.042, math.nan, math.inf])
def test_a_drop_that_is_none_is_refused(value: float) -> None:
    with pytest.raises(MeasurementError, match="coil 1"):
        FieldCircuit("series", (Coil("1"),), (CoilReading(0, "drop", value, DIGIT),))


@settings(max_examples=25, deadline=None)
@given(st.floats(0.05, 20.0), st.permutations(range(4)))
def test_neither_current_nor_order_changes_what_the_comparison_says(scale: float, order: list[int]) -> None:
    """Derived: one current and one temperature multiply all drops alike."""
    volts = (42.1, 42.3, 36.8, 42.2)
    coils = frame(volts).coils
    readings = tuple(CoilReading(k, "drop", volts[k] * scale * 1e-3, DIGIT * scale) for k in order)
    moved, plain = compare(FieldCircuit("series", coils, readings)), compare(frame(volts))
    assert moved.sound == pytest.approx(plain.sound, rel=1e-5)
    for one, other in zip(moved.coils, plain.coils, strict=True):
        assert one.short == pytest.approx(other.short, rel=1e-5, abs=1e-12)
        assert one.ratio == pytest.approx(other.ratio or 0, rel=1e-6)


def made(rng: np.random.Generator, shorted: int, turns: int, spread: float = 0.015) -> FieldCircuit:
    """Four coils as they are made, `shorted` turns of coil 2 dead, each read twice to 0.1 mV."""
    ohm = 2.1e-3 * (1 + spread * rng.standard_normal(4))
    ohm[1] *= (turns - shorted) / turns
    volts = np.round(20.0 * ohm * 1e4) / 10
    return frame([float(one) for one in volts], repeats=2, turns=turns)


def test_a_short_at_the_stated_limit_shows_in_95_of_100_frames() -> None:
    """The limit is checked by frames made with it: 95 of 100, less what chance does to 150 of them."""
    rng = np.random.default_rng(7)
    stated = assess(frame((42.0,) * 4, repeats=2, turns=40)).detectable[1].turns
    assert stated is not None
    shown = sum(compare(made(rng, stated, 40)).sound < 0.95 for _ in range(150))
    assert shown >= 0.90 * 150


def test_sound_frames_are_hardly_ever_condemned_and_one_turn_of_eight_hardly_ever_missed() -> None:
    """Frames made with a fixed seed: none of 60 sound ones condemned, 60 of 60 shorted ones named."""
    rng = np.random.default_rng(11)
    sound = [compare(made(rng, 0, 8)) for _ in range(60)]
    bad = [compare(made(rng, 1, 8)) for _ in range(60)]
    assert sum(one.sound <= 0.05 for one in sound) == 0
    assert sum(one.sound >= 0.95 for one in sound) >= 54
    assert sum(one.coils[1].short >= 0.95 for one in bad) >= 58
