"""What the bench says of hazards, and the page that lists it, are the same words."""

from __future__ import annotations

from pathlib import Path

import pytest

from barwise.route.cautions import CODE_FIRST, Caution, all_cautions

PAGE = (Path(__file__).parents[2] / "docs" / "safety.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("caution", all_cautions().values(), ids=all_cautions())
def test_the_page_on_safety_has_every_line_with_its_source(caution: Caution) -> None:
    for line in set(caution.lines) - {CODE_FIRST}:
        assert f"- {line}\n" in PAGE
    assert f"Source: {caution.source}." in PAGE


def test_what_is_electrical_defers_to_local_codes_and_licensed_practice() -> None:
    first = {key for key, caution in all_cautions().items() if CODE_FIRST in caution.lines}
    assert {"exciter", "feed", "insulation", "battery", "run", "lock", "switch", "vehicle"} <= first
    assert CODE_FIRST.removesuffix(".").lower() in PAGE.replace("\n", " ").replace("*", "").lower()
