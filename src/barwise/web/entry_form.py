"""What was typed into the form of one check, kept as typed until it is on the disk."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from uuid import UUID, uuid4

from django.http import HttpRequest, QueryDict

from barwise.errors import InputError
from barwise.record.entry import Entry
from barwise.record.meters import HAND
from barwise.record.models import Instrument, Reading
from barwise.record.models.meter import LINE_LENGTH
from barwise.route.family import Check

REMEMBERED = "last-used"
"""Where the session keeps unit, instrument and way of reading last used, by quantity and usual unit."""
PLAIN = ("unit", "place", "track", "instrument", "corrects", "reason", "pedal", "said", "said_unit")
VALUES = ("meant", "value", "read")


@dataclass(frozen=True)
class EntryForm:
    """One reading as it stands in the form.

    Attributes
    ----------
    key : str
        Goes with the reading, so that a form sent twice is one reading.
    value, unit, place, track : str
        As typed or picked.
    instrument : str
        Number of the instrument; empty for none.
    corrects : str
        Key of the reading that this one takes the place of.
    anew : bool
        Everything read before at this place no longer counts: the part was reworked or replaced.
    reason : str
        Why.
    confirmed : bool
        It was asked about and is meant.
    how, pedal : str
        By hand or by the meter; the key that its pedal types, empty for the one taught before.
    page : str
        What this page is known by to a meter that reads for it.
    said, said_unit : str
        The line of the meter that read the value, and the unit it meant.
    more : str
        Not empty where the meter is to read though all that is asked for was read.
    """

    key: str = field(default_factory=lambda: str(uuid4()))
    value: str = ""
    unit: str = ""
    place: str = ""
    track: str = ""
    instrument: str = ""
    corrects: str = ""
    anew: bool = False
    reason: str = ""
    confirmed: bool = False
    how: str = HAND
    pedal: str = ""
    page: str = field(default_factory=lambda: str(uuid4()))
    said: str = ""
    said_unit: str = ""
    more: str = ""

    def tool(self, check: Check) -> Instrument | None:
        """The instrument that was picked. Raises InputError where it is none for this check."""
        return _instrument(self.instrument, check.quantity)

    def entry(self, station: str, check: Check) -> Entry:
        """As the record takes it. Raises InputError with the field as its place."""
        return Entry(
            key=_uuid(self.key, "key"),
            station=station,
            check=check.key,
            text=self.value,
            unit=self.unit,
            place_from=self.place,
            track=self.track,
            instrument=self.tool(check),
            supersedes=_uuid(self.corrects, "corrects") if self.corrects else None,
            confirmed=self.confirmed,
            said=_line(self.said, LINE_LENGTH),
            said_unit=_line(self.said_unit, 12),
        )

    def under_another_key(self) -> EntryForm:
        """The same to be sent as a reading of its own."""
        return replace(self, key=str(uuid4()))


def sent(posted: QueryDict) -> EntryForm:
    """What the form sent; `meant`, the answer to a question, and `read`, by the meter, are values too."""
    typed = {name: str(posted.get(name, "")) for name in PLAIN}
    typed["value"] = next((text for name in VALUES if (text := str(posted.get(name, "")))), "")
    typed["how"] = str(posted.get("how", "")) or HAND
    typed |= {name: str(posted.get(name, "")) or str(uuid4()) for name in ("key", "page")}
    return EntryForm(**typed, anew=bool(posted.get("anew")), confirmed=bool(posted.get("confirmed")))


def remember(request: HttpRequest, check: Check, taken: Reading, how: str) -> None:
    """Offer the same unit, instrument and way of reading next time something of this kind is measured."""
    used = request.session.get(REMEMBERED, {})
    instrument = "" if taken.instrument_id is None else str(taken.instrument_id)
    now = {_kind(check): [taken.unit, instrument, how]}
    if check.quantity and used | now != used:
        request.session[REMEMBERED] = used | now


def last_used(request: HttpRequest, check: Check) -> tuple[str, str, str]:
    """Unit, instrument and way of reading used last for this kind; empty and by hand at first."""
    unit, instrument, *how = request.session.get(REMEMBERED, {}).get(_kind(check), ("", ""))
    return unit, instrument, how[0] if how else HAND


def _kind(check: Check) -> str:
    return f"{check.quantity} {check.unit}"


def _instrument(number: str, quantity: str) -> Instrument | None:
    if not number:
        return None
    found = Instrument.objects.filter(pk=int(number), retired=False) if number.isdecimal() else ()
    for instrument in found:
        if instrument.quantity == quantity:
            return instrument
    raise InputError("instrument", "one not in use for this", f"an instrument for {quantity}, or none")


def _line(text: str, longest: int) -> str:
    if len(text) > longest or not text.isprintable():
        raise InputError("value", "a damaged form", "one as it was sent: reload the page")
    return text


def _uuid(text: str, name: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        raise InputError(name, "a damaged form", "one as it was sent: reload the page") from None
