"""Drift of an instrument, seen in its readings: each against what others of the same model read.

Units differ, and that goes in as well: only what lasts over many of them stands out.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from barwise.errors import InputError
from barwise.measure.difference import Difference, difference
from barwise.measure.drift import Drift, ewma, run_length, seen_within
from barwise.measure.usual import Usual, usual
from barwise.record.models import Instrument, Reading
from barwise.record.past.models_read import route_of_model, told_in

MOST_READINGS = 4000
"""Newest readings of an instrument that are looked at."""
MOST_OTHERS = 2000
"""Newest readings of a check on a model that they are held against."""
SEEN_WITHIN = 20.0
"""Units after which a drift should show, for the words on how small a one does."""
LEAST_EACH = 4
"""Units that each of two instruments must have read to be compared."""


@dataclass(frozen=True)
class ReadHere:
    """What an instrument read at one check of one job, against others of that model [standard deviations]."""

    job_id: int
    job_number: str
    at: datetime
    model: str
    station: str
    check: str
    value: float
    apart: float


@dataclass(frozen=True)
class AgainstOthers:
    """One check of one model read with this instrument and with others: by how much this one reads higher.

    `spread` is the standard deviation between units [SI].
    """

    model: str
    title: str
    unit: str
    spread: float
    own: int
    others: int
    higher: Difference | None


@dataclass(frozen=True)
class InstrumentSeen:
    """What the readings of an instrument show.

    Attributes
    ----------
    readings : tuple of ReadHere
        In the order they were taken; one for each job, as two checks on one unit say the same twice.
    chart : Drift
        The average that forgets slowly, of those.
    false_alarm_after, seen_shift : float
        Readings until chance alone gives an alarm; the shift that is seen within `SEEN_WITHIN` readings, in
        standard deviations between units.
    against : tuple of AgainstOthers
        Checks with most units first.
    """

    instrument: Instrument
    readings: tuple[ReadHere, ...]
    chart: Drift
    false_alarm_after: float
    seen_shift: float
    against: tuple[AgainstOthers, ...]


@dataclass(frozen=True)
class _Taken:
    job_id: int
    job_number: str
    at: datetime
    tag: str
    value: float


def instrument_seen(instrument: Instrument) -> InstrumentSeen:
    """Readings of an instrument under all its certificates, against those of the same checks and models."""
    readings: dict[int, ReadHere] = {}
    against: list[AgainstOthers] = []
    for sheet, station, check in _checks_of(instrument):
        try:
            route = route_of_model(sheet)
        except InputError:  # its family is not known to this barwise
            continue
        asked = route.family.check(station, check)
        if asked.entry != "number":
            continue
        rows = _taken(sheet, station, check)
        group = _rest(rows, instrument.tag)
        if group is None or not group.spread > 0:
            continue
        title = f"{route.family.station(station).title}: {asked.title}"
        model = route.sheet.title if route.sheet is not None else sheet
        own = [one for one in rows if one.tag == instrument.tag]
        for one in own:
            here = ReadHere(
                job_id=one.job_id,
                job_number=one.job_number,
                at=one.at,
                model=model,
                station=station,
                check=check,
                value=one.value,
                apart=(one.value - group.centre) / group.spread,
            )
            readings.setdefault(one.job_id, here)
        other = [one.value for one in rows if one.tag and one.tag != instrument.tag]
        mine = [one.value for one in own]
        higher = difference(mine, other) if min(len(mine), len(other)) >= LEAST_EACH else None
        against.append(
            AgainstOthers(model, title, told_in(route, asked), group.spread, len(own), len(other), higher)
        )
    ordered = sorted(readings.values(), key=lambda one: (one.at, one.job_id))
    return InstrumentSeen(
        instrument=instrument,
        readings=tuple(ordered),
        chart=ewma([one.apart for one in ordered]),
        false_alarm_after=run_length(0.0),
        seen_shift=seen_within(SEEN_WITHIN),
        against=tuple(sorted(against, key=lambda one: (one.higher is None, -one.own))),
    )


def _rest(rows: list[_Taken], tag: str) -> Usual | None:
    """What others read, so that it is not held against itself; all of them where the others are too few."""
    return usual([one.value for one in rows if one.tag != tag]) or usual([one.value for one in rows])


def _checks_of(instrument: Instrument) -> list[tuple[str, str, str]]:
    """Sheet, station and check that the newest readings were taken at; the most read first."""
    rows = Reading.objects.filter(instrument__tag=instrument.tag, value_si__isnull=False, test="")
    newest = rows.order_by("-id").values_list("job__sheet__key", "station_key", "check_key")[:MOST_READINGS]
    counted = Counter((sheet, station, check) for sheet, station, check in newest if sheet is not None)
    return [name for name, _ in counted.most_common()]


def _taken(sheet: str, station: str, check: str) -> list[_Taken]:
    """One value for each job and instrument: the mean of what counts there."""
    rows = Reading.objects.filter(
        job__sheet__key=sheet,
        station_key=station,
        check_key=check,
        value_si__isnull=False,
        struck=False,
        superseded_by=None,
    )
    named = rows.order_by("-id").values_list(
        "job_id", "job__number", "taken_at", "instrument__tag", "value_si"
    )[:MOST_OTHERS]
    found: dict[tuple[int, str], list[tuple[str, datetime, float]]] = {}
    for job_id, number, at, tag, value in named:
        found.setdefault((job_id, tag or ""), []).append((number, at, value))
    return [
        _Taken(job_id, some[0][0], max(at for _, at, _ in some), tag, float(np.mean([v for *_, v in some])))
        for (job_id, tag), some in found.items()
        if all(math.isfinite(value) for *_, value in some)
    ]
