"""The page on the run test shows the figures of the last run."""

from __future__ import annotations

import json
from pathlib import Path

from benchmarks.blocks import filled
from benchmarks.run_accuracy import FIGURES, PAGE, table

ROOT = Path(__file__).parents[2]


def test_its_table_is_that_of_the_kept_figures() -> None:
    page = (ROOT / PAGE).read_text(encoding="utf-8")
    figures = json.loads((ROOT / FIGURES).read_text(encoding="utf-8"))
    assert filled(page, "run figures", f"{table(figures)}\n") == page
