"""Which winding the readings speak for: right where they can tell, and honest where they cannot.

Readings come from the reference solution (`reference.dense`), which shares no code with the package, with
the noise of `reference.meter` and fixed seeds.
"""

from __future__ import annotations

import numpy as np
import pytest

from barwise.inspect.armature.connection import infer_connection, questions, same_circuit
from barwise.machine.candidates import fitting_windings
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from reference import armature as made
from reference import dense
from reference.meter import Meter

METER = Meter(bad_share=0.0)
RIGHT_ROUND, OTHER_ROUND = "progressive", "retrogressive"
SHORT = made.Fault("shorted-coil", 6, bridge_ratio=0.1)


def drops(of: made.Armature, feed: tuple[int, int]) -> list[Reading]:
    volts, _ = METER.read(dense.bar_drop(of, *feed, 10.0), np.random.default_rng(1), 1e-5)
    fed = Feed(*feed, 10.0)
    bars = of.winding.bars
    return [
        Reading("drop", n + 1, (n + 1) % bars + 1, float(v), resolution=1e-5, feed=fed)
        for n, v in enumerate(volts)
    ]


def induced(of: made.Armature) -> list[Reading]:
    volts, _ = METER.read(dense.induced(of), np.random.default_rng(2), 1e-4)
    bars = of.winding.bars
    return [
        Reading("induced", n + 1, (n + 1) % bars + 1, float(v), resolution=1e-4) for n, v in enumerate(volts)
    ]


def fits(bars: int, poles: int = 4) -> list[Winding]:
    return [fit.winding for fit in fitting_windings(bars, poles=poles, most_plex=1)]


def answers(windings: list[Winding], readings: list[Reading]) -> dict[str, tuple[str | int, float]]:
    return {q.about: q.answers[0] for q in questions(infer_connection(windings, readings))}


@pytest.mark.parametrize("progression", [RIGHT_ROUND, OTHER_ROUND])
@pytest.mark.parametrize("kind", ["lap", "wave"])
def test_drop_readings_tell_lap_from_wave_and_admit_they_cannot_tell_which_way_round(
    kind: str, progression: str
) -> None:
    of = made.Armature(made.Winding(kind, 4, 31, progression=progression))
    said = answers(fits(31), drops(of, (1, 9)))
    assert said["kind"][0] == kind
    assert said["kind"][1] > 0.99
    assert said["progression"][1] == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize("kind", ["lap", "wave"])
def test_equal_induced_readings_tell_nothing_of_the_winding(kind: str) -> None:
    of = made.Armature(made.Winding(kind, 4, 31))
    found = infer_connection(fits(31), induced(of))
    assert [c.probability for c in found] == pytest.approx([0.25] * 4, abs=0.01)
    assert all(len(c.alike) == 3 for c in found)


@pytest.mark.parametrize("kind", ["lap", "wave"])
def test_a_short_betrays_the_winding_on_the_exciter(kind: str) -> None:
    of = made.Armature(made.Winding(kind, 4, 31), (SHORT,))
    said = answers(fits(31), induced(of))
    assert said["kind"][0] == kind
    assert said["kind"][1] > 0.99


def test_a_winding_whose_bars_the_readings_cross_is_ruled_out_without_fuss() -> None:
    of = made.Armature(made.Winding("lap", 4, 32))
    duplex = Winding("lap", 4, 32, plex=2)
    found = infer_connection([duplex, Winding("lap", 4, 32)], drops(of, (1, 17)))
    assert [c.winding.plex for c in found] == [1, 2]
    assert found[1].probability == 0.0
    nowhere = infer_connection([duplex, Winding("lap", 4, 32, 1, OTHER_ROUND, None, 2)], drops(of, (1, 17)))
    assert [(c.probability, c.alike) for c in nowhere] == [(0.0, ()), (0.0, ())]


def test_two_ways_round_are_the_same_circuit_where_the_coils_join_the_same_bars() -> None:
    lap = [Winding("lap", 4, 32, progression=way) for way in ("progressive", "retrogressive")]
    assert same_circuit(*lap)
    wave = [Winding("wave", 4, 57, progression=way) for way in ("progressive", "retrogressive")]
    assert same_circuit(*wave)
    assert not same_circuit(lap[0], Winding("lap", 4, 32, plex=2))


def test_only_what_differs_between_the_windings_is_asked() -> None:
    of = made.Armature(made.Winding("lap", 4, 32))
    asked = questions(infer_connection(fits(32), induced(of)))
    assert [question.about for question in asked] == ["progression"]
    assert not asked[0].settled
