"""Limits as a person enters them in a part's TOML: one side each, with the unit, or a range of two."""

from __future__ import annotations

from typing import Literal

from barwise.errors import MeasurementError
from barwise.files.entered_tables import Table
from barwise.inspect.finding import SHEET, Bound
from barwise.measure.decision import Limit
from barwise.measure.quantity import Quantity
from barwise.measure.units import Dimension

Side = Literal["at least", "at most"]


def entered_limit(table: Table, key: str, dimension: Dimension, side: Side) -> Bound | None:
    """A limit of the table, or None where it gives none.

    Parameters
    ----------
    table : Table
        Such as ``[limits]``.
    key : str
        Its value is one quantity, or a list of two, least and most.
    side : str
        What a single quantity means.

    Raises
    ------
    InputError
        If it is neither, the two stand in the wrong order, or one is below 0 or the most is not above it.
    """
    found = table.quantities(key, dimension)
    if not found:
        return None
    if len(found) > 2:
        table.refuse(key, f"{len(found)} values", "one, or two: the least and the most allowed")
    low, most = found[0], found[-1]
    if low.value < 0:
        table.refuse(key, low.entered, "a limit of 0 or more")
    if most.value <= 0 and (len(found) == 2 or side == "at most"):
        table.refuse(key, most.entered, "more than 0 for the most that is allowed")
    try:
        return Bound(_limit(found, side), found[0].unit.name, SHEET)
    except MeasurementError:
        said = f"{low.entered} as the least and {most.entered} as the most"
        table.refuse(key, said, "the smaller one first")


def _limit(found: tuple[Quantity, ...], side: Side) -> Limit:
    if len(found) == 2:
        return Limit(found[0].value, found[1].value)
    value = found[0].value
    return Limit(lower=value) if side == "at least" else Limit(upper=value)
