"""Drawings and photos of a rebuild record: the drawings as on the screen, the photos made smaller."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from xml.etree import ElementTree as ET

from PIL import Image

from barwise.inspect.commutator.plan import CutPlan
from barwise.inspect.cranking.at_the_job import KeptCrank
from barwise.inspect.diagnosis import Diagnosis
from barwise.inspect.run_test import RunTest
from barwise.record.answers import AtHand
from barwise.record.handover import CheckFile, RebuildRecord
from barwise.record.models import Photo, Result
from barwise.record.photos import path_of
from barwise.record.results import as_outcome
from barwise.record.told_answers import ToldAnswer
from barwise.report import svg
from barwise.report.armature.end_view import LARGE
from barwise.report.armature.picture import armature_end_view, readings_picture
from barwise.report.commutator.picture import PRINTED_MAPS, passes_picture, round_picture
from barwise.report.parts.check_picture import part_pictures
from barwise.report.run.cranking_picture import cranking_picture
from barwise.report.run.picture import PAPER, curve_picture

LONGEST_PRINTED = 1000
"""Pixels of a photo's longer side in print: 90 mm of it at 280 to the inch."""
QUALITY = 80
READABLE_PT, MM_OF_A_POINT = 7.0, 25.4 / 72
"""Type that the customer reads without a glass; common practice, no source."""
AS_FOUND, AS_IT_LEAVES = "as found", "after the work"
MOST_AT_HAND = 32
"""Results whose drawings are kept at hand."""
_at_hand = AtHand["tuple[Drawn, ...]"](MOST_AT_HAND)


@dataclass(frozen=True)
class Drawn:
    """One drawing: the check it belongs to, what stands below it, its words for those who do not see it.

    Attributes
    ----------
    shape : float
        Width by height.
    first : bool
        It is for the customer's pages.
    least_mm : float
        How wide it must be printed for its smallest words to be read.
    """

    check: str
    caption: str
    svg: str
    words: str
    shape: float
    first: bool
    least_mm: float


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
        then: tuple[Drawn, ...] = ()
        if before is not None and not isinstance(before.answer, RunTest):
            then = _drawings(record, file, before.result, before.answer)
        yield from _when(AS_FOUND, then)
        if file.result is not None:
            now = _drawings(record, file, file.result, file.answer)
            yield from _when(AS_IT_LEAVES if then else "", now)


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


def _drawings(
    record: RebuildRecord, file: CheckFile, result: Result, answer: ToldAnswer | None
) -> tuple[Drawn, ...]:
    """The drawings of one result, which never changes: drawn once, and kept for the next print."""
    found = _at_hand.get(result)
    if found is None:
        name = file.stand.name
        pictures = _of_answer(record, file, answer)
        drawings = [_drawn(name, words, one, first=first) for words, one, first in pictures if one]
        parts = part_pictures(file.check.title, as_outcome(result))
        drawings += [_drawn(name, "", one, first=False) for one in parts]
        found = tuple(
            replace(one, svg=svg.renamed(one.svg, f"result-{result.pk}-{place}"))
            for place, one in enumerate(drawings, 1)
        )
        if found:  # most results have none, and would push out those that have
            _at_hand.keep(result, found)
    return found


def _of_answer(
    record: RebuildRecord, file: CheckFile, answer: ToldAnswer | None
) -> Iterator[tuple[str, str, bool]]:
    if isinstance(answer, Diagnosis) and record.route.winding is not None:
        winding = record.route.winding
        view = armature_end_view(winding, answer, lettering=LARGE)
        yield "The armature from the commutator end", view, True
        yield "Its readings against what the model expects", readings_picture(winding, answer), False
    elif isinstance(answer, CutPlan):
        unit = record.length_unit(file)
        passes = passes_picture(answer, unit, look=PRINTED_MAPS)
        yield "The commutator after each pass of the cut", passes, True
        yield "The commutator round its clean-up circle", round_picture(answer, unit), False
    elif isinstance(answer, RunTest):
        before = None if file.before is None else file.before.answer
        then = before if isinstance(before, RunTest) else None
        words = f"The motor on the run test, {AS_FOUND}, {AS_IT_LEAVES} and by its sheet"
        single = "The motor on the run test, against its sheet"
        yield single if then is None else words, curve_picture(answer, then, PAPER), True
    elif isinstance(answer, KeptCrank) and answer.summary is not None:
        words = "In the vehicle: where the volts go, and how the engine comes up"
        yield words, cranking_picture(answer.summary), True


def _drawn(check: str, caption: str, picture: str, *, first: bool) -> Drawn:
    root = ET.fromstring(picture)
    said = caption or root.findtext(f"{{{svg.NAMESPACE}}}title") or ""
    words = root.findtext(f"{{{svg.NAMESPACE}}}desc") or said
    width = float(root.get("width", "1"))
    shape = width / float(root.get("height", "1"))
    return Drawn(check, said, picture, words, shape, first, _least_mm(root, width))


def _least_mm(root: ET.Element, width: float) -> float:
    """How wide a drawing must be for its smallest words to be of the least type that is read with ease."""
    sizes = [float(one.get("font-size", "13")) for one in root.iter(f"{{{svg.NAMESPACE}}}text") if one.text]
    return READABLE_PT * MM_OF_A_POINT * width / min(sizes, default=math.inf)
