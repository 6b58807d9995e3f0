"""Reasons and limits in plain words."""

from __future__ import annotations

from collections.abc import Mapping

from barwise.inspect.armature.observations import Observations
from barwise.inspect.diagnosis import Detectable, NextReading, Verdict
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

PLAIN = {
    "open-coil": "an open coil",
    "high-resistance-joint": "a bad joint",
    "shorted-coil": "a shorted coil",
    "turn-short": "shorted turns",
    "bar-bridge": "two bridged bars",
    "reversed-coil": "a reversed coil",
    "grounded-coil": "a grounded coil",
}
SHOWN_BY = {
    "open-coil": "drop",
    "high-resistance-joint": "drop",
    "shorted-coil": "drop",
    "turn-short": "drop",
    "bar-bridge": "drop",
    "reversed-coil": "induced",
    "grounded-coil": "ground",
}

CONTRADICTORY = (
    "no state of the armature known here explains these readings: too many contradict each other; check the "
    "winding's description, the feed and the meter, or look for a fault not covered, such as two grounds"
)
METER_UNUSED = (
    "meter_ohms was not used: without drop or resistance readings, or coil_resistance on the sheet, its "
    "share of the current is not known"
)


def bad_touch(value: float, mean: float) -> str:
    """Why a reading is doubted."""
    if abs(mean) > 0 and abs(value) < abs(mean):
        return f"bad touch: reads {abs(value / mean):.0%} of what every other reading leads to"
    return "bad touch: higher than any state of the armature that fits the other readings"


def odd_lamp(lit: bool) -> str:
    """Why a lamp reading is doubted."""
    return (
        "lamp lit here alone: the bars are joined, so all would light"
        if lit
        else "bad touch: lamp dark here though the winding is grounded"
    )


def swapped(test: str, feed: Feed | None) -> str:
    """What was done about leads the wrong way round."""
    where = f" fed at bars {feed.into} and {feed.out}" if feed else ""
    return (
        f"{test}{where}: every sign is against the feed as written, so the meter leads or the feed leads "
        "were swapped; the readings were used turned round"
    )


def ground_limit(taken: bool) -> str:
    """What ground readings can show."""
    if taken:
        return "a lamp or ohm reading shows a ground that is there now; damp or heat may bring one later"
    return "these readings cannot show a grounded coil; take ground readings"


def limits(
    winding: Winding, fault: str, limit: float | None, hidden: tuple[int, ...], seen: Observations
) -> list[Detectable]:
    """Detectability of one kind; bridged turns are the same readings under another name."""
    severity = _severity(fault, limit)
    out = [Detectable(fault, severity, hidden, _why(fault, severity, limit, hidden, winding, seen))]
    if fault == "shorted-coil" and winding.turns_per_coil > 1:
        turns = _fewest_turns(winding.turns_per_coil, limit)
        bridged = {} if turns is None else {"turns": float(turns)}
        nowhere = hidden if turns is not None else tuple(range(1, winding.bars + 1))
        why = _why("turn-short", bridged, limit if turns else None, nowhere, winding, seen)
        out.append(Detectable("turn-short", bridged, nowhere, why))
    return out


def blind_spots(detectable: Mapping[str, Detectable]) -> tuple[str, ...]:
    """One note per test that is missing, for the kinds that nothing taken can show."""
    blind: dict[str, list[str]] = {}
    for name, d in detectable.items():
        if not d.severity and "cannot show" in d.why:
            blind.setdefault(SHOWN_BY[name], []).append(PLAIN[name])
    return tuple(
        f"these readings cannot show {_listed(kinds)}; take {test} readings" for test, kinds in blind.items()
    )


def place_the_ground(moved: bool, feed: Feed) -> str:
    """Why a shaft-drop comes next."""
    fed = f"feed bars {feed.into} and {feed.out} and read bar to shaft all the way round"
    if moved:
        return f"{fed}: with the feed moved the real ground stays where it is and its phantom moves"
    return f"a lamp says there is a ground, never where; {fed}"


def separates(seen: Observations, reading: Reading) -> str:
    """Why this reading comes next."""
    again = any(
        (r.test, r.start, r.end, r.feed) == (reading.test, reading.start, reading.end, reading.feed)
        for r in seen.readings
    )
    if again:
        return "the explanations left differ most here; clean the bars and take it again"
    return "the explanations left differ most here"


def unseen_next(
    seen: Observations, detectable: Mapping[str, Detectable], verdict: Verdict
) -> NextReading | None:
    """The reading that looks where none has looked yet, or None."""
    from barwise.inspect.armature.next_reading import moved_feed, usual_feed

    blind = [n for n, d in detectable.items() if not d.severity]
    feeds = [g.feed for g in seen.direct if g.test == "drop" and g.feed]
    if not feeds and any(SHOWN_BY[n] == "drop" for n in blind):
        feed = usual_feed(seen.winding)
        return NextReading("drop", 1, 2, feed, "an open coil or bad joint shows only when current flows")
    if not seen.lamp and not seen.ground_ohm:
        return NextReading("ground", 1, None, None, "nothing taken so far can show a ground")
    hidden = {n for n, d in detectable.items() if d.hidden and n != "grounded-coil" and d.severity}
    gap = _gap(seen, "drop")
    if feeds and gap is not None:
        why = f"bars {gap[0]} to {gap[-1]} have no drop reading yet" if len(gap) > 1 else "no reading yet"
        return NextReading("drop", gap[0], gap[0] % seen.winding.bars + 1, feeds[0], why)
    if feeds and verdict == "faulty" and hidden & {"high-resistance-joint", "shorted-coil", "turn-short"}:
        moved = moved_feed(seen.winding, feeds[0])
        why = (
            "part of the winding carries no current with this feed and may hide a second fault; move the feed"
        )
        return NextReading("drop", moved.into, moved.into % seen.winding.bars + 1, moved, why)
    return None


def _gap(seen: Observations, test: str) -> list[int] | None:
    """Bars whose pair with the next was not read in this test."""
    read = {r.start for r in seen.readings if r.test == test}
    missing = [bar for bar in range(1, seen.winding.bars + 1) if bar not in read]
    return missing or None


def _severity(fault: str, limit: float | None) -> dict[str, float]:
    if limit is None:
        return {}
    if fault == "high-resistance-joint":
        return {"factor": limit}
    if fault in ("shorted-coil", "bar-bridge"):
        return {"bridge_ratio": limit}
    return {"any": 1.0}


def _fewest_turns(turns: int, limit: float | None) -> int | None:
    """Fewest turns that, bridged dead, act as strongly as a bridge of `limit` across the coil."""
    if limit is None:
        return None
    return next((t for t in range(1, turns) if turns / t - 1 <= limit), None)


def _why(
    fault: str,
    severity: Mapping[str, float],
    limit: float | None,
    hidden: tuple[int, ...],
    winding: Winding,
    seen: Observations,
) -> str:
    if not severity:
        return f"these readings cannot show {PLAIN[fault]}; take {_missing(fault, seen)}"
    text = {
        "high-resistance-joint": f"shown from {limit or 0:.3g} times a healthy coil's resistance",
        "shorted-coil": f"shown up to a bridge of {limit or 0:.3g} coil resistances",
        "bar-bridge": f"shown up to a bridge of {limit or 0:.3g} coil resistances",
        "turn-short": f"shown from {severity.get('turns', 1):.0f} of {winding.turns_per_coil} turns",
    }.get(fault, "shown wherever it is")
    if hidden:
        text += f"; out of sight at {len(hidden)} of {winding.bars} places"
    return text


def _missing(fault: str, seen: Observations) -> str:
    test = SHOWN_BY[fault]
    if not seen.taken(test):
        return f"{test} readings"
    if test == "drop":
        return "drop readings with the feed moved, or the bars that are missing"
    return f"more {test} readings"


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
