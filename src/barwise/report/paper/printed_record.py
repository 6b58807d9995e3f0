"""The rebuild record as PDF: laid out so that the customer's part is two pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from django.utils import timezone

from barwise.files.file_seal import file_sealed, place_for
from barwise.record.handover import RebuildRecord, rebuild_record
from barwise.record.models import Job
from barwise.record.seals import bundle_of
from barwise.record.shop_key import the_key
from barwise.report.paper.printed_numbers import with_shops_sign
from barwise.report.paper.rebuild_record import RecordPages, laid_out
from barwise.report.paper.record_checks import day, time
from barwise.report.paper.record_pictures import made_smaller
from barwise.report.paper.record_seal import Seal, seal_of
from barwise.report.paper.typesetting import Paper, Sheet, Typesetter, paper_named

CUSTOMERS_PAGES = 2
MOST_OF_A_PAGE = 430.0
"""Points; what else stands on that page takes the rest of the 700 of US Letter."""


@dataclass(frozen=True)
class Fit:
    """How much of each thing the customer's two pages take; sizes in points, `sign` in mm.

    `found`, `more`, `done`, `parts` and `numbers` count; `line`, `complaint` and `untested` are signs. `only`
    leaves out the file behind them, which nothing needs that is tried.
    """

    text: float
    found: int
    more: int
    line: int
    complaint: int
    done: int
    parts: int
    numbers: int
    table: float
    row: float
    untested: int
    warranty: float
    sign: float
    long: str = ""
    only: bool = False

    @property
    def row_points(self) -> float:
        """About how high a row of the table of numbers is."""
        return 0.7 * self.table + 2 * self.row


FITS = (
    Fit(10.6, 10, 5, 400, 600, 12, 16, 40, 10.0, 3.6, 700, 10.0, 14),
    Fit(10.0, 10, 5, 400, 500, 12, 16, 40, 9.2, 2.6, 600, 9.4, 12),
    Fit(9.4, 10, 4, 320, 420, 10, 14, 30, 8.6, 2.0, 420, 8.6, 10),
    Fit(9.0, 8, 3, 240, 300, 8, 12, 24, 8.2, 1.5, 300, 7.8, 8),
    Fit(8.6, 6, 2, 180, 220, 6, 10, 18, 7.6, 1.2, 220, 7.0, 7),
    Fit(8.2, 5, 1, 140, 160, 5, 8, 12, 7.2, 0.9, 160, 6.2, 6),
)
"""From roomy to dense: the first with which the customer's part is two pages is taken."""
TOO_LONG = "This part runs over its two pages: the shop's warranty, the advice or what was found is long."


def record_pdf(job: Job, paper: Paper | None = None) -> bytes:
    """The record of a job as PDF; of a sealed one with what was signed inside, and signed to the byte.

    One that is no longer what was signed says so, and is not signed again.

    Parameters
    ----------
    paper : str, optional
        a4 or letter; else the shop's.

    Raises
    ------
    InputError
        Where the job's family is not known to this version of barwise.
    """
    record = rebuild_record(job)
    seal = seal_of(record.job)
    bundle = None if seal is None or seal.wrong else bundle_of(record.job)
    key = None if bundle is None else the_key()
    sheet = record_sheet(record, paper, seal)
    if bundle is not None and key is not None:
        sheet = replace(sheet, attached=bundle, keyword=place_for(key.fingerprint))
    with Typesetter(sheet) as setter:
        pdf = setter.pdf(fit=fitting(setter))
    return pdf if key is None else file_sealed(pdf, key)


def record_sheet(record: RebuildRecord, paper: Paper | None = None, seal: Seal | None = None) -> Sheet:
    """What is set: the record in words, its photos made smaller."""
    pages = laid_out(record, seal)
    photos = {f"{one.sha256}.jpg": made_smaller(one) for one in record.photos}
    files = {name: content for name, content in photos.items() if content is not None}
    data = _plain(pages, files)
    return Sheet(
        template="record",
        title=f"Rebuild record, {pages.tag}, job {pages.number}",
        description=f"What was found, measured and done on {pages.tag} of {pages.customer}",
        author=pages.shop,
        footer=(f"{pages.tag}, job {pages.number}", pages.shop),
        at=timezone.localtime(record.gathered_at),
        paper=paper or paper_named(record.shop.paper),
        data={
            "record": with_shops_sign(data) if record.shop.decimal_comma else data,
            "printed": f"{day(record.gathered_at)} {time(record.gathered_at)}",
            "fit": asdict(FITS[0]),
        },
        files=files,
        invented=pages.invented,
    )


def fitting(setter: Typesetter) -> dict[str, Any]:
    """The roomiest way in which the customer's part is two pages with every picture; else with the most.

    If none is two pages, the densest, which says so.
    """
    found: list[tuple[int, Fit]] = []
    for one in FITS[_first_worth_trying(setter.data["record"]):]:
        told = setter.told("customer-end", fit=asdict(replace(one, only=True)))
        if told["page"] <= CUSTOMERS_PAGES:
            found.append((told["left"], one))
            if told["left"] == 0:
                break
    if not found:
        return asdict(FITS[-1]) | {"long": TOO_LONG}
    return asdict(min(found, key=lambda one: one[0])[1])


def _first_worth_trying(record: Mapping[str, Any]) -> int:
    """Past the roomy ways in which the table of numbers alone would fill most of its page."""
    numbers = len(record["numbers"])
    fits = (at for at, one in enumerate(FITS) if min(numbers, one.numbers) * one.row_points <= MOST_OF_A_PAGE)
    return next(fits, len(FITS) - 1)


def _plain(pages: RecordPages, files: dict[str, bytes]) -> dict[str, Any]:
    """For JSON; a photo whose file is gone has none."""
    whole = asdict(pages)
    for name in ("photos", "before_after"):
        for one in whole[name]:
            one["file"] = f"{one['sha256']}.jpg" if f"{one['sha256']}.jpg" in files else None
    return whole
