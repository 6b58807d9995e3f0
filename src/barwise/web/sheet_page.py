"""A model sheet as it is read: its limits by station, what is general, what is missing, and its versions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from barwise.record.models import Job, SheetVersion
from barwise.record.sheets import sheet_from
from barwise.route.family import Check, FactValue, Family, load_family
from barwise.route.general import general_limit
from barwise.route.sheet import Figures, ModelSheet, SheetLimit, known_facts
from barwise.route.sheet_changes import differences, unasked

SIDES = {
    "low": "at least",
    "high": "at most",
    "target": "aim for",
    "new": "new",
    "half_worn": "half worn",
    "discard": "discard",
}
"""What the numbers of a limit are called at the bench."""

WINDING = {
    "kind": "Winding",
    "poles": "Poles",
    "bars": "Bars",
    "slots": "Slots",
    "turns_per_coil": "Turns in a coil",
    "progression": "Ends cross over",
    "plex": "Plex",
    "coil_pitch": "Coil pitch, slots",
    "coil_resistance": "Resistance of a coil, ohm",
    "temperature": "at a temperature of, °C",
    "equalizers": "Equalizer rings",
    "meter_ohms": "Load of the meter, ohm",
}
COMMUTATOR = {
    "bars": "Bars",
    "unit": "Measured in",
    "brush_band": "Brushes run, from the riser",
    "may_turn": "May be turned",
    "may_undercut": "Mica may be undercut",
    "interval_wear": "Wears to the next rebuild",
    "indicator_turn": "One turn of the indicator",
}


@dataclass(frozen=True)
class LimitRow:
    """One limit as it stands on the page; `general` names the general source it comes from.

    `figures` are the numbers in words and digits, `also` the same in the other system; neither where the
    sheet is silent and no general figure stands in.
    """

    key: str
    title: str
    unit: str = ""
    figures: tuple[tuple[str, str], ...] = ()
    also: str = ""
    source: str = ""
    note: str = ""
    general: str = ""


@dataclass(frozen=True)
class Version:
    """One version with what changed since the one before; the first has none before it."""

    kept: SheetVersion
    changes: tuple[str, ...]
    first: bool


@dataclass(frozen=True)
class SheetPage:
    """All that the reading page of one version shows."""

    kept: SheetVersion
    newest: SheetVersion
    sheet: ModelSheet
    stations: tuple[tuple[str, tuple[LimitRow, ...]], ...]
    further: tuple[LimitRow, ...]
    facts: tuple[tuple[str, str], ...]
    winding: tuple[tuple[str, str], ...]
    commutator: tuple[tuple[str, str], ...]
    versions: tuple[Version, ...]
    jobs: tuple[Job, ...]
    asks: tuple[str, ...]

    @property
    def usual_source(self) -> str:
        """Where most limits are from, to be said once; empty where no source stands for half of them."""
        counts = Counter(row.source for _, rows in self.stations for row in rows if row.source)
        source, count = next(iter(counts.most_common(1)), ("", 0))
        return source if count > 2 and 2 * count >= counts.total() else ""

    @property
    def is_newest(self) -> bool:
        """Whether no later version is kept."""
        return self.kept.version == self.newest.version


def sheet_page(kept: SheetVersion, versions: list[SheetVersion]) -> SheetPage:
    """The page of one version among all `versions` of its sheet, the newest first."""
    sheet, family = sheet_from(kept.toml), load_family(kept.family_key)
    asked = {check.limit for _, check in family.all_checks() if check.limit}
    jobs = Job.objects.filter(sheet__key=kept.key).exclude(state="closed")
    return SheetPage(
        kept=kept,
        newest=versions[0],
        sheet=sheet,
        stations=tuple(_stations(sheet, family)),
        further=tuple(_row(key, key, one, None) for key, one in sheet.limits.items() if key not in asked),
        facts=tuple(_facts(sheet, family)),
        winding=_winding(sheet),
        commutator=_commutator(sheet),
        versions=_versions(versions),
        jobs=tuple(jobs.select_related("unit", "customer", "sheet").order_by("opened_at", "id")),
        asks=unasked(sheet, family),
    )


def limit_checks(family: Family) -> Iterator[tuple[str, Check]]:
    """Each check that looks a limit up with the title of its station; a limit of two checks comes once."""
    seen: set[str] = set()
    for station in family.stations:
        for check in station.checks:
            if check.limit and check.limit not in seen:
                seen.add(check.limit)
                yield station.title, check


def _stations(sheet: ModelSheet, family: Family) -> Iterator[tuple[str, tuple[LimitRow, ...]]]:
    facts = known_facts(sheet)
    rows: dict[str, list[LimitRow]] = {}
    for station, check in limit_checks(family):
        own, usual = sheet.limits.get(check.limit), general_limit(family.key, check.limit)
        if own is None and not check.applies(facts):
            continue
        if own is None and usual is not None and not usual.stands_on_new:
            row = _row(check.limit, check.title, usual, usual)
        elif own is not None and usual is not None and (by_rule := usual.completed(own)) is not None:
            row = _row(check.limit, check.title, by_rule, usual)
        else:
            row = _row(check.limit, check.title, own, None)
        rows.setdefault(station, []).append(row)
    yield from ((station, tuple(some)) for station, some in rows.items())


def _row(key: str, title: str, limit: SheetLimit | None, usual: SheetLimit | None) -> LimitRow:
    if limit is None:
        return LimitRow(key, title)
    return LimitRow(
        key=key,
        title=title,
        unit=limit.unit,
        figures=tuple(_figures(limit)),
        also="" if limit.also is None else _also(limit.also),
        source=limit.source.words,
        note=limit.note,
        general="" if usual is None else usual.source.words,
    )


def _figures(limit: Figures) -> Iterator[tuple[str, str]]:
    for key, figure in limit.given().items():
        yield SIDES.get(key, f"{key.removeprefix('points.')} % worn"), str(figure)


def _also(also: Figures) -> str:
    return ", ".join(f"{words} {figure} {also.unit}" for words, figure in _figures(also))


def _facts(sheet: ModelSheet, family: Family) -> Iterator[tuple[str, str]]:
    facts = known_facts(sheet)
    for key, asked in family.facts.items():
        yield asked.ask, words(facts[key]) if key in facts else ""
    for key in facts.keys() - family.facts.keys():
        yield key, words(facts[key])


def _winding(sheet: ModelSheet) -> tuple[tuple[str, str], ...]:
    """A temperature says nothing where no resistance goes with it."""
    given = getattr(sheet.winding, "coil_resistance", None) is not None
    return _table(
        sheet.winding, {key: title for key, title in WINDING.items() if given or key != "temperature"}
    )


def _commutator(sheet: ModelSheet) -> tuple[tuple[str, str], ...]:
    unit = getattr(sheet.commutator, "unit", "")
    lengths = {COMMUTATOR[key] for key in ("interval_wear", "indicator_turn")}
    rows = _table(sheet.commutator, COMMUTATOR)
    return tuple((title, f"{said} {unit}" if title in lengths else said) for title, said in rows)


def _table(table: object, names: dict[str, str]) -> tuple[tuple[str, str], ...]:
    given = ((title, getattr(table, key, None)) for key, title in names.items())
    return tuple((title, words(value)) for title, value in given if value is not None)


def words(value: FactValue | tuple[float, ...]) -> str:
    """A value of a sheet as it is read."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return " to ".join(f"{one:g}" for one in value) + " of its length"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value).replace("-", " ")


def _versions(versions: list[SheetVersion]) -> tuple[Version, ...]:
    sheets = [sheet_from(one.toml) for one in versions]
    after = [differences(before, later) for later, before in pairwise(sheets)]
    return tuple(
        Version(one, changes, first=number == len(versions) - 1)
        for number, (one, changes) in enumerate(zip(versions, [*after, ()], strict=True))
    )
