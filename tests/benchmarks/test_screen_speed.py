"""The page on the screens' speed says what the last run of the benchmark said, and a run can be made."""

from __future__ import annotations

import json

from benchmarks.screen_speed import AIM_MS, FIGURES, PAGE, PAGES, SIZES, filled


def test_the_page_says_what_the_last_run_said() -> None:
    written = PAGE.read_text(encoding="utf-8")
    assert written == filled(written, json.loads(FIGURES.read_text(encoding="utf-8")))


def test_the_kept_run_has_every_size_and_keeps_its_aim() -> None:
    sizes = json.loads(FIGURES.read_text(encoding="utf-8"))["sizes"]
    assert [one["jobs"] for one in sizes] == list(SIZES)
    assert sizes[-1]["readings"] >= 500_000
    stations = [name for name in PAGES if name.startswith("station")]
    assert all(one["pages"][name]["processor_ms"] <= AIM_MS for one in sizes for name in stations)


def test_no_page_of_the_kept_run_asks_more_of_the_database_as_the_record_grows() -> None:
    sizes = json.loads(FIGURES.read_text(encoding="utf-8"))["sizes"]
    for name in PAGES:
        assert len({one["pages"][name]["queries"] for one in sizes}) == 1, name
