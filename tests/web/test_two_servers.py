"""Two servers on one data folder, as when somebody starts it twice: nothing is lost or numbered twice."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

from benchmarks.entering import Bench, Entered, Server, compare, enter_steadily, free_port, make_shop


def test_readings_through_two_servers_at_once_are_each_kept_once_and_numbered_without_a_gap(
    tmp_path: Path,
) -> None:
    make_shop(tmp_path)
    servers, entered = [Server(tmp_path, free_port()) for _ in range(2)], Entered()
    try:
        for server in servers:
            server.start()
        benches = [Bench(server.port) for server in servers for _ in range(2)]
        for bench in benches:
            bench.sign_in()
        with ThreadPoolExecutor(len(benches)) as hands:
            work = [
                hands.submit(enter_steadily, bench, 1, 10.0, 2.0, seed, entered)
                for seed, bench in enumerate(benches)
            ]
        for done, bench in zip(work, benches, strict=True):
            done.result()
            bench.close()
    finally:
        for server in servers:
            server.end()
    assert not entered.errors
    assert len(entered.acknowledged) == 80
    assert not compare(tmp_path, entered)
    with closing(sqlite3.connect(tmp_path / "barwise.sqlite3")) as database:
        numbers = [seq for (seq,) in database.execute("SELECT seq FROM record_reading ORDER BY seq")]
    assert numbers == list(range(1, 81))
