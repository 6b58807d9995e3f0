"""The hash chain of a job's readings, kept with each of them under the lock of the job's row."""

from __future__ import annotations

from barwise.files.reading_chain import content_of, instrument_digest, link, start
from barwise.record.models import Job, Reading


def next_link(job: Job, row: Reading) -> str:
    """The link of a reading that comes in next; its job's row is held, so that no other comes between."""
    tool, old = row.instrument, row.supersedes
    content = content_of(
        vars(row),
        by="" if row.person is None else row.person.name,
        instrument="" if tool is None else instrument_digest(vars(tool)),
        supersedes=None if old is None else str(old.key),
    )
    return link(job.chain_head or start(job.uuid), content)
