"""docs/http-interface.md names every request of the interface."""

from __future__ import annotations

import re
from pathlib import Path

from barwise.web.api import api

PAGE = (Path(__file__).parents[2] / "docs" / "http-interface.md").read_text(encoding="utf-8")


def test_it_lists_every_request_with_what_the_interface_says_of_it() -> None:
    listed = re.findall(r"^\| `(\w+) (/api/\S+)` \| (.+) \|$", PAGE, re.MULTILINE)
    described = [
        (method.upper(), path, operation["summary"])
        for path, methods in api.get_openapi_schema()["paths"].items()
        for method, operation in methods.items()
    ]
    assert sorted(listed) == sorted(described)
