"""One check decided: its readings, the limit of the sheet or the general one, and what it leans on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from barwise.errors import InputError
from barwise.files.cranking_file import vehicle_facts
from barwise.inspect.checks import Evidence, Fact, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.cranking.facts import VehicleFacts
from barwise.measure.decision import USUAL_LEVEL
from barwise.measure.units import UNITS
from barwise.route.family import Check, Family, deciding_function
from barwise.route.general import general_limit
from barwise.route.sheet import ModelSheet, SheetLimit, sheet_facts

NOTHING: Mapping[str, Outcome] = {}


def decide(
    family: Family,
    station: str,
    check: str,
    sheet: ModelSheet | None,
    readings: Sequence[Taken],
    context: Mapping[str, Outcome] = NOTHING,
    level: float = USUAL_LEVEL,
) -> Outcome:
    """What one check comes to.

    Parameters
    ----------
    family : Family
    station, check : str
        Keys.
    sheet : ModelSheet or None
        None: the model is not known, general limits are used where there are any.
    readings : sequence of Taken
        Those in force, in the order they were taken.
    context : mapping of str to Outcome
        Outcomes of other checks of the job by their full name ``station.check``; `leaning_on` says which
        ones are asked for. Those that are missing are done without.
    level : float
        The shop's level: probability that is enough to decide.

    Raises
    ------
    InputError
        If there is no such station or check.
    """
    asked = family.check(station, check)
    return deciding_function(asked.decides)(evidence(family, asked, sheet, readings, context, level))


def leaning_on(check: Check) -> tuple[str, ...]:
    """Full names of the checks whose outcome this one's decision uses."""
    return tuple(check.leans_on.values())


def evidence(
    family: Family,
    check: Check,
    sheet: ModelSheet | None,
    readings: Sequence[Taken],
    context: Mapping[str, Outcome] = NOTHING,
    level: float = USUAL_LEVEL,
) -> Evidence:
    """All that one check is decided from."""
    facts = facts_for(family, sheet)
    return Evidence(
        readings=tuple(readings),
        limit=limit_for(family, check, sheet),
        sheet=facts,
        context={part: context[name] for part, name in check.leans_on.items() if name in context},
        what=check.title,
        quantity=check.quantity,
        unit=check.unit,
        places=check.place_names(facts.facts),
        repeats=check.readings,
        answers=tuple(said.answer() for said in check.answers),
        level=level,
        vehicle=_vehicle(check, readings),
    )


def _vehicle(check: Check, readings: Sequence[Taken]) -> VehicleFacts | None:
    """What the last reading says of a vehicle, at a check that is one."""
    return vehicle_facts(readings[-1].text) if check.entry == "vehicle" and readings else None


def facts_for(family: Family, sheet: ModelSheet | None) -> SheetFacts:
    """The sheet's facts and limits, and general ones where it gives none, a commutator's run-out too."""
    limits = _Limits(family, sheet)
    if sheet is None:
        return SheetFacts(limits=limits)
    facts = replace(sheet_facts(sheet), limits=limits)
    if facts.commutator is None or facts.commutator.runout_m is not None:
        return facts
    usual = general_limit(family.key, "commutator-runout")
    if usual is None or usual.allowed is None:
        return facts
    return replace(facts, commutator=replace(facts.commutator, runout_m=usual.allowed.upper))


class _Limits(Mapping[str, Limit]):
    """Every limit of a route by its key, looked up when it is asked for: most checks need only their own."""

    def __init__(self, family: Family, sheet: ModelSheet | None) -> None:
        self._family, self._sheet = family, sheet

    def __getitem__(self, key: str) -> Limit:
        for _, check in self._family.all_checks():
            if check.limit == key:
                found = limit_for(self._family, check, self._sheet)
                if found is not None:
                    return found
        raise KeyError(key)

    def __iter__(self) -> Iterator[str]:
        keys = dict.fromkeys(check.limit for _, check in self._family.all_checks() if check.limit)
        return (key for key in keys if key in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def limit_for(family: Family, check: Check, sheet: ModelSheet | None) -> Limit | None:
    """The limit of the sheet, or else the general one, marked; None where neither has it."""
    if not check.limit:
        return None
    own = sheet.limits.get(check.limit) if sheet is not None else None
    usual = general_limit(family.key, check.limit)
    if own is None:
        useful = usual is not None and not usual.stands_on_new
        return _limit(check.limit, usual, general=True) if useful and usual is not None else None
    _check_quantity(check, own, sheet)
    by_rule = None if usual is None else usual.completed(own)
    return _limit(check.limit, by_rule or own, general=by_rule is not None)


def asked_for(family: Family, sheet: ModelSheet | None) -> dict[str, Fact | None]:
    """Facts the route turns on, with the sheet's answer; None where the sheet does not say."""
    known = {} if sheet is None else sheet_facts(sheet).facts
    return {key: known.get(key) for key in family.facts}


def _check_quantity(check: Check, limit: SheetLimit, sheet: ModelSheet | None) -> None:
    found = UNITS[limit.unit].dimension
    if found != check.quantity:
        where = f"model sheet {sheet.key if sheet else ''}, limit {check.limit}"
        raise InputError(where, f'unit "{limit.unit}", of {found}', f"a unit of {check.quantity}")


def _limit(key: str, written: SheetLimit, *, general: bool) -> Limit:
    return Limit(
        key=key,
        allowed=written.allowed,
        unit=written.unit,
        source=written.source.words,
        general=general,
        target=written.target_si,
        scale=written.scale,
    )
