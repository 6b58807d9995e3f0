"""Model sheets: what printed sheets got wrong is refused or asked about, what is right survives a save."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from barwise.errors import BarwiseError, InputError, WindingError
from barwise.route.family import load_family
from barwise.route.sheet import (
    ModelSheet,
    built_in_text,
    dump_sheet,
    load_sheet,
    parse_sheet,
    questions,
    sheet_facts,
    sheets,
)

HEAD = """key = "made-up"
title = "Made up"
family = "starter"
invented = true
"""
SOURCE = 'source = { kind = "published", text = "as printed" }\n'


def with_limit(key: str, lines: str) -> ModelSheet:
    return parse_sheet(f"{HEAD}[limits.{key}]\n{lines}{SOURCE}")


def refusal(text: str) -> str:
    with pytest.raises(BarwiseError) as caught:
        parse_sheet(text, "own.toml")
    return str(caught.value)


def test_a_run_out_printed_with_a_slipped_millimetre_is_refused_with_both_numbers() -> None:
    """TM 9-2815-255-24 p. 3-38 prints 0.00197 inch (0.5 mm); 0.00197 in is 0.050 mm."""
    lines = 'high = 0.00197\nunit = "in"\nalso = { high = 0.5, unit = "mm" }\n'
    said = refusal(f"{HEAD}[limits.commutator-runout]\n{lines}{SOURCE}")
    assert said.startswith("own.toml line 5, key limits.commutator-runout: found high 0.00197 in and 0.5 mm")
    assert "which is 0.01969 in" in said
    assert with_limit("commutator-runout", lines.replace("0.5", "0.050")).limits


def test_a_screw_pitch_printed_ten_times_too_small_is_refused_with_both_numbers() -> None:
    """TM 9-243 p. 7-6 prints a pitch of 0.05 mm where one turn advances 0.5 mm (0.0197 in, worked out)."""
    lines = 'target = 0.05\nunit = "mm"\nalso = { target = 0.0197, unit = "in" }\n'
    said = refusal(f"{HEAD}[limits.pitch]\n{lines}{SOURCE}")
    assert "target 0.05 mm" in said
    assert "0.0197 in" in said
    assert with_limit("pitch", lines.replace("0.05\n", "0.50\n")).limits


def test_speeds_whose_digits_were_swapped_are_asked_about_and_not_refused() -> None:
    """TM 9-4940-568-34 p. 5-157 prints MIN RPM 360, MAX RPM 5400; 3600 is almost surely meant."""
    printed = with_limit("no-load-speed", 'low = 360\nhigh = 5400\nunit = "rpm"\n')
    (asked,) = questions(printed)
    assert asked.startswith("no-load-speed: from 360 to 5400 rpm")
    assert questions(with_limit("no-load-speed", 'low = 3600\nhigh = 5400\nunit = "rpm"\n')) == ()


def test_an_undercut_that_lost_its_decimal_point_is_refused_with_both_numbers() -> None:
    """TM 10-3930-653-14&P p. 4-98 prints 0.5 to 0.8 mm (0.020 to 0 31 in); 0.031 in is meant."""
    lines = 'low = 0.5\nhigh = 0.8\nunit = "mm"\nalso = { low = 0.020, high = 0.31, unit = "in" }\n'
    said = refusal(f"{HEAD}[limits.undercut-depth]\n{lines}{SOURCE}")
    assert "high 0.8 mm and 0.31 in, which is 7.874 mm" in said
    assert with_limit("undercut-depth", lines.replace("0.31", "0.031")).limits


def test_two_systems_may_differ_by_what_rounding_of_both_can_do_and_no_more() -> None:
    """TM 10-3930-653-14&P p. 4-97 prints 0.2 mm (0.008 in), which is 0.2032 mm."""
    assert with_limit("mica-depth", 'low = 0.2\nunit = "mm"\nalso = { low = 0.008, unit = "in" }\n').limits
    with pytest.raises(InputError, match=r"0\.200 mm and 0\.0080 in"):
        with_limit("mica-depth", 'low = 0.200\nunit = "mm"\nalso = { low = 0.0080, unit = "in" }\n')


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ('low = 0.8\nhigh = 0.5\nunit = "mm"\n', "low 0.8 mm above high 0.5 mm"),
        ('low = 1\nhigh = 2\ntarget = 3\nunit = "V"\n', "target 3 V above high 2 V"),
        ('low = 1\ntarget = 0.5\nunit = "V"\n', "target 0.5 V below low 1 V"),
        ('new = 1.226\ndiscard = 1.250\nunit = "in"\n', "new 1.226 in and discard 1.250 in"),
        ('new = 1.3\nhalf_worn = 1.1\ndiscard = 1.2\nunit = "in"\n', "expected the more worn one"),
        ('high = 1\nunit = "inches"\n', 'unknown unit "inches"'),
        ('unit = "in"\n', "no number"),
        ('high = 1\nunit = "in"\nalso = { high = 1, unit = "V" }\n', "another unit of length"),
        ('high = 1\nunit = "in"\nalso = { low = 1, unit = "mm" }\n', "no low in in"),
        ('new = 3\ndiscard = 2\nunit = "V"\n', "expected a length where it wears"),
        ('new = 3\npoints = { half = 2 }\nunit = "mm"\n', 'point "half"'),
        ('high = "wide"\nunit = "in"\n', "a number"),
        ("high = nan\nunit = 'in'\n", "key limits.x.high"),
        ('hihg = 1\nunit = "in"\n', "an unknown key, expected a known one (nearest: high)"),
    ],
)
def test_a_limit_that_cannot_be_is_refused_with_its_place(lines: str, said: str) -> None:
    text = refusal(f"{HEAD}[limits.x]\n{lines}{SOURCE}")
    assert said in text
    assert text.startswith("own.toml line ")


def test_discard_above_new_is_right_for_a_bore() -> None:
    bore = with_limit("bush-bore", 'new = 12.50\ndiscard = 12.70\nunit = "mm"\ngrows = true\n')
    allowed = bore.limits["bush-bore"].allowed
    assert allowed is not None
    assert (allowed.lower, allowed.upper) == (None, pytest.approx(0.0127))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "own.toml: found an empty file"),
        ("key = \n", "own.toml line 1, column 7: found text that is not TOML"),
        (HEAD.replace('title = "Made up"\n', ""), "own.toml, key title: found nothing"),
        (HEAD + "version = 0\n", "own.toml line 5, key version"),
        (HEAD + "[winding]\nkind = 'wave'\npoles = 4\nbars = 58\n", "own.toml line 8, key winding.bars"),
        (HEAD + "[winding]\nkind = 'weave'\npoles = 4\nbars = 57\n", "own.toml line 6, key winding.kind"),
        (
            HEAD + "[winding]\nkind='wave'\npoles=4\nbars=57\n"
            "[commutator]\nbars=55\nunit='in'\nbrush_band=[0.1,0.9]\n",
            "57 bars in [winding] and 55 in [commutator]",
        ),
        (HEAD + "[commutator]\nbars = 57\nunit = 'in'\nbrush_band = [0.9, 0.1]\n", "brush_band [0.9, 0.1]"),
        (
            HEAD + '[limits.x]\nhigh = 1\nunit = "V"\nsource = { kind = "hearsay" }\n',
            "line 8, key limits.x.source.kind",
        ),
    ],
)
def test_a_file_that_cannot_be_used_says_file_line_and_key(text: str, said: str) -> None:
    assert said in refusal(text)


def test_a_winding_that_cannot_be_wound_is_refused_as_such() -> None:
    with pytest.raises(WindingError, match="57"):
        parse_sheet(HEAD + "[winding]\nkind = 'wave'\npoles = 4\nbars = 58\n")


@pytest.mark.parametrize("key", sheets())
def test_a_sheet_that_is_saved_loads_to_the_same_sheet_and_text(key: str) -> None:
    sheet = load_sheet(key)
    text = dump_sheet(sheet)
    assert parse_sheet(text) == sheet
    assert dump_sheet(parse_sheet(text)) == text


def test_the_digits_of_a_limit_survive_a_save() -> None:
    sheet = with_limit("undercut-depth", 'low = 0.020\nhigh = 0.0310\nunit = "in"\n')
    assert "0.020\n" in dump_sheet(sheet)
    assert "0.0310\n" in dump_sheet(sheet)


def test_whole_numbers_are_saved_as_they_were_entered() -> None:
    sheet = with_limit("no-load-current", 'high = 55\nunit = "A"\n')
    assert "high = 55\n" in dump_sheet(sheet)
    with_point = with_limit("no-load-current", 'high = 55.0\nunit = "A"\n')
    assert "high = 55.0\n" in dump_sheet(with_point)


def test_the_digits_of_the_commutator_survive_a_save() -> None:
    table = '[commutator]\nbars = 57\nunit = "in"\nbrush_band = [0, 0.880]\ninterval_wear = 0.010\n'
    text = dump_sheet(parse_sheet(HEAD + table))
    assert "interval_wear = 0.010\n" in text
    assert "0,\n    0.880," in text


@pytest.mark.parametrize("key", sheets())
def test_every_number_of_a_sheet_that_comes_with_barwise_is_saved_digit_for_digit(key: str) -> None:
    def digits(text: str) -> dict[str, Any]:
        written = tomllib.loads(text, parse_float=str)
        return {name: written.get(name) for name in ("limits", "commutator")}

    before, after = digits(built_in_text(key)), digits(dump_sheet(load_sheet(key)))
    usual = ("may_turn", "may_undercut")  # not written where they are what holds anyway
    for name in usual if before["commutator"] else ():
        before["commutator"].pop(name, None)
        after["commutator"].pop(name, None)
    assert after == before


def test_the_facts_of_the_demo_sheet_are_those_of_its_files() -> None:
    facts = sheet_facts(load_sheet("demo-57-wave"))
    assert facts.winding is not None
    assert (facts.winding.kind, facts.winding.bars, facts.winding.step) == ("wave", 57, 28)
    assert facts.commutator is not None
    assert facts.commutator.scale is not None
    assert facts.commutator.scale.percent(1.238 * 0.0254) == pytest.approx(50)
    assert facts.commutator.runout_m == pytest.approx(0.002 * 0.0254)
    assert facts.facts["may-turn"] is True


def test_a_wear_scale_may_have_more_points_than_new_and_discard() -> None:
    sheet = with_limit(
        "commutator-diameter",
        'new = 43.0\ndiscard = 41.0\npoints = { "25" = 42.8 }\nunit = "mm"\n',
    )
    scale = sheet.limits["commutator-diameter"].scale
    assert scale is not None
    assert scale.percent(0.0428) == pytest.approx(25)


def test_a_published_limit_that_names_no_place_is_asked_for_it() -> None:
    sheet = parse_sheet(HEAD + '[limits.x]\nhigh = 1\nunit = "V"\nsource = { kind = "published" }\n')
    assert questions(sheet) == ("x: published where? Without the place nobody can look it up.",)


def test_a_sheet_nobody_has_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match=r"nearest: demo-57-wave"):
        load_sheet("demo-57-wav")


def test_each_limit_of_the_demo_sheet_is_looked_up_by_a_check() -> None:
    asked = {check.limit for _, check in load_family("starter").all_checks()}
    assert set(load_sheet("demo-57-wave").limits) <= asked
