"""An answer of frozen dataclasses as plain values, ready for JSON, nothing rounded."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np

from barwise.inspect.checks.evidence import Json


def plain(value: Any) -> Json:
    """The same as strings, numbers, lists and mappings; what is not finite becomes None.

    Examples
    --------
    >>> plain({"a": (1, float("inf"))})
    {'a': [1, None]}
    """
    if isinstance(value, np.generic | np.ndarray):
        value = value.tolist()
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if value is None or isinstance(value, str | int):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        return {part.name: plain(getattr(value, part.name)) for part in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, tuple | list | frozenset | set):
        return [plain(one) for one in value]
    raise TypeError(f"{type(value).__name__} has no plain form")
