"""What a page hears of its meter: asked several times a second, answered in words and a reading."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from decimal import Decimal
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import Resolver404, resolve
from django.views.decorators.http import require_http_methods
from django_htmx.http import trigger_client_event

from barwise.errors import BarwiseError
from barwise.measure.spoken import Spoken, in_unit
from barwise.measure.units import UNITS
from barwise.record.meters import News, listen, news, press
from barwise.record.models import Meter

WORDS = {
    "ready": "Touch, and hold still.",
    "settling": "Hold still …",
    "lift": "Lift the probes.",
    "off scale": "Off its scale, or nothing between its leads.",
    "silent": "It does not answer. Go on by hand.",
    "unplugged": "Unplugged. Go on by hand; plugged in again, it reads on.",
    "wrong": "Nothing is taken.",
}
AT_THE_PEDAL = {
    "ready": "Touch, then press the pedal.",
    "off scale": "Nothing between its leads, or off its scale. Touch, then press the pedal.",
}
WRONG = frozenset({"silent", "unplugged", "wrong", "gone", "elsewhere", "missed"})


@dataclass(frozen=True)
class MeterShown:
    """The meter's line on a page: a word for its state, and what the hand should do."""

    news: News

    @property
    def state(self) -> str:
        """The meter's own, or that it is gone, reads elsewhere, or that the page missed a reading."""
        if not self.news.has:
            return "elsewhere"
        if not self.news.heard:
            return "gone"
        if not self.news.follows:
            return "beginning"
        return "missed" if self.news.missed else self.news.meter.state

    @property
    def is_wrong(self) -> bool:
        """Whether it reads nothing just now."""
        return self.state in WRONG

    @property
    def words(self) -> str:
        """For the hand."""
        meter = self.news.meter
        if self.state == "elsewhere":
            return "Another page reads it now."
        if self.state == "gone":
            return "Nobody listens to it at its computer. Go on by hand."
        if self.state == "beginning":
            return "One moment …"
        if self.state == "missed":
            return "This page missed a reading: touch here again."
        known = {**WORDS, **(AT_THE_PEDAL if meter.how == "pedal" else {})}
        why = meter.words.removeprefix("meter: ").rstrip(".")
        said = (why and f"{why[0].upper()}{why[1:]}.", known.get(meter.state, ""))
        return " ".join(part for part in said if part)

    @property
    def mark(self) -> str:
        """What is the same as long as the words are."""
        return f"{self.state} {self.words}"


@require_http_methods(["POST"])
def meter(request: HttpRequest, instrument_id: int) -> HttpResponse:
    """Say what the meter does, and hand over its reading to the page that it reads for."""
    sent = request.POST
    page = _page(str(sent.get("page", "")))
    begins = bool(sent.get("begin"))
    try:
        if begins:
            listen(instrument_id, page, str(sent.get("how", "")), str(sent.get("pedal", "")))
        if sent.get("press"):
            press(instrument_id, page)
        found = news(instrument_id, page, None if begins else _number(str(sent.get("after", ""))))
    except BarwiseError as error:
        raise Http404(str(error)) from None
    shown = MeterShown(found)
    # A page that missed a reading goes on saying so until the next one comes.
    mark = str(sent.get("mark", ""))
    if mark.startswith("missed ") and not begins and found.reading is None and not shown.is_wrong:
        shown = MeterShown(replace(found, missed=True))
    handed = None if found.reading is None else _reading(found.reading, str(sent.get("unit", "")))
    into = _into(str(sent.get("into", "")))
    take = into if handed and not str(sent.get("value", "")).strip() else ""
    more = {"changed": shown.mark != mark, "take": take, "handed": _as_entry(handed)}
    answer = render(request, "meter_news.html", {"shown": shown, "news": found, **more})
    if handed is not None and not into:
        trigger_client_event(answer, "meter", handed)
    return answer


def _into(address: str) -> str:
    """The address of a check that takes what is read; empty for any other, as on a walk."""
    try:
        return address if resolve(address).url_name == "take" else ""
    except Resolver404:
        return ""


def _as_entry(handed: dict[str, str] | None) -> str:
    """A reading by the names of a check's form, in JSON."""
    names = {"text": "read", "key": "key", "said": "said", "unit": "said_unit"}
    return json.dumps({names[name]: text for name, text in (handed or {}).items()})


def _reading(meter: Meter, wanted: str) -> dict[str, str]:
    """The reading as a page takes it, in the page's unit where only the point moves."""
    spoken = Spoken(Decimal(meter.text), UNITS[meter.unit], meter.said)
    text, unit = in_unit(spoken, wanted)
    typed = text if unit == wanted else f"{text} {unit}"
    return {"text": typed, "key": str(meter.key), "said": meter.said, "unit": meter.unit}


def _page(written: str) -> UUID:
    try:
        return UUID(written)
    except ValueError:
        raise Http404("page: found none, expected its number") from None


def _number(written: str) -> int | None:
    return int(written) if written.isdecimal() and written.isascii() and len(written) < 10 else None
