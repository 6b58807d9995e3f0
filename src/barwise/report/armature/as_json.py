"""The diagnosis of an armature as one JSON object; docs/file-formats.md describes it."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from barwise.inspect.diagnosis import Detectable, Diagnosis, Finding, NextReading, SuspectReading
from barwise.machine.winding import Winding
from barwise.report.armature.fault_words import explains


def armature_json(winding: Winding, diagnosis: Diagnosis) -> str:
    """The answer as JSON text, one object, numbers in SI and not rounded."""
    return json.dumps(armature_answer(winding, diagnosis), allow_nan=False, ensure_ascii=False)


def armature_answer(winding: Winding, diagnosis: Diagnosis) -> dict[str, Any]:
    """The answer as plain values, ready for JSON."""
    return {
        "verdict": diagnosis.verdict,
        "sound_probability": _finite(diagnosis.sound_probability),
        "findings": [_finding(winding, finding) for finding in diagnosis.findings],
        "suspect_readings": [_suspect(suspect) for suspect in diagnosis.suspects],
        "smallest_detectable": {
            fault: _detectable(limit) for fault, limit in diagnosis.smallest_detectable.items()
        },
        "next_reading": _next(diagnosis.next_reading),
        "notes": list(diagnosis.notes),
    }


def _finding(winding: Winding, finding: Finding) -> dict[str, Any]:
    return {
        "fault": finding.fault,
        "coil": None if finding.coil is None else int(finding.coil),
        "bars": [int(bar) for bar in finding.bars],
        "slots": [int(slot) for slot in finding.slots],
        "probability": _finite(finding.probability),
        "severity": _severity(finding.severity),
        "explanation": int(finding.explanation),
        "explains": explains(winding, finding),
    }


def _suspect(suspect: SuspectReading) -> dict[str, Any]:
    reading = suspect.reading
    return {
        "test": reading.test,
        "from": int(reading.start),
        "to": _end(reading.test, reading.end),
        "reason": suspect.reason,
        "probability": _finite(suspect.probability),
        "value": reading.entered,
        "unit": reading.unit,
        "line": reading.line,
    }


def _detectable(limit: Detectable) -> dict[str, Any]:
    return {
        **_severity(limit.severity),
        "hidden": [int(place) for place in limit.hidden],
        "why": limit.why,
    }


def _next(reading: NextReading | None) -> dict[str, Any] | None:
    if reading is None:
        return None
    answer: dict[str, Any] = {
        "test": reading.test,
        "from": int(reading.start),
        "to": _end(reading.test, reading.end),
        "why": reading.why,
    }
    if reading.feed is not None:
        answer |= {
            "feed_from": int(reading.feed.into),
            "feed_to": int(reading.feed.out),
            "feed_amps": float(reading.feed.amps),
        }
    return answer


def _end(test: str, end: int | None) -> int | str | None:
    if end is not None:
        return int(end)
    return None if test == "blade" else "shaft"


def _severity(severity: Mapping[str, float]) -> dict[str, float | None]:
    return {key: _finite(value) for key, value in severity.items()}


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
