"""The table of docs/proof.md is that of its figures, and what is timed is what it says."""

from __future__ import annotations

import json
from pathlib import Path

from barwise.files.verifying import verify_bytes
from benchmarks import verify_speed

ROOT = Path(__file__).parents[2]


def test_the_table_of_the_page_is_that_of_the_figures() -> None:
    figures = json.loads((ROOT / verify_speed.FIGURES).read_text(encoding="utf-8"))
    assert figures["readings"] == 5000
    assert verify_speed.table(figures) in (ROOT / verify_speed.PAGE).read_text(encoding="utf-8")


def test_the_job_that_is_timed_is_whole_and_its_altered_twin_is_not() -> None:
    assert verify_bytes(verify_speed.sealed_zip(20)).word == "whole"
    altered = verify_bytes(verify_speed.sealed_zip(20, alter=7))
    assert [one.line for one in altered.altered] == [
        'reading #8, commutator.diameter 1, entered: altered: signed as "1.2421", found "9"'
    ]
