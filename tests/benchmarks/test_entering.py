"""Readings entered over HTTP at a real server: none is lost to kill -9, and none is refused."""

from __future__ import annotations

from pathlib import Path

from benchmarks.entering import Server, free_port, kill_at_random, make_shop
from benchmarks.entry_speed import with_meters

KILLS = 5


def test_what_was_acknowledged_is_on_the_disk_once_after_five_kills(tmp_path: Path) -> None:
    make_shop(tmp_path / "shop")
    entered, wrong = kill_at_random(Server(tmp_path / "shop", free_port()), KILLS, benches=4)
    assert wrong == []
    assert entered.errors == []
    assert len(entered.acknowledged) > 4 * KILLS


def test_two_benches_are_answered_without_an_error_and_so_are_pages_that_poll_a_meter() -> None:
    seen = with_meters(seconds=4, benches=2, pages=2, rounds=1)
    assert (seen["readings"], seen["errors"]) == (32, 0)
    assert seen["polls"] > 4
