"""A frame's field coils and what was read across them, as the comparison takes it.

What is common practice here, no source: coils of one frame are alike to a percent or two; a clip or prod on a
two-wire ohmmeter brings in a hundredth of an ohm or two that changes with each touch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from barwise.errors import MeasurementError
from barwise.measure.decision import Limit
from barwise.measure.uncertainty import Estimate

Kind = Literal["series", "series-parallel", "compound", "permanent-magnet"]
Seen = Literal["drop", "resistance", "open"]

USUAL_SPREAD = 0.015
"""Relative standard deviation of healthy coils of one frame: common practice, no source."""

CONTACT_OHM = 0.02
"""Standard uncertainty of one touch of a two-wire ohmmeter [ohm]: common practice, no source."""

UNKNOWN_C = Estimate(20.0, 30 / math.sqrt(12))
"""Any shop from 5 to 35 °C: what a winding's temperature is taken for when nobody wrote it down."""

MOST_COILS = 12


@dataclass(frozen=True)
class Coil:
    """What lies between two places that were probed: one coil, or all coils of one path.

    `path` counts from 1; `turns` are all turns between the probes, None where nobody counted.
    """

    name: str
    path: int = 1
    turns: int | None = None


@dataclass(frozen=True)
class CoilReading:
    """One reading across one coil.

    Attributes
    ----------
    coil : int
        Index of the coil, from 0.
    seen : str
        A drop [V], a resistance [ohm] with the test leads taken off, or ``open``.
    value, uncertainty : float
        In SI; the uncertainty is this reading's own: last digit, contact.
    run : int
        Readings of one run were taken under one current; counts from 0.
    """

    coil: int
    seen: Seen
    value: float = math.nan
    uncertainty: float = 0.0
    run: int = 0


@dataclass(frozen=True)
class FieldCircuit:
    """One frame's coils with all that was read.

    Attributes
    ----------
    kind : str
        series, series-parallel, compound; a permanent-magnet frame has no coils.
    coils : tuple of Coil
    readings : tuple of CoilReading
    currents : tuple of Estimate or None
        Current [A] of each run; None where nobody read it.
    temperature : Estimate or None
        Of the coils [degC]. None widens what is held against the sheet, and nothing else.
    sheet : Limit or None
        Resistance of one coil [ohm] as the sheet allows it, at `sheet_c`.
    sheet_c : float
        [degC].
    spread : float
        Relative standard deviation of healthy coils of one frame.
    gain : float
        Relative standard uncertainty that all readings of the meter share.
    fed_together : bool
        The drops were read with all paths joined, as in the motor.
    """

    kind: Kind
    coils: tuple[Coil, ...]
    readings: tuple[CoilReading, ...]
    currents: tuple[Estimate | None, ...] = (None,)
    temperature: Estimate | None = None
    sheet: Limit | None = None
    sheet_c: float = 20.0
    spread: float = USUAL_SPREAD
    gain: float = 0.0
    fed_together: bool = False

    def __post_init__(self) -> None:
        _check_coils(self)
        for reading in self.readings:
            _check_reading(reading, self)
        if not (0 <= self.spread < 1 and 0 <= self.gain < 1):
            raise MeasurementError(
                f"spread and gain: found {self.spread:g} and {self.gain:g}, expected shares from 0 to below 1"
            )
        if self.sheet is not None and not (self.sheet.lower or 0) >= 0:
            raise MeasurementError("sheet: found a resistance below 0 ohm, expected above 0")

    @property
    def not_read(self) -> tuple[Coil, ...]:
        """Coils nobody put a probe on."""
        touched = {reading.coil for reading in self.readings}
        return tuple(coil for place, coil in enumerate(self.coils) if place not in touched)


def _check_coils(circuit: FieldCircuit) -> None:
    if circuit.kind == "permanent-magnet":
        raise MeasurementError(
            "fields: found permanent magnets, expected coils; magnets have nothing to read"
        )
    if not 1 <= len(circuit.coils) <= MOST_COILS:
        raise MeasurementError(f"coils: found {len(circuit.coils)}, expected 1 to {MOST_COILS}")
    for coil in circuit.coils:
        if coil.turns is not None and coil.turns < 2:
            raise MeasurementError(f"coil {coil.name}: found {coil.turns} turns, expected 2 or more")


def _check_reading(reading: CoilReading, circuit: FieldCircuit) -> None:
    if not 0 <= reading.coil < len(circuit.coils):
        raise MeasurementError(f"reading: found coil {reading.coil + 1}, expected one of the coils")
    if not 0 <= reading.run < len(circuit.currents):
        raise MeasurementError(f"reading: found run {reading.run + 1}, expected one of the runs")
    if reading.seen == "open":
        return
    name = circuit.coils[reading.coil].name
    if not (math.isfinite(reading.value) and reading.value > 0):
        raise MeasurementError(f"coil {name}: found {reading.value:g}, expected a reading above 0")
    if not (math.isfinite(reading.uncertainty) and reading.uncertainty >= 0):
        raise MeasurementError(
            f"coil {name}: found an uncertainty of {reading.uncertainty:g}, expected 0 or more"
        )
