"""Between two passes of the cut: the diameter the pass left, and the bars that still show old metal.

Both go into the record as readings of their checks, together or not at all. What is not said of the bars is
not known: the route says that a diameter after a pass outdates an older word on them, wherever it is entered.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import NAMESPACE_OID, UUID, uuid5

from django.db import transaction

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.inspect.checks.wording import number
from barwise.record.entry import Entry, Question, Stored, take_reading
from barwise.record.habits import the_shop
from barwise.record.in_force import in_force
from barwise.record.models import Instrument, Job, Person, Reading
from barwise.record.route_of import RouteOfJob, route_of
from barwise.record.second_look import against_before_pass
from barwise.record.typed import Typed, far_from, read_typed
from barwise.route.family import Check

NONE_LEFT = "none"
"""Written where all of the band is fresh."""


@dataclass(frozen=True)
class PassChecks:
    """The checks a pass is written down at, each as station and check."""

    diameter: tuple[str, str]
    after_pass: tuple[str, str]
    untouched: tuple[str, str]


@dataclass(frozen=True)
class FoundAfterPass:
    """What was found after a pass, as typed.

    Attributes
    ----------
    key : UUID
        Made with the form, so that a form sent twice is one pass.
    looked : bool
        Whether the bars were looked at; `untouched` are those that still show old metal then.
    """

    key: UUID
    diameter: str
    unit: str = ""
    looked: bool = False
    untouched: tuple[int, ...] = ()
    instrument: Instrument | None = None
    confirmed: bool = False


class _AskFirst(Exception):
    """Something is to be asked first: nothing is kept."""

    def __init__(self, question: Question) -> None:
        self.question = question


def pass_checks(route: RouteOfJob, check: Check) -> PassChecks | None:
    """Where passes of this cut are written down; None where the model may not be turned."""
    names = [check.leans_on.get(part, "") for part in ("diameter", "after_pass", "untouched")]
    if not all(names):
        return None
    places = [(station, key) for station, _, key in (name.partition(".") for name in names)]
    applying = {(station.key, one.key) for station, checks in route.stations for one in checks}
    return PassChecks(*places) if applying.issuperset(places) else None


def passes_taken(job: Job, checks: PassChecks) -> list[Reading]:
    """The diameters measured after each pass so far, in order."""
    return list(in_force(job, *checks.after_pass))


def take_pass(
    job: Job, check: Check, found: FoundAfterPass, person: Person | None = None
) -> Stored | Question:
    """Write down what a pass left.

    Returns
    -------
    Stored or Question
        The diameter's reading; or what to ask first, and then nothing was kept.

    Raises
    ------
    InputError
        If the diameter cannot be taken as typed, or no bars are named where some were said to be left.
    RecordError
        If the model may not be turned, or as `take_reading`.
    """
    try:
        return _take(job, check, found, person)
    except _AskFirst as asked:
        return asked.question


@transaction.atomic
def _take(job: Job, check: Check, found: FoundAfterPass, person: Person | None) -> Stored:
    route = route_of(job)
    checks = pass_checks(route, check)
    if checks is None:
        raise InputError("pass", "a model that may not be turned", "no cut: its sheet forbids it")
    known = Reading.objects.filter(key=found.key).exists()
    if not known and not found.confirmed:
        _ask(_questions(job, route, checks, found))
    entry = Entry(
        found.key,
        *checks.after_pass,
        found.diameter,
        unit=found.unit,
        instrument=found.instrument,
        confirmed=found.confirmed,
    )
    stored = _stored(take_reading(job, entry, person))
    if found.looked:
        # Under a key that follows from the pass: sent again with other bars it is refused, not passed over.
        said = ", ".join(map(str, sorted(found.untouched))) or NONE_LEFT
        key = uuid5(NAMESPACE_OID, f"{found.key} untouched")
        _stored(take_reading(job, Entry(key, *checks.untouched, said), person))
    return stored


def _stored(answer: Stored | Question) -> Stored:
    if isinstance(answer, Question):
        raise _AskFirst(answer)
    return answer


def _ask(question: Question | None) -> None:
    if question is not None:
        raise _AskFirst(question)


def _questions(job: Job, route: RouteOfJob, checks: PassChecks, found: FoundAfterPass) -> Question | None:
    check = route.family.check(*checks.after_pass)
    comma = the_shop().decimal_comma
    typed = read_typed(found.diameter, found.unit or check.unit, check.quantity, decimal_comma=comma)
    far = far_from(typed, route.limit(route.family.check(*checks.diameter)))
    before = in_force(job, *checks.after_pass).last() or in_force(job, *checks.diameter).last()
    if far or before is None or before.value_si is None:
        return far
    return _grew(typed, before, before.value_si) or against_before_pass(typed, before, found.instrument)


def _grew(typed: Typed, before: Reading, before_m: float) -> Question | None:
    """A pass takes metal off: a diameter that grew is a slip of the pen or of the hand."""
    if typed.value_si <= before_m:
        return None
    last = f"{before.entered} {before.unit}"
    if before.unit != typed.unit:
        last += f" ({number(before_m, typed.unit)})"
    return Question(
        f"A pass takes metal off, and {typed.number} {typed.unit} is more than the {last} before. "
        "Is every digit right?"
    )


def bars_named(text: str, bars: int) -> tuple[int, ...]:
    """Bars of such as ``14, 40-48`` or ``40 to 48``.

    Raises
    ------
    InputError
        If a word names no bar of this commutator.

    Examples
    --------
    >>> bars_named("14, 40-42", 57)
    (14, 40, 41, 42)
    """
    found: set[int] = set()
    for word in text.replace(";", ",").replace("\n", ",").split(","):
        if word.strip():
            first, last = _range(word)
            if not 1 <= first <= last <= bars:
                raise InputError(
                    "untouched", shown(word.strip()), f"bars from 1 to {bars}, such as 14, 40-48"
                )
            found |= set(range(first, last + 1))
    return tuple(sorted(found))


def _range(word: str) -> tuple[int, int]:
    ends = [end.strip() for end in word.replace("to", "-").replace("\N{EN DASH}", "-").split("-")]
    if not 1 <= len(ends) <= 2 or not all(end.isdecimal() and end.isascii() and len(end) < 6 for end in ends):
        return 0, 0
    return int(ends[0]), int(ends[-1])
