"""A label for the tag of a unit: its names large, and a QR code that opens its job."""

from __future__ import annotations

import io
from datetime import datetime

import segno
from django.utils import timezone

from barwise.errors import InputError
from barwise.files.signing_key import grouped
from barwise.files.text import shown
from barwise.record.habits import the_shop
from barwise.record.models import Job
from barwise.record.shop_key import key_at_hand
from barwise.report.paper.typesetting import Sheet, Typesetter

QUIET_ZONE = 4
"""Modules of white around the code; ISO/IEC 18004:2015, 6.3.8, asks for four (from memory)."""
LONGEST_ADDRESS = 200
WIDE_MM, HIGH_MM = 62.0, 40.0
"""A common size of label rolls; common practice, no source."""


def label_pdf(job: Job, address: str = "") -> bytes:
    """The label of a job's unit as PDF, 62 by 40 mm.

    Parameters
    ----------
    address : str
        Of the shop's server as its tablets reach it, such as ``http://bench.local:8321``; without it the code
        holds the job's number.

    Raises
    ------
    InputError
        If the address is none of http or https.
    """
    with Typesetter(tag_label(job, address)) as setter:
        return setter.pdf()


def tag_label(job: Job, address: str = "", at: datetime | None = None) -> Sheet:
    """What is set."""
    shop = the_shop()
    invented = job.invented or shop.invented
    content = opens(job, address)
    return Sheet(
        template="label",
        title=f"Label, {job.unit.tag}, job {job.number}",
        description=f"Tag label with a code that holds {content}",
        author=shop.name,
        footer=("", ""),
        at=timezone.localtime(at),
        paper="a4",
        data={
            "shop": shop.name,
            "tag": job.unit.tag,
            "number": job.number,
            "customer": job.customer.name,
            "unit": job.unit.description,
            "serial": job.unit.serial,
            "key": grouped(key_at_hand()),
            "came": f"{timezone.localtime(job.opened_at):%Y-%m-%d}",
            "code": qr_code(content),
            "holds": content,
            "wide": WIDE_MM,
            "high": HIGH_MM,
        },
        invented="INVENTED" if invented else "",
    )


def opens(job: Job, address: str) -> str:
    """What the code holds: the address of the job's page, else its number."""
    where = address.strip().rstrip("/")
    if not where:
        return str(job.number)
    if not where.startswith(("http://", "https://")) or len(where) > LONGEST_ADDRESS or " " in where:
        raise InputError("address", shown(address), "the server's own, such as http://bench.local:8321")
    return f"{where}/jobs/{job.pk}"


def qr_code(content: str) -> str:
    """The code as SVG; readable with a fifth of it dirty (level M holds 15 %, Q 25 %)."""
    written = io.BytesIO()
    segno.make(content, error="q", micro=False).save(
        written, kind="svg", border=QUIET_ZONE, xmldecl=False, svgclass=None, lineclass=None, omitsize=True
    )
    return written.getvalue().decode()
