"""Findings of a part in words: the verdict first, then what is wrong, open and good, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barwise.inspect.finding import WORST_FIRST, Finding, Verdict
from barwise.report.paragraphs import bullets, section, wrapped
from barwise.route.cautions import find_caution

_VERDICTS: dict[Verdict, str] = {
    "reject": "REJECT",
    "undecided": "UNDECIDED",
    "accept": "ACCEPT",
    "noted": "NOTED: nothing was held against a limit",
}
_TITLES: dict[Verdict, str] = {
    "reject": "Beyond its limit",
    "undecided": "Open",
    "accept": "Within its limit",
    "noted": "Noted",
}


def verdict_line(verdict: Verdict, sentence: str = "") -> list[str]:
    """The verdict in capitals with a sentence under it."""
    return [_VERDICTS[verdict], *(wrapped(sentence, "  ") if sentence else ())]


def findings_text(findings: Sequence[Finding]) -> list[str]:
    """Each finding under its outcome, the worst first, with what would settle it."""
    lines: list[str] = []
    for outcome in sorted(_TITLES, key=WORST_FIRST.__getitem__):
        some = [one for one in findings if one.outcome == outcome]
        lines += section(_TITLES[outcome], bullets(_with_settling(some)))
    return lines


def sections(*titled: tuple[str, Iterable[str]]) -> list[str]:
    """Further titled paragraphs, those without lines left out."""
    return [line for title, lines in titled for line in section(title, bullets(lines))]


def cautions_of(*keys: str) -> tuple[str, ...]:
    """The lines of these cautions, each once."""
    return tuple(dict.fromkeys(line for key in keys for line in find_caution(key).lines))


def _with_settling(findings: Iterable[Finding]) -> Iterable[str]:
    for one in findings:
        yield f"{one.line} {one.settle}".rstrip()
