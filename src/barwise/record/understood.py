"""What the bench sends for one reading, and what is understood by it at its check."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from barwise.errors import InputError
from barwise.files.cranking_file import vehicle_facts
from barwise.files.readings_file import Counts, read_cells
from barwise.files.text import nearest_word, shown
from barwise.machine.feed import Feed
from barwise.measure.entered import read_number
from barwise.record.models import Instrument, Shop
from barwise.record.models.reading import PLACE_LENGTH
from barwise.record.route_of import RouteOfJob
from barwise.record.typed import Typed, check_possible, read_typed
from barwise.route.family import Check

LONGEST_NOTE = 4000
_ANY_ARMATURE = Counts(1000, 1000)


@dataclass(frozen=True)
class Entry:
    """One reading as the bench sends it.

    Attributes
    ----------
    key : UUID
        Made at the bench; the same key is the same reading.
    station, check : str
        Keys of the route.
    text : str
        As typed: a number with or without its unit, an answer, or a note.
    unit : str
        Where the text has none; empty is the check's own.
    test, place_from, place_to, track : str
        Armature test; bars, or the one place; fraction of the length from the riser end.
    feed : Feed or None
    instrument : Instrument or None
    taken_at : datetime or None
        By the bench's clock; None is now.
    supersedes : UUID or None
        Key of the reading it corrects.
    confirmed : bool
        It was asked about and is meant as typed.
    said, said_unit : str
        The line of the meter that read it, and the unit it meant; empty where it was typed.
    """

    key: UUID
    station: str
    check: str
    text: str
    unit: str = ""
    test: str = ""
    place_from: str = ""
    place_to: str = ""
    track: str = ""
    feed: Feed | None = None
    instrument: Instrument | None = None
    taken_at: datetime | None = None
    supersedes: UUID | None = None
    confirmed: bool = False
    said: str = ""
    said_unit: str = ""


@dataclass(frozen=True)
class Understood:
    """What a reading says: as typed, its unit, its value in SI, and where it was taken.

    `typed` is the number itself, for a check that takes one.
    """

    entered: str
    unit: str
    value_si: float | None
    place_from: str
    place_to: str
    track: str
    typed: Typed | None = None


def check_of(route: RouteOfJob, entry: Entry) -> Check:
    """The check a reading is for. Raises InputError if there is none, or the test is none of its walks."""
    check = route.family.check(entry.station, entry.check)
    tests = [walk.test for walk in check.walks]
    if check.entry == "bar-walk" and entry.test not in tests:
        found = shown(entry.test) if entry.test else "nothing"
        raise InputError("test", found, f"one of {', '.join(tests)}{nearest_word(entry.test, tests)}")
    if check.entry != "bar-walk" and (entry.test or entry.feed is not None):
        raise InputError("test" if entry.test else "feed", "one", f"none: {check.title} is no walk of tests")
    return check


def understand(route: RouteOfJob, check: Check, entry: Entry) -> Understood:
    """What a reading says. Raises InputError with the field as its place if it cannot be taken."""
    if check.entry == "bar-walk":
        return _of_bars(route, check, entry)
    if check.entry in ("number", "profile-walk"):
        return _of_number(route, check, entry)
    if check.entry == "vehicle":
        return _of_vehicle(route, check, entry)
    return _of_words(route, check, entry)


def _of_bars(route: RouteOfJob, check: Check, entry: Entry) -> Understood:
    usual = next(walk.unit for walk in check.walks if walk.test == entry.test)
    number, unit = _split(entry.text, entry.unit or usual)
    feed = entry.feed
    cells = {
        "test": entry.test,
        "from": entry.place_from,
        "to": entry.place_to,
        "value": number,
        "unit": unit if read_number(number) else "",
        "feed_from": str(feed.into) if feed else "",
        "feed_to": str(feed.out) if feed else "",
        "feed_amps": repr(feed.amps) if feed else "",
    }
    try:
        read = read_cells(cells, _armature(route), "entry")
    except InputError as error:
        raise InputError(error.where.rpartition("column ")[2], error.found, error.expected) from None
    ends_at = "" if read.test == "blade" else "shaft" if read.end is None else str(read.end)
    typed = _typed_part(entry.text) if read.value is not None else read.entered
    kept = read.unit if read.value is not None else ""
    return Understood(typed, kept, read.value, str(read.start), ends_at, "")


def _of_number(route: RouteOfJob, check: Check, entry: Entry) -> Understood:
    typed = read_typed(entry.text, entry.unit or check.unit, check.quantity, decimal_comma=_decimal_comma())
    check_possible(typed, check.quantity, signed=check.entry == "profile-walk")
    at_bar = check.entry == "profile-walk" or check.at == "bar-track"
    place_from, track = _bar_and_track(route, check, entry) if at_bar else (_place(route, check, entry), "")
    return Understood(_typed_part(entry.text), typed.unit, typed.value_si, place_from, "", track, typed)


def _of_words(route: RouteOfJob, check: Check, entry: Entry) -> Understood:
    said = entry.text.strip()
    if not said:
        raise InputError("value", "nothing", "an answer" if check.answers else "a few words")
    if len(said) > LONGEST_NOTE:
        raise InputError("value", f"{len(said)} characters", f"at most {LONGEST_NOTE}")
    answers = [answer.say for answer in check.answers] or (["yes", "no"] if check.entry == "yes-no" else [])
    if answers:
        match = next((answer for answer in answers if answer.casefold() == said.casefold()), None)
        if match is None:
            raise InputError(
                "value", shown(said), f"one of {', '.join(answers)}{nearest_word(said, answers)}"
            )
        said = match
    return Understood(said, "", None, _place(route, check, entry), "", "")


def _of_vehicle(route: RouteOfJob, check: Check, entry: Entry) -> Understood:
    """The text of a vehicle file, letter for letter; it may leave things open."""
    said = entry.text.strip()
    if not said:
        raise InputError("value", "nothing", "what is known of the vehicle, such as its battery")
    if len(said) > LONGEST_NOTE:
        raise InputError("value", f"{len(said)} characters", f"at most {LONGEST_NOTE}")
    vehicle_facts(said)
    return Understood(said, "", None, _place(route, check, entry), "", "")


def _armature(route: RouteOfJob) -> Counts:
    winding, commutator = route.facts.winding, route.facts.commutator
    if winding is not None:
        return Counts(winding.bars, winding.slots)
    return Counts(commutator.bars, None) if commutator is not None else _ANY_ARMATURE


def _bar_and_track(route: RouteOfJob, check: Check, entry: Entry) -> tuple[str, str]:
    bars = _armature(route).bars
    if not entry.place_from and check.at == "bar-track":
        return "", ""  # a diameter whose place was not noted is a diameter all the same
    bar = entry.place_from.strip()
    if not (bar.isdecimal() and bar.isascii() and 1 <= int(bar) <= bars):
        raise InputError("from", shown(bar) if bar else "nothing", f"a bar from 1 to {bars}")
    track = read_number(entry.track.strip().replace(",", "."))
    if track is None or not 0 <= track.value <= 1:
        wanted = "a fraction of the length from the riser end, 0 to 1"
        raise InputError("track", shown(entry.track) if entry.track else "nothing", wanted)
    return str(int(bar)), entry.track.strip().replace(",", ".")[:PLACE_LENGTH]


def _place(route: RouteOfJob, check: Check, entry: Entry) -> str:
    if entry.place_to or entry.track:
        raise InputError("to" if entry.place_to else "track", "one", f"none for {check.title}")
    names, place = check.place_names(route.facts.facts), entry.place_from.strip()
    if names and place not in names:
        word = check.places.word if check.places else "place"
        raise InputError("from", shown(place) if place else "nothing", f"{word} {names[0]} to {names[-1]}")
    if check.places is None and place:
        raise InputError("from", shown(place), f"no place: {check.title} is read at one place only")
    return place[:PLACE_LENGTH]


def _split(text: str, unit: str) -> tuple[str, str]:
    """Number with a decimal point, and unit, as gauges send ``3.59mV``; words and slips as they are."""
    written = text.strip()
    number = _typed_part(written)
    behind = written[len(number) :].strip()
    if _decimal_comma() and number.count(",") == 1 and "." not in number:
        number = number.replace(",", ".")
    if read_number(number) is None:
        return written, unit
    return number, behind or unit


def _typed_part(text: str) -> str:
    """The number as typed, without a unit behind it."""
    written = text.strip()
    return written.rstrip("".join(sign for sign in written if not (sign.isdigit() or sign in ".,"))).rstrip()


def _decimal_comma() -> bool:
    return bool(Shop.objects.values_list("decimal_comma", flat=True).first())
