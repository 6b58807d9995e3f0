"""General limits stand in only where the sheet is silent, and say that they are general and whose."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

import pytest

from barwise.errors import InputError
from barwise.inspect.checks import Taken
from barwise.route.deciding import asked_for, decide, facts_for, limit_for
from barwise.route.family import Family
from barwise.route.general import general_limits, parse_general
from barwise.route.sheet import ModelSheet, SheetLimit, Source, load_sheet

INCH = 0.0254
PRINTED = [
    ("commutator-runout", None, 0.002 * INCH, "TM 10-3930-653-14&P p. 4-98"),
    ("undercut-depth", 0.025 * INCH, 0.032 * INCH, "TM 10-3930-628-34 p. 4-7"),
    ("mica-depth", 0.2e-3, None, "TM 10-3930-653-14&P p. 4-97"),
    ("shaft-runout", None, 0.005 * INCH, "TM 5-6115-593-34"),
    ("bush-clearance-drive-end", None, 0.2e-3, "TM 10-3930-653-14&P p. 4-99"),
    ("spring-force", 8.340, None, "TM 9-2920-243-34"),
    ("holder-gap", 0.060 * INCH, 0.125 * INCH, "AR100-2015"),
    ("pinion-clearance", 0.020 * INCH, 0.050 * INCH, "TM 5-6115-545-34 table 1-2"),
    ("end-play", 0.030 * INCH, 0.050 * INCH, "TM 5-6115-545-34 table 1-2"),
    ("contact-drop", None, 0.2, "TM 5-3820-256-24-4"),
    ("vehicle-drop", None, 0.2, "TM 10-3930-671-24 p. F-303"),
]


@pytest.mark.parametrize(("key", "lower", "upper", "source"), PRINTED)
def test_a_printed_figure_is_the_one_of_its_source(
    key: str, lower: float | None, upper: float | None, source: str
) -> None:
    """The sources are those in the table; the newtons are 30 oz worked out."""
    limit = general_limits("starter")[key]
    assert limit.allowed is not None
    assert limit.allowed.lower == (None if lower is None else pytest.approx(lower, rel=1e-3))
    assert limit.allowed.upper == (None if upper is None else pytest.approx(upper, rel=1e-3))
    assert source in limit.source.text


def test_a_figure_of_one_machine_is_called_typical() -> None:
    for key, limit in general_limits("starter").items():
        if re.search(r"\bTM \d", limit.source.text):
            assert "typical, one " in limit.source.text, key


def test_a_figure_from_memory_says_so() -> None:
    for key in ("armature-insulation", "field-insulation"):
        assert general_limits("starter")[key].source.words.endswith("(from memory)")


def test_each_general_limit_is_looked_up_by_a_check(starter: Family) -> None:
    asked = {check.limit for _, check in starter.all_checks()}
    assert set(general_limits("starter")) <= asked


def test_a_family_without_general_limits_has_none() -> None:
    assert dict(general_limits("generator")) == {}


def test_the_sheets_own_limit_goes_before_the_general_one(
    starter: Family, sheet: ModelSheet, read: Callable[..., Taken]
) -> None:
    own = decide(starter, "armature", "shaft-runout", sheet, [read("0.0040", "in")])
    usual = decide(starter, "armature", "shaft-runout", None, [read("0.0040", "in")])
    assert (own.decision, own.details["general"]) == ("reject", False)
    assert (usual.decision, usual.details["general"]) == ("accept", True)
    assert "general one, published: typical, one machine" in usual.line
    assert "general" not in own.line


def test_a_brush_without_a_discard_length_is_discarded_at_half_of_new(
    starter: Family, read: Callable[..., Taken]
) -> None:
    """NAVEDTRA 14113: replace at half of the original length (brushes with a tamped lead)."""
    lap = load_sheet("demo-36-lap")
    limit = limit_for(starter, starter.check("brushes", "length"), lap)
    assert limit is not None
    assert limit.general
    assert limit.allowed is not None
    assert limit.allowed.lower == pytest.approx(0.0105)
    assert limit.scale is not None
    assert limit.scale.percent(0.0105) == pytest.approx(100)


def test_half_of_new_is_no_limit_where_nobody_knows_the_length_when_new(starter: Family) -> None:
    assert limit_for(starter, starter.check("brushes", "length"), None) is None


def test_a_number_with_neither_limit_is_undecided(starter: Family, read: Callable[..., Taken]) -> None:
    found = decide(starter, "run", "no-load-current", None, [read("70", "A")])
    assert found.decision == "undecided"
    assert "no limit" in found.line


def test_a_sheet_without_run_out_lends_the_general_one_to_the_cut_plan(starter: Family) -> None:
    facts = facts_for(starter, load_sheet("demo-36-lap"))
    assert facts.commutator is not None
    assert facts.commutator.runout_m == pytest.approx(0.002 * INCH)


def test_a_limit_in_a_unit_of_another_quantity_is_refused_by_name(
    starter: Family, sheet: ModelSheet, read: Callable[..., Taken]
) -> None:
    wrong = SheetLimit(high=Decimal(3), unit="V", source=Source(kind="own measurement"))
    amiss = sheet.model_copy(update={"limits": {"shaft-runout": wrong}})
    with pytest.raises(InputError, match='limit shaft-runout: found unit "V", of voltage'):
        decide(starter, "armature", "shaft-runout", amiss, [read("0.0040", "in")])


def test_what_the_route_turns_on_is_asked_for_where_the_sheet_does_not_say(
    starter: Family, sheet: ModelSheet
) -> None:
    less = sheet.model_copy(update={"facts": {"voltage": 12}})
    asked = asked_for(starter, less)
    assert asked["voltage"] == 12
    assert asked["may-turn"] is True
    assert asked["drive"] is None
    assert set(asked_for(starter, None).values()) == {None}


def test_a_general_limit_that_cannot_be_is_refused_with_its_line() -> None:
    text = '[starter.x]\nlow = 2\nhigh = 1\nunit = "V"\nsource = { kind = "common practice" }\n'
    with pytest.raises(InputError, match=r"own\.toml line 1, key starter\.x: found low 2 V above high 1 V"):
        parse_general(text, "own.toml")
