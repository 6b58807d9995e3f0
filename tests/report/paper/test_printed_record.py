"""The rebuild record as PDF: all that was read stands on it, in two pages and the file behind them."""

from __future__ import annotations

import io
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from django.db.transaction import atomic, set_rollback
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

from barwise.errors import InputError
from barwise.files.signing_key import grouped
from barwise.files.verifying import verify_bytes
from barwise.record.approvals import record_approval
from barwise.record.dispositions import decide_part
from barwise.record.habits import change_shop
from barwise.record.handover import rebuild_record
from barwise.record.jobs import close_job, record_part
from barwise.record.models import Job, Shop
from barwise.record.photos import add_photo, path_of
from barwise.record.results import decide_check
from barwise.record.shop_key import key_at_hand
from barwise.report.paper.printed_record import TOO_LONG, record_pdf
from barwise.report.paper.rebuild_record import INVENTED, RecordPages, laid_out
from barwise.report.paper.typesetting import Paper
from tests.record.conftest import VEHICLE, by_force
from tests.report.paper.printed import a_photo, a_worked_job, pages_of, run_together
from tests.web.shop import open_invented_job, read

pytestmark = pytest.mark.django_db

SIZES = {"a4": (210, 297), "letter": (215.9, 279.4)}
"""Millimetres: ISO 216:2007; ANSI/ASME Y14.1 size A, from memory."""


@dataclass(frozen=True)
class Printed:
    """A worked job as it was printed; the job itself is gone again."""

    pdf: bytes
    pages: list[str]
    readings: list[tuple[str, str]]
    said: RecordPages

    @property
    def words(self) -> str:
        return run_together(" ".join(self.pages))


@pytest.fixture(scope="module")
def printed(django_db_setup: None, django_db_blocker: Any) -> Printed:
    """Printed once for all tests that only look at it."""
    with django_db_blocker.unblock(), atomic():
        job = a_worked_job()
        change_shop(name="Shop of Nobody")
        record = rebuild_record(job)
        pdf = record_pdf(job)
        kept = [kept.reading for file in record.checks for kept in file.readings]
        readings = [(f"{one.entered} {one.unit}", one.person.name if one.person else "") for one in kept]
        said = laid_out(record)
        set_rollback(True)
    return Printed(pdf, pages_of(pdf), readings, said)


@pytest.fixture(autouse=True)
def photos_folder(tmp_path: Path, settings: Any) -> None:
    settings.MEDIA_ROOT = str(tmp_path)
    settings.SIGNING_KEY_FILE = str(tmp_path / "signing-key.pem")


def test_every_reading_and_every_number_of_a_result_stands_on_the_pages(printed: Printed) -> None:
    words, said = printed.words, printed.said
    assert len(printed.readings) == 22
    for entered, person in printed.readings:
        assert run_together(entered) in words
        assert run_together(person) in words
    assert "Commutator: Diameter as it came" in {one.where for one in said.numbers}
    for number in said.numbers:
        for part in (number.value, number.band, number.allowed):
            assert run_together(part) in words
    for station in said.stations:
        for check in station.checks:
            for part in (check.title, check.line, check.settle, check.source):
                assert run_together(part) in words


def test_what_was_corrected_and_struck_out_is_told_with_number_reason_and_name(printed: Printed) -> None:
    assert run_together("corrected by no. 2 (Ben T-100") in printed.words
    assert run_together("in place of no. 1") in printed.words
    assert run_together("struck out: shaft not seated (Ben T-100") in printed.words
    assert run_together("22, 2 of them corrected or struck out; the last is no. 23") in printed.words


def test_a_calibration_that_had_run_out_is_marked_at_the_reading_and_in_the_list(printed: Printed) -> None:
    assert run_together("D-T-100, cal. 1 Mar 2001, OVERDUE") in printed.words
    assert run_together("M-T-100, cal. 1 Mar 2026, Anna") in printed.words
    assert run_together("1 Mar 2002, overdue when it was used") in printed.words


@pytest.mark.parametrize("paper", SIZES)
def test_the_customers_part_is_two_pages_on_either_paper(paper: Paper) -> None:
    pdf = record_pdf(a_worked_job(), paper)
    pages = pages_of(pdf)
    assert "Rebuild record" in pages[0]
    assert "What was found" in pages[0]
    assert "The numbers it stands on" in pages[1]
    assert "Received by, date" in pages[1]
    assert "The whole file" in pages[2]
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
        assert "T-100, job" in page
        assert INVENTED in page
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    width, height = (float(side) / 72 * 25.4 for side in (box.width, box.height))
    assert (width, height) == pytest.approx(SIZES[paper], abs=0.2)


def test_the_shop_says_on_which_paper_and_what_its_warranty_is() -> None:
    change_shop(name="Shop of Nobody", address="1 Invented Lane\nNowhere", paper="letter")
    change_shop(warranty="A year.\nNot on ring gears.")
    pdf = record_pdf(open_invented_job())
    first, second, *_ = pages_of(pdf)
    assert "Shop of Nobody 1 Invented Lane Nowhere" in first
    assert "Warranty A year. Not on ring gears." in second
    assert float(PdfReader(io.BytesIO(pdf)).pages[0].mediabox.height) == pytest.approx(792, abs=0.5)


def test_it_is_archival_and_tagged_and_names_language_title_and_author(printed: Printed) -> None:
    """PDF/A-3 level A and PDF/UA-1 as the file claims them: ISO 19005-3:2012, 6.6.4, ISO 14289-1:2014, 5
    (from memory). Whether a validator agrees is not tried here."""
    read_back = PdfReader(io.BytesIO(printed.pdf))
    root = read_back.trailer["/Root"]
    assert isinstance(root, DictionaryObject)
    marked = root["/MarkInfo"]
    assert isinstance(marked, DictionaryObject)
    assert bool(marked["/Marked"])
    assert root["/Lang"] == "en"
    assert "/StructTreeRoot" in root
    about = read_back.metadata
    assert about is not None
    title = f"Rebuild record, T-100, job {printed.said.number}"
    assert (about.title, about.author) == (title, "Shop of Nobody")
    xmp = root["/Metadata"].get_data().decode()  # type: ignore[attr-defined]
    assert "<pdfaid:part>3</pdfaid:part>" in xmp
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in xmp
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert fonts_without_file(read_back) == []


def test_every_drawing_has_words_for_those_who_do_not_see_it() -> None:
    job = open_invented_job("T-5")
    add_photo(job, a_photo((40, 30)), "intake", caption="drive end")
    add_photo(job, a_photo((40, 30)), "intake")
    root = PdfReader(io.BytesIO(record_pdf(job))).trailer["/Root"]
    assert isinstance(root, DictionaryObject)
    words = alternatives(root["/StructTreeRoot"])
    assert "drive end" in words
    assert all(words)


def fonts_without_file(pdf: PdfReader) -> list[str]:
    missing = []
    for page in pdf.pages:
        for name, font in page["/Resources"].get("/Font", {}).items():  # type: ignore[attr-defined]
            below = font.get_object()["/DescendantFonts"][0].get_object()
            if not {"/FontFile2", "/FontFile3"} & set(below["/FontDescriptor"].get_object()):
                missing.append(name)
    return missing


def alternatives(tag: Any, seen: set[int] | None = None) -> list[str]:
    """What is said for each figure to whoever does not see it."""
    seen, found = set() if seen is None else seen, []
    if isinstance(tag, IndirectObject):
        if tag.idnum in seen:
            return []
        seen.add(tag.idnum)
        tag = tag.get_object()
    if isinstance(tag, list):
        return [words for one in tag for words in alternatives(one, seen)]
    if isinstance(tag, DictionaryObject):
        if tag.get("/S") == "/Figure":
            found.append(str(tag.get("/Alt", "")))
        found += alternatives(tag.get("/K", []), seen)
    return found


def test_a_decision_is_a_word_and_not_a_colour_alone(printed: Printed) -> None:
    first, second, *_ = printed.pages
    assert "Armature: Winding to shaft, reject: 0.21 Mohm" in first
    assert "Intake: Turns by hand, undecided: stiff." in first
    assert "accept" in second


def test_an_overruled_proposal_stands_with_its_reason_and_the_parts_with_their_numbers() -> None:
    job = open_invented_job()
    read(job, "intake", "turns-by-hand", "free")
    decide_part(job, "intake", "replace", "the customer wants another", "whole unit")
    record_part(job, "brush set", "replaced", 1, "INV-1", "brushes")
    first = pages_of(record_pdf(job))[0]
    assert "whole unit: replace. Proposed was reuse. the customer wants another" in first
    assert "Parts: 1 × brush set, INV-1, replaced." in first


def test_the_customers_word_stands_with_what_was_shown() -> None:
    job = open_invented_job()
    shown = {"choices": [{"key": "rebuild", "title": "Rebuild", "line": "Rebuild: 283.02 EUR."}]}
    record_approval(job, shown, "approved", "rebuild", "the owner", "by telephone", "wants it Friday")
    pages = pages_of(record_pdf(job))
    assert "approved: Rebuild: 283.02 EUR. the owner, by telephone" in pages[0]
    assert "wants it Friday" in pages[-1]


def test_a_job_not_finished_says_that_it_is_no_handover_and_a_finished_one_when() -> None:
    job = open_invented_job()
    assert "This is no handover." in pages_of(record_pdf(job))[0]
    close_job(job)
    assert "Rebuild finished on " in pages_of(record_pdf(job))[0]


def test_what_the_tests_could_have_missed_and_what_was_not_done_is_said() -> None:
    job = a_worked_job()
    decide_check(job, "armature", "winding")
    second = pages_of(record_pdf(job))[1]
    assert "Shorted coil: " in second
    assert "Not tested: nothing at all of Teardown, Frame and fields, Switch (solenoid)" in second
    assert "; Intake (tag and marks, complaint" in second
    assert "Crank 30 s at most" in second


def test_whether_it_cranks_stands_on_the_first_page_and_the_vehicle_as_typed_in_the_file() -> None:
    job = open_invented_job()
    read(job, "handover", "vehicle-crank", VEHICLE)
    decide_check(job, "handover", "vehicle-crank")
    pages = [run_together(page) for page in pages_of(record_pdf(job))]
    assert run_together("Handover: Will it crank, undecided: it cranks fast enough") in pages[0]
    assert run_together("where the volts go, and how the engine comes up") in pages[0]
    assert run_together("battery: volts 12 V, rated current 540 A") in "".join(pages[2:])


def test_an_empty_job_without_a_sheet_is_printed_too() -> None:
    job = open_invented_job("T-0", sheet="")
    pages = pages_of(record_pdf(job))
    assert "Nothing was read yet." in pages[0]
    assert "No number was held against a limit yet." in pages[1]
    assert "none: only general limits hold" in pages[2]


def test_what_is_typed_is_never_taken_for_markup() -> None:
    job = open_invented_job("T-[1] #2 *bold*", customer='#panic("out") $x$ @y <a>')
    said = '#read("data.json") _no_ \\ `code` // not a remark /* nor this */ = no heading'
    read(job, "intake", "tag", said)
    pages = pages_of(record_pdf(job))
    assert "T-[1] #2 *bold*" in pages[0]
    assert '#panic("out") $x$ @y <a>' in pages[0]
    assert run_together(said) in run_together(" ".join(pages))


def test_long_names_and_notes_stay_within_two_pages_and_stand_whole_in_the_file() -> None:
    change_shop(name="S" * 30 + " " + "shop " * 15, warranty="No word of it is short. " * 100)
    job = open_invented_job("T" * 60, customer="Unbroken" * 24)
    Job.objects.update(complaint="Grinds. " * 500)
    job.refresh_from_db()
    read(job, "intake", "tag", "stamped " * 120)
    for check in ("turns-by-hand", "outside"):
        read(job, "intake", check, "stiff" if check == "turns-by-hand" else "can be mended")
    pages = pages_of(record_pdf(job))
    assert "The whole file" in pages[2]
    assert TOO_LONG not in pages[0]
    assert run_together("Grinds. " * 500) in run_together(" ".join(pages[2:]))
    assert run_together("stamped " * 120) in run_together(" ".join(pages[2:]))


def test_a_warranty_that_no_two_pages_hold_is_printed_whole_and_the_first_page_says_why() -> None:
    change_shop(warranty="\n".join(["A line of its own."] * 300))
    pages = pages_of(record_pdf(open_invented_job()))
    assert "The whole file" not in pages[2]
    assert TOO_LONG in pages[0]
    assert " ".join(pages).count("A line of its own.") == 300


def test_a_name_in_a_script_our_type_does_not_have_is_no_reason_not_to_print() -> None:
    job = open_invented_job("T-9", customer="山田電機 \U0001fae0")
    assert "Rebuild record" in pages_of(record_pdf(job))[0]


def test_in_a_shop_that_writes_commas_numbers_have_them_and_what_was_typed_stays() -> None:
    job = a_worked_job()
    read(job, "intake", "tag", "plate 4.5 kW")
    change_shop(decimal_comma=True)
    words = " ".join(pages_of(record_pdf(job)))
    assert "1,2421 in" in words
    assert "1.2421 in, within" not in words
    assert "1,226 in or more" in words
    assert "plate 4.5 kW" in words
    assert "page 1 of " in words


def test_many_photos_are_made_smaller_and_one_that_is_gone_says_so() -> None:
    job = open_invented_job("T-7")
    photos = [add_photo(job, a_photo(), "intake", caption=f"side {side}") for side in range(4)]
    path_of(photos[3]).unlink()
    pdf = record_pdf(job)
    assert len({one.sha256 for one in photos}) == 4
    words = " ".join(pages_of(pdf))
    for side in range(4):
        assert f"side {side}, Intake, " in words
    assert "The file of this photo is gone." in words
    printed = [image.image for page in PdfReader(io.BytesIO(pdf)).pages for image in page.images]
    assert max(max(image.size) for image in printed if image) <= 1000


def test_a_real_job_is_not_called_invented() -> None:
    job = open_invented_job("T-8")
    Job.objects.update(invented=False)
    job.refresh_from_db()
    assert not Shop.objects.filter(invented=True).exists()
    assert INVENTED not in " ".join(pages_of(record_pdf(job)))


def test_a_closed_job_prints_its_seal_on_the_first_page_and_at_the_head_of_the_file() -> None:
    job = a_worked_job()
    close_job(job)
    pdf = record_pdf(job)
    pages, seal = pages_of(pdf), job.seals.get()
    head = next(page for page in pages if "The whole file" in page)
    for page in (pages[0], head):
        assert seal.digest in run_together(page)
        assert run_together(grouped(seal.key.fingerprint)) in run_together(page)
    attached = PdfReader(io.BytesIO(pdf)).attachments
    assert list(attached) == ["seal.json"]
    assert verify_bytes(attached["seal.json"][0]).word == "whole"


def test_a_record_of_a_closed_job_is_whole_to_the_byte_and_keeps_its_claims() -> None:
    job = a_worked_job()
    close_job(job)
    pdf = record_pdf(job)
    found = verify_bytes(pdf, key_at_hand())
    assert (found.word, found.kind, found.altered) == ("whole", "PDF", ())
    metadata = PdfReader(io.BytesIO(pdf)).trailer["/Root"]["/Metadata"].get_data()
    assert b"<pdfaid:part>3</pdfaid:part>" in metadata
    for at in range(9, len(pdf), len(pdf) // 150):
        altered = bytearray(pdf)
        altered[at] ^= 1
        with suppress(InputError):  # so much altered that it is no PDF
            assert verify_bytes(bytes(altered)).word != "whole", at


def test_a_record_that_is_not_what_was_signed_says_so_first_and_is_not_signed_again() -> None:
    job = a_worked_job()
    close_job(job)
    by_force("UPDATE record_reading SET entered = '9.9' WHERE seq = 2")
    pdf = record_pdf(job)
    first = run_together(pages_of(pdf)[0])
    assert run_together("This record is not what was signed.") in first
    assert run_together("reading #2") in first
    assert not PdfReader(io.BytesIO(pdf)).attachments
    assert verify_bytes(pdf).word == "unproven"


def test_a_job_in_work_prints_no_seal() -> None:
    pdf = record_pdf(a_worked_job())
    assert not PdfReader(io.BytesIO(pdf)).attachments
    assert "Key" not in pages_of(pdf)[0].split()
