"""The accuracy table of the cut plan is the one of the last run."""

from __future__ import annotations

import json
from pathlib import Path

from benchmarks.commutator_accuracy import filled, judge, summary

ROOT = Path(__file__).parents[2]


def test_the_page_shows_the_figures_that_were_kept() -> None:
    page = (ROOT / "docs" / "commutator-model.md").read_text(encoding="utf-8")
    figures = json.loads((ROOT / "docs" / "figures" / "commutator-accuracy.json").read_text(encoding="utf-8"))
    assert filled(page, figures) == page


def test_the_engine_beats_both_shortcuts_on_a_few_commutators() -> None:
    found = summary([judge("usual", number) for number in range(16)])
    assert found["median_error"] < found["shortcut_median"]
    assert found["error_95"] < found["shortcut_95"]
    assert found["coverage"] >= 0.8
