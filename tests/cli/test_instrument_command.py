"""``barwise instrument``: profiles checked, lines explained, a meter read."""

from __future__ import annotations

import json
import re
import shlex

import pytest

from barwise.cli.main import exit_code
from barwise.talk import profile
from tests.talk.simulated import EXAMPLES, LIBRARY, Simulated

DIAL, METER = str(EXAMPLES / "dial-serial.toml"), str(EXAMPLES / "milliohm-scpi.toml")


def test_a_profile_is_said_in_words_and_a_line_explained(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["instrument", "check", DIAL, "--line", "01A +0.012 mm", "--line", "-----"]) == 0
    said = capsys.readouterr().out
    assert "asked for each reading: ?" in said
    assert "'01A +0.012 mm' is 0.012 mm" in said
    assert "'-----' is off its scale" in said


def test_the_same_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["instrument", "check", DIAL, "--line", "01A +0.012 mm", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["step_si"] == pytest.approx(1e-6)
    assert said["lines"][0]["text"] == "0.012"
    assert said["lines"][0]["value_si"] == pytest.approx(12e-6)


def test_a_line_the_profile_does_not_know_is_refused_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["instrument", "check", DIAL, "--line", "rubbish"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_meter_is_read_and_what_it_wrote_is_kept(capsys: pytest.CaptureFixture[str]) -> None:
    leads = Simulated("TCPIP::192.0.2.10::5025::SOCKET")
    leads.says(reading="+7.130000E-04")
    try:
        assert exit_code(["instrument", "read", METER, "-n", "2", "--json", "--visa", LIBRARY]) == 0
    finally:
        leads.as_at_first()
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [one["line"] for one in lines] == ["+7.130000E-04"] * 2
    assert lines[0]["value_si"] == pytest.approx(0.713e-3)


def test_nothing_there_ends_with_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["instrument", "read", METER, "--address", "TCPIP::127.0.0.1::1::SOCKET"]) == 2
    said = capsys.readouterr().err
    assert "not there" in said
    assert said.count("\n") == 1


def test_what_is_plugged_in_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["instrument", "list", "--json", "--visa", LIBRARY]) == 0
    assert "addresses" in json.loads(capsys.readouterr().out)


def test_the_page_shows_what_the_command_prints(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    root = EXAMPLES.parent.parent
    monkeypatch.chdir(root)
    page = (root / "docs" / "instruments.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"```\n\$ barwise (.*?)```", page, re.DOTALL)
    command, _, shown = block.partition("\n")
    assert exit_code(shlex.split(command)) == 0
    assert capsys.readouterr().out == shown


def test_every_key_of_a_profile_stands_on_its_page() -> None:
    page = (EXAMPLES.parent.parent / "docs" / "instruments.md").read_text(encoding="utf-8")
    for table in (profile._File, profile.Port, profile.Scpi, profile.Line, profile.Settle):
        missing = [key for key in table.model_fields if f"`{key}`" not in page and f"`[{key}]`" not in page]
        assert not missing, (table.__name__, missing)
