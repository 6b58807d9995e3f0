"""A signature over every byte of a file, which stands in the file itself.

The file is written with a place for it, all noughts; the SHA-256 of that is signed and the noughts are
replaced. A PDF has the place among its keywords, a zip in its comment.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable

from barwise.files.signing_key import PublicKey, SigningKey

_MARK = re.compile(rb"barwise-file-seal:1:([0-9a-f]{64}):([0-9a-f]{128})")
_NOUGHTS = "0" * 128


def place_for(fingerprint: str) -> str:
    """The text that a file must hold, in clear, where its signature will stand."""
    return f"barwise-file-seal:1:{fingerprint}:{_NOUGHTS}"


def file_sealed(content: bytes, key: SigningKey) -> bytes:
    """The file with its signature in its place, wherever it has one for this key."""
    place = place_for(key.fingerprint).encode()
    signature = key.sign("file", hashlib.sha256(content).hexdigest())
    return content.replace(place, place.replace(_NOUGHTS.encode(), signature.encode()))


def has_seal(content: bytes) -> bool:
    """Whether there is a signature of the whole file in it."""
    return _MARK.search(content) is not None


def bytes_whole(content: bytes, keys: Iterable[PublicKey]) -> str:
    """Fingerprint of the key by which no byte of the file was changed; empty if none of `keys` says so."""
    marks = {(one[1], one[2]) for one in _MARK.finditer(content)}
    if len(marks) != 1:
        return ""
    fingerprint, signature = (part.decode() for part in marks.pop())
    before = _MARK.sub(place_for(fingerprint).encode(), content)
    digest = hashlib.sha256(before).hexdigest()
    for one in keys:
        if one.fingerprint == fingerprint and one.signed("file", digest, signature):
            return fingerprint
    return ""
