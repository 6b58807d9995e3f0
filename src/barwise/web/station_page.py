"""What a station's page shows: one check in front with its form and its decision, the others as a list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.http import HttpRequest

from barwise.errors import BarwiseError, InputError
from barwise.inspect.checks import Limit, Outcome, SheetFacts
from barwise.inspect.checks.wording import allowed
from barwise.measure.units import names_of
from barwise.record.answers import catch_up, whole_answer
from barwise.record.dispositions import CHOICES, dispositions, proposal
from barwise.record.entry import Question
from barwise.record.in_force import in_force, taken
from barwise.record.instruments import due, in_use
from barwise.record.meters import HAND, how_read, pedal_said
from barwise.record.models import Disposition, Instrument, Job, Part, Photo, Reading, Shop
from barwise.record.overview import is_open
from barwise.record.past.models_read import own_history
from barwise.record.results import WALKS, as_outcome, live_outcome, newest_result
from barwise.record.route_of import route_of
from barwise.record.standing import CheckStand, job_stand
from barwise.record.walking import band_tracks
from barwise.record.withdrawals import NoLongerCounted, latest_withdrawn
from barwise.report.parts.check_picture import check_pictures
from barwise.report.past.words import span_in_words, unusual_in_words
from barwise.route.family import Check, Family, Station
from barwise.web.entry_form import EntryForm, last_used
from barwise.web.vehicle_form import VehicleForm, vehicle_form
from barwise.web.walk_page import HOWS

YES_NO = ("yes", "no")
SAME_TRACK = 0.2
"""Tracks nearer to each other than this share of the length tell no taper; common practice, no source."""
LONG_NAME = 7
"""Letters of a place's name that stand beside a mark in the narrowest column."""
NOT_AT_THE_BENCH = ("m", "ft")
"""No part of a starter is measured in these, so they would only stand in the way."""
FIELDS = {"from": "place"} | {name: name for name in ("reason", "track", "instrument", "how", "pedal")}
"""Fields of the form by what a refusal calls them; whatever else is refused stands beside the value."""


@dataclass(frozen=True)
class Heard:
    """What came of a form that was sent: taken, asked about, or refused with what was typed."""

    form: EntryForm | None = None
    taken: Reading | None = None
    question: Question | None = None
    wrong: BarwiseError | None = None

    @property
    def field(self) -> str:
        """The field a refusal is about."""
        return FIELDS.get(self.wrong.where, "value") if isinstance(self.wrong, InputError) else "form"


@dataclass(frozen=True)
class Place:
    """One place of a check, such as the third brush, and how often it was read."""

    name: str
    readings: int


@dataclass(frozen=True)
class Tool:
    """An instrument that may be picked, and whether its calibration ran out."""

    pk: str
    name: str
    overdue: bool


@dataclass(frozen=True)
class Hears:
    """The meter that the check in front hears: which, how, and the key of its pedal."""

    instrument: Instrument
    how: str
    pedal: str


@dataclass(frozen=True)
class Card:
    """The check in front.

    Attributes
    ----------
    stand : CheckStand
    outcome : Outcome or None
        None where nothing was taken or nothing can be decided yet; then `undecidable` says why.
    limit, allowed : Limit or None, str
        The limit, and its words.
    pictures : tuple of str
        Limit line and the part drawn, as SVG; none where there is nothing to draw.
    readings, withdrawn : tuple
        Those in force, and the latest that no longer count.
    asked_for : int
        Readings the route asks for at each place.
    answers : tuple of str
        What can be answered, for large buttons.
    usually_first : tuple of str
        Titles of checks that the route asks for before this one and that were not taken.
    meter : Hears or None
        None where the readings are taken by hand.
    usual, unusual : str
        What is usual by the shop's own record where there is no limit, and how this one stands apart from it.
    vehicle : VehicleForm or None
        The fields of a vehicle, where that is what the check takes.
    """

    stand: CheckStand
    heard: Heard
    form: EntryForm
    outcome: Outcome | None
    undecidable: str
    limit: Limit | None
    allowed: str
    pictures: tuple[str, ...]
    readings: tuple[Reading, ...]
    withdrawn: tuple[NoLongerCounted, ...]
    places: tuple[Place, ...]
    asked_for: int
    answers: tuple[str, ...]
    units: tuple[str, ...]
    tools: tuple[Tool, ...]
    usually_first: tuple[str, ...]
    meter: Hears | None = None
    usual: str = ""
    unusual: str = ""
    vehicle: VehicleForm | None = None

    @property
    def hows(self) -> Mapping[str, str]:
        """By hand, or by a meter that talks."""
        return HOWS

    @property
    def asks_pedal(self) -> bool:
        """Whether the key of a pedal is of use here."""
        return self.form.how == "pedal"

    @property
    def wrong_field(self) -> str:
        """The field that was refused, if one was."""
        return self.heard.field if self.heard.wrong else ""

    @property
    def rests(self) -> bool:
        """Whether the meter takes nothing, since all was read: the hand may be at the next part by now."""
        return self.complete and self.corrected is None and not self.form.more

    @property
    def is_walk(self) -> bool:
        """Whether it is walked bar by bar, on a page of its own."""
        return self.stand.check.entry in WALKS

    @property
    def long_names(self) -> bool:
        """Whether its places have names that need more room than a number."""
        return any(len(place.name) > LONG_NAME for place in self.places)

    @property
    def complete(self) -> bool:
        """Whether all that the route asks for was read."""
        counts = [place.readings for place in self.places] or [len(self.readings)]
        return min(counts) >= self.asked_for

    @property
    def line(self) -> str:
        """The outcome's sentence, without title and source, which stand above it."""
        return "" if self.outcome is None else self.stand.beside(self.outcome.line, self.limit)

    @property
    def reading_number(self) -> int:
        """Which reading comes next at the place that is picked."""
        at_place = [one for one in self.readings if one.place_from == self.form.place or not self.places]
        return len(at_place) + 1

    @property
    def answered(self) -> str:
        """The answer given last, where there is one place only."""
        return self.readings[-1].entered if self.readings and self.answers and not self.places else ""

    @property
    def typed(self) -> dict[str, str]:
        """What a form of its own has to carry along, by the names of its fields."""
        kept = {name: value for name, value in vars(self.form).items() if isinstance(value, str) and value}
        return {**kept, "anew": "1"} if self.form.anew else kept

    @property
    def corrected(self) -> Reading | None:
        """The reading that the form corrects."""
        return next((one for one in self.readings if str(one.key) == self.form.corrects), None)


@dataclass(frozen=True)
class StationPage:
    """A station of a job, with one check in front."""

    job: Job
    station: Station
    checks: tuple[tuple[CheckStand, str], ...]
    card: Card
    onward: CheckStand | None
    before: Station | None
    after: Station | None
    proposed: str
    decided: tuple[Disposition, ...]
    parts: tuple[Part, ...]
    photos: tuple[Photo, ...]
    choices: tuple[str, ...] = CHOICES


def station_page(
    request: HttpRequest, job: Job, station: str, front: str = "", heard: Heard | None = None
) -> StationPage:
    """Gather a station's page. Raises InputError where the route has no such station or check."""
    whole = job_stand(job).checks
    stations = list(dict.fromkeys(one.station.key for one in whole))
    route = route_of(job)
    family = route.family
    stage = family.station(station)
    if front:
        family.check(station, front)
    stand = _in_front(_of_station(whole, station), front)
    if catch_up(job, while_reading=stand.name):
        whole = job_stand(job).checks
    checks = _of_station(whole, station)
    stand = _in_front(checks, stand.check.key)
    at = stations.index(station)
    of_station = {"job": job, "station_key": station}
    return StationPage(
        job=job,
        station=stage,
        checks=tuple((one, one.beside(one.line, route.limit(one.check))) for one in checks),
        card=card(request, job, stand, heard or Heard()),
        onward=_onward(checks, stand),
        before=family.station(stations[at - 1]) if at else None,
        after=family.station(stations[at + 1]) if at + 1 < len(stations) else None,
        proposed=proposal(job, station),
        decided=tuple(one for one in dispositions(job) if one.station_key == station),
        parts=tuple(Part.objects.filter(**of_station).order_by("id")),
        photos=tuple(Photo.objects.filter(**of_station).order_by("id")),
    )


def _of_station(whole: tuple[CheckStand, ...], station: str) -> tuple[CheckStand, ...]:
    return tuple(one for one in whole if one.station.key == station)


def card(request: HttpRequest, job: Job, stand: CheckStand, heard: Heard) -> Card:
    """Gather the check in front."""
    check, route = stand.check, route_of(job)
    readings = () if check.entry in WALKS else tuple(in_force(job, stand.station.key, check.key))
    outcome, undecidable = _outcome(job, stand)
    limit = route.limit(check)
    places = tuple(
        Place(name, sum(one.place_from == name for one in readings))
        for name in check.place_names(route.facts.facts)
    )
    form = heard.form or _fresh(request, stand, limit, places, readings, route.facts)
    usual, unusual = _own_history(job, stand, outcome)
    meter, wrong = _meter(check, form)
    if meter is not None:
        form = replace(form, pedal=meter.pedal)
    elif heard.form is not None and heard.wrong is None:
        heard = replace(heard, wrong=wrong)
    return Card(
        stand=stand,
        heard=heard,
        form=form,
        outcome=outcome,
        undecidable=undecidable,
        limit=limit,
        allowed="" if limit is None else allowed(limit, limit.unit),
        pictures=() if outcome is None else check_pictures(check.title, outcome, taken(readings)),
        readings=readings,
        withdrawn=() if check.entry in WALKS else tuple(latest_withdrawn(job, stand.station.key, check.key)),
        places=places,
        asked_for=check.readings,
        answers=tuple(said.say for said in check.answers) or (YES_NO if check.entry == "yes-no" else ()),
        units=_units(check, form.unit),
        tools=_tools(check),
        usually_first=tuple(_title(route.family, name) for name in stand.waits_for),
        meter=meter,
        usual=usual,
        unusual=unusual,
        vehicle=vehicle_form(form.value, heard.wrong) if check.entry == "vehicle" else None,
    )


def _meter(check: Check, form: EntryForm) -> tuple[Hears | None, InputError | None]:
    """The meter that is heard, or why it cannot be."""
    if check.entry != "number":
        return None, None
    try:
        instrument = form.tool(check)
        how, pedal = how_read(form.how, instrument), pedal_said(form.pedal or None, instrument)
    except InputError as error:
        return None, error
    return (None if instrument is None or how == HAND else Hears(instrument, how, pedal)), None


def _own_history(job: Job, stand: CheckStand, outcome: Outcome | None) -> tuple[str, str]:
    """Words of the shop's own record where the sheet has no limit: what is usual, and what of this is not."""
    read = own_history(job, stand.station.key, stand.check)
    if read is None:
        return "", ""
    value = None if outcome is None else outcome.value
    said = "" if read.usual is None else span_in_words(read.usual, read.unit)
    return said, "" if value is None else unusual_in_words(read, value)


def _in_front(checks: tuple[CheckStand, ...], front: str) -> CheckStand:
    """The one asked for, else the next that is open and waits for no other, else the first."""
    ready = [one for one in checks if is_open(one) and not one.waits_for]
    asked = [one for one in checks if one.check.key == front]
    return next(iter([*asked, *ready, *(one for one in checks if is_open(one)), *checks]))


def _onward(checks: tuple[CheckStand, ...], front: CheckStand) -> CheckStand | None:
    """The next open one further down, else the first open one of the station."""
    at = checks.index(front)
    untaken = [one for one in (*checks[at + 1 :], *checks[:at]) if is_open(one) and not one.in_force]
    return next(iter(untaken), None)


def _fresh(
    request: HttpRequest,
    stand: CheckStand,
    limit: Limit | None,
    places: tuple[Place, ...],
    readings: tuple[Reading, ...],
    facts: SheetFacts,
) -> EntryForm:
    """An empty form: the unit used last, else the sheet's, else the shop's or the usual one.

    What is known of a vehicle stands in it, to be added to.
    """
    if stand.check.entry == "vehicle" and readings:
        return EntryForm(value=readings[-1].entered, corrects=str(readings[-1].key))
    unit, instrument, how = last_used(request, stand.check)
    unread = sorted(places, key=lambda place: place.readings)
    bar, track = _next_across(stand, readings, facts)
    form = EntryForm(
        unit=unit or (limit.unit if limit else "") or _usual_unit(stand),
        instrument=instrument,
        place=unread[0].name if unread else bar,
        track=track,
        how=how,
        more=request.GET.get("more", ""),
    )
    if page := request.POST.get("page"):
        form = replace(form, page=page)
    wanted = request.GET.get("correct", "")
    return replace(form, corrects=wanted) if wanted else form


def _bars(facts: SheetFacts) -> int | None:
    known = facts.winding or facts.commutator
    return None if known is None else known.bars


def _next_across(stand: CheckStand, readings: tuple[Reading, ...], facts: SheetFacts) -> tuple[str, str]:
    """Bar and track to be measured across next: a quarter turn on, for out of round; then another track.

    Two diameters a quarter turn apart, on two tracks of the brush band, are common practice, no source. Empty
    where it is the hand's own choice: the first, and all that come after.
    """
    last, bars = readings[-1] if readings else None, _bars(facts)
    if stand.check.at != "bar-track" or last is None or not last.place_from.isdecimal() or not bars:
        return "", ""
    on_track = [one.place_from for one in readings if one.track == last.track]
    if len(on_track) % 2 == 0:
        read = [float(one.track) for one in readings if one.track]
        others = (one for one in band_tracks(facts) if all(abs(float(one) - at) > SAME_TRACK for at in read))
        return on_track[-2], next(others, "")
    return str((int(last.place_from) - 1 + round(bars / 4)) % bars + 1), last.track


def _units(check: Check, picked: str) -> tuple[str, ...]:
    """Units to pick from; one that nobody measures with here may still be typed behind the number."""
    known = names_of(check.quantity) if check.quantity else ()
    return tuple(name for name in known if name not in NOT_AT_THE_BENCH or name == picked)


def _tools(check: Check) -> tuple[Tool, ...]:
    if check.entry != "number":
        return ()
    fitting = [one for one in in_use() if one.quantity == check.quantity]
    return tuple(Tool(str(one.pk), str(one), due(one) == "overdue") for one in fitting)


def _title(family: Family, name: str) -> str:
    station, _, check = name.partition(".")
    return f"{family.station(station).title}: {family.check(station, check).title}"


def _usual_unit(stand: CheckStand) -> str:
    if stand.check.quantity != "length":
        return stand.check.unit
    return Shop.objects.values_list("length_unit", flat=True).first() or stand.check.unit


def _outcome(job: Job, stand: CheckStand) -> tuple[Outcome | None, str]:
    """The result that is kept; what is no walk and has none is decided here, to say why it cannot be."""
    if not stand.in_force:
        return None, ""
    station, check = stand.station.key, stand.check
    kept = newest_result(job, station, check.key)
    if kept is not None and (not stand.out_of_date or check.entry in WALKS):
        whole = whole_answer(kept) if check.entry == "vehicle" else None
        return whole or as_outcome(kept), ""
    if check.entry in WALKS:
        return None, ""
    try:
        return live_outcome(job, station, check.key), ""
    except BarwiseError as error:
        return None, str(error)
