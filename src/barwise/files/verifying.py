"""Whether a job's file is as the shop signed it, and what is not: zip, PDF or the seal alone, offline."""

from __future__ import annotations

import hashlib
import io
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from barwise.errors import InputError
from barwise.files.file_seal import bytes_whole, has_seal
from barwise.files.job_zip import LARGEST_WHOLE, PHOTO, check_members, read_member
from barwise.files.sealed_job import (
    BUNDLE,
    NAME,
    Alteration,
    Job,
    SealedJob,
    broken_links,
    check_shape,
    decided_since,
    differences,
    json_of,
    parse_bundle,
)
from barwise.files.signing_key import trusted_with
from barwise.files.text import plain

WHAT = "the zip, record PDF or seal.json of one job"
WHOLE_FILE = "the file as a whole"
WHOLE_PDF = "the pages as a whole"
Word = Literal["whole", "altered", "unproven"]


@dataclass(frozen=True)
class Verdict:
    """What was found.

    Attributes
    ----------
    kind : str
        zip, PDF, seal, job or database.
    sealed : SealedJob or None
        What was signed; None where nothing is.
    job, shop : str
        Number of the job; name of the shop as signed.
    demanded : bool
        A key was demanded, and `key_known` says whether the signature is its own or of one it vouches for.
    notes : tuple of str
        What is not covered, or cannot be told.
    """

    kind: str
    job: str
    altered: tuple[Alteration, ...]
    sealed: SealedJob | None = None
    demanded: bool = False
    key_known: bool = False
    notes: tuple[str, ...] = ()

    @property
    def word(self) -> Word:
        """Altered where anything is; whole where all of it is signed, by the key demanded if one was."""
        if self.altered:
            return "altered"
        return "whole" if self.sealed is not None and (self.key_known or not self.demanded) else "unproven"

    @property
    def shop(self) -> str:
        """As it was signed."""
        return "" if self.sealed is None else str(self.sealed.signed["shop"])


@dataclass
class _Found:
    """What is put together on the way."""

    kind: str
    job: str = ""
    sealed: SealedJob | None = None
    altered: list[Alteration] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def verify(path: Path, key: str = "") -> Verdict:
    """Check a file.

    Parameters
    ----------
    key : str
        Fingerprint, or its first 32 digits, of the key that must have signed or vouched for the one that did.

    Raises
    ------
    InputError
        If it cannot be read as any such file.
    """
    try:
        content = path.read_bytes()
    except OSError as error:
        raise InputError(str(path), f"a file that cannot be read ({error.strerror})", WHAT) from None
    return verify_bytes(content, key, str(path))


def verify_bytes(content: bytes, key: str = "", where: str = "file") -> Verdict:
    """The same of its bytes."""
    found = _reader(content)(content, where)
    if found.sealed is not None:
        _check_seal(found, found.sealed)
    known = (
        key != ""
        and found.sealed is not None
        and found.sealed.signed["key"] in trusted_with(key, found.sealed.keys)
    )
    return Verdict(
        found.kind, found.job, tuple(found.altered), found.sealed, key != "", known, tuple(found.notes)
    )


def _reader(content: bytes) -> Callable[[bytes, str], _Found]:
    if b"%PDF-" in content[:1024]:
        return _pdf
    return _zip if content[:2] == b"PK" else _json


def _check_seal(found: _Found, sealed: SealedJob) -> None:
    """The signed document itself; first in what is said, as all else is held against it."""
    found.altered[:0] = sealed.wrong_document()
    late = sealed.job.get("chained_seq")
    if late:
        found.notes.append(
            f"Readings #1 to #{late} came in before readings were chained; they are chained since "
            f"{str(sealed.job.get('chained_at'))[:10]}."
        )


def _zip(content: bytes, where: str) -> _Found:
    found = _Found("zip")
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            check_members(packed.infolist())
            members = {name: _member(packed, name, found) for name in packed.namelist()}
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError) as error:
        raise InputError(where, f"a zip that cannot be unpacked ({plain(str(error))})", WHAT) from None
    bundle = members.get(NAME)
    found.sealed = None if bundle is None else parse_bundle(bundle)
    written = members["job.json"]
    if written is not None:
        job = check_shape(json_of(written, "job.json"), "job.json")
        found.job = plain(str(job.get("number", "")))
        keys = () if found.sealed is None else found.sealed.keys
        _against_seal(found, job, as_written=bool(bytes_whole(content, keys)))
        _photos(found, job, members)
    _all_bytes(found, content)
    return found


def _member(packed: zipfile.ZipFile, name: str, found: _Found) -> bytes | None:
    try:
        return read_member(packed, name)
    except (zipfile.BadZipFile, zlib.error, EOFError, ValueError, NotImplementedError, RuntimeError):
        found.altered.append(Alteration(name, "damaged: it is not what the zip says it is"))
        return None


def _against_seal(found: _Found, job: Job, *, as_written: bool = False) -> None:
    if found.sealed is None:
        if not all(one.get("link") for one in job.get("readings", ())):
            found.notes.append("Readings without links: written by a barwise that did not chain them.")
            return
        found.altered += broken_links(job)
        found.notes.append(
            "Nothing is signed: the job was not closed when this was written, or by a barwise that did not "
            "sign. Who alters a reading and chains all after it anew is not found out."
        )
        return
    sealed = found.sealed
    # Opening it again takes the time of closing away: a state alone does not make a closed job an open one.
    if job.get("state") == "closed" or job.get("closed_at"):
        altered, notes = since_sealed(sealed, job, str(job.get("software")), later=as_written)
        found.altered += altered
        found.notes += notes
        return
    found.altered += broken_links(job)
    found.altered += since_reopened(sealed.job, job)
    found.notes.append(
        "The job was opened again after it was sealed: what came in since is chained, not signed."
    )


def since_sealed(
    sealed: SealedJob, job: Job, software: str, *, later: bool
) -> tuple[list[Alteration], list[str]]:
    """How a closed job differs from what was signed, and what was decided again since.

    `later` says that who wrote this is known: a result with a later date then is one decided later.
    """
    again = decided_since(job, str(sealed.signed["signed_at"])) if later else []
    altered = differences(sealed.job, job, (str(sealed.signed.get("software")), software), again)
    return altered, [f"Decided after it was signed: {one}." for one in again]


def since_reopened(signed: Job, job: Job) -> list[Alteration]:
    """Of a job that was opened again: readings that were signed must all be there as they were."""
    count = len(signed["readings"])
    listed = {"instruments", "readings"}
    before = {name: signed[name] for name in listed}
    refs = {one.get("ref") for one in signed["instruments"]}
    now = {
        "readings": job["readings"][:count],
        "instruments": [one for one in job["instruments"] if one.get("ref") in refs],
    }
    return differences(before, now)


def _photos(found: _Found, job: Job, members: dict[str, bytes | None]) -> None:
    named = {one.get("sha256"): one for one in job.get("photos", [])}
    if found.sealed is not None:
        named |= {one.get("sha256"): one for one in found.sealed.job.get("photos", [])}
    for digest, one in named.items():
        name = f"photos/{digest}.jpg"
        said = f"photo {one.get('caption') or str(digest)[:12]}"
        if name not in members:
            found.altered.append(Alteration(said, "missing: its picture is not in the file"))
        elif (picture := members[name]) is not None and hashlib.sha256(picture).hexdigest() != digest:
            found.altered.append(Alteration(said, "altered: its picture is another"))
    for name in members:
        if (match := PHOTO.fullmatch(name)) and match[1] not in named:
            found.altered.append(Alteration(name, "added"))


def _pdf(content: bytes, where: str) -> _Found:
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    found = _Found("PDF")
    try:
        attached = PdfReader(io.BytesIO(content)).attachments
        bundles = [bytes(one) for name in attached if name == NAME for one in attached[name]]
    except (
        PyPdfError,
        ValueError,
        KeyError,
        TypeError,
        AttributeError,
        IndexError,
        RecursionError,
        OSError,
        zlib.error,
        AssertionError,
    ) as error:
        raise InputError(where, f"a PDF that cannot be read ({type(error).__name__})", WHAT) from None
    if len(bundles) > 1:
        found.altered.append(Alteration("seal in the PDF", "added: there is more than one"))
    if bundles:
        found.sealed = parse_bundle(bundles[0], f"{where}, {NAME}")
        found.job = plain(str(found.sealed.job.get("number", "")))
    else:
        found.notes.append(
            "No seal is in this PDF: it was printed before the job was closed, or is another file."
        )
    _all_bytes(found, content)
    return found


def _json(content: bytes, where: str) -> _Found:
    written = json_of(content, where)
    found = _Found("seal")
    if isinstance(written, dict) and written.get("format") == BUNDLE:
        found.sealed = parse_bundle(content, where)
        found.job = plain(str(found.sealed.job.get("number", "")))
        return found
    if not isinstance(written, dict) or "readings" not in written or "uuid" not in written:
        raise InputError(where, "something else", WHAT)
    found.kind = "job"
    job = check_shape(written, where)
    found.job = plain(str(job.get("number", "")))
    _against_seal(found, job)
    return found


def _all_bytes(found: _Found, content: bytes) -> None:
    """The signature over the file itself, where it has one."""
    if len(content) > LARGEST_WHOLE:
        raise InputError("file", f"{len(content) / 1e6:.0f} MB", f"at most {LARGEST_WHOLE / 1e6:.0f} MB")
    keys = () if found.sealed is None else found.sealed.keys
    if bytes_whole(content, keys):
        return
    pdf = found.kind == "PDF"
    what = WHOLE_PDF if pdf else WHOLE_FILE
    if has_seal(content):
        shown = ": what is printed may be altered" if pdf else ""
        found.altered.append(Alteration(what, f"not the bytes that were signed{shown}"))
    elif found.sealed is not None:
        found.altered.append(Alteration(what, "its signature is missing"))
