"""What text, JSON and picture of a cut plan share: the reason, and lengths in the shop's unit."""

from __future__ import annotations

from dataclasses import dataclass

from barwise.inspect.commutator.plan import CutPlan, Estimate
from barwise.measure.units import UNITS
from barwise.report.probability import probability_in_words

_DECIMALS = {"in": 4, "mm": 3}
_SMALL = {"in": ("thou", UNITS["thou"].factor, 1), "mm": ("µm", UNITS["um"].factor, 0)}


@dataclass(frozen=True)
class ShopUnit:
    """Lengths as the files have them: ``in`` with thou for small ones, or ``mm`` with micrometres."""

    name: str

    def value(self, metres: float) -> float:
        """The bare number, not rounded."""
        return metres / UNITS[self.name].factor

    def size(self, metres: float) -> str:
        """A diameter, such as ``1.2385 in``."""
        return f"{self.value(metres):.{_DECIMALS[self.name]}f} {self.name}"

    def small(self, metres: float) -> str:
        """A depth or run-out, such as ``2.5 thou``."""
        name, factor, decimals = _SMALL[self.name]
        return f"{metres / factor:.{decimals}f} {name}"

    def between(self, estimate: Estimate) -> str:
        """Both ends of an interval, such as ``1.2301 to 1.2312 in``."""
        places = _DECIMALS[self.name]
        low, high = self.value(estimate.low_m), self.value(estimate.high_m)
        return f"{low:.{places}f} to {high:.{places}f} {self.name}"


def why(plan: CutPlan, unit: ShopUnit) -> str:
    """The reason for the decision in one line, with the numbers it rests on."""
    worth, sheet = plan.worth, plan.sheet
    discard, now = unit.size(sheet.discard_m), unit.size(plan.diameter_m.value_m)
    clean = unit.size(plan.cleanup.value_m)
    uneven = unit.small((plan.highest_diameter_m - plan.cleanup.value_m) / 2)
    limit = unit.small(sheet.uneven_limit_m)
    runout, (good, bad) = unit.small(plan.worst_track.runout_m), map(unit.small, sheet.as_it_is_m)
    general = ", general as the sheet names none" if sheet.runout_m is None else ""
    chance = probability_in_words(worth.above_discard)
    return {
        "below-discard": f"measured {now} is below discard, {discard}",
        "dead-indicator": f"all {len(plan.profile.value_m)} readings are the same: dead indicator",
        "within-limits": f"the band is even within {uneven}, the limit is {limit}: a cut gains nothing",
        "too-close-to-limit": f"the band is uneven by about {uneven}, too close to the limit, {limit}"
        if sheet.may_turn
        else f"may not be turned, and run-out {runout} too close to the limit, {_range(good, bad)}{general}",
        "may-not-turn": f"run-out {runout}, the limit is {bad}{general}, and it may not be turned",
        "left-as-it-is": f"it may not be turned and need not be: run-out {runout}, limit {good}{general}",
        "all-clean": f"all of the band is clean at {now}: stop here",
        "cleans-up": f"cleans up at {clean}, above discard {discard} (chance {chance})",
        "ends-below-discard": f"would clean up only at {clean}, below discard {discard}",
        "too-close-to-discard": f"cleans up at about {clean}, chance to stay above {discard} is {chance}",
    }[worth.reason]  # fmt: skip


def _range(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"
