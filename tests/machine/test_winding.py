"""Rules of a winding: what exists, what does not, and what is said about it."""

from __future__ import annotations

from typing import Any

import pytest

from barwise.errors import WindingError
from barwise.machine.winding import Winding, usual_pitch

WAVE_57 = Winding("wave", 4, 57, progression="retrogressive", slots=29)


def test_a_lap_coil_ends_at_the_next_bar_and_a_retrogressive_one_at_the_bar_before() -> None:
    assert Winding("lap", 4, 32).coil_bars(32) == (32, 1)
    assert Winding("lap", 4, 32, progression="retrogressive").coil_bars(1) == (1, 32)
    assert Winding("lap", 4, 32, plex=2).coil_bars(31) == (31, 1)


@pytest.mark.parametrize(
    ("poles", "bars", "progression", "step"),
    [(4, 57, "retrogressive", 28), (4, 57, "progressive", 29), (6, 62, "progressive", 21)],
)
def test_a_wave_coil_ends_bars_plus_or_minus_one_over_pole_pairs_away(
    poles: int, bars: int, progression: Any, step: int
) -> None:
    winding = Winding("wave", poles, bars, progression=progression)
    assert winding.step == step
    assert winding.coil_bars(1) == (1, 1 + step)


def test_a_two_pole_wave_joins_the_same_bars_as_a_lap() -> None:
    wave, lap = Winding("wave", 2, 24), Winding("lap", 2, 24)
    assert [wave.coil_bars(coil) for coil in range(1, 25)] == [lap.coil_bars(coil) for coil in range(1, 25)]
    assert wave.coils_between(24) == lap.coils_between(24) == (24,)


def test_one_coil_fewer_than_the_slots_hold_is_a_dead_coil() -> None:
    assert WAVE_57.coils_per_slot == 2
    assert WAVE_57.dead_coils == 1
    assert Winding("lap", 4, 58, slots=29).dead_coils == 0
    assert Winding("wave", 4, 57).dead_coils == 0


def test_coils_lie_in_slots_one_and_eight_of_29_slots_on_four_poles() -> None:
    assert WAVE_57.coil_slots(1) == (1, 8)
    assert WAVE_57.coil_slots(2) == (1, 8)
    assert WAVE_57.coil_slots(57) == (29, 7)
    assert Winding("wave", 4, 57).coil_slots(1) == ()


def test_a_given_coil_pitch_takes_the_place_of_the_usual_one() -> None:
    assert Winding("lap", 4, 58, slots=29, coil_pitch_slots=6).coil_slots(1) == (1, 7)


@pytest.mark.parametrize(("slots", "poles", "pitch"), [(29, 4, 7), (25, 2, 12), (11, 4, 3)])
def test_the_usual_pitch_is_the_whole_number_nearest_the_pole_pitch_rather_short(
    slots: int, poles: int, pitch: int
) -> None:
    """Common practice, no source."""
    assert usual_pitch(slots, poles) == pitch


def test_one_coil_lies_between_neighbouring_bars_of_a_lap_and_a_pole_pairful_of_a_wave() -> None:
    assert Winding("lap", 4, 32).coils_between(32) == (32,)
    assert Winding("lap", 4, 32, progression="retrogressive").coils_between(5) == (6,)
    assert WAVE_57.coils_between(1) == (30, 2)
    assert Winding("wave", 6, 62).coils_between(1) == (1, 22, 43)


def test_no_coil_lies_between_bars_of_separate_rings() -> None:
    duplex = Winding("lap", 4, 24, plex=2)
    assert duplex.closures == 2
    assert duplex.coils_between(3) == ()


def test_a_duplex_lap_with_an_odd_count_closes_in_one_ring() -> None:
    assert Winding("lap", 4, 25, plex=2).closures == 1


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (
            {"kind": "wave", "bars": 58},
            "bars: wave: (bars ± 1) must divide by the 2 pole pairs: 57 works, 58 does not; nearest 57, 59",
        ),
        (
            {"kind": "wave", "poles": 6, "bars": 44, "progression": "retrogressive"},
            "44 does not, but works progressive; nearest retrogressive 43, 46",
        ),
        ({"kind": "helix"}, "kind: found 'helix', expected lap or wave"),
        ({"progression": "left"}, "progression: found 'left', expected progressive or"),
        ({"poles": 3}, "poles: found 3, expected an even number; nearest 2, 4"),
        ({"poles": 0}, "poles: found 0, expected a whole number from 2"),
        ({"bars": 2}, "bars: found 2, expected a whole number from 3"),
        ({"bars": 57.0}, "bars: found 57.0, expected a whole number from 3"),
        ({"bars": True}, "bars: found True, expected a whole number from 3"),
        ({"turns_per_coil": 0}, "turns_per_coil: found 0, expected a whole number from 1"),
        ({"plex": 0}, "plex: found 0, expected a whole number from 1"),
        ({"bars": 4, "plex": 4}, "plex: found 4, expected fewer than the 4 bars"),
        ({"bars": 57, "slots": 25}, "57 bars do not fill 25 slots"),
        ({"bars": 57, "slots": 25}, "nearest 19, 29 slots"),
        ({"slots": 40}, "32 bars do not fill 40 slots"),
        ({"coil_pitch_slots": 7}, "coil_pitch_slots: needs slots as well"),
        ({"slots": 16, "coil_pitch_slots": 16}, "expected 1 to 15, usually 4"),
        ({"kind": "wave", "bars": 33, "equalizers": 1}, "equalizers: a wave winding has none"),
        ({"bars": 33, "equalizers": 1}, "33 does not; nearest 32, 34"),
        ({"poles": 2, "equalizers": 1}, "equalizers: 2 poles leave no two bars alike"),
        ({"equalizers": 17}, "equalizers: found 17, but 16 join every bar"),
        ({"coil_resistance_ohm": 0.0}, "expected a number of ohms above 0"),
        ({"coil_resistance_ohm": float("nan")}, "expected a number of ohms above 0"),
        ({"temperature_c": float("nan")}, "temperature_c: found nan, expected -60 to 300 °C"),
        ({"temperature_c": 900.0}, "temperature_c: found 900.0"),
    ],
)
def test_a_winding_that_cannot_exist_is_refused_with_what_would_work(
    wrong: dict[str, Any], says: str
) -> None:
    with pytest.raises(WindingError) as refused:
        Winding(**{"kind": "lap", "poles": 4, "bars": 32, **wrong})
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("number", [0, 58, -1])
def test_a_coil_or_bar_that_is_not_there_is_refused(number: int) -> None:
    for ask in (WAVE_57.coil_bars, WAVE_57.coil_slots, WAVE_57.coils_between):
        with pytest.raises(WindingError, match="expected 1 to 57"):
            ask(number)
    with pytest.raises(WindingError, match="this winding has 1"):
        WAVE_57.ring(1)
