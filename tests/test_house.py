"""What is promised about building and testing barwise holds: pins, reasons, no silent skip."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

from tests.conftest import LONGEST_FIRST

ROOT = Path(__file__).parent.parent
PINS = sorted((ROOT / "requirements").glob("*.txt"))


def project() -> dict[str, object]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def name_of(requirement: str) -> str:
    return re.split(r"[\s<>=!~;\[]", requirement, maxsplit=1)[0].lower().replace("_", "-")


BY_URL = {"psycopg": "postgresql"}
"""Loaded by Django when DATABASE_URL begins so."""


def modules_of(name: str) -> list[str]:
    """Modules that a package of this name brings."""
    return [module for module, packages in brought().items() if name in map(name_of, packages)]


@cache
def brought() -> Mapping[str, list[str]]:
    """Packages that bring each module that can be imported here."""
    return packages_distributions()


def pinned(path: Path) -> dict[str, str]:
    """Name of each pinned requirement with its whole entry, hashes included."""
    entries = path.read_text(encoding="utf-8").replace("\\\n", " ").splitlines()
    return {name_of(entry): entry for entry in entries}


def version(entry: str) -> str:
    """``name==1.2.3`` of a pinned entry, without the systems it is for and its hashes."""
    return entry.split()[0]


@pytest.mark.parametrize("path", PINS, ids=lambda path: path.name)
def test_every_requirement_is_pinned_with_hashes_and_names_no_host(path: Path) -> None:
    entries = pinned(path)
    assert entries
    for entry in entries.values():
        assert re.match(r"[a-z0-9-]+==[^\s]+ ", entry), entry
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry
    assert "://" not in path.read_text(encoding="utf-8")


def test_what_the_package_needs_is_pinned_for_users_and_for_developers() -> None:
    runtime = pinned(ROOT / "requirements" / "runtime.txt")
    developer = pinned(ROOT / "requirements" / "dev.txt")
    needed = project()
    assert {name_of(line) for line in needed["dependencies"]} <= runtime.keys()
    for extra in ("dev", "instruments"):
        assert {name_of(line) for line in needed["optional-dependencies"][extra]} <= developer.keys()
    assert {name: version(entry) for name, entry in runtime.items()}.items() <= {
        name: version(entry) for name, entry in developer.items()
    }.items()


def test_every_dependency_has_a_line_that_says_why() -> None:
    reasons = (ROOT / "docs" / "dependencies.md").read_text(encoding="utf-8")
    needed = project()
    optional = needed["optional-dependencies"]
    for line in [*needed["dependencies"], *optional["dev"], *optional["instruments"]]:
        assert f"| {name_of(line)} |" in reasons, line


def test_every_dependency_of_a_user_is_one_the_package_imports() -> None:
    source = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "src").rglob("*.py"))
    for line in project()["dependencies"]:
        names = [BY_URL.get(name, name) for name in modules_of(name_of(line))]
        imported = rf"^\s*(import|from) ({'|'.join(names)})\b"
        named = rf"[\"'.]({'|'.join(names)})[\"'.:]"  # settings name their modules in strings
        assert re.search(f"{imported}|{named}", source, re.MULTILINE), line


SKIPPING = """
import pytest

@pytest.fixture
def missing():
    pytest.skip("nothing there")

def test_skips_itself():
    pytest.skip("no reason")

@pytest.mark.skip
def test_is_marked():
    pass

def test_needs_what_is_missing(missing):
    pass

@pytest.mark.xfail
def test_is_known_to_fail():
    assert False
"""
SKIPPING_MODULE = "import pytest\npytest.importorskip('a_module_nobody_has')\n"


def outcomes(folder: Path, no_skips: str) -> str:
    """What pytest says, under our conftest, of tests and of a module that skip."""
    shutil.copy(ROOT / "tests" / "conftest.py", folder)
    (folder / "test_one.py").write_text(SKIPPING, encoding="utf-8")
    (folder / "test_whole_module.py").write_text(SKIPPING_MODULE, encoding="utf-8")
    apart = ["-c", os.devnull, "--rootdir", str(folder), "--continue-on-collection-errors"]
    ran = subprocess.run(
        [sys.executable, "-m", "pytest", "-rA", *apart],
        env={**os.environ, "BARWISE_NO_SKIPS": no_skips},
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    return ran.stdout


def test_a_skip_fails_where_skips_are_forbidden(tmp_path: Path) -> None:
    said = outcomes(tmp_path, no_skips="1")
    assert "FAILED test_one.py::test_skips_itself" in said
    assert "ERROR test_one.py::test_is_marked" in said
    assert "ERROR test_one.py::test_needs_what_is_missing" in said
    assert "ERROR test_whole_module.py" in said
    assert "XFAIL test_one.py::test_is_known_to_fail" in said
    assert " skipped" not in said.splitlines()[-1]


def test_a_skip_is_only_a_skip_elsewhere(tmp_path: Path) -> None:
    said = outcomes(tmp_path, no_skips="").splitlines()[-1]
    assert "4 skipped" in said
    assert "failed" not in said.replace("xfailed", "")


def test_a_file_that_is_begun_first_is_there() -> None:
    assert [name for name in LONGEST_FIRST if not (ROOT / "tests" / name).is_file()] == []


def pages() -> list[Path]:
    return sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])


def links(page: Path) -> list[str]:
    """Targets within the repository that a page links to or shows."""
    found = re.findall(r"\]\(([^)#\s]+)", page.read_text(encoding="utf-8"))
    return [target for target in found if "://" not in target]


@pytest.mark.parametrize("page", pages(), ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_in_the_documents_leads_somewhere(page: Path) -> None:
    assert [target for target in links(page) if not (page.parent / target).exists()] == []


def test_every_page_of_the_documents_stands_in_their_index() -> None:
    docs = ROOT / "docs"
    listed = {(docs / target).resolve() for target in links(docs / "README.md")}
    assert set(docs.rglob("*.md")) - listed - {docs / "README.md"} == set()
