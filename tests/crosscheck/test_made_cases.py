"""Cases made for scoring: do they hold what their makers say.

Source: none outside; the stated shares and spreads of `reference.makers` and `reference.meter`,
within three standard errors of what a fair draw gives.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from reference import dense
from reference.armature import KINDS
from reference.makers import WINDINGS, Bench, Mix, armature_of, draw_faults, make_case
from reference.meter import Meter

EXACT = Meter(gain_sd=0.0, drift=0.0, bad_share=0.0, direct_step_v=1e-9, alternating_step_v=1e-9)


def test_sound_single_and_double_faults_come_in_the_stated_shares() -> None:
    rng, mix, count = np.random.default_rng(5), Mix(), 6000
    drawn = [draw_faults(WINDINGS[n % 6], rng, mix) for n in range(count)]
    share = Counter(len(faults) for faults in drawn)
    three = 3 * np.sqrt(0.25 / count)
    assert share[0] / count == pytest.approx(mix.sound_share, abs=three)
    assert share[2] / count == pytest.approx(mix.double_share, abs=three)


@pytest.mark.parametrize("winding", WINDINGS, ids=str)
def test_every_kind_a_winding_can_have_comes_equally_often(winding: object) -> None:
    rng, mix = np.random.default_rng(6), Mix(sound_share=0.0, double_share=0.0)
    kinds = Counter(draw_faults(winding, rng, mix)[0].kind for _ in range(3000))  # type: ignore[arg-type]
    possible = [k for k in KINDS if k in kinds]
    assert len(possible) >= 5
    for kind in possible:
        assert kinds[kind] / 3000 == pytest.approx(1 / len(possible), abs=3 * np.sqrt(0.2 / 3000))


def test_bridged_bars_are_only_made_on_a_wave_and_turn_shorts_only_where_there_are_turns() -> None:
    for number in range(200):
        case = make_case(2, number, Mix(sound_share=0.0), Bench())
        for fault in case["truth"]:  # type: ignore[attr-defined]
            winding = case["winding"]
            assert fault["kind"] != "bar-bridge" or winding["kind"] == "wave"  # type: ignore[index]
            if fault["kind"] == "turn-short":
                assert 1 <= fault["turns"] < winding["turns_per_coil"]  # type: ignore[index]


def test_the_armature_read_back_from_a_case_gives_the_same_readings() -> None:
    case = make_case(4, 3, Mix(sound_share=0.0), Bench(meter=EXACT))
    armature = armature_of(case)
    rows = [r for r in case["readings"] if r["test"] == "induced"]  # type: ignore[attr-defined]
    exact = dense.induced(armature) * 1e3
    np.testing.assert_allclose([r["value"] for r in rows], exact, atol=0.051)


def test_a_grounded_armature_gets_shaft_drops_under_two_feeds() -> None:
    number = next(n for n in range(200) if armature_of(make_case(4, n, Mix(), Bench())).grounded)
    case = make_case(4, number, Mix(), Bench())
    rows = [r for r in case["readings"] if r["test"] == "shaft-drop"]  # type: ignore[attr-defined]
    assert len({(r["feed_a"], r["feed_b"]) for r in rows}) == 2
    assert len(rows) == 2 * case["winding"]["bars"]  # type: ignore[index]


def test_the_meter_scatters_drifts_and_slips_as_stated() -> None:
    rng, meter = np.random.default_rng(7), Meter()
    shown, bad = zip(*(meter.read(np.ones(50), rng, 1e-9) for _ in range(400)), strict=True)
    values, touches = np.array(shown), np.array(bad)
    assert touches.mean() == pytest.approx(0.02, abs=3 * np.sqrt(0.02 / touches.size))
    assert values[touches].max() < 0.95
    rows = np.arange(50)
    slopes, left = [], []
    for row, touch in zip(values, touches, strict=True):
        good = ~touch
        line = np.polyfit(rows[good], row[good], 1)
        slopes.append(line[0] * 50)
        left.append(row[good] - np.polyval(line, rows[good]))
    assert np.concatenate(left).std() == pytest.approx(0.004, rel=0.05)
    # Even from -1.2 % to 1.2 %: standard deviation 0.012 / sqrt(3), and each fit's own error.
    assert np.std(slopes) == pytest.approx(np.hypot(0.012 / np.sqrt(3), 0.0020), rel=0.1)


def test_the_meter_shows_whole_steps() -> None:
    shown, _ = Meter().read(np.full(40, 0.01234), np.random.default_rng(1), 1e-4)
    np.testing.assert_allclose(shown * 1e4, np.round(shown * 1e4), atol=1e-9)
