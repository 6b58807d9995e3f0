"""`barwise verify` and `barwise key` on an invented shop: what they say, and how they end."""

from __future__ import annotations

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.web.served import barwise


@pytest.fixture(scope="module")
def shop(invented_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("verify") / "shop"
    shutil.copytree(invented_shop, folder)
    printed = barwise(folder, "print", "record", "2026-0003", "-o", str(folder / "record.pdf"))
    assert printed.returncode == 0, printed.stderr
    return folder


def test_a_record_as_it_was_printed_is_verified_without_a_shop(shop: Path, tmp_path: Path) -> None:
    file = str(shop / "record.pdf")
    ran = barwise(tmp_path, "verify", file)
    assert (ran.returncode, ran.stderr) == (0, "")
    lines = ran.stdout.splitlines()
    assert lines[:2] == [file, "verified"]
    assert "2026-0003 of Invented Electric" in lines[2]
    assert "you must know from elsewhere" in ran.stdout
    assert not (tmp_path / "barwise.sqlite3").exists()


def test_the_key_of_the_shop_can_be_demanded(shop: Path) -> None:
    shown = barwise(shop, "key", "show")
    key = shown.stdout.split("  ")[0]
    file = str(shop / "record.pdf")
    assert barwise(shop, "verify", file, "--key", key).returncode == 0
    other = barwise(shop, "verify", file, "--key", "0" * 32, "--json")
    assert other.returncode == 1
    assert json.loads(other.stdout)["verdict"] == "unproven"
    assert barwise(shop, "verify", file, "--key", "12").returncode == 2


def test_one_byte_altered_ends_with_1_and_says_so(shop: Path, tmp_path: Path) -> None:
    content = bytearray((shop / "record.pdf").read_bytes())
    at = content.index(b"/Keywords(") - 20
    content[at] ^= 1
    altered = tmp_path / "altered.pdf"
    altered.write_bytes(content)
    ran = barwise(tmp_path, "verify", str(altered), "--json")
    assert ran.returncode == 1
    answer = json.loads(ran.stdout)
    assert answer["verdict"] == "altered"
    assert answer["alterations"][0]["what"] == "the pages as a whole"


def test_all_of_a_shop_is_held_against_what_was_signed_and_chained(shop: Path, tmp_path: Path) -> None:
    here = tmp_path / "here"
    shutil.copytree(shop, here)
    whole = barwise(tmp_path, "verify", "--data", str(here))
    assert whole.returncode == 0, whole.stdout + whole.stderr
    assert whole.stdout == "4 jobs, 2 of them sealed: all as signed, the others as chained.\n"
    with closing(sqlite3.connect(here / "barwise.sqlite3")) as database:
        database.execute("DROP TRIGGER record_reading_no_update")
        for job in (1, 3):
            database.execute(f"UPDATE record_reading SET unit = 'V' WHERE job_id = {job} AND seq = 9")
        database.commit()
    altered = barwise(tmp_path, "verify", "--data", str(here))
    assert altered.returncode == 1
    assert "Job 2026-0001: ALTERED" in altered.stdout
    assert "Job 2026-0003: ALTERED" in altered.stdout
    assert "unit: altered: signed as" in altered.stdout
    answer = json.loads(barwise(tmp_path, "verify", "--data", str(here), "--json").stdout)
    assert [one["verdict"] for one in answer["jobs"]] == ["altered", "unproven", "altered", "whole"]


def test_another_key_signs_and_the_first_vouches_for_it(shop: Path, tmp_path: Path) -> None:
    here = tmp_path / "here"
    shutil.copytree(shop, here)
    old = barwise(here, "key", "show").stdout.split("  ")[0]
    made = barwise(here, "key", "new")
    assert made.returncode == 0, made.stderr
    shown = barwise(here, "key", "show").stdout
    assert "signed before" in shown
    assert f"vouched for by {old}" in shown
    again = str(here / "again.pdf")
    assert barwise(here, "print", "record", "2026-0003", "-o", again).returncode == 0
    assert barwise(here, "verify", again, "--key", old).returncode == 0


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((), "expected a FILE"),
        (("nowhere.pdf",), "nowhere.pdf"),
        (("empty.zip",), "expected"),
        (("--data", "nowhere"), "expected the folder of a shop"),
        (("empty.zip", "--data", "."), "expected a FILE, or --data"),
    ],
)
def test_what_cannot_be_checked_is_refused_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], says: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty.zip").write_bytes(b"")
    ran = barwise(tmp_path / "x", "verify", *arguments)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert len(ran.stderr.splitlines()) == 1
    assert says in ran.stderr
