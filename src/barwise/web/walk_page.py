"""What the page of a walk shows: how it is set up, where to touch next, and what was read at each place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any
from uuid import UUID, uuid4

from django.http import HttpRequest
from django.urls import reverse

from barwise.errors import InputError
from barwise.inspect.bar_walk import USUAL_AMPS, Odd
from barwise.record.entry import Question
from barwise.record.instruments import due, in_use
from barwise.record.models import Job, Person, Reading
from barwise.record.walk_of import odd_one_out
from barwise.record.walking import (
    Setup,
    Stop,
    TestStand,
    WalkPlan,
    decimal_comma,
    readings_since,
    suggested_feed,
    suggested_tracks,
    taken_on,
    tests_of,
    walk_plan,
)
from barwise.report.decimal_sign import with_comma
from barwise.report.measured.walk_ring import Cell, draw
from barwise.route.cautions import Caution
from barwise.route.family import Station
from barwise.web.api_schemas import outlook_out, reading_out

SETUP_FIELDS = (
    "test",
    "unit",
    "feed_from",
    "feed_to",
    "feed_amps",
    "tracks",
    "bars",
    "instrument",
    "how",
    "pedal",
)
HOWS = {"hand": "By hand", "steady": "The meter, when steady", "pedal": "The meter, at the pedal"}


@dataclass(frozen=True)
class WalkHeard:
    """What came of a reading sent without a script: taken, asked about, or refused with what was typed."""

    typed: str = ""
    wrong: str = ""
    question: Question | None = None
    taken: Reading | None = None

    @property
    def odd(self) -> Odd | None:
        """Whether the reading taken is out of family."""
        return None if self.taken is None else odd_one_out(self.taken)


@dataclass(frozen=True)
class Row:
    """One stop and what was read there."""

    number: int
    stop: Stop
    readings: tuple[Reading, ...]


@dataclass(frozen=True)
class WalkPage:
    """A walk with its setup form; `wrong` is what cannot be in the setup, `said` what was typed there."""

    plan: WalkPlan
    station: Station
    person: Person | None
    said: Mapping[str, str]
    heard: WalkHeard
    wrong: InputError | None
    at: int
    going: bool

    @property
    def title(self) -> str:
        """Of the test, or of the check."""
        return self.plan.check.title if self.plan.walk is None else self.plan.walk.title

    @property
    def do(self) -> str:
        """What to do with the hands."""
        return self.plan.check.do if self.plan.walk is None else self.plan.walk.do

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What can hurt here."""
        of_walk = () if self.plan.walk is None else self.plan.walk.cautions
        return (*of_walk, *self.plan.check.cautions)

    @property
    def asks_setup(self) -> bool:
        """Whether something must be said before the walk can begin."""
        return bool(self.plan.missing or self.wrong)

    @cached_property
    def tests(self) -> tuple[TestStand, ...]:
        """The tests of this check."""
        return tests_of(self.plan)

    @property
    def next_test(self) -> TestStand | None:
        """The test after this one in the route's order, if there is one that is not blocked by the sheet."""
        keys = [one.walk.test for one in self.tests]
        after = keys.index(self.plan.walk.test) + 1 if self.plan.walk is not None else len(keys)
        return self.tests[after] if after < len(self.tests) else None

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """Every stop with its readings."""
        found: dict[Stop, list[Reading]] = {}
        for one in taken_on(self.plan):
            found.setdefault(Stop(one.place_from, one.place_to, one.track), []).append(one)
        return tuple(Row(n, stop, tuple(found.get(stop, ()))) for n, stop in enumerate(self.plan.stops))

    @property
    def count_taken(self) -> int:
        """Stops that were read."""
        return sum(bool(row.readings) for row in self.rows)

    @property
    def signs(self) -> str:
        """The number keys, three in a row."""
        return f"789456123±0{',' if decimal_comma() else '.'}⌫"

    @property
    def here(self) -> Row | None:
        """Where the next reading goes: the stop asked for, else the first that was not read."""
        if 0 <= self.at < len(self.rows):
            return self.rows[self.at]
        return next((row for row in self.rows if not row.readings), None)

    @property
    def word(self) -> str:
        """What is touched at each place of this walk."""
        if self.plan.setup.test == "blade":
            return "slot"
        ends = {stop.place_to for stop in self.plan.stops}
        return "bar to shaft" if "shaft" in ends else "bar" if ends == {""} else "bars"

    @property
    def wanted(self) -> str:
        """What can be typed."""
        number = f"a number such as 3{',' if decimal_comma() else '.'}59"
        said = " or ".join(self.plan.states)
        return ", or ".join(part for part in (self.plan.setup.unit and number, said) if part)

    @property
    def setup_form(self) -> dict[str, str]:
        """What stands in the setup form: what was typed, else how it is set up, else what is usual."""
        setup = self.plan.setup
        feed = setup.feed or suggested_feed(self.plan)
        shown = {
            "feed_from": str(feed.into) if feed else "",
            "feed_to": str(feed.out) if feed else "",
            "feed_amps": f"{feed.amps:g}" if feed else f"{USUAL_AMPS:g}",
            "tracks": " ".join(setup.tracks or suggested_tracks(self.plan)),
            "bars": str(setup.bars or ""),
            "unit": setup.unit,
            "instrument": str(setup.instrument.pk) if setup.instrument else "",
            "how": setup.how,
            "pedal": setup.pedal,
        }
        return {**shown, **{name: text for name, text in self.said.items() if text or self.wrong}}

    @property
    def tools(self) -> list[tuple[str, str]]:
        """Instruments for this quantity: number and name."""
        fitting = [one for one in in_use() if one.quantity == self.plan.quantity]
        overdue = " (calibration overdue)"
        return [(str(one.pk), f"{one}{overdue if due(one) == 'overdue' else ''}") for one in fitting]

    @property
    def hows(self) -> Mapping[str, str]:
        """By hand, or by a meter that talks."""
        return HOWS

    @cached_property
    def page_key(self) -> UUID:
        """What this page is known by to a meter that reads for it."""
        return uuid4()

    @property
    def query(self) -> dict[str, str]:
        """The setup as it goes into an address."""
        return setup_query(self.plan.setup)

    @cached_property
    def address(self) -> str:
        """Of the walk, without its setup."""
        return reverse("walk", args=[self.plan.job.pk, self.plan.station, self.plan.check.key])

    def ring(self) -> str:
        """The commutator with its places, as SVG."""
        count, feed = self.plan.count, self.plan.setup.feed
        if not count:
            return ""
        here = self.here
        cells = [
            Cell(
                (int(row.stop.place_from) - 1 + (0.5 if row.stop.is_pair else 0.0)) / count,
                self.plan.setup.tracks.index(row.stop.track) if row.stop.track else 0,
                f"{'read' if row.readings else 'open'}{' now' if row is here else ''}",
            )
            for row in self.rows
        ]
        return draw(count, cells, None if feed is None else (feed.into, feed.out))

    def for_script(self) -> dict[str, Any]:
        """Everything the script of the page needs."""
        plan, setup, comma = self.plan, self.plan.setup, decimal_comma()
        rows = readings_since(plan.job, plan.station, plan.check.key)
        feed = None if setup.feed is None else vars(setup.feed)

        def track(stop: Stop) -> str:
            words = f"track {stop.track}"
            return with_comma(words) if comma else words

        return {
            "job": plan.job.pk,
            "station": plan.station,
            "check": plan.check.key,
            "test": setup.test,
            "title": self.title,
            # What every reading of this walk is sent with.
            "body": {
                "station": plan.station,
                "check": plan.check.key,
                "test": setup.test,
                "feed": feed,
                "instrument": None if setup.instrument is None else setup.instrument.pk,
                "typed_by": None if self.person is None else self.person.pk,
                "hint": False,
            },
            "unit": setup.unit,
            "factors": plan.factors,
            "states": list(plan.states),
            "feed": feed,
            "tracks": list(setup.tracks),
            "count": plan.count,
            "stops": [
                [stop.place_from, stop.place_to, stop.track, stop.pair, stop.track and track(stop)]
                for stop in plan.stops
            ],
            "word": self.word,
            "wanted": self.wanted,
            "outlook": outlook_out(plan.outlook()),
            "setup": self.query,
            "comma": "," if comma else "",
            "person": None if self.person is None else {"id": self.person.pk, "name": self.person.name},
            "rows": [reading_out(row).model_dump(mode="json") for row in rows],
            "last": rows[-1].seq if rows else 0,
            "next": "" if self.next_test is None else f"{self.address}?test={self.next_test.walk.test}",
        }


def walk_page(
    request: HttpRequest,
    job: Job,
    station: str,
    check: str,
    person: Person | None,
    heard: WalkHeard | None = None,
) -> WalkPage:
    """The page of one walk. Raises InputError where there is no such check, or it is no walk."""
    sent = request.POST if request.method == "POST" else request.GET
    said = {name: str(sent[name]) for name in SETUP_FIELDS if name in sent}
    wrong = None
    try:
        plan = walk_plan(job, station, check, said)
    except InputError as error:
        kept = {} if error.where == "test" else {"test": said.get("test", "")}
        plan, wrong = walk_plan(job, station, check, kept), error
    at = str(sent.get("at", ""))
    return WalkPage(
        plan=plan,
        station=plan.route.family.station(station),
        person=person,
        said=said,
        heard=heard or WalkHeard(),
        wrong=wrong,
        at=int(at) if at.isdecimal() and len(at) < 6 else -1,
        going=job.state != "closed",
    )


def setup_query(setup: Setup) -> dict[str, str]:
    """A setup as the fields of an address."""
    feed = setup.feed
    fields = {
        "test": setup.test,
        "unit": setup.unit,
        "feed_from": "" if feed is None else str(feed.into),
        "feed_to": "" if feed is None else str(feed.out),
        "feed_amps": "" if feed is None else repr(feed.amps),
        "tracks": " ".join(setup.tracks),
        "bars": "" if setup.bars is None else str(setup.bars),
        "instrument": "" if setup.instrument is None else str(setup.instrument.pk),
        "how": setup.how if setup.meter_reads else "",
        "pedal": setup.pedal if setup.how == "pedal" else "",
    }
    return {name: text for name, text in fields.items() if text or (name == "instrument" and setup.unit)}
