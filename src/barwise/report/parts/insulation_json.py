"""The answer of `barwise insulation` as one JSON object, in SI, nothing rounded."""

from __future__ import annotations

import json
from collections.abc import Sequence

from barwise.inspect.checks.plain import plain
from barwise.inspect.insulation.assessment import InsulationAssessment


def insulation_json(found: Sequence[InsulationAssessment]) -> str:
    """One line: each part by its name; what was not read is null."""
    return json.dumps({one.test.part: plain(one) for one in found}, allow_nan=False)
