"""The oracle predicts what `reference.dense` solves outright, and weighs readings by the maker's own law."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from benchmarks.counting import outcome
from benchmarks.made_set import ALL_TESTS
from benchmarks.oracle import Known, Oracle, Series, drifts_of, log_probability
from reference import dense
from reference.armature import KINDS, Fault
from reference.makers import FEED_AMPS, WINDINGS, Bench, Mix, armature_of, draw_armature, make_case
from reference.meter import Meter

FEED = (1, 9)


def possible(kind: str, number: int) -> bool:
    winding = WINDINGS[number]
    return (kind != "turn-short" or winding.turns > 1) and (kind != "bar-bridge" or winding.kind == "wave")


@pytest.mark.parametrize("number", [0, 2, 4])
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "grounded-coil"])
def test_an_edit_of_the_healthy_armature_reads_what_the_faulty_one_solved_outright_reads(
    kind: str, number: int
) -> None:
    if not possible(kind, number):
        kind = "shorted-coil"
    healthy = draw_armature(WINDINGS[number], np.random.default_rng(number), Mix(sound_share=1.0))
    known = Known.of(healthy, [FEED])
    for faults in (
        [Fault(kind, 5, bridge_ratio=0.1)],
        [Fault(kind, 5, bridge_ratio=0.1), Fault("reversed-coil", 9)],
    ):
        outright = replace(healthy, faults=tuple(faults))
        ports, inverse = known.edits([faults])
        volts = known.to_bar[0].readings(ports, inverse)[0]
        drop = dense.bar_drop(outright, *FEED, FEED_AMPS)
        np.testing.assert_allclose(volts - np.roll(volts, -1), drop, rtol=0, atol=1e-8 * np.abs(drop).max())
        induced = dense.induced(outright)
        found = np.abs(known.exciter.readings(ports, inverse))[0]
        np.testing.assert_allclose(found, induced, rtol=0, atol=1e-8 * induced.max())


def test_the_probabilities_of_all_that_a_meter_may_show_add_up_to_one() -> None:
    shown = np.arange(-20, 500) * 1e-5
    for volts in (3.59e-3, -3.59e-3, 2e-5):
        turned = np.sign(volts) * shown
        series = Series("drop", 0, np.arange(len(shown)), turned, np.ones(len(shown)), 1e-5)
        total = np.exp(log_probability(series, np.full((1, len(shown)), volts))).sum()
        assert total == pytest.approx(1.0, abs=1e-6)


def test_the_share_of_readings_is_what_the_makers_meter_shows() -> None:
    # Bad touches of a reading of 1 V: even up to 0.9 V, one in fifty.
    rng, count = np.random.default_rng(8), 200_000
    shown, _ = Meter(drift=0.0).read(np.ones(count), rng, 1e-2)
    for value in (0.3, 0.99, 1.0):
        series = Series("drop", 0, np.zeros(1, dtype=np.intp), np.array([value]), np.ones(1), 1e-2)
        law = float(np.exp(log_probability(series, np.ones((1, 1)))).item())
        seen = float(np.mean(np.abs(shown - value) < 1e-9))
        assert seen == pytest.approx(law, abs=4 * np.sqrt(law / count))


def test_the_drift_behind_a_case_is_the_one_that_was_drawn() -> None:
    still = Bench(meter=Meter(gain_sd=0.0, bad_share=0.0))
    case = make_case(20, 5, Mix(sound_share=1.0, double_share=0.0), still)
    drop, induced = drifts_of(case, 20, Mix(sound_share=1.0, double_share=0.0))
    read = np.array([r["value"] for r in case["readings"] if r["test"] == "induced"])  # type: ignore[attr-defined]
    true = 1e3 * dense.induced(armature_of(case))
    expected = true * (1 + induced * np.arange(len(true)) / len(true))
    np.testing.assert_allclose(read, expected, atol=0.051)
    assert drop != induced


@pytest.mark.parametrize("number", [0, 1])
def test_the_oracle_finds_what_is_there_when_the_readings_are_plain(number: int) -> None:
    case = make_case(20, number, Mix(), Bench())
    assert outcome(case, Oracle(case, drifts_of(case, 20)).answer(ALL_TESTS)).right
