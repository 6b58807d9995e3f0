"""Whatever is written into a part's file ends in an answer or in one plain refusal, never in a crash."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from barwise.errors import BarwiseError
from barwise.files.brushes_file import parse_brushes
from barwise.files.drive_file import parse_drive
from barwise.files.switch_file import parse_switch
from barwise.inspect.brush_gear.judgement import judge_brush_gear
from barwise.inspect.drive.judgement import judge_drive
from barwise.inspect.switch.judgement import judge_switch
from barwise.measure.quantity import parse_quantity
from barwise.report.parts.brushes import brushes_json, brushes_text
from barwise.report.parts.drive import drive_json, drive_text
from barwise.report.parts.switch import switch_json, switch_text

PARTS = Path(__file__).parents[2] / "examples" / "parts"
PIECES = (
    "nan", "inf", "-1", "0", '"0 A"', '"0 mm"', '"1e300 V"', '"1e-300 V"', '"1e-14 V"', '"1e-14 A"',
    '"-5 mm"', "[]", "{}", "true", '"open"', '"40 lbf.ft"', '"3 mm"', '"1 um"', '"9 m"', '"0.0001 ohm"',
    '"5000 A"', '"-40 °C"', '"S to ground"', "1e308", '["1 V", "2 V"]', '"100 %"', '"0 %"',
    "99999999999999999999", '"12 V ± 300 %"', '"rocks"', '"lever"', "#",
)  # fmt: skip


def brushes(text: str) -> tuple[str, str]:
    found = judge_brush_gear(parse_brushes(text))
    return brushes_json(found), brushes_text(found)


def switch(text: str) -> tuple[str, str]:
    found = judge_switch(parse_switch(text))
    return switch_json(found), switch_text(found)


def drive(text: str) -> tuple[str, str]:
    found = judge_drive(parse_drive(text))
    return drive_json(found), drive_text(found)


@pytest.mark.parametrize("answered", [brushes, switch, drive])
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_values_swapped_for_others_are_answered_or_refused(
    answered: Callable[[str], tuple[str, str]], data: st.DataObject
) -> None:
    lines = (PARTS / f"{answered.__name__}.toml").read_text(encoding="utf-8").splitlines()
    keyed = [number for number, line in enumerate(lines) if "=" in line and not line.startswith("#")]
    for number in data.draw(st.lists(st.sampled_from(keyed), min_size=1, max_size=3, unique=True)):
        key = lines[number].partition("=")[0]
        lines[number] = f"{key}= {data.draw(st.sampled_from(PIECES))}"
    try:
        as_json, in_words = answered("\n".join(lines))
    except BarwiseError:
        return
    assert json.loads(as_json)["verdict"] in ("accept", "reject", "undecided", "noted")
    assert in_words
    assert "nan" not in in_words
    assert "inf " not in in_words


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60))
def test_any_text_is_a_voltage_or_is_refused(text: str) -> None:
    try:
        found = parse_quantity(text, "voltage")
    except BarwiseError:
        return
    assert math.isfinite(found.value)
    assert math.isfinite(found.standard_uncertainty)


@settings(max_examples=200, deadline=None)
@given(
    st.decimals(min_value=-9999, max_value=9999, places=3),
    st.sampled_from(["V", "mV", "uV"]),
    st.decimals(min_value=0, max_value=99, places=2),
)
def test_what_is_written_with_its_doubt_is_read_back(number: object, unit: str, doubt: object) -> None:
    found = parse_quantity(f"{number} {unit} ± {doubt} {unit}", "voltage")
    assert found.unit.from_si(found.value) == pytest.approx(float(str(number)), abs=1e-12)
    assert found.half_width / found.unit.factor == pytest.approx(float(str(doubt)), abs=1e-12)
