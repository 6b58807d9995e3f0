"""Shape of bore and journal from a few readings, and the play between them with the doubt of both."""

from __future__ import annotations

import math

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.bearings.clearance import clearance, worn
from barwise.inspect.bearings.form import SizeReading, form_of
from barwise.measure.decision import Limit

UM = 1e-6
FOUR = [(0.0, 0.0), (0.0, 90.0), (1.0, 0.0), (1.0, 90.0)]


def made(mean_mm: float, oval_um: float, taper_um: float, way_deg: float, places, doubt_um: float = 1.0):
    """Readings of a known shape: its formula stands in the module's docstring and is written anew here."""
    return [
        SizeReading(
            mean_mm * 1e-3
            + taper_um * UM * (along - 0.5)
            + oval_um * UM / 2 * math.cos(2 * math.radians(way - way_deg)),
            along,
            way,
            doubt_um * UM,
        )
        for along, way in places
    ]


def test_four_readings_show_oval_and_taper_that_lie_along_them() -> None:
    form = form_of(made(12.0, 20, -10, 0, FOUR))
    assert form.oval is not None
    assert form.taper is not None
    assert form.oval.value == pytest.approx(20 * UM)
    assert form.taper.value == pytest.approx(-10 * UM)
    assert form.largest.value == pytest.approx(12e-3 + 15 * UM)
    assert form.smallest.value == pytest.approx(12e-3 - 15 * UM)
    assert form.unseen == ("an oval that lies between the two directions: read in a third one",)


def test_an_oval_between_two_directions_is_missed_and_three_directions_find_it() -> None:
    hidden = form_of(made(12.0, 20, 0, 45, FOUR))
    assert hidden.oval is not None
    assert hidden.oval.value == pytest.approx(0, abs=1e-9)
    three = [(along, way) for along in (0.0, 1.0) for way in (0.0, 60.0, 120.0)]
    found = form_of(made(12.0, 20, 5, 45, three))
    assert found.oval is not None
    assert found.oval.value == pytest.approx(20 * UM)
    assert found.oval_direction_deg == pytest.approx(45)
    assert found.unseen == ()


def test_one_reading_has_no_shape_and_says_so() -> None:
    form = form_of([SizeReading(12e-3, random_m=UM)])
    assert (form.oval, form.taper) == (None, None)
    assert len(form.unseen) == 2
    assert form.mean.standard_uncertainty == pytest.approx(UM)


def test_two_readings_at_other_place_and_direction_at_once_show_no_shape_but_their_spread() -> None:
    form = form_of([SizeReading(12.00e-3, 0, 0, UM), SizeReading(12.04e-3, 1, 90, UM)])
    assert (form.oval, form.taper) == (None, None)
    assert form.mean.standard_uncertainty == pytest.approx(20 * UM)
    assert form.mean.degrees_of_freedom == pytest.approx(1)


def test_the_uncertainty_of_a_shape_is_what_many_made_readings_scatter_by() -> None:
    rng = np.random.default_rng(7)
    found = []
    for _ in range(800):
        readings = [
            SizeReading(one.value_m + rng.normal(0, 2 * UM), one.along, one.direction_deg, 2 * UM)
            for one in made(12.0, 40, 20, 0, FOUR)
        ]
        form = form_of(readings)
        assert form.oval is not None
        found.append((form.oval.value, form.largest.value))
    clean = form_of(made(12.0, 40, 20, 0, FOUR, 2.0))
    assert clean.oval is not None
    spread = np.std(found, axis=0)
    stated = [clean.oval.standard_uncertainty, clean.largest.standard_uncertainty]
    assert spread == pytest.approx(stated, rel=0.08)


def test_what_readings_share_does_not_shrink_with_their_number() -> None:
    few, many = (form_of(made(12.0, 0, 0, 0, FOUR * times), common_m=3 * UM) for times in (1, 25))
    assert few.mean.standard_uncertainty > many.mean.standard_uncertainty > 3 * UM


def test_play_is_decided_loose_end_against_the_upper_limit_and_tight_end_against_the_lower() -> None:
    bore, journal = form_of(made(12.10, 60, 0, 0, FOUR)), form_of(made(12.00, 20, 0, 0, FOUR))
    play = clearance(bore, journal, Limit(0.05e-3, 0.13e-3))
    assert play.loosest.value == pytest.approx(0.140e-3)
    assert play.tightest.value == pytest.approx(0.060e-3)
    assert play.mean.value == pytest.approx(0.100e-3)
    assert play.upper is not None
    assert play.lower is not None
    assert (play.upper.outcome, play.lower.outcome, play.outcome) == ("reject", "accept", "reject")


def test_the_uncertainties_of_both_add_up_as_squares() -> None:
    """JCGM 100:2008, 5.1.2 (from memory): 3 and 4 um make 5."""
    bore = form_of([SizeReading(12.10e-3, random_m=3 * UM)])
    journal = form_of([SizeReading(12.00e-3, random_m=4 * UM)])
    play = clearance(bore, journal)
    assert play.loosest.standard_uncertainty == pytest.approx(5 * UM)
    assert play.from_bore == pytest.approx(9 / 25)
    assert play.outcome is None


def test_a_journal_larger_than_its_bore_is_refused_and_a_tight_one_is_not() -> None:
    bore = form_of([SizeReading(12.000e-3, random_m=2 * UM)])
    with pytest.raises(MeasurementError, match=r"swapped, or one in another unit"):
        clearance(bore, form_of([SizeReading(12.05e-3, random_m=2 * UM)]))
    tight = clearance(bore, form_of([SizeReading(12.004e-3, random_m=2 * UM)]), Limit(lower=0.01e-3))
    assert tight.outcome == "reject"


@pytest.mark.parametrize("size", [float("nan"), float("inf"), 0.0, -0.012])
def test_what_is_no_size_is_refused(size: float) -> None:
    with pytest.raises(MeasurementError, match="expected a size above 0"):
        form_of([SizeReading(size)])
    with pytest.raises(MeasurementError, match="found no reading"):
        form_of([])


def test_wear_is_shared_out_between_bush_and_journal_and_not_where_there_is_none() -> None:
    new = form_of([SizeReading(12.03e-3, random_m=UM)]), form_of([SizeReading(12.00e-3, random_m=UM)])
    assert worn(*new, 12.03e-3, 12.00e-3).bush_share is None
    old = form_of([SizeReading(12.06e-3, random_m=UM)]), form_of([SizeReading(11.94e-3, random_m=UM)])
    assert worn(*old, 12.03e-3, 12.00e-3).bush_share == pytest.approx(1 / 3)
