"""A file that is on the disk, whole, before anybody counts on it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path


def write_whole(there: Path, content: bytes) -> None:
    """Write a file for its owner alone: whole or not at all, and on the disk when this returns."""
    _placed(there, content, lambda written: written.replace(there))
    to_disk(there.parent)


def write_once(there: Path, content: bytes) -> None:
    """The same, but who comes second keeps what the first one wrote."""
    with suppress(FileExistsError):
        _placed(there, content, lambda written: _link(written, there))
    to_disk(there.parent)


def _placed(there: Path, content: bytes, name: Callable[[Path], object]) -> None:
    """Write beside a place, then let `name` bring it there; what is left beside it goes."""
    there.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, written = tempfile.mkstemp(dir=there.parent)  # mode 0600 from the first byte
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        name(Path(written))
    finally:
        Path(written).unlink(missing_ok=True)


def _link(written: Path, there: Path) -> None:
    """Give a file its name unless there is one of that name. Raises FileExistsError."""
    try:
        os.link(written, there)
    except FileExistsError:
        raise
    except OSError:  # the drive knows no links
        if there.exists():
            raise FileExistsError(there) from None
        written.replace(there)


def to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk.

    Windows opens no folder as a file, and writes names on its own; a file it brings to the disk only for one
    who may write it.
    """
    if os.name == "nt" and path.is_dir():
        return
    handle = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
