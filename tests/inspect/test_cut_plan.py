"""The cut plan on commutators whose surface is known."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from barwise.errors import MeasurementError
from barwise.inspect.commutator.centres import on_centres
from barwise.inspect.commutator.levels import ReadingTable, fit_levels
from barwise.inspect.commutator.plan import CutPlan, plan_cut
from barwise.inspect.commutator.profile import Profile, looks_wrapped, unwrapped
from barwise.inspect.commutator.surface import Micrometer, draw_surface
from barwise.inspect.commutator.update import AfterPass
from barwise.inspect.commutator.worth import Sheet
from barwise.measure.wear import WearPoint, WearScale
from reference.commutators import Wear, make

INCH, THOU = 0.0254, 25.4e-6
BAND = (0.12, 0.88)
SHEET = Sheet(WearScale((WearPoint(0, 1.250 * INCH), WearPoint(100, 1.200 * INCH))))


def walked(
    shape_thou: np.ndarray, resolution_thou: float = 0.1, tracks: tuple[float, ...] = (0.2, 0.5, 0.8)
) -> Profile:
    """The same shape on each track, or a shape of (bars, tracks)."""
    bars = len(shape_thou)
    table = np.broadcast_to(shape_thou.reshape(bars, -1), (bars, len(tracks)))
    value = np.round(table / resolution_thou) * resolution_thou * THOU
    bar, column = np.divmod(np.arange(table.size), len(tracks))
    return Profile(bars, bar, np.array(tracks)[column], value.ravel(), resolution_thou * THOU)


def made(seed: int, wear: Wear | None = None) -> tuple[CutPlan, float]:
    """A made commutator's plan and the clean-up diameter it truly has [m]."""
    case = make(seed, wear)
    readings, one, spec = case["readings"], case["micrometer"], case["spec"]
    profile = Profile(
        case["bars"],
        np.array([r["bar"] - 1 for r in readings]),
        np.array([r["track"] for r in readings]),
        np.array([r["value"] for r in readings]) * INCH,
        case["indicator_resolution"] * INCH,
    )
    new = spec["new"] * INCH
    sheet = Sheet(WearScale((WearPoint(0, new), WearPoint(100, new - 0.05 * INCH))))
    measured = Micrometer(one["bar"] - 1, one["track"], one["diameter"] * INCH, one["resolution"] * INCH)
    return plan_cut(profile, (measured,), BAND, sheet), case["truth"]["cleanup_diameter"] * INCH


def test_an_eccentric_round_cleans_up_at_diameter_less_twice_the_eccentricity() -> None:
    """Derived: D is 2a wherever the micrometer stands, and the lathe must go down to a - e."""
    bars, e = 48, 1.5
    angle = 2 * np.pi * np.arange(bars) / bars
    for start in (0, 9, 24):
        profile = walked(e * np.cos(angle) - e * np.cos(angle[start]))
        surface = draw_surface(profile, (Micrometer(start, 0.2, 1.2400 * INCH, 1e-4 * INCH),), BAND)
        clean = float(np.median(2 * surface.lowest_m().min(axis=1)))
        assert clean == pytest.approx(1.2400 * INCH - 2 * e * THOU, abs=0.35 * THOU)


def test_most_made_commutators_clean_up_within_the_interval_and_near_the_value() -> None:
    """30 made commutators: at 93 % or more, 25 inside or fewer has a chance of 4 %, by the binomial."""
    plans = [made(3000 + i) for i in range(30)]
    inside = sum(plan.cleanup.low_m <= truth <= plan.cleanup.high_m for plan, truth in plans)
    errors = [abs(plan.cleanup.value_m - truth) / THOU for plan, truth in plans]
    assert inside >= 26
    assert np.median(errors) < 0.3


@pytest.mark.parametrize("seed", [700_009, 700_111, 700_173, 700_215, 700_237])
def test_what_the_other_bars_say_of_a_bar_stays_among_the_readings(seed: int) -> None:
    """Deep burns that come and go as outliers while the levels are fitted once threw a bar inches away."""
    case = make(seed, Wear(burned=(0, 6), burn_depth=(0.3, 5.0)))
    value = np.array([r["value"] for r in case["readings"]]).reshape(3, case["bars"]).T * INCH
    table = ReadingTable(value, np.array([0.2, 0.5, 0.8]), case["indicator_resolution"] * INCH)
    bar_m = fit_levels(table).bar_m
    assert np.ptp(bar_m) <= np.ptp(value) + 2 * table.resolution_m


def test_a_burn_is_named_and_a_sound_bar_is_not() -> None:
    shape = np.zeros((32, 3))
    shape[11] = (-0.4, -2.5, -0.3)
    plan = plan_cut(walked(shape), (Micrometer(0, 0.2, 1.24 * INCH, 1e-4 * INCH),), BAND, SHEET)
    assert [bar for bar, _ in plan.burned] == [12]
    assert plan.worst_step.step_bars in {(11, 12), (12, 13)}


def test_a_misread_value_alone_above_the_rest_is_no_groove_for_all() -> None:
    """One slip of ten thou outwards must not move the clean-up diameter by more than a thou."""
    clean = walked(np.zeros((32, 3)))
    slip = replace(clean, value_m=np.where(np.arange(96) == 40, 10 * THOU, clean.value_m))
    measured = (Micrometer(0, 0.2, 1.24 * INCH, 1e-4 * INCH),)
    found = [plan_cut(profile, measured, BAND, SHEET).cleanup.value_m for profile in (clean, slip)]
    assert found[0] == pytest.approx(found[1], abs=1 * THOU)


def test_the_zero_of_the_indicator_does_not_matter() -> None:
    plan, _ = made(5)
    moved = replace(plan.profile, value_m=plan.profile.value_m + 37 * THOU)
    measured = (Micrometer(0, 0.2, plan.diameter_m.value_m, 1e-4 * INCH),)
    again = plan_cut(moved, measured, BAND, plan.sheet)
    assert again.cleanup.value_m == pytest.approx(plan.cleanup.value_m, abs=0.01 * THOU)


def test_one_track_gives_a_wider_interval_and_says_why() -> None:
    plan, _ = made(11)
    keep = plan.profile.track == 0.5
    one = Profile(
        plan.profile.bars, plan.profile.bar[keep], plan.profile.track[keep], plan.profile.value_m[keep],
        plan.profile.resolution_m,
    )  # fmt: skip
    measured = (Micrometer(0, 0.2, plan.diameter_m.value_m, 1e-4 * INCH),)
    narrow = plan_cut(one, measured, BAND, plan.sheet)
    assert narrow.cleanup.high_m - narrow.cleanup.low_m > 1.5 * (plan.cleanup.high_m - plan.cleanup.low_m)
    assert any("One track only" in note for note in narrow.notes)
    assert narrow.next_reading is not None


def test_a_bar_left_out_is_filled_in_and_said() -> None:
    plan, _ = made(12)
    keep = ~((plan.profile.bar == 6) & (plan.profile.track == 0.5))
    profile = Profile(
        plan.profile.bars, plan.profile.bar[keep], plan.profile.track[keep], plan.profile.value_m[keep],
        plan.profile.resolution_m,
    )  # fmt: skip
    again = plan_cut(profile, (Micrometer(0, 0.2, plan.diameter_m.value_m, 1e-4 * INCH),), BAND, plan.sheet)
    assert "Track 0.5: bar 7 not read, filled in from the rest." in again.notes
    assert again.cleanup.value_m == pytest.approx(plan.cleanup.value_m, abs=0.5 * THOU)


def test_passes_go_down_in_allowed_steps_and_clean_ever_more() -> None:
    plan, _ = made(21)
    diameters = [plan.highest_diameter_m, *(one.diameter_m for one in plan.passes)]
    assert all(before > after for before, after in pairwise(diameters))
    for one in plan.passes:
        if one.kind != "if-needed":
            assert one.infeed_m <= (3.0 if one.kind == "rough" else 1.0) * THOU + 1e-9
    cleaned = [one.cleaned_fraction for one in plan.passes]
    assert cleaned == sorted(cleaned)
    finishes = [one for one in plan.passes if one.kind == "finish"]
    assert finishes[-1].diameter_m == pytest.approx(plan.cleanup.value_m)
    assert finishes[-1].all_clean == pytest.approx(0.5, abs=0.02)


def test_bars_still_untouched_after_a_pass_draw_the_answer_to_the_truth() -> None:
    """Cut a known surface, look which bars show old metal, ask again: nearer on the mean, and narrower."""
    before, after, narrower = [], [], 0
    for seed in range(40, 52):
        plan, truth = made(seed)
        case = make(seed)
        cut = plan.cleanup.high_m
        lowest = 2 * _lowest_of_each_bar(seed) * INCH
        old = frozenset(int(k) for k in np.flatnonzero(lowest < cut))
        measured = case["micrometer"]
        again = plan_cut(
            plan.profile,
            (Micrometer(0, measured["track"], measured["diameter"] * INCH, 1e-4 * INCH),),
            BAND,
            plan.sheet,
            after_pass=AfterPass(cut, 1e-4 * INCH, old),
        )
        before.append(abs(plan.cleanup.value_m - truth))
        # where nothing is left the surface was clean at the cut
        after.append(abs(again.cleanup.value_m - min(truth, cut)))
        narrower += again.cleanup.high_m - again.cleanup.low_m < plan.cleanup.high_m - plan.cleanup.low_m
    assert np.mean(after) < np.mean(before)
    assert narrower >= 9


def _lowest_of_each_bar(seed: int) -> np.ndarray:
    """The maker's own surface, rebuilt from the same random numbers, inches on the radius."""
    from reference.commutators import surface

    rng = np.random.default_rng(seed)
    bars = int(rng.choice([24, 29, 32, 48, 57, 62]))
    new = float(rng.choice([1.25, 1.5, 1.654, 2.25]))
    along = np.linspace(0.12, 0.88, 153)
    shape = surface(rng, bars, np.concatenate([along, (0.2, 0.5, 0.8)]), Wear())
    nominal = new / 2 - rng.uniform(0.5, 6.0) * 1e-3
    return np.asarray((nominal + shape[:, :153] * 1e-3).min(axis=1))


def test_bars_that_cannot_look_as_reported_are_asked_about() -> None:
    plan, _ = made(40)
    measured = (Micrometer(0, 0.2, plan.diameter_m.value_m, 1e-4 * INCH),)
    deep = AfterPass(plan.cleanup.low_m - 2 * THOU, 1e-4 * INCH, frozenset({3}))
    again = plan_cut(plan.profile, measured, BAND, plan.sheet, after_pass=deep)
    assert any(note.startswith("Bar 4: not as the profile") for note in again.notes)


DECISIONS = {
    "below discard now": (1.199, 6.0, {}, "scrap", "below-discard"),
    "even already": (1.240, 0.2, {}, "leave", "within-limits"),
    "worth cutting": (1.240, 6.0, {}, "cut", "cleans-up"),
    "ends below discard": (1.205, 6.0, {}, "scrap", "ends-below-discard"),
    "too close to discard": (1.2121, 6.0, {}, "undecided", "too-close-to-discard"),
    "moulded, beyond any limit": (1.240, 6.0, {"may_turn": False}, "scrap", "may-not-turn"),
    "moulded, between the limits": (1.240, 3.25, {"may_turn": False}, "undecided", "too-close-to-limit"),
    "moulded, within any limit": (1.240, 2.0, {"may_turn": False}, "leave", "left-as-it-is"),
    "moulded, below discard": (1.199, 0.2, {"may_turn": False}, "scrap", "below-discard"),
    "moulded, beyond the sheet": (
        1.240,
        6.0,
        {"may_turn": False, "runout_m": 2 * THOU},
        "scrap",
        "may-not-turn",
    ),
    "moulded, at discard": (1.200, 0.2, {"may_turn": False}, "undecided", "too-close-to-discard"),
}


@pytest.mark.parametrize(("inches", "lobe", "flags", "verdict", "reason"), DECISIONS.values(), ids=DECISIONS)
def test_each_question_settles_what_it_should(
    inches: float, lobe: float, flags: dict[str, object], verdict: str, reason: str
) -> None:
    """Three lobes: the micrometer reads 2a everywhere, the lathe must go down to a less the lobe."""
    shape = lobe * np.cos(3 * 2 * np.pi * np.arange(48) / 48)
    measured = (Micrometer(0, 0.2, inches * INCH, 1e-4 * INCH),)
    plan = plan_cut(walked(shape), measured, BAND, replace(SHEET, **flags))
    assert (plan.worth.verdict, plan.worth.reason) == (verdict, reason)
    if flags.get("may_turn") is False or verdict in ("scrap", "leave"):
        assert plan.passes == ()


@pytest.mark.parametrize("untouched", [None, frozenset({3})])
def test_no_cut_is_proposed_after_a_pass_that_should_not_have_been_taken(
    untouched: frozenset[int] | None,
) -> None:
    """Moulded commutators may not be turned, TM 9-4940-568-34 p. 5-144, also when somebody began to."""
    shape = 2.0 * np.cos(3 * 2 * np.pi * np.arange(48) / 48)
    measured = (Micrometer(0, 0.2, 1.240 * INCH, 1e-4 * INCH),)
    begun = AfterPass(1.2385 * INCH, 1e-4 * INCH, untouched)
    plan = plan_cut(walked(shape), measured, BAND, replace(SHEET, may_turn=False), after_pass=begun)
    assert plan.worth.verdict != "cut"
    assert plan.passes == ()


def test_an_indicator_that_never_moved_decides_nothing() -> None:
    plan = plan_cut(walked(np.zeros(32)), (Micrometer(0, 0.2, 1.24 * INCH, 1e-4 * INCH),), BAND, SHEET)
    assert plan.worth.reason == "dead-indicator"
    assert plan.passes == ()
    assert "dead indicator" in plan.notes[0]


def test_wear_through_another_interval_is_weighed_where_the_sheet_gives_it() -> None:
    shape = 6.0 * np.cos(3 * 2 * np.pi * np.arange(48) / 48)
    measured = (Micrometer(0, 0.2, 1.240 * INCH, 1e-4 * INCH),)
    lasting = [
        plan_cut(walked(shape), measured, BAND, replace(SHEET, interval_wear_m=wear)).worth.lasts
        for wear in (None, 5 * THOU, 60 * THOU)
    ]
    assert lasting[0] is None
    assert lasting[1] is not None
    assert lasting[2] is not None
    assert lasting[1] > 0.99
    assert lasting[2] < 0.01


def test_centres_out_by_e_cost_up_to_twice_e_and_leave_twice_e() -> None:
    """Derived: a perfect round of radius a, turned about an axis e off, cleans up at 2 (a - e)."""
    lowest = np.full((50, 62), 0.62 * INCH)
    out = on_centres(lowest, 1.0 * THOU)
    assert out.cleanup_m == pytest.approx(2 * 0.62 * INCH - 2 * THOU, abs=0.01 * THOU)
    assert out.extra_m == pytest.approx(2 * THOU, abs=0.01 * THOU)
    assert out.runout_m == pytest.approx(2 * THOU)


def test_a_turn_of_the_indicator_is_seen_and_undone() -> None:
    shape = walked(np.cos(2 * np.pi * np.arange(48) / 48))
    turned = replace(
        shape, value_m=shape.value_m + np.where((shape.bar > 20) & (shape.track == 0.5), 0.1 * INCH, 0)
    )
    jump = looks_wrapped(turned)
    assert jump is not None
    assert (jump.track, jump.bars) == (0.5, (21, 22))
    undone, moved = unwrapped(turned, 0.1 * INCH)
    assert moved == 27
    assert undone.value_m == pytest.approx(shape.value_m, abs=1e-12)
    assert looks_wrapped(shape) is None


def test_readings_of_one_place_that_differ_are_asked_about() -> None:
    shape = walked(np.cos(2 * np.pi * np.arange(32) / 32))
    twice = replace(
        shape,
        bar=np.append(shape.bar, 4),
        track=np.append(shape.track, 0.5),
        value_m=np.append(shape.value_m, shape.value_m[13] + THOU),
    )
    plan = plan_cut(twice, (Micrometer(0, 0.2, 1.24 * INCH, 1e-4 * INCH),), BAND, SHEET)
    assert any(note.startswith("Bar 5, track 0.5") for note in plan.notes)


def test_no_diameter_is_refused() -> None:
    with pytest.raises(MeasurementError, match="at least one"):
        plan_cut(walked(np.zeros(32)), (), BAND, SHEET)
