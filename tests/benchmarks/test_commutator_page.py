"""The accuracy table of the cut plan is the one of the last run."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from benchmarks import commutator_speed, cut_demo
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


def test_the_page_has_the_speed_of_the_last_run() -> None:
    figures = json.loads((ROOT / commutator_speed.FIGURES).read_text(encoding="utf-8"))
    page = (ROOT / "docs" / "commutator-model.md").read_text(encoding="utf-8")
    assert page == commutator_speed.filled(page, figures)
    assert commutator_speed.lines(figures) in page


def test_the_guide_shows_what_the_command_prints(monkeypatch: pytest.MonkeyPatch) -> None:
    """Drawn surfaces may differ a little from one processor to the next: words the same, numbers near."""
    monkeypatch.chdir(ROOT)
    page = cut_demo.PAGE.read_text(encoding="utf-8")
    shown, printed = (
        re.search(r"<!-- cut demo -->.*?<!-- end", text, re.DOTALL) for text in (page, cut_demo.filled(page))
    )
    assert shown
    assert printed
    words = [re.sub(r"\d+(\.\d+)?", "#", found[0]) for found in (shown, printed)]
    assert words[0] == words[1], "run `python -m benchmarks pages`"
    numbers = [[float(one) for one in re.findall(r"\d+(?:\.\d+)?", found[0])] for found in (shown, printed)]
    assert numbers[0] == pytest.approx(numbers[1], rel=0.02, abs=0.3)


def test_the_readme_s_picture_is_of_the_same_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    kept, drawn = cut_demo.PICTURE.read_text(encoding="utf-8"), cut_demo.drawn()
    titles = [re.findall(r"<title.*?</title>", text) for text in (kept, drawn)]
    assert titles[0] == titles[1]
    assert kept.count("<path") == pytest.approx(drawn.count("<path"), rel=0.05)
