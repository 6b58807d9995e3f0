"""Whether it cranks, in one sentence, and the starter's share of it."""

from __future__ import annotations

from barwise.inspect.cranking.assessment import CrankSummary
from barwise.inspect.cranking.blame import Blame
from barwise.inspect.cranking.prediction import Interval

_SAID = {
    "cranks": "It cranks fast enough to start",
    "too slow": "It cranks too slowly to start",
    "does not turn": "It does not turn the engine",
    "undecided": "Whether it cranks fast enough cannot be said",
}


def speed_words(found: CrankSummary) -> str:
    """Verdict, temperature and speed, without a full stop."""
    at = found.temperature_c
    cold = "at a temperature nobody gave" if at is None else f"at {at:.0f} °C"
    return f"{_SAID[found.verdict]} {cold}: {span(found.outlook.speed_rpm, 0)} rpm"


def hardly_lost(found: Blame) -> bool:
    """Whether there is nothing worth naming to mend."""
    return found.loss_rpm.middle < 0.02 * found.sound_rpm.middle


def share_words(found: Blame) -> str:
    """How much of the slow crank is the starter's own; nothing where nothing is lost."""
    share = found.starter_share
    if share is None:
        return ""
    return (
        f"This starter explains {100 * share.middle:.0f} % of the slow crank ({100 * share.low:.0f} to "
        f"{100 * share.high:.0f} %)."
    )


def span(found: Interval, decimals: int) -> str:
    """``126 (113 to 139)``."""
    return f"{found.middle:.{decimals}f} ({found.low:.{decimals}f} to {found.high:.{decimals}f})"
