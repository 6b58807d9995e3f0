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
    speaks_for : str
        rework or replace, what a rejected check asks for.
    """

    station: str
    part: str
    decided: str = ""
    outcome: str = ""
    line: str = ""
    speaks_for: str = "replace"


@dataclass(frozen=True)
class Needed:
    """A part to price: must or optional, and why.

    `work` is rework or replace; `checks` are the titles of those that condemned it, or left it open.
    """

    station: str
    part: str
    need: Need
    work: str
    why: str
    checks: tuple[str, ...] = ()


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
            rejected = _rejected(one, known)
            why = one.line or " ".join(check.line for check in rejected)
            titles = tuple(check.part for check in rejected)
            found.append(Needed(one.station, one.part, "must", one.decided, why, titles))
        elif one.station in settled or one.decided:
            continue
        elif one.outcome == "reject":
            found.append(Needed(one.station, one.part, "must", one.speaks_for, one.line, (one.part,)))
        elif one.outcome == "undecided":
            found.append(Needed(one.station, one.part, "optional", one.speaks_for, one.line, (one.part,)))
    return tuple(sorted(found, key=lambda one: one.need != "must"))


def _rejected(decided: PartStanding, known: Iterable[PartStanding]) -> list[PartStanding]:
    """The checks of that station that did not pass."""
    return [one for one in known if one.station == decided.station and one.outcome == "reject"]
