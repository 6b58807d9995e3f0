"""Photos are told by their content, turned upright, and carry nothing of the camera's into the record."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from barwise.errors import InputError
from barwise.record.in_force import readings_in_force
from barwise.record.models import Job, Photo
from barwise.record.photos import LONGEST_SIDE, MOST_BYTES, add_photo, path_of, re_encoded

pytestmark = pytest.mark.django_db
ORIENTATION, MAKE, GPS = 0x0112, 0x010F, 0x8825


def picture(size: tuple[int, int] = (60, 40), kind: str = "JPEG", turned: bool = False) -> bytes:
    """A picture with a red left half; `turned`: stored on its side, as cameras do."""
    drawn = Image.new("RGB", size, "white")
    drawn.paste("red", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    exif[MAKE] = "an invented camera"
    exif.get_ifd(GPS)[1] = "N"
    if turned:
        exif[ORIENTATION] = 6
    written = io.BytesIO()
    drawn.save(written, kind, exif=exif)
    return written.getvalue()


def test_a_photo_is_upright_and_says_nothing_of_place_or_camera(job: Job) -> None:
    photo = add_photo(job, picture(turned=True), "teardown", caption="as found")
    assert (photo.width, photo.height) == (40, 60)
    with Image.open(path_of(photo)) as kept:
        assert kept.format == "JPEG"
        assert dict(kept.getexif()) == {}
        top, bottom = kept.convert("RGB").getpixel((20, 10)), kept.convert("RGB").getpixel((20, 50))
    assert top[1] < 60  # red, turned to the top
    assert bottom[1] > 200
    assert b"invented camera" not in path_of(photo).read_bytes()


def test_a_large_photo_is_made_smaller(job: Job) -> None:
    photo = add_photo(job, picture((3600, 1800)))
    assert (photo.width, photo.height) == (LONGEST_SIDE, LONGEST_SIDE // 2)
    assert photo.size_bytes == path_of(photo).stat().st_size


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_other_kinds_of_pictures_become_jpeg(job: Job, kind: str) -> None:
    assert path_of(add_photo(job, picture(kind=kind))).read_bytes().startswith(b"\xff\xd8")


def test_a_transparent_picture_stands_on_white() -> None:
    written = io.BytesIO()
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(written, "PNG")
    with Image.open(io.BytesIO(re_encoded(written.getvalue())[0])) as flat:
        assert min(flat.getpixel((5, 5))) > 250


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "no picture by its content"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no picture by its content"),
        (b"GIF89a" + bytes(50), "no picture by its content"),
        (picture((400, 400))[:900], "a damaged picture"),
        (bytes(MOST_BYTES + 1), "25.0 MB, expected at most 25 MB"),
    ],
    ids=["empty", "svg", "gif", "torn", "large"],
)
def test_what_is_no_photo_is_refused_and_leaves_nothing(
    job: Job, photos_folder: Path, content: bytes, says: str
) -> None:
    with pytest.raises(InputError, match=says):
        add_photo(job, content)
    assert Photo.objects.count() == 0
    assert list(photos_folder.rglob("*.jpg")) == []


def test_a_picture_with_too_many_pixels_is_refused_before_it_is_unpacked() -> None:
    written = io.BytesIO()
    Image.new("1", (10_000, 9_000)).save(written, "PNG")
    with pytest.raises(InputError, match="more pixels"):
        re_encoded(written.getvalue())


def test_a_photo_at_a_check_that_asks_for_one_counts_as_taken(job: Job) -> None:
    add_photo(job, picture(), "intake", "as-received", "drive end")
    assert [one.text for one in readings_in_force(job, "intake", "as-received")] == ["drive end"]
    add_photo(job, picture(), "intake", "outside", "a crack")
    assert readings_in_force(job, "intake", "outside") == ()
    with pytest.raises(InputError, match="nearest"):
        add_photo(job, picture(), "intake", "as-recieved")


def test_the_same_picture_lies_in_the_folder_once(job: Job, photos_folder: Path) -> None:
    add_photo(job, picture())
    add_photo(job, picture())
    assert len(list(photos_folder.rglob("*.jpg"))) == 1
    assert Photo.objects.count() == 2
