"""Lengths typed as arguments, with or without quotes: ``1.2385 in``, ``"1.2385 in"``, ``1.2385in``."""

from __future__ import annotations

from collections.abc import Sequence

from barwise.measure.length import Length, parse_length
from barwise.measure.units import find_unit


def joined(words: Sequence[str]) -> list[str]:
    """Words with each unit put back to the number before it.

    Examples
    --------
    >>> joined(["1.2385", "in", "1.2386in", "1.2384"])
    ['1.2385 in', '1.2386in', '1.2384']
    """
    whole: list[str] = []
    for word in words:
        if whole and find_unit(word) is not None:
            whole[-1] += f" {word}"
        else:
            whole.append(word)
    return whole


def typed(words: Sequence[str], what: str) -> list[Length]:
    """Lengths of an argument; a bare number takes the unit of the last one that has it."""
    lengths = joined(words)
    units = [unit for text in lengths if (unit := _unit_of(text)) is not None]
    return [parse_length(text, units[-1] if units else None, what) for text in lengths]


def option(written: str | None, unit: str, what: str) -> Length | None:
    """Length of an option; a bare number takes the unit of the argument."""
    return None if written is None else parse_length(written, unit, what)


def _unit_of(text: str) -> str | None:
    name = text.strip().lstrip("+-0123456789.,eE ").strip()
    unit = find_unit(name)
    return None if unit is None else unit.name
