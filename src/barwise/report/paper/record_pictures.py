"""Drawings and photos of a rebuild record: the drawings as on the screen, the photos made smaller."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from PIL import Image

from barwise.inspect.checks import Outcome
from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.record.answers import AtHand
from barwise.record.handover import CheckFile, RebuildRecord
from barwise.record.models import Photo, Result
from barwise.record.photos import path_of
from barwise.report import svg
from barwise.report.armature.picture import armature_end_view, readings_picture
from barwise.report.commutator.picture import passes_picture, round_picture
from barwise.report.run.picture import PAPER, curve_picture

LONGEST_PRINTED = 1000
"""Pixels of a photo's longer side in print: 90 mm of it at 280 to the inch."""
QUALITY = 80
AS_FOUND, AS_IT_LEAVES = "as found", "after the work"
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
        before = file.before
        apart = before is not None and before.whole is not None and not _is_run(before.whole)
        if apart and before is not None and before.whole is not None:
            yield from _when(AS_FOUND, _drawings(record, file, before.result, before.whole))
        if file.result is not None and file.whole is not None:
            yield from _when(AS_IT_LEAVES if apart else "", _drawings(record, file, file.result, file.whole))


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


def _when(when: str, some: Iterable[Drawn]) -> Iterator[Drawn]:
    """The same with when it was so in their captions, where there are two of each."""
    return (replace(one, caption=f"{one.caption}, {when}") if when else one for one in some)


def _drawings(record: RebuildRecord, file: CheckFile, result: Result, whole: Outcome) -> tuple[Drawn, ...]:
    """The drawings of one result, which never changes: drawn once, and kept for the next print."""
    found = _at_hand.get(result)
    if found is None:
        pictures = _of_check(record, file, whole.answer)
        name = file.stand.name
        found = tuple(_drawn(name, words, one, first=first) for words, one, first in pictures if one)
        _at_hand.keep(result, found)
    return found


def _of_check(record: RebuildRecord, file: CheckFile, whole: object) -> Iterator[tuple[str, str, bool]]:
    if isinstance(whole, Diagnosis) and record.route.winding is not None:
        winding = record.route.winding
        yield "The armature from the commutator end", armature_end_view(winding, whole), True
        yield "Its readings against what the model expects", readings_picture(winding, whole), False
    elif isinstance(whole, CutPlan):
        unit = record.length_unit(file)
        passes = passes_picture(whole, unit)
        yield "The commutator after each pass of the cut", passes, True
        yield "The commutator round its clean-up circle", round_picture(whole, unit), not passes
    elif isinstance(whole, RunTest):
        before = None if file.before is None or file.before.whole is None else file.before.whole.answer
        then = before if isinstance(before, RunTest) else None
        words = f"The motor on the run test, {AS_FOUND}, {AS_IT_LEAVES} and by its sheet"
        single = "The motor on the run test, against its sheet"
        yield single if then is None else words, curve_picture(whole, then, PAPER), True


def _is_run(outcome: Outcome) -> bool:
    """Its curves before and after stand in one picture."""
    return isinstance(outcome.answer, RunTest)


def _drawn(check: str, caption: str, picture: str, *, first: bool) -> Drawn:
    root = ET.fromstring(picture)
    words = root.findtext(f"{{{svg.NAMESPACE}}}desc") or caption
    shape = float(root.get("width", "1")) / float(root.get("height", "1"))
    return Drawn(check, caption, picture, words, shape, first)
