"""Drawings and photos of a rebuild record: the drawings as on the screen, the photos made smaller."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from PIL import Image

from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.record.answers import AtHand
from barwise.record.handover import CheckFile, RebuildRecord
from barwise.record.models import Photo, Result
from barwise.record.photos import path_of
from barwise.report import svg
from barwise.report.armature_picture import armature_end_view, readings_picture
from barwise.report.commutator_picture import passes_picture, round_picture
from barwise.report.run_picture import curve_picture

LONGEST_PRINTED = 1000
"""Pixels of a photo's longer side in print: 90 mm of it at 280 to the inch."""
QUALITY = 80
MOST_AT_HAND = 32
"""Results whose drawings are kept at hand."""
_at_hand = AtHand["tuple[Drawn, ...]"](MOST_AT_HAND)


@dataclass(frozen=True)
class Drawn:
    """One drawing: the check it belongs to, what stands below it, its words for those who do not see it."""

    check: str
    caption: str
    svg: str
    words: str
    shape: float
    first: bool


@dataclass(frozen=True)
class PhotoPrinted:
    """One photo; `key` is its address on the screen, `sha256` the name of its file."""

    key: str
    sha256: str
    caption: str
    where: str
    width: int
    height: int


def drawn(record: RebuildRecord) -> Iterator[Drawn]:
    """Every drawing of a record; those that are `first` stand on the customer's pages."""
    for file in record.checks:
        if file.result is not None and file.whole is not None:
            yield from _drawings(record, file, file.result)


def photo_printed(photo: Photo, where: str) -> PhotoPrinted:
    """A photo with its caption."""
    return PhotoPrinted(str(photo.key), photo.sha256, photo.caption, where, photo.width, photo.height)


def made_smaller(photo: Photo) -> bytes | None:
    """A photo for print; None where its file is gone or damaged."""
    try:
        with Image.open(path_of(photo)) as opened:
            opened.draft("RGB", (LONGEST_PRINTED, LONGEST_PRINTED))
            smaller = opened.convert("RGB")
            smaller.thumbnail((LONGEST_PRINTED, LONGEST_PRINTED))
    except (OSError, ValueError, SyntaxError):
        return None
    written = io.BytesIO()
    smaller.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue()


def _drawings(record: RebuildRecord, file: CheckFile, result: Result) -> tuple[Drawn, ...]:
    """The drawings of one result, which never changes: drawn once, and kept for the next print."""
    found = _at_hand.get(result)
    if found is None:
        pictures = _of_check(record, file)
        name = file.stand.name
        found = tuple(_drawn(name, words, one, first=first) for words, one, first in pictures if one)
        _at_hand.keep(result, found)
    return found


def _of_check(record: RebuildRecord, file: CheckFile) -> Iterator[tuple[str, str, bool]]:
    whole = None if file.whole is None else file.whole.answer
    if isinstance(whole, Diagnosis) and record.route.winding is not None:
        winding = record.route.winding
        yield "The armature from the commutator end, as it came", armature_end_view(winding, whole), True
        yield "Its readings against what the model expects", readings_picture(winding, whole), False
    elif isinstance(whole, CutPlan):
        unit = record.length_unit(file)
        passes = passes_picture(whole, unit)
        yield "The commutator after each pass of the cut", passes, True
        yield "The commutator round its clean-up circle", round_picture(whole, unit), not passes
    elif isinstance(whole, RunTest):
        yield "The motor on the run test, against its sheet", curve_picture(whole), True


def _drawn(check: str, caption: str, picture: str, *, first: bool) -> Drawn:
    root = ET.fromstring(picture)
    words = root.findtext(f"{{{svg.NAMESPACE}}}desc") or caption
    shape = float(root.get("width", "1")) / float(root.get("height", "1"))
    return Drawn(check, caption, picture, words, shape, first)
