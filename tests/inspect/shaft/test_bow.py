"""Where the shaft is bent: made shafts, straight, kinked and bowed, on V-blocks and between centres.

The marginal likelihoods are checked against SciPy's multivariate normal.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from barwise.errors import MeasurementError
from barwise.inspect.shaft import bow as module
from barwise.inspect.shaft.bow import OWN_OFFSET_M, SEEN_BENDS_M, Station, against_journals, find_bow

UM = 1e-6
ENDS = (0.01, 0.17)
ON_BLOCKS = np.array([0.03, 0.06, 0.09, 0.12, 0.15])
ON_CENTRES = np.array([0.01, 0.03, 0.06, 0.09, 0.12, 0.15, 0.17])
DOUBT = 1.5 * UM


def kinked(z: np.ndarray, at: float) -> np.ndarray:
    return np.where(z < at, (z - ENDS[0]) / (at - ENDS[0]), (ENDS[1] - z) / (ENDS[1] - at))


def bowed(z: np.ndarray) -> np.ndarray:
    return -(z - ENDS[0]) * (z - ENDS[1]) / 0.08**2


def stations(z: np.ndarray, height: np.ndarray, off: float, high_deg: float, rng=None, line=(0j, 0j)):
    share = (z - ENDS[0]) / (ENDS[1] - ENDS[0])
    way = off * np.exp(1j * np.deg2rad(high_deg))
    whole = height * way + (1 - share) * line[0] + share * line[1]
    if rng is not None:
        whole = whole + rng.normal(0, np.hypot(DOUBT, OWN_OFFSET_M), (len(z), 2)) @ np.array([1, 1j])
    return [
        Station(float(at), np.array([one.real, one.imag]), DOUBT**2 * np.eye(2), f"{1e3 * at:.0f} mm")
        for at, one in zip(z, whole, strict=True)
    ]


def test_a_kink_is_placed_sized_and_pointed() -> None:
    found = find_bow(stations(ON_BLOCKS, kinked(ON_BLOCKS, 0.07), 60 * UM, 200), ENDS)
    assert found.shape == "kinked"
    assert found.place is not None
    assert found.place.best == pytest.approx(0.07, abs=0.003)
    assert found.place.low < 0.07 < found.place.high
    assert found.offset.value == pytest.approx(60 * UM, rel=0.03)
    assert found.high_deg == pytest.approx(200, abs=1)
    # Derived: the two pieces rise by 60 um over 60 mm and fall by it over 100 mm.
    assert found.angle_rad.value == pytest.approx(60e-6 / 0.06 + 60e-6 / 0.10, rel=0.05)


@pytest.mark.parametrize(("held", "z"), [("v-blocks", ON_BLOCKS), ("centres", ON_CENTRES)])
def test_the_interval_of_the_place_holds_it_as_often_as_it_says(held, z: np.ndarray) -> None:
    rng = np.random.default_rng(11)
    inside = []
    for _ in range(40):
        at, line = rng.uniform(0.03, 0.15), (0j, 0j)
        if held == "centres":
            line = tuple(rng.normal(0, 30 * UM, 2) + 1j * rng.normal(0, 30 * UM, 2))
        found = find_bow(stations(z, kinked(z, at), 50 * UM, rng.uniform(0, 360), rng, line), ENDS, held)
        assert found.place is not None
        inside.append(found.place.low <= at <= found.place.high)
    assert 0.85 <= np.mean(inside) <= 1.0


@pytest.mark.parametrize("held", ["v-blocks", "centres"])
def test_straight_kinked_and_bowed_are_told_apart(held) -> None:
    rng = np.random.default_rng(2)
    z = ON_BLOCKS if held == "v-blocks" else ON_CENTRES
    for shape, height in (("straight", 0 * z), ("kinked", kinked(z, 0.06)), ("bowed", bowed(z))):
        found = [find_bow(stations(z, height, 80 * UM, 70, rng), ENDS, held).shape for _ in range(6)]
        assert found.count(shape) >= 5, shape


def test_centres_that_are_out_are_no_bend() -> None:
    crooked = stations(ON_CENTRES, 0 * ON_CENTRES, 0, 0, line=(60e-6 + 0j, -40e-6j))
    assert find_bow(crooked, ENDS, "centres").shape == "straight"
    assert find_bow(crooked, ENDS, "v-blocks").shape != "straight"


def test_offsets_between_centres_become_those_on_the_journals_as_vectors() -> None:
    """Derived: a line of vectors is taken away; on V-blocks the same shaft reads the bend alone."""
    z = ON_CENTRES
    both = stations(z, kinked(z, 0.09), 50 * UM, 30, line=(25e-6j, 15e-6 - 9e-6j))
    found = against_journals(both, both[0], both[-1])
    alone = stations(z, kinked(z, 0.09), 50 * UM, 30)
    for one, other in zip(found, alone, strict=True):
        assert one.offset_m == pytest.approx(other.offset_m, abs=1e-12)
    assert np.trace(found[3].covariance_m2) > np.trace(both[3].covariance_m2)
    with pytest.raises(MeasurementError, match="two places"):
        against_journals(both, both[0], both[0])


def test_a_station_that_is_off_by_itself_is_named() -> None:
    shaft = stations(ON_BLOCKS, kinked(ON_BLOCKS, 0.06), 60 * UM, 0)
    shaft[3] = Station(
        shaft[3].at_m, shaft[3].offset_m + np.array([0, 60e-6]), shaft[3].covariance_m2, "commutator"
    )
    assert "commutator" in find_bow(shaft, ENDS).alone


def test_one_station_does_not_place_a_bend_and_says_so() -> None:
    found = find_bow(stations(ON_BLOCKS[2:3], kinked(ON_BLOCKS[2:3], 0.07), 60 * UM, 0), ENDS)
    assert found.place is None
    assert "One station" in found.notes[0]
    assert find_bow(stations(ON_BLOCKS[1:3], kinked(ON_BLOCKS[1:3], 0.07), 60 * UM, 0), ENDS).place


def test_the_likelihood_of_a_shape_is_that_of_a_normal_with_its_covariance() -> None:
    shaft = stations(ON_BLOCKS, kinked(ON_BLOCKS, 0.07), 60 * UM, 200, np.random.default_rng(1))
    fitted = module._Fitted(shaft, ENDS, "v-blocks", OWN_OFFSET_M)
    values = np.concatenate([one.offset_m for one in shaft])
    noise = (DOUBT**2 + OWN_OFFSET_M**2) * np.eye(10)
    shape = np.kron(bowed(ON_BLOCKS)[:, None], np.eye(2))
    with_bow = multivariate_normal(cov=noise + SEEN_BENDS_M**2 * shape @ shape.T).logpdf(values)
    straight = multivariate_normal(cov=noise).logpdf(values)
    ours = fitted.fit(module._arc(ENDS)).evidence - fitted.fit(None).evidence
    assert ours == pytest.approx(with_bow - straight, rel=1e-6)
    many = [module._kink(place, ENDS, ENDS) for place in (0.04, 0.08)]
    assert fitted.evidence(many) == pytest.approx([fitted.fit(one).evidence for one in many])


@pytest.mark.parametrize(
    ("some", "journals", "said"),
    [([], ENDS, "found no station"), (ON_BLOCKS, (0.05, 0.05), "two places"),
     (ON_BLOCKS, (float("nan"), 0.1), "two places"), (np.array([np.inf]), ENDS, "finite")],
)  # fmt: skip
def test_what_is_no_shaft_is_refused(some, journals, said: str) -> None:
    made = [Station(float(at), np.zeros(2), np.eye(2), "") for at in some]
    with pytest.raises(MeasurementError, match=said):
        find_bow(made, journals)
