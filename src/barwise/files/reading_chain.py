"""The hash chain of a job's readings: each link covers a reading and, by the link before, all before it.

    start  = SHA-256( "barwise chain 1" LF  uuid of the job )
    link n = SHA-256( "barwise reading 1" LF  link n-1 as 64 hex digits  LF  canonical bytes of reading n )

SHA-256 as in FIPS 180-4, 2015; canonical bytes as in `canonical_json`. A correction, and a row that strikes
another, is a reading of its own and so a link of its own. docs/proof.md has the fields with an example.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any

from barwise.files.canonical_json import canonical_flat, number_text, time_text

PLAIN_FIELDS = (
    "seq",
    "station_key",
    "check_key",
    "test",
    "place_from",
    "place_to",
    "track",
    "entered",
    "unit",
    "feed_from",
    "feed_to",
    "struck",
    "reason",
)
"""Fields of a reading that go in as they are; `FIGURES` are an instrument's."""
OF_A_METER = ("said", "said_unit")
"""What a meter wrote; only of a reading that one read, so links from before there were meters stand."""
NUMBERS = ("value_si", "feed_amps")
TIMES = ("taken_at", "received_at")
FIGURES = (
    "tag",
    "kind",
    "quantity",
    "unit",
    "resolution_si",
    "calibration_standard_uncertainty_si",
    "repeatability_si",
    "calibrated_on",
    "due_on",
)
_FLOATS = ("resolution_si", "calibration_standard_uncertainty_si", "repeatability_si")


def start(job_uuid: object) -> str:
    """What the first reading of a job follows."""
    return _sha256(f"barwise chain 1\n{job_uuid}".encode())


def link(previous: str, content: Mapping[str, Any]) -> str:
    """The link of a reading that follows `previous`; `content` as `content_of` gives it."""
    return _sha256(b"barwise reading 1\n%s\n%s" % (previous.encode(), canonical_flat(content)))


def content_of(
    reading: Mapping[str, Any], by: str, instrument: str, supersedes: str | None
) -> dict[str, Any]:
    """All of a reading that its link covers.

    Parameters
    ----------
    reading : mapping
        `PLAIN_FIELDS`, `NUMBERS`, `TIMES` (as datetime or as text of ISO 8601) and ``key``; `OF_A_METER`
        where it has them.
    by : str
        Name of who took it; empty where nobody is named.
    instrument : str
        As `instrument_digest`; empty without one.
    supersedes : str or None
        Key of the reading it takes the place of, or strikes.
    """
    return {
        **{name: reading[name] for name in PLAIN_FIELDS},
        **{name: reading[name] for name in OF_A_METER if reading.get(name)},
        **{name: number_text(reading[name]) for name in NUMBERS},
        **{name: _time(reading[name]) for name in TIMES},
        "key": str(reading["key"]),
        "by": by,
        "instrument": instrument,
        "supersedes": supersedes,
    }


def instrument_digest(instrument: Mapping[str, Any]) -> str:
    """SHA-256 of an instrument's figures as its certificate has them."""
    figures = {
        name: number_text(instrument[name])
        if name in _FLOATS
        else None
        if instrument[name] is None
        else str(instrument[name])
        for name in FIGURES
    }
    return _sha256(canonical_flat(figures))


def links_of(job: Mapping[str, Any]) -> Iterator[tuple[Mapping[str, Any], str]]:
    """Each reading of a ``job.json`` with the link it should have after the one written before it."""
    tools = {one["ref"]: instrument_digest(one) for one in job["instruments"]}
    previous = start(job["uuid"])
    for one in job["readings"]:
        tool = "" if one["instrument"] is None else tools.get(one["instrument"], "not listed")
        yield one, link(previous, content_of(one, one["by"], tool, one["supersedes"]))
        previous = str(one["link"])


def _time(at: datetime | str) -> str:
    return time_text(datetime.fromisoformat(at) if isinstance(at, str) else at)


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
