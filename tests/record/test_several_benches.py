"""Several benches at one walk lose nothing, and nothing that was acknowledged is lost when one is killed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

BENCH = Path(__file__).with_name("bench.py")
ROOT = Path(__file__).parent.parent.parent
COUNT_ALL = "SELECT count(*), count(DISTINCT key), count(DISTINCT seq), max(seq) FROM record_reading"

Ask = Callable[[str], list[tuple[object, ...]]]


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    """A shop with one job on the bench: a folder with SQLite, or a database of the PostgreSQL of this run."""
    folder = tmp_path_factory.mktemp("prepared") / "shop"
    folder.mkdir()
    own = {**os.environ, "BARWISE_DATA": str(folder), "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(ROOT)}
    with database("template1") as url:
        own |= url
        finish(start(own, "prepare"))
        yield own


@pytest.fixture
def surroundings(prepared: dict[str, str], tmp_path: Path) -> Iterator[dict[str, str]]:
    """The same, copied for one test."""
    folder = shutil.copytree(prepared["BARWISE_DATA"], tmp_path / "shop")
    with database(urlsplit(prepared.get("DATABASE_URL", "")).path.lstrip("/")) as url:
        yield {**prepared, "BARWISE_DATA": str(folder), **url}


@contextmanager
def database(made_from: str) -> Iterator[dict[str, str]]:
    """A database of the PostgreSQL of this run, as the environment names it; nothing where there is none."""
    url = os.environ.get("DATABASE_URL", "")
    if not url:
        yield {}
        return
    name = f"benches_{uuid.uuid4().hex[:8]}"
    with psycopg.connect(url, autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name} TEMPLATE {made_from}")
        yield {"DATABASE_URL": urlsplit(url)._replace(path=f"/{name}").geturl()}
        server.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture
def ask(surroundings: dict[str, str]) -> Ask:
    """What stands in that database, by SQL."""

    def asking(query: str) -> list[tuple[object, ...]]:
        url = surroundings.get("DATABASE_URL", "")
        if url:
            with psycopg.connect(url) as server:
                return server.execute(query).fetchall()
        import sqlite3

        with closing(sqlite3.connect(Path(surroundings["BARWISE_DATA"]) / "barwise.sqlite3")) as database:
            return database.execute(query).fetchall()

    return asking


def start(surroundings: dict[str, str], *arguments: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, str(BENCH), *arguments],
        env=surroundings,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def start_at_once(surroundings: dict[str, str], *commands: list[str]) -> subprocess.Popen[str]:
    first, *others = commands
    return start(surroundings, *first, *(word for other in others for word in ("and", *other)))


def finish(bench: subprocess.Popen[str]) -> list[str]:
    out, said = bench.communicate(timeout=600)
    assert bench.returncode == 0, said
    return out.split()


def test_four_benches_at_one_walk_are_all_kept_and_numbered_without_a_gap(
    surroundings: dict[str, str], ask: Ask
) -> None:
    keys = finish(start_at_once(surroundings, *(["enter", f"bench {number}", "30"] for number in range(4))))
    assert len(set(keys)) == len(keys) == 120
    assert ask(COUNT_ALL) == [(120, 120, 120, 120)]
    assert ask("SELECT last_seq FROM record_job") == [(120,)]
    ((head,),) = ask("SELECT link FROM record_reading WHERE seq = 120")
    assert ask("SELECT chain_head FROM record_job") == [(head,)]
    assert finish(start(surroundings, "check")) == []
    assert ask("SELECT in_force, touches FROM record_checkstanding") == [(120, 120)]


def test_one_reading_sent_by_four_benches_at_once_is_stored_once(
    surroundings: dict[str, str], ask: Ask
) -> None:
    key = str(uuid.uuid4())
    assert finish(start_at_once(surroundings, *[["same", key]] * 4)) == [key] * 4
    assert ask(COUNT_ALL) == [(1, 1, 1, 1)]


def test_what_was_acknowledged_is_there_once_after_the_bench_is_killed(
    surroundings: dict[str, str], ask: Ask
) -> None:
    acknowledged: list[str] = []
    last: list[str] = []
    for after in (1, 7, 20):
        bench = start(surroundings, "enter", f"killed after {after}", "2000")
        assert bench.stdout is not None
        last = [bench.stdout.readline().strip() for _ in range(after)]
        bench.kill()
        acknowledged += [*last, *bench.communicate()[0].split()]
    kept = [uuid.UUID(str(key)) for (key,) in ask("SELECT key FROM record_reading")]
    assert len(acknowledged) >= 28
    assert {uuid.UUID(key) for key in acknowledged} <= set(kept)
    assert len(kept) == len(set(kept))
    assert ask("SELECT last_seq FROM record_job") == [(len(kept),)]
    assert finish(start(surroundings, "check")) == []
    resumed = finish(start(surroundings, "enter", "killed after 20", "40"))
    assert resumed[:20] == last
    ((count, distinct, numbered, last),) = ask(COUNT_ALL)
    assert count == distinct == numbered == last
