"""Photos of a job: told by their content, turned upright, made anew without what cameras write into them."""

from __future__ import annotations

import io
import warnings
from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from PIL import Image, ImageOps, UnidentifiedImageError

from barwise.errors import InputError
from barwise.files.on_disk import write_whole
from barwise.record.changes import log
from barwise.record.entry import Entry, take_reading
from barwise.record.jobs import locked
from barwise.record.models import Job, Person, Photo
from barwise.record.photo_place import digest_of, place, whole
from barwise.record.route_of import route_of

MOST_BYTES = 25_000_000
MOST_PIXELS = 80_000_000
LONGEST_SIDE = 2400
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP")


def add_photo(
    job: Job,
    content: bytes,
    station: str = "",
    check: str = "",
    caption: str = "",
    person: Person | None = None,
) -> Photo:
    """Keep a photo of a job; the file is on the disk before its row is.

    At a check that asks for a photo, it counts as a reading as well.

    Raises
    ------
    InputError
        If it is too large, damaged, or not a photo by its content, or the route has no such check.
    RecordError
        If the job is closed.
    """
    jpeg, size = re_encoded(content)
    digest = keep_file(jpeg)
    with transaction.atomic():
        job = locked(job)
        takes_it = _asks_for_photo(job, station, check)
        photo = Photo.objects.create(
            job=job,
            station_key=station,
            check_key=check,
            sha256=digest,
            width=size[0],
            height=size[1],
            size_bytes=len(jpeg),
            caption=caption.strip()[:200],
            person=person,
            recorded_at=timezone.now(),
        )
        log("photo added", f"Job {job.number}: photo {photo.caption}".rstrip(), person, job)
        if takes_it:
            take_reading(job, Entry(photo.key, station, check, photo.caption or "photo"), person)
    return photo


def path_of(photo: Photo) -> Path:
    """Where the picture lies."""
    return place(Path(settings.MEDIA_ROOT), photo.sha256)


def must_not_be_larger(size_bytes: int) -> None:
    """Refuse a photo by its size. Raises InputError."""
    if size_bytes > MOST_BYTES:
        expected = f"at most {MOST_BYTES / 1e6:.0f} MB: set the camera to smaller pictures"
        raise InputError("photo", f"{size_bytes / 1e6:.1f} MB", expected)


def re_encoded(content: bytes) -> tuple[bytes, tuple[int, int]]:
    """The picture as a JPEG of at most `LONGEST_SIDE`, upright, without place, camera or thumbnail.

    Raises
    ------
    InputError
        As `add_photo`.
    """
    must_not_be_larger(len(content))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            return _jpeg(content)
    except UnidentifiedImageError:
        raise InputError("photo", "a file that is no picture by its content", "JPEG, PNG or WebP") from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise InputError("photo", "more pixels than any camera has", f"at most {MOST_PIXELS:,}") from None
    except (OSError, ValueError, SyntaxError, EOFError):
        raise InputError("photo", "a damaged picture", "a whole one: take or send it again") from None


def keep_file(jpeg: bytes) -> str:
    """Put a picture into the data folder under its SHA-256, durably; the same picture lies there once."""
    digest = digest_of(jpeg)
    if whole(Path(settings.MEDIA_ROOT), digest) is None:
        write_whole(place(Path(settings.MEDIA_ROOT), digest), jpeg)
    return digest


def _jpeg(content: bytes) -> tuple[bytes, tuple[int, int]]:
    with Image.open(io.BytesIO(content), formats=FORMATS) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            raise Image.DecompressionBombError
        opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        upright = ImageOps.exif_transpose(opened)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        flat = _on_white(upright)
    written = io.BytesIO()
    flat.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue(), flat.size


def _on_white(picture: Image.Image) -> Image.Image:
    """Without transparency, and in a fresh picture that carries nothing over from the file."""
    layered = picture.convert("RGBA")
    paper = Image.new("RGB", picture.size, "white")
    paper.paste(layered, mask=layered.getchannel("A"))
    return paper


def _asks_for_photo(job: Job, station: str, check: str) -> bool:
    family = route_of(job).family
    if check:
        return family.check(station, check).entry == "photo"
    if station:
        family.station(station)
    return False
