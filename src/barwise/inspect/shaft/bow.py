"""Where is the shaft bent, by how much, and which way: from the run-out at several stations along it.

A shaft that was bent in one place is two straight pieces with a kink between them; one that sagged or was
overloaded between its bushes is a smooth bow; one that is straight runs true everywhere. Each station gives
its offset as a vector, distance and direction, so a kink and a place that is merely not true to its journals
(a commutator turned on bad centres) are told apart: a bend points one way all along.

Between centres the shaft turns about the centre holes, and holes that are out look like a bend: the offsets
then hold a straight line of their own, which is taken away as a line of vectors, never as a difference of
swings.

Sources
-------
The model is our own: a piecewise-linear bow with a normal prior for its size, places of the kink equally
likely before; marginal likelihood of linear models with normal priors as in any text on Bayesian regression
(from memory). `SEEN_BENDS_M` and `OWN_OFFSET_M` are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate

Array = NDArray[np.float64]
Held = Literal["v-blocks", "centres"]
Shape = Literal["straight", "kinked", "bowed"]

SEEN_BENDS_M = 0.15e-3
"""Spread of how far off a bent shaft is at its worst place."""

OWN_OFFSET_M = 4e-6
"""Standard deviation of how far a good shaft's turned places are off its journals by themselves."""

_LINE_M = 1e-3
"""Spread of how far off the centre holes may be: wide, so that the readings decide."""

_PLACES = 121
_STANDS_OUT = 3.0
FEWEST_STATIONS = 2
"""Off the journals, to say where a bend is; between centres the two journals besides."""


@dataclass(frozen=True)
class Station:
    """One place along the shaft.

    Parameters
    ----------
    at_m : float
        From any fixed end [m].
    offset_m : ndarray, shape (2,)
        Off the axis the shaft turns on: towards the mark and a quarter turn on [m].
    covariance_m2 : ndarray, shape (2, 2)
    name : str
    """

    at_m: float
    offset_m: Array
    covariance_m2: Array
    name: str = ""


@dataclass(frozen=True)
class Interval:
    """Most likely value, and the interval that holds it with 95 % probability [m]."""

    best: float
    low: float
    high: float


@dataclass(frozen=True)
class Bow:
    """What shape the shaft has, seen against its two journals.

    Attributes
    ----------
    shapes : mapping as tuple of (Shape, float)
        Probability of each, the likeliest first.
    place : Interval or None
        Where it is kinked [m]; None where there are too few stations to say.
    offset : Estimate
        How far it is off at its worst place between the journals, or at its far end [m]; a dial would swing
        by twice as much.
    high_deg : float
        Which way it is off, from the mark.
    angle_rad : Estimate
        Angle between the two straight pieces of a kink.
    line : ndarray, shape (n, 3)
        Places along the shaft and the two parts of the fitted offset there, for drawing [m].
    alone : tuple of str
        Stations that run out by themselves and do not fit the rest.
    notes : tuple of str
    """

    shapes: tuple[tuple[Shape, float], ...]
    place: Interval | None
    offset: Estimate
    high_deg: float
    angle_rad: Estimate
    line: Array
    alone: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def shape(self) -> Shape:
        """The likeliest shape."""
        return self.shapes[0][0]


def find_bow(
    stations: Sequence[Station],
    journals_m: tuple[float, float],
    held: Held = "v-blocks",
    own_offset_m: float = OWN_OFFSET_M,
) -> Bow:
    """Shape of the shaft from its stations.

    Parameters
    ----------
    stations : sequence of Station
        One or more; two or more off the V-blocks to say where, four or more between centres.
    journals_m : tuple of float
        Where the two journals are, on V-blocks also where it was held [m].
    held : str
        ``v-blocks``: it turned on its journals. ``centres``: on its centre holes.
    own_offset_m : float
        Standard deviation of how far a place may be off by itself [m].

    Raises
    ------
    MeasurementError
        If there is no station, the journals are one place, or a figure is no number.
    """
    _check(stations, journals_m, own_offset_m)
    ends = sorted(journals_m)
    spread = [one.at_m for one in stations]
    fitted = _Fitted(stations, (ends[0], ends[1]), held, own_offset_m)
    low, high = min(ends[0], *spread), max(ends[1], *spread)
    # A kink closer to the shaft's end than any station or journal moves nothing that was read.
    places = np.linspace(low, high, _PLACES)[1:-1]
    hinges = [_kink(float(place), fitted.ends, (low, high)) for place in places]
    evidence = fitted.evidence(hinges)
    straight, bowed = fitted.fit(None), fitted.fit(_arc(fitted.ends))
    weights = np.exp(evidence - evidence.max())
    kinked = float(evidence.max() + math.log(weights.mean()))
    kink = fitted.fit(hinges[int(evidence.argmax())])
    shapes = _probabilities({"straight": straight.evidence, "kinked": kinked, "bowed": bowed.evidence})
    off = _off_the_journals(stations, fitted.ends)
    enough = off >= FEWEST_STATIONS and (held == "v-blocks" or len(stations) >= FEWEST_STATIONS + 2)
    drawn = bowed if shapes[0][0] == "bowed" else kink
    return Bow(
        shapes=shapes,
        place=_interval(places, weights) if enough else None,
        offset=_size(drawn),
        high_deg=math.degrees(math.atan2(drawn.amplitude[1], drawn.amplitude[0])) % 360,
        angle_rad=_angle(kink),
        line=_line(drawn, low, high),
        alone=fitted.alone(straight if shapes[0][0] == "straight" else drawn) if enough else (),
        notes=_notes(off, held),
    )


def against_journals(stations: Sequence[Station], first: Station, second: Station) -> tuple[Station, ...]:
    """Offsets read between centres, as V-blocks under the two journals would have shown them.

    Parameters
    ----------
    stations : sequence of Station
    first, second : Station
        The journals, read in the same set-up and from the same mark.

    Raises
    ------
    MeasurementError
        If the journals are one place.

    Notes
    -----
    The journals' own offsets make a straight line, and each station's offset is taken from it as a vector:
    swings do not subtract. A centre that is out by e at one journal puts e (1 - s) on a place that stands at
    the share s of the way to the other.

    Examples
    --------
    >>> def station(at, x): return Station(at, np.array([x, 0.0]), np.zeros((2, 2)))
    >>> crooked = station(0.0, 20e-6), station(0.1, 0.0)
    >>> [round(float(one.offset_m[0]) * 1e6, 3) for one in against_journals([station(0.05, 10e-6)], *crooked)]
    [0.0]
    """
    span = second.at_m - first.at_m
    if abs(span) < 1e-6:
        raise MeasurementError("journals: found both at one place, expected two places")
    found = []
    for one in stations:
        share = (one.at_m - first.at_m) / span
        line = (1 - share) * first.offset_m + share * second.offset_m
        own = np.zeros((2, 2)) if one is first or one is second else one.covariance_m2
        doubt = (1 - share) ** 2 * first.covariance_m2 + share**2 * second.covariance_m2
        covariance = own if one is first or one is second else own + doubt
        found.append(Station(one.at_m, one.offset_m - line, covariance, one.name))
    return tuple(found)


@dataclass(frozen=True)
class _Basis:
    """One way to be bent: its height along the shaft, 1 at its worst place."""

    kind: Literal["kink", "arc"]
    place: float
    ends: tuple[float, float]
    scale: float

    def at(self, z: Array) -> Array:
        """Height at each place along the shaft."""
        return np.asarray(self._height(z) / self.scale, dtype=np.float64)

    def _height(self, z: Array) -> Array:
        first, second = self.ends
        if self.kind == "arc":
            return -(z - first) * (z - second)
        hinge = np.maximum(0.0, z - self.place)
        at_ends = np.maximum(0.0, np.array(self.ends) - self.place)
        line = at_ends[0] + (at_ends[1] - at_ends[0]) * (z - first) / (second - first)
        return np.asarray(hinge - line, dtype=np.float64)


@dataclass(frozen=True)
class _Fit:
    basis: _Basis | None
    amplitude: Array
    covariance: Array
    line: Array
    evidence: float


class _Fitted:
    """Stations stacked once, and the linear models fitted to them."""

    def __init__(
        self,
        stations: Sequence[Station],
        ends: tuple[float, float],
        held: Held,
        own_offset_m: float,
    ) -> None:
        self.stations, self.ends, self.held = stations, ends, held
        self.z = np.array([one.at_m for one in stations])
        self.values = np.concatenate([one.offset_m for one in stations])
        self.noise = np.zeros((2 * len(stations), 2 * len(stations)))
        for place, one in enumerate(stations):
            at = slice(2 * place, 2 * place + 2)
            self.noise[at, at] = one.covariance_m2 + own_offset_m**2 * np.eye(2)

    def fit(self, basis: _Basis | None) -> _Fit:
        """Posterior of the size under one shape, and the shape's marginal likelihood."""
        columns, prior = self._columns(basis)
        whole = self.noise + columns @ (prior[:, None] * columns.T)
        factor = np.linalg.cholesky(whole)
        left = np.linalg.solve(factor, self.values)
        evidence = -float(left @ left) / 2 - float(np.log(np.diag(factor)).sum())
        gain = prior[:, None] * np.linalg.solve(whole, columns).T
        found = gain @ self.values
        covariance = np.diag(prior) - gain @ columns @ np.diag(prior)
        size = slice(0, 2 if basis is not None else 0)
        amplitude = found[size] if basis is not None else np.zeros(2)
        spread = covariance[size, size] if basis is not None else np.zeros((2, 2))
        return _Fit(basis, amplitude, spread, found[2 if basis is not None else 0 :], evidence)

    def evidence(self, shapes: Sequence[_Basis]) -> Array:
        """Marginal likelihood of each of many shapes at once, as `fit` has it."""
        every = [self._columns(one) for one in shapes]
        columns, prior = np.stack([one[0] for one in every]), every[0][1]
        whole = self.noise + (columns * prior) @ columns.transpose(0, 2, 1)
        factor = np.linalg.cholesky(whole)
        left = np.linalg.solve(
            factor, np.broadcast_to(self.values[:, None], (len(shapes), len(self.values), 1))
        )
        size = np.log(np.diagonal(factor, axis1=1, axis2=2)).sum(axis=1)
        return np.asarray(-(left**2).sum(axis=(1, 2)) / 2 - size, dtype=np.float64)

    def alone(self, fit: _Fit) -> tuple[str, ...]:
        """Stations further from the shape than their uncertainty and a usual own offset allow."""
        height = np.zeros(len(self.z)) if fit.basis is None else fit.basis.at(self.z)
        shape = height[:, None] * fit.amplitude
        if self.held == "centres":
            share = ((self.z - self.ends[0]) / (self.ends[1] - self.ends[0]))[:, None]
            shape = shape + fit.line[:2] * (1 - share) + fit.line[2:] * share
        named = []
        for place, one in enumerate(self.stations):
            at = slice(2 * place, 2 * place + 2)
            off = one.offset_m - shape[place]
            if math.sqrt(float(off @ np.linalg.solve(self.noise[at, at], off)) / 2) > _STANDS_OUT:
                named.append(one.name or f"{one.at_m:g} m")
        return tuple(named)

    def _columns(self, basis: _Basis | None) -> tuple[Array, Array]:
        parts, prior = [], []
        if basis is not None:
            parts.append(basis.at(self.z))
            prior.append(SEEN_BENDS_M**2)
        if self.held == "centres":
            share = (self.z - self.ends[0]) / (self.ends[1] - self.ends[0])
            parts += [1 - share, share]
            prior += [_LINE_M**2] * 2
        if not parts:
            return np.zeros((2 * len(self.z), 1)), np.array([1e-30])
        one = np.array(parts).T[:, None, :, None] * np.eye(2)[None, :, None, :]
        columns = one.reshape(2 * len(self.z), 2 * len(parts))
        return columns, np.repeat(np.array(prior), 2)


def _kink(place: float, ends: tuple[float, float], reach: tuple[float, float]) -> _Basis:
    """A kink, scaled so that its worst place within `reach` is off by 1."""
    plain = _Basis("kink", place, ends, 1.0)
    heights = plain.at(np.array([reach[0], place, reach[1]]))
    worst = float(heights[int(np.abs(heights).argmax())])
    return _Basis("kink", place, ends, worst if abs(worst) > 1e-12 else 1e-12)


def _arc(ends: tuple[float, float]) -> _Basis:
    return _Basis("arc", sum(ends) / 2, ends, ((ends[1] - ends[0]) / 2) ** 2)


def _probabilities(evidence: dict[Shape, float]) -> tuple[tuple[Shape, float], ...]:
    best = max(evidence.values())
    weights = {shape: math.exp(value - best) for shape, value in evidence.items()}
    total = sum(weights.values())
    ordered = sorted(weights.items(), key=lambda item: -item[1])
    return tuple((shape, weight / total) for shape, weight in ordered)


def _interval(places: Array, weights: Array) -> Interval:
    share = np.cumsum(weights) / weights.sum()
    low, high = (float(places[int(np.searchsorted(share, side))]) for side in (0.025, 0.975))
    return Interval(float(places[int(weights.argmax())]), low, high)


def _size(fit: _Fit) -> Estimate:
    size = float(np.hypot(*fit.amplitude))
    if size == 0:
        return Estimate(0.0, math.sqrt(float(np.trace(fit.covariance)) / 2))
    along = fit.amplitude / size
    return Estimate(size, math.sqrt(max(0.0, float(along @ fit.covariance @ along))))


def _angle(fit: _Fit) -> Estimate:
    """Angle of the kink: where the shaft is off by 1, its hinge turns by 1 over the basis' scale."""
    size, scale = _size(fit), 1.0 if fit.basis is None else abs(fit.basis.scale)
    return Estimate(size.value / scale, size.standard_uncertainty / scale)


def _line(fit: _Fit, low: float, high: float) -> Array:
    z = np.linspace(low, high, 97)
    height = np.zeros_like(z) if fit.basis is None else fit.basis.at(z)
    return np.column_stack([z, height[:, None] * fit.amplitude])


def _off_the_journals(stations: Sequence[Station], ends: tuple[float, float]) -> int:
    """Stations that say something of a bend: journals do not, they are what it is seen against."""
    between = abs(ends[1] - ends[0]) * 0.02
    return sum(min(abs(one.at_m - end) for end in ends) > between for one in stations)


def _notes(off: int, held: Held) -> tuple[str, ...]:
    said = []
    if off < 2:
        said.append(
            "One station shows how far the shaft runs out there, not where it is bent: read two more, one "
            "to each side."
        )
    elif off == 2:
        said.append("Two stations place a bend only roughly; a third one narrows it down.")
    if held == "centres":
        said.append(
            "Between centres the holes' own error is in every reading; it was taken away as a straight line."
        )
    return tuple(said)


def _check(stations: Sequence[Station], journals_m: tuple[float, float], own_offset_m: float) -> None:
    if not stations:
        raise MeasurementError("shaft: found no station, expected one or more")
    if not all(math.isfinite(one) for one in journals_m) or abs(journals_m[1] - journals_m[0]) < 1e-3:
        raise MeasurementError(f"journals: found {journals_m} m, expected two places along the shaft")
    if not (math.isfinite(own_offset_m) and own_offset_m > 0):
        raise MeasurementError(f"own offset: found {own_offset_m:g} m, expected more than 0")
    for one in stations:
        if not (math.isfinite(one.at_m) and np.isfinite(one.offset_m).all()):
            raise MeasurementError(f"station {one.name}: found {one.at_m:g} m, expected finite numbers")
