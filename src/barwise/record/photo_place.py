"""Where a photo lies: under the SHA-256 of its content, so that the same one lies there once."""

from __future__ import annotations

import hashlib
from pathlib import Path


def place(folder: Path, digest: str) -> Path:
    """The file of one photo."""
    return folder / digest[:2] / f"{digest}.jpg"


def digest_of(content: bytes) -> str:
    """The name of a photo, by its content."""
    return hashlib.sha256(content).hexdigest()


def whole(folder: Path, digest: str) -> bytes | None:
    """The content of a photo; None where it is gone or is not what its name says."""
    try:
        content = place(folder, digest).read_bytes()
    except OSError:
        return None
    return content if digest_of(content) == digest else None
