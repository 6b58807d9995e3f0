"""What must be replaced and what is optional, from what was found and what the rebuilder decided.

A decision of the rebuilder counts before any result. Where none was taken a rejected check asks for its part;
one too close to call is optional until it is settled.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from barwise.inspect.worth.quote import Need


@dataclass(frozen=True)
class PartStanding:
    """One thing known about a part.

    Attributes
    ----------
    station, part : str
        Station's title; part, or what the check is called.
    decided : str
        reuse, rework or replace by the rebuilder; else empty.
    outcome : str
        accept, reject, undecided of a check; else empty.
    line : str
        Why, in a sentence.
    """

    station: str
    part: str
    decided: str = ""
    outcome: str = ""
    line: str = ""


@dataclass(frozen=True)
class Needed:
    """A part to price: must or optional, and why."""

    station: str
    part: str
    need: Need
    work: str
    why: str


def needed(standings: Iterable[PartStanding]) -> tuple[Needed, ...]:
    """The parts to price, those that must be first, each station in the order it came.

    Notes
    -----
    A station whose part was decided is settled: its checks say why, and ask for nothing more.
    """
    known = list(standings)
    settled = {one.station for one in known if one.decided}
    found = []
    for one in known:
        if one.decided in ("replace", "rework"):
            found.append(Needed(one.station, one.part, "must", one.decided, _why(one, known)))
        elif one.station in settled or one.decided:
            continue
        elif one.outcome == "reject":
            found.append(Needed(one.station, one.part, "must", "replace", one.line))
        elif one.outcome == "undecided":
            found.append(Needed(one.station, one.part, "optional", "replace", one.line))
    return tuple(sorted(found, key=lambda one: one.need != "must"))


def _why(decided: PartStanding, known: Iterable[PartStanding]) -> str:
    """The rebuilder's own reason, else what was rejected at that station."""
    if decided.line:
        return decided.line
    rejected = [one.line for one in known if one.station == decided.station and one.outcome == "reject"]
    return " ".join(rejected)
