"""`barwise print` in a folder of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.report.paper.printed import pages_of

OPENED = """
from barwise.web.data_folder import data_folder
from barwise.web.started import prepare
prepare(data_folder())
from barwise.record.jobs import add_customer, add_unit, open_job
open_job(add_unit("T-1", "starter"), add_customer("Invented Farm"), number="J-1", invented=True)
"""


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    own = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    own["BARWISE_DATA"] = str(folder / "elsewhere")
    command = [sys.executable, *arguments]
    return subprocess.run(command, env=own, capture_output=True, text=True, check=False, cwd=folder)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with one job, in a folder beside the one the environment names."""
    folder = tmp_path_factory.mktemp("printed")
    made = run(folder, "-c", OPENED)
    assert made.returncode == 0, made.stderr
    (folder / "elsewhere").rename(folder / "shop")
    return folder


def barwise_print(shop: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return run(shop, "-m", "barwise.cli.main", "print", *arguments, "--data", "shop")


def test_each_sheet_is_written_where_it_should_be(shop: Path) -> None:
    for what, words in (("record", "Rebuild record"), ("label", "job J-1")):
        made = barwise_print(shop, what, "J-1", "-o", f"{what}.pdf")
        assert (made.returncode, made.stderr) == (0, "")
        assert made.stdout.startswith(f"{what}.pdf: ")
        assert words in pages_of((shop / f"{what}.pdf").read_bytes())[0]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("label", "J-1", "-o", "a.pdf", "--address", "bench"), 'address: found "bench"'),
        (("record", "J-1", "-o", "shop"), "expected a file that can be written"),
    ],
)
def test_what_cannot_be_printed_is_said_in_one_line(
    shop: Path, arguments: tuple[str, ...], says: str
) -> None:
    refused = barwise_print(shop, *arguments)
    assert refused.returncode == 2
    assert says in refused.stderr
    assert refused.stderr.count("\n") == 1
    assert not (shop / "a.pdf").exists()
