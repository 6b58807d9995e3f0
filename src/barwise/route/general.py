"""General limits: used only where the sheet is silent, and always marked general with their source.

Most are from printed manuals of one machine each: typical, never binding for the unit in hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from importlib import resources
from types import MappingProxyType
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from barwise.route.family import Key
from barwise.route.sheet import SheetLimit
from barwise.route.toml_text import first_refusal, parse_toml

KIND = "a TOML file of general limits, one table for each family and limit"


class GeneralLimit(SheetLimit):
    """A general limit; `discard_share` is a rule by the size when new: half of it, say."""

    discard_share: Annotated[Decimal, Field(gt=0, lt=1)] | None = None

    @property
    def stands_on_new(self) -> bool:
        """Whether it is such a rule."""
        return self.discard_share is not None

    def completed(self, own: SheetLimit) -> SheetLimit | None:
        """The sheet's limit, which gives the size when new, with this rule's discard; None: it cannot be."""
        if self.discard_share is None or own.new is None or own.allowed is not None or own.grows:
            return None
        return own.model_copy(update={"discard": own.new * self.discard_share, "source": self.source})


class _Families(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    families: Mapping[Key, Mapping[Key, GeneralLimit]]


@lru_cache(maxsize=1)
def _built_in() -> Mapping[str, Mapping[str, GeneralLimit]]:
    text = (resources.files("barwise.route") / "general.toml").read_text(encoding="utf-8")
    return parse_general(text, "general.toml")


def parse_general(text: str, name: str = "general.toml") -> Mapping[str, Mapping[str, GeneralLimit]]:
    """General limits by family and key.

    Raises
    ------
    InputError
        If the text cannot be used: names file, line and key.
    """
    try:
        found = _Families(families=parse_toml(text, name, KIND))
    except ValidationError as error:
        refused = first_refusal(error, text, name, {"_Families": tuple(GeneralLimit.model_fields)}, skip=1)
        raise refused from None
    return MappingProxyType(dict(found.families))


def general_limit(family: str, key: str) -> GeneralLimit | None:
    """The general limit of one key for a family, or None where there is none."""
    return _built_in().get(family, {}).get(key)


def general_limits(family: str) -> Mapping[str, GeneralLimit]:
    """All general limits of a family by key; empty where it has none."""
    return _built_in().get(family, MappingProxyType({}))
