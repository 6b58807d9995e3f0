"""Which windings are listed for a count, in what order, and what is said when none fits."""

from __future__ import annotations

import pytest

from barwise.errors import WindingError
from barwise.machine.candidates import fitting_windings, left_out


def test_57_bars_in_29_slots_on_four_poles_is_first_a_retrogressive_wave_with_a_dead_coil() -> None:
    """What is usual: common practice, no source. What fits: the wave rule."""
    best = fitting_windings(57, slots=29, poles=4)[0]
    assert (best.winding.kind, best.winding.progression) == ("wave", "retrogressive")
    assert best.winding.dead_coils == 1
    assert best.pitches_slots == (7, 8)
    assert "dead coil" in best.reason


def test_every_connection_that_fits_is_listed_once() -> None:
    seen = [
        (fit.winding.kind, fit.winding.progression, fit.winding.plex)
        for fit in fitting_windings(57, slots=29, poles=4)
    ]
    ways = ("progressive", "retrogressive")
    assert sorted(seen) == sorted(
        [("lap", way, plex) for way in ways for plex in (1, 2)] + [("wave", way, 1) for way in ways]
    )


def test_58_bars_on_four_poles_is_first_a_lap_and_the_answer_says_why_no_wave() -> None:
    assert fitting_windings(58, slots=29, poles=4)[0].winding.kind == "lap"
    assert left_out(58, 4) == (
        "No simplex wave: (bars ± 1) must divide by the 2 pole pairs and 58 does not; "
        "nearest 57 and 59 bars.",
    )


def test_the_only_wave_that_closes_is_usual_even_if_its_leads_cross() -> None:
    best = fitting_windings(62, poles=6)[0]
    assert (best.winding.kind, best.winding.progression) == ("wave", "progressive")
    assert best.standing == "usual"
    assert left_out(62, 6) == ("No retrogressive wave: with 62 bars only the other way round closes.",)


def test_two_poles_list_no_wave_since_it_would_be_the_same_circuit() -> None:
    assert {fit.winding.kind for fit in fitting_windings(24, poles=2)} == {"lap"}
    assert "same circuit" in left_out(24, 2)[0]


def test_usual_windings_come_before_possible_and_rare_ones() -> None:
    order = ["usual", "possible", "rare"]
    places = [order.index(fit.standing) for fit in fitting_windings(29)]
    assert places == sorted(places)
    assert set(places) == {0, 1, 2}


def test_without_poles_two_to_eight_are_tried() -> None:
    assert {fit.winding.poles for fit in fitting_windings(29)} == {2, 4, 6, 8}


@pytest.mark.parametrize(
    ("count", "says"),
    [
        ({"bars": 57, "slots": 25, "poles": 4}, "nearest 19, 29 slots"),
        ({"bars": 2}, "bars: found 2"),
        ({"bars": 20, "poles": 5}, "nearest 4, 6"),
        (
            {"bars": 58, "poles": 4, "kind": "wave", "most_plex": 1},
            "58 does not; nearest 57, 59; a lap winding fits",
        ),
    ],
)
def test_a_count_that_nothing_fits_says_why_and_what_is_near(count: dict[str, int], says: str) -> None:
    with pytest.raises(WindingError) as refused:
        fitting_windings(**count)  # type: ignore[arg-type]
    assert says in str(refused.value)
