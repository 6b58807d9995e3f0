"""The run test as plain values: SI, nothing rounded."""

from __future__ import annotations

import json
from typing import Any

from barwise.inspect.checks.plain import plain
from barwise.inspect.run_test import RunTest


def run_values(found: RunTest) -> dict[str, Any]:
    """All that the run test says, units in the keys."""
    return {
        "verdict": found.verdict,
        "causes": plain(found.causes),
        "rated_power_w": plain(found.rated_power),
        "corrected": [
            {
                "point": one.kind,
                "quantity": one.name,
                "read": one.read,
                "corrected": one.value,
                "standard_uncertainty": one.standard_uncertainty,
                "lower": one.limit.lower,
                "upper": one.limit.upper,
                "decision": one.decision.outcome,
                "conforming": one.decision.conforming,
            }
            for one in found.corrected
        ],
        "next_test": plain(found.next_test),
        "source": plain(found.sag),
        "questions": list(found.questions),
        "notes": list(found.notes),
        "curve": plain(found.curve),
        "sheet_curve": plain(found.model_curve),
    }


def run_json(found: RunTest) -> str:
    """The same as one JSON object."""
    return json.dumps(run_values(found), indent=1, allow_nan=False)
