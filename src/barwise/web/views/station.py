"""A station: one check in front, its readings taken, corrected, withdrawn; what becomes of the part."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from barwise.errors import BarwiseError, InputError
from barwise.record.dispositions import decide_part
from barwise.record.entry import Question, Stored, take_reading
from barwise.record.entry import strike as strike_out
from barwise.record.habits import the_shop
from barwise.record.jobs import record_part
from barwise.record.models import Job, Reading
from barwise.record.refusals import KeyReusedError
from barwise.record.route_of import route_of
from barwise.record.withdrawals import take_anew
from barwise.route.family import Check
from barwise.web.access import person_at
from barwise.web.bench_request import BenchRequest
from barwise.web.entry_form import EntryForm, remember, sent
from barwise.web.named_person import named_person
from barwise.web.station_page import Heard, station_page
from barwise.web.vehicle_form import vehicle_text


@require_safe
def station(request: BenchRequest, job_id: int, station_key: str) -> HttpResponse:
    """Show a station; ``?check=`` brings one of its checks to the front, with what stands in its form."""
    job = job_of(job_id)
    if request.htmx and "key" in request.GET:
        return _page(request, job, station_key, request.GET.get("check", ""), Heard(form=sent(request.GET)))
    taken = Reading.objects.filter(job=job, key=_uuid(request.GET.get("taken", ""))).first()
    return _page(request, job, station_key, request.GET.get("check", ""), Heard(taken=taken))


@require_POST
def take(request: BenchRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Take one reading, in the place of another or anew where the form says so."""
    job = job_of(job_id)
    check = _check(job, station_key, check_key)
    form = _sent(request, check)
    if request.POST.get("read") and request.POST.get("value", "").strip():
        return HttpResponse(status=204)  # the meter is not heard while the hand types
    if request.POST.get("onward") and not form.value.strip():
        return _done(request, job, station_key, request.POST["onward"])
    try:
        answer = _taken(request, job, station_key, check, form)
    except KeyReusedError as error:
        heard = Heard(form=form.under_another_key(), wrong=_sent_before(error))
    except BarwiseError as error:
        heard = Heard(form=form, wrong=error)
    else:
        if isinstance(answer, Stored):
            remember(request, check, answer.reading, form.how)
            return _after(request, job, station_key, check_key, answer.reading)
        heard = Heard(form=form, question=answer)
    return _page(request, job, station_key, check_key, heard, status=422)


@require_POST
def strike(request: BenchRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Withdraw a reading: undone at once, or struck out with a reason."""
    job, posted = job_of(job_id), request.POST
    wrong = Heard()
    try:
        strike_out(
            job,
            _uuid(posted.get("reading", "")),
            _uuid(posted.get("key", "")),
            posted.get("reason", ""),
            named_person(request),
        )
    except BarwiseError as error:
        wrong = Heard(wrong=error)
    if wrong.wrong or request.htmx:
        return _page(request, job, station_key, check_key, wrong, status=422 if wrong.wrong else 200)
    return redirect(address(job, station_key, check_key))


@require_POST
def decide(request: BenchRequest, job_id: int, station_key: str) -> HttpResponse:
    """Say what becomes of the part: reuse, rework or replace."""
    job, posted = job_of(job_id), request.POST
    try:
        decide_part(
            job,
            station_key,
            posted.get("decided", ""),
            posted.get("reason", ""),
            posted.get("part", ""),
            named_person(request),
        )
    except BarwiseError as error:
        heard = {"decide_wrong": error, "decide_typed": posted}
        return _page(request, job, station_key, posted.get("check", ""), Heard(), status=422, **heard)
    return _done(request, job, station_key, posted.get("check", ""))


@require_POST
def part(request: BenchRequest, job_id: int, station_key: str) -> HttpResponse:
    """Write down a part fitted or replaced."""
    job, posted = job_of(job_id), request.POST
    try:
        record_part(
            job,
            posted.get("name", ""),
            posted.get("action", ""),
            _whole(posted.get("quantity", "")),
            posted.get("part_number", ""),
            station_key,
            posted.get("note", ""),
            named_person(request),
        )
    except BarwiseError as error:
        heard = {"part_wrong": error, "part_typed": posted}
        return _page(request, job, station_key, posted.get("check", ""), Heard(), status=422, **heard)
    return _done(request, job, station_key, posted.get("check", ""))


def job_of(job_id: int) -> Job:
    """The job of an address, with what every page of it shows."""
    return get_object_or_404(Job.objects.select_related("unit", "customer", "sheet"), pk=job_id)


def address(job: Job, station_key: str, check_key: str = "", **more: str) -> str:
    """Address of a station with one of its checks in front."""
    query = {"check": check_key, **more} if check_key else more
    return reverse("station", args=[job.pk, station_key], query=query)


def _sent(request: BenchRequest, check: Check) -> EntryForm:
    """What the form sent; the fields of a vehicle are one reading."""
    form = sent(request.POST)
    if check.entry != "vehicle":
        return form
    text = vehicle_text(request.POST.dict(), decimal_comma=the_shop().decimal_comma)
    return replace(form, value=text)


def _taken(
    request: BenchRequest, job: Job, station_key: str, check: Check, form: EntryForm
) -> Stored | Question:
    person, entry = named_person(request), form.entry(station_key, check)
    if form.anew:
        return take_anew(job, entry, form.reason, person)
    return take_reading(job, entry, person)


def _after(request: BenchRequest, job: Job, station_key: str, check_key: str, taken: Reading) -> HttpResponse:
    if request.htmx:
        return _page(request, job, station_key, check_key, Heard(taken=taken))
    return redirect(address(job, station_key, check_key, taken=str(taken.key)))


def _done(request: BenchRequest, job: Job, station_key: str, check_key: str) -> HttpResponse:
    if request.htmx:
        return _page(request, job, station_key, check_key, Heard())
    return redirect(address(job, station_key, check_key))


def _page(
    request: BenchRequest,
    job: Job,
    station_key: str,
    check_key: str,
    heard: Heard,
    status: int = 200,
    **more: object,
) -> HttpResponse:
    """The whole page, or its bench alone for htmx, which swaps only what came with 200."""
    try:
        page = station_page(request, job, station_key, check_key, heard)
    except InputError as error:
        raise Http404(str(error)) from None
    context = {"page": page, "person": person_at(request), "fresh_key": uuid4, **more}
    if request.htmx:
        part = render(request, "station_bench.html", context)
        part["HX-Replace-Url"] = address(job, station_key, page.card.stand.check.key)
        return part
    return render(request, "station.html", context, status=status)


def _check(job: Job, station_key: str, check_key: str) -> Check:
    try:
        return route_of(job).family.check(station_key, check_key)
    except InputError as error:
        raise Http404(str(error)) from None


def _sent_before(error: KeyReusedError) -> BarwiseError:
    stored = str(error).partition("found ")[2].partition(" under it")[0]
    return BarwiseError(
        f"This form was sent before: {stored} is in the record. Send it again to take this as another "
        "reading, or correct the first one below."
    )


def _uuid(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        return UUID(int=0)


def _whole(text: str) -> int:
    text = text.strip()
    if not (text.isdecimal() and text.isascii() and len(text) < 6):
        raise InputError("quantity", f'"{text[:20]}"' if text else "nothing", "a whole number from 1")
    return int(text)
