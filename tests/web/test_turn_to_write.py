"""Who writes to SQLite waits for its turn without holding up who writes just now.

That SQLite holds a connection's lock while it waits, and that a statement is freed under that lock, is what
its documentation says of its serialized mode ("Using SQLite In Multi-Threaded Applications") and what a
stopped server showed.
"""

from __future__ import annotations

import gc
import itertools
import sqlite3
import weakref
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event
from typing import ClassVar

import pytest
from django.db import OperationalError
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.utils import ConnectionHandler

from barwise.web import turn_to_write
from barwise.web.settings import SQLITE

BEGIN = "BEGIN IMMEDIATE"


@pytest.fixture
def two(tmp_path: Path, django_db_blocker) -> Iterator[tuple[BaseDatabaseWrapper, BaseDatabaseWrapper]]:
    """Two connections to one file, as two requests have them; the second is begun to wait with."""
    opened = ConnectionHandler({"default": {**SQLITE, "NAME": str(tmp_path / "shop.sqlite3")}})
    one, other = (opened.create_connection("default") for _ in range(2))
    with django_db_blocker.unblock():
        for connection in (one, other):
            connection.inc_thread_sharing()
            connection.cursor().execute("CREATE TABLE IF NOT EXISTS said (word TEXT)").close()
        yield one, other
        for connection in (one, other):
            connection.close()


def at_the_third_try(done: Callable[[], None], monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """Have the writer be done while another pauses for the third time; how often it paused."""
    pauses = itertools.count()

    def pause(_: float) -> None:
        if next(pauses) == 2:
            done()

    monkeypatch.setattr(turn_to_write, "sleep", pause)
    return pauses


def test_who_writes_frees_what_another_left_while_that_one_waits_for_its_turn(two) -> None:
    writer, waiter = two
    writer.cursor().execute(BEGIN)
    left = waiter.connection.cursor()
    with pytest.raises(sqlite3.OperationalError):
        left.execute(BEGIN)  # what failed stays with its cursor
    waits = Event()
    waiter.connection.set_trace_callback(lambda _: waits.set())  # called once SQLite has the connection
    with ThreadPoolExecutor(1) as another:
        turn = another.submit(waiter.cursor().execute, BEGIN)
        waits.wait()
        left.close()  # as the collector does, on the thread that writes
        writer.connection.commit()
        turn.result()
    assert waiter.connection.in_transaction


@pytest.mark.parametrize("statement", [BEGIN, "INSERT INTO said VALUES ('3.5 mV')"])
def test_a_statement_that_finds_the_database_busy_is_run_when_the_writer_is_done(
    two, statement: str, monkeypatch
) -> None:
    writer, waiter = two
    writer.cursor().execute(BEGIN)
    tried = at_the_third_try(writer.connection.commit, monkeypatch)
    waiter.cursor().execute(statement)
    waiter.connection.commit()
    assert next(tried) == 3
    kept = writer.cursor().execute("SELECT count(*) FROM said").fetchone()
    assert kept == (int(statement != BEGIN),)


def test_what_was_tried_in_vain_leaves_nothing_for_the_collector(two, monkeypatch) -> None:
    writer, waiter = two
    writer.cursor().execute(BEGIN)
    at_the_third_try(writer.connection.commit, monkeypatch)
    cursor = waiter.cursor()
    kept = weakref.ref(cursor.cursor)
    gc.disable()
    try:
        cursor.execute(BEGIN)
        del cursor
        assert kept() is None
    finally:
        gc.enable()


def test_only_the_first_in_line_tries_again(two, monkeypatch) -> None:
    class Line:
        """Whoever was before is done by the time this one is the first."""

        said: ClassVar[list[str]] = []

        def acquire(self, timeout: float) -> bool:
            self.said.append("waited in line")
            writer.connection.commit()
            return True

        def release(self) -> None:
            self.said.append("let the next one try")

    writer, waiter = two
    writer.cursor().execute(BEGIN)
    monkeypatch.setattr(turn_to_write, "_line", Line())
    waiter.connection.set_trace_callback(Line.said.append)
    waiter.cursor().execute(BEGIN)
    assert Line.said == [BEGIN, "waited in line", BEGIN, "let the next one try"]


def test_whoever_waits_too_long_is_told_so_and_leaves_no_statement_behind(two, monkeypatch) -> None:
    monkeypatch.setattr(turn_to_write, "PATIENCE_S", 0.0)
    writer, waiter = two
    writer.cursor().execute(BEGIN)
    cursor = waiter.cursor()
    with pytest.raises(OperationalError, match="locked"):
        cursor.execute(BEGIN)
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        cursor.cursor.fetchone()


def test_what_is_busy_in_the_middle_of_a_transaction_is_said_at_once(two) -> None:
    writer, waiter = two
    waiter.cursor().execute("BEGIN DEFERRED")
    waiter.cursor().execute("SELECT count(*) FROM said").fetchone()
    writer.cursor().execute("INSERT INTO said VALUES ('3.6 mV')")
    with pytest.raises(OperationalError, match="locked"):  # it holds what it read: no waiting helps it
        waiter.cursor().execute("INSERT INTO said VALUES ('3.7 mV')")


def test_any_other_refusal_is_passed_on_at_once(two) -> None:
    writer, _ = two
    with pytest.raises(OperationalError, match="no such table"):
        writer.cursor().execute("SELECT * FROM unheard_of")
