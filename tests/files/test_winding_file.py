"""Reading the winding file: every key, and every way to get one wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barwise.errors import InputError, WindingError
from barwise.files.winding_file import EXPECTED, WindingFile, load_winding, parse_winding

GOOD = """[winding]
kind = "wave"
poles = 4
bars = 57
turns_per_coil = 1
progression = "retrogressive"
"""
FULL = (
    GOOD
    + """slots = 29
plex = 1
coil_pitch = 7
coil_resistance = 0.00036
temperature = 22
equalizers = 0
meter_ohms = 1e7
"""
)


def test_the_five_keys_make_a_winding() -> None:
    wound = parse_winding(GOOD)
    assert (wound.winding.kind, wound.winding.poles, wound.winding.bars) == ("wave", 4, 57)
    assert wound.winding.progression == "retrogressive"
    assert wound.meter_ohm is None


def test_every_optional_key_reaches_the_winding() -> None:
    wound = parse_winding(FULL)
    winding = wound.winding
    assert (winding.slots, winding.plex, winding.coil_pitch_slots) == (29, 1, 7)
    assert winding.coil_resistance_ohm == pytest.approx(0.36e-3)
    assert (winding.temperature_c, winding.equalizers, wound.meter_ohm) == (22.0, 0, 1e7)


def test_every_known_key_has_an_expectation_for_its_message() -> None:
    written = {line.split(" =")[0] for line in FULL.splitlines() if "=" in line}
    assert written == set(EXPECTED)


def test_a_file_is_read_from_disk_with_byte_order_mark_and_crlf(tmp_path: Path) -> None:
    path = tmp_path / "winding.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert load_winding(path).winding.bars == 57


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("bars = 57", "bars = fifty", r"w\.toml line 4, column \d+: .*not TOML"),
        ("bars = 57", 'bars = "57"', r'w\.toml line 4, key bars: found "57", expected a whole'),
        ("bars = 57", "bars = 57.0", r"w\.toml line 4, key bars: "),
        ("bars = 57", "bars = true", r"w\.toml line 4, key bars: "),
        ("bars = 57", "bars = 0x" + "f" * 4000, "key bars: found a very large number"),
        ("bars = 57", "bars = 100000000", "expected a whole number from 3 to 1000"),
        ("bars = 57\n", "", "w.toml, key bars: found nothing, expected a whole number"),
        ("bars = 57", "barz = 57", r"w\.toml, key bars: found nothing"),
        ("turns_per_coil", "turns_per_coill", r"line 5, .*unknown key.*nearest: turns_per_coil"),
        ('"wave"', '"waves"', r'line 2, key kind: found "waves", expected kind = "lap"'),
        ("poles = 4", "poles = 3", r"line 3, key poles: found 3, expected an even number"),
        ("bars = 57", "bars = 58", r"line 4, key bars: .*58 does not; nearest 57, 59"),
        ("[winding]", "[windings]", r"line 1, key windings: .*only the table \[winding\]"),
        ("[winding]\n", "", "an unknown key, expected only the table"),
    ],
)
def test_a_wrong_key_is_named_with_its_line_and_what_was_expected(old: str, new: str, said: str) -> None:
    with pytest.raises((InputError, WindingError), match=said) as refusal:
        parse_winding(GOOD.replace(old, new), "w.toml")
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize("value", ["nan", "inf", "0.0", "-1.0", '"0.36 mohm"'])
@pytest.mark.parametrize("key", ["coil_resistance", "meter_ohms"])
def test_a_resistance_must_be_a_number_above_nothing(key: str, value: str) -> None:
    with pytest.raises(InputError, match=f"line 7, key {key}.*a number of ohms above 0"):
        parse_winding(f"{GOOD}{key} = {value}\n")


def test_a_winding_that_cannot_exist_is_said_in_the_words_of_the_file() -> None:
    with pytest.raises(WindingError, match=r"w\.toml line 7, key temperature: found 500"):
        parse_winding(GOOD + "temperature = 500\n", "w.toml")


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "an empty file"),
        (b"\n \n", "an empty file"),
        (b"\xff\xfe[\x00", "line 1: .*not UTF-8"),
    ],
)
def test_a_file_that_is_no_text_is_said_so(tmp_path: Path, raw: bytes, said: str) -> None:
    path = tmp_path / "w.toml"
    path.write_bytes(raw)
    with pytest.raises(InputError, match=said):
        load_winding(path)


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        load_winding(tmp_path / "none.toml")
    with pytest.raises(InputError, match="cannot be read"):
        load_winding(tmp_path)


LINES = st.sampled_from(FULL.splitlines())
VALUES = st.one_of(
    st.text(max_size=12),
    st.integers().map(str),
    st.floats().map(repr),
    st.sampled_from(["[]", "{}", "true", '"lap"', "1979-05-27", "[[1]]", "nan"]),
)
SLIPS = st.lists(
    st.one_of(LINES, st.builds("{} = {}".format, st.sampled_from([*EXPECTED, "x"]), VALUES)),
    max_size=14,
)


@given(st.one_of(st.text(), SLIPS.map(lambda lines: "[winding]\n" + "\n".join(lines))))
def test_any_text_is_a_winding_or_one_plain_line(text: str) -> None:
    wound: WindingFile | None = None
    said = ""
    try:
        wound = parse_winding(text)
    except (InputError, WindingError) as refusal:
        said = str(refusal)
    assert said.isprintable()
    assert (wound is None) == bool(said)
