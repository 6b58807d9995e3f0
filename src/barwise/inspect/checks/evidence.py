"""What a check is decided from, and what its decision says.

Everything stands in SI (temperatures in degrees Celsius), with what was typed kept beside it. None of it
knows where a reading is stored or how a sheet is written.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.cranking.at_the_job import JobCrank
from barwise.inspect.cranking.facts import VehicleFacts
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test.assessment import RunTest
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure import decision
from barwise.measure.entered import read_number
from barwise.measure.instrument import Instrument
from barwise.measure.units import find_unit
from barwise.measure.wear import WearScale

Decided = Literal["accept", "reject", "undecided", "noted", "not taken"]
"""``noted``: taken, and nothing is to be decided by it, such as a note or a photo."""

Json: TypeAlias = "str | int | float | bool | Sequence[Json] | Mapping[str, Json] | None"
Fact: TypeAlias = "str | float | bool"


@dataclass(frozen=True)
class Taken:
    """One reading in force: not superseded, not struck out.

    Attributes
    ----------
    value : float or None
        In SI; None for an answer in words.
    text, unit : str
        As entered: ``1.2385`` and ``in``; ``dark`` and nothing.
    place : tuple of str
        ``("1", "2")`` two bars, ``("5", "shaft")``, ``("12", "0.5")`` bar and track, ``("3",)`` the third
        brush; empty where the check has one place only.
    test : str
        Which armature test: drop, induced, resistance, ground, shaft-drop, blade; else empty.
    feed : Feed or None
        Bars and current of the feed, for drop and shaft-drop.
    instrument : Instrument or None
        What read it. For another quantity than a length its figures count in that quantity's SI unit.
        Without one, the last digit typed is taken for the scale's step.
    """

    value: float | None
    text: str
    unit: str = ""
    place: tuple[str, ...] = ()
    test: str = ""
    feed: Feed | None = None
    instrument: Instrument | None = None

    @property
    def last_digit(self) -> float:
        """The step of the last digit typed, in SI; 0 where no number with a known unit was typed."""
        number, unit = read_number(self.text.strip()), find_unit(self.unit)
        return 0.0 if number is None or unit is None else number.digit * unit.factor

    @property
    def scale_step(self) -> float:
        """The instrument's step in SI; without an instrument the last digit typed."""
        known = 0.0 if self.instrument is None else self.instrument.resolution_m
        return known or self.last_digit


@dataclass(frozen=True)
class Limit:
    """What the sheet, or a general rule where the sheet is silent, allows for one check.

    Attributes
    ----------
    key : str
        Name in the sheet, such as ``commutator-diameter``.
    allowed : decision.Limit or None
        In SI. None: only a target is given, nothing can be decided by it.
    unit : str
        Unit the sheet writes it in; lines are worded in it.
    source : str
        Where it comes from, in words.
    general : bool
        Not from the unit's own sheet.
    target : float or None
        What to aim for [SI].
    scale : WearScale or None
        Percent worn against size, where the sheet has the points.
    """

    key: str
    allowed: decision.Limit | None
    unit: str
    source: str
    general: bool = False
    target: float | None = None
    scale: WearScale | None = None


@dataclass(frozen=True)
class CommutatorFacts:
    """What the sheet says of the commutator besides its limits; lengths [m].

    `brush_band` are two fractions of the length from the riser end; `unit` is that of its lines.
    `scale` and `runout_m` are None where the sheet (and the general rules) do not give them.
    """

    bars: int
    brush_band: tuple[float, float]
    unit: str = "in"
    may_turn: bool = True
    may_undercut: bool = True
    scale: WearScale | None = None
    runout_m: float | None = None
    interval_wear_m: float | None = None
    indicator_turn_m: float | None = None


@dataclass(frozen=True)
class SheetFacts:
    """The model sheet as the deciding functions see it.

    `facts` are such as ``field = "series"``. `limits` are all of the route by their key, the sheet's or else
    the general ones, for a check that needs more than its own.
    """

    key: str = ""
    title: str = ""
    version: int = 0
    winding: Winding | None = None
    meter_ohm: float | None = None
    commutator: CommutatorFacts | None = None
    facts: Mapping[str, Fact] = field(default_factory=dict)
    limits: Mapping[str, Limit] = field(default_factory=dict)


@dataclass(frozen=True)
class Answer:
    """One thing that can be answered in words, what it means, and what to do then.

    `means` None: it is noted and decides nothing. `proposes`: reuse, rework or replace where this answer
    speaks for one of them; empty where the check's own word serves.
    """

    say: str
    means: Literal["accept", "reject", "undecided"] | None
    then: str = ""
    proposes: str = ""


@dataclass(frozen=True)
class Outcome:
    """What a check comes to.

    Attributes
    ----------
    decision : str
        accept, reject, undecided; noted; or not taken, where nothing was read yet.
    line : str
        One plain sentence.
    settle : str
        What would settle it; empty where nothing is open.
    value, uncertainty : float or None
        Measured value and its standard uncertainty [SI].
    quantity, unit : str
        Dimension of the value, and the unit to show it in.
    probability : float or None
        That it is within its limit, or that the armature is sound.
    details : mapping
        Plain values for screens and records, ready for JSON.
    answer : Diagnosis, CutPlan, RunTest, JobCrank or None
        The whole answer the details were taken from, for pictures and reports; not for storing.
    """

    decision: Decided
    line: str
    settle: str = ""
    value: float | None = None
    uncertainty: float | None = None
    quantity: str = ""
    unit: str = ""
    probability: float | None = None
    details: Mapping[str, Json] = field(default_factory=dict)
    answer: Diagnosis | CutPlan | RunTest | JobCrank | None = None


@dataclass(frozen=True)
class Evidence:
    """All that one check is decided from.

    Attributes
    ----------
    readings : tuple of Taken
        Those in force, in the order they were taken.
    limit : Limit or None
    sheet : SheetFacts
    context : mapping of str to Outcome
        Outcomes of other checks by the part they play here, such as ``diameter``.
    what : str
        The check's title, for the line.
    quantity, unit : str
        Of its readings, and the unit to show them in.
    places : tuple of str
        Places that should be read, such as four brushes; empty where there is one.
    repeats : int
        Readings asked for at each place.
    answers : tuple of Answer
        What can be answered in words.
    level : float
        Probability that is enough to decide.
    vehicle : VehicleFacts or None
        What its readings say of a vehicle, where they are of one.
    """

    readings: tuple[Taken, ...] = ()
    limit: Limit | None = None
    sheet: SheetFacts = SheetFacts()
    context: Mapping[str, Outcome] = field(default_factory=dict)
    what: str = "value"
    quantity: str = ""
    unit: str = ""
    places: tuple[str, ...] = ()
    repeats: int = 1
    answers: tuple[Answer, ...] = ()
    level: float = decision.USUAL_LEVEL
    vehicle: VehicleFacts | None = None

    def numbers(self) -> tuple[Taken, ...]:
        """The readings that are numbers."""
        return tuple(one for one in self.readings if one.value is not None)


def not_taken(evidence: Evidence) -> Outcome:
    """The outcome of a check of which nothing was read."""
    return Outcome(
        "not taken", f"{evidence.what}: not taken yet.", quantity=evidence.quantity, unit=evidence.unit
    )


def finest_step(readings: Sequence[Taken]) -> float:
    """The finest step among the readings, in SI: a number may have lost its last zero, none gains one."""
    return min((one.scale_step for one in readings if one.scale_step > 0), default=0.0)
