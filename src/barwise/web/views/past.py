"""The shop's history: rebuilds that held, parts that fail, how a model reads, what an instrument does."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from barwise.errors import InputError
from barwise.record.instruments import in_use
from barwise.record.models import Instrument, Job
from barwise.record.past.instruments_drift import instrument_seen
from barwise.record.past.models_read import (
    MOST_JOBS,
    CheckRead,
    UnitRead,
    check_read,
    model_reads,
    models_seen,
)
from barwise.record.past.parts_fail import PartFails, parts_fail
from barwise.record.past.rebuilds import rebuilds
from barwise.record.past.tables import drift_csv, parts_csv, rebuilds_csv, units_csv
from barwise.report.past.picture import drift_picture, shares_picture, values_picture
from barwise.report.past.words import (
    against_in_words,
    back_in_words,
    drift_in_words,
    right_in_words,
    this_one_in_words,
    unusual_in_words,
    usual_in_words,
)

MOST_PARTS, MOST_BARS = 12, 12


@dataclass(frozen=True)
class CheckShown:
    """One check of a model in words, and where a unit stands in it."""

    read: CheckRead
    usual: str
    mine: str
    unusual: str


@require_safe
def shop(request: HttpRequest) -> HttpResponse:
    """Show how rebuilds went, the models, the parts that fail, and the instruments."""
    found, parts = rebuilds(), parts_fail()[:MOST_PARTS]
    times = [(one.label, one.right) for one in found.by_time[-MOST_BARS:]]
    kinds = [(one.label, one.right) for one in found.by_model[:MOST_BARS]]
    shown = {
        "found": found,
        "right": right_in_words(found.whole),
        "back": back_in_words(found.whole),
        "by_time": shares_picture("Right the first time, over time", times),
        "by_model": shares_picture("Right the first time, by model", kinds),
        "models": models_seen(),
        "instruments": in_use(),
        "parts": parts,
        "parts_picture": _parts_picture(parts),
    }
    return render(request, "past.html", shown)


@require_safe
def model(request: HttpRequest, key: str) -> HttpResponse:
    """Show every check of a model, and where the unit of ``?job=`` stands."""
    reads, mine = _model(key), _job(request)
    parts = parts_fail(key)[:MOST_PARTS]
    shown = {
        "key": key,
        "title": next((one.title for one in models_seen() if one.key == key), key),
        "most": MOST_JOBS,
        "job": mine,
        "checks": [_shown(one, mine) for one in reads if one.usual is not None],
        "few": [_shown(one, mine) for one in reads if one.usual is None],
        "parts": parts,
        "parts_picture": _parts_picture(parts),
    }
    return render(request, "past_model.html", shown)


@require_safe
def check(request: HttpRequest, key: str, station_key: str, check_key: str) -> HttpResponse:
    """Show one check over the units of a model."""
    try:
        read = check_read(key, station_key, check_key)
    except InputError as error:
        raise Http404(str(error)) from None
    job = _job(request)
    mine = read.of_job(None if job is None else job.pk)
    shown = {
        "key": key,
        "job": job,
        "shown": _shown(read, job),
        "picture": values_picture(read, mine),
    }
    return render(request, "past_check.html", shown)


@require_safe
def instrument(request: HttpRequest, instrument_id: int) -> HttpResponse:
    """Show whether the readings of an instrument drift, and how it reads against the others."""
    seen = instrument_seen(get_object_or_404(Instrument, pk=instrument_id))
    shown = {
        "instrument": seen.instrument,
        "line": drift_in_words(seen),
        "out": seen.chart.is_out,
        "picture": drift_picture(seen),
        "against": [(one, against_in_words(one)) for one in seen.against],
        "readings": len(seen.readings),
    }
    return render(request, "past_instrument.html", shown)


@require_safe
def rebuilds_table(_: HttpRequest) -> HttpResponse:
    """The closed jobs behind the picture."""
    return _file(rebuilds_csv(rebuilds()), "rebuilds")


@require_safe
def parts_table(request: HttpRequest) -> HttpResponse:
    """The parts behind the picture; of one model with ``?model=``."""
    key = request.GET.get("model", "")
    return _file(parts_csv(parts_fail(key)), f"parts-{key}" if key.isascii() and key else "parts")


@require_safe
def model_table(_: HttpRequest, key: str) -> HttpResponse:
    """Every value of a model behind its pictures."""
    return _file(units_csv(_model(key)), key)


@require_safe
def drift_table(_: HttpRequest, instrument_id: int) -> HttpResponse:
    """The readings behind the drift chart of an instrument."""
    seen = instrument_seen(get_object_or_404(Instrument, pk=instrument_id))
    return _file(drift_csv(seen), f"drift-{instrument_id}")


def _model(key: str) -> tuple[CheckRead, ...]:
    try:
        return model_reads(key)
    except InputError as error:
        raise Http404(str(error)) from None


def _job(request: HttpRequest) -> Job | None:
    asked = request.GET.get("job", "")
    number = int(asked) if asked.isdecimal() and len(asked) < 12 else 0
    return Job.objects.filter(pk=number).select_related("unit").first() if number else None


def _shown(read: CheckRead, job: Job | None) -> CheckShown:
    mine: UnitRead | None = read.of_job(None if job is None else job.pk)
    return CheckShown(
        read=read,
        usual=usual_in_words(read),
        mine="" if mine is None else this_one_in_words(read, mine),
        unusual="" if mine is None else unusual_in_words(read, mine.value, mine.job_id),
    )


def _parts_picture(parts: tuple[PartFails, ...]) -> str:
    rows = [(one.part, one.replaced) for one in parts if one.replaced.count]
    return shares_picture("Replaced, of the jobs on which it was decided", rows) if rows else ""


def _file(text: str, name: str) -> HttpResponse:
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    safe = "".join(sign for sign in name if sign.isascii() and (sign.isalnum() or sign in "-_"))
    response["Content-Disposition"] = f'attachment; filename="history-{safe or "table"}.csv"'
    return response
