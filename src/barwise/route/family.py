"""The route of a family of units: stations and checks in order, read from one data file.

A family needs a data file and the deciding functions it names (`barwise.inspect.checks`), nothing else:
docs/routes.md says how one is written.
"""

from __future__ import annotations

import importlib
import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Annotated, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from barwise.errors import InputError
from barwise.files.text import nearest_word, read_text, shown
from barwise.inspect.checks import Answer, Evidence, Fact, Outcome
from barwise.measure.readings import Test
from barwise.measure.units import Dimension, find_unit, names_of
from barwise.route.cautions import Caution, find_caution
from barwise.route.toml_text import Place, first_refusal, parse_toml, where, with_floats

Entry = Literal["number", "choice", "yes-no", "bar-walk", "profile-walk", "note", "photo", "vehicle"]
Proposal = Literal["reuse", "rework", "replace"]
Decide = Callable[[Evidence], Outcome]

KIND = "a TOML file of a family: key, title and [[stations]]"
CHECKS = "barwise.inspect.checks"
_BUILT_IN = resources.files("barwise.route") / "families"
_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_QUANTITIES = get_args(Dimension)

Key = Annotated[str, Field(pattern=_KEY.pattern, max_length=40)]
Words = Annotated[str, Field(min_length=1, max_length=600)]
FactValue = bool | int | float | str
PlaceName = Annotated[str, Field(min_length=1, max_length=16)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


class FactAsked(_Table):
    """A fact of the model that the route turns on: what to ask, and what can be answered.

    `values` empty: any number.
    """

    ask: Words
    values: tuple[FactValue, ...] = ()


class Said(_Table):
    """One answer in words: what it means for the part, and what to do then.

    `proposes` goes before the check's `on_reject` where this answer asks for something else.
    """

    say: Words
    means: Literal["accept", "reject", "undecided", "note"]
    then: str = ""
    proposes: Proposal | Literal[""] = ""

    def answer(self) -> Answer:
        """For the deciding function."""
        return Answer(self.say, None if self.means == "note" else self.means, self.then, self.proposes)


class Places(_Table):
    """Places of one check that are read each: so many brushes, or places with names of their own.

    `count` may be a fact of the model.
    """

    word: Words
    count: Annotated[int, Field(ge=1, le=100)] | Key | None = None
    names: tuple[PlaceName, ...] = ()

    @model_validator(mode="after")
    def _must_say_which(self) -> Places:
        if (self.count is None) == (not self.names):
            raise ValueError(f"found {'neither' if not self.names else 'both'}; expected a count or names")
        if len(set(self.names)) < len(self.names):
            raise ValueError("found a name twice; expected each once")
        return self


class Walk(_Table):
    """One of the tests of a walk round the bars."""

    test: Test
    title: Words
    do: Words
    unit: str = ""
    caution: tuple[str, ...] = ()

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What can hurt here."""
        return tuple(find_caution(key) for key in self.caution)


class Check(_Table):
    """One thing to be measured or tested.

    Attributes
    ----------
    key : str
        Name within its station.
    do, how : str
        What to do, in plain words; how it is measured.
    entry : str
        How it is taken: number, choice, yes-no, bar-walk, profile-walk, note, photo or vehicle, which is the
        text of a vehicle file (`barwise.files.cranking_file`).
    quantity, unit : str
        Dimension of its numbers, and the unit they are taken in unless another is said.
    limit : str
        Key of its limit in the model sheet; empty where none is looked up.
    caution : tuple of str
        Keys of cautions, shown where the hazard is.
    decides : str
        ``module.function`` within `barwise.inspect.checks`.
    readings : int
        Readings asked for, at each place where there are places.
    places : Places or None
        Places that are read each, such as four brushes.
    at : str
        ``bar-track``: a number is taken with the bar and the track it was measured at.
    waits_for : tuple of str
        Checks, ``station.check``, that should be done first.
    leans_on : mapping of str to str
        Checks whose outcome its decision uses, by the part they play in it.
    outdates : tuple of str
        Checks whose readings no longer count once this one is read anew: what was seen before a pass of the
        cut says nothing of the metal after it.
    slow : bool
        Deciding it takes long: it is decided once its readings are on the disk, so that no other bench waits.
    on_reject : str
        What a rejection speaks for: ``replace``, ``rework`` where the part is put right, ``reuse`` where the
        fault is not the unit's own.
    applies_when : mapping
        Facts of the model and the values with which it is asked for; a fact the sheet does not give rules
        nothing out.
    answers : tuple of Said
        For choice and yes-no.
    walks : tuple of Walk
        For a bar-walk.
    """

    key: Key
    title: Words
    do: Words
    how: str = ""
    entry: Entry
    quantity: Dimension | Literal[""] = ""
    unit: str = ""
    limit: Key | Literal[""] = ""
    caution: tuple[str, ...] = ()
    decides: str
    readings: Annotated[int, Field(ge=1, le=50)] = 1
    places: Places | None = None
    at: Literal["", "bar-track"] = ""
    waits_for: tuple[str, ...] = ()
    leans_on: Mapping[str, str] = {}
    outdates: tuple[str, ...] = ()
    may_skip: bool = False
    slow: bool = False
    on_reject: Proposal = "replace"
    applies_when: Mapping[str, tuple[FactValue, ...]] = {}
    answers: tuple[Said, ...] = ()
    walks: tuple[Walk, ...] = ()

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What can hurt here, in the file's order."""
        return tuple(find_caution(key) for key in self.caution)

    def applies(self, facts: Mapping[str, Fact]) -> bool:
        """Whether a unit of these facts needs this check; an unknown fact rules nothing out."""
        return all(key not in facts or facts[key] in wanted for key, wanted in self.applies_when.items())

    def place_names(self, facts: Mapping[str, Fact]) -> tuple[str, ...]:
        """Names of the places to read, else ``1`` to the last; empty where there is one or nobody knows."""
        if self.places is None:
            return ()
        if self.places.names:
            return self.places.names
        count = self.places.count
        found = facts.get(count, 0) if isinstance(count, str) else count or 0
        return tuple(str(number) for number in range(1, int(found) + 1))

    @model_validator(mode="after")
    def _must_hang_together(self) -> Check:
        for complaint in _complaints(self):
            raise ValueError(complaint)
        return self


class Station(_Table):
    """One stage of the rebuild with its checks in order.

    `whole_unit`: its findings are of the unit as it comes or goes, and of no part that could be priced.
    """

    key: Key
    title: Words
    about: str = ""
    whole_unit: bool = False
    checks: Annotated[tuple[Check, ...], Field(min_length=1)]


class Family(_Table):
    """A family of units: what is done to each, in order."""

    key: Key
    title: Words
    about: str = ""
    facts: Mapping[Key, FactAsked] = {}
    stations: Annotated[tuple[Station, ...], Field(min_length=1)]

    def station(self, key: str) -> Station:
        """One station. Raises InputError naming the nearest when there is none of that key."""
        for station in self.stations:
            if station.key == key:
                return station
        known = [station.key for station in self.stations]
        raise InputError(
            f"family {self.key}, station", shown(key), f"one of {', '.join(known)}{nearest_word(key, known)}"
        )

    def check(self, station: str, check: str) -> Check:
        """One check of one station. Raises InputError naming the nearest when there is none."""
        stage = self.station(station)
        for one in stage.checks:
            if one.key == check:
                return one
        known = [one.key for one in stage.checks]
        at = f"family {self.key}, station {station}, check"
        raise InputError(at, shown(check), f"one of {', '.join(known)}{nearest_word(check, known)}")

    def all_checks(self) -> Iterator[tuple[str, Check]]:
        """Every check with its full name ``station.check``, in order."""
        for station in self.stations:
            for check in station.checks:
                yield f"{station.key}.{check.key}", check

    def route(self, facts: Mapping[str, Fact]) -> tuple[tuple[Station, tuple[Check, ...]], ...]:
        """Stations with the checks that apply to a unit of these facts; stations with none are left out."""
        both = ((one, tuple(c for c in one.checks if c.applies(facts))) for one in self.stations)
        return tuple((station, checks) for station, checks in both if checks)


@lru_cache(maxsize=32)
def deciding_function(name: str) -> Decide:
    """The function a data file names, such as ``limits.dimension``.

    Raises
    ------
    InputError
        If there is none of that name in `barwise.inspect.checks`.
    """
    module_name, _, function = name.partition(".")
    expected = f"module.function of {CHECKS}, such as limits.dimension"
    if not (module_name.isidentifier() and function.isidentifier()) or name.startswith("_"):
        raise InputError("decides", shown(name), expected)
    try:
        module = importlib.import_module(f"{CHECKS}.{module_name}")
    except ModuleNotFoundError:
        raise InputError("decides", f"no module {shown(module_name)}", expected) from None
    found: Decide | None = vars(module).get(function)
    if not callable(found) or found.__module__ != module.__name__ or function.startswith("_"):
        public = [
            key
            for key, value in vars(module).items()
            if callable(value) and value.__module__ == module.__name__ and not key.startswith("_")
        ]
        known = f"one of {', '.join(public)}{nearest_word(function, public)}"
        raise InputError("decides", f"no function {shown(function)} in {module_name}", known)
    return found


@lru_cache(maxsize=16)
def load_family(which: str | Path) -> Family:
    """A family by the key of one that comes with barwise, or from a file.

    Raises
    ------
    InputError
        If there is none, or the file cannot be used: names file, line and key.
    """
    if isinstance(which, Path):
        return parse_family(read_text(which, KIND), str(which))
    built_in = _BUILT_IN / f"{which}.toml"
    if not _KEY.fullmatch(which) or not built_in.is_file():
        known = families()
        raise InputError("family", shown(which), f"one of {', '.join(known)}{nearest_word(which, known)}")
    return parse_family(built_in.read_text(encoding="utf-8"), f"{which}.toml")


def families() -> tuple[str, ...]:
    """Keys of the families that come with barwise."""
    names = (entry.name for entry in _BUILT_IN.iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


def parse_family(text: str, name: str = "family.toml") -> Family:
    """The text of a family's file, called `name` in messages. Raises as `load_family`."""
    written = with_floats(parse_toml(text, name, KIND))
    try:
        family = Family.model_validate(written)
    except ValidationError as error:
        raise first_refusal(error, text, name, _KNOWN) from None
    for place, found, expected in _slips(family):
        raise InputError(where(name, text, place), found, expected)
    return family


_KNOWN = {"Family": tuple({*Family.model_fields, *Station.model_fields, *Check.model_fields})}


def _complaints(check: Check) -> Iterator[str]:
    """What does not go together within one check, as ``found ..; expected ..``."""
    if check.entry in ("number", "profile-walk"):
        if not check.quantity:
            yield f"found no quantity of {check.key}; expected one of {', '.join(_QUANTITIES)}"
        yield from _unit_complaints(check.unit, check.quantity)
    if check.entry == "choice" and len(check.answers) < 2:
        yield f"found {len(check.answers)} answers of {check.key}; expected two or more"
    if check.entry == "bar-walk" and not check.walks:
        yield f"found no walks of {check.key}; expected at least one"
    if len({one.say for one in check.answers}) < len(check.answers):
        yield f"found an answer twice in {check.key}; expected each once"
    if check.limit and not check.quantity:
        yield f"found a limit without a quantity in {check.key}; expected a quantity and its unit"


def _unit_complaints(unit: str, quantity: str) -> Iterator[str]:
    known = names_of(quantity) if quantity else ()  # type: ignore[arg-type]
    found = find_unit(unit)
    if found is None:
        yield f'found unknown unit "{unit}"; expected one of {", ".join(known)}'
    elif found.dimension != quantity:
        yield f'found unit "{unit}", of {found.dimension}; expected {quantity} in {", ".join(known)}'


Slip = tuple[Place, str, str]


def _slips(family: Family) -> Iterator[Slip]:
    """What does not go together across the file: place, what was found, what was expected."""
    yield from _twice([station.key for station in family.stations], ("stations",))
    names = [name for name, _ in family.all_checks()]
    earlier: list[str] = []
    for s, station in enumerate(family.stations):
        at: Place = ("stations", s)
        yield from _twice([check.key for check in station.checks], (*at, "checks"))
        for c, check in enumerate(station.checks):
            for place, found, expected in _check_slips(family, check, earlier, names):
                yield (*at, "checks", c, *place), found, expected
            earlier.append(f"{station.key}.{check.key}")


def _check_slips(family: Family, check: Check, earlier: list[str], names: list[str]) -> Iterator[Slip]:
    try:
        deciding_function(check.decides)
    except InputError as error:
        yield ("decides",), error.found, error.expected
    for key in check.caution:
        yield from _caution_slips(key, ("caution",))
    for w, walk in enumerate(check.walks):
        for key in walk.caution:
            yield from _caution_slips(key, ("walks", w, "caution"))
    for name in check.waits_for:
        if name not in earlier:
            yield ("waits_for",), shown(name), f"a check that stands earlier{nearest_word(name, earlier)}"
    for name in check.leans_on.values():
        if name not in names:
            yield ("leans_on",), shown(name), f"a check of this family{nearest_word(name, names)}"
    for name in check.outdates:
        if name not in names:
            yield ("outdates",), shown(name), f"a check of this family{nearest_word(name, names)}"
    yield from _fact_slips(family, check)


def _fact_slips(family: Family, check: Check) -> Iterator[Slip]:
    asked = [*check.applies_when]
    if check.places is not None and isinstance(check.places.count, str):
        asked.append(check.places.count)
    for fact in asked:
        if fact not in family.facts:
            known = f"one of [facts]{nearest_word(fact, family.facts)}"
            yield ("applies_when",), f"unknown fact {shown(fact)}", known
    for fact, wanted in check.applies_when.items():
        values = family.facts[fact].values if fact in family.facts else ()
        for value in wanted:
            if values and value not in values:
                shown_values = ", ".join(str(one) for one in values)
                yield ("applies_when",), shown(str(value)), f"{fact} as one of {shown_values}"


def _caution_slips(key: str, place: Place) -> Iterator[Slip]:
    try:
        find_caution(key)
    except InputError as error:
        yield place, error.found, error.expected


def _twice(keys: list[str], place: Place) -> Iterator[Slip]:
    for number, key in enumerate(keys):
        if key in keys[:number]:
            yield (*place, number, "key"), f"{shown(key)} a second time", "each key once"
