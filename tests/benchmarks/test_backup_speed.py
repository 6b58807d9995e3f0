"""The table of docs/backup.md is that of its figures."""

from __future__ import annotations

import json
from pathlib import Path

from benchmarks import backup_speed

ROOT = Path(__file__).parents[2]


def test_the_table_of_the_page_is_that_of_the_figures() -> None:
    figures = json.loads((ROOT / backup_speed.FIGURES).read_text(encoding="utf-8"))
    assert figures["readings"] >= 500_000
    assert figures["wrong"] == 0
    assert backup_speed.table(figures) in (ROOT / backup_speed.PAGE).read_text(encoding="utf-8")
