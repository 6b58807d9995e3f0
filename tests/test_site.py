"""The documents build as a site: every page has its place, every link leads somewhere, nothing is fetched."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FETCHED = re.compile(r"""<(?:script|link|img|iframe)\b[^>]*\b(?:src|href)=["'](?:https?:)?//[^>]*>""")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    build = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(folder)]
    built = subprocess.run(build, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (built.returncode, built.stdout + built.stderr) == (0, "")
    return folder


def test_each_row_of_the_printed_values_names_a_test_that_is_there() -> None:
    rows = (ROOT / "docs/published-values.md").read_text(encoding="utf-8").splitlines()
    named = [line.split("`")[-2] for line in rows if line.startswith("| ") and "`" in line]
    assert len(named) > 30
    assert [path for path in named if not (ROOT / path).is_file()] == []


def test_every_document_is_a_page_of_the_site(site: Path) -> None:
    pages = {path.relative_to(site).with_suffix("").as_posix() for path in site.rglob("*.html")}
    documents = {path.stem for path in (ROOT / "docs").glob("*.md")} - {"README"}
    assert documents | {"index", "CONTRIBUTING", "CHANGELOG"} <= pages


def test_no_page_of_the_site_fetches_anything_from_elsewhere(site: Path) -> None:
    for page in site.rglob("*.html"):
        assert not FETCHED.search(page.read_text(encoding="utf-8")), page.name
