"""Readings entered over HTTP at a real server: none is lost to kill -9, and none is refused."""

from __future__ import annotations

from pathlib import Path

from benchmarks.entering import Server, free_port, kill_at_random, make_shop
from benchmarks.entry_speed import load

KILLS = 10


def test_what_was_acknowledged_is_on_the_disk_once_after_ten_kills(tmp_path: Path) -> None:
    make_shop(tmp_path / "shop")
    entered, wrong = kill_at_random(Server(tmp_path / "shop", free_port()), KILLS, benches=4)
    assert wrong == []
    assert entered.errors == []
    assert len(entered.acknowledged) > 4 * KILLS


def test_two_benches_are_answered_without_an_error() -> None:
    seen = load(seconds=4, benches=2)
    assert (seen["readings"], seen["errors"], seen["wrong"]) == (16, 0, 0)
