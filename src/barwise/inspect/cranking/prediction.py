"""Speed, current and volts while cranking, each with an interval, and the volts leg by leg."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.cranking.vehicle import Draw, Draws, Vehicle, battery_legs, draw, motor_in
from barwise.machine.cranking import RPM, Leg, Mesh, balance
from barwise.machine.cranking_many import ManyStarts, many_starts
from barwise.machine.motor import Motor

Truth = NDArray[np.bool_]

LEVEL = 0.95


@dataclass(frozen=True)
class Interval:
    """The middle of what may be, and the ends that hold it with 95 % probability."""

    middle: float
    low: float
    high: float


@dataclass(frozen=True)
class LegDrop:
    """Where some of the volts go.

    Attributes
    ----------
    name : str
        A leg, ``battery`` (its own resistance) or ``starter`` (what is left for it).
    ohm : Interval or None
        None for the starter.
    volts : Interval
    healthy_volts : float
        At the same current, were this leg in order [V]; of the starter what it has now.
    """

    name: str
    ohm: Interval | None
    volts: Interval
    healthy_volts: float


@dataclass(frozen=True)
class Outlook:
    """How it will crank.

    Attributes
    ----------
    speed_rpm, current_a, battery_v, starter_v, torque_nm : Interval
        Of the crank, compressions averaged; volts at the battery's posts and at the starter.
    balance_rpm : float
        Where mean torques balance: what a motor curve laid over an engine's demand would say.
    turns, starts : float
        Probability that it turns at all, and that it turns fast enough to start.
    least_rpm : tuple of float
    budget : tuple of LegDrop
        From the battery on; together they are the battery's loaded volts.
    said : tuple of str
        What was assumed for want of a figure.
    """

    speed_rpm: Interval
    current_a: Interval
    battery_v: Interval
    starter_v: Interval
    torque_nm: Interval
    balance_rpm: float
    turns: float
    starts: float
    least_rpm: tuple[float, float]
    budget: tuple[LegDrop, ...]
    said: tuple[str, ...]


def outlook(vehicle: Vehicle, draws: Draws | None = None) -> Outlook:
    """How this vehicle will crank, everything as it is."""
    draws = draw(vehicle) if draws is None else draws
    found = cranked(vehicle, draws)
    speed, current = np.asarray(found.speed_rad_s) / RPM, np.asarray(found.current_a)
    volts, ohm = battery_legs(vehicle, draws)
    return Outlook(
        speed_rpm=interval(speed),
        current_a=interval(current),
        battery_v=interval(volts - ohm * current),
        starter_v=interval(np.asarray(found.starter_v)),
        torque_nm=interval(np.asarray(found.torque_nm)),
        balance_rpm=balanced_rpm(vehicle, draws),
        turns=float(np.mean(found.turns)),
        starts=float(np.mean(speed >= draws.least_rpm)),
        least_rpm=vehicle.least,
        budget=_budget(vehicle, draws, current, np.asarray(found.starter_v)),
        said=_said(vehicle),
    )


def cranked(vehicle: Vehicle, draws: Draws, mended: Sequence[frozenset[str]] | None = None) -> ManyStarts:
    """A start in every draw, for each of several sets of links put in order.

    Returns
    -------
    ManyStarts
        Arrays of shape (draws,), or (sets, draws) where sets are given.
    """
    sets = [frozenset[str]()] if mended is None else list(mended)

    def is_mended(link: str) -> Truth:
        return np.array([[link in one] for one in sets])

    now, sound = battery_legs(vehicle, draws), battery_legs(vehicle, draws, healthy=True)
    volts = np.where(is_mended("battery"), sound[0], now[0])
    legs = [Leg("battery", np.where(is_mended("battery"), sound[1], now[1]))]
    for leg, ohm in zip(vehicle.legs, draws.legs, strict=True):
        # a leg better than it need be is not made worse by mending it
        legs.append(Leg(leg.name, np.where(is_mended(leg.name), np.minimum(ohm, leg.healthy_ohm), ohm)))
    motor = _either(
        is_mended("starter"), motor_in(vehicle.sound_starter, draws), motor_in(vehicle.starter, draws)
    )
    mesh = Mesh(vehicle.ratio, draws.efficiency)
    found = many_starts(volts, legs, motor, vehicle.rotor, mesh, draws.engine)
    return found if mended is not None else _first(found)


def balanced_rpm(vehicle: Vehicle, draws: Draws) -> float:
    """Middle of the speeds at which mean torques balance [rev/min]."""
    volts, ohm = battery_legs(vehicle, draws)
    legs = [Leg("battery", ohm)]
    legs += [Leg(leg.name, one) for leg, one in zip(vehicle.legs, draws.legs, strict=True)]
    mesh = Mesh(vehicle.ratio, draws.efficiency)
    found = balance(volts, legs, motor_in(vehicle.starter, draws), mesh, draws.engine)
    return float(np.median(np.asarray(found.speed_rad_s))) / RPM


def interval(values: Draw, level: float = LEVEL) -> Interval:
    """Median and central interval of draws."""
    low, middle, high = np.quantile(values, [(1 - level) / 2, 0.5, (1 + level) / 2])
    return Interval(float(middle), float(low), float(high))


def _budget(vehicle: Vehicle, draws: Draws, current: Draw, starter_v: Draw) -> tuple[LegDrop, ...]:
    middle = float(np.median(current))
    _, ohm = battery_legs(vehicle, draws)
    _, sound = battery_legs(vehicle, draws, healthy=True)
    rows = [LegDrop("battery", interval(ohm), interval(ohm * current), float(np.median(sound)) * middle)]
    for leg, one in zip(vehicle.legs, draws.legs, strict=True):
        rows.append(LegDrop(leg.name, interval(one), interval(one * current), leg.healthy_ohm * middle))
    left = interval(starter_v)
    return (*rows, LegDrop("starter", None, left, left.middle))


def _either(mended: Truth, sound: Motor, now: Motor) -> Motor:
    """The sound motor in the sets where the starter is put in order, else the one at hand."""
    changed = {}
    for part in fields(Motor):
        one, other = getattr(sound, part.name), getattr(now, part.name)
        if part.name not in ("field", "field_paths") and not np.array_equal(one, other):
            changed[part.name] = np.where(mended, one, other)
    return replace(now, **changed)


def _first(found: ManyStarts) -> ManyStarts:
    return ManyStarts(**{part.name: getattr(found, part.name)[0] for part in fields(ManyStarts)})


def _said(vehicle: Vehicle) -> tuple[str, ...]:
    said = []
    if vehicle.temperature_c is None:
        said.append(
            "No temperature was given and none is assumed: the intervals cover -15 to 35 °C. Give it."
        )
    if vehicle.least_rpm is None:
        low, high = vehicle.least
        said.append(
            f"The least starting speed is taken as somewhere from {low:.0f} to {high:.0f} rpm, common "
            "practice for such engines, no source. The engine's manual knows better."
        )
    if vehicle.drag is None:
        said.append(
            "What the engine asks is worked out from its size and oil, common practice, no source. A "
            "measured run narrows it."
        )
    return tuple(said)
