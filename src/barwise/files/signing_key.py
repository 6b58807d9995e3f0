"""The shop's key: Ed25519 (RFC 8032, 2017), its fingerprint, and one key's word for the next.

A signature says which of the things barwise signs it is of, so that one of a file can never pass for one of
a job.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from barwise.errors import BarwiseError, InputError
from barwise.files.canonical_json import canonical
from barwise.files.text import shown

Signed = Literal["job", "file", "key"]
SHORTEST_SAID = 32
"""Hex digits of a fingerprint that name a key: 128 bits, more than anybody can search."""
_HEX = re.compile(r"[0-9a-f]+")


@dataclass(frozen=True)
class PublicKey:
    """A key that signatures are checked with.

    Attributes
    ----------
    public : str
        Its 32 bytes as hex.
    made_at : str
        When, by the shop's clock.
    follows, vouched : str
        Fingerprint of the key before it and that key's signature of this one; empty of a first key, and where
        the key before was lost.
    """

    public: str
    made_at: str = ""
    follows: str = ""
    vouched: str = ""

    @property
    def fingerprint(self) -> str:
        """SHA-256 of its bytes, as hex."""
        return fingerprint_of(self.public)

    def signed(self, what: Signed, digest: str, signature: str) -> bool:
        """Whether a signature is this key's own of a SHA-256."""
        return is_signed(self.public, _message(what, digest), signature)

    @property
    def vouched_digest(self) -> str:
        """What the key before signs of this one."""
        said = {"public": self.public, "made_at": self.made_at, "follows": self.follows}
        return hashlib.sha256(canonical({**said})).hexdigest()


class SigningKey:
    """A key that can sign; whoever holds its file can sign as the shop."""

    def __init__(self, key: Ed25519PrivateKey) -> None:
        self._key = key
        raw = serialization.Encoding.Raw, serialization.PublicFormat.Raw
        self.public = key.public_key().public_bytes(*raw).hex()

    @classmethod
    def made(cls) -> SigningKey:
        """A new one."""
        return cls(Ed25519PrivateKey.generate())

    @classmethod
    def read(cls, file: Path) -> SigningKey:
        """The one in a file.

        Raises
        ------
        FileNotFoundError
            If there is no such file.
        BarwiseError
            If it holds no such key.
        """
        try:
            key = serialization.load_pem_private_key(file.read_bytes(), password=None)
        except FileNotFoundError:
            raise
        except (OSError, ValueError, TypeError, UnsupportedAlgorithm):
            key = None
        if not isinstance(key, Ed25519PrivateKey):
            raise BarwiseError(
                f"the signing key {file} cannot be read: put it back from your copy of it, or move the "
                "file away and a new key is made, which the old one cannot vouch for"
            )
        return cls(key)

    @property
    def fingerprint(self) -> str:
        """Of its public half."""
        return fingerprint_of(self.public)

    @property
    def pem(self) -> bytes:
        """What its file holds (PKCS #8, PEM)."""
        return self._key.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )

    def sign(self, what: Signed, digest: str) -> str:
        """Signature of a SHA-256, as hex."""
        return self.signature(_message(what, digest))

    def signature(self, message: bytes) -> str:
        """Ed25519 signature of any bytes, as hex."""
        return self._key.sign(message).hex()

    def vouch(self, new: PublicKey) -> PublicKey:
        """The key that signs from now on, with this one's word for it."""
        after = PublicKey(new.public, new.made_at, self.fingerprint)
        return PublicKey(after.public, after.made_at, after.follows, self.sign("key", after.vouched_digest))


def is_signed(public: str, message: bytes, signature: str) -> bool:
    """Whether an Ed25519 signature is that of a public key; both as hex."""
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public))
        key.verify(bytes.fromhex(signature), message)
    except (InvalidSignature, ValueError):
        return False
    return True


def fingerprint_of(public: str) -> str:
    """SHA-256 of the 32 bytes of a public key. Raises ValueError where it is not hex."""
    return hashlib.sha256(bytes.fromhex(public)).hexdigest()


def grouped(fingerprint: str) -> str:
    """The first 32 digits in groups of four, as it is printed and read out."""
    said = fingerprint[:SHORTEST_SAID].upper()
    return " ".join(said[at : at + 4] for at in range(0, len(said), 4))


def named_key(said: str) -> str:
    """The fingerprint, or its beginning, that was typed or stands in a file: a fingerprint or a PEM.

    Raises
    ------
    InputError
        If it is neither.
    """
    text = said
    try:
        if Path(said).is_file():
            text = Path(said).read_text(encoding="ascii")
    except (OSError, ValueError):
        pass
    if "-----BEGIN" in text:
        return _fingerprint_of_pem(text, said)
    digits = re.sub(r"[\s:]", "", text).lower()
    if not _HEX.fullmatch(digits) or not SHORTEST_SAID <= len(digits) <= 64:
        raise InputError(
            "--key", shown(said), "a fingerprint as it is printed, 32 to 64 hex digits, or a file of it"
        )
    return digits


def trusted_with(said: str, keys: Iterable[PublicKey]) -> frozenset[str]:
    """Fingerprints of the key that was named and of those after it, each vouched for by the one before."""
    known = list(keys)
    trusted = {one.fingerprint: one for one in known if one.fingerprint.startswith(said)}
    for _ in known:
        for one in known:
            before = trusted.get(one.follows)
            if before is not None and before.signed("key", one.vouched_digest, one.vouched):
                trusted[one.fingerprint] = one
    return frozenset(trusted)


def public_key(written: Mapping[str, object]) -> PublicKey:
    """A key as a sealed file has it. Raises ValueError where it is none."""
    fields = {name: written.get(name, "") for name in ("public", "made_at", "follows", "vouched")}
    if not all(isinstance(one, str) and one.isascii() for one in fields.values()):
        raise ValueError("no key")
    key = PublicKey(**{name: str(one) for name, one in fields.items()})
    if len(key.public) != 64 or not _HEX.fullmatch(key.public):
        raise ValueError("no key")
    return key


def _fingerprint_of_pem(text: str, said: str) -> str:
    try:
        key = serialization.load_pem_public_key(text.encode())
    except (ValueError, UnsupportedAlgorithm):
        key = None
    if not isinstance(key, Ed25519PublicKey):
        raise InputError("--key", shown(said), "an Ed25519 public key in PEM, or a fingerprint")
    raw = serialization.Encoding.Raw, serialization.PublicFormat.Raw
    return fingerprint_of(key.public_bytes(*raw).hex())


def _message(what: Signed, digest: str) -> bytes:
    return f"barwise {what} 1\n{digest}".encode()
