"""The diagnosis of an armature in plain words, verdict first, for reading at the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from barwise.inspect.armature.assessment import SURE
from barwise.inspect.armature.wording import CONTRADICTORY
from barwise.inspect.diagnosis import Detectable, Diagnosis, Finding, NextReading
from barwise.machine.winding import Winding
from barwise.report.armature.cautions import cautions_for
from barwise.report.armature.fault_words import (
    GUESS,
    SETTLED,
    ends_in_words,
    meaning,
    name_of,
    named_place,
    place_in_words,
    reading_in_words,
    seen_at_in_words,
    severity_in_words,
)
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.report.probability import probability_in_words

TOLD = 0.01
"""Runner-up explanations less likely than this are left to the JSON answer."""
MOST_SUSPECTS = 8
"""More doubted readings than this are only counted."""


def armature_text(winding: Winding, diagnosis: Diagnosis) -> str:
    """The whole answer; no line is wider than `WIDTH`, ends with a line end."""
    lines = [*wrapped(verdict_line(diagnosis), "")]
    lines += bullets(what_it_means(diagnosis))
    lines += section("Found", _findings(winding, diagnosis, first=True))
    lines += section("Less likely, not ruled out", _findings(winding, diagnosis, first=False))
    lines += section("Readings not to trust", _suspects(diagnosis))
    lines += section("How small a fault would have been seen", _missed(diagnosis))
    lines += section("Probe next", _next(diagnosis))
    lines += section("Notes", bullets(notes_in_words(diagnosis)))
    lines += section("Care", bullets(cautions_for(tests_named(diagnosis))))
    return "\n".join(lines) + "\n"


def verdict_line(diagnosis: Diagnosis) -> str:
    """The verdict, short and in capitals, to be read from where the armature lies."""
    faults = [finding for finding in diagnosis.findings if finding.explanation == 1]
    if diagnosis.verdict == "sound":
        return "SOUND AS FAR AS TESTED" if _untested(diagnosis) else "SOUND"
    alone, faulty = len(faults) == 1, diagnosis.verdict == "faulty"
    named = " AND ".join(_short_name(finding, with_bars=alone, hedged=faulty) for finding in faults)
    if CONTRADICTORY in diagnosis.notes:
        verdict = "FAULTY OR MISREAD" if faulty else "UNDECIDED"
        return f"{verdict}: READINGS CONTRADICT EACH OTHER"
    if faulty:
        return f"FAULTY: {named}" if named else "FAULTY"
    if not named:
        return (
            "UNDECIDED: TOO LITTLE READ TO SAY" if _nothing_shown(diagnosis) else "UNDECIDED: PERHAPS SOUND"
        )
    return f"UNDECIDED: PERHAPS {named}"


def _short_name(finding: Finding, *, with_bars: bool, hedged: bool) -> str:
    """``SHORTED COIL 6 (bars 6 and 7)``, or without a place where it is not settled."""
    name = name_of(finding.fault).upper()
    if finding.probability < SETTLED:
        return f"{name}, PLACE NOT SETTLED"
    if hedged and finding.probability < SURE and finding.coil is not None:
        return f"{name}, PROBABLY COIL {finding.coil}"
    first, second = finding.bars
    if finding.coil is None:
        return f"{name.removesuffix(' BARS')} BARS {first} AND {second}"
    coil = f" {finding.coil}" if name.endswith(" COIL") else f", COIL {finding.coil}"
    return f"{name}{coil} (bars {first} and {second})" if with_bars else f"{name}{coil}"


def what_it_means(diagnosis: Diagnosis) -> Iterator[str]:
    """One or two plain sentences under the verdict."""
    untested = _untested(diagnosis)
    if diagnosis.verdict == "sound":
        sure = probability_in_words(diagnosis.sound_probability)
        yield f"None of the faults that these readings can show is there ({sure} sure)."
        if untested:
            yield f"Not tested for: {', '.join(untested)}."
    elif diagnosis.verdict == "undecided" and CONTRADICTORY not in diagnosis.notes:
        if _nothing_shown(diagnosis):
            yield "No fault between the bars can be shown by so few readings."
        else:
            sound = probability_in_words(diagnosis.sound_probability)
            yield f"Chance that it is sound: {sound}. One more reading would tell more."


def _untested(diagnosis: Diagnosis) -> list[str]:
    """Kinds of fault that these readings cannot show at all."""
    limits = diagnosis.smallest_detectable
    return [name_of(fault) for fault, limit in limits.items() if not limit.severity]


def _nothing_shown(diagnosis: Diagnosis) -> bool:
    limits = diagnosis.smallest_detectable
    return not any(limit.severity for fault, limit in limits.items() if fault != "grounded-coil")


def _findings(winding: Winding, diagnosis: Diagnosis, *, first: bool) -> Iterator[str]:
    for finding in diagnosis.findings:
        if (finding.explanation == 1) is not first or (not first and finding.probability < TOLD):
            continue
        if first:
            yield from _finding(winding, finding)
        else:
            group = f"explanation {finding.explanation}"
            sure = probability_in_words(finding.probability)
            line = f"{name_of(finding.fault)}, {place_in_words(finding)}: {sure} ({group})"
            yield from wrapped(line, "  ")


def _finding(winding: Winding, finding: Finding) -> Iterator[str]:
    name = name_of(finding.fault)
    sure = f": {probability_in_words(finding.probability)}" if finding.probability >= GUESS else ""
    yield from wrapped(f"{name[0].upper()}{name[1:]}, {named_place(finding)}{sure}", "  ")
    severity = severity_in_words(winding, finding)
    if severity:
        yield from wrapped(severity[0].upper() + severity[1:] + ".", "    ")
    places = seen_at_in_words(winding, finding)
    if places:
        yield from wrapped(places[0].upper() + places[1:] + ".", "    ")
    yield from wrapped(meaning(winding, finding), "    ")


def _suspects(diagnosis: Diagnosis) -> Iterator[str]:
    for suspect in diagnosis.suspects[:MOST_SUSPECTS]:
        sure = probability_in_words(suspect.probability)
        yield from wrapped(f"{reading_in_words(suspect.reading)}: {suspect.reason} ({sure} sure)", "  ")
    more = len(diagnosis.suspects) - MOST_SUSPECTS
    if more > 0:
        yield f"  and {more} more (--json lists them all)"


def _missed(diagnosis: Diagnosis) -> Iterator[str]:
    for fault, words in could_be_missed(diagnosis):
        yield from wrapped(f"{name_of(fault)}: {words}", "  ")


def could_be_missed(diagnosis: Diagnosis) -> Iterator[tuple[str, str]]:
    """Each kind of fault, and how small a one these readings would have shown."""
    found = {finding.fault for finding in diagnosis.findings if finding.explanation == 1}
    for fault, limit in diagnosis.smallest_detectable.items():
        # there is no small and large ground to speak of once there is one
        if fault == "grounded-coil" and fault in found:
            continue
        yield fault, limit_in_words(limit)


def limit_in_words(limit: Detectable) -> str:
    """How small a fault of one kind would have been seen, and where none would."""
    if not limit.hidden or not limit.severity:
        return limit.why
    what = "from bar" if limit.fault == "bar-bridge" else "coil"
    what += "s" if len(limit.hidden) > 1 else ""
    return f"{limit.why} ({what} {numbers_in_words(limit.hidden)})"


def numbers_in_words(numbers: Iterable[int]) -> str:
    """Numbers with runs drawn together.

    Examples
    --------
    >>> numbers_in_words([1, 2, 3, 7, 9, 10])
    '1 to 3, 7, 9, 10'
    """
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = (f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
    return ", ".join(parts)


def _next(diagnosis: Diagnosis) -> Iterator[str]:
    reading = diagnosis.next_reading
    if reading is not None:
        yield from wrapped(f"{next_in_words(reading)}: {reading.why}", "  ")


def next_in_words(reading: NextReading) -> str:
    """Test, place and feed of the reading to take next."""
    where = f"{reading.test}, {ends_in_words(reading.test, reading.start, reading.end)}"
    if reading.feed is not None:
        feed = reading.feed
        where += f", {feed.amps:g} A fed in at bar {feed.into} and out at bar {feed.out}"
    return where


def notes_in_words(diagnosis: Diagnosis) -> list[str]:
    """The notes, but not a second time what cannot be shown."""
    return [note for note in diagnosis.notes if not note.startswith("these readings cannot show")]


def tests_named(diagnosis: Diagnosis) -> list[str]:
    """Tests that were taken or are asked for, for their cautions."""
    tests = [str(reading.test) for reading in diagnosis.readings]
    return tests + ([diagnosis.next_reading.test] if diagnosis.next_reading else [])
