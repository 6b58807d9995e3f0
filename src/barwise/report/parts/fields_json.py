"""The answer of `barwise fields` as one JSON object, in SI, nothing rounded."""

from __future__ import annotations

import json

from barwise.inspect.checks.plain import plain
from barwise.inspect.fields.assessment import FrameAnswer


def fields_json(answer: FrameAnswer) -> str:
    """One line; what was not read is null. Permanent magnets have no verdict."""
    magnets = answer.kind == "permanent-magnet"
    whole = {"verdict": None if magnets else answer.verdict, **_parts(answer)}
    return json.dumps(whole, allow_nan=False)


def _parts(answer: FrameAnswer) -> dict[str, object]:
    found = plain(answer)
    return dict(found) if isinstance(found, dict) else {}
