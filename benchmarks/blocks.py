"""A table put between its two marks on a page: `<!-- soak -->` ... `<!-- end of soak -->`."""

from __future__ import annotations

import re
from pathlib import Path


def put(page: Path, mark: str, table: str) -> None:
    """Write `table` into a page, in the place of what stood there."""
    page.write_text(filled(page.read_text(encoding="utf-8"), mark, table), encoding="utf-8")


def filled(text: str, mark: str, table: str) -> str:
    """The text of a page with the table in its block. ValueError if the page has no such block."""
    block = re.compile(rf"(<!-- {mark} -->\n).*?(<!-- end of {mark} -->)", re.DOTALL)
    if not block.search(text):
        raise ValueError(f"found no block {mark}, expected <!-- {mark} --> and <!-- end of {mark} -->")
    return block.sub(lambda found: f"{found[1]}\n{table}\n\n{found[2]}", text)
