"""An instrument as it is typed: figures in one unit, as its certificate has them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date
from decimal import Decimal

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.measure.units import UNITS, find_unit
from barwise.record.instruments import Figures
from barwise.record.models import Instrument
from barwise.record.typed import read_typed

QUANTITIES = {
    "length": "length: micrometer, caliper, indicator, gauge",
    "voltage": "voltage",
    "resistance": "resistance",
    "current": "current",
    "force": "force: spring scale",
    "torque": "torque",
    "speed": "speed",
    "time": "time",
    "pressure": "pressure",
    "temperature": "temperature",
}
COVERAGES = {"2": 2.0, "1": 1.0}
FIGURES = {
    "resolution": "resolution_si",
    "uncertainty": "calibration_standard_uncertainty_si",
    "repeatability": "repeatability_si",
}


@dataclass(frozen=True)
class Typed:
    """What was typed of an instrument, letter for letter; `unit` is the unit of its figures.

    `coverage` is the factor k the certificate states its uncertainty with, as most do with 2.
    """

    tag: str = ""
    kind: str = ""
    quantity: str = "length"
    unit: str = ""
    resolution: str = ""
    uncertainty: str = ""
    coverage: str = "2"
    repeatability: str = ""
    calibrated_on: str = ""
    due_on: str = ""

    def figures(self, *, decimal_comma: bool = False) -> Figures:
        """Its figures in SI.

        Raises
        ------
        InputError
            With the field as its place.
        """
        self.check_unit()
        read = {field: self._si(field, decimal_comma=decimal_comma) for field in FIGURES}
        if not read["resolution"]:
            found = shown(self.resolution) if self.resolution else "nothing"
            raise InputError("resolution", found, "the step of its last digit or line, such as 0.0001")
        if self.coverage not in COVERAGES:
            raise InputError("coverage", shown(self.coverage), "k = 2 or k = 1")
        return Figures(
            resolution_si=read["resolution"],
            calibration_standard_uncertainty_si=read["uncertainty"] / COVERAGES[self.coverage],
            repeatability_si=read["repeatability"],
            calibrated_on=_day("calibrated_on", self.calibrated_on),
            due_on=_day("due_on", self.due_on),
        )

    def check_unit(self) -> None:
        """Raise InputError if the unit is none, or measures something else than the instrument."""
        if self.quantity not in QUANTITIES:
            raise InputError("quantity", shown(self.quantity), f"one of {', '.join(QUANTITIES)}")
        unit = find_unit(self.unit)
        if unit is None or unit.dimension != self.quantity:
            wanted = f"a unit of {self.quantity}: {', '.join(units_of(self.quantity))}"
            raise InputError("unit", shown(self.unit) if self.unit else "nothing", wanted)

    def _si(self, field: str, *, decimal_comma: bool) -> float:
        text = getattr(self, field).strip()
        if not text:
            return 0.0
        try:
            typed = read_typed(text, self.unit, self.quantity, decimal_comma=decimal_comma)
        except InputError as error:
            raise InputError(field, error.found, error.expected) from None
        return typed.value_si - UNITS[typed.unit].zero  # a step of the scale, not a place on it


def typed_of(instrument: Instrument) -> Typed:
    """The form as it reads for an instrument that is there, its figures in its own unit."""
    unit = instrument.unit or units_of(instrument.quantity)[0]
    figures = {field: in_unit(getattr(instrument, name), unit) for field, name in FIGURES.items()}
    return Typed(
        tag=instrument.tag,
        kind=instrument.kind,
        quantity=instrument.quantity,
        unit=unit,
        calibrated_on="" if instrument.calibrated_on is None else instrument.calibrated_on.isoformat(),
        due_on="" if instrument.due_on is None else instrument.due_on.isoformat(),
        coverage="1",
        **figures,
    )


def typed_in(posted: Mapping[str, object]) -> Typed:
    """What the form sent."""
    return Typed(**{one.name: str(posted.get(one.name, one.default)).strip() for one in fields(Typed)})


def in_unit(value_si: float, unit: str) -> str:
    """A figure in a unit, as short as it was entered; empty for none."""
    return f"{Decimal(f'{value_si / UNITS[unit].factor:.10g}'):f}" if value_si else ""


def units_of(quantity: str) -> tuple[str, ...]:
    """Names of the units of one quantity."""
    return tuple(unit.name for unit in UNITS.values() if unit.dimension == quantity)


def _day(field: str, text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(field, shown(text), "a day such as 2026-03-31") from None
