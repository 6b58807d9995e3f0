"""Answers as paragraphs of plain text: sections with a title, and lines no wider than a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

WIDTH = 96
"""Characters; no line of an answer is wider, unless one word is."""


def bullets(lines: Iterable[str]) -> Iterator[str]:
    """Each of `lines` set in, wrapped."""
    for line in lines:
        yield from wrapped(line, "  ")


def section(title: str, lines: Iterable[str]) -> list[str]:
    """An empty line, the title and the lines; nothing at all where there are none."""
    body = list(lines)
    return ["", title, *body] if body else []


def wrapped(text: str, indent: str = "", further: str = "  ") -> list[str]:
    """One paragraph set in by `indent`; lines after its first by `further` more. No word is broken."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + further,
        break_long_words=False,
        break_on_hyphens=False,
    )
