"""The answers laid out for a page: what stands where, and pictures that can stand on one page together."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from barwise.inspect.armature import diagnose
from barwise.inspect.commutator.plan import CutPlan, plan_cut
from barwise.inspect.commutator.profile import Profile
from barwise.inspect.commutator.surface import Micrometer
from barwise.inspect.commutator.update import AfterPass
from barwise.inspect.commutator.worth import Sheet
from barwise.inspect.diagnosis import Diagnosis
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from barwise.measure.wear import WearPoint, WearScale
from barwise.report.armature.answer import armature_answer_in_words
from barwise.report.armature.picture import armature_end_view, readings_picture
from barwise.report.commutator.answer import cut_answer_in_words
from barwise.report.commutator.picture import passes_picture, round_picture
from barwise.report.commutator.text import CARE
from tests.report.armature.test_text import FAULTY, WAVE

INCH, THOU = 0.0254, 25.4e-6
SHEET = Sheet(WearScale((WearPoint(0, 1.25 * INCH), WearPoint(100, 1.2 * INCH))))


def cut(sheet: Sheet = SHEET, after_pass: AfterPass | None = None) -> CutPlan:
    """An invented commutator of 32 bars, out of round by three lobes of 8 thou."""
    bars = 32
    shape = np.round(10 * 4 * np.cos(3 * 2 * np.pi * np.arange(bars) / bars)) / 10 * THOU
    walk = Profile(
        bars, np.tile(np.arange(bars), 3), np.repeat([0.2, 0.5, 0.8], bars), np.tile(shape, 3), 0.1 * THOU
    )
    measured = (Micrometer(0, 0.2, 1.24 * INCH, 0.1 * THOU),)
    return plan_cut(walk, measured, (0.12, 0.88), sheet, after_pass=after_pass)


@pytest.fixture(scope="module")
def walked() -> tuple[Winding, Diagnosis]:
    winding = Winding("lap", poles=4, bars=24, slots=24)
    values = [0.36] * 23 + [0.02]
    readings = [
        Reading("induced", bar, bar % 24 + 1, value, None, 0.01, None, f"{value:.2f}", "V", bar)
        for bar, value in enumerate(values, start=1)
    ]
    return winding, diagnose(winding, readings)


def test_a_settled_fault_has_its_coil_bars_and_slots_as_numbers_of_their_own() -> None:
    found = armature_answer_in_words(WAVE, FAULTY).found
    assert [(one.coil, one.bars, one.slots, one.sure) for one in found] == [
        ("13", "13 and 41", "7 and 14", "99.3 %")
    ]
    assert "re-solder" in found[0].meaning


def test_a_place_that_is_a_guess_has_no_numbers_that_look_settled() -> None:
    unsure = replace(FAULTY, findings=(replace(FAULTY.findings[0], probability=0.3),))
    found = armature_answer_in_words(WAVE, unsure).found[0]
    assert (found.coil, found.bars, found.slots) == ("", "", "")
    assert "not settled" in found.place


def test_a_doubted_reading_says_where_it_was_what_was_typed_and_why() -> None:
    doubted = armature_answer_in_words(WAVE, FAULTY).suspects[0]
    assert (doubted.where, doubted.value) == ("drop, bars 28-29", "1.20 mV")
    assert "34%" in doubted.reason


def test_what_could_have_been_missed_is_named_kind_by_kind() -> None:
    missed = dict(armature_answer_in_words(WAVE, FAULTY).missed)
    assert missed["High-resistance joint"].startswith("shown from 1.1 times")
    assert missed["Reversed coil"] == "these readings cannot show a reversed coil"


def test_explanations_that_are_hardly_possible_are_left_out() -> None:
    assert len(armature_answer_in_words(WAVE, FAULTY).less_likely) == 1


def test_pictures_of_one_page_share_no_names_and_carry_no_style(walked: tuple[Winding, Diagnosis]) -> None:
    plan = cut()
    drawn = [
        armature_end_view(*walked),
        readings_picture(*walked),
        round_picture(plan, "in"),
        passes_picture(plan, "in"),
    ]
    names = [name for one in drawn for name in re.findall(r' id="([^"]+)"', one)]
    assert len(names) == len(set(names))
    for one in drawn:
        own = set(re.findall(r' id="([^"]+)"', one))
        assert set(re.findall(r"url\(#([^)]+)\)", one)) <= own
        assert set(re.search(r'aria-labelledby="([^"]+)"', one)[1].split()) <= own
        assert not re.search(r"\sstyle=|<style|<script|\son\w+=", one)
        assert 'viewBox="0 0 800 ' in one


def test_a_cut_names_diameter_depth_passes_and_settings_with_their_sources() -> None:
    said = cut_answer_in_words(cut(), "in")
    assert said.headline == "CUT IT"
    assert [one.label for one in said.figures][:4] == ["Now", "Cleans up at", "In on the radius", "Discard"]
    assert said.passes[0].kind == "rough"
    assert all(one.beside for one in said.lathe)
    assert said.cautions == CARE
    assert "Undercut" in said.afterwards[0].what


def test_no_cut_is_proposed_where_the_sheet_forbids_turning() -> None:
    said = cut_answer_in_words(cut(replace(SHEET, may_turn=False)), "in")
    assert [said.passes, said.lathe, said.afterwards, said.cautions, said.centres] == [(), (), (), (), ""]
    assert [one.label for one in said.figures] == ["Now", "Discard"]
    assert "CUT" not in said.headline
    assert passes_picture(cut(replace(SHEET, may_turn=False)), "in") == ""


def test_when_all_is_clean_it_says_stop_and_what_comes_after() -> None:
    said = cut_answer_in_words(cut(after_pass=AfterPass(1.23 * INCH, 0.1 * THOU, ())), "in")
    assert said.headline == "STOP: ALL CLEAN"
    assert not said.passes
    assert said.afterwards
    assert said.cautions == CARE


def test_between_passes_it_starts_from_what_the_last_one_left() -> None:
    left = AfterPass(1.2400 * INCH, 0.1 * THOU, tuple(range(0, 32, 2)))
    said = cut_answer_in_words(cut(after_pass=left), "in")
    assert said.passes_begin.startswith("It stands at 1.2400 in")


def test_a_shop_that_measures_in_millimetres_reads_millimetres() -> None:
    said = cut_answer_in_words(cut(), "mm")
    assert all(" in" not in one.value for one in said.figures)
    assert said.figures[0].value.endswith(" mm")
