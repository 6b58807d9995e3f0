"""The log of a run: a CSV with the columns time,volts,amps and perhaps rpm, in s, V, A and rpm."""

from __future__ import annotations

import math
import warnings
from pathlib import Path
from typing import NoReturn

import numpy as np
from numpy.typing import NDArray

from barwise.errors import InputError
from barwise.files.text import read_text, shown
from barwise.inspect.run_test.logged import Log

KIND = "a CSV file with the header time,volts,amps or time,volts,amps,rpm"
COLUMNS = ("time", "volts", "amps", "rpm")
Array = NDArray[np.float64]


def load_log(path: str | Path) -> Log:
    """Read a log.

    Raises
    ------
    InputError
        If it cannot be read, a column is missing, or a row has something else than numbers: names file, line
        and column.
    """
    path = Path(path)
    return parse_log(read_text(path, KIND), str(path))


def parse_log(text: str, name: str = "log.csv") -> Log:
    """Read the text of a log, called `name` in messages. Raises as `load_log`."""
    header, _, body = text.lstrip("\ufeff").partition("\n")
    columns = tuple(cell.strip().lower() for cell in header.split(","))
    if not set(columns[:4]) >= set(COLUMNS[:3]) or not set(columns) <= set(COLUMNS):
        raise InputError(
            f"{name} line 1", shown(header[:60]), "the header time,volts,amps or time,volts,amps,rpm"
        )
    values = _numbers(body, len(columns))
    if values is None or not bool(np.isfinite(values).all()):
        _refuse(body, columns, name)
    if len(values) < 20:
        raise InputError(name, f"{len(values)} rows", "20 rows or more of a run")
    by_name = dict(zip(columns, values.T, strict=True))
    later = np.flatnonzero(np.diff(by_name["time"]) <= 0)
    if len(later):
        row = int(later[0])
        raise InputError(
            f"{name} line {row + 3}, column time", f"{by_name['time'][row + 1]:g}", "time rising"
        )
    speed = by_name["rpm"] * (math.pi / 30) if "rpm" in by_name else None
    return Log(by_name["time"], by_name["volts"], by_name["amps"], speed)


def _numbers(body: str, width: int) -> Array | None:
    """All cells at once; None where a cell is no number or a row has another width."""
    rows = body.strip().replace("\r", "")
    if rows.count(",") != (width - 1) * (rows.count("\n") + 1):
        return None
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            flat = np.fromstring(rows.replace("\n", ","), sep=",")
        except (ValueError, DeprecationWarning):
            return None
    return flat.reshape(-1, width) if len(flat) % width == 0 and len(flat) else None


def _refuse(body: str, columns: tuple[str, ...], name: str) -> NoReturn:
    """Find the row that cannot be read and say so."""
    for line, row in enumerate(body.splitlines(), start=2):
        cells = [cell.strip() for cell in row.split(",")]
        if len(cells) != len(columns):
            raise InputError(
                f"{name} line {line}", f"{len(cells)} cells", f"{len(columns)}, as in the header"
            )
        for column, cell in zip(columns, cells, strict=True):
            if not _is_number(cell):
                raise InputError(f"{name} line {line}, column {column}", shown(cell), "a number such as 11.8")
    raise InputError(name, "no rows", "one row for each sample")


def _is_number(cell: str) -> bool:
    try:
        return math.isfinite(float(cell))
    except ValueError:
        return False
