"""A bench sheet to write on: every check of a job's route with its limit, its cautions and empty boxes.

For shops that write first and type later. What is asked, in which unit and how often comes from the family's
file and the model sheet; the bars of the walks from the winding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from django.utils import timezone

from barwise.inspect.bar_walk import AGAINST_SHAFT, FED, usual_feed
from barwise.inspect.checks.wording import allowed
from barwise.measure.units import printed
from barwise.record.habits import the_shop
from barwise.record.models import Job
from barwise.record.route_of import RouteOfJob, route_of
from barwise.report.paper.printed_numbers import with_shops_sign
from barwise.report.paper.rebuild_record import INVENTED
from barwise.report.paper.typesetting import Paper, Sheet, Typesetter, paper_named
from barwise.route.cautions import lines_of
from barwise.route.family import Check

NOTE_LINES = 2
TRACKS = 3
"""Columns of a profile walk that are left for tracks: both ends of the brush band and its middle."""
UNKNOWN_BARS = 60
"""Rows of a walk where no model sheet says how many bars there are."""


@dataclass(frozen=True)
class Box:
    """One empty box: what stands before it and behind it."""

    label: str
    unit: str


@dataclass(frozen=True)
class WalkTable:
    """A table to be filled bar by bar.

    Attributes
    ----------
    first : str
        Head of the column that names the row.
    rows : tuple of str
        Bars, pairs of bars or slots.
    columns : tuple of Box
        A test each, with its unit.
    feeds : tuple of str
        For the tests that are fed: which, and where to feed usually.
    """

    first: str
    rows: tuple[str, ...]
    columns: tuple[Box, ...]
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True)
class BlankCheck:
    """One check to be written down; exactly one of boxes, answers, lines and tables is not empty."""

    title: str
    do: str
    how: str
    allowed: str
    skip: bool
    cautions: tuple[str, ...]
    as_above: bool
    boxes: tuple[Box, ...] = ()
    answers: tuple[str, ...] = ()
    lines: int = 0
    tables: tuple[WalkTable, ...] = ()


@dataclass(frozen=True)
class BlankStation:
    """One station of the route."""

    title: str
    about: str
    checks: tuple[BlankCheck, ...]


def bench_sheet_pdf(job: Job, paper: Paper | None = None) -> bytes:
    """The blank bench sheet of a job as PDF. Raises InputError where its family is not known."""
    with Typesetter(bench_sheet(job, paper)) as setter:
        return setter.pdf()


def bench_sheet(job: Job, paper: Paper | None = None, at: datetime | None = None) -> Sheet:
    """What is set."""
    shop, model = the_shop(), job.sheet
    route = route_of(job)
    about = job.unit.description or route.family.title
    stations = [asdict(one) for one in blank_stations(route)]
    if shop.decimal_comma:
        stations = with_shops_sign(stations)
    return Sheet(
        template="bench_sheet",
        title=f"Bench sheet, {job.unit.tag}, job {job.number}",
        description=f"To write on: every check of {job.unit.tag} with its limit",
        author=shop.name,
        footer=(f"{job.unit.tag}, job {job.number}", "Type it in by station; the paper is no record."),
        at=timezone.localtime(at),
        paper=paper or paper_named(shop.paper),
        data={
            "shop": shop.name,
            "tag": job.unit.tag,
            "number": job.number,
            "customer": job.customer.name,
            "unit": about,
            "model": "no model sheet, general limits only" if model is None else f"sheet {model}",
            "complaint": job.complaint,
            "stations": stations,
        },
        invented=INVENTED if job.invented or shop.invented else "",
    )


def blank_stations(route: RouteOfJob) -> Iterator[BlankStation]:
    """The stations of a route with empty boxes; a caution stands in full where it first comes in one."""
    for station, checks in route.stations:
        yield BlankStation(station.title, station.about, tuple(_checks(route, checks)))


def _checks(route: RouteOfJob, checks: tuple[Check, ...]) -> Iterator[BlankCheck]:
    said: set[str] = set()
    for check in checks:
        keys = dict.fromkeys([*check.caution, *(key for walk in check.walks for key in walk.caution)])
        limit = route.limit(check)
        yield BlankCheck(
            title=check.title,
            do=check.do,
            how=check.how,
            allowed="" if limit is None else _allowed(allowed(limit, limit.unit), general=limit.general),
            skip=check.may_skip,
            cautions=lines_of(key for key in keys if key not in said),
            as_above=any(key in said for key in keys),
            **_to_fill(route, check),
        )
        said.update(keys)


def _allowed(words: str, *, general: bool) -> str:
    return f"{words}*" if general else words


def _to_fill(route: RouteOfJob, check: Check) -> dict[str, Any]:
    if check.entry == "bar-walk":
        return {"tables": tuple(_walks(route, check))}
    if check.entry == "profile-walk":
        tracks = tuple(Box("track", printed(check.unit)) for _ in range(TRACKS))
        return {"tables": (WalkTable("bar", tuple(str(bar or "") for bar in _bars(route)), tracks),)}
    if check.entry == "number":
        return {"boxes": tuple(_boxes(route, check))}
    if check.answers or check.entry == "yes-no":
        return {"answers": tuple(one.say for one in check.answers) or ("yes", "no")}
    return {"answers": ("taken",)} if check.entry == "photo" else {"lines": NOTE_LINES}


def _boxes(route: RouteOfJob, check: Check) -> Iterator[Box]:
    limit, unit = route.limit(check), check.unit
    unit = printed(unit if limit is None else limit.unit)
    names = check.place_names(route.facts.facts)
    word = "" if check.places is None else check.places.word
    labels = [f"{word} {name}" if name.isdecimal() else name for name in names]
    if check.places is not None and not names:
        labels = [f"{word} {number}" for number in (1, 2, 3, 4)]
    at = "bar ____ track ____" if check.at == "bar-track" else ""
    for label in labels or [at]:
        for _ in range(check.readings):
            yield Box(label, unit)


def _walks(route: RouteOfJob, check: Check) -> Iterator[WalkTable]:
    """Tests between neighbouring bars in one table, those to the shaft in another, the strip by slots."""
    between = [one for one in check.walks if one.test not in (*AGAINST_SHAFT, "blade")]
    against = [one for one in check.walks if one.test in AGAINST_SHAFT]
    bars = _bars(route)
    pairs = tuple(f"{bar}–{bar % len(bars) + 1}" if bar else "" for bar in bars)
    singly = tuple(str(bar or "") for bar in bars)
    for some, first, rows in ((between, "bars", pairs), (against, "bar", singly)):
        if some:
            feeds = tuple(_feed(route, one.title) for one in some if one.test in FED)
            yield WalkTable(first, rows, tuple(Box(one.title, printed(one.unit)) for one in some), feeds)
    winding = route.winding
    blade = next((one for one in check.walks if one.test == "blade"), None)
    if blade is not None:
        slots = (None if winding is None else winding.slots) or UNKNOWN_BARS // 2
        yield WalkTable("slot", tuple(map(str, range(1, slots + 1))), (Box(f"{blade.title}: buzzes", ""),))


def _feed(route: RouteOfJob, title: str) -> str:
    usual = None if route.winding is None else usual_feed(route.winding)
    hint = "" if usual is None else f" (usual: bars {usual.into} and {usual.out})"
    return f"{title}: ________ A in at bar ______, out at bar ______{hint}"


def _bars(route: RouteOfJob) -> tuple[int, ...]:
    """Numbers of the bars; zeros, to be written by hand, where no sheet says how many there are."""
    known = route.winding or route.facts.commutator
    return (0,) * UNKNOWN_BARS if known is None else tuple(range(1, known.bars + 1))
