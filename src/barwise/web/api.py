"""The HTTP interface in JSON: the same reads as the screens, and entering readings.

Its description is at ``/api/v1/openapi.json`` (OpenAPI). There is no page to try it out on, because that
would load scripts from elsewhere. Who may use it is decided as for the screens: by session, role and form
token.
What is refused is answered with ``{"error": ...}``: 409 where it contradicts the record, 422 where it cannot
be understood or something must be asked first.
"""

# ruff: noqa: ARG001  # each function is handed the request, whether it asks or not

from __future__ import annotations

from datetime import timedelta
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.exceptions import ObjectDoesNotExist
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from ninja import NinjaAPI, Query, Status
from ninja.errors import HttpError, ValidationError
from ninja.security import SessionAuth

from barwise.errors import BarwiseError, InputError
from barwise.machine.feed import Feed
from barwise.record.entry import Entry, take_reading
from barwise.record.entry import Question as AskedFirst
from barwise.record.entry import strike as strike_out
from barwise.record.finding_jobs import find_jobs
from barwise.record.instruments import in_use
from barwise.record.meters import Offered, Report, report
from barwise.record.models import Instrument, Job, Person, SheetVersion
from barwise.record.refusals import RecordError
from barwise.record.results import decide_check, newest_result
from barwise.record.sheets import newest_versions
from barwise.record.standing import job_stand
from barwise.record.walking import readings_since, walk_plan
from barwise.version import __version__
from barwise.web import api_schemas as out
from barwise.web.access import person_at
from barwise.web.named_person import named_person
from barwise.web.roles import PERMISSIONS

api = NinjaAPI(
    title="barwise",
    version=__version__,
    description="The bench: jobs, readings and results. All lengths and other quantities in SI.",
    docs_url=None,
    auth=SessionAuth(),
    urls_namespace="api",
)
_REFUSED: dict[int | frozenset[int], Any] = {frozenset({404, 409, 422}): out.Refused}


@api.get("/here", response=out.Here, summary="Which barwise this is, who you are to it, and what you may")
def here(request: HttpRequest) -> out.Here:
    """Say the version, the person at the bench, and what they may."""
    person = person_at(request)
    may = [name.partition(".")[2] for name in PERMISSIONS if request.user.has_perm(name)]
    return out.Here(version=__version__, person=person.name if person else None, may=may)


@api.get("/jobs", response=out.Jobs, summary="Jobs on hand, or closed ones, a page at a time")
def jobs(request: HttpRequest, search: str = "", page: int = 1, closed: bool = False) -> out.Jobs:
    """Jobs whose tag, serial, customer or number holds every word."""
    found = find_jobs(search, page, closed=closed)
    rows = [out.JobBrief(**out.job_brief(row.job)) for row in found.rows]
    return out.Jobs(jobs=rows, page=found.page.number, pages=found.page.paginator.num_pages)


@api.get("/jobs/{int:job_id}", response={200: out.JobOut, **_REFUSED}, summary="One job with all its checks")
def job(request: HttpRequest, job_id: int) -> out.JobOut:
    """Where a job stands."""
    return out.job_out(job_stand(_job(job_id)))


@api.get(
    "/jobs/{int:job_id}/{station}/{check}/readings",
    response={200: out.Readings, **_REFUSED},
    summary="Rows of one check after a number, also those that correct and withdraw",
)
def readings(request: HttpRequest, job_id: int, station: str, check: str, after: int = 0) -> out.Readings:
    """For following a walk: ask again with `after` set to the last number."""
    rows = readings_since(_job(job_id), station, check, after)
    return out.Readings(
        readings=[out.reading_out(row) for row in rows], last=rows[-1].seq if rows else max(after, 0)
    )


@api.get(
    "/jobs/{int:job_id}/{station}/{check}/walk",
    response={200: out.Followed, **_REFUSED},
    summary="The same of one walk, with what each of its stops should read",
)
def follow(
    request: HttpRequest, job_id: int, station: str, check: str, setup: Query[out.SetupIn], after: int = 0
) -> out.Followed:
    """For following one test under one feed, or the tracks of a dial."""
    job = get_object_or_404(Job.objects.select_related("sheet"), pk=job_id)
    rows = readings_since(job, station, check, after)
    found = out.Followed(readings=[out.reading_out(row) for row in rows], last=max(after, 0))
    if rows:
        plan = walk_plan(job, station, check, setup.dict())
        found.last, found.outlook = rows[-1].seq, out.outlook_out(plan.outlook())
    return found


@api.post(
    "/jobs/{int:job_id}/readings",
    response={200: out.Taken, 201: out.Taken, **_REFUSED},
    summary="Enter one reading; 201 when it is on the disk, 200 when it was there before",
)
def take(request: HttpRequest, job_id: int, sent: out.ReadingIn) -> Any:
    """Take one reading. It is durable when this answers."""
    person = _typist(request, sent.typed_by)
    # Nothing but its number is needed here: the job is read under its lock, and may be gone by then.
    answer = take_reading(Job(pk=job_id), _entry(sent), person)
    if isinstance(answer, AskedFirst):
        asked = out.Question(**vars(answer))
        return Status(422, out.Refused(error=answer.ask, field="value", question=asked))
    return Status(201 if answer.new else 200, out.taken_out(answer, hint=sent.hint))


@api.post(
    "/jobs/{int:job_id}/readings/{uuid:wrong}/strike",
    response={200: out.Taken, 201: out.Taken, **_REFUSED},
    summary="Withdraw a reading; both stay in the record",
)
def strike(request: HttpRequest, job_id: int, wrong: UUID, sent: out.StrikeIn) -> Any:
    """Withdraw a reading for a reason."""
    person = _typist(request, sent.typed_by)
    struck = strike_out(_job(job_id), wrong, sent.key, sent.reason, person)
    return Status(201 if struck.new else 200, out.taken_out(struck, hint=False))


@api.get(
    "/jobs/{int:job_id}/{station}/{check}/result",
    response={200: out.ResultOut, **_REFUSED},
    summary="The newest result of one check",
)
def result(request: HttpRequest, job_id: int, station: str, check: str) -> out.ResultOut:
    """As it was decided last; the job says whether something came in since."""
    found = newest_result(_job(job_id), station, check)
    if found is None:
        raise Http404
    return out.result_out(found)


@api.post(
    "/jobs/{int:job_id}/{station}/{check}/result",
    response={200: out.ResultOut, **_REFUSED},
    summary="Decide one check from its readings as they stand now",
)
def decide(request: HttpRequest, job_id: int, station: str, check: str) -> out.ResultOut:
    """Decide and keep the result. A diagnosis may take seconds."""
    return out.result_out(decide_check(_job(job_id), station, check))


@api.post(
    "/meter",
    response={200: out.MeterOut, **_REFUSED},
    summary="Report what a meter that talks does, and its reading; says whom it reads for",
)
def meter(request: HttpRequest, sent: out.MeterIn) -> Any:
    """For the listener of a meter; nothing is entered by this but by the page that takes the reading."""
    offered = None if sent.reading is None else Offered(**sent.reading.dict())
    said = Report(sent.state, sent.words, sent.rule, sent.page, offered)
    return vars(report(sent.tag, sent.quantity, said))


@api.get("/sheets", response=list[out.SheetOut], summary="The newest version of each model sheet")
def sheets(request: HttpRequest) -> list[out.SheetOut]:
    """Without their texts."""
    return [out.sheet_out(version) for version in newest_versions()]


@api.get(
    "/sheets/{key}/{int:version}",
    response={200: out.SheetOut, **_REFUSED},
    summary="One version of a model sheet with its text",
)
def sheet(request: HttpRequest, key: str, version: int) -> out.SheetOut:
    """With its text."""
    return out.sheet_out(get_object_or_404(SheetVersion, key=key, version=version), text=True)


@api.get("/instruments", response=list[out.InstrumentOut], summary="Instruments in use")
def instruments(request: HttpRequest) -> list[out.InstrumentOut]:
    """By tag."""
    return [out.instrument_out(one) for one in in_use()]


def _job(job_id: int) -> Job:
    return get_object_or_404(Job.objects.select_related("unit", "customer", "sheet"), pk=job_id)


def _entry(sent: out.ReadingIn) -> Entry:
    instrument = None
    if sent.instrument is not None:
        instrument = Instrument.objects.filter(pk=sent.instrument).first()
        if instrument is None:
            raise InputError("instrument", str(sent.instrument), "the number of an instrument in use")
    taken_at = sent.taken_at
    if sent.seconds_ago is not None:
        taken_at = timezone.now() - timedelta(seconds=sent.seconds_ago)
    plain = ("key", "station", "check", "text", "unit", "test", "place_from", "place_to", "track")
    of_meter = ("said", "said_unit")
    return Entry(
        **{name: getattr(sent, name) for name in (*plain, *of_meter)},
        feed=None if sent.feed is None else Feed(sent.feed.into, sent.feed.out, sent.feed.amps),
        instrument=instrument,
        taken_at=taken_at,
        supersedes=sent.supersedes,
        confirmed=sent.confirmed,
    )


def _typist(request: HttpRequest, typed_by: int | None) -> Person:
    """Who typed it, which a reading that waited in a browser still knows.

    In the network nobody signs for another: it waits until the one who typed it signs in again.
    """
    if typed_by is None:
        return _named(request)
    sender = person_at(request)
    if sender is not None and sender.pk == typed_by:
        return sender
    typist = Person.objects.filter(pk=typed_by, active=True).first()
    if typist is None:
        return _named(request)
    if settings.LAN:
        raise HttpError(403, f"{typist.name} typed this: it is sent when {typist.name} signs in again.")
    return typist


def _named(request: HttpRequest) -> Person:
    try:
        return named_person(request)
    except BarwiseError as error:
        raise HttpError(403, str(error)) from None


@api.exception_handler(BarwiseError)
def _refused(request: HttpRequest, error: Exception) -> HttpResponse:
    status = 409 if isinstance(error, RecordError) else 422
    field = error.where if isinstance(error, InputError) else ""
    return api.create_response(request, {"error": str(error), "field": field}, status=status)


@api.exception_handler(ValidationError)
def _not_understood(request: HttpRequest, error: ValidationError) -> HttpResponse:
    first = error.errors[0]
    field = ".".join(str(part) for part in first["loc"][2:])
    said = {"error": f"{field}: {first['msg']}", "field": field}
    return api.create_response(request, said, status=422)


@api.exception_handler(HttpError)
def _not_allowed(request: HttpRequest, error: HttpError) -> HttpResponse:
    return api.create_response(request, {"error": str(error)}, status=error.status_code)


@api.exception_handler(ObjectDoesNotExist)
@api.exception_handler(Http404)
def _not_found(request: HttpRequest, error: Exception) -> HttpResponse:
    return api.create_response(request, {"error": "There is no such thing here."}, status=404)
