"""What is printed with the shop's own decimal sign, as the pages show it."""

from __future__ import annotations

from typing import Any

from barwise.report.decimal_sign import page_with_comma, with_comma

WRITTEN = frozenset(
    {
        "tag", "number", "customer", "shop", "address", "complaint", "unit", "serial", "model",
        "caption", "where", "parts", "done", "decided", "advice", "warranty", "by", "note", "who",
        "identity", "seal", "entered", "person", "day", "time", "instrument", "instruments", "remark",
        "remarks", "changes", "place", "key", "sha256", "file", "untouched",
    }
)  # fmt: skip
"""Names of what people wrote, of dates, and of what a record is found by: printed as it is."""


def with_shops_sign(data: Any, name: str = "") -> Any:
    """The data of a sheet with commas for decimal points, pictures among them; what was written stays.

    Examples
    --------
    >>> with_shops_sign({"value": "1.5 V", "entered": "1.5", "figures": ["2.5 mm"]})
    {'value': '1,5 V', 'entered': '1.5', 'figures': ['2,5 mm']}
    """
    if isinstance(data, dict):
        return {key: value if key in WRITTEN else with_shops_sign(value, key) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [with_shops_sign(one, name) for one in data]
    if isinstance(data, str):
        return page_with_comma(data) if name == "svg" else with_comma(data)
    return data
