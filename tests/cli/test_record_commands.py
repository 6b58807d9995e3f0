"""`barwise demo` and `barwise recheck` in a folder of their own."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path


def barwise(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    own = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    return subprocess.run(
        [sys.executable, "-m", "barwise.cli.main", *arguments],
        env={**own, "BARWISE_DATA": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_demo_lies_beside_the_shop_and_is_not_made_over_another(
    invented_shop: Path, tmp_path: Path
) -> None:
    beside = invented_shop.with_name("a-shop")
    assert f"BARWISE_DATA={beside}-demo barwise serve" in invented_shop.with_suffix(".said").read_text()
    assert not beside.exists()
    shop, own = tmp_path / "shop", shutil.copytree(invented_shop, tmp_path / "shop-demo")
    for again in (barwise(shop, "demo"), barwise(tmp_path / "other", "demo", "--data", str(own))):
        assert again.returncode == 2
        assert "expected an empty one" in again.stderr
    assert not shop.exists()
    assert first_number(own).endswith("-0001")


def test_the_results_of_the_demo_can_be_worked_out_again(invented_shop: Path, tmp_path: Path) -> None:
    own = shutil.copytree(invented_shop, tmp_path / "shop")
    checked = barwise(own, "recheck")
    assert (checked.returncode, checked.stderr) == (0, "")
    assert "4 jobs" in checked.stdout
    assert "nothing to report" in checked.stdout
    with closing(sqlite3.connect(own / "barwise.sqlite3")) as database, database:
        database.execute("UPDATE record_checkstanding SET in_force = in_force + 1 WHERE check_key = 'look'")
    spoiled = barwise(own, "recheck", "--job", first_number(own))
    assert spoiled.returncode == 1
    assert "wrong count: 2 readings in force counted, 1 there" in spoiled.stdout
    unknown = barwise(own, "recheck", "--job", "none")
    assert (unknown.returncode, unknown.stdout) == (2, "")


def first_number(folder: Path) -> str:
    with closing(sqlite3.connect(folder / "barwise.sqlite3")) as database:
        return str(database.execute("SELECT number FROM record_job ORDER BY id").fetchone()[0])
