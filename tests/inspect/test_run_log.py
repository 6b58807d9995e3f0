"""A logged run: steady stretches, inrush, gaps, clipping, and the speed that the ripple gives or does not."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from barwise.errors import InputError, MeasurementError
from barwise.files.run_log import parse_log
from barwise.inspect.run_test.logged import Log, steps_per_turn, study_log

RPM = 2 * math.pi / 60


def made(
    rate: float = 10_000.0, seconds: float = 4.0, rpm: float = 4200.0, order: int = 57, ripple: float = 1.5
) -> Log:
    """Off for half a second, then 670 A falling to 70 A with a time constant of 0.12 s, and noise."""
    random = np.random.default_rng(4)
    time = np.arange(int(rate * 4.0)) / rate
    on = time > 0.5
    since = np.maximum(time - 0.5, 0.0)
    turns = np.cumsum(rpm / 60 * (1 - np.exp(-since / 0.15))) / rate
    current = 70 + 600 * np.exp(-since / 0.12) + ripple * np.sin(2 * np.pi * order * turns)
    current = np.where(on, current, 0.0) + random.normal(0, 0.8, len(time))
    return Log(time, 12.6 - 0.02 * current, current)


def test_one_run_is_one_steady_stretch_with_its_means() -> None:
    (stretch,) = study_log(made()).stretches
    assert stretch.current_a == pytest.approx(70.0, rel=0.01)
    assert stretch.volts_v == pytest.approx(12.6 - 0.02 * 70, rel=0.002)
    assert stretch.start_s > 0.7
    assert stretch.end_s > 3.8


def test_the_inrush_and_its_fall_are_found() -> None:
    found = study_log(made())
    assert found.inrush_a == pytest.approx(670.0, rel=0.02)
    assert found.inrush_s == pytest.approx(0.12, rel=0.1)


def test_the_ripple_of_alike_brushes_or_not_may_mean_two_speeds_and_a_logged_one_decides() -> None:
    log = made()
    (stretch,) = study_log(log, bars=57, poles=4).stretches
    speeds = [one / RPM for one in stretch.ripple.speeds_rad_s]
    assert speeds == pytest.approx([4200 / 4, 4200], rel=0.003)
    logged = replace(log, speed_rad_s=np.full(len(log.time_s), 4180 * RPM))
    (known,) = study_log(logged, bars=57, poles=4).stretches
    assert known.ripple.speeds_rad_s[0] / RPM == pytest.approx(4200, rel=0.003)


def test_an_even_number_of_bars_gives_one_speed() -> None:
    (stretch,) = study_log(made(order=36), bars=36, poles=4).stretches
    assert [one / RPM for one in stretch.ripple.speeds_rad_s] == pytest.approx([4200], rel=0.003)


def test_steps_per_turn_count_as_the_brushes_stand() -> None:
    """Derived: two brushes half a turn apart step together over even bars, in turn over odd ones."""
    assert (steps_per_turn(24, 2), steps_per_turn(25, 2), steps_per_turn(57, 4)) == (24, 50, 228)


def test_a_ripple_in_the_noise_gives_no_speed_and_says_so() -> None:
    (stretch,) = study_log(made(ripple=0.0), bars=57, poles=4).stretches
    assert stretch.ripple.speeds_rad_s == ()
    assert "noise" in stretch.ripple.why


def test_bars_that_pass_faster_than_half_the_samples_give_no_speed() -> None:
    log = made(rate=5000.0, rpm=4200.0)
    logged = replace(log, speed_rad_s=np.full(len(log.time_s), 4200 * RPM))
    (stretch,) = study_log(logged, bars=57, poles=4).stretches
    assert stretch.ripple.speeds_rad_s == ()
    assert "half of 5000 samples" in stretch.ripple.why


def test_the_fastest_speed_that_the_rate_can_show_is_said_where_none_was_logged() -> None:
    """Nyquist: 57 bars at 5263 rpm pass 5000 times a second, half of 10 000 samples (derived)."""
    (stretch,) = study_log(made(), bars=57, poles=4).stretches
    assert "no more than 5263 rpm can show" in stretch.ripple.why
    (coarse,) = study_log(made(rate=1000.0, ripple=0.0), bars=57, poles=4).stretches
    assert "no more than 526 rpm can show" in coarse.ripple.why


def test_a_gap_is_noticed_and_no_stretch_runs_across_it() -> None:
    log = made()
    kept = (log.time_s < 2.0) | (log.time_s > 2.6)
    found = study_log(Log(log.time_s[kept], log.volts_v[kept], log.current_a[kept]))
    assert found.gaps == ((pytest.approx(2.0, abs=1e-3), pytest.approx(0.6, abs=1e-3)),)
    assert len(found.stretches) == 2
    assert "gap" in found.notes[0]


def test_a_current_cut_off_at_the_end_of_the_range_is_noticed() -> None:
    log = made()
    found = study_log(replace(log, current_a=np.minimum(log.current_a, 400.0)))
    assert found.clipped_s > 0.03
    assert any("range ends" in note for note in found.notes)


def test_a_shunt_the_wrong_way_round_is_turned() -> None:
    log = made()
    found = study_log(replace(log, current_a=-log.current_a))
    assert found.stretches[0].current_a == pytest.approx(70.0, rel=0.01)
    assert any("wrong way round" in note for note in found.notes)


def test_time_that_stands_still_is_refused() -> None:
    log = made()
    with pytest.raises(MeasurementError, match="expected time rising"):
        study_log(replace(log, time_s=np.zeros(len(log.time_s))))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("volts,amps\n1,2\n", "the header time,volts,amps"),
        ("time,volts,amps\n0,12,abc\n", "line 2, column amps"),
        ("time,volts,amps\n0,12,70\n0.1,12\n", "line 3: found 2 cells"),
        ("time,volts,amps\n0,12,70\n", "20 rows or more"),
        ("time,volts,amps\n" + "".join(f"{one % 20},12,70\n" for one in range(40)), "column time"),
    ],
)
def test_a_log_that_cannot_be_read_is_refused_with_its_place(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse_log(text)


def test_a_log_reads_to_si() -> None:
    rows = "".join(f"{one / 10},12.1,70,4200\n" for one in range(30))
    log = parse_log("time,volts,amps,rpm\n" + rows)
    assert log.speed_rad_s is not None
    assert log.speed_rad_s[0] == pytest.approx(4200 * RPM)
    assert log.current_a[-1] == 70.0
