"""Every check of the starter's route decides both ways from readings a bench could have taken.

What the route says of the trade is common practice, no source; its figures are those of the sheets.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from decimal import Decimal

import pytest

from barwise.inspect.checks import Outcome, Taken
from barwise.measure.instrument import Instrument
from barwise.measure.units import UNITS
from barwise.report.armature import cautions
from barwise.route.cautions import CODE_FIRST, all_cautions, find_caution
from barwise.route.deciding import decide, leaning_on, limit_for
from barwise.route.family import Check, Family, load_family
from barwise.route.sheet import ModelSheet, SheetLimit, Source, load_sheet, sheet_facts, sheets
from barwise.route.sheet_changes import check_fit, unasked

STATIONS = (
    "intake", "teardown", "armature", "commutator", "frame", "brushes", "switch", "drive", "bearings",
    "assembly", "run", "handover",
)  # fmt: skip
CHECKS = dict(load_family("starter").all_checks())
OF_THE_SWITCH = ("switch.given_as", "switch.both", "switch.closing")
OF_THE_BRUSHES = ("brush_gear.use", "brush_gear.seated", "brush_gear.spring_arms")
OF_THEIR_OWN = (
    "run_test.",
    "bearings.",
    "cranking.",
    "fields.",
    "insulation.timed",
    "shaft.bend",
    "drive.slip_by_arm",
    "drive.arm",
    "air_gap.",
    "new_bush.",
    "reduction.",
    *OF_THE_SWITCH,
    *OF_THE_BRUSHES,
)
"""Functions with their own tests in tests/inspect/checks, and what they decide both ways there."""
ELSEWHERE = {name for name, check in CHECKS.items() if check.decides.startswith(OF_THEIR_OWN)}
LIMITED = [name for name, check in CHECKS.items() if check.limit and name not in ELSEWHERE]
ANSWERED = [
    name for name, check in CHECKS.items() if check.entry in ("choice", "yes-no") and name not in ELSEWHERE
]
NOTED = [name for name, check in CHECKS.items() if check.decides.startswith("recorded.")]
WALKED = {"armature.winding", "commutator.cut"}
FINE = Instrument("a fine one", 1e-9)


def full(sheet: ModelSheet) -> ModelSheet:
    """The sheet with limits, invented, for what only other models have."""
    invented = Source(kind="own measurement", text="invented")
    more = {
        "shunt-resistance": SheetLimit(low=Decimal("1.2"), high=Decimal("1.6"), unit="ohm", source=invented),
        "loaded-current": SheetLimit(high=Decimal(260), unit="A", source=invented),
        "loaded-speed": SheetLimit(low=Decimal(1500), unit="rpm", source=invented),
        "loaded-torque": SheetLimit(low=Decimal(5), unit="lbf.ft", source=invented),
        "pole-screw-torque": SheetLimit(low=Decimal(25), high=Decimal(35), unit="lbf.ft", source=invented),
        "gear-backlash": SheetLimit(high=Decimal("0.012"), unit="in", source=invented),
    }
    return sheet.model_copy(update={"limits": {**sheet.limits, **more}})


def outcome(
    family: Family, name: str, sheet: ModelSheet, readings: tuple[Taken, ...], **context: Outcome
) -> Outcome:
    station, _, check = name.partition(".")
    return decide(family, station, check, sheet, readings, context)


def at_every_place(check: Check, sheet: ModelSheet, value: float) -> tuple[Taken, ...]:
    places = check.place_names(sheet_facts(sheet).facts) or ("",)
    text = f"{value / UNITS[check.unit].factor:.6g}"
    return tuple(
        Taken(value, text, check.unit, (place,) if place else (), instrument=FINE)
        for place in places
        for _ in range(check.readings)
    )


def within_and_beyond(family: Family, check: Check, sheet: ModelSheet) -> tuple[float, float]:
    limit = limit_for(family, check, sheet)
    assert limit is not None, check.key
    assert limit.allowed is not None
    lower, upper = limit.allowed.lower, limit.allowed.upper
    if lower is not None and upper is not None:
        return (lower + upper) / 2, upper + (upper - lower)
    return (lower * 1.02, lower * 0.9) if lower is not None else ((upper or 0) * 0.9, (upper or 0) * 1.1)


def test_it_has_the_twelve_stations_in_the_order_of_the_bench(starter: Family) -> None:
    assert tuple(station.key for station in starter.stations) == STATIONS


@pytest.mark.parametrize("name", LIMITED)
def test_a_number_well_within_its_limit_is_accepted_and_one_well_beyond_rejected(
    name: str, starter: Family, sheet: ModelSheet
) -> None:
    sheet, check = full(sheet), CHECKS[name]
    good, bad = within_and_beyond(starter, check, sheet)
    accepted = outcome(starter, name, sheet, at_every_place(check, sheet, good))
    rejected = outcome(starter, name, sheet, at_every_place(check, sheet, bad))
    assert (accepted.decision, rejected.decision) == ("accept", "reject")
    assert accepted.line.startswith(check.title)
    assert rejected.value == pytest.approx(bad)
    assert json.loads(json.dumps(accepted.details))["source"]


@pytest.mark.parametrize("name", ANSWERED)
def test_each_answer_decides_what_it_says_and_a_bad_one_says_what_to_do(
    name: str, starter: Family, sheet: ModelSheet, said: Callable[..., Taken]
) -> None:
    check = CHECKS[name]
    places = check.place_names(sheet_facts(sheet).facts) or ("",)
    answers = {one.say: one.means for one in check.answers} or {"yes": "accept", "no": "reject"}
    for say, means in answers.items():
        found = outcome(starter, name, sheet, tuple(said(say, *([p] if p else [])) for p in places))
        assert found.decision == ("noted" if means == "note" else means)
        assert say in found.line
    for one in check.answers:
        if one.means in ("reject", "undecided"):
            assert one.then, f"{name}: {one.say}"


@pytest.mark.parametrize("name", NOTED)
def test_what_is_only_written_down_is_noted_and_decides_nothing(
    name: str, starter: Family, sheet: ModelSheet, said: Callable[..., Taken]
) -> None:
    check = CHECKS[name]
    taken = at_every_place(check, sheet, 0.5) if check.entry == "number" else (said("as it was"),)
    assert outcome(starter, name, sheet, taken).decision == "noted"


def test_a_sound_armature_is_accepted_and_one_with_a_bad_joint_rejected(
    starter: Family, sheet: ModelSheet, sound_walk: tuple[Taken, ...], faulty_walk: tuple[Taken, ...]
) -> None:
    """Judge: the reference solution, which shares no code with the package, for the sound one."""
    sound = outcome(starter, "armature.winding", sheet, sound_walk)
    faulty = outcome(starter, "armature.winding", sheet, faulty_walk)
    assert (sound.decision, faulty.decision) == ("accept", "reject")
    assert "high resistance joint of coil 23" in faulty.line
    assert faulty.details["proposes"] == "rework"


def test_a_commutator_with_room_is_to_be_cut_and_one_at_discard_to_be_scrapped(
    starter: Family, sheet: ModelSheet, profile: tuple[Taken, ...], read: Callable[..., Taken]
) -> None:
    found = {}
    for diameter in ("1.2421", "1.2255"):
        measured = outcome(starter, "commutator.diameter", sheet, (read(diameter, "in", "1", "0.2"),))
        found[diameter] = decide(
            starter, "commutator", "cut", sheet, profile, {"commutator.diameter": measured}
        )
    assert (found["1.2421"].decision, found["1.2421"].details["proposes"]) == ("accept", "rework")
    assert (found["1.2255"].decision, found["1.2255"].details["proposes"]) == ("reject", "replace")


def test_no_check_is_left_without_a_case_here() -> None:
    assert set(CHECKS) == {*LIMITED, *ANSWERED, *NOTED} | WALKED | ELSEWHERE


@pytest.mark.parametrize("name", CHECKS)
def test_a_check_of_which_nothing_was_read_is_not_taken(
    name: str, starter: Family, sheet: ModelSheet
) -> None:
    assert outcome(starter, name, sheet, ()).decision == "not taken"


@pytest.mark.parametrize("name", CHECKS)
def test_each_check_tells_in_few_short_sentences_what_to_do(name: str) -> None:
    sentences = CHECKS[name].do.rstrip(".").split(". ")
    assert 1 <= len(sentences) <= 4
    assert all(len(sentence) < 200 for sentence in sentences)


def hazards() -> Iterator[tuple[str, str]]:
    """Checks by what is used at them, and the caution that has to stand there."""
    for name, check in CHECKS.items():
        if "insulation tester" in check.how:
            yield name, "insulation"
        if name.startswith("run.lock-"):
            yield name, "lock"
        if name.startswith("run.no-load-"):
            yield name, "run"
    yield from (("commutator.after-pass", "lathe"), ("switch.pull-in-current", "switch"))


@pytest.mark.parametrize(("name", "caution"), list(hazards()))
def test_the_caution_stands_where_the_hazard_is(name: str, caution: str) -> None:
    assert caution in CHECKS[name].caution
    assert find_caution(caution) in CHECKS[name].cautions


def test_what_is_fed_from_mains_or_battery_defers_to_local_codes() -> None:
    for key in ("exciter", "feed", "insulation", "battery", "run", "lock", "switch"):
        assert find_caution(key).lines[-1] == CODE_FIRST


@pytest.mark.parametrize("test", ["drop", "shaft-drop", "induced", "blade", "ground", "resistance"])
def test_a_walk_carries_the_cautions_the_reports_print_for_its_test(test: str) -> None:
    walk = next(one for one in CHECKS["armature.winding"].walks if one.test == test)
    lines = dict.fromkeys(line for caution in walk.cautions for line in caution.lines)
    assert tuple(lines) == cautions.cautions_for([test])


def test_every_caution_is_shown_somewhere() -> None:
    shown = {key for check in CHECKS.values() for key in check.caution}
    shown |= {key for check in CHECKS.values() for walk in check.walks for key in walk.caution}
    assert set(all_cautions()) - shown == set()


@pytest.mark.parametrize("key", sheets())
def test_the_sheets_that_come_with_it_are_invented_and_fit_the_route(key: str, starter: Family) -> None:
    own = load_sheet(key)
    assert own.invented
    check_fit(own, starter)
    assert unasked(own, starter) == ()


def test_magnets_have_no_field_coils_and_a_moulded_commutator_is_not_turned(starter: Family) -> None:
    """A sheet may forbid turning and undercutting: TM 9-4940-568-34 p. 5-144 does."""
    facts = sheet_facts(load_sheet("demo-23-magnet")).facts
    asked = {f"{station.key}.{check.key}" for station, checks in starter.route(facts) for check in checks}
    assert {"frame.magnets", "bearings.planetary", "commutator.cut"} <= asked
    assert not asked & {
        "frame.coil-drop",
        "commutator.after-pass",
        "commutator.undercut",
        "drive.inertia-drive",
    }


def test_a_fact_that_nobody_knows_rules_no_check_out(starter: Family) -> None:
    asked = [check for _, checks in starter.route({}) for check in checks]
    assert len(asked) == len(CHECKS)


def test_the_cut_plan_leans_on_what_was_measured_for_it() -> None:
    assert "commutator.diameter" in leaning_on(CHECKS["commutator.cut"])
    assert set(leaning_on(CHECKS["commutator.cut"])) <= set(CHECKS)
