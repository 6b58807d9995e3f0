"""Where direct current is led into the armature."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Feed:
    """Direct current led in at bar `into` and out at bar `out` [A]."""

    into: int
    out: int
    amps: float
