"""Which winding of a switch is open, shorted or grounded, from any subset of readings, with probabilities.

Each explanation is a network of the two windings with something wrong in it; what is not known beforehand
(the healthy resistances within what the sheet allows, the temperature if nobody read it, how bad the fault
is) is summed over. The explanations are compared by how likely they make the readings.

Sources
-------
What goes wrong, and how often, is common practice, no source: `HOW_OFTEN`. D. MacKay, Information Theory,
Inference and Learning Algorithms, 2003, chapter 28 (from memory): comparing explanations by their marginal
likelihood. The points summed over: M. Roberts' additive recurrence on the plastic constants, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.inspect.switch.readings import UNKNOWN_C, WindingReading
from barwise.machine.copper import COPPER_C
from barwise.machine.switch_windings import (
    PATHS,
    Path,
    SwitchNetwork,
    current_a,
    grounded_pull_in,
    network_of,
)
from barwise.measure.distribution import many_quantiles
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]
WindingFault = Literal[
    "sound",
    "pull-in open",
    "hold-in open",
    "pull-in turns shorted",
    "hold-in turns shorted",
    "both windings shorted",
    "pull-in shorted across",
    "hold-in shorted to ground",
    "pull-in grounded",
    "pull-in joint",
    "hold-in joint",
    "common joint",
    "common lead open",
]

HOW_OFTEN: Mapping[WindingFault, float] = MappingProxyType(
    {
        "sound": 0.68,
        "pull-in open": 0.05,
        "hold-in open": 0.05,
        "pull-in turns shorted": 0.04,
        "hold-in turns shorted": 0.03,
        "both windings shorted": 0.02,
        "pull-in shorted across": 0.01,
        "hold-in shorted to ground": 0.01,
        "pull-in grounded": 0.02,
        "pull-in joint": 0.03,
        "hold-in joint": 0.03,
        "common joint": 0.02,
        "common lead open": 0.01,
    }
)
"""Share of the switches that come to the bench: common practice, no source."""

WORDS: Mapping[WindingFault, str] = MappingProxyType(
    {
        "sound": "both windings sound",
        "pull-in open": "pull-in winding open",
        "hold-in open": "hold-in winding open, or its ground",
        "pull-in turns shorted": "turns of the pull-in winding shorted",
        "hold-in turns shorted": "turns of the hold-in winding shorted",
        "both windings shorted": "turns of both windings shorted: burnt",
        "pull-in shorted across": "pull-in winding shorted across, S to M",
        "hold-in shorted to ground": "switch terminal shorted to the case",
        "pull-in grounded": "pull-in winding touching the case",
        "pull-in joint": "high resistance in the pull-in winding or its joint at M",
        "hold-in joint": "high resistance in the hold-in winding or its ground",
        "common joint": "high resistance in the common lead at S",
        "common lead open": "common lead at S open, or both windings",
    }
)

USUAL_OHM = {"pull-in": Estimate(0.3, 0.15), "hold-in": Estimate(1.5, 0.75)}
"""Healthy windings [ohm] of which the sheet says nothing, 12 and 24 V alike: so wide that only opens and dead
shorts stand out. Within: 0.16 to 0.20 and 1.45 to 1.65 (TM 9-4940-568-34, p. 5-157, 24 V), about 0.3 and 2.4
(TM 5-3895-382-24, 12 V)."""
USUAL_MOTOR = Estimate(0.02, 0.01)
"""A motor at rest [ohm]: common practice, no source."""

LEADS = 0.02
"""Relative standard uncertainty of any reading by leads, clips and the winding's warming: common practice."""
BAD_TOUCH = 0.01
"""Share of readings of which the clip did not touch well: common practice, no source."""

_POINTS = 1 << 15
_REACH = 2.0
_FAR_APART = 5.0
_DEAD_SHORT_OHM = (0.001, 0.05)
_JOINT = (0.1, 10.0)
"""A bad joint, times the winding it is in."""


@dataclass(frozen=True)
class Healthy:
    """What the windings should be at 20 °C [ohm], and the motor they may be read through."""

    pull_in: Estimate
    hold_in: Estimate
    motor: Estimate = USUAL_MOTOR


@dataclass(frozen=True)
class Explanation:
    """One thing that may be the matter.

    Attributes
    ----------
    fault : str
    probability : float
    words : str
        In plain words, with how bad where that can be told.
    severity : float or None
        Share of turns shorted; place of the ground, as share of the winding from S; or the joint [ohm].
    """

    fault: WindingFault
    probability: float
    words: str
    severity: float | None


@dataclass(frozen=True)
class WindingDiagnosis:
    """What the readings of the windings say.

    Attributes
    ----------
    explanations : tuple of Explanation
        The most probable first.
    sound : float
        Probability that both windings are sound.
    next_path : str or None
        The reading not yet taken that best tells the first two apart.
    expected : tuple
        For `next_path`, the current per volt [A/V] that each of those two would draw.
    """

    explanations: tuple[Explanation, ...]
    sound: float
    next_path: Path | None
    expected: tuple[float, ...]


@dataclass(frozen=True)
class _Draws:
    """States of what is not known beforehand, with the logarithm of their weight; arrays of one length."""

    pull_in: Array
    hold_in: Array
    motor: Array
    bad: Array
    bad_too: Array
    log_weight: Array


def diagnose_windings(
    readings: Sequence[WindingReading], healthy: Healthy, celsius: Estimate | None = None
) -> WindingDiagnosis:
    """Compare the explanations of any subset of readings, repeats allowed.

    Parameters
    ----------
    readings : sequence of WindingReading
        None at all leaves what is usual.
    healthy : Healthy
        From the sheet, or `USUAL_OHM`.
    celsius : Estimate or None
        Of the windings [degC]; None: nobody read it.

    Raises
    ------
    MeasurementError
        If the readings are so far from any winding that no explanation is likelier than another.
    """
    draws = _draws(healthy, UNKNOWN_C if celsius is None else celsius)
    networks = {fault: make(draws) for fault, make in _NETWORKS.items()}
    weights = {fault: _likelihoods(network, draws, readings) for fault, network in networks.items()}
    shares = {fault: HOW_OFTEN[fault] * float(weight.mean()) for fault, weight in weights.items()}
    total = sum(shares.values())
    if not total > 0:
        said = ", ".join(f"{one.volts.value:.3g} V and {one.amps.value:.3g} A" for one in readings)
        raise MeasurementError(
            f"windings: found {said}, which no winding gives, expected volts and amperes of one test: "
            "a digit or a unit is wrong"
        )
    found = sorted(
        (
            _explanation(fault, share / total, draws, weights[fault], healthy)
            for fault, share in shares.items()
        ),
        key=lambda one: -one.probability,
    )
    path, expected = _next(readings, [one.fault for one in found[:2]], networks, weights, draws)
    sound = next(one.probability for one in found if one.fault == "sound")
    settled = found[0].probability > 0.99
    return WindingDiagnosis(tuple(found), sound, None if settled else path, () if settled else expected)


def _draws(healthy: Healthy, celsius: Estimate) -> _Draws:
    """Points that fill the unknowns evenly, the same ones each time.

    The windings' own spread is drawn `_REACH` times too wide and weighted back, so that a winding far off
    its sheet is still met by many points.
    """
    even, normal = _points()
    warm = (COPPER_C + celsius.value + celsius.standard_uncertainty * normal[:, 0]) / (COPPER_C + 20.0)
    return _Draws(
        pull_in=_lognormal(healthy.pull_in, _REACH * normal[:, 1]) * warm,
        hold_in=_lognormal(healthy.hold_in, _REACH * normal[:, 2]) * warm,
        motor=_lognormal(healthy.motor, normal[:, 3]) * warm,
        bad=even[:, 4],
        bad_too=even[:, 5],
        log_weight=2 * math.log(_REACH) - (_REACH**2 - 1) / 2 * (normal[:, 1:3] ** 2).sum(axis=1),
    )


@lru_cache(maxsize=1)
def _points(dimensions: int = 6) -> tuple[Array, Array]:
    """Points of the unit cube, and the first four of their coordinates as normal deviations."""
    steps = _plastic(dimensions) ** -np.arange(1.0, dimensions + 1)
    even: Array = (0.5 + np.outer(np.arange(1, _POINTS + 1), steps)) % 1.0
    return even, many_quantiles(np.clip(even[:, :4], 1e-9, 1 - 1e-9))


def _plastic(dimensions: int) -> float:
    """Root of x^(d+1) = x + 1."""
    root = 2.0
    for _ in range(60):
        root = (1 + root) ** (1 / (dimensions + 1))
    return root


def _lognormal(about: Estimate, normal: Array) -> Array:
    spread = math.sqrt(math.log1p((about.standard_uncertainty / about.value) ** 2))
    return about.value * np.exp(spread * normal)


def _between(ends: tuple[float, float], even: Array) -> Array:
    """Evenly between the logarithms of the two ends."""
    return ends[0] * (ends[1] / ends[0]) ** even


def _left(even: Array) -> Array:
    """Resistance that is left of a winding with 5 to 90 % of its turns shorted."""
    return 1 - (0.05 + 0.85 * even)


_NOWHERE = math.inf
_NETWORKS: Mapping[WindingFault, Callable[[_Draws], SwitchNetwork]] = MappingProxyType(
    {
        "sound": lambda d: network_of(d.pull_in, d.hold_in),
        "pull-in open": lambda d: network_of(np.full_like(d.bad, _NOWHERE), d.hold_in),
        "hold-in open": lambda d: network_of(d.pull_in, np.full_like(d.bad, _NOWHERE)),
        "pull-in turns shorted": lambda d: network_of(d.pull_in * _left(d.bad), d.hold_in),
        "hold-in turns shorted": lambda d: network_of(d.pull_in, d.hold_in * _left(d.bad)),
        "both windings shorted": lambda d: network_of(d.pull_in * _left(d.bad), d.hold_in * _left(d.bad_too)),
        "pull-in shorted across": lambda d: network_of(_between(_DEAD_SHORT_OHM, d.bad), d.hold_in),
        "hold-in shorted to ground": lambda d: network_of(d.pull_in, _between(_DEAD_SHORT_OHM, d.bad)),
        "pull-in grounded": lambda d: grounded_pull_in(d.pull_in, d.hold_in, 0.02 + 0.96 * d.bad),
        "pull-in joint": lambda d: network_of(d.pull_in * (1 + _between(_JOINT, d.bad)), d.hold_in),
        "hold-in joint": lambda d: network_of(d.pull_in, d.hold_in * (1 + _between(_JOINT, d.bad))),
        "common joint": lambda d: network_of(d.pull_in, d.hold_in, d.pull_in * _between(_JOINT, d.bad)),
        "common lead open": lambda d: network_of(
            np.full_like(d.bad, _NOWHERE), np.full_like(d.bad, _NOWHERE)
        ),
    }
)


def _likelihoods(network: SwitchNetwork, draws: _Draws, readings: Sequence[WindingReading]) -> Array:
    """Of all readings together times the draw's weight, for each draw."""
    logs = draws.log_weight.copy()
    for one in readings:
        volts, amps = one.volts, one.amps
        drawn = current_a(network, one.path, volts.value, draws.motor)
        spread = np.hypot(
            amps.standard_uncertainty, drawn * math.hypot(LEADS, volts.standard_uncertainty / volts.value)
        )
        good = np.exp(-0.5 * ((amps.value - drawn) / spread) ** 2) / (math.sqrt(2 * math.pi) * spread)
        # A clip that touches badly lets through anything from nothing to what the winding draws.
        below = (amps.value <= drawn) / np.maximum(drawn, spread)
        logs += np.log((1 - BAD_TOUCH) * good + BAD_TOUCH * below + 1e-300)
    return np.exp(logs)


def _explanation(
    fault: WindingFault, probability: float, draws: _Draws, weight: Array, healthy: Healthy
) -> Explanation:
    total = float(weight.sum())
    words = WORDS[fault]
    if total <= 0 or probability < 0.005:
        return Explanation(fault, probability, words, None)
    if fault in ("pull-in turns shorted", "hold-in turns shorted", "both windings shorted"):
        share = float(weight @ (1 - _left(draws.bad))) / total
        return Explanation(fault, probability, f"{words}, about {100 * share:.0f} % of them", share)
    if fault == "pull-in grounded":
        place = float(weight @ (0.02 + 0.96 * draws.bad)) / total
        return Explanation(fault, probability, f"{words}, {100 * place:.0f} % of its length from S", place)
    if fault in ("pull-in joint", "hold-in joint", "common joint"):
        own = healthy.hold_in.value if fault == "hold-in joint" else healthy.pull_in.value
        ohm = own * float(weight @ _between(_JOINT, draws.bad)) / total
        return Explanation(fault, probability, f"{words}, about {ohm:.2g} ohm too much", ohm)
    return Explanation(fault, probability, words, None)


def _next(
    readings: Sequence[WindingReading],
    first: Sequence[WindingFault],
    networks: Mapping[WindingFault, SwitchNetwork],
    weights: Mapping[WindingFault, Array],
    draws: _Draws,
) -> tuple[Path | None, tuple[float, ...]]:
    """The handiest path not read yet on which the first two explanations are far apart, or the furthest."""
    taken = {one.path for one in readings}
    best: tuple[float, Path | None, tuple[float, ...]] = (1.0, None, ())
    for path in PATHS:
        if path in taken or path == "S to ground through the motor":
            continue
        seen = [
            _mean_and_spread(current_a(networks[one], path, 1.0, draws.motor), weights[one]) for one in first
        ]
        (one, spread), (other, spread_too) = seen
        apart = abs(one - other) / max(math.hypot(spread, spread_too, LEADS * max(one, other)), 1e-9)
        if apart > best[0]:
            best = (apart, path, (one, other))
        if apart > _FAR_APART:
            break
    return best[1], best[2]


def _mean_and_spread(values: Array, weight: Array) -> tuple[float, float]:
    total = float(weight.sum())
    if total <= 0:
        return float(values.mean()), float(values.std())
    mean = float(weight @ values) / total
    return mean, math.sqrt(max(0.0, float(weight @ (values - mean) ** 2) / total))
