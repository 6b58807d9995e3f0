"""What was read on the run bench, and what the sheet says of the model: points of the motor's curve."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from barwise.errors import MotorError
from barwise.machine.motor import FieldKind
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate

Kind = Literal["no-load", "lock", "loaded"]

SHEET_SHARE = 0.03
"""A single figure on a sheet is the model's, and no one motor's: standard deviation as a share (assumed)."""
ONE_SIDED_SHARE = 0.12
"""How far inside a one-sided limit a sound motor of the model lies, give or take as much (assumed)."""
VOLTS_SHARE = 0.002
"""The sheet's own test volts, as a share."""
STATED_K = 2.0
"""No temperature that somebody wrote down is trusted to better [K]."""


@dataclass(frozen=True)
class Point:
    """One steady point; whatever was not read is None.

    Attributes
    ----------
    kind : str
        ``no-load``, ``lock`` or ``loaded``.
    volts, current, speed, torque : Estimate or None
        At the starter's terminals [V, A]; of the output shaft [rad/s, N m].
    temperature : Estimate or None
        Of the winding when it was read [degC].
    """

    kind: Kind
    volts: Estimate | None = None
    current: Estimate | None = None
    speed: Estimate | None = None
    torque: Estimate | None = None
    temperature: Estimate | None = None

    @property
    def given(self) -> tuple[str, ...]:
        """Names of what was read."""
        names = ("volts", "current", "speed", "torque")
        return tuple(name for name in names if getattr(self, name) is not None)


@dataclass(frozen=True)
class Sheet:
    """What is known of the model before anything is read.

    Attributes
    ----------
    field : str
    volts_v : float
        Nominal [V].
    points : tuple of Point
        Of a sound motor of this model: nominal, rated, or the middle of the limits.
    limits : mapping-like tuple of (kind, name, Limit)
        Limits that readings at the sheet's volts are held against.
    rated : Point or None
        The point at which its power is stated; also in `points`.
    temperature : Estimate or None
        At which the sheet's figures hold [degC].
    field_paths : int
        Paths of the series field side by side.
    bars, poles, armature_paths : int or None
        For shorted and open armature coils.
    gear_ratio : float
    switch_a : float
        Current of the switch that readings and sheet count in [A].
    """

    field: FieldKind = "series"
    volts_v: float = 12.0
    points: tuple[Point, ...] = ()
    limits: tuple[tuple[Kind, str, Limit], ...] = ()
    rated: Point | None = None
    temperature: Estimate | None = None
    field_paths: int = 1
    bars: int | None = None
    poles: int | None = None
    armature_paths: int = 2
    gear_ratio: float = 1.0
    switch_a: float = 0.0

    def __post_init__(self) -> None:
        if not self.volts_v > 0:
            raise MotorError(f"sheet: found {self.volts_v:g} V, expected nominal volts above 0")

    def volts_of(self, kind: Kind) -> float | None:
        """The sheet's test volts of a kind of point."""
        for point in self.points:
            if point.kind == kind and point.volts is not None:
                return point.volts.value
        return None


def figure(value: float, share: float = SHEET_SHARE) -> Estimate:
    """A figure as a sheet states it."""
    return Estimate(value, abs(value) * share)


def from_limit(limit: Limit) -> Estimate:
    """What a sound motor reads, by the limits it must keep.

    Notes
    -----
    Two limits hold 95 % of sound motors. One limit is kept by `ONE_SIDED_SHARE`, give or take as much.
    """
    lower, upper = limit.lower, limit.upper
    if lower is not None and upper is not None:
        return Estimate((lower + upper) / 2, max((upper - lower) / 4, 0.01 * abs(upper)))
    side = lower if lower is not None else upper
    assert side is not None  # a limit has one side at least
    inwards = ONE_SIDED_SHARE if lower is not None else -ONE_SIDED_SHARE
    return Estimate(side * (1 + inwards), abs(side) * ONE_SIDED_SHARE)


def at_least(points: Iterable[Point], share: float) -> tuple[Point, ...]:
    """The same points with no reading trusted to better than a share of itself."""
    return tuple(_coarser(point, share) for point in points)


def _coarser(point: Point, share: float) -> Point:
    return replace(
        point,
        volts=_wider(point.volts, share),
        current=_wider(point.current, share),
        speed=_wider(point.speed, share),
        torque=_wider(point.torque, share),
    )


def _wider(one: Estimate | None, share: float) -> Estimate | None:
    if one is None:
        return None
    return Estimate(one.value, max(one.standard_uncertainty, abs(one.value) * share))


def usable(points: Sequence[Point]) -> tuple[Point, ...]:
    """Points that say something: volts and one thing more."""
    return tuple(point for point in points if point.volts is not None and len(point.given) > 1)


def once(points: Iterable[Point]) -> tuple[Point, ...]:
    """Each point once: one that reads the very same as another of its kind says nothing that one does not."""
    found: dict[tuple[object, ...], Point] = {}
    for point in points:
        found.setdefault(figures(point), point)
    return tuple(found.values())


def figures(point: Point) -> tuple[object, ...]:
    """What was read there, by which one point is told from another; its temperature is not."""
    read = (point.volts, point.current, point.speed, point.torque)
    return (point.kind, *(None if one is None else one.value for one in read))


def upright(points: Iterable[Point]) -> tuple[Point, ...]:
    """The same points with volts and currents positive: a shunt the wrong way round reads as well."""
    return tuple(
        replace(point, volts=_positive(point.volts), current=_positive(point.current)) for point in points
    )


def _positive(one: Estimate | None) -> Estimate | None:
    return None if one is None else Estimate(abs(one.value), one.standard_uncertainty)
