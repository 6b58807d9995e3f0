"""Whose fault a slow crank is: what each link costs, and the one to mend first.

A chain's loss cannot be split by mending its links one by one: mended together they give another sum than
apart. Two figures are given. *Gain*: speed won by putting this link alone in order; the largest names the
weakest link. *Share*: its Shapley value, the gain averaged over all orders in which the links could be put in
order; shares do add up to the whole loss.

Source
------
L. S. Shapley, A value for n-person games, in Contributions to the Theory of Games II, Princeton, 1953 (from
memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import factorial

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.cranking.prediction import Interval, cranked, interval
from barwise.inspect.cranking.vehicle import Draws, Vehicle, draw, taken_part
from barwise.machine.cranking import RPM

_STARTS, _FEWEST = 1536, 32
"""Starts worked out in all, and draws at the least."""


@dataclass(frozen=True)
class Link:
    """One link.

    Attributes
    ----------
    name : str
    gain_rpm : Interval
        Speed won by putting it alone in order.
    share_rpm : Interval
        What it costs of the whole loss.
    weakest : float
        Probability that no other link gains more.
    """

    name: str
    gain_rpm: Interval
    share_rpm: Interval
    weakest: float


@dataclass(frozen=True)
class Blame:
    """The loss and how it splits.

    Attributes
    ----------
    sound_rpm : Interval
        With every link in order.
    loss_rpm : Interval
        What is missing now.
    links : tuple of Link
        The one that gains most first.
    starter_share : Interval or None
        The starter's share of the loss, 0 to 1; None where there is hardly any loss to split.
    """

    sound_rpm: Interval
    loss_rpm: Interval
    links: tuple[Link, ...]
    starter_share: Interval | None

    @property
    def weakest(self) -> Link:
        """The link to mend first."""
        return self.links[0]


def blame(vehicle: Vehicle, draws: Draws | None = None) -> Blame:
    """Split the loss of cranking speed among battery, cables, switch, ground and starter."""
    links = vehicle.links
    draws = _fewer(draw(vehicle) if draws is None else draws, 2 ** len(links))
    sets = [frozenset(some) for size in range(len(links) + 1) for some in combinations(links, size)]
    speeds = np.asarray(cranked(vehicle, draws, sets).speed_rad_s) / RPM
    worth = dict(zip(sets, speeds, strict=True))
    now, sound = worth[frozenset()], worth[frozenset(links)]
    loss = sound - now
    gains = {link: worth[frozenset({link})] - now for link in links}
    shares = {link: shapley(worth, links, link) for link in links}
    first = np.argmax(np.array(list(gains.values())), axis=0)
    found = [
        Link(link, interval(gains[link]), interval(shares[link]), float(np.mean(first == place)))
        for place, link in enumerate(links)
    ]
    found.sort(key=lambda one: -one.gain_rpm.middle)
    return Blame(
        interval(sound), interval(loss), tuple(found), _starter_share(shares["starter"], loss, sound)
    )


def shapley(
    worth: dict[frozenset[str], NDArray[np.float64]], links: tuple[str, ...], link: str
) -> NDArray[np.float64]:
    """Average gain of one link over all orders, from the worth of every set of links."""
    others = [one for one in links if one != link]
    total = np.zeros_like(worth[frozenset()])
    for size in range(len(others) + 1):
        weight = factorial(size) * factorial(len(links) - size - 1) / factorial(len(links))
        for some in combinations(others, size):
            before = frozenset(some)
            total = total + weight * (worth[before | {link}] - worth[before])
    return total


def _fewer(draws: Draws, sets: int) -> Draws:
    """As many draws as keep the whole within `_STARTS`, evenly out of all."""
    many = len(draws.flux)
    kept = max(_FEWEST, min(many, _STARTS // sets))
    return taken_part(draws, np.arange(kept) * many // kept)


def _starter_share(
    share: NDArray[np.float64], loss: NDArray[np.float64], sound: NDArray[np.float64]
) -> Interval | None:
    """Where the loss is under a fiftieth of the speed in half of the draws there is nothing to split."""
    lost = loss > 0.02 * sound
    return None if np.mean(lost) < 0.5 else interval(np.clip(share[lost] / loss[lost], 0.0, 1.0))
