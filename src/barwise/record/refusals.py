"""What the record refuses, in words for the person at the bench."""

from __future__ import annotations

from barwise.errors import BarwiseError


class RecordError(BarwiseError):
    """Something the record will not do: change what is kept for good, or contradict itself."""


class KeyReusedError(RecordError):
    """An idempotency key that came a second time, with another reading behind it."""
