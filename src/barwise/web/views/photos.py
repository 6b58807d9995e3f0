"""Photos of a job: taken in at a station, and shown."""

from __future__ import annotations

from uuid import UUID, uuid4

from django.http import FileResponse, Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from barwise.errors import BarwiseError, InputError
from barwise.record.models import Job, Person, Photo
from barwise.record.photos import MOST_BYTES, add_photo, must_not_be_larger, path_of
from barwise.web.access import person_at
from barwise.web.bench_request import BenchRequest
from barwise.web.named_person import named_person
from barwise.web.station_page import station_page
from barwise.web.views.station import address, job_of

A_YEAR = "private, max-age=31536000, immutable"


@require_POST
def add(request: BenchRequest, job_id: int, station_key: str) -> HttpResponse:
    """Take in a photo; for a check that asks for one it counts as its reading."""
    job, check_key = job_of(job_id), request.POST.get("check", "")
    try:
        _keep(request, job, station_key, named_person(request))
    except BarwiseError as error:
        return _photos(request, job, station_key, check_key, error)
    if request.htmx:
        return _photos(request, job, station_key, check_key)
    return redirect(address(job, station_key, check_key))


@require_safe
def show(_request: BenchRequest, key: UUID) -> HttpResponseBase:
    """The picture itself."""
    photo = get_object_or_404(Photo, key=key)
    try:
        content = path_of(photo).open("rb")
    except FileNotFoundError:
        raise Http404(f"the picture of {photo} is not in the data folder") from None
    return FileResponse(content, content_type="image/jpeg", headers={"Cache-Control": A_YEAR})


def _keep(request: BenchRequest, job: Job, station_key: str, person: Person) -> None:
    sent, for_check = request.FILES.get("photo"), request.POST.get("for_check", "")
    if sent is None:
        raise InputError("photo", "none", "one: take it or choose it first")
    must_not_be_larger(sent.size or 0)
    # One byte more than is allowed is enough to be refused; the rest is not read.
    content = sent.read(MOST_BYTES + 1)
    add_photo(job, content, station_key, for_check, request.POST.get("caption", ""), person)


def _photos(
    request: BenchRequest, job: Job, station_key: str, check_key: str, wrong: BarwiseError | None = None
) -> HttpResponse:
    """The photos' part of the page alone for htmx, so that what is typed elsewhere on it stays."""
    try:
        page = station_page(request, job, station_key, check_key)
    except InputError as error:
        raise Http404(str(error)) from None
    context = {
        "page": page,
        "person": person_at(request),
        "photo_wrong": wrong,
        "caption": request.POST.get("caption", "") if wrong else "",
        "fresh_key": uuid4,
    }
    if request.htmx:
        return render(request, "photos.html", context)
    return render(request, "station.html", context, status=422)
