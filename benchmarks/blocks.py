"""What a run found, put between its two marks on a page: `<!-- soak -->` ... `<!-- end of soak -->`."""

from __future__ import annotations

import re
from pathlib import Path


def put(page: Path, mark: str, block: str) -> None:
    """Write a block into a page, in the place of what stood there."""
    page.write_text(filled(page.read_text(encoding="utf-8"), mark, block), encoding="utf-8")


def filled(text: str, mark: str, block: str) -> str:
    """The text of a page with a block in its place. ValueError if the page has no such place."""
    place = re.compile(rf"(<!-- {mark} -->\n).*?(<!-- end of {mark} -->)", re.DOTALL)
    if not place.search(text):
        raise ValueError(f"found no block {mark}, expected <!-- {mark} --> and <!-- end of {mark} -->")
    return place.sub(lambda found: f"{found[1]}{block}{found[2]}", text)
