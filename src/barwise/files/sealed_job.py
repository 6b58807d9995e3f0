"""A finished job as it was signed, and how another account of the same job differs from it.

The signed document is the whole ``job.json`` of that moment, kept byte for byte, with the shop's name, the
time and the key. A sealed file carries it with its signature and the public keys, to be checked offline.
"""

from __future__ import annotations

import difflib
import hashlib
import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from barwise.errors import InputError
from barwise.files.reading_chain import links_of
from barwise.files.signing_key import PublicKey, SigningKey, public_key

Job = Mapping[str, Any]
Row = Mapping[str, Any]

BUNDLE, DOCUMENT, VERSION = "barwise seal", "barwise sealed job", 1
NAME = "seal.json"
"""What it is called in a zip and in a PDF."""
NOT_SEALED = ("software", "exported_at")
"""Of ``job.json``: when and with what this copy was written."""
WHAT = "a sealed job, as barwise writes it"
_LISTS = ("instruments", "readings", "results", "dispositions", "parts", "photos", "approvals", "changes")


@dataclass(frozen=True)
class Alteration:
    """One thing that is not as it was.

    Attributes
    ----------
    what : str
        Such as ``reading #7, armature.winding 3-4``, or ``photo drive end``.
    field : str
        Which field of it, where that can be told.
    signed, found : str
        What was signed, or should stand there, and what stands there; empty where there is no such thing.
    how : str
        altered, missing, added, out of order, or a sentence of its own.
    """

    what: str
    how: str
    field: str = ""
    signed: str = ""
    found: str = ""

    @property
    def line(self) -> str:
        """In words."""
        field = f", {self.field}" if self.field else ""
        values = f": signed as {self.signed}, found {self.found}" if self.signed or self.found else ""
        return f"{self.what}{field}: {self.how}{values}"


@dataclass(frozen=True)
class SealedJob:
    """What was signed, with its signature and the keys it came with.

    Attributes
    ----------
    document : bytes
        As it was signed, to the byte.
    signed : mapping
        The document read: ``job``, ``shop``, ``signed_at``, ``key``, ``seal`` (its number), ``former``.
    former : tuple of mappings
        Earlier seals of this job: ``digest``, ``signature``, ``key``, ``signed_at``.
    """

    document: bytes
    signature: str
    signed: Mapping[str, Any]
    keys: tuple[PublicKey, ...]
    former: tuple[Mapping[str, str], ...] = ()

    @property
    def job(self) -> Job:
        """The job as it was signed."""
        return dict(self.signed["job"])

    @property
    def digest(self) -> str:
        """SHA-256 of the document, which is what is signed."""
        return hashlib.sha256(self.document).hexdigest()

    @property
    def key(self) -> PublicKey | None:
        """The key it names, if that came along."""
        return next((one for one in self.keys if one.fingerprint == self.signed["key"]), None)

    @property
    def is_whole(self) -> bool:
        """Whether the signature is of this document and by the key it names."""
        return self.key is not None and self.key.signed("job", self.digest, self.signature)

    def wrong_document(self) -> Iterator[Alteration]:
        """What of the document itself, its keys and its earlier seals is not as it was signed."""
        if self.key is None:
            how = "by a key that the file does not bring"
            yield Alteration("signature", how, found=self.signed["key"][:32])
        elif not self.is_whole:
            yield Alteration("signed document", "its signature is not that of its key: it was altered")
        yield from broken_links(self.job)
        yield from self.wrong_former()
        yield from self.wrong_keys()

    def wrong_keys(self) -> Iterator[Alteration]:
        """Keys whose word for them is not that of the key they follow."""
        known = {one.fingerprint: one for one in self.keys}
        for one in self.keys:
            before = known.get(one.follows)
            if one.follows and (before is None or not before.signed("key", one.vouched_digest, one.vouched)):
                how = "the key before it did not vouch for it, or not in these words"
                yield Alteration(f"key {one.fingerprint[:32]}", how)

    def wrong_former(self) -> Iterator[Alteration]:
        """Earlier seals that are not what they were."""
        known = {one.fingerprint: one for one in self.keys}
        for number, one in enumerate(self.former, 1):
            key = known.get(str(one.get("key")))
            if key is None or not key.signed("job", str(one.get("digest")), str(one.get("signature"))):
                yield Alteration(f"seal {number}, an earlier one", "its signature is not that of its key")
        last = self.former[-1].get("digest", "") if self.former else ""
        if last != self.signed.get("former", ""):
            yield Alteration("earlier seals of this job", "not those that were there when it was signed")


def document_of(
    job: Job, shop: str, key: str, signed_at: str, seal: int, former: str, software: str
) -> bytes:
    """The bytes to sign. `job` is what ``job.json`` holds; `former` the digest of the seal before."""
    document = {
        "format": DOCUMENT,
        "version": VERSION,
        "job": sealed_part(job),
        "shop": shop,
        "key": key,
        "signed_at": signed_at,
        "seal": seal,
        "former": former,
        "software": software,
        "head": head_of(job),
        "readings": len(job["readings"]),
    }
    return json.dumps(document, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode()


def sealed_part(job: Job) -> dict[str, Any]:
    """All of a ``job.json`` but what is of this copy alone."""
    return {name: value for name, value in job.items() if name not in NOT_SEALED}


def head_of(job: Job) -> str:
    """The last link of its readings; empty where nothing was read."""
    return str(job["readings"][-1].get("link", "")) if job["readings"] else ""


def signed_by(key: SigningKey, document: bytes) -> str:
    """The signature of a document."""
    return key.sign("job", hashlib.sha256(document).hexdigest())


def bundle(
    document: bytes, signature: str, keys: Sequence[PublicKey], former: Sequence[Mapping[str, str]] = ()
) -> bytes:
    """What a sealed file carries."""
    written = {
        "format": BUNDLE,
        "version": VERSION,
        "document": document.decode(),
        "signature": signature,
        "keys": [vars(one) for one in keys],
        "former": [dict(one) for one in former],
    }
    return json.dumps(written, ensure_ascii=False, indent=1).encode()


def parse_bundle(content: bytes, where: str = NAME) -> SealedJob:
    """Read what a sealed file carries; whether it is whole is another question.

    Raises
    ------
    InputError
        If it is no such thing.
    """
    written = json_of(content, where)
    if not isinstance(written, dict) or written.get("format") != BUNDLE:
        raise InputError(where, "something else", WHAT)
    if written.get("version") != VERSION:
        raise InputError(
            f"{where}, version", str(written.get("version"))[:40], f"{VERSION}; a newer barwise reads it"
        )
    try:
        document = written["document"].encode()
        signed = json_of(document, f"{where}, document")
        if (
            not isinstance(signed, dict)
            or signed.get("format") != DOCUMENT
            or signed.get("version") != VERSION
        ):
            raise InputError(f"{where}, document", "something else", WHAT)
        keys = tuple(public_key(one) for one in written["keys"])
        former = tuple(dict(one) for one in written["former"])
        check_shape(signed["job"], f"{where}, document")
        if not all(
            isinstance(signed.get(name), str) for name in ("shop", "key", "signed_at", "former", "head")
        ):
            raise ValueError("no text")
        return SealedJob(document, str(written["signature"]), signed, keys, former)
    except (KeyError, TypeError, ValueError, AttributeError):
        raise InputError(where, "parts of it missing or of another kind", WHAT) from None


def json_of(content: bytes, where: str) -> Any:
    """Read JSON. Raises InputError."""
    try:
        return json.loads(content)
    except (ValueError, RecursionError):
        raise InputError(where, "text that is not JSON", WHAT) from None


def check_shape(job: object, where: str) -> Job:
    """Lists of rows where there should be, so that they can be gone through. Raises InputError."""
    if not isinstance(job, dict):
        raise InputError(where, "no job", WHAT)
    for name in _LISTS:
        rows = job.get(name, [])
        if not isinstance(rows, list) or not all(isinstance(one, dict) for one in rows):
            raise InputError(f"{where}, {name}", "something else", "a list")
    return job


def broken_links(job: Job) -> list[Alteration]:
    """Readings that do not follow from the one before as they did when they came in.

    Raises
    ------
    InputError
        If the readings are not such as barwise writes.
    """
    found, expected = [], 0
    try:
        for one, link in links_of(job):
            expected += 1
            if one["seq"] != expected:
                gap = f"number {one['seq']} where {expected} is next"
                found.append(
                    Alteration(reading_name(one), f"out of order, or readings before it are missing ({gap})")
                )
                expected = one["seq"]
            if one["link"] != link:
                how = "does not fit its link in the chain: it, its link, or what came before it was altered"
                found.append(Alteration(reading_name(one), how))
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise InputError("readings", f"one that cannot be read ({type(error).__name__})", WHAT) from None
    if job.get("chain_head", "") != (head := head_of(job)):
        how = "the last reading is not the one that came in last"
        found.append(Alteration("chain of readings", how, "", str(job.get("chain_head")), head))
    return found


def decided_since(found: Job, signed_at: str) -> list[str]:
    """Checks that were decided again after the job was signed: from the same readings, by a later barwise."""
    rows = found.get("results", ())
    return [_check_name(one) for one in rows if str(one.get("made_at") or "") > signed_at]


def differences(
    signed: Job, found: Job, software: tuple[str, str] = ("", ""), again: Sequence[str] = ()
) -> list[Alteration]:
    """How `found` differs from what was signed, one line for each field, row or photo.

    Parameters
    ----------
    software : tuple of (str, str)
        The versions of barwise that wrote each. Where they differ, a field that only one of them knows is no
        alteration.
    again : sequence of str
        Checks decided again since, whose results are not held against those that were signed.
    """
    strict = software[0] == software[1]
    facts = [name for name in {**signed, **found} if name not in _LISTS and name not in NOT_SEALED]
    altered = list(
        _fields(
            "job",
            {n: signed.get(n) for n in facts if n in signed},
            {n: found.get(n) for n in facts if n in found},
            strict,
        )
    )
    for name in _LISTS:
        before, now = list(signed.get(name, [])), list(found.get(name, []))
        if name == "changes":
            now = now[: len(before)] + [one for one in now[len(before) :] if not _after(one, signed)]
        if name == "results" and again:
            before, now = ([one for one in rows if _check_name(one) not in again] for rows in (before, now))
        if before != now:
            altered += _rows(name, before, now, strict)
    return altered


def _after(change: Row, signed: Job) -> bool:
    """What was done after the job was closed, such as its sealing, was not there to be signed."""
    return str(change.get("at", "")) >= str(signed.get("closed_at") or "~")


def _rows(name: str, before: list[Row], now: list[Row], strict: bool) -> Iterator[Alteration]:
    named = _NAMES[name]
    keyed = _KEYS.get(name)
    if keyed is None:
        yield from _rows_by_place(named, before, now, strict)
        return
    then, here = {keyed(one): one for one in before}, {keyed(one): one for one in now}
    if len(here) < len(now):
        yield Alteration(name, "added: the same one twice")
    for key, one in then.items():
        if key not in here:
            yield Alteration(named(one), "missing")
        elif here[key] != one:
            yield from _fields(named(one), one, here[key], strict)
    yield from (Alteration(named(one), "added") for key, one in here.items() if key not in then)
    if name == "results":
        return  # one for each check, in no order of their own
    common = [key for key in then if key in here]
    ordered = [key for key in here if key in then]
    for was, is_now in zip(common, ordered, strict=True):
        if was != is_now:
            yield Alteration(named(here[is_now]), "out of order")
            return


def _rows_by_place(
    named: Callable[[Row], str], before: list[Row], now: list[Row], strict: bool
) -> Iterator[Alteration]:
    texts = [[json.dumps(one, sort_keys=True) for one in rows] for rows in (before, now)]
    if sorted(texts[0]) == sorted(texts[1]):
        first = next(new for old, new in zip(before, now, strict=True) if old != new)
        yield Alteration(named(first), "out of order")
        return
    for what, a, b, c, d in difflib.SequenceMatcher(None, texts[0], texts[1], autojunk=False).get_opcodes():
        if what == "replace" and b - a == d - c:
            for old, new in zip(before[a:b], now[c:d], strict=True):
                yield from _fields(named(old), old, new, strict)
        elif what != "equal":
            yield from (Alteration(named(one), "missing") for one in before[a:b])
            yield from (Alteration(named(one), "added") for one in now[c:d])


def _fields(what: str, signed: Row, found: Row, strict: bool) -> Iterator[Alteration]:
    for name in {**signed, **found}:
        if name in _LISTS and what == "job":
            continue
        if name not in signed or name not in found:
            # One that a later barwise knows and that is empty says nothing that was not signed.
            if strict and (signed.get(name) or found.get(name)):
                how = "added" if name not in signed else "missing"
                yield Alteration(what, how, name, _short(signed.get(name, "")), _short(found.get(name, "")))
        elif signed[name] != found[name]:
            yield Alteration(what, "altered", name, _short(signed[name]), _short(found[name]))


def _short(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 80 else f"{text[:77]}..."


def _check_name(one: Row) -> str:
    return f"{one.get('station_key')}.{one.get('check_key')}"


def reading_name(one: Row) -> str:
    """A reading as it is spoken of."""
    ends = "-".join(str(one.get(name)) for name in ("place_from", "place_to") if one.get(name))
    return f"reading #{one.get('seq')}, {one.get('station_key')}.{one.get('check_key')} {ends}".rstrip()


def _of_station(kind: str, *fields: str) -> Callable[[Row], str]:
    return lambda one: f"{kind} {', '.join(str(one.get(name)) for name in fields if one.get(name))}".rstrip()


_NAMES: dict[str, Callable[[Row], str]] = {
    "instruments": _of_station("instrument", "tag"),
    "readings": reading_name,
    "results": _of_station("decision", "station_key", "check_key"),
    "dispositions": _of_station("disposition", "station_key", "part"),
    "parts": _of_station("part", "name"),
    "photos": lambda one: f"photo {one.get('caption') or str(one.get('sha256'))[:12]}",
    "approvals": _of_station("customer's word", "said_by", "recorded_at"),
    "changes": _of_station("change", "what", "at"),
}
_KEYS: dict[str, Callable[[Row], object]] = {
    "instruments": lambda one: str(one.get("ref")),
    "readings": lambda one: str(one.get("key")),
    "results": lambda one: _check_name(one),
    "photos": lambda one: str(one.get("key")),
}
