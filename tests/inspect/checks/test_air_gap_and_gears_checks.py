"""Air gap, new bushes and counted gears at the bench: each decides both ways, and says what it lacks."""

from __future__ import annotations

import pytest

from barwise.inspect.bearings.press_fit import ALUMINIUM, CAST_IRON, SINTERED_BRONZE, pressed_in
from barwise.inspect.checks import Evidence, Limit, Outcome, SheetFacts, Taken, air_gap, new_bush, reduction
from barwise.inspect.checks.shaft import journal
from barwise.measure import decision
from barwise.measure.uncertainty import Estimate

MM = 1e-3


def taken(text: str, *place: str) -> Taken:
    return Taken(float(text) * MM, text, "mm", place)


def sizes(**at: str) -> tuple[Taken, ...]:
    return tuple(taken(text, name.replace("_", " ")) for name, text in at.items())


def noted(mm: float, doubt_mm: float = 0.005) -> Outcome:
    return Outcome("noted", "", value=mm * MM, uncertainty=doubt_mm * MM)


def gap(bore: str, core: str | None, play: float | None, runout: float | None = 0.05) -> Outcome:
    context = {}
    if core is not None:
        across = Evidence(sizes(one_way=core, crosswise=core), what="Core", quantity="length", unit="mm")
        context["core"] = air_gap.core(across)
    if play is not None:
        context |= {"drive_end": noted(play), "commutator_end": noted(play)}
    if runout is not None:
        context["runout"] = noted(runout)
    places = ("one pair", "other pair")
    return air_gap.pole_bore(
        Evidence(
            sizes(one_pair=bore, other_pair="90.00"),
            None,
            SheetFacts(),
            context,
            "Bore",
            "length",
            "mm",
            places,
        )
    )


def test_what_play_and_run_out_leave_of_the_air_gap_is_said() -> None:
    """By hand: (80.00 - 79.00) / 2 = 0.50; less 0.10 / 2 of play, less 0.05 / 2 of run-out: 0.425 mm."""
    found = gap("80.00", "79.00", 0.10)
    assert found.decision == "accept"
    assert found.value == pytest.approx(0.425 * MM)
    assert "air gap 0.50 mm all round; when all points one way 0.43 mm left" in found.line


@pytest.mark.parametrize(("play", "decided"), [(1.20, "reject"), (0.95, "undecided"), (0.10, "accept")])
def test_play_as_large_as_the_air_gap_lets_the_core_touch(play: float, decided: str) -> None:
    found = gap("80.00", "79.00", play, runout=0.05)
    assert found.decision == decided
    if decided == "reject":
        assert "it rubs" in found.line
        assert found.settle.startswith("They can touch")


def test_a_play_nobody_read_keeps_it_open_and_a_core_larger_than_the_bore_is_asked_about() -> None:
    assert "Not read: play at the drive end" in gap("80.00", "79.00", None).line
    assert gap("80.00", None, 0.1).settle == "Measure the core: the air gap needs both."
    swapped = gap("79.00", "80.00", 0.1)
    assert (swapped.decision, "swapped, or in another unit?" in swapped.line) == ("undecided", True)
    assert air_gap.pole_bore(Evidence(what="Bore")).decision == "not taken"


PLAY = Limit("bush-clearance-drive-end", decision.Limit(0.02 * MM, 0.15 * MM), "mm", "invented")
BUSH = {"bush_bore": "12.08", "bush_outside": "16.04", "housing_bore": "16.00", "housing_outside": "26.0"}


def bush(on: str | None, **changed: str) -> Outcome:
    context = {}
    if on is not None:
        limit = Limit("journal", decision.Limit(lower=11.9 * MM), "mm", "")
        read = (taken(on, "outer"),)
        context["journal"] = journal(Evidence(read, limit, what="Journal", quantity="length", unit="mm"))
    facts = SheetFacts(limits={PLAY.key: PLAY})
    return new_bush.drive_end(
        Evidence(
            sizes(**{**BUSH, **changed}), None, facts, context, "New bush", "length", "mm", new_bush.PLACES
        )
    )


def test_a_new_bush_is_judged_by_the_play_it_will_have_once_it_is_in() -> None:
    """Middle of iron and aluminium, by the pressed rings of `tests/inspect/bearings/test_press_fit.py`."""
    estimates = [
        Estimate(float(BUSH[key]) * MM, 0.0) for key in ("bush_bore", "bush_outside", "housing_bore")
    ]
    bores = [
        pressed_in(*estimates, 26 * MM, SINTERED_BRONZE, housing).bore.value
        for housing in (CAST_IRON, ALUMINIUM)
    ]
    found = bush("12.000")
    assert found.decision == "accept"
    assert found.value == pytest.approx(sum(bores) / 2 - 12.000 * MM, abs=0.5e-6)
    assert "pressed in its bore closes by 0.025 mm to 12.055" in found.line


def test_a_bush_that_will_be_tight_is_rejected_and_a_loose_or_swapped_one_asked_about() -> None:
    tight = bush("12.060")
    assert (tight.decision, tight.settle) == ("reject", "Size it with its mandrel, or take another bush.")
    assert "this bush would be loose" in bush("12.000", bush_outside="15.98").line
    assert "another unit?" in bush("12.000", bush_outside="18.00").line
    assert bush(None).settle.startswith("Measure the journal")
    some = Evidence(sizes(bush_bore="12.08"), what="New bush", quantity="length", unit="mm")
    assert new_bush.drive_end(some).settle == "Read bush outside, housing bore, housing outside."


def counted(said: str, ratio: float | None = None) -> Outcome:
    facts = {} if ratio is None else {"gear-ratio": ratio}
    return reduction.teeth(Evidence((Taken(None, said),), None, SheetFacts(facts=facts), what="Teeth"))


@pytest.mark.parametrize(
    ("said", "ratio", "decided"),
    [
        ("sun 12, ring 48, 3 planets of 18", 5.0, "accept"),
        ("driver 11, driven 38", 3.45, "accept"),
        ("driver 11, driven 38, idler 18", None, "noted"),
        ("sun 12, ring 48, planets 3", 4.5, "reject"),
        ("sun 11, ring 48, 3 planets", 5.36, "undecided"),
        ("sun 48, ring 12, 3 planets", 5.0, "undecided"),
        ("sun 12, ring 48", 5.0, "undecided"),
        ("all good", 5.0, "undecided"),
    ],
)
def test_counted_teeth_must_go_together_and_give_the_sheets_ratio(
    said: str, ratio: float | None, decided: str
) -> None:
    """Arithmetic: 1 + 48 / 12 = 5; 38 / 11 = 3.4545; 11 + 48 = 59 is no multiple of 3."""
    assert counted(said, ratio).decision == decided


def test_what_is_wrong_with_the_count_is_said() -> None:
    assert "3 does not divide the 59 teeth" in counted("sun 11, ring 48, 3 planets").line
    assert "are they swapped?" in counted("sun 48, ring 12, 3 planets").line
    assert counted("all good").settle.startswith("Write such as: sun 12")
