"""Backups on schedule, also where the server runs for weeks."""

from __future__ import annotations

import logging
import threading
from datetime import timedelta

from barwise.errors import BarwiseError
from barwise.web.backup.taking import bring_to_second_place, take_when_due
from barwise.web.data_folder import DataFolder

LOOKS_EVERY = timedelta(minutes=10)
_log = logging.getLogger("barwise.backup")


def back_up_on_schedule(folder: DataFolder, every: timedelta = LOOKS_EVERY) -> threading.Event:
    """Look now and then whether a backup is due, and take it; setting what comes back ends it.

    A backup that fails is written to the log, shown on the bench, and tried again: the bench goes on.
    """
    over = threading.Event()

    def look() -> None:
        said = ""
        while True:
            try:
                take_when_due(folder)
                bring_to_second_place(folder)
                said = ""
            except (OSError, BarwiseError) as error:
                if str(error) != said:  # once, not every time it is tried
                    said = str(error)
                    _log.error("%s", said)
            if over.wait(every.total_seconds()):
                return

    threading.Thread(target=look, name="backup", daemon=True).start()
    return over
