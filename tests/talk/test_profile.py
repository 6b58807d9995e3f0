"""The profile of a meter: what is wrong in it is said with file, line and key."""

from __future__ import annotations

import pytest

from barwise.errors import InputError
from barwise.report.measured.meter import profile_text, rule_in_words
from barwise.talk.profile import parse_profile
from tests.talk.simulated import EXAMPLES

DIAL = (EXAMPLES / "dial-serial.toml").read_text(encoding="utf-8")
METER = (EXAMPLES / "milliohm-scpi.toml").read_text(encoding="utf-8")


def refused(text: str) -> str:
    with pytest.raises(InputError) as refusal:
        parse_profile(text, "dial.toml")
    return str(refusal.value)


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ('unit = "mm"', 'unit = "furlong"', 'line 5, key unit: found "furlong", expected one of mm, um, in'),
        ('unit = "mm"', 'unit = "V"', 'line 5, key unit: found "V", expected one of mm'),
        ("baud = 4800", "baud = 3", 'line 10, key port.baud: found "3", expected greater than'),
        ("baud = 4800", "bawd = 4800", "line 10, key port.bawd: found an unknown key"),
        ('parity = "even"', 'parity = "odds"', 'line 12, key port.parity: found "odds"'),
        ('pattern = "{skip} {value} {unit}"', "", "line 17, key line.pattern: found nothing"),
        ("{skip} {value} {unit}", "{skip}", 'line 19, key line.pattern: found "{skip}", expected text with'),
        ('step = "0.001 mm"', 'step = "0.001"', 'line 7, key step: found "0.001", expected more than 0'),
        ('step = "0.001 mm"', 'step = "-1 mm"', 'line 7, key step: found "-1 mm"'),
        ('"ASRL/dev/ttyUSB0::INSTR"', '"/dev/ttyUSB0"', 'line 6, key address: found "/dev/ttyUSB0"'),
        ('"ASRL/dev/ttyUSB0::INSTR"', '"keyboard"', 'line 6, key address: found "keyboard", expected a port'),
        ('speaks = "lines"', 'speaks = "scpi"', "found a table, expected none where speaks"),
        ('title = "Dial indicator, serial (invented)"', "", "key title: found nothing"),
        ("readings = 3", "readings = 1", "key settle.readings: found"),
        ("share = 0", 'rest = "x"', 'key settle.rest: found "x"'),
        ("overload", 'units = { "MM" = "volts" }\noverload', 'key line.units.MM: found "volts"'),
        ("[line]", "[lime]", "key lime: found an unknown key, expected a known one (nearest: line"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_line_and_key(was: str, becomes: str, said: str) -> None:
    assert was in DIAL
    assert refused(DIAL.replace(was, becomes)).startswith("dial.toml")
    assert said in refused(DIAL.replace(was, becomes))


def test_a_question_for_the_function_and_its_answers_belong_together() -> None:
    assert "key scpi.function: found a question without its answers" in refused(
        METER.replace('function_is = ["FRES"]', "")
    )
    assert "key scpi.function_is: found answers to no question" in refused(
        METER.replace('function = "FUNC?"', "")
    )


def test_text_that_is_no_toml_and_an_empty_file_are_refused() -> None:
    assert "dial.toml" in refused("= no")
    assert "an empty file" in refused("")


def test_the_rule_is_said_in_words_with_its_figures() -> None:
    assert rule_in_words(parse_profile(METER)) == (
        "4 readings within 3 steps of its last digit (0.003 mohm) or 0.2 %, over 0.5 s; then lift the probes"
    )
    assert "leaves the value by more than 0.1 mm" in profile_text(parse_profile(DIAL))
