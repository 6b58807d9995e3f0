"""The commutator: its diameter, the cut plan from the indicator's walk, and the run-out when it is done."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from barwise.errors import BarwiseError
from barwise.inspect.checks.evidence import (
    CommutatorFacts,
    Decided,
    Evidence,
    Json,
    Outcome,
    Taken,
    finest_step,
    not_taken,
)
from barwise.inspect.checks.limits import dimension, limit_details, wear
from barwise.inspect.checks.plain import plain
from barwise.inspect.checks.wording import allowed, number, whence
from barwise.inspect.commutator.plan import CutPlan, LatheSetup, plan_cut
from barwise.inspect.commutator.profile import Profile, TrackShape, looks_wrapped, track_shape, unwrapped
from barwise.inspect.commutator.surface import Micrometer
from barwise.inspect.commutator.update import AfterPass
from barwise.inspect.commutator.worth import Sheet
from barwise.measure.decision import decide
from barwise.measure.uncertainty import last_digit

_DECISION: dict[str, Decided] = {
    "cut": "accept",
    "leave": "accept",
    "scrap": "reject",
    "undecided": "undecided",
}
_PROPOSES = {"cut": "rework", "leave": "reuse", "scrap": "replace", "undecided": None}
_SMALLEST_SPAN, _LARGEST_SPAN = 0.6, 1.4
"""A diameter outside of these shares of the sheet's is a wrong unit or a wrong sheet: common practice."""
_MOST_SPAN = 0.03
"""Share of the diameter that no run-out reaches, as for a profile file: common practice, no source."""
_RANGE = re.compile(r"(\d{1,4})\s*(?:-|to)\s*(\d{1,4})|(\d{1,4})")


def diameter(evidence: Evidence) -> Outcome:
    """Diameter as it came, against discard, with percent worn.

    A reading's place is the bar and the track it spans from; details keep them for the cut plan.
    """
    # Each reading is a diameter of the one commutator, so all of them are judged together.
    outcome = wear(replace(evidence, readings=tuple(replace(one, place=()) for one in evidence.readings)))
    numbers: list[Json] = [
        {"bar": bar, "track": track, "diameter_m": one.value, "resolution_m": one.scale_step}
        for one in evidence.numbers()
        for bar, track in [_bar_and_track(one)]
    ]
    return replace(outcome, details={**outcome.details, "micrometers": numbers})


def cut(evidence: Evidence) -> Outcome:
    """What a cut would do and whether it is worth it; details carry the plan.

    It leans on ``diameter`` (`diameter`), and where there are any on ``centres``, run-out of the journals on
    the lathe's centres, on ``after_pass``, the diameter after the latest pass, and on ``untouched``, bars
    that still show old metal then (``14, 40-48`` or ``none``).
    """
    if not evidence.numbers():
        return not_taken(evidence)
    facts = evidence.sheet.commutator
    if facts is None or facts.scale is None:
        return _open(
            evidence,
            "the model sheet has no diameters",
            "Put bars, brush band, new and discard diameter into the model sheet.",
        )
    try:
        profile = _profile(evidence.numbers(), facts)
        micrometers = _micrometers(evidence.context.get("diameter"), facts)
        _check_span(profile, micrometers[0], facts.unit)
        plan = plan_cut(
            profile,
            micrometers,
            facts.brush_band,
            _sheet(facts),
            LatheSetup(centres_offset_m=_centres(evidence.context.get("centres"))),
            _after_pass(evidence.context, facts.bars),
        )
    except _NotYet as error:
        return _open(evidence, error.found, error.settle)
    except BarwiseError as error:
        return _open(evidence, str(error), "Look at the walk again.")
    return _planned(evidence, plan, facts)


def final_runout(evidence: Evidence) -> Outcome:
    """Run-out after the cut: the largest number read off the dial, or the worst track of a walk."""
    walked = [one for one in evidence.numbers() if len(one.place) == 2]
    if not walked:
        return dimension(evidence)
    limit, facts = evidence.limit, evidence.sheet.commutator
    bars = facts.bars if facts is not None else max(_bar(one) for one in walked)
    shapes = _shapes(_as_profile(walked, bars))
    if not shapes:
        return _open(evidence, "no track has three bars", "Walk at least one track round the bars.")
    worst = max(shapes, key=lambda shape: shape.runout_m)
    # The difference of two readings of one scale.
    spread = math.sqrt(2) * last_digit(finest_step(walked))
    unit = walked[-1].unit or evidence.unit
    shown = number(worst.runout_m, unit)
    if limit is None or limit.allowed is None:
        return _open(
            evidence, f"{shown}; there is no limit", "Put a limit with its source into the model sheet."
        )
    judged = decide(worst.runout_m, spread, limit.allowed, evidence.level)
    words = {"accept": "within", "reject": "beyond", "undecided": "too close to call against"}[judged.outcome]
    track = f" on track {worst.track:g}" if len(shapes) > 1 else ""
    return Outcome(
        judged.outcome,
        f"{evidence.what}: {shown}{track}, {words} {allowed(limit, unit)}.{whence(limit)}",
        settle="" if judged.outcome != "undecided" else "Read the worst track again with a finer indicator.",
        value=worst.runout_m,
        uncertainty=spread,
        quantity="length",
        unit=unit,
        probability=judged.conforming,
        details={**limit_details(limit), "tracks": [plain(shape) for shape in shapes]},
    )


def _bars_named(written: str, bars: int) -> frozenset[int]:
    """Bars from 0 of such as ``14, 40-48``; ``none`` is none of them."""
    if written.strip().lower() in ("none", "0", "-"):
        return frozenset()
    found: set[int] = set()
    for word in (word.strip() for word in re.split(r"[,;\n]", written)):
        match = _RANGE.fullmatch(word)
        first, last = (int(match[1] or match[3]), int(match[2] or match[3])) if match else (0, 0)
        if not 1 <= first <= last <= bars:
            raise _NotYet(
                f'"{word}" among the untouched bars',
                f"Name bars from 1 to {bars}, such as 14, 40-48, or none.",
            )
        found |= set(range(first - 1, last))
    return frozenset(found)


class _NotYet(Exception):
    """Something is missing before the plan can be made."""

    def __init__(self, found: str, settle: str) -> None:
        self.found, self.settle = found, settle
        super().__init__(found)


def _open(evidence: Evidence, found: str, settle: str) -> Outcome:
    return Outcome("undecided", f"{evidence.what}: {found}.", settle=settle)


def _profile(readings: Sequence[Taken], facts: CommutatorFacts) -> Profile:
    for one in readings:
        if not 1 <= _bar(one) <= facts.bars:
            raise _NotYet(
                f"bar {_bar(one)} is not on a commutator of {facts.bars} bars",
                "Correct that reading, or the sheet.",
            )
    profile = _as_profile(readings, facts.bars)
    if not _shapes(profile):
        raise _NotYet("no track has three bars yet", "Walk at least one track round the bars.")
    if facts.indicator_turn_m is not None:
        return unwrapped(profile, facts.indicator_turn_m)[0]
    jump = looks_wrapped(profile)
    if jump is not None:
        raise _NotYet(
            f"a jump of {number(jump.jump_m, facts.unit)} from bar {jump.bars[0]} to {jump.bars[1]}, about "
            "a turn of an indicator",
            "Read these bars again; if the indicator went round, put its turn into the sheet.",
        )
    return profile


def _check_span(profile: Profile, measured: Micrometer, unit: str) -> None:
    span = float(np.ptp(profile.value_m))
    if span > _MOST_SPAN * measured.diameter_m:
        found = f"a swing of {number(span, unit)} on a diameter of {number(measured.diameter_m, unit)}"
        raise _NotYet(found, "Look at the unit of the walk.")


def _as_profile(readings: Sequence[Taken], bars: int) -> Profile:
    return Profile(
        bars,
        np.array([_bar(one) - 1 for one in readings], dtype=np.intp),
        np.array([_bar_and_track(one)[1] for one in readings], dtype=float),
        np.array([one.value for one in readings], dtype=float),
        finest_step(readings),
    )


def _shapes(profile: Profile) -> list[TrackShape]:
    tracks = (float(track) for track in profile.tracks if len(profile.on(track)[0]) >= 3)
    return [track_shape(profile, track) for track in tracks]


def _micrometers(outcome: Outcome | None, facts: CommutatorFacts) -> tuple[Micrometer, ...]:
    listed = [] if outcome is None else outcome.details.get("micrometers", [])
    found = tuple(_micrometer(one, facts) for one in listed) if isinstance(listed, list) else ()
    if not found:
        raise _NotYet("no diameter yet", "Measure the diameter across one bar with the micrometer.")
    nearest = facts.scale.points[0].size_m if facts.scale is not None else found[0].diameter_m
    for one in found:
        if not _SMALLEST_SPAN < one.diameter_m / nearest < _LARGEST_SPAN:
            sizes = f"{number(one.diameter_m, facts.unit)} against {number(nearest, facts.unit)} in the sheet"
            raise _NotYet(f"a diameter of {sizes}", "Look at its unit, and that this is its sheet.")
    return found


def _micrometer(one: Mapping[str, Json], facts: CommutatorFacts) -> Micrometer:
    middle = sum(facts.brush_band) / 2
    bar, track = one["bar"], one["track"]
    return Micrometer(
        bar=int(str(bar)) - 1 if bar is not None else 0,
        track=middle if track is None else float(str(track)),
        diameter_m=float(str(one["diameter_m"])),
        resolution_m=float(str(one["resolution_m"])),
    )


def _sheet(facts: CommutatorFacts) -> Sheet:
    if facts.scale is None:
        raise _NotYet("the model sheet has no diameters", "Put new and discard diameter into the sheet.")
    return Sheet(facts.scale, facts.runout_m, facts.may_turn, facts.may_undercut, facts.interval_wear_m)


def _centres(outcome: Outcome | None) -> float | None:
    """Half the run-out read on the centres: how far their axis lies from the journals' [m]."""
    return None if outcome is None or outcome.value is None else outcome.value / 2


def _after_pass(context: Mapping[str, Outcome], bars: int) -> AfterPass | None:
    measured = context.get("after_pass")
    if measured is None or measured.value is None:
        return None
    seen = context.get("untouched")
    noted = None if seen is None else seen.details.get("noted")
    untouched = _bars_named(str(noted[-1]), bars) if isinstance(noted, list) and noted else None
    resolution = measured.details.get("resolution")
    return AfterPass(measured.value, float(str(resolution or 0.0)), untouched)


def _planned(evidence: Evidence, plan: CutPlan, facts: CommutatorFacts) -> Outcome:
    verdict, unit = plan.worth.verdict, facts.unit
    return Outcome(
        _DECISION[verdict],
        f"{evidence.what}: {_line(plan, unit)}",
        settle=_settle(plan),
        value=plan.cleanup.value_m,
        uncertainty=plan.cleanup.spread_m,
        quantity="length",
        unit=unit,
        probability=plan.worth.above_discard,
        details={"plan": _plan_details(plan), "proposes": _PROPOSES[verdict]},
        answer=plan,
    )


def _line(plan: CutPlan, unit: str) -> str:
    worth = plan.worth
    clean, now = number(plan.cleanup.value_m, unit), number(plan.diameter_m.value_m, unit)
    worn = f"{worth.after.percent:.0f} % worn then"
    return {
        "below-discard": f"scrap, {now} is below discard.",
        "dead-indicator": "the indicator never moved.",
        "within-limits": f"leave it, it runs within its limit at {now}.",
        "too-close-to-limit": "too close to its run-out limit to say whether to cut.",
        "left-as-it-is": f"leave it, it runs true enough at {now}, and the sheet forbids turning it.",
        "may-not-turn": "its run-out is beyond the limit, and the sheet forbids turning it.",
        "all-clean": f"all clean at {now}: stop here.",
        "cleans-up": f"cut, it cleans up at {clean} in {len(plan.passes)} passes; {worn}.",
        "ends-below-discard": f"scrap, it would clean up only at {clean}, below discard.",
        "too-close-to-discard": f"it cleans up at about {clean}, too close to discard to call.",
    }[worth.reason]


def _settle(plan: CutPlan) -> str:
    after = plan.next_reading
    if plan.worth.verdict != "undecided":
        return ""
    if after is None:
        return "Walk it again with a finer indicator."
    return f"Read bar {after.bar}, track {after.track:g} with the {after.instrument}."


def _plan_details(plan: CutPlan) -> dict[str, Json]:
    """The plan without its draws, lengths in metres."""
    return {
        "verdict": plan.worth.verdict,
        "reason": plan.worth.reason,
        "diameter": plain(plan.diameter_m),
        "cleanup": plain(plan.cleanup),
        "start_m": plan.start_m,
        "infeed_m": plan.infeed_m,
        "passes": [_pass_details(one) for one in plan.passes],
        "worn_now_percent": plan.worth.now.percent,
        "worn_after_percent": plan.worth.after.percent,
        "above_discard": plan.worth.above_discard,
        "lasts": plan.worth.lasts,
        "runout_m": plan.worst_track.runout_m,
        "step_m": plan.worst_step.step_m,
        "step_bars": list(plan.worst_step.step_bars),
        "groove_m": plan.groove_m,
        "taper_m": plan.taper_m,
        "turns_per_minute": plan.lathe.turns_per_minute,
        "burned_bars": [bar for bar, _ in plan.burned],
        "next_reading": plain(plan.next_reading),
        "notes": list(plan.notes),
    }


def _pass_details(one: object) -> dict[str, Json]:
    wanted = ("kind", "diameter_m", "infeed_m", "cleaned_fraction", "all_clean")
    return {key: plain(getattr(one, key)) for key in wanted}


def _bar(one: Taken) -> int:
    bar = _bar_and_track(one)[0]
    return 0 if bar is None else bar


def _bar_and_track(one: Taken) -> tuple[int | None, float | None]:
    """Bar from 1 and track of a reading's place; None for each that is not given."""
    bar = int(one.place[0]) if one.place and one.place[0].isdecimal() else None
    try:
        track = float(one.place[1]) if len(one.place) > 1 else None
    except ValueError:
        track = None
    return bar, track
