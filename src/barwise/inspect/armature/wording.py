"""Reasons and limits in plain words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from barwise.inspect.armature.observations import Observations, against_feed
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
    "winding's description, the feed and the meter, or look for a fault not covered, such as three at once"
)
SIGNS = (
    "{test}{fed}: {against} of {clear} readings have the wrong sign for this feed, the others the right one; "
    "the current divides, so on part of the commutator the drop is minus: keep the red lead on the first bar "
    "of each pair and enter the sign the meter shows"
)
NOTHING_READ = "{test}{fed}: every reading is nothing: {ask}"
_ASK = {
    "drop": "is the feed on, and do the meter's leads reach the bars?",
    "shaft-drop": "is the feed on, and do the meter's leads reach bar and shaft?",
    "induced": "is the exciter on, and do the meter's leads reach the bars?",
    "resistance": "do the meter's leads reach the bars, and is it on its lowest range?",
}
DEAD_ARC = (
    "part of the winding carries no current with this feed and may hide a second fault: move the feed, then "
    "read all the way round"
)
PAST_THE_OPEN = (
    "the open coil leaves part of the winding without current, where a second fault could hide: fed on "
    "either side of the open coil every other coil carries current; read all the way round"
)
METER_UNUSED = (
    "meter_ohms was not used: without drop or resistance readings, or coil_resistance on the sheet, its "
    "share of the current is not known"
)


def bad_touch(value: float, mean: float) -> str:
    """Why a reading is doubted."""
    if value * mean < 0 and abs(value) > 0.5 * abs(mean):
        return "wrong way round: the other readings call for the other sign; leads changed over here?"
    if abs(mean) > 0 and abs(value) < abs(mean):
        share = f"{abs(value / mean):.0%}".replace("%", " %")
        return f"bad touch: only {share} of what the other readings call for; clean the bars, read it again"
    return "bad touch: more than the other readings call for; read it again"


def odd_lamp(lit: bool) -> str:
    """Why a lamp reading is doubted."""
    return (
        "bad touch: lamp lit here alone, though the coils join all the bars, so all would light it"
        if lit
        else "bad touch: lamp dark here though the winding is grounded"
    )


def swapped(test: str, feed: Feed | None) -> str:
    """What was done about leads the wrong way round."""
    if test == "resistance":
        return "resistance: the readings are minus, so the meter leads were swapped; used without the sign"
    return (
        f"{test}{_fed(feed)}: every sign is against the feed as written, so the meter leads or the feed "
        "leads were swapped; the readings were used turned round"
    )


def why_contradictory(seen: Observations) -> tuple[str, ...]:
    """What may be behind readings that no state of the armature explains, likeliest first."""
    out = []
    for group in seen.groups:
        if group.test == "drop":
            against, clear = against_feed(seen.winding, group)
            if 0.15 * clear < against:
                out.append(SIGNS.format(test=group.test, fed=_fed(group.feed), against=against, clear=clear))
    return (*out, CONTRADICTORY)


def nothing_read(seen: Observations) -> tuple[str, ...]:
    """A note for each test that shows nothing but zeros."""
    dead = [g for g in seen.groups if (abs(g.value) <= 2 * g.floor).all()]
    return tuple(NOTHING_READ.format(test=g.test, fed=_fed(g.feed), ask=_ASK[g.test]) for g in dead)


def _fed(feed: Feed | None) -> str:
    return f" fed at bars {feed.into} and {feed.out}" if feed else ""


def ground_limit(taken: bool) -> str:
    """What ground readings can show."""
    if taken:
        return "would have been seen if it were there now; damp or heat may still bring one later"
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
    fed = f"feed bars {feed.into} and {feed.out} and read every bar to the shaft"
    if moved:
        return f"{fed}: with the feed moved the real ground stays where it is, and its phantom moves away"
    return f"a lamp says there is a ground, never where; {fed}"


def separates(seen: Observations, reading: Reading) -> str:
    """Why this reading comes next."""
    same = (reading.test, reading.start, reading.end, reading.feed)
    if any((r.test, r.start, r.end, r.feed) == same for r in seen.readings):
        return "what is still possible differs most here; clean the bars and take it again"
    return "what is still possible differs most here"


def unseen_next(
    seen: Observations,
    detectable: Mapping[str, Detectable],
    verdict: Verdict,
) -> NextReading | None:
    """The reading that looks where none has looked yet, or None."""
    from barwise.inspect.armature.next_reading import moved_feed, usual_feed

    winding = seen.winding
    blind = [n for n, d in detectable.items() if not d.severity]
    feeds = [g.feed for g in seen.direct if g.test == "drop" and g.feed]
    by_direct = feeds or any(g.test == "resistance" for g in seen.direct)
    if not by_direct and any(SHOWN_BY[n] == "drop" for n in blind):
        why = "an open coil or bad joint shows only when current flows"
        return NextReading("drop", *_first_pair(winding, 1), usual_feed(winding), why)
    gap = _unread(seen) if by_direct else []
    unread = _read_on(gap, feeds, winding) if gap else None
    if unread and (len(gap) > winding.bars / 4 or any(SHOWN_BY[n] == "drop" for n in blind)):
        return unread
    if not seen.lamp and not seen.ground_ohm:
        return NextReading("ground", 1, None, None, "nothing taken so far can show a ground")
    if unread:
        return unread
    if feeds and verdict == "faulty" and _arc_hidden(detectable):
        feed = moved_feed(winding, feeds[0])
        return (
            None if feed in feeds else NextReading("drop", *_first_pair(winding, feed.into), feed, DEAD_ARC)
        )
    return None


def past_the_open(
    seen: Observations, detectable: Mapping[str, Detectable], open_coils: Sequence[int]
) -> NextReading | None:
    """After one open coil: the feed on either side of it, which sends the current through all the rest."""
    from barwise.inspect.armature.next_reading import feed_across

    feeds = [g.feed for g in seen.direct if g.test == "drop" and g.feed]
    if not feeds or len(open_coils) != 1 or not _arc_hidden(detectable):
        return None
    feed = feed_across(seen.winding, open_coils[0], feeds[0].amps)
    if {feed.into, feed.out} in [{f.into, f.out} for f in feeds]:
        return None
    return NextReading("drop", *_first_pair(seen.winding, feed.out), feed, PAST_THE_OPEN)


def _arc_hidden(detectable: Mapping[str, Detectable]) -> bool:
    kinds = ("high-resistance-joint", "shorted-coil", "turn-short")
    return any(d.hidden and d.severity for name in kinds if (d := detectable.get(name)) is not None)


def _first_pair(winding: Winding, bar: int) -> tuple[int, int]:
    """A bar and the next of its own closed ring."""
    return bar, (bar + winding.closures - 1) % winding.bars + 1


def _unread(seen: Observations) -> list[tuple[int, int]]:
    """Pairs of neighbours, in the order of a walk, between which no drop was read either way round."""
    read = {frozenset((r.start, r.end)) for r in seen.readings if r.test in ("drop", "resistance")}
    pairs = (_first_pair(seen.winding, bar) for bar in range(1, seen.winding.bars + 1))
    return [pair for pair in pairs if frozenset(pair) not in read]


def _read_on(gap: Sequence[tuple[int, int]], feeds: Sequence[Feed], winding: Winding) -> NextReading:
    """The first pair not read yet; the feed goes to the closed ring that the pair belongs to."""
    why = f"nothing has been read yet from {_numbers(sorted(start for start, _ in gap))}"
    if not feeds:
        return NextReading("resistance", *gap[0], None, why)
    on = (gap[0][0] - feeds[0].into) % winding.closures
    into, out = ((bar - 1 + on) % winding.bars + 1 for bar in (feeds[0].into, feeds[0].out))
    return NextReading("drop", *gap[0], Feed(into, out, feeds[0].amps), why)


def _numbers(bars: Sequence[int]) -> str:
    whole = bars[-1] - bars[0] + 1 == len(bars)
    if len(bars) == 1:
        return f"bar {bars[0]}"
    if whole:
        return f"bars {bars[0]} to {bars[-1]}"
    return f"{len(bars)} of the bars between {bars[0]} and {bars[-1]}"


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
    text = "would have been seen"
    if fault == "high-resistance-joint":
        text += f" from {_more(limit or 1.0)} a healthy coil"
    elif fault in ("shorted-coil", "bar-bridge"):
        text += ", even a weak one" if (limit or 0) >= 1 else " if strong"
        text += f" (a path of up to {limit or 0:.3g} times a coil's own resistance)"
    elif fault == "turn-short":
        text += f" from {severity['turns']:.0f} of {winding.turns_per_coil} turns"
    elif not hidden:
        text += " wherever it is"
    if hidden:
        text += f"; out of sight at {len(hidden)} of {winding.bars} places"
    return text


def _more(factor: float) -> str:
    return f"{factor - 1:.0%} above".replace("%", " %") if factor < 2 else f"{factor:.3g} times"


def _missing(fault: str, seen: Observations) -> str:
    test = SHOWN_BY[fault]
    if not seen.taken(test):
        return f"{test} readings"
    if test == "drop":
        return "drop readings with the feed moved, or the bars that are missing"
    return f"more {test} readings"


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
