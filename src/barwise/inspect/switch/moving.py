"""The voltages at which the plunger pulls in and lets go, brought to another temperature.

The pull is a matter of ampere-turns: the plunger goes home at one current, and springs back at another,
whatever the temperature, and copper needs more volts for the same current when it is warm. That springs
and friction do not change with the temperature is taken for granted here.
"""

from __future__ import annotations

from barwise.inspect.switch.readings import UNKNOWN_C
from barwise.machine.copper import REFERENCE_C, resistance_at
from barwise.measure.uncertainty import Budget, Estimate, propagate

HOT_C = 80.0
"""A switch on an engine that was just stopped [degC]: common practice, no source."""


def voltage_at(
    volts: Estimate, celsius: Estimate | None, wanted_c: float = REFERENCE_C
) -> tuple[Estimate, Budget]:
    """A pull-in or release voltage [V] at another temperature of the windings.

    Parameters
    ----------
    volts : Estimate
        As measured [V].
    celsius : Estimate or None
        Temperature of the windings then [degC]. None: nobody read it, anywhere from 0 to 40 °C.

    Notes
    -----
    V (234.5 + wanted) / (234.5 + t): the current is the same.

    Examples
    --------
    >>> cold = Estimate(6.8, 0.0)
    >>> round(voltage_at(cold, Estimate(20.0, 0.0), 80.0)[0].value, 2)
    8.4
    """
    known = UNKNOWN_C if celsius is None else celsius
    value, budget = propagate(
        lambda x: resistance_at(x[0], x[1], wanted_c), (volts, known), ("volts", "temperature")
    )
    return budget.estimate(value), budget
