"""A walk round the bars as the bench takes it: where to touch, under what feed, and what was read so far.

The record is the truth about a walk. Whoever opens it, on whatever device, goes on where it stands.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import get_args

from django.db.models import Count, Q

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.inspect.bar_walk import FED, Outlook, WalkTest, usual_feed
from barwise.inspect.checks import SheetFacts
from barwise.inspect.commutator.neighbours import outlook
from barwise.machine.feed import Feed
from barwise.measure.entered import read_number
from barwise.measure.units import UNITS, find_unit, names_of
from barwise.record.habits import the_shop
from barwise.record.in_force import feed_of, in_force
from barwise.record.meters import HAND, how_read, pedal_said
from barwise.record.models import Instrument, Job, Reading
from barwise.record.results import WALKS
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.walk_of import bar_walk, outlook_of, step_of
from barwise.route.family import Check, Walk

_BAR_TESTS: tuple[WalkTest, ...] = get_args(WalkTest)
STATES: Mapping[str, tuple[str, str]] = {"ground": ("dark", "lit"), "blade": ("quiet", "buzz")}
"""Tests that are answered in words."""
_QUANTITIES = {"drop": "voltage", "induced": "voltage", "shaft-drop": "voltage"}
MOST_BARS = 1000
_BAND_PARTS = (0.25, 0.75)
"""Where two tracks lie in the brush band, unless the bench says otherwise: common practice, no source."""


@dataclass(frozen=True)
class Setup:
    """How a walk is taken: one test under one feed, or one set of tracks, in one unit.

    Attributes
    ----------
    test : str
        Empty for a walk with the dial.
    unit : str
    feed : Feed or None
    tracks : tuple of str
        Fractions of the length from the riser end, as typed; for a walk with the dial.
    bars : int or None
        Bars or slots as counted at the bench, where the sheet does not say.
    instrument : Instrument or None
    """

    test: str = ""
    unit: str = ""
    feed: Feed | None = None
    tracks: tuple[str, ...] = ()
    bars: int | None = None
    instrument: Instrument | None = None
    how: str = HAND
    pedal: str = ""

    @property
    def meter_reads(self) -> bool:
        """Whether the instrument is a meter that talks, and is heard."""
        return self.how != HAND


@dataclass(frozen=True)
class Stop:
    """One place to touch: two bars, a bar and the shaft, a slot, or a bar and a track."""

    place_from: str
    place_to: str = ""
    track: str = ""

    @property
    def is_pair(self) -> bool:
        """Whether it lies between two bars."""
        return bool(self.place_to) and self.place_to != "shaft"

    @property
    def pair(self) -> str:
        """The two bars, or the bar or slot alone."""
        return f"{self.place_from}–{self.place_to}" if self.is_pair else self.place_from


@dataclass(frozen=True)
class TestStand:
    """One test of a walk and how many of its readings are in force."""

    walk: Walk
    taken: int


@dataclass(frozen=True)
class WalkPlan:
    """One walk of one check: what to do, and every stop of it."""

    job: Job
    station: str
    check: Check
    setup: Setup

    @cached_property
    def route(self) -> RouteOfJob:
        """Family and sheet of the job."""
        return route_of(self.job)

    @property
    def walk(self) -> Walk | None:
        """What the route says of this test; None for a walk with the dial."""
        return next((one for one in self.check.walks if one.test == self.setup.test), None)

    @property
    def is_fed(self) -> bool:
        """Whether current must be fed."""
        return self.setup.test in FED

    @property
    def states(self) -> tuple[str, str] | tuple[()]:
        """What can be answered in words."""
        return STATES.get(self.setup.test, ())

    @property
    def quantity(self) -> str:
        """What is read."""
        if not self.setup.test:
            return self.check.quantity
        return _QUANTITIES.get(self.setup.test, "" if self.setup.test == "blade" else "resistance")

    @property
    def factors(self) -> dict[str, float]:
        """Units it can be read in; each with its size in SI."""
        return {unit.name: unit.factor for unit in UNITS.values() if unit.dimension == self.quantity}

    @cached_property
    def count(self) -> int | None:
        """Bars to go round, or slots; None where nobody knows yet."""
        winding, commutator = self.route.facts.winding, self.route.facts.commutator
        if self.setup.test == "blade":
            return None if winding is None else winding.slots
        known = winding.bars if winding is not None else commutator.bars if commutator is not None else None
        return self.setup.bars if known is None else known

    @property
    def bars_are_asked(self) -> bool:
        """Whether the sheet leaves it to the bench to count the bars."""
        facts = self.route.facts
        return self.setup.test != "blade" and facts.winding is None and facts.commutator is None

    @cached_property
    def missing(self) -> str:
        """What must be said before the walk can begin; empty when nothing is."""
        if self.setup.test == "blade" and self.count is None:
            return "The model sheet names no slots, so the strip has no places. Put them into its winding."
        if self.count is None:
            return "How many bars? The model sheet does not say."
        if self.is_fed and self.setup.feed is None:
            return "Where does the current go in and out, and how much?"
        if self.check.entry == "profile-walk" and not self.setup.tracks:
            return "On which tracks?"
        return ""

    @cached_property
    def stops(self) -> tuple[Stop, ...]:
        """Where to touch, in order."""
        if self.missing or self.count is None:
            return ()
        every = range(1, self.count + 1)
        if not self.setup.test:
            return tuple(Stop(str(bar), "", track) for track in self.setup.tracks for bar in every)
        if self.setup.test == "blade":
            return tuple(Stop(str(slot)) for slot in every)
        test = next(known for known in _BAR_TESTS if known == self.setup.test)
        if self.route.winding is not None:
            places = bar_walk(self.route.winding, test, self.setup.feed).places
        elif test in ("ground", "shaft-drop"):
            places = tuple((bar, None) for bar in every)
        else:
            places = tuple((bar, bar % self.count + 1) for bar in every)
        return tuple(Stop(str(start), "shaft" if end is None else str(end)) for start, end in places)

    def outlook(self) -> tuple[Outlook | None, ...]:
        """What each stop should read by the readings taken on this walk; None where nobody knows."""
        if self.setup.tracks:
            return self._outlook_on_tracks()
        test = next((known for known in _BAR_TESTS if known == self.setup.test), None)
        if test is None or not self.stops or self.route.winding is None:
            return (None,) * len(self.stops)
        walk = bar_walk(self.route.winding, test, self.setup.feed)
        return outlook_of(walk, self.job, self.station, self.check.key)

    def _outlook_on_tracks(self) -> tuple[Outlook | None, ...]:
        columns = ("track", "place_from", "value_si", "entered", "unit")
        rows = list(in_force(self.job, self.station, self.check.key).values_list(*columns))
        found: list[Outlook | None] = []
        for track in self.setup.tracks:
            own = [row for row in rows if row[0] == track]
            taken = {int(bar) - 1: value for _, bar, value, _, _ in own if value is not None}
            step = max((step_of(entered, unit) for *_, entered, unit in own), default=0.0)
            found += outlook(taken, self.count or 0, step)
        return tuple(found)


def walk_plan(job: Job, station: str, check_key: str, said: Mapping[str, str]) -> WalkPlan:
    """The walk of a check, set up as the bench says, else as it was last taken, else as is usual.

    Parameters
    ----------
    said : mapping of str to str
        What the bench typed: test, unit, feed_from, feed_to, feed_amps, tracks, bars, instrument, how, pedal.

    Raises
    ------
    InputError
        If there is no such check, it is no walk, or something that was said cannot be.
    """
    check = route_of(job).family.check(station, check_key)
    if check.entry not in WALKS:
        raise InputError("check", check.title, "a check that is walked bar by bar")
    test = _test(check, said.get("test", ""))
    bare = WalkPlan(job, station, check, Setup(test=test, bars=_bars(said.get("bars", ""))))
    before = _Before(bare)
    instrument = _instrument(bare, said.get("instrument"), before)
    return replace(
        bare,
        setup=replace(
            bare.setup,
            how=how_read(said.get("how", ""), instrument),
            pedal=pedal_said(said.get("pedal"), instrument),
            unit=_unit(bare, said.get("unit", ""), before),
            feed=_feed(bare, said, before),
            tracks=_tracks(bare, said.get("tracks", "")),
            instrument=instrument,
        ),
    )


@dataclass(frozen=True)
class _Before:
    """How a test was taken last; asked of the database only where the bench says nothing."""

    plan: WalkPlan

    @cached_property
    def last(self) -> Reading | None:
        plan = self.plan
        return in_force(plan.job, plan.station, plan.check.key).filter(test=plan.setup.test).last()

    @property
    def unit(self) -> str:
        usual = self.plan.check.unit if self.plan.walk is None else self.plan.walk.unit
        return usual if self.last is None or not self.last.unit else self.last.unit


def suggested_feed(plan: WalkPlan) -> Feed | None:
    """Where the current usually goes in and out; None where the winding is not known."""
    return usual_feed(plan.route.winding) if plan.is_fed and plan.route.winding is not None else None


def suggested_tracks(plan: WalkPlan) -> tuple[str, ...]:
    """Two tracks that lie well in the brush band."""
    return band_tracks(plan.route.facts)


def band_tracks(facts: SheetFacts) -> tuple[str, ...]:
    """The same by what the sheet says of the commutator; of its whole length where it says nothing."""
    commutator = facts.commutator
    start, end = (0.0, 1.0) if commutator is None else commutator.brush_band
    return tuple(f"{start + part * (end - start):.2f}".rstrip("0") for part in _BAND_PARTS)


def tests_of(plan: WalkPlan) -> tuple[TestStand, ...]:
    """The tests of this check with their counts; empty for a walk with the dial."""
    if not plan.check.walks:
        return ()
    rows = in_force(plan.job, plan.station, plan.check.key).order_by().values_list("test")
    counts = dict(rows.annotate(Count("id")))
    return tuple(TestStand(walk, counts.get(walk.test, 0)) for walk in plan.check.walks)


def readings_since(job: Job, station: str, check: str, after: int = 0) -> list[Reading]:
    """Every row of a check after a number, in order, also those that correct and withdraw.

    Numbers are given under the job's lock, so a later row never becomes visible before an earlier one.
    """
    rows = Reading.objects.filter(job=job, station_key=station, check_key=check, seq__gt=after)
    return list(rows.select_related("supersedes", "person").order_by("seq"))


def taken_on(plan: WalkPlan) -> list[Reading]:
    """Readings in force that belong to this walk: its test, and its feed."""
    feed = plan.setup.feed
    same = Q(test=plan.setup.test)
    if feed is not None:
        same &= Q(feed_from=feed.into, feed_to=feed.out, feed_amps=feed.amps)
    return list(in_force(plan.job, plan.station, plan.check.key).filter(same))


def decimal_comma() -> bool:
    """Whether the shop types a comma as the decimal sign."""
    return the_shop().decimal_comma


def _test(check: Check, said: str) -> str:
    tests = [walk.test for walk in check.walks]
    if not tests:
        return ""
    found = next((test for test in tests if test == said), None)
    if said and found is None:
        raise InputError("test", shown(said), f"one of {', '.join(tests)}")
    return found or tests[0]


def _bars(said: str) -> int | None:
    if not said.strip():
        return None
    bars = _whole(said)
    if bars is None or not 2 <= bars <= MOST_BARS:
        raise InputError("bars", shown(said), f"a number of bars from 2 to {MOST_BARS}")
    return bars


def _unit(plan: WalkPlan, said: str, before: _Before) -> str:
    if plan.setup.test == "blade":
        return ""
    wanted = said or before.unit
    unit = find_unit(wanted)
    if unit is None or unit.dimension != plan.quantity:
        known = ", ".join(names_of(plan.quantity))  # type: ignore[arg-type]  # the route's word is one of them
        raise InputError("unit", shown(wanted), f"one of {known}")
    return unit.name


def _feed(plan: WalkPlan, said: Mapping[str, str], before: _Before) -> Feed | None:
    """As said, else as last time; a current that nobody named is never guessed."""
    names = ("feed_from", "feed_to", "feed_amps")
    if not plan.is_fed:
        return None
    if not any(said.get(name, "").strip() for name in names):
        return None if before.last is None else feed_of(before.last)
    into, out = (_feed_bar(plan, name, said.get(name, "")) for name in names[:2])
    if into == out:
        raise InputError("feed_to", f"bar {out} again", "another bar than where the current goes in")
    written = said.get("feed_amps", "").strip().removesuffix("A").strip().replace(",", ".")
    amps = read_number(written)
    if amps is None or amps.value <= 0:
        found = shown(written) if written else "nothing"
        raise InputError("feed_amps", found, "a current above 0 in amperes, such as 10")
    return Feed(into, out, amps.value)


def _feed_bar(plan: WalkPlan, name: str, said: str) -> int:
    bar, bars = _whole(said), plan.count or MOST_BARS
    if bar is None or not 1 <= bar <= bars:
        raise InputError(name, shown(said.strip()) if said.strip() else "nothing", f"a bar from 1 to {bars}")
    return bar


def _tracks(plan: WalkPlan, said: str) -> tuple[str, ...]:
    """As said; and those that have readings, which do not go away."""
    if plan.check.entry != "profile-walk":
        return ()
    named = said.replace(";", " ").split()
    for one in named:
        track = read_number(one.replace(",", "."))
        if track is None or not 0 <= track.value <= 1:
            wanted = "fractions of the length from the riser end, 0 to 1, such as 0.3 0.7"
            raise InputError("tracks", shown(one), wanted)
    read = in_force(plan.job, plan.station, plan.check.key).order_by("track").values_list("track", flat=True)
    every = dict.fromkeys(one.replace(",", ".") for one in (*named, *read.distinct()))
    return tuple(sorted(every, key=float))


def _instrument(plan: WalkPlan, said: str | None, before: _Before) -> Instrument | None:
    if said is None:
        last = before.last
        return None if last is None or last.instrument is None or last.instrument.retired else last.instrument
    if not said:
        return None
    in_use = Instrument.objects.filter(retired=False, quantity=plan.quantity)
    found = in_use.filter(pk=int(said)).first() if said.isdecimal() and len(said) < 10 else None
    if found is None:
        wanted = f"an instrument for {plan.quantity}, or none"
        raise InputError("instrument", "one not in use for this", wanted)
    return found


def _whole(said: str) -> int | None:
    said = said.strip()
    return int(said) if said.isdecimal() and said.isascii() and len(said) < 6 else None
