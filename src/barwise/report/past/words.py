"""The shop's history in words: where a unit stands among its kind, what is usual, what drifts, how often."""

from __future__ import annotations

from barwise.inspect.checks.wording import number
from barwise.measure.proportion import Proportion
from barwise.measure.usual import LEAST, SHARE, Rank, Usual
from barwise.record.past.instruments_drift import SEEN_WITHIN, AgainstOthers, InstrumentSeen
from barwise.record.past.models_read import CheckRead, UnitRead
from barwise.record.past.rebuilds import Share

OWN = "own history"
"""Stands with every number that comes from the shop's own record and from no maker's sheet."""


def rank_in_words(rank: Rank) -> str:
    """``lower than all 19 others``, ``higher than 12 of 19 others``."""
    if rank.of == 0:
        return "the only one of its model so far"
    more, word = (rank.below, "higher") if rank.below >= rank.above else (rank.above, "lower")
    if more == 0:
        return f"the same as all {rank.of} others" if rank.of > 1 else "the same as the one other"
    if more == rank.of:
        return f"{word} than all {rank.of} others" if rank.of > 1 else f"{word} than the one other"
    return f"{word} than {more} of {rank.of} others"


def usual_in_words(read: CheckRead) -> str:
    """What is usual for a model, marked as the shop's own record, or how many are still missing."""
    if read.usual is None:
        return f"{OWN}: {_units(len(read.units))}, too few to say what is usual ({LEAST} at least)"
    return f"{OWN}: {span_in_words(read.usual, read.unit)}"


def span_in_words(found: Usual, unit: str) -> str:
    """``usually 62 A to 76 A (95 % of 37 units)``; stands only where it is marked as own history."""
    apart = f"; {found.apart} that stood apart left out" if found.apart else ""
    low, high = (number(side, unit, _digit(found.spread)) for side in (found.low, found.high))
    return f"usually {low} to {high} ({100 * SHARE:.0f} % of {_units(found.kept)}){apart}"


def unusual_in_words(read: CheckRead, value: float, job_id: int | None = None) -> str:
    """A warning where a value is none that is usual for its kind; empty where it is, or too few were read.

    `job_id` is of the unit it was read on, where that is among those of `read`.
    """
    if read.usual is None or read.usual.holds(value):
        return ""
    side = "below" if value < read.usual.low else "above"
    where = rank_in_words(read.rank(value, job_id))
    return f"Unusual for this model: {side} what is usual, {where}. {OWN.capitalize()} is no limit."


def this_one_in_words(read: CheckRead, one: UnitRead) -> str:
    """As in ``This one: 71 A, higher than 12 of 19 others``."""
    where = rank_in_words(read.rank(one.value, one.job_id))
    return f"This one: {number(one.value, read.unit)}, {where}."


def share_in_words(found: Proportion) -> str:
    """``17 of 20, 85 % (62 to 97 %)``."""
    if found.value is None:
        return "none yet"
    interval = f"{100 * found.low:.0f} to {100 * found.high:.0f} %"
    return f"{found.count} of {found.of}, {100 * found.value:.0f} % ({interval})"


def right_in_words(share: Share) -> str:
    """How many were right the first time."""
    return f"Right the first time: {share_in_words(share.right)}"


def back_in_words(share: Share) -> str:
    """How many came back."""
    if share.back.of == 0:
        return "Came back within a year: no job is a year old yet"
    return f"Came back within a year: {share_in_words(share.back)}"


def drift_in_words(seen: InstrumentSeen) -> str:
    """Whether the readings of an instrument drift, and how small a drift would show."""
    count = len(seen.readings)
    if not count:
        return "Too little was read with it on checks that others read as well: nothing to hold it against."
    alone = f"chance alone gives an alarm once in about {round(seen.false_alarm_after, -1):.0f} readings"
    small = f"a lasting drift of {seen.seen_shift:.1f} times the spread between units shows within about "
    bound = f"{SEEN_WITHIN:.0f} readings; {alone}"
    if seen.chart.is_out:
        way = "high" if seen.chart.average[-1] > 0 else "low"
        since = seen.readings[seen.chart.out_since or 0].at
        start = f"{since.day} {since:%b %Y}"
        said = f"It reads {way}: beyond what chance does since {start}. Check it against a known piece."
        return f"{said} ({small}{bound})"
    return f"No drift seen in {count} readings. {small[:1].upper()}{small[1:]}{bound}."


def against_in_words(one: AgainstOthers) -> str:
    """How much an instrument reads higher than the others at one check."""
    if one.higher is None:
        return f"{one.own} units with it, {one.others} with others: too few to compare"
    low, high = (_signed(value, one) for value in (one.higher.low, one.higher.high))
    value = number(abs(one.higher.value), one.unit, _digit(one.spread))
    way = "higher" if one.higher.value >= 0 else "lower"
    seen = "" if one.higher.is_seen else ", which may be chance"
    return f"{value} {way} than others ({low} to {high}){seen}; {one.own} and {one.others} units"


def _signed(value: float, one: AgainstOthers) -> str:
    """Higher with a plus, lower with a minus, and no minus before a nought."""
    said = number(value, one.unit, _digit(one.spread))
    bare = said.lstrip("-")
    nought = not any(sign in "123456789" for sign in bare.split()[0])
    return bare if nought else said if value < 0 else f"+{said}"


def _digit(spread: float) -> float:
    """A step that says enough of a scatter: a tenth of it [SI]."""
    return spread / 10


def _units(count: int) -> str:
    return "1 unit" if count == 1 else f"{count} units"
