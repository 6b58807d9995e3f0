"""A copy of the shop's data once a day, also where the server runs for weeks."""

from __future__ import annotations

import logging
import sqlite3
import threading
from datetime import timedelta

from barwise.errors import BarwiseError
from barwise.web.data_folder import DataFolder
from barwise.web.database_file import copy_when_due

LOOKS_EVERY = timedelta(hours=1)
_log = logging.getLogger("barwise.copies")


def copy_daily(folder: DataFolder, every: timedelta = LOOKS_EVERY) -> threading.Event:
    """Look now and then whether a copy is due, and take it; setting what comes back ends it.

    A copy that fails is written to the log and tried again: the bench goes on.
    """
    over = threading.Event()

    def look() -> None:
        while not over.wait(every.total_seconds()):
            try:
                copy_when_due(folder)
            except (OSError, sqlite3.Error, BarwiseError) as error:
                _log.error("no copy of the data was taken: %s", error)

    threading.Thread(target=look, name="copies", daemon=True).start()
    return over
