"""Is the cut worth it: cut, leave, scrap or undecided, with the reason in one line.

The order of the questions is the bench's. Below discard now: scrap. May it be turned at all? If not, does it
run true enough as it is? If it may, is it smooth enough to leave? Does it clean up above discard? Every yes
or no is given by the one decision rule of `barwise.measure.decision`; too close to call stays undecided.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.measure.decision import Decision, Limit, decide
from barwise.measure.wear import DISCARD, Wear, WearScale

Verdict = Literal["cut", "leave", "scrap", "undecided"]

RUNOUT_LIMIT_M = 0.002 * 0.0254
"""Where the sheet names none: out-of-round below 0.05 mm (0.002 in), TM 10-3930-653-14&P p. 4-98."""

AS_IT_IS_GOOD_M, AS_IT_IS_BAD_M = 0.005 * 0.0254, 0.008 * 0.0254
"""For one that may not be turned and whose sheet names no run-out: manuals have it resurfaced above 0.13 mm
(0.005 in), TM 5-6115-593-34, or only above 0.2 mm (0.008 in), TM 10-3930-653-14&P p. 4-97. Between the two
nobody can say without the sheet."""


@dataclass(frozen=True)
class Sheet:
    """What the model sheet says of this commutator.

    Attributes
    ----------
    scale : WearScale
        Diameter against percent worn.
    runout_m : float or None
        Run-out that may stay [m]; None where the sheet names none, `RUNOUT_LIMIT_M` is used then.
    may_turn, may_undercut : bool
        Moulded commutators often may not be (TM 9-4940-568-34 p. 5-144).
    interval_wear_m : float or None
        What the diameter loses to wear until the next rebuild [m].
    """

    scale: WearScale
    runout_m: float | None = None
    may_turn: bool = True
    may_undercut: bool = True
    interval_wear_m: float | None = None

    @property
    def uneven_limit_m(self) -> float:
        """Unevenness that may stay [m]."""
        return RUNOUT_LIMIT_M if self.runout_m is None else self.runout_m

    @property
    def as_it_is_m(self) -> tuple[float, float]:
        """Run-out up to which one that may not be turned is good, and above which it is not [m]."""
        if self.runout_m is None:
            return AS_IT_IS_GOOD_M, AS_IT_IS_BAD_M
        return self.runout_m, self.runout_m

    @property
    def discard_m(self) -> float:
        """Diameter at 100 % worn [m]."""
        return self.scale.size_at(DISCARD)


def where_from(sheet: Sheet) -> str | None:
    """Which general limit stands in where the sheet names no run-out, with its source; None where it does."""
    if sheet.runout_m is not None:
        return None
    if sheet.may_turn:
        return (
            "The sheet names no run-out: a general 0.05 mm (0.002 in) stands in, TM 10-3930-653-14&P p. 4-98."
        )
    return (
        "The sheet names no run-out: general ones stand in, good up to 0.13 mm (0.005 in), TM 5-6115-593-34, "
        "and not above 0.2 mm (0.008 in), TM 10-3930-653-14&P p. 4-97."
    )


@dataclass(frozen=True)
class Known:
    """A diameter or depth with its standard uncertainty [m]."""

    value_m: float
    uncertainty_m: float


@dataclass(frozen=True)
class Worth:
    """What the cut comes to.

    Attributes
    ----------
    verdict : str
    reason : str
        Which question settled it: ``below-discard``, ``may-not-turn``, ``within-limits``, ``cleans-up``,
        ``ends-below-discard``, ``too-close-to-discard``, ``too-close-to-limit``, ``dead-indicator``,
        ``all-clean``, ``left-as-it-is`` (may not be turned, and need not).
    above_discard : float
        Probability that the clean-up diameter is at discard or above.
    now, after : Wear
        Percent worn as measured, and at the clean-up diameter.
    lasts : float or None
        Probability that it is still above discard one interval after the cut (or after leaving it as it is);
        None when the sheet does not say what an interval wears.
    """

    verdict: Verdict
    reason: str
    above_discard: float
    now: Wear
    after: Wear
    lasts: float | None


Stage = Literal["before", "turning", "clean"]
"""Before the first pass, between two passes, or with all of the band clean."""


def weigh(
    sheet: Sheet,
    now: Known,
    cleanup: Known,
    unevenness: Known,
    runout: Known,
    *,
    stage: Stage = "before",
    dead: bool = False,
) -> Worth:
    """Decide.

    Parameters
    ----------
    sheet : Sheet
    now : Known
        Measured diameter.
    cleanup : Known
        Clean-up diameter.
    unevenness : Known
        From the highest to the lowest place of the band, on the radius; looked at before the first pass.
    runout : Known
        Largest of any track; looked at where it may not be turned.
    stage : str
    dead : bool
        Whether the indicator never moved.
    """
    floor = Limit(lower=sheet.discard_m)
    after = _judged(cleanup, floor)
    standing = _judged(now, floor)
    settled = _ends_it(standing, stage, dead)
    if settled is None and not sheet.may_turn:
        settled = _as_it_is(sheet, standing, runout)
    if settled is None and stage == "before":
        settled = _even_enough(sheet, standing, unevenness)
    verdict, reason = settled or _cleans_up(after)
    ends = now if verdict == "leave" else cleanup
    return Worth(
        verdict=verdict,
        reason=reason,
        above_discard=after.conforming,
        now=sheet.scale.wear(now.value_m, now.uncertainty_m),
        after=sheet.scale.wear(cleanup.value_m, cleanup.uncertainty_m),
        lasts=_lasts(sheet, ends, floor),
    )


def _ends_it(now: Decision, stage: Stage, dead: bool) -> tuple[Verdict, str] | None:
    """What leaves nothing to ask."""
    if now.outcome == "reject":
        return "scrap", "below-discard"
    if stage == "clean":
        return "leave", "all-clean"
    return ("undecided", "dead-indicator") if dead else None


def _as_it_is(sheet: Sheet, now: Decision, runout: Known) -> tuple[Verdict, str]:
    """Whether one that may not be turned can stay: no cut, whatever else."""
    good, bad = sheet.as_it_is_m
    if _judged(runout, Limit(upper=bad)).outcome == "reject":
        return "scrap", "may-not-turn"
    if _judged(runout, Limit(upper=good)).outcome != "accept":
        return "undecided", "too-close-to-limit"
    return ("leave", "left-as-it-is") if now.outcome == "accept" else ("undecided", "too-close-to-discard")


def _even_enough(sheet: Sheet, now: Decision, unevenness: Known) -> tuple[Verdict, str] | None:
    """Whether it need not be cut; None where it must."""
    smooth = _judged(unevenness, Limit(upper=sheet.uneven_limit_m)).outcome
    if smooth == "undecided":
        return "undecided", "too-close-to-limit"
    if smooth == "reject":
        return None
    return ("leave", "within-limits") if now.outcome == "accept" else ("undecided", "too-close-to-discard")


def _cleans_up(after: Decision) -> tuple[Verdict, str]:
    if after.outcome == "accept":
        return "cut", "cleans-up"
    if after.outcome == "reject":
        return "scrap", "ends-below-discard"
    return "undecided", "too-close-to-discard"


def _lasts(sheet: Sheet, ends: Known, floor: Limit) -> float | None:
    if sheet.interval_wear_m is None:
        return None
    return _judged(Known(ends.value_m - sheet.interval_wear_m, ends.uncertainty_m), floor).conforming


def _judged(known: Known, limit: Limit) -> Decision:
    return decide(known.value_m, known.uncertainty_m, limit)
