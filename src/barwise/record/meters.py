"""Meters that talk: what their listener reports, and the page that gets their readings.

A meter reads for one page at a time, the one that asked last, so a tablet that lies about takes nothing. A
reading is on offer for a few seconds and only in its turn: a page that missed one is told so and never gets
the next one in its place.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.measure.entered import read_number
from barwise.measure.units import find_unit
from barwise.record.models import Instrument, Meter
from barwise.record.models.meter import LINE_LENGTH, PEDAL_LENGTH, WORDS_LENGTH
from barwise.record.refusals import RecordError

HAND = "hand"
"""Read by hand; the other ways are the meter's own."""
HOWS = ("steady", "pedal")
_OF_NUMBERS = tuple("0123456789+-.,")
STATES = ("ready", "settling", "lift", "off scale", "wrong", "silent", "unplugged", "stopped")
GONE = timedelta(seconds=6)
"""A listener, or a page, that was not heard for so long is gone."""
FRESH = timedelta(seconds=5)
"""A reading that was not picked up for so long is not taken any more: the hand is elsewhere by then."""
_SIGN_OF_LIFE = timedelta(seconds=2)


@dataclass(frozen=True)
class Offered:
    """A reading that settled, as the listener reports it: number as text, its unit, the line as written."""

    key: UUID
    text: str
    unit: str
    said: str
    seconds_ago: float = 0.0


@dataclass(frozen=True)
class Report:
    """What a listener says: its meter's state, why where something is wrong, its rule, and for which page."""

    state: str
    words: str = ""
    rule: str = ""
    page: UUID | None = None
    reading: Offered | None = None

    @property
    def kept(self) -> dict[str, Any]:
        """What the row keeps of it."""
        words = {"words": self.words[:WORDS_LENGTH], "rule": self.rule[:WORDS_LENGTH]}
        return {"state": self.state, **words, "follows": self.page}


@dataclass(frozen=True)
class Orders:
    """What the listener is to do: read for a page or for nobody, and how; the pedal's count."""

    page: UUID | None
    how: str
    presses: int


@dataclass(frozen=True)
class News:
    """What a page hears of its meter.

    `reading` is one to take now; `missed` says that one was lost on the way; `has` is whether the meter
    reads for this page, `heard` and `follows` whether its listener lives and knows of this page, and `number`
    what to ask after next.
    """

    meter: Meter
    has: bool
    number: int
    heard: bool
    follows: bool = False
    reading: Meter | None = None
    missed: bool = False


def report(tag: str, quantity: str, said: Report) -> Orders:
    """What a listener says of its meter, and what it is to do.

    Raises
    ------
    RecordError
        If no instrument in use has this tag.
    InputError
        If the instrument reads another quantity, or something reported cannot be.
    """
    instrument = Instrument.objects.filter(tag=tag.strip(), retired=False).first()
    if instrument is None:
        raise RecordError(f"instrument: found {shown(tag)}, expected the tag of one in use")
    if instrument.quantity != quantity:
        raise InputError("quantity", shown(quantity), f"{instrument.quantity}, which {instrument.tag} reads")
    if said.state not in STATES:
        raise InputError("state", shown(said.state), f"one of {', '.join(STATES)}")
    meter, _ = Meter.objects.get_or_create(instrument=instrument)
    now = timezone.now()
    new = said.kept
    same = all(getattr(meter, name) == value for name, value in new.items())
    if not (same and _is_recent(meter.heard_at, now, _SIGN_OF_LIFE)):
        Meter.objects.filter(pk=meter.pk).update(**new, heard_at=now)
    page = meter.page if _is_recent(meter.page_at, now) else None
    if said.reading is not None and page is not None and page == said.page:
        _offer(meter, said.reading, now)
    return Orders(page, meter.how, meter.presses)


def listen(instrument_id: int, page: UUID, how: str, pedal: str = "") -> None:
    """Let a meter read for a page from now on, whichever it read for before.

    Raises
    ------
    RecordError
        If there is no such instrument in use.
    InputError
        If it is to be heard in a way there is not.
    """
    if how not in HOWS:
        raise InputError("how", shown(how), " or ".join(HOWS))
    instrument = Instrument.objects.filter(pk=instrument_id, retired=False).first()
    if instrument is None:
        raise RecordError("instrument: found one not in use, expected one in use")
    Meter.objects.get_or_create(instrument=instrument)
    claimed = {"page": page, "page_at": timezone.now(), "how": how, "pedal": pedal[:PEDAL_LENGTH]}
    Meter.objects.filter(instrument=instrument).update(**claimed)


def press(instrument_id: int, page: UUID) -> None:
    """The pedal was pressed at this page; nothing where the meter reads for another."""
    Meter.objects.filter(instrument_id=instrument_id, page=page).update(presses=F("presses") + 1)


def news(instrument_id: int, page: UUID, after: int | None) -> News:
    """What a page is to hear, after the reading it knows of; with None it begins here and now.

    Raises RecordError if the instrument was never listened to and no page asked for it.
    """
    meter = Meter.objects.select_related("instrument").filter(instrument_id=instrument_id).first()
    if meter is None:
        raise RecordError("meter: found none that was asked for, expected to be told to listen first")
    now = timezone.now()
    has = meter.page == page
    if has and not _is_recent(meter.page_at, now, _SIGN_OF_LIFE):
        Meter.objects.filter(pk=meter.pk, page=page).update(page_at=now)
    heard = _is_recent(meter.heard_at, now) and meter.state != "stopped"
    follows = meter.follows == page
    if not has or after is None or meter.number <= after:
        return News(meter, has, meter.number, heard, follows)
    in_turn = meter.number == after + 1 and _is_recent(meter.offered_at, now, FRESH)
    return News(meter, has, meter.number, heard, follows, meter if in_turn else None, missed=not in_turn)


def pedal_of(instrument: Instrument | None) -> str:
    """The key that the pedal beside this meter types, as it was last taught."""
    found = Meter.objects.filter(instrument=instrument).values_list("pedal", flat=True).first()
    return found or ""


def how_read(said: str, instrument: Instrument | None) -> str:
    """By hand or by the meter. Raises InputError where there is no such way, or no meter to be heard."""
    how = said or HAND
    if how not in (HAND, *HOWS):
        raise InputError("how", shown(how), f"one of {', '.join((HAND, *HOWS))}")
    if how != HAND and instrument is None:
        raise InputError("instrument", "none named", "the instrument that is to be heard")
    return how


def pedal_said(said: str | None, instrument: Instrument | None) -> str:
    """The key that the pedal types, as said, else as taught before. Raises InputError if it is none."""
    if said is None:
        return pedal_of(instrument)
    if len(said) > PEDAL_LENGTH or not said.isprintable():
        raise InputError("pedal", shown(said), "one key: press the pedal in this field")
    if said in _OF_NUMBERS:
        raise InputError("pedal", shown(said), "a key that no number begins with")
    return said


@transaction.atomic
def _offer(meter: Meter, offered: Offered, now: datetime) -> None:
    """Put a reading on offer, once however often it is reported."""
    unit = find_unit(offered.unit)
    if unit is None or unit.dimension != meter.instrument.quantity:
        raise InputError("unit", shown(offered.unit), f"a unit of {meter.instrument.quantity}")
    if read_number(offered.text) is None:
        raise InputError("text", shown(offered.text), "a number such as 3.59")
    row = Meter.objects.select_for_update().get(pk=meter.pk)
    if row.key == offered.key:
        return
    Meter.objects.filter(pk=row.pk).update(
        number=row.number + 1,
        key=offered.key,
        text=offered.text,
        unit=unit.name,
        said=offered.said[:LINE_LENGTH],
        offered_at=now - timedelta(seconds=offered.seconds_ago),
    )


def _is_recent(at: datetime | None, now: datetime, within: timedelta = GONE) -> bool:
    """Whether it was within so long; a clock that jumped makes nothing recent for ever."""
    return at is not None and abs(now - at) < within
