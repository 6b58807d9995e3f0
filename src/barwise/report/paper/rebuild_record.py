"""The rebuild record in words: two pages for the customer, the whole file behind them.

Paper (`report.paper.printed_record`) and screen (the page of the record) show what is laid out here, so
that both say the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.cranking.at_the_job import KeptCrank
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.record.handover import CheckFile, CustomersWord, FoundBefore, RebuildRecord
from barwise.record.instruments import due
from barwise.record.models import Change, Disposition, Part, Photo, Result
from barwise.record.overview import is_open
from barwise.record.told_answers import ToldAnswer
from barwise.report.armature.answer import armature_answer_in_words
from barwise.report.commutator.answer import cut_answer_in_words
from barwise.report.paper.record_checks import (
    OPEN,
    CheckPrinted,
    check_printed,
    day,
    sheet_and_version,
    time,
)
from barwise.report.paper.record_pictures import AS_FOUND, Drawn, PhotoPrinted, drawn, photo_printed
from barwise.report.paper.record_seal import Seal
from barwise.report.probability import probability_in_words
from barwise.report.run.cranking import crank_lines
from barwise.report.run.text import power_lines, verdict_line
from barwise.route.cautions import lines_of

REFITTING = ("vehicle", "battery", "lifting")
"""Cautions for whoever puts the unit back."""
ADVICE = "handover.advice"
"""What the customer must look at, in the rebuilder's words."""
INVENTED = "INVENTED FOR THE DEMONSTRATION: no part of this record is real"
_TALLIED = {
    "accept": "accepted",
    "reject": "rejected",
    "undecided": "undecided",
    "noted": "noted",
    OPEN: "open",
}
_DECIDED = ("accept", "reject", "undecided")


@dataclass(frozen=True)
class Line:
    """A label and what stands behind it."""

    label: str
    words: str


@dataclass(frozen=True)
class SaidFound:
    """One thing that was found: its decision, where, and what."""

    decision: str
    where: str
    line: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True)
class SaidDone:
    """What became of a part: decided, and why where it was decided other than proposed."""

    part: str
    decided: str
    overruled: str
    reason: str
    who: str


@dataclass(frozen=True)
class KeyNumber:
    """One number held against its limit; `at` is its place on the route."""

    at: int
    where: str
    value: str
    band: str
    allowed: str
    general: bool
    decision: str


@dataclass(frozen=True)
class SaidWord:
    """The customer's word: approved or declined, what was shown, who said so, how and when."""

    answer: str
    line: str
    by: str
    note: str


@dataclass(frozen=True)
class StationPrinted:
    """One station: what was decided for its parts, its checks, and those that were not taken."""

    title: str
    decided: tuple[SaidDone, ...]
    checks: tuple[CheckPrinted, ...]
    not_taken: str


@dataclass(frozen=True)
class InstrumentPrinted:
    """One instrument with its certificate; all in words."""

    tag: str
    kind: str
    calibrated: str
    due: str
    overdue: bool


@dataclass(frozen=True)
class Dated:
    """Something that was done, when and by whom."""

    when: str
    who: str
    line: str


@dataclass(frozen=True)
class RecordPages:
    """The record as it is printed and shown, all in words.

    Attributes
    ----------
    headline, tally : str
        Finished, or in work with so many checks open; how many checks came to what.
    unfinished : bool
        The job is not closed: what is printed is no handover.
    found, done, parts, numbers, missed, cautions : tuple
        Of the customer's two pages; `numbers` in the order in which they should be kept where room is short.
    stations, instruments, words, changes, photos : tuple
        Of the file behind them; `untouched` are stations where nothing was taken or decided.
    """

    shop: str
    address: tuple[str, ...]
    invented: str
    tag: str
    number: str
    customer: str
    headline: str
    tally: str
    unfinished: bool
    unit: tuple[Line, ...]
    complaint: str
    found: tuple[SaidFound, ...]
    done: tuple[SaidDone, ...]
    parts: tuple[str, ...]
    before_after: tuple[PhotoPrinted, ...]
    drawings: tuple[Drawn, ...]
    numbers: tuple[KeyNumber, ...]
    sure: str
    missed: tuple[Line, ...]
    not_tested: str
    advice: tuple[str, ...]
    cautions: tuple[str, ...]
    warranty: tuple[str, ...]
    word: SaidWord | None
    identity: tuple[Line, ...]
    seal: Seal | None
    stations: tuple[StationPrinted, ...]
    untouched: tuple[str, ...]
    instruments: tuple[InstrumentPrinted, ...]
    words: tuple[SaidWord, ...]
    changes: tuple[Dated, ...]
    photos: tuple[PhotoPrinted, ...]

    @property
    def numbers_by_route(self) -> tuple[KeyNumber, ...]:
        """What did not pass first, then in the route's order."""
        return tuple(sorted(self.numbers, key=lambda one: (one.decision == "accept", one.at)))


def laid_out(record: RebuildRecord, seal: Seal | None = None) -> RecordPages:
    """A record in words."""
    job, shop = record.job, record.shop
    usual = _usual(record)
    checks = {one.stand.name: check_printed(one, usual) for one in record.checks if one.stand.in_force}
    photos = tuple(photo_printed(one, _at(record, one)) for one in record.photos)
    words = tuple(map(_word, record.words))
    return RecordPages(
        shop=shop.name,
        address=tuple(line for line in shop.address.splitlines() if line.strip()),
        invented=INVENTED if job.invented or shop.invented else "",
        tag=job.unit.tag,
        number=job.number,
        customer=job.customer.name,
        headline=_headline(record),
        tally=_tally(checks.values()),
        unfinished=job.state != "closed",
        unit=tuple(_unit(record)),
        complaint=job.complaint,
        found=tuple(_found(record, checks)),
        done=tuple(_done(record, one) for one in record.decided),
        parts=tuple(map(_part, record.parts)),
        before_after=_before_after(photos, record.photos),
        drawings=tuple(drawn(record)),
        numbers=tuple(_numbers(record, checks)),
        sure=_sure(shop.level),
        missed=tuple(_missed(record)),
        not_tested=_not_tested(record),
        advice=_advice(record),
        cautions=lines_of(REFITTING),
        warranty=tuple(line for line in shop.warranty.splitlines() if line.strip()),
        word=words[0] if words else None,
        identity=tuple(_identity(record, usual)),
        seal=seal,
        stations=tuple(_stations(record, checks)),
        untouched=_untouched(record),
        instruments=tuple(_instruments(record)),
        words=words,
        changes=tuple(map(_change, record.changes)),
        photos=photos,
    )


def _headline(record: RebuildRecord) -> str:
    job, still_open = record.job, sum(is_open(one.stand) for one in record.checks)
    if job.state == "closed":
        when = "" if job.closed_at is None else f" on {day(job.closed_at)}"
        left = f"; {_checks(still_open)} left open" if still_open else ""
        return f"Rebuild finished{when}{left}."
    waits = f" It waits for {job.waits_for}." if job.waits_for else ""
    return f"Work in progress: {_checks(still_open)} still open. This is no handover.{waits}"


def _usual(record: RebuildRecord) -> tuple[str, str]:
    """Sheet and version of barwise by which most results were decided; said once for all of them."""
    by = Counter(found for one in record.checks if (found := sheet_and_version(one)) is not None)
    return by.most_common(1)[0][0] if by else ("no model sheet", record.software_version)


def _tally(checks: Iterable[CheckPrinted]) -> str:
    counts = Counter(one.decision for one in checks)
    if not counts:
        return "Nothing was read yet."
    always = ("accept", "reject", "undecided")
    told = [(counts[key], word) for key, word in _TALLIED.items() if counts[key] or key in always]
    said = [f"{count or 'none'} {word}" for count, word in told]
    return f"{_checks(sum(counts.values()))} taken: {', '.join(said)}."


def _checks(count: int) -> str:
    return "1 check" if count == 1 else f"{count} checks"


def _unit(record: RebuildRecord) -> Iterator[Line]:
    job = record.job
    yield Line("Unit", job.unit.description or record.route.family.title)
    yield Line("Tag", job.unit.tag)
    yield Line("Serial", job.unit.serial or "not known")
    yield Line("Customer", job.customer.name)
    yield Line("Job", job.number)
    yield Line("Came in", day(job.opened_at))


def _found(record: RebuildRecord, checks: dict[str, CheckPrinted]) -> Iterator[SaidFound]:
    """What did not pass, was not decided, or was noted with a remark; whole answers in any case.

    What was mended since stands first, as it was found.
    """
    for file in record.checks:
        before = file.before
        if before is not None and before.result.decision in ("reject", "undecided"):
            yield _as_found(record, file, before)
    for file in record.checks:
        said = checks.get(file.stand.name)
        if said is None:
            continue
        where = f"{file.station.title}: {said.title}"
        if file.result is not None and file.answer is not None:
            head, more = _answer(record, file, file.result, file.answer)
            yield SaidFound(said.decision, where, head, more)
        elif said.decision in ("reject", "undecided", OPEN) or (said.decision == "noted" and said.settle):
            yield SaidFound(said.decision, where, said.line or "Read, not decided.", _few(said.settle))


def _as_found(record: RebuildRecord, file: CheckFile, before: FoundBefore) -> SaidFound:
    """What a check came to before the work, and why it was measured anew."""
    where = f"{file.station.title}: {file.check.title}, {AS_FOUND}"
    if before.answer is not None:
        line, more = _answer(record, file, before.result, before.answer)
    else:
        line, more = file.stand.beside(before.result.line, file.limit), ()
    reason = before.reason.rstrip(".")
    return SaidFound(before.result.decision, where, line, (*more, f"{reason[:1].upper()}{reason[1:]}."))


def _few(words: str) -> tuple[str, ...]:
    return (words,) if words else ()


def _answer(
    record: RebuildRecord, file: CheckFile, result: Result, answer: ToldAnswer
) -> tuple[str, tuple[str, ...]]:
    """Headline of an answer and the lines a customer wants of it."""
    if isinstance(answer, Diagnosis) and record.route.winding is not None:
        said = armature_answer_in_words(record.route.winding, answer)
        more = (one.severity.rstrip(".") for one in said.found if one.severity)
        return f"{said.headline}.", (*(f"{one}." for one in more), *said.means)
    if isinstance(answer, CutPlan):
        cut = cut_answer_in_words(answer, record.length_unit(file))
        figures = "; ".join(f"{one.label.lower()} {one.value}" for one in cut.figures)
        return f"{cut.headline}: {cut.worth}. {cut.why}", (f"{figures[:1].upper()}{figures[1:]}.",)
    if isinstance(answer, RunTest):
        return verdict_line(answer), tuple(power_lines(answer))
    if isinstance(answer, KeptCrank):
        return file.stand.beside(result.line, None), tuple(crank_lines(answer))
    return "", ()


def _done(record: RebuildRecord, one: Disposition) -> SaidDone:
    overruled = one.proposed if one.proposed and one.proposed != one.decided else ""
    who = "" if one.person is None else f"{one.person.name}, "
    return SaidDone(
        part=one.part or _station_title(record, one.station_key) or one.station_key,
        decided=one.decided,
        overruled=overruled,
        reason=one.reason,
        who=f"{who}{day(one.decided_at)}",
    )


def _part(one: Part) -> str:
    number = f", {one.part_number}" if one.part_number else ""
    note = f": {one.note}" if one.note else ""
    return f"{one.quantity} × {one.name}{number}, {one.action}{note}"


def _before_after(printed: Sequence[PhotoPrinted], photos: Sequence[Photo]) -> tuple[PhotoPrinted, ...]:
    """The first photo of intake, and the last of the handover."""
    both = list(zip(printed, photos, strict=True))
    before = next((one for one, kept in both if kept.station_key in ("intake", "teardown")), None)
    after = next((one for one, kept in reversed(both) if kept.station_key == "handover"), None)
    return tuple(one for one in (before, after) if one is not None)


def _numbers(record: RebuildRecord, checks: dict[str, CheckPrinted]) -> Iterator[KeyNumber]:
    """Numbers held against a limit, in the order in which they are kept where room is short.

    What did not pass comes first, then from the last station back: what goes out counts more than what came.
    """
    rows = []
    for at, file in enumerate(record.checks):
        said = checks.get(file.stand.name)
        if said is None or said.worst is None or not said.allowed or said.decision not in _DECIDED:
            continue
        worst = said.worst
        which = f", {worst.place} (worst of {len(said.figures)})" if len(said.figures) > 1 else ""
        where = f"{file.station.title}: {said.title}{which}"
        rows.append(KeyNumber(at, where, worst.value, worst.band, said.allowed, said.general, said.decision))
    yield from sorted(rows, key=lambda row: (row.decision == "accept", -row.at))


def _sure(level: float) -> str:
    return (
        f"Accepted or rejected at {100 * level:g} %: of parts exactly on a limit, one in "
        f"{1 / (1 - level):.0f} may be judged wrongly. ± is what a value may be off by, 95 % sure. "
        "* a general limit, not the model's own; sources stand in the file."
    )


def _missed(record: RebuildRecord) -> Iterator[Line]:
    """How small a fault would have been seen, by the answers that say so."""
    for file in record.checks:
        if isinstance(file.answer, Diagnosis) and record.route.winding is not None:
            said = armature_answer_in_words(record.route.winding, file.answer)
            yield from (Line(what, words) for what, words in said.missed)
        elif isinstance(file.answer, CutPlan):
            cut = cut_answer_in_words(file.answer, record.length_unit(file))
            beside = [one for one in cut.figures if one.label.lower().startswith(("cleans", "would"))]
            yield from (Line(f"{one.label} {one.value}", one.beside) for one in beside)
        elif isinstance(file.answer, RunTest):
            words = f"{probability_in_words(file.answer.healthy)} that nothing is wrong that a run shows"
            yield Line("Run test", words)


def _not_tested(record: RebuildRecord) -> str:
    """What was not done, so that nobody takes silence for a pass; whole stations come first."""
    whole, some = [], []
    for station, files in _by_station(record):
        missing = [one.check.title for one in files if not one.stand.in_force and one.check.entry != "photo"]
        if missing and not any(one.stand.in_force for one in files):
            whole.append(station)
        elif missing:
            named = ", ".join(f"{one[:1].lower()}{one[1:]}" for one in missing)
            some.append(f"{station} ({named})")
    first = [f"nothing at all of {', '.join(whole)}"] if whole else []
    return "; ".join((*first, *some))


def _by_station(record: RebuildRecord) -> list[tuple[str, list[CheckFile]]]:
    listed: dict[str, list[CheckFile]] = {}
    for file in record.checks:
        listed.setdefault(file.station.title, []).append(file)
    return list(listed.items())


def _advice(record: RebuildRecord) -> tuple[str, ...]:
    file = record.check(ADVICE)
    return () if file is None else tuple(one.entered for one in file.in_force)


def _word(one: CustomersWord) -> SaidWord:
    kept = one.approval
    who = f", written down by {kept.person.name}" if kept.person is not None else ""
    when = f"{day(kept.recorded_at)} {time(kept.recorded_at)}"
    return SaidWord(kept.answer, one.line or one.title, f"{kept.said_by}, {kept.way}, {when}{who}", kept.note)


def _identity(record: RebuildRecord, usual: tuple[str, str]) -> Iterator[Line]:
    job, sheet = record.job, record.job.sheet
    yield Line("Job", f"{job.number}, known elsewhere as {job.uuid}")
    serial = job.unit.serial or "not known"
    yield Line("Unit", _joined(job.unit.tag, f"serial {serial}", job.unit.description))
    yield Line("Customer", _joined(job.customer.name, " ".join(job.customer.contact.split())))
    yield Line("Complaint", job.complaint or "none written down")
    if sheet is None:
        yield Line("Model sheet", "none: only general limits hold")
    else:
        yield Line("Model sheet", f"{sheet.title}, {sheet}, SHA-256 {sheet.sha256}")
    closed = f", closed {day(job.closed_at)}" if job.closed_at else ""
    yield Line("Opened", f"{day(job.opened_at)} {time(job.opened_at)}{closed}")
    kept = [reading for one in record.checks for reading in one.readings]
    off = sum(not one.counts for one in kept)
    last = f"the last is no. {job.last_seq}"
    yield Line("Readings", f"{len(kept)}, {off} of them corrected or struck out; {last}")
    yield Line("Decided by", f"{usual[0]} and barwise {usual[1]}, where nothing else is said")
    at = f"{day(record.gathered_at)} {time(record.gathered_at)}"
    yield Line("Printed by", f"barwise {record.software_version}, {at}")


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _stations(record: RebuildRecord, checks: dict[str, CheckPrinted]) -> Iterator[StationPrinted]:
    for title, files in _by_station(record):
        decided = tuple(
            _done(record, one) for one in record.decided if one.station_key == files[0].station.key
        )
        taken = tuple(checks[one.stand.name] for one in files if one.stand.name in checks)
        if taken or decided:
            missing = ", ".join(one.check.title for one in files if not one.stand.in_force)
            yield StationPrinted(title, decided, taken, missing)


def _untouched(record: RebuildRecord) -> tuple[str, ...]:
    decided = {one.station_key for one in record.decided}
    return tuple(
        title
        for title, files in _by_station(record)
        if not any(one.stand.in_force for one in files) and files[0].station.key not in decided
    )


def _instruments(record: RebuildRecord) -> Iterator[InstrumentPrinted]:
    late = {kept.reading.instrument_id for one in record.checks for kept in one.readings if kept.overdue}
    for tool in record.instruments:
        words = {"overdue": "overdue now", "due soon": "due soon", "in date": "", "no date": ""}[due(tool)]
        until = "no date" if tool.due_on is None else day(tool.due_on)
        used = "overdue when it was used" if tool.pk in late else words
        yield InstrumentPrinted(
            tag=tool.tag,
            kind=tool.kind,
            calibrated="not noted" if tool.calibrated_on is None else day(tool.calibrated_on),
            due=f"{until}{', ' if used else ''}{used}",
            overdue=tool.pk in late,
        )


def _change(one: Change) -> Dated:
    who = "" if one.person is None else one.person.name
    return Dated(f"{day(one.at)} {time(one.at)}", who, one.line)


def _at(record: RebuildRecord, photo: Photo) -> str:
    """Where a photo was taken, in the route's words."""
    return _joined(_station_title(record, photo.station_key), day(photo.recorded_at))


def _station_title(record: RebuildRecord, key: str) -> str:
    """Empty where the route of this model has no such station."""
    return next((one.station.title for one in record.checks if one.station.key == key), "")
