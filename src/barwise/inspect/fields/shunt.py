"""A compound winding's shunt coil: its resistance against the sheet, and the short it could hide."""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.inspect.fields.circuit import UNKNOWN_C
from barwise.machine.copper import resistance_at
from barwise.measure.decision import USUAL_LEVEL, Decision, Limit, Outcome, decide
from barwise.measure.uncertainty import Budget, Component, Estimate, propagate


@dataclass(frozen=True)
class Shunt:
    """What was read of the shunt coil, both its ends lifted.

    Attributes
    ----------
    read : Estimate or None
        Resistance [ohm]; None: it reads open.
    sheet : Limit or None
        [ohm] at `sheet_c`.
    temperature : Estimate or None
        Of the coil [degC].
    turns : int or None
    gain : float
        Relative standard uncertainty of the meter.
    """

    read: Estimate | None
    sheet: Limit | None = None
    sheet_c: float = 20.0
    temperature: Estimate | None = None
    turns: int | None = None
    gain: float = 0.0


@dataclass(frozen=True)
class ShuntAssessment:
    """What the shunt coil comes to.

    Attributes
    ----------
    outcome : str
        accept, reject, undecided.
    ohm : Estimate or None
        At the sheet's temperature; None where it is open.
    decision : Decision or None
    hidden_share : float or None
        Share of its turns that could be shorted in a coil from the top of the sheet's range and still read
        within it, however good the meter.
    hidden_turns : int or None
    why : str
        What it reads, in a word: within, low (shorted turns), high (joint, wrong coil), open.
    settle : str
    """

    outcome: Outcome
    ohm: Estimate | None
    decision: Decision | None
    hidden_share: float | None
    hidden_turns: int | None
    why: str
    settle: str


def assess_shunt(shunt: Shunt, level: float = USUAL_LEVEL) -> ShuntAssessment:
    """Judge the shunt coil by the one decision rule.

    Raises
    ------
    MeasurementError
        If the resistance is not above 0.
    """
    if shunt.read is None:
        settle = "Scrape both ends bright and read again; open again, it goes."
        return ShuntAssessment("reject", None, None, None, None, "open", settle)
    if not (math.isfinite(shunt.read.value) and shunt.read.value > 0):
        raise MeasurementError(f"shunt: found {shunt.read.value:g} ohm, expected above 0")
    ohm = _at_sheet(shunt.read, shunt)
    if shunt.sheet is None:
        settle = "Enter the sheet's resistance: one coil alone has nothing to be compared with."
        return ShuntAssessment("undecided", ohm, None, None, None, "not compared", settle)
    decision = decide(ohm.value, ohm.standard_uncertainty, shunt.sheet, level)
    share = _hidden(shunt.sheet)
    turns = None if share is None or shunt.turns is None else math.floor(share * shunt.turns)
    return ShuntAssessment(
        decision.outcome, ohm, decision, share, turns, _why(decision, shunt.sheet), _settle(decision, shunt)
    )


def _at_sheet(read: Estimate, shunt: Shunt) -> Estimate:
    warmth = shunt.temperature or UNKNOWN_C
    value, budget = propagate(lambda x: resistance_at(x[0], x[1], shunt.sheet_c), [read, warmth])
    return Budget((*budget.components, Component("meter", shunt.gain * value))).estimate(value)


def _hidden(sheet: Limit) -> float | None:
    if sheet.lower is None or sheet.upper is None or sheet.upper <= 0:
        return None
    return 1 - sheet.lower / sheet.upper


def _why(decision: Decision, sheet: Limit) -> str:
    if decision.outcome == "accept":
        return "within"
    low = sheet.lower is not None and (
        sheet.upper is None or decision.value < (sheet.lower + sheet.upper) / 2
    )
    return "low" if low else "high"


def _settle(decision: Decision, shunt: Shunt) -> str:
    if decision.outcome == "accept":
        return ""
    if decision.outcome == "undecided" and shunt.temperature is None:
        return "Write down the temperature of the coil: copper changes 4 % for 10 °C."
    if decision.outcome == "undecided":
        return "Read it with a four-wire meter, the coil at room temperature since the day before."
    return ""
