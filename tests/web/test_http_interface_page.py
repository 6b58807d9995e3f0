"""docs/http-interface.md names every request of the interface, and its program runs."""

from __future__ import annotations

import re
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

from barwise.web.api import api
from tests.web.served import free_port, served

PAGE = (Path(__file__).parents[2] / "docs" / "http-interface.md").read_text(encoding="utf-8")


def test_it_lists_every_request_with_what_the_interface_says_of_it() -> None:
    listed = re.findall(r"^\| `(\w+) (/api/\S+)` \| (.+) \|$", PAGE, re.MULTILINE)
    described = [
        (method.upper(), path, operation["summary"])
        for path, methods in api.get_openapi_schema()["paths"].items()
        for method, operation in methods.items()
    ]
    assert sorted(listed) == sorted(described)


def test_its_program_enters_a_reading(invented_shop: Path, tmp_path: Path) -> None:
    folder, port = shutil.copytree(invented_shop, tmp_path / "shop"), free_port()
    (program,) = re.findall(r"```python\n(.*?)```", PAGE, re.DOTALL)
    here = program.replace("http://localhost:8437", f"http://localhost:{port}")
    assert here != program
    with served(folder, port, []):
        ran = subprocess.run([sys.executable, "-c", here], capture_output=True, text=True, check=False)
    assert (ran.stdout, ran.stderr) == ("True 0.0035\n", "")
    with closing(sqlite3.connect(folder / "barwise.sqlite3")) as database:
        last = "SELECT value_si, name FROM record_reading JOIN record_person ON person_id = record_person.id "
        assert database.execute(f"{last} ORDER BY record_reading.id DESC").fetchone() == (0.0035, "Meter 3")
