"""Adds readings to a readings file so that none is lost, whenever the power goes.

Nothing is ever deleted. A correction is a new row; an unfinished last line is kept as a comment.
"""

from __future__ import annotations

import csv
import io
import os
import re
from pathlib import Path

from barwise.errors import InputError
from barwise.files.readings_file import COLUMNS, HEADER, KIND
from barwise.files.text import BYTE_ORDER_MARK, read_text, shown
from barwise.measure.readings import Reading

UNFINISHED = "# unfinished line, not used: "


def append_reading(path: str | Path, reading: Reading) -> str | None:
    """Write one reading as the last row, on the disk when this returns.

    Parameters
    ----------
    path : str or Path
        Made, with its header, if it is not there.
    reading : Reading

    Returns
    -------
    str or None
        What was done about an unfinished last line, if there was one.

    Raises
    ------
    InputError
        If the file cannot be written, or has no column for something the reading says.
    """
    path = Path(path)
    try:
        note = finish_last_line(path)
        columns, line_end = _layout(path)
        _write_durably(path, _row_text(reading, columns, line_end, str(path)))
    except OSError as error:
        raise InputError(str(path), f"a file that cannot be written ({error.strerror})", KIND) from None
    return note


def finish_last_line(path: Path) -> str | None:
    """Make the last line of a file whole, and say how; None when it already is.

    A line without its line end was either saved so by an editor or torn by a power cut. When every
    cell is there, and the feed current (the only last cell that could have lost a digit unseen) is
    that of another row with the same feed, the line is whole and gets its end. Otherwise it becomes
    a comment.
    """
    if not path.exists():
        return None
    raw = path.read_bytes()
    if not raw or raw.endswith((b"\n", b"\r")):
        return None
    start = max(raw.rfind(b"\n"), raw.rfind(b"\r")) + 1
    tail = raw[start:].decode("utf-8", errors="replace")
    line_end = b"\r\n" if b"\r\n" in raw else b"\n"
    if _is_whole(tail, raw[:start].decode("utf-8", errors="replace")):
        _replace(path, raw + line_end)
        return None
    comment = (UNFINISHED + tail).encode("utf-8")
    _replace(path, raw[:start] + comment + line_end)
    return f"{path}: the last line was unfinished and is set aside as a comment: {shown(tail)}"


def _is_whole(tail: str, before: str) -> bool:
    if tail.lstrip(BYTE_ORDER_MARK + " \t").startswith("#") or not tail.strip(" ,;\t"):
        return True
    lines = re.split(r"\r\n|\n|\r", before)
    rows = [_cells(line) for line in lines if line.strip() and not line.lstrip().startswith("#")]
    cells = _cells(tail)
    if not rows:
        return set(cells) >= set(COLUMNS)
    header = [name.lower().lstrip(BYTE_ORDER_MARK) for name in rows[0]]
    if len(cells) != len(header):
        return False
    shared = [n for n, name in enumerate(header) if name.startswith("feed_")]
    if not cells[-1]:
        return header[-1] == "feed_amps" and not any(cells[n] for n in shared)
    return header[-1] == "feed_amps" and any(
        len(row) == len(cells) and all(row[n] == cells[n] for n in shared) for row in rows[1:]
    )


def _cells(line: str) -> list[str]:
    try:
        return [cell.strip() for cell in next(csv.reader([line]), [])]
    except csv.Error:
        return [line]


def _layout(path: Path) -> tuple[list[str], str]:
    """Columns in the file's order and its line end; the header is written if there is none."""
    if path.exists():
        text = read_text(path, KIND)
        line_end = "\r\n" if "\r\n" in text else "\n"
        for line in re.split(r"\r\n|\n|\r", text):
            if line.strip(" ,\t") and not line.lstrip().startswith("#"):
                return [name.lower() for name in _cells(line)], line_end
    _write_durably(path, HEADER + "\n")
    return list(COLUMNS), "\n"


def _row_text(reading: Reading, columns: list[str], line_end: str, name: str) -> str:
    feed = reading.feed
    bar_test = reading.test != "blade"
    cells = {
        "test": reading.test,
        "from": str(reading.start),
        "to": str(reading.end) if reading.end is not None else "shaft" if bar_test else "",
        "value": reading.entered,
        "unit": reading.unit,
        "feed_from": str(feed.into) if feed else "",
        "feed_to": str(feed.out) if feed else "",
        "feed_amps": f"{feed.amps!r}" if feed else "",
    }
    for column, text in cells.items():
        if text and column not in columns:
            raise InputError(f"{name} line 1", f"no column {column}", f"the header {HEADER}")
    row = io.StringIO()
    csv.writer(row, lineterminator=line_end).writerow([cells.get(name, "") for name in columns])
    return row.getvalue()


def _write_durably(path: Path, text: str) -> None:
    new = not path.exists()
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o644)
    try:
        waiting = memoryview(text.encode("utf-8"))
        while waiting:
            waiting = waiting[os.write(handle, waiting) :]
        os.fsync(handle)
    finally:
        os.close(handle)
    if new:
        _sync_folder(path)


def _replace(path: Path, content: bytes) -> None:
    """Put new content in the file's place; a power cut leaves either the old or the new."""
    beside = path.with_name(path.name + ".new")
    with beside.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)
    _sync_folder(path)


def _sync_folder(path: Path) -> None:
    """Make the file's name in its folder durable too, where the system knows how."""
    if os.name != "posix":
        return
    handle = os.open(path.resolve().parent, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
