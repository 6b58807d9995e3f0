"""Every example in a docstring, and of the page on the library, does what it says."""

from __future__ import annotations

import doctest
import importlib
import subprocess
import sys
from pathlib import Path

import pytest

import barwise
from barwise import library

ROOT = Path(__file__).parent.parent


def _modules() -> list[str]:
    """Modules with an example, found by their text: none is imported while tests are collected."""
    package = Path(barwise.__file__).parent
    files = (path for path in package.rglob("*.py") if ">>> " in path.read_text(encoding="utf-8"))
    parts = (path.relative_to(package.parent).with_suffix("").parts for path in files)
    return sorted(".".join(part for part in found if part != "__init__") for found in parts)


@pytest.mark.parametrize("name", _modules())
def test_the_examples_of_a_module_print_what_they_say(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted
    assert not found.failed


def test_the_page_on_the_library_shows_what_its_examples_give(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    found = doctest.testfile(
        str(ROOT / "docs" / "library.md"), module_relative=False, optionflags=doctest.ELLIPSIS
    )
    assert found.attempted
    assert not found.failed


def test_every_name_of_the_library_is_there_and_is_shown_on_its_page() -> None:
    page = (ROOT / "docs" / "library.md").read_text(encoding="utf-8")
    for name in library.__all__:
        assert getattr(barwise, name) is getattr(library, name)
    missing = [name for name in library.__all__ if f"barwise.{name}" not in page]
    assert not missing


def test_a_notebook_shows_a_picture_of_ours_as_a_picture() -> None:
    sheet = barwise.load_winding(ROOT / "examples" / "demo" / "winding.toml")
    readings = barwise.load_readings(ROOT / "examples" / "demo" / "readings.csv", sheet.winding)
    drawn = barwise.armature_picture(sheet.winding, barwise.diagnose(sheet.winding, readings))
    assert drawn._repr_svg_().startswith("<svg")


def test_importing_barwise_alone_loads_no_numerical_library() -> None:
    code = "import sys, barwise; print('numpy' in sys.modules, 'django' in sys.modules)"
    asked = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert asked.stdout.split() == ["False", "False"]
