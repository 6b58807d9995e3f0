"""Winding tables and the EMF equation against worked examples of textbooks.

None of the books was at hand. The tables were read in companion code that reproduces worked
examples; two of the three companion files do not name their book, and each test says so.
"""

from __future__ import annotations

import math
import re

import pytest

from barwise.errors import WindingError
from barwise.machine.emf import (
    armature_constant,
    conductors,
    generated_voltage_v,
    torque_nm,
)
from barwise.machine.tables import connection_table, pitches, sequence_text
from barwise.machine.winding import Winding

PRINTED_LAP = """
1 to 10 to 3    3 to 12 to 5    5 to 14 to 7    7 to 16 to 9
9 to 18 to 11   11 to 20 to 13  13 to 22 to 15  15 to 24 to 17
17 to 26 to 19  19 to 28 to 21  21 to 30 to 23  23 to 32 to 25
25 to 2 to 27   27 to 4 to 29   29 to 6 to 31   31 to 4 to 1
"""


@pytest.mark.parametrize("slots", [None, 11])
def test_the_eleven_coil_wave_is_connected_as_printed(slots: int | None) -> None:
    """Worked example of a 4-pole simplex wave, 11 slots; companion code of an unnamed textbook."""
    winding = Winding("wave", 4, 11, progression="progressive", slots=slots)
    pitch = pitches(winding)
    assert (pitch.back, pitch.front, pitch.resultant, pitch.commutator) == (7, 5, 12, 6)
    assert sequence_text(winding) == (
        "(1-8)-(13-20)-(3-10)-(15-22)-(5-12)-(17-2)-(7-14)-(19-4)-(9-16)-(21-6)-(11-18)-1"
    )


def test_a_wave_of_41_coils_in_21_slots_has_the_printed_pitches_and_a_dead_coil() -> None:
    """R. Prasad, Fundamentals of Electrical Engineering, 3rd edition, 2014, example 8.4.

    Read in companion code of that book.
    """
    with pytest.raises(WindingError, match="nearest 41, 43"):
        Winding("wave", 4, 42, slots=21)
    winding = Winding("wave", 4, 41, progression="progressive", slots=21)
    pitch = pitches(winding)
    assert (pitch.commutator, pitch.resultant, pitch.back, pitch.front) == (21, 42, 21, 21)
    assert (winding.coils_per_slot, winding.dead_coils) == (2, 1)


def test_a_wave_of_143_coils_in_72_slots_has_the_printed_pitches_and_a_dead_coil() -> None:
    """Worked example, 72 slots of 4 coil sides, 6 poles; companion code of an unnamed textbook."""
    with pytest.raises(WindingError, match="nearest 143, 145"):
        Winding("wave", 6, 144, slots=72)
    winding = Winding("wave", 6, 143, progression="progressive", slots=72)
    pitch = pitches(winding)
    assert (pitch.commutator, pitch.resultant, pitch.back, pitch.front) == (48, 96, 49, 47)
    assert winding.dead_coils == 1


@pytest.mark.parametrize("slots", [None, 16])
def test_the_sixteen_coil_lap_is_connected_as_printed(slots: int | None) -> None:
    """Example 1.21, 4-pole simplex lap, 16 slots, 32 conductors; code of an unnamed textbook."""
    winding = Winding("lap", 4, 16, slots=slots)
    pitch = pitches(winding)
    assert (pitch.back, pitch.front, pitch.commutator) == (9, -7, 1)
    printed = "1-10-3-12-5-14-7-16-9-18-11-20-13-22-15-24-17-26-19-28-21-30-23-32-25-2-27-4-29-6-31-8-1"
    assert re.sub("[()]", "", sequence_text(winding)) == printed


def test_the_printed_lap_table_is_wrong_in_its_last_row_and_only_there() -> None:
    """Example 1.21 again: its long table prints 31 to (31+9) = 40 = (40-32) = 4; it must be 8.

    Coil side 4 already belongs to the coil that starts at 27, so the misprint shows by itself.
    """
    printed = [tuple(map(int, row)) for row in re.findall(r"(\d+) to (\d+) to (\d+)", PRINTED_LAP)]
    ours = [(row.top, row.bottom, row.onward) for row in connection_table(Winding("lap", 4, 16))]
    assert len(printed) == len(ours) == 16
    wrong = [(p, o) for p, o in zip(printed, ours, strict=True) if p != o]
    assert wrong == [((31, 4, 1), (31, 8, 1))]
    assert len({bottom for _, bottom, _ in printed}) == 15


@pytest.mark.parametrize(
    ("kind", "poles", "bars", "plex", "paths"),
    [("lap", 6, 36, 1, 6), ("lap", 6, 36, 3, 18), ("wave", 6, 36, 3, 6), ("wave", 4, 57, 1, 2)],
)
def test_a_lap_has_plex_times_poles_parallel_paths_and_a_wave_twice_plex(
    kind: str, poles: int, bars: int, plex: int, paths: int
) -> None:
    """Parallel paths, lap m P, wave 2 m: textbook fact, here from course notes, second hand."""
    assert Winding(kind, poles, bars, plex=plex).parallel_paths == paths  # type: ignore[arg-type]


def test_a_four_pole_simplex_wave_needs_an_odd_number_of_coils() -> None:
    """(C ± m) must divide by p: textbook rule, read second hand."""
    for bars in range(5, 80):
        if bars % 2:
            assert Winding("wave", 4, bars).closures == 1
        else:
            with pytest.raises(WindingError, match="must divide by the 2 pole pairs"):
                Winding("wave", 4, bars)


def test_the_emf_equation_gives_328_volts_for_a_lap_and_thrice_as_much_for_a_wave() -> None:
    """Phi 0.032 Wb, Z 440, 1400 rev/min, 6 poles: inputs of an examination paper's worked answer.

    The results are derived from E = phi Z N P / (60 a), not printed there to this many digits.
    """
    lap = generated_voltage_v(0.032, 440, 1400, poles=6, parallel_paths=6)
    wave = generated_voltage_v(0.032, 440, 1400, poles=6, parallel_paths=2)
    assert lap == pytest.approx(328.53, abs=0.005)
    assert wave == pytest.approx(985.6, abs=0.05)


@pytest.mark.parametrize(
    ("kind", "constant", "volts", "amps"), [("lap", 73.53, 212.6, 400), ("wave", 147.06, 425, 200)]
)
def test_one_armature_wound_lap_and_wave_gives_the_same_torque_and_power(
    kind: str, constant: float, volts: float, amps: float
) -> None:
    """P. C. Sen, Principles of Electric Machines and Power Electronics, example 4.1.

    Inputs and answers read second hand, in course material that works the example: 33 coils of
    7 turns, 4 poles covering 75 % of a rotor of 12.5 cm radius and 25 cm length, 0.75 T and
    1000 rev/min.
    """
    winding = Winding(kind, 4, 33, turns_per_coil=7)  # type: ignore[arg-type]
    turns, paths = conductors(winding), winding.parallel_paths
    flux_wb = 2 * math.pi * 0.125 * 0.25 * 0.75 / 4 * 0.75
    assert turns == 462
    assert armature_constant(turns, 4, paths) == pytest.approx(constant, abs=0.005)
    made = generated_voltage_v(flux_wb, turns, 1000, 4, paths)
    assert made == pytest.approx(volts, abs=0.3)
    assert amps / paths == 100
    assert torque_nm(flux_wb, turns, amps, 4, paths) == pytest.approx(812, abs=0.5)
    assert made * amps == pytest.approx(85.0e3, rel=1e-3)


@pytest.mark.parametrize(("poles", "bars", "progression"), [(4, 29, "progressive"), (6, 43, "retrogressive")])
def test_one_coil_of_a_wave_lies_between_as_many_bar_pairs_as_there_are_pole_pairs(
    poles: int, bars: int, progression: str
) -> None:
    """Identification and Testing of DC Armatures, naval training lesson: a shorted coil shows P/2
    low readings on a wave winding. It is one fault; how low they are is not claimed here."""
    winding = Winding("wave", poles, bars, progression=progression)  # type: ignore[arg-type]
    for coil in range(1, bars + 1):
        seen = [bar for bar in range(1, bars + 1) if coil in winding.coils_between(bar)]
        assert len(seen) == poles // 2
