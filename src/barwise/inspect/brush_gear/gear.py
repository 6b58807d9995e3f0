"""The brush gear of one unit as it was measured, with what its sheet says, and what it comes to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from barwise.inspect.brush_gear.life import RATE_SPREAD, Life, Use
from barwise.inspect.brush_gear.spring import ReadAt, SpringArm
from barwise.inspect.finding import Bound, Finding, Verdict
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.wear import Wear

Moves = Literal["free", "sticks", "rocks"]


@dataclass(frozen=True)
class Brush:
    """One brush with its holder and spring, as far as it was measured; empty and None are not measured.

    Attributes
    ----------
    lengths, pulls : tuple of Quantity
        Repeats of its length, and of the spring scale.
    seated : Quantity or None
        Share of its face that touches.
    gap : Quantity or None
        Holder to commutator.
    """

    name: str
    lengths: tuple[Quantity, ...] = ()
    pulls: tuple[Quantity, ...] = ()
    moves: Moves | None = None
    seated: Quantity | None = None
    gap: Quantity | None = None


@dataclass(frozen=True)
class BrushGear:
    """The brush gear of one unit, with what its sheet says.

    Attributes
    ----------
    new, minimum : Quantity or None
        Length when new and when to be replaced; without the minimum, half of the new length.
    width, thickness : Quantity or None
        Sides of a brush's section.
    holder_width, holder_thickness : Quantity or None
        The same of the holder's opening.
    use : Use or None
        Since the brushes were new; None: nobody knows.
    to_come : float or None
        How much use it should last, in the unit of `use`.
    force : Bound or None
        What the sheet allows, for a pull taken at `sheet_at`.
    read_at : str
        Where the pulls were taken.
    arm : SpringArm or None
    gap, seated : Bound or None
        Of the sheet; published ones where it is silent.
    """

    brushes: tuple[Brush, ...]
    new: Quantity | None = None
    minimum: Quantity | None = None
    width: Quantity | None = None
    thickness: Quantity | None = None
    holder_width: Quantity | None = None
    holder_thickness: Quantity | None = None
    use: Use | None = None
    to_come: float | None = None
    rate_spread: float = RATE_SPREAD
    force: Bound | None = None
    sheet_at: ReadAt = "brush"
    read_at: ReadAt = "brush"
    arm: SpringArm | None = None
    gap: Bound | None = None
    seated: Bound | None = None


@dataclass(frozen=True)
class BrushPressure:
    """Pressure of one brush [Pa]: of its whole section, as published, and of the part that touches."""

    brush: str
    section: Estimate
    touching: Estimate | None


@dataclass(frozen=True)
class BrushGearAnswer:
    """What the brush gear comes to.

    Attributes
    ----------
    verdict : str
        The worst of its findings.
    wear : mapping of brush to Wear, as pairs
    life : Life or None
        None where lengths, or the new length, are missing.
    lasts : float or None
        Probability that the set lasts what is to come.
    notes : tuple of str
        What was assumed, what is missing, what looks odd.
    """

    verdict: Verdict
    findings: tuple[Finding, ...]
    wear: tuple[tuple[str, Wear], ...]
    life: Life | None
    lasts: float | None
    pressures: tuple[BrushPressure, ...]
    notes: tuple[str, ...]
