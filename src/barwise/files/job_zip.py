"""The zip of one job: which files it may hold, and none of them larger than it may be."""

from __future__ import annotations

import io
import re
import zipfile

from barwise.errors import InputError
from barwise.files.sealed_job import NAME as SEAL
from barwise.files.text import shown

MOST_MEMBERS = 2000
LARGEST_MEMBER = 32_000_000
LARGEST_WHOLE = 512_000_000
PHOTO = re.compile(r"photos/([0-9a-f]{64})\.jpg")
_TABLE = re.compile(r"readings/[a-z0-9.\-]{1,120}\.csv")
WHAT = "a zip of one job, as barwise exports it"
_INSIDE = f"job.json, {SEAL}, readings/ and photos/ only"


def check_members(members: list[zipfile.ZipInfo]) -> None:
    """Refuse paths that lead outside, files that are no part of a job, and sizes no job has. InputError."""
    if len(members) > MOST_MEMBERS:
        raise InputError("job zip", f"{len(members)} files in it", f"at most {MOST_MEMBERS}")
    names = [one.filename for one in members]
    for one in members:
        where, name = f"job zip, {shown(one.filename)}", one.filename
        if name.startswith(("/", "\\")) or ".." in re.split(r"[/\\]", name) or ":" in name or "\\" in name:
            raise InputError(where, "a path that leads outside", _INSIDE)
        if names.count(name) > 1:
            raise InputError(where, "the same name twice", "each file once")
        known = name in ("job.json", SEAL, "readings/", "photos/")
        if not (known or PHOTO.fullmatch(name) or _TABLE.fullmatch(name)):
            raise InputError(where, "a file that is no part of a job", _INSIDE)
        if one.file_size > LARGEST_MEMBER:
            raise InputError(where, f"{one.file_size / 1e6:.0f} MB", f"at most {LARGEST_MEMBER / 1e6:.0f} MB")
    if "job.json" not in names:
        raise InputError("job zip", "no job.json in it", WHAT)
    if sum(one.file_size for one in members) > LARGEST_WHOLE:
        raise InputError("job zip", "more than it can hold", f"at most {LARGEST_WHOLE / 1e6:.0f} MB unpacked")


def seal_in(content: bytes) -> bytes:
    """What a zip carries of a seal; empty without one."""
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        return read_member(packed, SEAL) if SEAL in packed.namelist() else b""


def read_member(packed: zipfile.ZipFile, name: str) -> bytes:
    """One member. Its size in the directory may be a lie, so no more than allowed is ever unpacked."""
    with packed.open(name) as member:
        content = member.read(LARGEST_MEMBER + 1)
    if len(content) > LARGEST_MEMBER:
        raise InputError(
            f"job zip, {shown(name)}", "more than it says", f"at most {LARGEST_MEMBER / 1e6:.0f} MB"
        )
    return content
