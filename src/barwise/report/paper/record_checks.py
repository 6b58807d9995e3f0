"""The checks of a rebuild record in words: what each came to, and every reading as it was typed.

The words and numbers are those of the screens: sentences of the kept results, values and bands of the limit
line. Nothing is rounded or decided here that is not shown there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from django.utils import timezone

from barwise.inspect.checks.wording import allowed, number
from barwise.measure.units import printed
from barwise.record.handover import CheckFile, KeptReading
from barwise.record.in_force import feed_of, taken
from barwise.record.models import Instrument, Reading
from barwise.record.results import WALKS, as_outcome
from barwise.report.measured.limit_line import (
    BAND,
    LimitLine,
    band_in_words,
    half_width_in_words,
    limit_line_of,
    value_in_words,
)
from barwise.report.run.cranking import entered_in_words

OPEN = "open"
"""Shown for a check whose readings nobody decided on yet."""


@dataclass(frozen=True)
class Figure:
    """One measured value: its place, value, how far it may be off, its own decision."""

    place: str
    value: str
    band: str
    decision: str


@dataclass(frozen=True)
class ReadingRow:
    """One reading: number, place, as typed, what read it, who, when, and what became of it."""

    number: int
    place: str
    entered: str
    instrument: str
    overdue: bool
    person: str
    day: str
    time: str
    counts: bool
    remark: str


@dataclass(frozen=True)
class WalkRows:
    """Readings of one walk taken by one person with one instrument on one day, in order of place.

    `title` says which test, under which feed; `taken` who, with what, when. `remarks` are of those that no
    longer count.
    """

    title: str
    taken: str
    overdue: bool
    rows: tuple[ReadingRow, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class CheckPrinted:
    """One check with all that was read.

    Attributes
    ----------
    decision : str
        accept, reject, undecided, noted or open.
    line, settle : str
        The result's sentence without title and source, and what would settle it.
    figures : tuple of Figure
        The value at each place; empty where nothing is a number.
    allowed, source : str
        The limit and where it comes from; empty where there is none.
    general : bool
        The limit is not the model's own.
    decided : str
        When, by which sheet and version of barwise, where that does not go without saying.
    since : str
        What is out of date about it.
    """

    key: str
    title: str
    decision: str
    line: str
    settle: str
    figures: tuple[Figure, ...]
    allowed: str
    source: str
    general: bool
    decided: str
    since: str
    readings: tuple[ReadingRow, ...]
    walks: tuple[WalkRows, ...]

    @property
    def worst(self) -> Figure | None:
        """The figure that decided: the first with the check's own decision."""
        return next((one for one in self.figures if one.decision == self.decision), None)


def check_printed(file: CheckFile, usual: tuple[str, str]) -> CheckPrinted:
    """A check that was taken, in words; `usual` are sheet and version by which most were decided."""
    result, limit = file.result, file.limit
    line = "" if result is None else file.stand.beside(result.line, limit)
    walked = file.check.entry in WALKS
    return CheckPrinted(
        key=file.stand.name,
        title=file.check.title,
        decision=file.stand.decision,
        line=line,
        settle="" if result is None else result.settle,
        figures=_figures(file),
        allowed="" if limit is None else allowed(limit, limit.unit),
        source="" if limit is None else limit.source,
        general=limit is not None and limit.general,
        decided=_decided(file, usual),
        since="Readings came in since it was decided." if file.stand.out_of_date and result else "",
        readings=() if walked else tuple(_row(file, one) for one in file.readings),
        walks=tuple(_walks(file)) if walked else (),
    )


BY_METER = "read by the meter itself"


def day(at: datetime | date) -> str:
    """``5 Nov 2026``, in the shop's time zone."""
    if isinstance(at, datetime):
        at = timezone.localtime(at).date()
    return f"{at.day} {at:%b %Y}"


def time(at: datetime) -> str:
    """``14:03``, in the shop's time zone."""
    return f"{timezone.localtime(at):%H:%M}"


def instrument_in_words(instrument: Instrument | None, *, overdue: bool = False) -> str:
    """Tag and calibration; the tag alone has its row among the instruments."""
    if instrument is None:
        return ""
    when = f"cal. {day(instrument.calibrated_on)}" if instrument.calibrated_on else "no calibration noted"
    return f"{instrument.tag}, {when}{', OVERDUE' if overdue else ''}"


def _figures(file: CheckFile) -> tuple[Figure, ...]:
    if file.result is None:
        return ()
    outcome = as_outcome(file.result)
    line = limit_line_of(file.check.title, outcome, taken(file.in_force))
    if line is not None:
        return tuple(_figure(line, at) for at in range(len(line.places)))
    if outcome.value is None or file.check.entry in WALKS:
        return ()
    digit = min((one.last_digit for one in taken(file.in_force) if one.last_digit > 0), default=0.0)
    off = outcome.uncertainty
    band = "" if not off else half_width_in_words(BAND * off, outcome.unit, digit)
    return (Figure("", number(outcome.value, outcome.unit, digit), band, outcome.decision),)


def _figure(line: LimitLine, at: int) -> Figure:
    place = line.places[at]
    return Figure(place.place, value_in_words(line, place), band_in_words(line, place), place.decision)


def sheet_and_version(file: CheckFile) -> tuple[str, str] | None:
    """What a result was decided by."""
    result = file.result
    return None if result is None else (str(result.sheet or "no model sheet"), result.software_version)


def _decided(file: CheckFile, usual: tuple[str, str]) -> str:
    """When, unless with its last reading; by what, unless by the usual."""
    result, by = file.result, sheet_and_version(file)
    if result is None or by is None:
        return ""
    when = f"{day(result.made_at)} {time(result.made_at)}"
    last = f"{day(file.in_force[-1].taken_at)} {time(file.in_force[-1].taken_at)}" if file.in_force else ""
    said = [f"decided {when}"] if when != last else []
    if by != usual:
        said.append(f"decided by {by[0]}, barwise {by[1]}")
    return ", ".join(said)


def _row(file: CheckFile, kept: KeptReading) -> ReadingRow:
    one = kept.reading
    return ReadingRow(
        number=one.seq,
        place=_place(file, one),
        entered=f"{entered_in_words(one.entered, file.check.entry)} {printed(one.unit)}".strip(),
        instrument=instrument_in_words(one.instrument, overdue=kept.overdue),
        overdue=kept.overdue,
        person="" if one.person is None else one.person.name,
        day=day(one.taken_at),
        time=time(one.taken_at),
        counts=kept.counts,
        remark=_remark(kept) if file.check.entry in WALKS else _with_source(kept),
    )


def _place(file: CheckFile, one: Reading) -> str:
    """Where it was read, as the check names its places."""
    if one.test == "blade":
        return f"slot {one.place_from}"
    if one.place_to:
        return f"{one.place_from}–{one.place_to}"
    if file.check.entry == "profile-walk":
        return one.place_from
    if one.track:
        return f"bar {one.place_from}, track {one.track}"
    if one.place_from and file.check.places is not None and one.place_from.isdecimal():
        return f"{file.check.places.word} {one.place_from}"
    return one.place_from


def _remark(kept: KeptReading) -> str:
    newer = kept.replaced_by
    if newer is None:
        return "" if kept.replaces is None else f"in place of no. {kept.replaces.seq}"
    who = "" if newer.person is None else f"{newer.person.name}, "
    when = f"{who}{day(newer.taken_at)} {time(newer.taken_at)}"
    if newer.struck:
        return f"struck out: {newer.reason} ({when})"
    return f"corrected by no. {newer.seq} ({when})"


def _with_source(kept: KeptReading) -> str:
    """The remark, and what the meter wrote where one read it."""
    one = kept.reading
    wrote = f"{BY_METER}, which wrote {one.said} ({printed(one.said_unit)})" if one.said else ""
    return "; ".join(part for part in (wrote, _remark(kept)) if part)


def _walks(file: CheckFile) -> Iterator[WalkRows]:
    """Readings by test, feed, instrument, person and day, each such run in order of place."""

    def together(kept: KeptReading) -> tuple[str, ...]:
        one = kept.reading
        feed = feed_of(one)
        under = "" if feed is None else f"{feed.into:04d}-{feed.out:04d}-{feed.amps!r}"
        at = timezone.localtime(one.taken_at).date().isoformat()
        test = _order_of_test(file, one.test)
        by = "meter" if one.said else "hand"
        return (test, under, one.track, at, str(one.instrument_id), by, str(one.person_id))

    for _, some in groupby(sorted(file.readings, key=together), key=together):
        listed = sorted(some, key=lambda kept: _in_order(kept.reading))
        yield _walk(file, listed)


def _walk(file: CheckFile, listed: Sequence[KeptReading]) -> WalkRows:
    rows = tuple(_row(file, one) for one in listed)
    first = listed[0].reading
    overdue = any(one.overdue for one in listed)
    parts = [rows[0].person, instrument_in_words(first.instrument, overdue=overdue) or "no instrument named"]
    times = sorted(one.time for one in rows)
    if first.said:
        parts.append(BY_METER)
    parts.append(f"{rows[0].day} {times[0]}" + (f" to {times[-1]}" if times[-1] != times[0] else ""))
    return WalkRows(
        title=_test_title(file, first),
        taken=", ".join(part for part in parts if part),
        overdue=overdue,
        rows=rows,
        remarks=tuple(f"No. {one.number}, {one.place}, {one.entered}: {one.remark}." for one in _told(rows)),
    )


def _told(rows: Iterable[ReadingRow]) -> Iterator[ReadingRow]:
    return (one for one in rows if one.remark)


def _test_title(file: CheckFile, one: Reading) -> str:
    titles: dict[str, str] = {walk.test: walk.title for walk in file.check.walks}
    title = titles.get(one.test, one.test) if one.test else f"Bar by bar, track {one.track}"
    feed = feed_of(one)
    under = "" if feed is None else f", {feed.amps:g} A in at bar {feed.into}, out at bar {feed.out}"
    return f"{title}{under}"


def _order_of_test(file: CheckFile, test: str) -> str:
    known = [walk.test for walk in file.check.walks]
    return f"{known.index(test) if test in known else len(known):02d}"


def _in_order(one: Reading) -> tuple[float, int]:
    """By bar or slot, and number."""
    return float(one.place_from) if one.place_from.isdecimal() else 0.0, one.seq
