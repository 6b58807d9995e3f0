"""The cut plan as one JSON object in the files' unit; docs/file-formats.md describes it."""

from __future__ import annotations

import json
from typing import Any

from barwise.inspect.commutator.plan import CutPlan, Estimate
from barwise.measure.wear import Wear
from barwise.report.commutator.words import ShopUnit, why


def commutator_json(plan: CutPlan, unit_name: str) -> str:
    """The answer as JSON text, one object, lengths in `unit_name` and not rounded."""
    return json.dumps(commutator_answer(plan, unit_name), allow_nan=False, ensure_ascii=False)


def commutator_answer(plan: CutPlan, unit_name: str) -> dict[str, Any]:
    """The answer as plain values, ready for JSON."""
    unit = ShopUnit(unit_name)
    worst, stepped = plan.worst_track, plan.worst_step
    return {
        "runout": {"value": unit.value(worst.runout_m), "track": worst.track},
        "worst_bar_step": {
            "value": unit.value(stepped.step_m),
            "bars": list(stepped.step_bars),
            "track": stepped.track,
        },
        "cleanup_diameter": _estimate(plan.cleanup, unit),
        "depth": unit.value(plan.infeed_m),
        "removed_from_diameter": unit.value(plan.diameter_m.value_m - plan.cleanup.value_m),
        "first_touch_diameter": unit.value(plan.highest_diameter_m),
        "passes": _passes(plan, unit),
        "wear_now": plan.worth.now.percent,
        "wear_after": _wear(plan.worth.after, plan),
        "wear_extrapolated": plan.worth.now.extrapolated,
        "decision": plan.worth.verdict,
        "why": why(plan, unit),
        "chance_above_discard": plan.worth.above_discard,
        "chance_it_lasts": plan.worth.lasts,
        "may_turn": plan.sheet.may_turn,
        "may_undercut": plan.sheet.may_undercut,
        "tracks": _tracks(plan, unit),
        "groove": unit.value(plan.groove_m),
        "taper": unit.value(plan.taper_m),
        "burned_bars": [{"bar": bar, "probability": chance} for bar, chance in plan.burned],
        "lathe": _lathe(plan, unit),
        "on_centres": _centres(plan, unit),
        "next_reading": _next(plan),
        "notes": list(plan.notes),
    }


def _estimate(estimate: Estimate, unit: ShopUnit) -> dict[str, float]:
    return {
        "value": unit.value(estimate.value_m),
        "low": unit.value(estimate.low_m),
        "high": unit.value(estimate.high_m),
    }


def _wear(after: Wear, plan: CutPlan) -> dict[str, float]:
    """Wear at the clean-up diameter and at the ends of its interval."""
    ends = sorted(plan.sheet.scale.percent(end) for end in (plan.cleanup.low_m, plan.cleanup.high_m))
    return {"value": after.percent, "low": ends[0], "high": ends[1]}


def _passes(plan: CutPlan, unit: ShopUnit) -> list[dict[str, Any]]:
    return [
        {
            "diameter": unit.value(one.diameter_m),
            "cleaned_fraction": one.cleaned_fraction,
            "infeed": unit.value(one.infeed_m),
            "kind": one.kind,
            "chance_all_clean": one.all_clean,
        }
        for one in plan.passes
    ]


def _tracks(plan: CutPlan, unit: ShopUnit) -> list[dict[str, Any]]:
    return [
        {
            "track": shape.track,
            "runout": unit.value(shape.runout_m),
            "eccentricity": unit.value(shape.eccentricity_m),
            "high_side_degrees": shape.high_side_rad * 57.29577951308232,
            "lobes": {str(n): unit.value(size) for n, size in enumerate(shape.lobes_m, start=2)},
            "circles": {
                one.kind: {
                    "x": unit.value(one.x_m),
                    "y": unit.value(one.y_m),
                    "eccentricity": unit.value(one.eccentricity_m),
                    "roundness": unit.value(one.roundness_m),
                }
                for one in plan.circles.get(shape.track, ())
            },
        }
        for shape in plan.tracks
    ]


def _lathe(plan: CutPlan, unit: ShopUnit) -> dict[str, float]:
    lathe = plan.lathe
    return {
        "surface_speed_m_per_min": lathe.surface_speed_m_per_s * 60,
        "turns_per_minute": lathe.turns_per_minute,
        "feed": unit.value(lathe.feed_m),
        "nose_radius": unit.value(lathe.nose_m),
        "peak_to_valley": unit.value(lathe.peak_to_valley_m),
        "mean_roughness": unit.value(lathe.mean_roughness_m),
    }


def _centres(plan: CutPlan, unit: ShopUnit) -> dict[str, float] | None:
    if plan.centres is None:
        return None
    return {
        "offset": unit.value(plan.centres.offset_m),
        "cleanup_diameter": unit.value(plan.centres.cleanup_m),
        "worst_cleanup_diameter": unit.value(plan.centres.worst_cleanup_m),
        "extra_off_diameter": unit.value(plan.centres.extra_m),
        "runout_left": unit.value(plan.centres.runout_m),
    }


def _next(plan: CutPlan) -> dict[str, Any] | None:
    reading = plan.next_reading
    if reading is None:
        return None
    return {
        "instrument": reading.instrument,
        "bar": reading.bar,
        "track": reading.track,
        "narrows_interval_by": reading.narrows,
    }
