"""How an outside micrometer's scales stand at a reading, and what they read as they stand.

An inch micrometer has a numbered line on the sleeve every 0.1 in and a plain one every 0.025 in, which is
one turn of the thimble; the thimble has 25 lines of 0.001 in. A metric one has a line every millimetre and
between them one at the half, 0.5 mm being a turn; the thimble has 50 lines of 0.01 mm. Ten vernier lines,
if it has them, divide a thimble line by ten. All arithmetic is in whole smallest steps, so that a reading
and its lines turn into each other without rounding.

Source
------
US Army TM 9-243, Use and care of hand tools and measuring tools, 1983, section 7 on micrometers. Its
metric page gives the pitch of the screw as 0.05 mm and then lets one turn advance 0.5 mm; the latter is
right, and is what stands here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError

System = Literal["inch", "metric"]

LARGEST_FRAME = 5
"""Frames go from 0-1 to 5-6 in, and from 0-25 to 125-150 mm."""

_NEAR = 1e-6
"""Of a smallest step: arithmetic noise of a conversion, not a fraction anyone read."""


@dataclass(frozen=True)
class Graduation:
    """The lines of one system, counted in smallest steps (one vernier line)."""

    unit: str
    step_m: float
    decimals: int
    frame_steps: int
    major_steps: int
    minor_steps: int
    thimble_lines: int

    @property
    def minors(self) -> int:
        """Sleeve lines, and turns of the thimble, from one major line to the next."""
        return self.major_steps // self.minor_steps


GRADUATIONS: dict[System, Graduation] = {
    "inch": Graduation("in", 2.54e-6, 4, 10_000, 1_000, 250, 25),
    "metric": Graduation("mm", 1e-6, 3, 25_000, 1_000, 500, 50),
}

VERNIER_LINES = 10
"""Vernier lines to one thimble line, in both systems."""


@dataclass(frozen=True)
class Micrometer:
    """An outside micrometer.

    Parameters
    ----------
    system : str
        ``inch`` or ``metric``.
    frame : int
        0 for 0-1 in or 0-25 mm, 1 for 1-2 in or 25-50 mm, to 5.
    vernier : bool
        Whether the sleeve carries vernier lines.
    """

    system: System
    frame: int = 0
    vernier: bool = True

    def __post_init__(self) -> None:
        if self.system not in GRADUATIONS:
            raise MeasurementError(f"micrometer: found {self.system!r}, expected inch or metric")
        if not 0 <= self.frame <= LARGEST_FRAME:
            raise MeasurementError(f"micrometer: found frame {self.frame}, expected 0 to {LARGEST_FRAME}")

    @property
    def graduation(self) -> Graduation:
        """Its lines."""
        return GRADUATIONS[self.system]

    @property
    def step_m(self) -> float:
        """Smallest step it reads [m]: a vernier line, or without one a thimble line."""
        return self.graduation.step_m * (1 if self.vernier else VERNIER_LINES)

    @property
    def name(self) -> str:
        """Such as ``1-2 in micrometer`` or ``25-50 mm micrometer``."""
        span = 1 if self.system == "inch" else 25
        return f"{self.frame * span}-{(self.frame + 1) * span} {self.graduation.unit} micrometer"


@dataclass(frozen=True)
class ScaleReading:
    """What the scales of a micrometer show.

    Attributes
    ----------
    major : int
        Last numbered tenth (inch) or whole millimetre (metric) that the sleeve shows, 0 at the stop.
    minor : int
        Sleeve lines seen after it: 0 to 3 of 0.025 in, or 0 to 1 of 0.5 mm.
    thimble : int
        Thimble line at the sleeve's long line, or the last one below it: 0 to 24, or 0 to 49.
    vernier : int
        Vernier line that meets a thimble line, 0 to 9; 0 without a vernier.

    Raises
    ------
    MeasurementError
        If a line is not on that scale.
    """

    micrometer: Micrometer
    major: int
    minor: int = 0
    thimble: int = 0
    vernier: int = 0

    def __post_init__(self) -> None:
        lines = self.micrometer.graduation
        most = lines.frame_steps // lines.major_steps
        _check(
            "sleeve number" if self.micrometer.system == "inch" else "sleeve millimetres", self.major, most
        )
        _check("sleeve lines after it", self.minor, lines.minors - 1)
        _check("thimble", self.thimble, lines.thimble_lines - 1)
        _check("vernier", self.vernier, VERNIER_LINES - 1 if self.micrometer.vernier else 0)
        if self.steps > lines.frame_steps * (self.micrometer.frame + 1):
            raise MeasurementError(f"micrometer: these lines lie beyond the end of a {self.micrometer.name}")

    @property
    def steps(self) -> int:
        """The reading in smallest steps."""
        lines = self.micrometer.graduation
        turns = self.major * lines.minors + self.minor
        return (
            self.micrometer.frame * lines.frame_steps
            + turns * lines.minor_steps
            + self.thimble * VERNIER_LINES
            + self.vernier
        )

    @property
    def value(self) -> float:
        """The reading in the micrometer's own unit, inch or millimetre."""
        return self.steps / 10.0**self.micrometer.graduation.decimals

    @property
    def metres(self) -> float:
        """The reading [m]."""
        return self.steps * self.micrometer.graduation.step_m


def micrometer_for(metres: float, system: System, vernier: bool = True) -> Micrometer:
    """The smallest micrometer that spans a length [m].

    Examples
    --------
    >>> micrometer_for(1.2385 * 0.0254, "inch").name
    '1-2 in micrometer'
    """
    lines = GRADUATIONS[system]
    frames = metres / (lines.step_m * lines.frame_steps)
    if not 0 <= frames <= LARGEST_FRAME + 1 + _NEAR:
        most = lines.frame_steps // 10**lines.decimals * (LARGEST_FRAME + 1)
        found = f"{metres / lines.step_m / 10**lines.decimals:.4g} {lines.unit}"
        raise MeasurementError(f"micrometer: found {found}, expected 0 to {most} {lines.unit}")
    return Micrometer(system, max(0, math.ceil(frames - _NEAR) - 1), vernier)


def needs_vernier(metres: float, system: System) -> bool:
    """Whether a length [m] lies between thimble lines, so that only a vernier can have shown it.

    Examples
    --------
    >>> needs_vernier(1.2385 * 0.0254, "inch"), needs_vernier(1.238 * 0.0254, "inch")
    (True, False)
    """
    thimble_lines = metres / (GRADUATIONS[system].step_m * VERNIER_LINES)
    return abs(thimble_lines - round(thimble_lines)) > _NEAR * max(1.0, thimble_lines)


def lines_at(metres: float, micrometer: Micrometer) -> ScaleReading:
    """How the scales stand at a length [m].

    Raises
    ------
    MeasurementError
        If the length is outside the frame, or lies between two lines of the finest scale; the message
        names the lines beside it.

    Examples
    --------
    >>> shown = lines_at(1.2385 * 0.0254, Micrometer("inch", 1))
    >>> shown.major, shown.minor, shown.thimble, shown.vernier
    (2, 1, 13, 5)
    """
    lines = micrometer.graduation
    exact = metres / lines.step_m
    steps = round(exact)
    fine = 1 if micrometer.vernier else VERNIER_LINES
    if abs(exact - steps) > _NEAR * max(1.0, abs(exact)) or steps % fine:
        raise MeasurementError(_between(exact, fine, micrometer))
    inside = steps - micrometer.frame * lines.frame_steps
    if not 0 <= inside <= lines.frame_steps:
        found = f"{steps / 10**lines.decimals:.{lines.decimals}f} {lines.unit}"
        raise MeasurementError(f"micrometer: found {found}, expected within a {micrometer.name}")
    turns, rest = divmod(inside, lines.minor_steps)
    major, minor = divmod(turns, lines.minors)
    thimble, vernier = divmod(rest, VERNIER_LINES)
    return ScaleReading(micrometer, major, minor, thimble, vernier)


def _between(exact: float, fine: int, micrometer: Micrometer) -> str:
    lines = micrometer.graduation
    decimals = lines.decimals if fine == 1 else lines.decimals - 1
    below = math.floor(exact / fine + _NEAR)
    beside = [f"{place * fine / 10**lines.decimals:.{decimals}f}" for place in (below, below + 1)]
    kind = "with a vernier" if micrometer.vernier else "without a vernier"
    found = f"{exact / 10**lines.decimals:.6g} {lines.unit}"
    return f"micrometer {kind}: found {found}, which lies between its lines {' and '.join(beside)}"


def _check(what: str, found: int, most: int) -> None:
    if not 0 <= found <= most:
        raise MeasurementError(f"{what}: found {found}, expected a whole number from 0 to {most}")
