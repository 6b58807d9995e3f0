"""The shop's instruments: when each is due and what to trust it for; added, calibrated, taken out of use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from barwise.errors import BarwiseError, InputError
from barwise.record.habits import the_shop
from barwise.record.instruments import add_instrument, due, in_use, recalibrate, retire
from barwise.record.models import Instrument
from barwise.web.access import person_at
from barwise.web.instrument_form import QUANTITIES, Typed, typed_in, typed_of, units_of
from barwise.web.named_person import named_person

FIELDS = {"calibration_standard_uncertainty": "uncertainty"}
"""Fields of the form where a refusal calls them otherwise."""


@dataclass(frozen=True)
class Row:
    """An instrument with its figures in its own unit, and whether its calibration is in date."""

    instrument: Instrument
    typed: Typed
    due: str


@require_safe
def instruments(request: HttpRequest) -> HttpResponse:
    """Show the instruments in use, those overdue first."""
    rows = [_row(one) for one in in_use()]
    first = {"overdue": 0, "due soon": 1}
    return render(request, "instruments.html", {"rows": sorted(rows, key=lambda row: first.get(row.due, 2))})


@require_safe
def instrument(request: HttpRequest, instrument_id: int) -> HttpResponse:
    """Show one instrument with its earlier calibrations."""
    return _one(request, get_object_or_404(Instrument, pk=instrument_id))


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Take an instrument into use."""
    if request.method != "POST":
        return _form(request, Typed(unit=the_shop().length_unit))
    typed, shop = typed_in(request.POST), the_shop()
    try:
        figures = typed.figures(decimal_comma=shop.decimal_comma)
        made = add_instrument(
            typed.tag, typed.kind, figures, typed.quantity, typed.unit, named_person(request)
        )
    except BarwiseError as error:
        return _form(request, typed, error)
    return redirect("instrument", made.pk)


@require_http_methods(["GET", "HEAD", "POST"])
def edit(request: HttpRequest, instrument_id: int) -> HttpResponse:
    """Write down a new certificate, or figures mended; readings keep those they were taken with."""
    old = get_object_or_404(Instrument, pk=instrument_id)
    if request.method != "POST":
        return _form(request, typed_of(old), old=old)
    typed = typed_in({**request.POST.dict(), "tag": old.tag, "kind": old.kind, "quantity": old.quantity})
    try:
        figures = typed.figures(decimal_comma=the_shop().decimal_comma)
        made = recalibrate(old, figures, named_person(request))
    except BarwiseError as error:
        return _form(request, typed, error, old=old)
    return redirect("instrument", made.pk)


@require_POST
def taken_out(request: HttpRequest, instrument_id: int) -> HttpResponse:
    """Take an instrument out of use."""
    one = get_object_or_404(Instrument, pk=instrument_id)
    try:
        retire(one, named_person(request))
    except BarwiseError as error:
        return _one(request, one, error)
    return redirect("instruments")


def _row(one: Instrument) -> Row:
    return Row(one, typed_of(one), due(one))


def _earlier(one: Instrument) -> Iterator[Row]:
    while one.follows is not None:
        one = one.follows
        yield _row(one)


def _one(request: HttpRequest, one: Instrument, wrong: BarwiseError | None = None) -> HttpResponse:
    later = Instrument.objects.filter(follows=one).first()
    shown = {"row": _row(one), "earlier": list(_earlier(one)), "later": later, "wrong": wrong}
    return render(request, "instrument.html", shown, status=422 if wrong else 200)


def _form(
    request: HttpRequest, typed: Typed, wrong: BarwiseError | None = None, old: Instrument | None = None
) -> HttpResponse:
    field = wrong.where if isinstance(wrong, InputError) else ""
    shown = {
        "typed": typed,
        "old": old,
        "quantities": QUANTITIES,
        "units": {one: units_of(one) for one in ([old.quantity] if old else QUANTITIES)},
        "wrong": wrong,
        "field": FIELDS.get(field, field),
        "person": person_at(request),
    }
    return render(request, "instrument_form.html", shown, status=422 if wrong else 200)
