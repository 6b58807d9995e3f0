"""Versions of a sheet compared in words, and a sheet held against its family."""

from __future__ import annotations

import pytest

from barwise.errors import InputError
from barwise.route.family import Family
from barwise.route.sheet import ModelSheet, dump_sheet, parse_sheet
from barwise.route.sheet_changes import check_fit, differences, unasked


def edited(sheet: ModelSheet, *changes: tuple[str, str]) -> ModelSheet:
    text = dump_sheet(sheet)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return parse_sheet(text)


def test_a_new_version_without_a_change_differs_in_nothing(sheet: ModelSheet) -> None:
    assert differences(sheet, sheet.model_copy(update={"version": 2})) == ()


def test_each_change_is_one_line_with_the_number_before_and_after(sheet: ModelSheet) -> None:
    after = edited(
        sheet, ("discard = 1.226", "discard = 1.230"), ("voltage = 12", "voltage = 24"), ("slots = 29", "")
    )
    assert differences(sheet, after) == (
        "facts, voltage: from 12 to 24.",
        "winding, slots: no longer given, was 29.",
        "commutator-diameter, discard: from 1.226 in to 1.230 in.",
    )


def test_a_limit_that_comes_or_goes_is_told_whole(sheet: ModelSheet) -> None:
    less = sheet.model_copy(
        update={"limits": {key: one for key, one in sheet.limits.items() if key != "lock-torque"}}
    )
    assert differences(sheet, less) == (
        "lock-torque: limit taken out, was low 12.0 lbf.ft, target 13.8 lbf.ft (own measurement: invented).",
    )
    assert differences(less, sheet)[0].startswith("lock-torque: new limit, low 12.0 lbf.ft")


def test_a_limit_in_a_unit_of_another_quantity_does_not_fit(sheet: ModelSheet, starter: Family) -> None:
    amiss = edited(sheet, ('unit = "ozf"', 'unit = "mm"'))
    with pytest.raises(InputError, match=r"limits.spring-force.unit: found unit \"mm\", of length"):
        check_fit(amiss, starter)


def test_a_fact_the_family_does_not_know_of_does_not_fit(sheet: ModelSheet, starter: Family) -> None:
    with pytest.raises(InputError, match=r"facts.drive.*roller-clutch"):
        check_fit(edited(sheet, ('drive = "roller-clutch"', 'drive = "belt"')), starter)


def test_a_sheet_of_another_family_does_not_fit(sheet: ModelSheet, starter: Family) -> None:
    with pytest.raises(InputError, match='found "generator"'):
        check_fit(edited(sheet, ('family = "starter"', 'family = "generator"')), starter)


def test_a_limit_no_check_asks_for_is_asked_about_with_the_nearest(
    sheet: ModelSheet, starter: Family
) -> None:
    slip = edited(sheet, ("[limits.end-play", "[limits.endplay"))
    assert unasked(slip, starter) == (
        "limits.endplay: no check asks for it. Is it spelt right? (nearest: limits.end-play)",
    )
