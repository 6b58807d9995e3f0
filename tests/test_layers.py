"""The package keeps its layers and its types, and the checks that say so can fail."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PURE = ("machine", "measure", "inspect")


def run(tool: str, *arguments: str, folder: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """Run a checker that stands beside this Python, in a folder."""
    command = [str(Path(sys.executable).parent / tool), *arguments]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def check_layers(folder: Path) -> subprocess.CompletedProcess[str]:
    return run("lint-imports", "--no-logo", "--no-cache", folder=folder)


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The package and its rules, copied to where a rule may be broken."""
    without_caches = shutil.ignore_patterns("__pycache__", "*.egg-info")
    shutil.copytree(ROOT / "src" / "barwise", tmp_path / "barwise", ignore=without_caches)
    shutil.copytree(ROOT / "reference", tmp_path / "reference", ignore=without_caches)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_each_layer_imports_only_what_stands_below_it() -> None:
    checked = check_layers(ROOT)
    assert checked.returncode == 0, checked.stdout


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("barwise/errors.py", "import barwise.machine.winding"),
        ("barwise/machine/winding.py", "import barwise.measure.readings"),
        ("barwise/machine/winding.py", "from barwise.inspect import armature"),
        ("barwise/measure/units.py", "import barwise.machine.network"),
        ("barwise/inspect/diagnosis.py", "import barwise.files.text"),
        ("barwise/files/text.py", "import barwise.report.svg"),
        ("barwise/report/svg.py", "import barwise.cli.main"),
        ("barwise/machine/winding.py", "def now():\n    import time"),
        ("barwise/machine/winding.py", "import os.path"),
        ("barwise/measure/units.py", "from pathlib import Path"),
        ("barwise/measure/units.py", "import datetime"),
        ("barwise/inspect/diagnosis.py", "import matplotlib.pyplot"),
        ("barwise/inspect/diagnosis.py", "import pydantic"),
        ("barwise/inspect/diagnosis.py", "import django.db"),
        ("barwise/errors.py", "import rich"),
        ("barwise/machine/winding.py", "import typer"),
        ("reference/dense.py", "import barwise.machine.network"),
        ("barwise/machine/network.py", "import reference.dense"),
        ("barwise/somewhere.py", "import barwise.errors"),
    ],
)
def test_an_import_out_of_place_is_found(copy: Path, module: str, line: str) -> None:
    with (copy / module).open("a") as source:
        source.write(f"\n{line}\n")
    checked = check_layers(copy)
    assert checked.returncode == 1, f"{module} may say {line!r} and nobody notices"
    assert "Broken contracts" in checked.stdout, checked.stdout + checked.stderr
    assert module.removesuffix(".py").replace("/", ".") in checked.stdout


def test_the_copy_that_the_rules_are_tried_on_keeps_them(copy: Path) -> None:
    assert check_layers(copy).returncode == 0


@pytest.mark.parametrize("layer", PURE)
def test_the_pure_layers_say_their_types_strictly(layer: str) -> None:
    checked = run("mypy", "--strict", f"src/barwise/{layer}")
    assert checked.returncode == 0, checked.stdout


def test_the_source_keeps_the_house_style() -> None:
    checked = run("ruff", "check", "--quiet", "--output-format=concise", ".")
    assert checked.returncode == 0, checked.stdout
