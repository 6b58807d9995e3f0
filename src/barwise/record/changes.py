"""The log of who changed what, and when, for all that is not a reading."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils import timezone

from barwise.record.models import Change, Job, Person


def log(
    what: str,
    line: str,
    person: Person | None,
    job: Job | None = None,
    details: Mapping[str, Any] | None = None,
) -> Change:
    """Write one change down, within the transaction that makes it.

    Parameters
    ----------
    what : str
        Kind of the change, such as ``job opened``.
    line : str
        The change in one sentence.
    person, job : optional
        Who did it, to which job.
    details : mapping, optional
        Values before and after.
    """
    change = Change(
        at=timezone.now(), person=person, job=job, what=what, line=line, details=dict(details or {})
    )
    change.save()
    return change
