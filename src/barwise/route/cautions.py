"""Cautions, each shown where its hazard is; their words are in `cautions.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from types import MappingProxyType

from barwise.errors import InputError
from barwise.files.text import nearest_word, shown

CODE_FIRST = "Local electrical codes and licensed practice come first."


@dataclass(frozen=True)
class Caution:
    """What can hurt, and how not to be hurt; `source` says where the words come from."""

    key: str
    lines: tuple[str, ...]
    source: str


@lru_cache(maxsize=1)
def all_cautions() -> Mapping[str, Caution]:
    """Every caution by its key. Those of mains and batteries end with `CODE_FIRST`."""
    text = (resources.files("barwise.route") / "cautions.toml").read_text(encoding="utf-8")
    found = {}
    for key, table in tomllib.loads(text).items():
        last = (CODE_FIRST,) if table["electrical"] else ()
        found[key] = Caution(key, (*table["lines"], *last), table["source"])
    return MappingProxyType(found)


def lines_of(keys: Iterable[str]) -> tuple[str, ...]:
    """Lines of several cautions in order, `CODE_FIRST` once and last where one of them has it.

    Raises InputError as `find_caution`.
    """
    lines = [line for key in keys for line in find_caution(key).lines]
    last = (CODE_FIRST,) if CODE_FIRST in lines else ()
    return (*(line for line in lines if line != CODE_FIRST), *last)


def find_caution(key: str) -> Caution:
    """The caution of a key. Raises InputError naming the nearest when there is none."""
    known = all_cautions()
    if key not in known:
        near = nearest_word(key, known)
        raise InputError("caution", f"unknown caution {shown(key)}", f"one of {', '.join(known)}{near}")
    return known[key]
