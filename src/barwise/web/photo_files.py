"""The photo files of the shop: copied with the database, missed when they are gone, put back from backups.

A photo never changes and is named by its content, so one copy of each is enough for all backups, and a
damaged one is known by its name.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from barwise.files.on_disk import write_whole
from barwise.record.photo_place import place, whole
from barwise.web.data_folder import DataFolder


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


def gone(folder: DataFolder, digests: Iterable[str]) -> list[str]:
    """Those that are not in their place; their content is not read."""
    return [digest for digest in digests if not place(folder.photos, digest).exists()]


def damaged(folder: DataFolder, digests: Iterable[str]) -> list[str]:
    """Those that are gone or are not what their names say; reads each."""
    return [digest for digest in digests if whole(folder.photos, digest) is None]


def put_back_photos(
    folder: DataFolder, digests: Iterable[str], places: Iterable[Path]
) -> tuple[list[str], list[str]]:
    """Put back what is gone or damaged from the first place that has it whole.

    Returns
    -------
    list of str, list of str
        What was put back, and what no place has.
    """
    back, lost = [], []
    for digest in damaged(folder, digests):
        found = (whole(one, digest) for one in places)
        content = next((one for one in found if one is not None), None)
        if content is None:
            lost.append(digest)
        else:
            write_whole(place(folder.photos, digest), content)
            back.append(digest)
    return back, lost
