"""General limits, used only where the unit's own sheet is silent, and always marked general with their source.

Most are from printed manuals of one machine each: typical, never binding for the unit in hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from importlib import resources
from types import MappingProxyType

from pydantic import BaseModel, ConfigDict, ValidationError

from barwise.route.family import Key
from barwise.route.sheet import SheetLimit
from barwise.route.toml_text import first_refusal, parse_toml

KIND = "a TOML file of general limits, one table for each family and limit"


class _Families(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    families: Mapping[Key, Mapping[Key, SheetLimit]]


@lru_cache(maxsize=1)
def _built_in() -> Mapping[str, Mapping[str, SheetLimit]]:
    text = (resources.files("barwise.route") / "general.toml").read_text(encoding="utf-8")
    return parse_general(text, "general.toml")


def parse_general(text: str, name: str = "general.toml") -> Mapping[str, Mapping[str, SheetLimit]]:
    """General limits by family and key.

    Raises
    ------
    InputError
        If the text cannot be used: names file, line and key.
    """
    try:
        found = _Families(families=parse_toml(text, name, KIND))
    except ValidationError as error:
        refused = first_refusal(error, text, name, {"_Families": tuple(SheetLimit.model_fields)}, skip=1)
        raise refused from None
    return MappingProxyType(dict(found.families))


def general_limit(family: str, key: str) -> SheetLimit | None:
    """The general limit of one key for a family, or None where there is none."""
    return _built_in().get(family, {}).get(key)


def general_limits(family: str) -> Mapping[str, SheetLimit]:
    """All general limits of a family by key; empty where it has none."""
    return _built_in().get(family, MappingProxyType({}))
