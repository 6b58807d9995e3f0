"""The photo files of the shop: copied with the database, missed when they are gone, put back from the copies.

A photo never changes and is named by its content, so one copy of each is enough for all copies of the
database, and a damaged one is known by its name.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from barwise.files.on_disk import write_whole
from barwise.record.photo_place import place, whole
from barwise.web.data_folder import DataFolder


def named_in(database: Path) -> list[str]:
    """The photos that a database speaks of, by SHA-256; none where it has no such table yet."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True, timeout=10)) as opened:
        try:
            return [row[0] for row in opened.execute("SELECT DISTINCT sha256 FROM record_photo")]
        except sqlite3.OperationalError:
            return []


def copy_photos(folder: DataFolder, digests: list[str]) -> list[str]:
    """Copy the photos that are not copied yet; what comes back could not be: gone, or damaged."""
    lost = []
    for digest in digests:
        there = place(folder.copied_photos, digest)
        if there.exists():
            continue
        content = whole(folder.photos, digest)
        if content is None:
            lost.append(digest)
        else:
            write_whole(there, content)
    return lost


def gone(folder: DataFolder) -> list[str]:
    """Photos that the database speaks of and that are not in their place; their content is not read."""
    return [digest for digest in named_in(folder.database) if not place(folder.photos, digest).exists()]


def damaged(folder: DataFolder, digests: list[str]) -> list[str]:
    """Those that are gone or are not what their names say; reads each."""
    return [digest for digest in digests if whole(folder.photos, digest) is None]


def put_back_photos(folder: DataFolder, digests: list[str]) -> tuple[list[str], list[str]]:
    """Put back from the copies what is gone or damaged.

    Returns
    -------
    list of str, list of str
        What was put back, and what no copy has.
    """
    back, lost = [], []
    for digest in damaged(folder, digests):
        content = whole(folder.copied_photos, digest)
        if content is None:
            lost.append(digest)
        else:
            write_whole(place(folder.photos, digest), content)
            back.append(digest)
    return back, lost
