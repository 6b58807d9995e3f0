"""The page on reliability shows the figures of the last runs, and names tests that are there."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from benchmarks import fuzzing, soak
from benchmarks.blocks import filled

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "reliability.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(("mark", "made_by"), [("soak", soak), ("fuzz", fuzzing)])
def test_a_table_is_that_of_the_kept_figures(mark: str, made_by) -> None:
    figures = json.loads((ROOT / made_by.FIGURES).read_text(encoding="utf-8"))
    assert filled(PAGE, mark, made_by.block(figures)) == PAGE


def test_a_page_without_the_block_is_told() -> None:
    with pytest.raises(ValueError, match="no block soak"):
        filled("nothing here", "soak", "| a |")


@pytest.mark.parametrize("page", ["reliability.md", "security.md"])
def test_every_test_that_a_page_names_is_there(page: str) -> None:
    named = re.findall(r"`(tests/[\w/]+\.py)`", (ROOT / "docs" / page).read_text(encoding="utf-8"))
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []


def test_a_soak_of_seconds_loses_nothing_and_counts_the_memory_seals_and_polls() -> None:
    figures = soak.soak(12.0, benches=2, rate_hz=8.0)
    assert (figures["errors"], figures["wrong"]) == (0, 0)
    assert figures["readings"] > 2 * soak.BARS
    assert figures["seals"]["whole"] == figures["seals"]["closed"] >= 2
    meter = figures["meter"]
    assert (meter["errors"], meter["missed"]) == (0, 0)
    assert meter["taken"] > 0
    assert 50 < figures["last_mb"] < 500
