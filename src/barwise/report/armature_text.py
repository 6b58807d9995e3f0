"""The diagnosis of an armature in plain words, verdict first, for reading at the bench."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from barwise.inspect.diagnosis import Detectable, Diagnosis, Finding
from barwise.machine.winding import Winding
from barwise.report.cautions import cautions_for
from barwise.report.fault_words import (
    ends_in_words,
    meaning,
    name_of,
    named_place,
    place_in_words,
    probability_in_words,
    reading_in_words,
    seen_at_in_words,
    severity_in_words,
)

WIDTH = 96
TOLD = 0.01
"""Runner-up explanations less likely than this are left to the JSON answer."""


def armature_text(winding: Winding, diagnosis: Diagnosis) -> str:
    """The whole answer; no line is wider than `WIDTH`, ends with a line end."""
    lines = [*_wrapped(verdict_line(diagnosis), "")]
    lines += _section("Found", _findings(winding, diagnosis, first=True))
    lines += _section("Less likely, not ruled out", _findings(winding, diagnosis, first=False))
    lines += _section("Readings not to trust", _suspects(diagnosis))
    lines += _section("What these readings could have missed", _missed(diagnosis))
    lines += _section("Probe next", _next(diagnosis))
    lines += _section("Notes", _bullets(diagnosis.notes))
    lines += _section("Care", _bullets(cautions_for(_tests(diagnosis))))
    return "\n".join(lines) + "\n"


def verdict_line(diagnosis: Diagnosis) -> str:
    """The verdict in one line."""
    faults = [finding for finding in diagnosis.findings if finding.explanation == 1]
    if diagnosis.verdict == "sound":
        sure = probability_in_words(diagnosis.sound_probability)
        return f"SOUND: these readings show no fault ({sure} sure)."
    named = "; ".join(f"{name_of(finding.fault)}, {named_place(finding)}" for finding in faults)
    if diagnosis.verdict == "faulty":
        count = f"{len(faults)} faults: " if len(faults) > 1 else ""
        return f"FAULTY: {count}{named}." if named else "FAULTY."
    sound = probability_in_words(diagnosis.sound_probability)
    if not named:
        return f"UNDECIDED: probably sound ({sound}); one more reading would tell more."
    sure = probability_in_words(min(finding.probability for finding in faults))
    return f"UNDECIDED: perhaps {named} ({sure}), perhaps sound ({sound})."


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
            yield from _wrapped(line, "  ")


def _finding(winding: Winding, finding: Finding) -> Iterator[str]:
    name = name_of(finding.fault)
    sure = probability_in_words(finding.probability)
    yield from _wrapped(f"{name[0].upper()}{name[1:]}, {named_place(finding)}: {sure}", "  ")
    severity = severity_in_words(winding, finding)
    if severity:
        yield from _wrapped(severity[0].upper() + severity[1:] + ".", "    ")
    places = seen_at_in_words(winding, finding)
    if places:
        yield from _wrapped(places[0].upper() + places[1:] + ".", "    ")
    yield from _wrapped(meaning(winding, finding), "    ")


def _suspects(diagnosis: Diagnosis) -> Iterator[str]:
    for suspect in diagnosis.suspects:
        sure = probability_in_words(suspect.probability)
        yield from _wrapped(f"{reading_in_words(suspect.reading)}: {suspect.reason} ({sure} sure)", "  ")


def _missed(diagnosis: Diagnosis) -> Iterator[str]:
    for fault, limit in diagnosis.smallest_detectable.items():
        yield from _wrapped(f"{name_of(fault)}: {_limit_in_words(limit)}", "  ")


def _limit_in_words(limit: Detectable) -> str:
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
    if reading is None:
        return
    where = f"{reading.test}, {ends_in_words(reading.test, reading.start, reading.end)}"
    if reading.feed is not None:
        feed = reading.feed
        where += f", {feed.amps:g} A fed in at bar {feed.into} and out at bar {feed.out}"
    yield from _wrapped(f"{where}: {reading.why}", "  ")


def _tests(diagnosis: Diagnosis) -> list[str]:
    tests = [str(reading.test) for reading in diagnosis.readings]
    return tests + ([diagnosis.next_reading.test] if diagnosis.next_reading else [])


def _bullets(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        yield from _wrapped(line, "  ")


def _section(title: str, lines: Iterable[str]) -> list[str]:
    body = list(lines)
    return ["", title, *body] if body else []


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
