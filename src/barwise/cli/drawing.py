"""A picture onto the disk, for every command that draws one."""

from __future__ import annotations

from pathlib import Path

from barwise.errors import InputError


def write_drawing(picture: str, path: Path) -> None:
    """Write an SVG file. Raises InputError naming the path where it cannot be written."""
    try:
        path.write_text(picture, encoding="utf-8")
    except OSError as error:
        found = f"a file that cannot be written ({error.strerror})"
        raise InputError(str(path), found, "a path for the picture") from None
