"""A drive as it was measured, with what its sheet says, and what it comes to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.inspect.drive.clutch import SlipTest
from barwise.inspect.drive.pinion import ToothWear
from barwise.inspect.finding import Bound, Finding, Verdict
from barwise.machine.gear_teeth import SpurGear
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import Unit

Feels = Literal["locks and runs free", "slips", "rough"]


@dataclass(frozen=True)
class PinionTeeth:
    """Teeth measured by spans or by single thicknesses; empty is not measured.

    Attributes
    ----------
    gear : SpurGear or None
        Its numbers, where known; `shift_known` says whether its profile shift is.
    spanned : int or None
        Teeth between the jaws.
    spans, thicknesses : tuple of Quantity
        At several places round the pinion.
    new, minimum : Quantity or None
        Of the sheet, for whichever was measured.
    """

    gear: SpurGear | None = None
    shift_known: bool = False
    spanned: int | None = None
    spans: tuple[Quantity, ...] = ()
    thicknesses: tuple[Quantity, ...] = ()
    new: Quantity | None = None
    minimum: Quantity | None = None


@dataclass(frozen=True)
class Sized:
    """One more size or force of the drive, with its limit and what to do when it is beyond."""

    part: str
    value: Quantity
    bound: Bound | None
    then: str


@dataclass(frozen=True)
class Drive:
    """All that was measured on one drive; None and empty are not measured.

    Attributes
    ----------
    slip : SlipTest or None
    slip_unit, drag_unit : Unit or None
        To say the torques in.
    slip_bound, drag_bound : Bound or None
    locked : Estimate or None
        Locked torque of the armature [N m], for what the clutch must carry at least.
    reduction : float
        Turns of the armature for one of the pinion.
    drag : Estimate or None
        Torque the free way [N m].
    feels : str or None
        By hand.
    slides : bool or None
        Whether it slides on the spline and comes back of itself.
    sizes : tuple of Sized
        Chamfer, spline, springs, travel, lever.
    """

    teeth: PinionTeeth = PinionTeeth()
    slip: SlipTest | None = None
    slip_unit: Unit | None = None
    slip_bound: Bound | None = None
    locked: Estimate | None = None
    reduction: float = 1.0
    drag: Estimate | None = None
    drag_unit: Unit | None = None
    drag_bound: Bound | None = None
    feels: Feels | None = None
    slides: bool | None = None
    sizes: tuple[Sized, ...] = ()


@dataclass(frozen=True)
class DriveAnswer:
    """What the drive comes to; `tooth` is the thickness its span leaves on the pitch circle [m]."""

    verdict: Verdict
    findings: tuple[Finding, ...]
    teeth: ToothWear | None
    tooth: Estimate | None
    notes: tuple[str, ...]
