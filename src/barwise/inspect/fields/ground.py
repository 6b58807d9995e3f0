"""Where along the coils a ground sits: current through them end to end, drop from each end lead to the frame.

The frame takes the potential of the place that touches it, so the two drops share out the whole in the ratio
of the copper on either side. A ground of some resistance makes a meter read both too low alike, and the ratio
stays.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.inspect.fields.circuit import Coil, FieldCircuit
from barwise.measure.distribution import below
from barwise.measure.uncertainty import Estimate, propagate

Verdict = Literal["located", "undecided", "at odds", "no ground"]

_EDGE = 0.01
"""Standard uncertainty that joints of unknown length leave on where a coil begins, as a share of the whole:
common practice, no source."""
_AT_ODDS = 3.0
_NOTHING = 0.02
"""Drops to the frame that together are less than this share of the whole are strays: common practice."""


@dataclass(frozen=True)
class Place:
    """One place where the ground may sit, with its probability; `turn` from the start of the coil."""

    name: str
    probability: float
    turn: float | None = None
    turns: int | None = None


@dataclass(frozen=True)
class Located:
    """Where the ground sits.

    Attributes
    ----------
    verdict : str
        located, undecided; at odds: the drops do not go with one ground; no ground: they are nothing.
    fraction, uncertainty : float
        Share of the copper between the first lead and the ground.
    places : tuple of Place
        The likeliest first.
    through : float or None
        Both drops to the frame together, over the drop end to end: 1 for a dead ground and a good meter.
    why : str
        What does not go together, where it is at odds.
    """

    verdict: Verdict
    fraction: float
    uncertainty: float
    places: tuple[Place, ...]
    through: float | None = None
    why: str = ""


def locate_ground(
    coils: Sequence[Coil],
    drops: Sequence[Estimate],
    first: Estimate,
    last: Estimate,
    whole: Estimate | None = None,
    level: float = 0.95,
) -> Located:
    """Coil or joint that touches the frame.

    Parameters
    ----------
    coils : sequence of Coil
        Of the path that is fed, in their order from the first lead.
    drops : sequence of Estimate
        Drop across each, or resistance: only their shares count.
    first, last : Estimate
        Drop [V] from the first and from the last lead to bare frame, without sign.
    whole : Estimate, optional
        Drop [V] from lead to lead.
    level : float
        Probability that is enough to name a place.

    Raises
    ------
    MeasurementError
        If a drop is negative, or both are nothing.
    """
    if len(coils) != len(drops) or not coils:
        raise MeasurementError(
            f"ground: found {len(drops)} drops, expected one for each of {len(coils)} coils"
        )
    if min(first.value, last.value) < 0 or not first.value + last.value > 0:
        found = f"found {first.value:g} V and {last.value:g} V"
        raise MeasurementError(f"drops to the frame: {found}, expected 0 or more, and one of them above 0")
    fraction, budget = propagate(lambda v: v[0] / (v[0] + v[1]), [first, last])
    spread = math.hypot(budget.standard_uncertainty, _EDGE)
    through, why = _through(first, last, whole)
    if why:
        return Located("at odds", fraction, spread, (), through, why)
    if through is not None and through < _NOTHING:
        return Located("no ground", fraction, spread, (), through)
    places = _places(coils, [max(0.0, drop.value) for drop in drops], fraction, spread)
    verdict: Verdict = "located" if places[0].probability >= level else "undecided"
    return Located(verdict, fraction, spread, places, through)


def locate_on_path(
    circuit: FieldCircuit,
    path: int,
    first: Estimate,
    last: Estimate,
    whole: Estimate | None = None,
    level: float = 0.95,
) -> Located | None:
    """The same, with the coils of one path and their own readings.

    None where one of them was not read, or where drops stand beside resistances.

    Raises
    ------
    MeasurementError
        As `locate_ground`.
    """
    places = [place for place, coil in enumerate(circuit.coils) if coil.path == path]
    means = [_mean_read(circuit, place) for place in places]
    known = [mean for mean in means if mean is not None]
    kinds = {one.seen for one in circuit.readings if one.coil in places}
    if len(known) < len(means) or not known or len(kinds) > 1:
        return None
    return locate_ground([circuit.coils[place] for place in places], known, first, last, whole, level)


def _mean_read(circuit: FieldCircuit, place: int) -> Estimate | None:
    """Mean of a coil's drops, or of its resistances."""
    read = [one for one in circuit.readings if one.coil == place and one.seen != "open"]
    if not read:
        return None
    middle = math.fsum(one.value for one in read) / len(read)
    return Estimate(middle, math.hypot(*(one.uncertainty for one in read)) / len(read))


def _through(first: Estimate, last: Estimate, whole: Estimate | None) -> tuple[float | None, str]:
    if whole is None:
        return None, ""
    if not whole.value > 0:
        raise MeasurementError(f"drop from lead to lead: found {whole.value:g} V, expected above 0")
    share, budget = propagate(lambda v: (v[0] + v[1]) / v[2], [first, last, whole])
    if share - 1 > _AT_ODDS * math.hypot(budget.standard_uncertainty, _EDGE):
        return share, (
            "the two drops to the frame add up to more than the drop from lead to lead: the feed is joined "
            "to the frame, or there are two grounds"
        )
    return share, ""


def _places(
    coils: Sequence[Coil], drops: Sequence[float], fraction: float, spread: float
) -> tuple[Place, ...]:
    """Each coil evenly along its length, each joint and end lead as a point, alike beforehand."""
    whole = math.fsum(drops)
    ends = [math.fsum(drops[:count]) / whole for count in range(len(coils) + 1)]
    found: list[tuple[str, float, float | None, int | None]] = []
    for coil, start, stop in zip(coils, ends[:-1], ends[1:], strict=True):
        inside = below((stop - fraction) / spread) - below((start - fraction) / spread)
        along = min(1.0, max(0.0, (fraction - start) / (stop - start)))
        turn = None if coil.turns is None else along * coil.turns
        found.append((f"coil {coil.name}", inside / (stop - start), turn, coil.turns))
    for place, at in enumerate(ends):
        point = math.exp(-0.5 * ((at - fraction) / spread) ** 2) / (spread * math.sqrt(2 * math.pi))
        found.append((_joint(coils, place), point, None, None))
    total = math.fsum(one[1] for one in found)
    named = [Place(name, weight / total, turn, turns) for name, weight, turn, turns in found]
    return tuple(sorted(named, key=lambda one: -one.probability))


def _joint(coils: Sequence[Coil], place: int) -> str:
    if place == 0:
        return "the first lead, or what hangs on it"
    if place == len(coils):
        return "the last lead, or what hangs on it"
    return f"the joint of coils {coils[place - 1].name} and {coils[place].name}"
