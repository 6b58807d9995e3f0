"""What a record says of its own seal: digest, key, time; or, loudly, that it is not what was signed."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils import timezone

from barwise.files.sealed_job import Alteration
from barwise.files.signing_key import grouped
from barwise.record.models import BroughtSeal, Job
from barwise.record.seals import check_job
from barwise.report.paper.record_checks import day, time

MOST_SAID = 6
"""Alterations named on a page; `barwise verify` has all."""


@dataclass(frozen=True)
class Seal:
    """The seal of a closed job.

    Attributes
    ----------
    digest : str
        SHA-256 of what was signed.
    signed, key : str
        When, by the shop's clock; the first 32 digits of the key's fingerprint, in groups.
    chained : str
        Since when the readings are linked, where that is later than they came in; else empty.
    wrong : tuple of str
        What is not as it was signed, one line each; empty where all is.
    elsewhere : str
        The shop that signed, where it was not this one.
    """

    digest: str
    signed: str
    key: str
    chained: str = ""
    wrong: tuple[str, ...] = ()
    elsewhere: str = ""


def seal_of(job: Job) -> Seal | None:
    """The seal of a closed job, held against the record as it stands; None where there is none."""
    if job.state != "closed":
        return None
    standing = check_job(job)
    seal, altered = standing.seal, standing.verdict.altered
    if seal is None and standing.brought is not None and standing.brought.digest:
        return _from_elsewhere(standing.brought, job, said(altered))
    if seal is None:
        # Without a seal only what the chain says can be wrong, and that must be said too.
        return Seal("", "not sealed", "", wrong=said(altered)) if altered else None
    at = timezone.localtime(seal.signed_at)
    return Seal(
        digest=seal.digest,
        signed=f"sealed {day(at)} {time(at)}",
        key=grouped(seal.key.fingerprint),
        chained=chained(job),
        wrong=said(altered),
    )


def _from_elsewhere(brought: BroughtSeal, job: Job, wrong: tuple[str, ...]) -> Seal:
    shop = brought.shop or "another shop"
    when = "" if brought.signed_at is None else f" {day(brought.signed_at)} {time(brought.signed_at)}"
    came = f"brought in here {day(brought.brought_at)}"
    signed = f"sealed by {shop}{when}, {came}"
    return Seal(brought.digest, signed, grouped(brought.key), chained(job), wrong, shop)


def chained(job: Job) -> str:
    """Since when the readings are linked, where that was not from the first."""
    if job.chained_at is None or not job.chained_seq:
        return ""
    return f"Readings #1 to #{job.chained_seq} are linked since {day(job.chained_at)} only."


def said(altered: tuple[Alteration, ...]) -> tuple[str, ...]:
    """The first of them in words, and how many more there are."""
    lines = tuple(one.line for one in altered[:MOST_SAID])
    more = len(altered) - len(lines)
    return (*lines, f"and {more} more: barwise verify names them") if more else lines
