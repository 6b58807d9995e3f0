"""The page on printing says what the last run of the benchmark said, and that run kept its aims."""

from __future__ import annotations

import json

from benchmarks.print_speed import COLD_AIM_S, FIGURES, PAGE, PICTURE, filled


def test_the_page_says_what_the_last_run_said_and_shows_its_picture() -> None:
    written = PAGE.read_text(encoding="utf-8")
    assert written == filled(written, json.loads(FIGURES.read_text(encoding="utf-8")))
    assert PICTURE.read_bytes().startswith(b"\x89PNG")


def test_the_kept_run_has_four_records_within_the_aim_for_a_first_print() -> None:
    sheets = json.loads(FIGURES.read_text(encoding="utf-8"))["sheets"]
    records = [one for one in sheets if one["what"] == "record"]
    assert len(records) == 4
    assert max(one["cold_cpu_s"] for one in records) <= COLD_AIM_S
