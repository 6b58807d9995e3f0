"""Numbers in words and pictures, with the comma for the decimal sign where a shop writes one.

What the record keeps, files hold and programs are told has the decimal point, always: only what people read
is changed, and only here. What people wrote themselves, and what a book is quoted by, stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_NUMBER = re.compile(r"(?<![\w.])(?<!\d,)(\d+)\.(\d+)(?!\w|[.,]\w)")
_QUOTED = re.compile(
    r"((?i:near|sections?|clauses?|tables?|figures?|chapters?|pp?\.|CFR|§)|[A-Z]{2,}\d{2,}\S*)$"
)
"""A word before a number that is a place in a book or standard: "section 4.2", "AR100 2.8"."""
_TAG = re.compile(r"<!--.*?-->|<[^>]*>", re.S)
_NAME = re.compile(r"<(/?)([a-zA-Z][\w-]*)")
_AS_IT_IS = frozenset({"head", "script", "style", "pre", "code", "textarea"})
_EMPTY = frozenset({"br", "col", "hr", "img", "input", "link", "meta", "wbr"})
_MARKED = re.compile(r"\stranslate=[\"']no[\"']")
_FIELD = re.compile(r"\sinputmode=[\"']decimal[\"']")
_TYPED = re.compile(r"(\svalue=\")([+\-\N{MINUS SIGN}]?\d+)\.(\d+)\"")


def has_decimals(text: str) -> bool:
    """Whether there is anything to change."""
    return _NUMBER.search(text) is not None


def with_comma(text: str) -> str:
    """Plain words with commas for decimal points.

    Examples
    --------
    >>> with_comma("1.2363 in, above 1.2260 in (AR100 2.8, barwise 0.1.0)")
    '1,2363 in, above 1,2260 in (AR100 2.8, barwise 0.1.0)'
    """
    return _NUMBER.sub(lambda found: _one(found, text), text)


def page_with_comma(page: str) -> str:
    """A page or a part of one, pictures included: its words changed, its markup not.

    Fields for a number (``inputmode="decimal"``) show it with the comma. What stands within an element that
    says ``translate="no"`` was written by people and is left as it is; so is code.

    Examples
    --------
    >>> page_with_comma('<p>1.5 V <b translate="no">tag 1.5</b> <path d="M1.5 2.5"/></p>')
    '<p>1,5 V <b translate="no">tag 1.5</b> <path d="M1.5 2.5"/></p>'
    """
    return "".join(_parts(page))


def _one(found: re.Match[str], text: str) -> str:
    before = text[max(0, found.start() - 24) : found.start()].split()
    if before and text[found.start() - 1].isspace() and _QUOTED.search(before[-1]):
        return found[0]
    return f"{found[1]},{found[2]}"


def _parts(page: str) -> Iterator[str]:
    at, within, depth = 0, "", 0
    for tag in _TAG.finditer(page):
        words = page[at : tag.start()]
        yield words if within else with_comma(words)
        yield _field(tag[0])
        at = tag.end()
        named = _NAME.match(tag[0])
        closes, name = (named[1] == "/", named[2].lower()) if named else (False, "")
        if not name or name in _EMPTY or tag[0].endswith("/>"):
            continue
        if within:
            depth += 0 if name != within else -1 if closes else 1
            within = within if depth else ""
        elif not closes and (name in _AS_IT_IS or _MARKED.search(tag[0])):
            within, depth = name, 1
    yield page[at:] if within else with_comma(page[at:])


def _field(tag: str) -> str:
    return _TYPED.sub(r'\1\2,\3"', tag) if _FIELD.search(tag) else tag
