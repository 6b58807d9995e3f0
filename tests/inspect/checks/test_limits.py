"""A number against its limit: the worst place decides, the better instrument counts, doubt is said.

Accept, reject, undecided: ISO 14253-1 and JCGM 106 as `barwise.measure.decision` has them (from memory).
"""

from __future__ import annotations

import pytest

from barwise.errors import MeasurementError
from barwise.inspect.checks import Evidence, Limit, Taken
from barwise.inspect.checks.limits import dimension, wear
from barwise.measure import decision
from barwise.measure.instrument import Instrument
from barwise.measure.wear import WearPoint, WearScale

INCH = 0.0254
DISCARD = Limit("commutator-diameter", decision.Limit(lower=1.6470 * INCH), "in", "its sheet")
MICROMETER = Instrument("micrometer", 1e-9, calibration_standard_uncertainty_m=0.00015 * INCH)


def inches(text: str, *place: str, tool: Instrument | None = MICROMETER) -> Taken:
    return Taken(float(text) * INCH, text, "in", place, instrument=tool)


def evidence(*readings: Taken, limit: Limit | None = DISCARD, **more: object) -> Evidence:
    return Evidence(readings, limit, what="Diameter", quantity="length", unit="in", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "said"), [("1.6475", "accept"), ("1.6472", "undecided"), ("1.6466", "reject")]
)
def test_a_diameter_is_accepted_undecided_or_rejected_by_its_uncertainty(text: str, said: str) -> None:
    """Limit 1.6470 in: TM 5-6115-545-34 table 1-2. U = 0.0003 in at k = 2; worked out after ISO 14253-1."""
    assert dimension(evidence(inches(text))).decision == said


def test_the_chance_of_an_undecided_one_is_that_of_the_normal_distribution() -> None:
    """Derived: Phi(0.0002 / 0.00015) = 0.90879."""
    found = dimension(evidence(inches("1.6472")))
    assert found.probability == pytest.approx(0.90879, abs=2e-4)
    assert "chance that it is within: 90.9 %" in found.line


def test_undecided_says_what_would_settle_it() -> None:
    shaky = Instrument("shaky", 1e-9, repeatability_m=0.0004 * INCH)
    found = dimension(evidence(inches("1.6473", tool=shaky)))
    assert found.decision == "undecided"
    assert found.details["settled_by_repeats"] == 5
    assert found.settle.startswith("To settle it: 5 readings in all with this instrument, or an instrument")
    five = [inches("1.6473", tool=shaky)] * 5
    assert dimension(evidence(*five)).decision == "accept"


def test_repeats_are_averaged_and_their_spread_counts() -> None:
    plain = [inches(text, tool=None) for text in ("1.6471", "1.6475", "1.6479")]
    found = dimension(evidence(*plain))
    assert found.value == pytest.approx(1.6475 * INCH)
    # s = 0.0004 in, over the root of three, with the step of the scale: JCGM 100:2008, 4.2.3 (from memory).
    assert found.uncertainty == pytest.approx(((0.0004**2) / 3 + 0.0001**2 / 12) ** 0.5 * INCH)


def test_a_part_measured_again_with_a_better_instrument_is_judged_by_that_one() -> None:
    caliper = Instrument("caliper", 0.001 * INCH, calibration_standard_uncertainty_m=0.001 * INCH)
    found = dimension(evidence(inches("1.649", tool=caliper), inches("1.6466")))
    assert found.decision == "reject"
    assert found.value == pytest.approx(1.6466 * INCH)


def test_without_an_instrument_the_last_digit_is_its_step_and_that_is_said() -> None:
    found = dimension(evidence(inches("1.6480", tool=None)))
    assert found.uncertainty == pytest.approx(0.0001 * INCH / 12**0.5)
    assert found.details["only_last_digit"] is True
    assert dimension(evidence(inches("1.6480"))).details["only_last_digit"] is False


def test_the_worst_of_several_places_decides() -> None:
    found = dimension(evidence(inches("1.66", "1"), inches("1.6472", "2"), inches("1.65", "3")))
    assert found.decision == "undecided"
    assert found.line.startswith("Diameter 2 (worst of 3): 1.6472 in")
    assert [one["decision"] for one in found.details["places"]] == ["undecided", "accept", "accept"]


def test_a_place_not_read_keeps_the_rest_from_being_accepted_but_not_from_being_rejected() -> None:
    good, bad = inches("1.66", "1"), inches("1.60", "1")
    missing = dimension(evidence(good, places=("1", "2")))
    assert (missing.decision, missing.settle) == ("undecided", "Read 2.")
    assert dimension(evidence(bad, places=("1", "2"))).decision == "reject"
    assert dimension(evidence(good, inches("1.66", "2"), places=("1", "2"))).decision == "accept"


def test_a_number_without_a_limit_is_undecided_and_asks_for_the_limit() -> None:
    found = dimension(evidence(inches("1.66"), limit=None))
    assert found.decision == "undecided"
    assert found.settle == "Put a limit with its source into the model sheet."


def test_a_general_limit_is_called_that_with_its_source() -> None:
    general = Limit("x", DISCARD.allowed, "in", "published: typical, one machine", general=True)
    found = dimension(evidence(inches("1.66"), limit=general))
    assert found.line.endswith("The limit is a general one, published: typical, one machine.")
    assert found.details["general"] is True


def test_a_limit_of_two_sides_is_kept_on_both() -> None:
    both = Limit("end-play", decision.Limit(0.005 * INCH, 0.030 * INCH), "in", "its sheet")
    said = [dimension(evidence(inches(text), limit=both)).decision for text in ("0.0010", "0.0150", "0.0400")]
    assert said == ["reject", "accept", "reject"]


def test_a_limit_in_millimetres_is_told_in_the_unit_of_the_reading_too() -> None:
    metric = Limit("runout", decision.Limit(upper=5e-5), "mm", "its sheet")
    found = dimension(evidence(inches("0.0010"), limit=metric))
    assert found.line == "Diameter: 0.0010 in, within its limit, 0.05 mm or less (0.001969 in)."


@pytest.mark.parametrize(
    ("new", "limit", "read", "percent"),
    [("1.680", "1.647", "1.660", 60.606), ("0.7500", "0.3750", "0.5000", 66.667)],
)
def test_wear_stands_beside_the_decision(new: str, limit: str, read: str, percent: float) -> None:
    """Sizes: TM 5-6115-545-34 table 1-2; percent worked out as (new - read) / (new - limit)."""
    scale = WearScale((WearPoint(0, float(new) * INCH), WearPoint(100, float(limit) * INCH)))
    bounds = Limit("x", decision.Limit(lower=float(limit) * INCH), "in", "its sheet", scale=scale)
    found = wear(evidence(inches(read), limit=bounds))
    assert found.details["worn_percent"] == pytest.approx(percent, abs=1e-3)
    assert f"{percent:.0f} % worn" in found.line


def test_wear_past_discard_is_rejected_and_not_clipped_at_100() -> None:
    scale = WearScale((WearPoint(0, 1.680 * INCH), WearPoint(100, 1.647 * INCH)))
    bounds = Limit("x", DISCARD.allowed, "in", "its sheet", scale=scale)
    found = wear(evidence(inches("1.6400"), limit=bounds))
    assert found.decision == "reject"
    assert found.details["worn_percent"] == pytest.approx(121.2, abs=0.1)
    assert found.details["extrapolated"]


def test_a_value_that_is_no_number_is_refused() -> None:
    with pytest.raises(MeasurementError):
        dimension(evidence(Taken(float("nan"), "nan", "in")))


def test_of_places_that_are_all_sure_to_be_within_the_nearest_to_its_limit_is_called_the_worst() -> None:
    shortest = inches("1.7000", "3")
    found = dimension(evidence(inches("1.8000", "1"), inches("1.9000", "2"), shortest))
    assert found.value == pytest.approx(1.7000 * INCH)
    assert found.line.startswith("Diameter 3 (worst of 3)")
