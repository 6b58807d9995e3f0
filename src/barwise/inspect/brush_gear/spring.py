"""What a spring's pull on the scale is as force along the brush, and as pressure on the commutator.

Sources
-------
Pressures: NAVEDTRA 14120, IC Electrician, p. 3-10 (US Navy). Read there: as low as 1 1/2 psi may be
specified for large machines and as high as 8 psi for small ones; where nothing is specified, 2 to 2 1/2 psi
for integral horsepower and kilowatt, about twice that for fractional.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Budget, Estimate, propagate
from barwise.measure.units import UNITS

ReadAt = Literal["brush", "lever"]

_PSI = UNITS["psi"].factor
PUBLISHED_SOURCE = "NAVEDTRA 14120, p. 3-10"


@dataclass(frozen=True)
class PressureRange:
    """A published range of brush pressure [Pa], and for which machines it is."""

    machines: str
    limit: Limit


PUBLISHED = PressureRange("all machines, large to small", Limit(1.5 * _PSI, 8 * _PSI))
WITHOUT_A_SHEET = (
    PressureRange("from about 1 hp, where no sheet says otherwise", Limit(2 * _PSI, 2.5 * _PSI)),
    PressureRange("below 1 hp, where no sheet says otherwise", Limit(4 * _PSI, 5 * _PSI)),
)


@dataclass(frozen=True)
class SpringArm:
    """The arm of a lever spring: from its pivot to where the scale pulls, and to where it presses [m]."""

    scale: Estimate
    brush: Estimate

    def __post_init__(self) -> None:
        if not (self.scale.value > 0 and self.brush.value > 0):
            raise MeasurementError("spring arm: found a length of 0 or less, expected both above 0")


def force_along_brush(scale: Estimate, read_at: ReadAt, arm: SpringArm | None) -> Estimate | None:
    """Force [N] with which the spring presses along the brush.

    Parameters
    ----------
    scale : Estimate
        As read from the spring scale when the strip of paper comes free [N].
    read_at : str
        ``brush``: the scale pulls along the brush where the spring presses. ``lever``: it pulls at the
        lever's tip, and the arms tell.
    arm : SpringArm or None

    Returns
    -------
    Estimate or None
        None: read at the lever, and the arms are not known.

    Notes
    -----
    Moments about the pivot: force · brush arm = pull · scale arm. The pull must stand square to the arm.

    Examples
    --------
    >>> arm = SpringArm(Estimate(0.030, 0.0), Estimate(0.024, 0.0))
    >>> force_along_brush(Estimate(8.0, 0.0), "lever", arm).value
    10.0
    """
    if read_at == "brush":
        return scale
    if arm is None:
        return None
    value, budget = propagate(lambda x: x[0] * x[1] / x[2], (scale, arm.scale, arm.brush))
    return budget.estimate(value)


def contact_pressure(
    force: Estimate, width: Estimate, thickness: Estimate, seated: Estimate | None = None
) -> tuple[Estimate, Budget]:
    """Pressure [Pa] of the brush on the commutator.

    Parameters
    ----------
    force : Estimate
        Along the brush [N].
    width, thickness : Estimate
        Sides of its section [m].
    seated : Estimate, optional
        Share of the face that touches, 0 to 1; published pressures are of the whole section, without it.

    Raises
    ------
    MeasurementError
        If a side or the share is not above 0.

    Notes
    -----
    p = F / (w t), or F / (w t share).

    Examples
    --------
    >>> force, side = Estimate(10.0, 0.0), Estimate(0.010, 0.0)
    >>> round(contact_pressure(force, side, side)[0].value)
    100000
    """
    whole = Estimate(1.0, 0.0) if seated is None else seated
    if not (width.value > 0 and thickness.value > 0 and 0 < whole.value <= 1):
        raise MeasurementError("brush section: found a side or share of 0 or less, expected above 0")
    names = ("force", "width", "thickness", "seating")
    value, budget = propagate(lambda x: x[0] / (x[1] * x[2] * x[3]), (force, width, thickness, whole), names)
    return budget.estimate(value), budget
