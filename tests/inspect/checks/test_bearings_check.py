"""A bush's bore is decided by the play it gives the journal that was measured for it.

Accept, reject, undecided: ISO 14253-1 and JCGM 106 as `barwise.measure.decision` has them (from memory).
"""

from __future__ import annotations

import pytest

from barwise.inspect.checks import Evidence, Limit, Outcome, SheetFacts, Taken
from barwise.inspect.checks import bearings as checks
from barwise.inspect.checks.shaft import journal
from barwise.measure import decision
from barwise.measure.wear import WearPoint, WearScale

INCH = 0.0254
PLACES = ("outer", "outer across", "inner", "inner across")
PLAY = Limit("bush-clearance-drive-end", decision.Limit(0.001 * INCH, 0.006 * INCH), "in", "its sheet")
SCALE = WearScale((WearPoint(0, 0.5020 * INCH), WearPoint(100, 0.5060 * INCH)), grows=True)
BORE = Limit("bush-bore-drive-end", decision.Limit(upper=0.5060 * INCH), "in", "its sheet", scale=SCALE)


def taken(*sizes: str) -> tuple[Taken, ...]:
    return tuple(
        Taken(float(one) * INCH, one, "in", (place,)) for one, place in zip(sizes, PLACES, strict=False)
    )


def of_journal(*sizes: str) -> Outcome:
    limit = Limit("journal", decision.Limit(lower=0.4970 * INCH), "in", "its sheet")
    return journal(Evidence(taken(*sizes), limit, what="Journal", quantity="length", unit="in"))


def decide(bore: tuple[Taken, ...], on: Outcome | None, limit: Limit | None = None) -> Outcome:
    context = {} if on is None else {"journal": on}
    facts = SheetFacts(limits={PLAY.key: PLAY})
    return checks.drive_end(
        Evidence(bore, limit, facts, context, what="Bush bore", quantity="length", unit="in", places=PLACES)
    )


GOOD = of_journal("0.4996", "0.4995", "0.4996", "0.4994")


def test_bore_and_journal_give_a_play_within_its_limit() -> None:
    found = decide(taken("0.5024", "0.5031", "0.5022", "0.5027"), GOOD, BORE)
    assert found.decision == "accept"
    assert found.line.startswith("Bush bore: play on its journal 0.0025 in to 0.0036 in, within its limit")
    assert found.value == pytest.approx(0.0036 * INCH, abs=0.0001 * INCH)
    assert [place["place"] for place in found.details["places"]] == [["most"], ["least"]]
    assert found.details["lower"] == pytest.approx(0.001 * INCH)


@pytest.mark.parametrize(
    ("bore", "said"),
    [("0.5080", "New bush."), ("0.4998", "Too tight: size it with its mandrel.")],
)
def test_a_worn_bush_and_a_tight_one_are_rejected_each_with_what_to_do(bore: str, said: str) -> None:
    found = decide(taken(bore, bore, bore, bore), GOOD)
    assert (found.decision, found.settle) == ("reject", said)


def test_a_bore_beyond_its_own_limit_is_rejected_though_the_play_were_within() -> None:
    large = of_journal("0.5030", "0.5030", "0.5030", "0.5030")
    assert decide(taken("0.5065", "0.5065", "0.5065", "0.5065"), large, BORE).decision == "reject"


def test_a_coarse_gauge_leaves_a_play_near_its_limit_undecided() -> None:
    coarse = tuple(Taken(0.505 * INCH, "0.505", "in", (place,)) for place in PLACES)
    found = decide(coarse, of_journal("0.499", "0.499", "0.499", "0.499"))
    assert found.decision == "undecided"
    assert "finest gauge" in found.settle


def test_without_the_journal_the_bore_stays_open() -> None:
    found = decide(taken("0.5024", "0.5031", "0.5022", "0.5027"), None, BORE)
    assert found.decision == "undecided"
    assert "Measure the journal" in found.settle


def test_a_journal_larger_than_its_bore_is_asked_about_and_nothing_decided() -> None:
    found = decide(taken("0.4024", "0.4024", "0.4024", "0.4024"), GOOD)
    assert found.decision == "undecided"
    assert "larger than the bore it runs in" in found.line
    assert "swapped, or misread" in found.settle


def test_nothing_read_is_not_taken_and_a_play_without_a_limit_stays_open() -> None:
    assert decide((), GOOD).decision == "not taken"
    other = checks.commutator_end(
        Evidence(taken("0.5024"), None, SheetFacts(), {"journal": GOOD}, what="Bore", unit="in")
    )
    assert other.decision == "undecided"
    assert "no limit" in other.line


def test_a_journal_says_how_oval_and_tapered_it_is() -> None:
    found = of_journal("0.4990", "0.4980", "0.4994", "0.4984")
    assert "Oval 0.001 in, taper 0.0004 in." in found.line
    assert found.details["form"]["largest"][0] == pytest.approx(0.4994 * INCH)
