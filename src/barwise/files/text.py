"""Text files as people's programs write them: what stops one from being read is said plainly."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path

from barwise.errors import InputError

BYTE_ORDER_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"


def read_text(path: Path, kind: str) -> str:
    """The file's text without a byte order mark.

    Parameters
    ----------
    path : Path
    kind : str
        What it should be, such as ``a CSV file of readings``; used in the message.

    Raises
    ------
    InputError
        If there is no such file, it cannot be read, or it is not UTF-8.
    """
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise InputError(str(path), "no such file", kind) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(str(path), f"a file that cannot be read ({reason})", kind) from None
    try:
        return raw.decode("utf-8").removeprefix(BYTE_ORDER_MARK)
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise InputError(
            f"{path} line {line}", "bytes that are not UTF-8 text", f"{kind} saved as UTF-8"
        ) from None


def nearest_word(word: str, known: Iterable[str]) -> str:
    """`` (nearest: drop)`` for a slip such as ``dorp``, or nothing when no known word is near."""
    close = difflib.get_close_matches(word.strip().lower(), list(known), n=1, cutoff=0.5)
    return f" (nearest: {close[0]})" if close else ""


def plain(found: str) -> str:
    """What stands in a file, kept to one line and to a readable length."""
    text = found if found.isprintable() else found.encode("unicode_escape").decode("ascii")
    return text if len(text) <= 60 else f"{text[:57]}..."


def shown(found: str) -> str:
    """The same in quotation marks."""
    return f'"{plain(found)}"'
