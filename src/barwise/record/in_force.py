"""The readings in force: not superseded, not struck out, in the order they came."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import QuerySet

from barwise.inspect.checks import Taken
from barwise.machine.feed import Feed
from barwise.measure import instrument as measuring
from barwise.record.models import Instrument, Job, Reading


def in_force(job: Job, station: str = "", check: str = "") -> QuerySet[Reading]:
    """Readings of a job, of one of its stations or of one check, with their instruments and people."""
    found = Reading.objects.filter(job=job, superseded_by__isnull=True, struck=False)
    if station:
        found = found.filter(station_key=station)
    if check:
        found = found.filter(check_key=check)
    return found.select_related("instrument", "person").order_by("seq")


def readings_in_force(job: Job, station: str, check: str) -> tuple[Taken, ...]:
    """What one check is decided from."""
    return taken(in_force(job, station, check))


def taken(readings: Iterable[Reading]) -> tuple[Taken, ...]:
    """Readings as the deciding functions take them."""
    return tuple(_taken(reading) for reading in readings)


def place_of(reading: Reading) -> tuple[str, ...]:
    """Where it was read: two bars, bar and track, one place, or nothing."""
    return tuple(name for name in (reading.place_from, reading.place_to, reading.track) if name)


def feed_of(reading: Reading) -> Feed | None:
    """The feed it was read under."""
    if reading.feed_from is None or reading.feed_to is None or reading.feed_amps is None:
        return None
    return Feed(reading.feed_from, reading.feed_to, reading.feed_amps)


def number_text(reading: Reading) -> str:
    """The number with a decimal point, whatever sign was typed; words as they are."""
    if reading.value_si is None:
        return reading.entered
    return reading.entered.replace(",", ".")


def _taken(reading: Reading) -> Taken:
    return Taken(
        value=reading.value_si,
        text=number_text(reading),
        unit=reading.unit,
        place=place_of(reading),
        test=reading.test,
        feed=feed_of(reading),
        instrument=None if reading.instrument is None else _instrument(reading.instrument),
    )


def _instrument(kept: Instrument) -> measuring.Instrument:
    return measuring.Instrument(
        name=str(kept),
        resolution_m=kept.resolution_si,
        calibration_standard_uncertainty_m=kept.calibration_standard_uncertainty_si,
        repeatability_m=kept.repeatability_si,
        calibrated_on=None if kept.calibrated_on is None else kept.calibrated_on.isoformat(),
    )
