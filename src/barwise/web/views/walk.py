"""A walk round the bars: touch, type, Enter, on to the next. Without a script each reading is a form."""

from __future__ import annotations

from uuid import UUID, uuid4

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from barwise.errors import BarwiseError, InputError
from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.models import Job, Reading
from barwise.record.walking import walk_plan
from barwise.web.access import person_at
from barwise.web.named_person import named_person
from barwise.web.views.station import job_of
from barwise.web.walk_page import SETUP_FIELDS, WalkHeard, WalkPage, setup_query, walk_page


@require_http_methods(["GET", "HEAD", "POST"])
def walk(request: HttpRequest, job_id: int, station_key: str, check_key: str) -> HttpResponse:
    """Show a walk; take a reading that a form sent, where the script does not run."""
    job = job_of(job_id)
    if request.method == "POST":
        return _take(request, job, station_key, check_key)
    key = _uuid(request.GET.get("taken", ""))
    taken = None if key is None else Reading.objects.filter(job=job, key=key).first()
    return _shown(request, job, station_key, check_key, WalkHeard(taken=taken))


def _take(request: HttpRequest, job: Job, station_key: str, check_key: str) -> HttpResponse:
    typed = str(request.POST.get("value", ""))
    try:
        answer = _taken(request, job, station_key, check_key)
    except BarwiseError as error:
        said = (
            f"found {error.found}, expected {error.expected}" if isinstance(error, InputError) else str(error)
        )
        return _shown(request, job, station_key, check_key, WalkHeard(typed, said), status=422)
    if isinstance(answer, Question):
        heard = WalkHeard(typed, question=answer)
        return _shown(request, job, station_key, check_key, heard, status=422)
    said_setup = {name: str(request.POST[name]) for name in SETUP_FIELDS if name in request.POST}
    query = {**setup_query(walk_plan(job, station_key, check_key, said_setup).setup)}
    query["taken"] = str(answer.reading.key)
    return redirect(reverse("walk", args=[job.pk, station_key, check_key], query=query))


def _taken(request: HttpRequest, job: Job, station_key: str, check_key: str) -> Stored | Question:
    person, posted = named_person(request), request.POST
    said = {name: str(posted[name]) for name in SETUP_FIELDS if name in posted}
    setup = walk_plan(job, station_key, check_key, said).setup
    text = str(posted.get("value", ""))
    entry = Entry(
        key=_uuid(posted.get("key", "")) or uuid4(),
        station=station_key,
        check=check_key,
        text=text,
        unit=setup.unit,
        test=setup.test,
        place_from=str(posted.get("place_from", "")),
        place_to=str(posted.get("place_to", "")),
        track=str(posted.get("track", "")),
        feed=setup.feed,
        instrument=setup.instrument,
        confirmed=bool(posted.get("confirmed")),
    )
    return take_reading(job, entry, person)


def _shown(
    request: HttpRequest, job: Job, station_key: str, check_key: str, heard: WalkHeard, status: int = 200
) -> HttpResponse:
    try:
        page: WalkPage = walk_page(request, job, station_key, check_key, person_at(request), heard)
    except InputError as error:
        raise Http404(str(error)) from None
    shown = {"page": page, "plan": page.plan, "heard": heard, "fresh_key": uuid4()}
    return render(request, "walk.html", shown, status=status)


def _uuid(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
