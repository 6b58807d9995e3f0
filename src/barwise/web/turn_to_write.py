"""Who writes to SQLite waits for its turn here, and not within SQLite.

One writes at a time. SQLite would wait by itself, but it holds its connection's own lock while it sleeps. A
statement that failed stays with its cursor, the cursor with the error, and both go when Python collects its
garbage, on whichever thread that happens: where that one writes just now, freeing the statement waits for the
connection, and the connection for the writer, until SQLite gives up. That is one more error that leaves a
statement behind.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from random import uniform
from threading import Lock
from time import monotonic, sleep
from typing import Any

from django.db import OperationalError
from django.db.backends.base.base import BaseDatabaseWrapper

PATIENCE_S = 10.0
"""So long a request waits before it is told that the database is busy [s]."""
SHORTEST_S, LONGEST_S = 0.001, 0.02
"""Between two tries, each about twice the one before [s]."""
_PRIMARY = 0xFF
"""Of an extended result code: SQLite's documentation, Result and Error Codes, section 3."""
_line = Lock()
"""Held by the one of this server that tries again; the others wait for it, which costs no time of a core."""


def wait_outside(connection: BaseDatabaseWrapper, **_: object) -> None:
    """Have a connection that was opened just now wait here (receiver of `connection_created`)."""
    if connection.vendor == "sqlite" and in_turn not in connection.execute_wrappers:
        connection.execute_wrappers.append(in_turn)


def in_turn(execute: Callable[..., Any], sql: str, params: Any, many: bool, context: dict[str, Any]) -> Any:
    """Run a statement once the writer before it is done.

    Raises
    ------
    OperationalError
        If that took longer than the patience.
    """
    until, pause, first_in_line = monotonic() + PATIENCE_S, SHORTEST_S, False
    try:
        while True:
            try:
                return execute(sql, params, many, context)
            except OperationalError as error:
                if not _is_busy(error, context["connection"]) or monotonic() >= until:
                    context["cursor"].close()  # the statement goes with it, on its own thread
                    raise
                _let_go(error)
            if first_in_line:
                sleep(uniform(0.5, 1.5) * pause)
                pause = min(2 * pause, LONGEST_S)
            else:
                first_in_line = _line.acquire(timeout=max(0.0, until - monotonic()))
    finally:
        if first_in_line:
            _line.release()


def _is_busy(error: OperationalError, connection: BaseDatabaseWrapper) -> bool:
    """Whether another writes, and this one has begun nothing that it would hold while it waits."""
    code = getattr(error.__cause__, "sqlite_errorcode", 0)
    return code & _PRIMARY == sqlite3.SQLITE_BUSY and not connection.connection.in_transaction


def _let_go(error: OperationalError) -> None:
    """Part an error from the frames that hold it, and they the cursor: no garbage for another thread."""
    error.with_traceback(None)
    if error.__cause__ is not None:
        error.__cause__.with_traceback(None)
