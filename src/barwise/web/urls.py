"""Every address of the bench. Each page has its lines here and its module in `views`."""

from __future__ import annotations

from django.urls import path

from barwise.web.access import needs
from barwise.web.api import api
from barwise.web.roles import OFFICE, SEE
from barwise.web.views import (
    answer,
    backups,
    errors,
    exchange,
    health,
    history,
    instruments,
    intake,
    job,
    jobs,
    meter,
    past,
    people,
    photos,
    printing,
    seal,
    sheet_editor,
    sheets,
    shop,
    sign_in,
    station,
    walk,
    who,
    worth,
)

urlpatterns = [
    path("", jobs.jobs, name="home"),
    path("jobs/new", intake.intake, name="intake"),
    path("jobs/<int:job_id>", job.job, name="job"),
    path("jobs/<int:job_id>/wait", job.wait, name="job-wait"),
    path("jobs/<int:job_id>/sheet", job.sheet, name="job-sheet"),
    path("jobs/<int:job_id>/close", job.close, name="job-close"),
    path("jobs/<int:job_id>/reopen", needs(OFFICE)(job.reopen), name="job-reopen"),
    path("jobs/<int:job_id>/worth", worth.worth, name="job-worth"),
    path("jobs/<int:job_id>/export.zip", needs(OFFICE)(exchange.export), name="job-export"),
    path("jobs/<int:job_id>/readings.csv", exchange.readings, name="job-readings"),
    path("jobs/<int:job_id>/seal", seal.seal, name="job-seal"),
    path("jobs/<int:job_id>/record", printing.record, name="job-record"),
    path("jobs/<int:job_id>/record.pdf", printing.record_file, name="job-record-file"),
    path("jobs/<int:job_id>/bench-sheet.pdf", printing.bench_sheet, name="job-bench-sheet"),
    path("jobs/<int:job_id>/label.pdf", printing.label, name="job-label"),
    path("import", needs(OFFICE)(exchange.bring_in), name="bring-in"),
    path("jobs/<int:job_id>/<slug:station_key>", station.station, name="station"),
    path("jobs/<int:job_id>/<slug:station_key>/decide", station.decide, name="decide"),
    path("jobs/<int:job_id>/<slug:station_key>/part", station.part, name="part"),
    path("jobs/<int:job_id>/<slug:station_key>/photo", photos.add, name="photo-add"),
    path("jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/take", station.take, name="take"),
    path("jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/strike", station.strike, name="strike"),
    path("jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/walk", walk.walk, name="walk"),
    path("jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/answer", answer.answer, name="answer"),
    path(
        "jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/answer/again",
        answer.again,
        name="answer-again",
    ),
    path(
        "jobs/<int:job_id>/<slug:station_key>/<slug:check_key>/answer/pass", answer.done, name="answer-pass"
    ),
    path("sheets", sheets.sheets, name="sheets"),
    path("sheets/new", needs(OFFICE)(sheet_editor.new), name="sheet-new"),
    path("sheets/<slug:key>", sheets.sheet, name="sheet"),
    path("sheets/<slug:key>/edit", needs(OFFICE)(sheet_editor.edit), name="sheet-edit"),
    path("instruments", instruments.instruments, name="instruments"),
    path("instruments/new", needs(OFFICE)(instruments.new), name="instrument-new"),
    path("instruments/<int:instrument_id>", instruments.instrument, name="instrument"),
    path("instruments/<int:instrument_id>/edit", needs(OFFICE)(instruments.edit), name="instrument-edit"),
    path(
        "instruments/<int:instrument_id>/retire",
        needs(OFFICE)(instruments.taken_out),
        name="instrument-retire",
    ),
    path("instruments/<int:instrument_id>/meter", meter.meter, name="meter"),
    path("customers", history.customers, name="customers"),
    path("customers/<int:customer_id>", history.customer, name="customer"),
    path("units/<int:unit_id>", history.unit, name="unit"),
    path("history", past.shop, name="history"),
    path("history/rebuilds.csv", past.rebuilds_table, name="history-rebuilds"),
    path("history/parts.csv", past.parts_table, name="history-parts"),
    path("history/instruments/<int:instrument_id>", past.instrument, name="history-instrument"),
    path("history/instruments/<int:instrument_id>.csv", past.drift_table, name="history-drift"),
    path("history/models/<slug:key>", past.model, name="history-model"),
    path("history/models/<slug:key>.csv", past.model_table, name="history-units"),
    path("history/models/<slug:key>/<slug:station_key>/<slug:check_key>", past.check, name="history-check"),
    path("photos/<uuid:key>", photos.show, name="photo"),
    path("sign-in", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-out", needs(SEE)(sign_in.SignOut.as_view()), name="sign-out"),
    path("password", needs(SEE)(sign_in.ChangePassword.as_view()), name="password"),
    path("who", who.who, name="who"),
    path("shop", needs(OFFICE)(shop.shop), name="shop"),
    path("backups", needs(OFFICE)(backups.backups), name="backups"),
    path("people", needs(OFFICE)(people.people), name="people"),
    path("api/v1/", api.urls),
    path("health", health.health, name="health"),
]

handler400 = errors.not_understood
handler403 = errors.not_allowed
handler404 = errors.not_found
handler500 = errors.broken
