"""The main contacts: their resistance from a volt drop, and what they would drop at cranking current.

Source
------
Ohm's law. A contact's resistance falls somewhat as the current softens its spots (R. Holm, Electric Contacts,
1967, from memory), so the drop at a larger current, taken as straight, is rather too high than too low.
"""

from __future__ import annotations

from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Estimate, propagate


@dataclass(frozen=True)
class Contacts:
    """The main contacts as measured.

    Attributes
    ----------
    ohm : Estimate
        From stud to stud [ohm].
    drop_cranking : Estimate or None
        What they would drop at the cranking current [V].
    heat_w : float or None
        What they would turn into heat then [W].
    """

    ohm: Estimate
    drop_cranking: Estimate | None
    heat_w: float | None


def contacts_of(drop: Estimate, amps: Estimate, cranking: Estimate | None = None) -> Contacts:
    """Resistance from the drop [V] at a current [A], and the drop at the cranking current [A].

    Raises
    ------
    MeasurementError
        If no current flows, or the drop is below 0.

    Examples
    --------
    >>> found = contacts_of(Estimate(0.06, 0.0), Estimate(100.0, 0.0), Estimate(350.0, 0.0))
    >>> round(found.ohm.value * 1e3, 2), round(found.drop_cranking.value, 3), round(found.heat_w, 1)
    (0.6, 0.21, 73.5)
    """
    if not amps.value > 0:
        found = f"found {amps.value:g} A"
        raise MeasurementError(f"contact drop: {found}, expected a current through the contacts, above 0")
    if drop.value < 0:
        found = f"found {drop.value:g} V"
        raise MeasurementError(
            f"contact drop: {found}, expected 0 or more: are the leads the wrong way round?"
        )
    ohm, budget = propagate(lambda x: x[0] / x[1], (drop, amps))
    if cranking is None:
        return Contacts(budget.estimate(ohm), None, None)
    at, together = propagate(lambda x: x[0] / x[1] * x[2], (drop, amps, cranking))
    return Contacts(budget.estimate(ohm), together.estimate(at), at * cranking.value)
