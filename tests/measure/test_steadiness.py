"""When a meter's reading has settled. The rule is common practice, no source; the sequences are made."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import studentized_range

from barwise.errors import MeasurementError
from barwise.measure.steadiness import Sample, Steadiness, Touch, heard

MV = 1e-3
RULE = Steadiness(readings=4, for_s=0.5, digit=0.01 * MV, rest=0.05 * MV)
LIFTED = [0.0, 0.0]


def taken(values: list[float | None], rule: Steadiness = RULE, every_s: float = 0.2) -> list[float]:
    """What is taken of readings that come at a steady pace."""
    touch, found = Touch(), []
    for n, value in enumerate(values):
        touch, settled = heard(touch, Sample(n * every_s, value), rule)
        if settled is not None:
            assert settled.value is not None
            found.append(settled.value)
    return found


def at(value: float, times: int = 6) -> list[float | None]:
    return [value * MV] * times


def test_a_reading_that_stands_still_is_taken_once_however_long_the_probes_rest() -> None:
    assert taken([*LIFTED, *at(3.59, 60)]) == [3.59 * MV]


def test_the_same_value_on_the_next_bar_is_taken_again_once_the_probes_were_lifted_between() -> None:
    assert taken([*LIFTED, *at(3.59), 0.0, *at(3.59), None, *at(3.59)]) == [3.59 * MV] * 3


def test_without_lifting_a_slow_drift_is_never_a_second_reading() -> None:
    warming = [(3.59 + 0.004 * n) * MV for n in range(200)]  # to 4.39 mV while the probes rest
    assert taken([*LIFTED, *warming]) == pytest.approx([3.60 * MV], abs=0.011 * MV)


def test_a_jump_to_a_value_of_another_size_is_a_new_touch_though_nobody_saw_the_lifting() -> None:
    assert taken([*LIFTED, *at(3.59), *at(7.18)]) == [3.59 * MV, 7.18 * MV]


def test_what_lies_between_the_leads_when_it_begins_is_not_taken() -> None:
    assert taken(at(3.59, 40)) == []
    assert taken([*at(3.59, 10), 0.0, *at(3.59)]) == [3.59 * MV]


def test_leads_in_the_air_that_read_nothing_are_never_taken() -> None:
    assert taken([*LIFTED, *at(3.59), *at(0.02, 30), *at(-0.03, 30)]) == [3.59 * MV]


def test_a_reading_that_climbs_or_jitters_is_not_taken_before_it_stands() -> None:
    climbing = [n * 0.2 * MV for n in range(1, 18)]
    jitter = [(3.5 + (0.3 if n % 2 else 0.0)) * MV for n in range(20)]
    assert taken([*LIFTED, *climbing, *jitter]) == []
    assert taken([*LIFTED, *climbing, *at(3.59)]) == [3.59 * MV]


def test_neither_few_readings_nor_a_short_time_are_enough() -> None:
    assert taken([None, *at(3.59, 3)], every_s=1.0) == []  # long enough, too few
    assert taken([None, *at(3.59, 20)], every_s=0.02) == []  # many, within 0.38 s
    assert taken([None, *at(3.59, 40)], every_s=0.02) == [3.59 * MV]


def test_what_is_taken_is_a_reading_the_meter_gave_and_the_middle_one() -> None:
    assert taken([None, 3.58 * MV, 3.60 * MV, 3.59 * MV, 3.60 * MV]) == [3.59 * MV]


def test_a_meter_that_says_open_between_the_bars_needs_no_rest_level() -> None:
    rule = Steadiness(digit=1e-4)
    assert taken([None, *[0.0123] * 5, None, *[0.0124] * 5], rule) == [0.0123, 0.0124]


@pytest.mark.parametrize(
    "wrong",
    [{"readings": 1}, {"readings": 65}, {"for_s": -1.0}, {"share": math.nan}, {"rest": math.inf}],
)
def test_figures_that_cannot_be_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(MeasurementError, match="steadiness: found"):
        Steadiness(**wrong)  # type: ignore[arg-type]


@given(st.lists(st.one_of(st.none(), st.floats(-0.01, 0.01)), max_size=80))
def test_between_two_readings_taken_the_meter_always_left_the_first(values: list[float | None]) -> None:
    touch, taken_at = Touch(), []
    for n, value in enumerate(values):
        touch, settled = heard(touch, Sample(0.2 * n, value), RULE)
        if settled is not None:
            taken_at.append((n, settled.value))
    for (first, value), (second, _) in pairwise(taken_at):
        between = values[first + 1 : second + 1]
        assert any(RULE.is_lifted(one) or RULE.has_left(one, value) for one in between)


def test_how_often_steady_noise_is_taken_at_once_is_the_range_of_normal_readings() -> None:
    """Of n readings with normal noise of standard deviation s the range is at most w as often as the
    studentized range with a known spread says (H. A. David and H. N. Nagaraja, Order Statistics, 3rd ed.
    2003, section 7.3, from memory); SciPy's `studentized_range` is the reference. 4000 touches; the
    tolerance is four standard deviations of the share.
    """
    rng = np.random.default_rng(6)
    n, spread, width, touches = 4, 1.0, 2.5, 4000
    rule = Steadiness(readings=n, for_s=0.5, digits=width, digit=spread, share=0.0)
    at_once = 0
    for _ in range(touches):
        noise = 1000.0 + rng.normal(0.0, spread, n)
        at_once += bool(taken([None, *noise.tolist()], rule))
    expected = float(studentized_range.cdf(width / spread, n, np.inf))
    assert at_once / touches == pytest.approx(
        expected, abs=4 * math.sqrt(expected * (1 - expected) / touches)
    )


def test_what_is_taken_of_noise_is_the_true_value_with_less_spread_than_one_reading() -> None:
    """The middle one of readings that agree is unbiased, by symmetry, and no wider than one reading."""
    rng = np.random.default_rng(7)
    rule = Steadiness(readings=4, for_s=0.5, digits=2.5, digit=1.0, share=0.0)
    found = np.array(
        [taken([None, *(1000.0 + rng.normal(0.0, 1.0, 40)).tolist()], rule)[0] for _ in range(2000)]
    )
    assert abs(found.mean() - 1000.0) < 0.35  # the lower one of the two middle ones, of four
    assert found.std() < 1.0
