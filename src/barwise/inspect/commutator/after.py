"""After the cut: undercut, bar edges, and the final run-out check, each with where its figure comes from.

The sources are named as printed in them; "from memory" where the text was not at hand.
"""

from __future__ import annotations

from dataclasses import dataclass

from barwise.measure.decision import Decision, Limit, decide

INCH = 0.0254


@dataclass(frozen=True)
class Advice:
    """One thing to do or check, in words for the bench, and its source."""

    what: str
    source: str


@dataclass(frozen=True)
class Undercut:
    """Depth the mica is cut down to [m], and where that comes from."""

    least_m: float
    most_m: float
    source: str


USUAL_UNDERCUT = Undercut(0.025 * INCH, 0.032 * INCH, "TM 10-3930-628-34 p. 4-7")
FINAL_RUNOUT_M = 0.002 * INCH
FINAL_RUNOUT_SOURCE = "out-of-round after turning below 0.05 mm (0.002 in), TM 10-3930-653-14&P p. 4-98"

_EDGES = (
    Advice(
        "Undercut as wide as the mica: leave no thin edge of mica on a bar, and do not widen the slots",
        "TM 10-3930-628-34 p. 4-7",
    ),
    Advice("Break the bars' edges only where they are rough", "ANSI/EASA AR100 2.8, from memory"),
)
_FINISH = (
    Advice("Take burrs off with No. 00 sandpaper, never emery", "TM 5-4310-354-14; FAA AC 43.13-1B 11-4"),
    Advice(
        "Blow out copper and mica dust with air of 30 psi at most, and do not breathe it",
        "TM 55-2210-223-34 p. 3-124 for the pressure",
    ),
)
_NO_UNDERCUT = Advice("Do not undercut this commutator: its sheet forbids it", "the sheet")


def advice(may_undercut: bool) -> tuple[Advice, ...]:
    """What to do between the last pass and the final check."""
    return (*_EDGES, *_FINISH) if may_undercut else (_NO_UNDERCUT, *_FINISH)


def judge_final_runout(runout_m: float, uncertainty_m: float, limit_m: float = FINAL_RUNOUT_M) -> Decision:
    """Whether the run-out read after the cut is within its limit, by the one decision rule."""
    return decide(runout_m, uncertainty_m, Limit(upper=limit_m))
