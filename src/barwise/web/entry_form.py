"""What was typed into the form of one check, kept as typed until it is on the disk."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from uuid import UUID, uuid4

from django.http import HttpRequest, QueryDict

from barwise.errors import InputError
from barwise.record.entry import Entry
from barwise.record.models import Instrument, Reading
from barwise.route.family import Check

REMEMBERED = "last-used"
"""Where the session keeps which unit and instrument were used last, by quantity and usual unit."""


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
            instrument=_instrument(self.instrument, check.quantity),
            supersedes=_uuid(self.corrects, "corrects") if self.corrects else None,
            confirmed=self.confirmed,
        )

    def under_another_key(self) -> EntryForm:
        """The same to be sent as a reading of its own."""
        return replace(self, key=str(uuid4()))


def sent(posted: QueryDict) -> EntryForm:
    """What the form sent; `meant` is the answer to a question and takes the place of the value."""
    names = ("value", "unit", "place", "track", "instrument", "corrects", "reason")
    typed = {name: str(posted.get(name, "")) for name in names}
    typed["value"] = str(posted.get("meant", "")) or typed["value"]
    typed["key"] = str(posted.get("key", "")) or str(uuid4())
    return EntryForm(**typed, anew=bool(posted.get("anew")), confirmed=bool(posted.get("confirmed")))


def remember(request: HttpRequest, check: Check, taken: Reading) -> None:
    """Offer the same unit and instrument next time something of this kind is measured."""
    used = request.session.get(REMEMBERED, {})
    instrument = "" if taken.instrument_id is None else str(taken.instrument_id)
    now = {_kind(check): [taken.unit, instrument]}
    if check.quantity and used | now != used:
        request.session[REMEMBERED] = used | now


def last_used(request: HttpRequest, check: Check) -> tuple[str, str]:
    """Unit and instrument that were used last for this kind of reading; empty where there were none."""
    unit, instrument = request.session.get(REMEMBERED, {}).get(_kind(check), ("", ""))
    return unit, instrument


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


def _uuid(text: str, name: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        raise InputError(name, "a damaged form", "one as it was sent: reload the page") from None
