"""The cut plan of the invented commutator in its guide: what the command prints down to its passes."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from benchmarks import blocks

PAGE = Path("docs/commutator-guide.md")
PICTURE = Path("docs/pictures/commutator-demo.svg")
DEMO = ("examples/demo/commutator.toml", "examples/demo/profile.csv")


def write() -> None:
    """Draw the picture and fill the guide again."""
    PICTURE.write_text(drawn(), encoding="utf-8")
    PAGE.write_text(filled(PAGE.read_text(encoding="utf-8")), encoding="utf-8")


def filled(page: str) -> str:
    """The page's text with the command and the beginning of its answer in place."""
    text = f"```text\n$ barwise commutator {' '.join(DEMO)}\n{beginning()}\n  ...\n```"
    return blocks.filled(page, "cut demo", f"{text}\n")


def beginning() -> str:
    """The answer down to the table of passes."""
    return _printed().partition("\n  After each pass")[0].rstrip()


def drawn() -> str:
    """The picture that the command draws."""
    path = Path("build/commutator-demo.svg")
    path.parent.mkdir(exist_ok=True)
    _printed("--picture", str(path))
    return path.read_text(encoding="utf-8")


def _printed(*more: str) -> str:
    command = [str(Path(sys.executable).parent / "barwise"), "commutator", *DEMO, *more]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout
