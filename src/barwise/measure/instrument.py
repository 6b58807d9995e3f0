"""What an instrument can be trusted for, and what a warm part measures at 20 °C.

Sources
-------
JCGM 100:2008 (from memory): 4.2.3 repeats, 4.3.3 certificate, F.2.2.1 resolution.
ISO 1:2022, Standard reference temperature for the specification of geometrical and dimensional properties:
20 °C (from memory).
Steel 11.5e-6 per K: D. A. Swyt, Length and dimensional measurements at NIST, Journal of Research of the
National Institute of Standards and Technology 99, 31 (1994). The values of one steel in three references
differ by up to 3e-6 (NIST Engineering Metrology Toolbox, temperature), so a half-width of 1e-6 is taken
for the steel of a gauge. Copper 16.5e-6 to 17e-6 per K: handbooks, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import (
    Budget,
    Component,
    Estimate,
    from_expanded,
    last_digit,
    mean_of,
    propagate,
    rectangular,
)

REFERENCE_C = 20.0


@dataclass(frozen=True)
class Instrument:
    """A measuring instrument for lengths.

    Parameters
    ----------
    resolution_m : float
        Step of its scale, or what is read between its lines [m].
    calibration_standard_uncertainty_m : float
        From its certificate, with k taken out [m].
    repeatability_m : float
        Standard deviation of one person reading one place again and again [m].
    calibrated_on : str, optional
        As written on the certificate.

    Raises
    ------
    MeasurementError
        If a figure is negative or not finite.
    """

    name: str
    resolution_m: float
    calibration_standard_uncertainty_m: float = 0.0
    repeatability_m: float = 0.0
    calibrated_on: str | None = None

    def __post_init__(self) -> None:
        figures = (self.resolution_m, self.calibration_standard_uncertainty_m, self.repeatability_m)
        if not all(math.isfinite(figure) and figure >= 0 for figure in figures):
            raise MeasurementError(f"{self.name}: found {figures}, expected figures of 0 m or more")

    def with_certificate(self, expanded_m: float, factor: float = 2.0) -> Instrument:
        """The same instrument with the calibration of a certificate that states U and k."""
        return replace(self, calibration_standard_uncertainty_m=from_expanded(expanded_m, factor))

    def budget(self, repeats: int = 1) -> Budget:
        """Where the uncertainty of a mean of `repeats` readings comes from [m].

        Notes
        -----
        Only the repeatability shrinks with repeats. The scale's step does not: the same part on the same
        scale rounds the same way each time.
        """
        if repeats < 1:
            raise MeasurementError(f"{self.name}: found {repeats} repeats, expected 1 or more")
        return Budget(
            (
                Component("resolution", last_digit(self.resolution_m)),
                Component("calibration", self.calibration_standard_uncertainty_m),
                Component("repeatability", self.repeatability_m / math.sqrt(repeats)),
            )
        )

    def standard_uncertainty_m(self, repeats: int = 1) -> float:
        """Standard uncertainty [m] of a mean of `repeats` readings."""
        return self.budget(repeats).standard_uncertainty

    @property
    def fixed_uncertainty_m(self) -> float:
        """Standard uncertainty [m] that no repeating takes away."""
        return math.hypot(last_digit(self.resolution_m), self.calibration_standard_uncertainty_m)


@dataclass(frozen=True)
class Measured:
    """A value measured once or more with one instrument.

    Attributes
    ----------
    value_m : float
        Mean of the readings [m].
    budget : Budget
        Where the uncertainty of that mean comes from [m].
    repeats : int
        Readings behind the mean.
    repeatability_m, fixed_uncertainty_m : float
        Standard deviation of one reading, and what repeating does not take away [m].
    estimated : bool
        Whether that standard deviation is seen only in these readings.
    """

    value_m: float
    budget: Budget
    repeats: int
    repeatability_m: float
    fixed_uncertainty_m: float
    estimated: bool = False


def measured(instrument: Instrument, readings_m: Sequence[float], repeats: int | None = None) -> Measured:
    """Mean of repeated readings with what stands behind it.

    Parameters
    ----------
    instrument : Instrument
        With a repeatability of its own, that is taken as well known. Without one it is estimated from
        the readings, if there are two or more, with as few degrees of freedom as they leave.
    readings_m : sequence of float
        Readings [m].
    repeats : int, optional
        When the one value given is already a mean of so many.

    Raises
    ------
    MeasurementError
        If there is no reading, or `repeats` does not go with them.
    """
    if not readings_m or (repeats is not None and len(readings_m) > 1):
        found = f"{len(readings_m)} values and repeats {repeats}"
        raise MeasurementError(f"repeats: found {found}, expected the readings, or one mean and their number")
    mean = math.fsum(readings_m) / len(readings_m)
    count = len(readings_m) if repeats is None else repeats
    budget, fixed = instrument.budget(count), instrument.fixed_uncertainty_m
    if instrument.repeatability_m > 0 or len(readings_m) < 2:
        return Measured(mean, budget, count, instrument.repeatability_m, fixed)
    seen = mean_of(readings_m)
    part = Component("repeatability", seen.standard_uncertainty, 1.0, seen.degrees_of_freedom)
    spread = seen.standard_uncertainty * math.sqrt(count)
    return Measured(mean, Budget((*budget.components[:-1], part)), count, spread, fixed, estimated=True)


@dataclass(frozen=True)
class Material:
    """What a part is made of, as far as warmth goes [1/K]."""

    name: str
    expansion_per_k: float
    expansion_uncertainty_per_k: float = 0.0


STEEL = Material("steel", 11.5e-6, rectangular(1e-6))
COPPER = Material("copper", 16.5e-6, rectangular(0.5e-6))


def at_reference(
    read: Estimate,
    part_c: Estimate,
    part: Material = COPPER,
    instrument_c: Estimate | None = None,
    instrument: Material = STEEL,
) -> tuple[float, Budget]:
    """Length at 20 °C of a part that was measured warm or cold.

    Parameters
    ----------
    read : Estimate
        As read from the scale [m].
    part_c, instrument_c : Estimate
        Temperatures [degC]. Without `instrument_c` the instrument has the part's temperature, as after
        lying beside it for an hour, and the two are wrong together.

    Returns
    -------
    value : float
        Length at 20 °C [m].
    budget : Budget
        Reading, temperatures and expansions.

    Notes
    -----
    A warm instrument reads short, a warm part is long: L = R (1 + αi (Ti - 20)) / (1 + αp (Tp - 20)).

    Examples
    --------
    >>> warm = at_reference(Estimate(0.040, 0.0), Estimate(30.0, 0.0))[0]
    >>> round((0.040 - warm) * 1e6, 2)
    2.0
    """
    expansions = (
        Estimate(part.expansion_per_k, part.expansion_uncertainty_per_k),
        Estimate(instrument.expansion_per_k, instrument.expansion_uncertainty_per_k),
    )
    names = ["reading", f"expansion of {part.name}", f"expansion of {instrument.name}"]
    if instrument_c is None:
        together = [read, *expansions, part_c]
        return propagate(lambda x: _cold(x[0], x[1], x[2], x[3], x[3]), together, [*names, "temperature"])
    apart = [read, *expansions, part_c, instrument_c]
    places = ["temperature of the part", "temperature of the instrument"]
    return propagate(lambda x: _cold(*x), apart, [*names, *places])


def _cold(read: float, part: float, instrument: float, part_c: float, instrument_c: float) -> float:
    return read * (1 + instrument * (instrument_c - REFERENCE_C)) / (1 + part * (part_c - REFERENCE_C))
