"""Bad input sent to a real `barwise serve`: it says what is wrong, keeps what was typed, and goes on."""

from __future__ import annotations

import io
import json
import struct
import subprocess
import sys
import uuid
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from urllib.parse import urlencode

import pytest

from benchmarks.entering import PEOPLE, Bench, environment, free_port
from tests.web.served import served
from tests.web.test_instruments import TYPED as INSTRUMENT
from tests.web.test_jobs import said
from tests.web.test_sheet_editor import fields

SHOP = f"""
from barwise.web.data_folder import data_folder
from barwise.web.started import prepare
prepare(data_folder())
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import Person
from barwise.record.sheets import store_sheet
from barwise.route.sheet import built_in_text
Person.objects.create(name={PEOPLE[0]!r})
unit = add_unit("T-1", "starter", invented=True)
open_job(unit, add_customer("Invented Farm"), store_sheet(built_in_text("demo-57-wave")), invented=True)
"""
FORM = "application/x-www-form-urlencoded"
TAKE = "/jobs/1/commutator/diameter/take"
HTML = b"<!doctype html><script>alert(1)</script>"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """Somebody at the bench of a shop of its own; at the end the server still answers."""
    folder: Path = tmp_path_factory.mktemp("bad-input")
    subprocess.run([sys.executable, "-c", SHOP], env=environment(folder), check=True)
    port, printed = free_port(), []
    with served(folder, port, printed):
        one = Bench(port)
        one.sign_in()
        yield one
        assert one.ask("GET", "/health")[0] == 200
        one.close()
    assert "Traceback" not in printed[0]


def send(bench: Bench, path: str, typed: dict[str, str]) -> tuple[int, str]:
    """A form as a browser sends it."""
    form = urlencode(typed | {"csrfmiddlewaretoken": bench.cookies["csrftoken"]})
    return bench.ask("POST", path, form, FORM)


def upload(bench: Bench, path: str, field: str, name: str, content: bytes) -> tuple[int, str]:
    """A file as a browser sends it. latin-1 carries each byte as it is."""
    line = "invented-boundary"
    parts = [
        f'--{line}\r\nContent-Disposition: form-data; name="csrfmiddlewaretoken"\r\n\r\n'.encode(),
        bench.cookies["csrftoken"].encode(),
        f'\r\n--{line}\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n'.encode(),
        b"Content-Type: image/jpeg\r\n\r\n",
        content,
        f"\r\n--{line}--\r\n".encode(),
    ]
    body: Any = b"".join(parts)
    return bench.ask("POST", path, body, f"multipart/form-data; boundary={line}")


def words(page: str) -> str:
    return said(SimpleNamespace(content=page.encode()))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("1.24x1", "a number such as"),
        ("12o5", "a number such as"),
        ("one and a quarter", "a number such as"),
        ("1,2421", "a decimal point: 1.2421, or 12421 if the comma parts thousands"),
        ("1,242.1", "nothing between thousands"),
        ("1.2.4", "a number such as"),
        ("OL", "off the scale is no number"),
        ("1e400", "a number such as"),
        ("\u0661.\u0662", "a number such as"),
        ("", "a number such as"),
    ],
)
def test_what_is_no_number_is_refused_and_stays_in_its_field(bench: Bench, typed: str, says: str) -> None:
    status, page = send(bench, TAKE, {"value": typed, "unit": "in", "place": "3", "track": "0.5"})
    assert status == 422
    assert says in words(page)
    assert f'value="{typed}"' in page
    assert 'value="0.5"' in page


def test_an_inch_size_sent_as_mm_is_asked_about_before_it_is_kept(bench: Bench) -> None:
    status, page = send(bench, TAKE, {"value": "1.2421", "unit": "mm", "place": "3", "track": "0.5"})
    assert status == 422
    assert "Is it 1.2421 in?" in words(page)
    status, said_so = bench.ask("GET", "/api/v1/jobs/1/commutator/diameter/readings")
    assert json.loads(said_so)["readings"] == []


def test_a_reading_from_the_future_is_refused(bench: Bench) -> None:
    reading = {"station": "intake", "check": "turns-by-hand", "text": "free"}
    sent = reading | {"key": str(uuid.uuid4()), "taken_at": "2999-01-01T08:00:00Z"}
    status, said_so = bench.enter(1, sent)
    assert status == 422
    assert "which is in the future" in said_so["error"]


def test_an_instrument_calibrated_in_the_future_is_refused_with_all_that_was_typed(bench: Bench) -> None:
    status, page = send(bench, "/instruments/new", INSTRUMENT | {"calibrated_on": "2999-01-31"})
    assert status == 422
    assert "in the future" in words(page)
    for typed in ("2999-01-31", INSTRUMENT["kind"], INSTRUMENT["resolution"]):
        assert f'value="{typed}"' in page


def test_a_sheet_with_its_limits_in_the_wrong_order_is_refused_with_all_that_was_typed(bench: Bench) -> None:
    _, form = bench.ask("GET", "/sheets/demo-57-wave/edit")
    typed = fields(SimpleNamespace(content=form.encode()))
    slip = {"limits.commutator-diameter.new": "1.226", "limits.commutator-diameter.discard": "1.250"}
    status, page = send(bench, "/sheets/demo-57-wave/edit", typed | slip | {"notes": "typed by hand"})
    assert status == 422
    assert "discard below new" in words(page)
    assert 'value="1.226"' in page
    assert "typed by hand" in page


def vast_png() -> bytes:
    """A PNG whose head says 60,000 by 60,000 pixels; no more of it is there."""
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )


def a_zip() -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as out:
        out.writestr("inside.txt", "x")
    return packed.getvalue()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"\xff\xd8\xff\xe0" + b"\0" * 40_000_000, "found 40.0 MB, expected at most 25 MB"),
        (a_zip(), "no picture by its content"),
        (SVG, "no picture by its content"),
        (HTML, "no picture by its content"),
        (vast_png(), "more pixels than any camera has"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "picture"),
        (b"", "photo"),
    ],
    ids=["40 MB", "zip", "SVG", "HTML", "60,000 by 60,000 pixels", "torn off", "empty"],
)
def test_what_is_no_photo_is_refused_whatever_its_name_says(bench: Bench, content: bytes, says: str) -> None:
    status, page = upload(bench, "/jobs/1/intake/photo", "photo", "drive end.jpg", content)
    assert status == 422
    assert says in words(page)


def with_member(name: str, content: bytes = b"x", *, mode: int = 0, claims: int = 0) -> bytes:
    """A job's zip with one member more; `mode` as a symbolic link has it, `claims` a size that is a lie."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("job.json", "{}")
        member = zipfile.ZipInfo(name)
        member.external_attr, member.compress_type = mode << 16, zipfile.ZIP_DEFLATED
        out.writestr(member, content)
        if claims:
            member.file_size = claims
    return packed.getvalue()


PHOTO = f"photos/{'a' * 64}.jpg"
LINK = 0o120777


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (with_member("../../etc/cron.d/evil"), "a path that leads outside"),
        (with_member("/etc/passwd"), "a path that leads outside"),
        (with_member("..\\evil.exe"), "a path that leads outside"),
        (with_member("C:/evil.exe"), "a path that leads outside"),
        (with_member(PHOTO, b"/etc/passwd", mode=LINK), "job.json"),
        (with_member("photos/link", b"/etc", mode=LINK), "no part of a job"),
        (with_member(PHOTO, claims=10 * 2**30), "at most 32 MB"),
        (with_member(PHOTO, b"\0" * 64_000_000), "at most 32 MB"),
        (b"PK\x03\x04 torn off", "cannot be unpacked"),
        (HTML, "cannot be unpacked"),
    ],
    ids=[
        "path up", "path from the root", "path up, other slash", "drive", "link as a photo", "link",
        "10 GB it says", "64 MB of zeros", "torn off", "HTML",
    ],
)  # fmt: skip
def test_a_zip_that_is_no_job_is_refused_and_leaves_nothing(bench: Bench, content: bytes, says: str) -> None:
    status, page = upload(bench, "/import", "zip", "job.zip", content)
    assert status == 422
    assert says in words(page)
    assert len(json.loads(bench.ask("GET", "/api/v1/jobs")[1])["jobs"]) == 1
