"""The diagnosis of an armature laid out for a page: the verdict first, then what to do about it."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.inspect.diagnosis import Diagnosis, Finding, NextReading
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from barwise.report.armature.cautions import cautions_for
from barwise.report.armature.fault_words import (
    GUESS,
    SETTLED,
    ends_in_words,
    meaning,
    name_of,
    named_place,
    place_in_words,
    seen_at_in_words,
    severity_in_words,
)
from barwise.report.armature.text import (
    MOST_SUSPECTS,
    TOLD,
    could_be_missed,
    next_in_words,
    notes_in_words,
    tests_named,
    verdict_line,
    what_it_means,
)
from barwise.report.probability import probability_in_words


@dataclass(frozen=True)
class SaidFinding:
    """One fault in words.

    Attributes
    ----------
    coil, bars, slots : str
        Empty where unknown; all three where the place is only a guess, then `place` says so.
    sure : str
        How probable; empty where the place is too unsure for a number.
    meaning : str
        What it means for the job.
    """

    name: str
    place: str
    coil: str
    bars: str
    slots: str
    sure: str
    severity: str
    seen_at: str
    meaning: str


@dataclass(frozen=True)
class SaidSuspect:
    """A reading not to trust: where it was taken, what was typed, and why it is doubted."""

    reading: Reading
    where: str
    value: str
    reason: str
    sure: str


@dataclass(frozen=True)
class ArmatureAnswer:
    """All of a diagnosis in words.

    Attributes
    ----------
    headline : str
        To be read from where the armature lies.
    more_suspects : int
        Doubted readings beyond those listed.
    missed : tuple of (str, str)
        Kinds of fault, and how small a one would have been seen.
    following : NextReading or None
        What to read next, `next_where` and `next_why` in words.
    """

    headline: str
    means: tuple[str, ...]
    found: tuple[SaidFinding, ...]
    less_likely: tuple[str, ...]
    suspects: tuple[SaidSuspect, ...]
    more_suspects: int
    missed: tuple[tuple[str, str], ...]
    following: NextReading | None
    next_where: str
    next_why: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def armature_answer_in_words(winding: Winding, diagnosis: Diagnosis) -> ArmatureAnswer:
    """A diagnosis laid out."""
    following = diagnosis.next_reading
    return ArmatureAnswer(
        headline=verdict_line(diagnosis),
        means=tuple(what_it_means(diagnosis)),
        found=tuple(_found(winding, one) for one in diagnosis.findings if one.explanation == 1),
        less_likely=tuple(_less_likely(one) for one in diagnosis.findings if _is_told(one)),
        suspects=_suspects(diagnosis),
        more_suspects=max(len(diagnosis.suspects) - MOST_SUSPECTS, 0),
        missed=tuple((_capital(name_of(fault)), words) for fault, words in could_be_missed(diagnosis)),
        following=following,
        next_where=_capital(next_in_words(following)) if following else "",
        next_why=_capital(following.why) if following else "",
        notes=tuple(map(_capital, notes_in_words(diagnosis))),
        cautions=cautions_for(tests_named(diagnosis)),
    )


def _found(winding: Winding, one: Finding) -> SaidFinding:
    settled = one.probability >= SETTLED
    return SaidFinding(
        name=_capital(name_of(one.fault)),
        place=_capital(named_place(one)),
        coil=str(one.coil) if settled and one.coil is not None else "",
        bars=f"{one.bars[0]} and {one.bars[1]}" if settled else "",
        slots=" and ".join(map(str, one.slots)) if settled else "",
        sure=probability_in_words(one.probability) if one.probability >= GUESS else "",
        severity=_capital(severity_in_words(winding, one)),
        seen_at=_capital(seen_at_in_words(winding, one)),
        meaning=meaning(winding, one),
    )


def _is_told(one: Finding) -> bool:
    return one.explanation > 1 and one.probability >= TOLD


def _less_likely(one: Finding) -> str:
    return f"{_capital(name_of(one.fault))}, {place_in_words(one)}: {probability_in_words(one.probability)}"


def _suspects(diagnosis: Diagnosis) -> tuple[SaidSuspect, ...]:
    return tuple(
        SaidSuspect(
            reading=one.reading,
            where=_where(one.reading),
            value=f"{one.reading.entered} {one.reading.unit}".strip(),
            reason=one.reason,
            sure=probability_in_words(one.probability),
        )
        for one in diagnosis.suspects[:MOST_SUSPECTS]
    )


def _where(reading: Reading) -> str:
    return f"{reading.test}, {ends_in_words(reading.test, reading.start, reading.end)}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
