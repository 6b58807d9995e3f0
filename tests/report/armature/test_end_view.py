"""The pictures of an armature: they hold what they should, in words too, and stay on the paper."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from barwise.inspect.diagnosis import Diagnosis, Finding, SuspectReading
from barwise.machine.feed import Feed
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading
from barwise.report.armature.end_view import Marks, RingReading, bar_turn, draw, side_turns
from barwise.report.armature.picture import armature_picture
from barwise.report.armature.winding import coil_table_text

SVG = "{http://www.w3.org/2000/svg}"
WAVE_57 = Winding("wave", 4, 57, progression="retrogressive", slots=29)
WINDINGS = [
    Winding("lap", 2, 24, 8, slots=12),
    WAVE_57,
    Winding("wave", 6, 62),
    Winding("lap", 6, 48, progression="retrogressive", slots=48),
    Winding("wave", 2, 24),
    Winding("lap", 4, 24, plex=2),
    Winding("lap", 4, 180, slots=60),
]


def words(picture: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(picture).iter(f"{SVG}text")]


def elements(picture: str, name: str) -> list[ET.Element]:
    return [e for e in ET.fromstring(picture).iter(f"{SVG}g") if e.get("class") == name]


@pytest.mark.parametrize("winding", WINDINGS)
def test_every_bar_and_slot_is_drawn_and_the_picture_names_itself(winding: Winding) -> None:
    picture = draw(winding)
    root = ET.fromstring(picture)
    assert root.get("role") == "img"
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert description is not None
    assert f"{winding.bars} bars" in (title.text or "")
    assert "direction of rotation" in (description.text or "")
    assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
    assert len(elements(picture, "bar")) == winding.bars
    every = 1 if winding.bars <= 72 else 5
    assert {str(n) for n in range(every, winding.bars + 1, every)} <= set(words(picture))
    if winding.slots is not None:
        assert words(picture).count(str(winding.slots)) >= 2


def test_a_suspect_coil_is_told_by_shape_and_words_and_not_by_colour_alone() -> None:
    picture = draw(WAVE_57, Marks(suspect_coils=(6,)))
    marked = elements(picture, "bar marked")
    assert [m.findtext(f"{SVG}title") for m in marked] == ["bar 6", "bar 34"]
    assert all("hatch" in (m[1].get("fill") or "") for m in marked)
    assert "coil 6" in words(picture)
    assert "coil 6, from bar 6 to bar 34, in slots 3 and 10" in picture
    assert len(elements(picture, "suspect-coil")) == 1


def test_a_healthy_view_marks_nothing() -> None:
    assert not elements(draw(WAVE_57), "bar marked")
    assert not elements(draw(WAVE_57), "suspect-coil")


def test_the_ring_labels_what_departs_by_a_tenth_and_only_that() -> None:
    ring = tuple(RingReading(bar, 0.52 if bar == 5 else 1.01) for bar in range(1, 58))
    picture = draw(WAVE_57, Marks(ring=ring, ring_name="drop"))
    assert len(elements(picture, "ring-reading")) == 57
    assert "0.52" in words(picture)
    assert "1.01" not in words(picture)
    assert "drop over expected, from 0.52 to 1.01" in picture


@pytest.mark.parametrize("winding", WINDINGS)
def test_a_coil_is_drawn_about_the_middle_between_its_two_bars(winding: Winding) -> None:
    for coil in (1, 2, winding.bars):
        top, bottom = side_turns(winding, coil)
        middle = bar_turn(winding, coil + winding.step / 2)
        apart = (top + bottom) / 2 - middle
        apart -= round(apart)
        assert abs(apart) <= 1.01 / (winding.slots or winding.bars)


@pytest.mark.parametrize("winding", WINDINGS)
def test_no_word_or_number_leaves_the_paper(winding: Winding) -> None:
    picture = draw(winding, Marks(suspect_coils=(1, 7, winding.bars), suspect_bars=(3, 4)))
    for element in ET.fromstring(picture).iter(f"{SVG}text"):
        assert 8 <= float(element.get("x", "nan")) <= 792
        assert 8 <= float(element.get("y", "nan")) <= 795


def diagnosis(winding: Winding, verdict: str = "faulty") -> Diagnosis:
    """Invented readings: a drop walk with one bad touch, a lamp walk, a blade walk."""
    feed = Feed(1, 15, 10.0)
    bars = winding.bars
    drop = [
        Reading("drop", bar, bar % bars + 1, (1 if bar < 15 else -1) * 3.5e-3, feed=feed, line=bar)
        for bar in range(1, bars + 1)
    ]
    lamp = [Reading("ground", bar, None, state="lit" if bar == 7 else "dark") for bar in range(1, bars + 1)]
    blade = [Reading("blade", slot, None, state="quiet") for slot in range(1, 4)]
    readings = (*drop, *lamp, *blade)
    expected = tuple(reading.value for reading in readings)
    found = Finding("shorted-coil", 6, winding.coil_bars(6), winding.coil_slots(6), 0.98, {}, 1)
    other = Finding("open-coil", 9, winding.coil_bars(9), winding.coil_slots(9), 0.02, {}, 2)
    return Diagnosis(
        verdict,  # type: ignore[arg-type]
        0.001,
        (found, other),
        (SuspectReading(drop[19], "bad touch", 0.97),),
        {},
        None,
        readings,
        expected,
    )


def test_the_picture_shows_the_blamed_coil_its_places_and_the_suspect_reading() -> None:
    picture = armature_picture(WAVE_57, diagnosis(WAVE_57))
    said = words(picture)
    assert "Faulty: one fault" in said
    assert any("shorted coil, coil 6 (bars 6 and 34, slots 3 and 10): " in line for line in said)
    assert "one fault, seen at 2 places" in picture
    assert "20 to 21: bad touch" in said
    assert "coil 9" not in said
    assert {"strip drop", "strip ground", "strip blade"} <= {
        e.get("class") for e in ET.fromstring(picture).iter(f"{SVG}g")
    }


def test_every_value_is_a_dot_and_every_lamp_reading_a_square() -> None:
    picture = armature_picture(WAVE_57, diagnosis(WAVE_57))
    drop, ground = elements(picture, "strip drop")[0], elements(picture, "strip ground")[0]
    dots = [c for c in drop.iter(f"{SVG}circle") if c.find(f"{SVG}title") is not None]
    lamps = [r for r in ground.iter(f"{SVG}rect") if r.find(f"{SVG}title") is not None]
    assert len(dots) == len(lamps) == 57
    assert dots[0].findtext(f"{SVG}title") == "bar 1 to bar 2: 3.5 mV, model expects 3.5 mV"
    assert len({lamp.get("fill") for lamp in lamps}) == 2


def test_a_doubted_coil_carries_a_question_mark_and_a_sound_armature_no_mark() -> None:
    doubted = armature_picture(WAVE_57, diagnosis(WAVE_57, "undecided"))
    sound = armature_picture(WAVE_57, diagnosis(WAVE_57, "sound"))
    assert "coil 6?" in words(doubted)
    assert not elements(sound, "suspect-coil")
    assert any(line.startswith("Sound: these readings fit") for line in words(sound))


def test_an_armature_without_readings_can_be_drawn() -> None:
    nothing = Diagnosis("undecided", 0.5, (), (), {}, None, (), ())
    assert "Undecided" in armature_picture(WAVE_57, nothing)


def test_the_text_table_lists_each_coil_with_its_slots_and_where_the_dead_coil_lies() -> None:
    table = coil_table_text(WAVE_57)
    assert "   6         6      34        11           40         3           10" in table
    assert "57 bars, 1 turn per coil" in table
    assert "a side of a dead coil lies in slot 7 and slot 29" in table
