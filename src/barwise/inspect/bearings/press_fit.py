"""By how much the bore of a bush closes when it is pressed in, and what interference to press it with.

Bush and housing are two rings, one shrunk on the other: the interference is shared out between the bush that
gives inwards and the housing that gives outwards (Lame). A thin bush in a stiff housing closes by nearly all
of its interference. **That is the upper end**: part of the interference goes into smearing the roughness of
the two surfaces. How much is a rule of the trade, no source: between nothing and a quarter of it, taken as
equally likely. A bush sized afterwards with a mandrel takes the mandrel's size instead.

Sources
-------
Thick rings under pressure: G. Lame's solution as every textbook of machine design has it (from memory).
Moduli: handbooks, from memory; sintered bronze is porous and gives more, by how much depends on its make.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from barwise.errors import MeasurementError
from barwise.measure.uncertainty import Budget, Component, Estimate, propagate, rectangular

SMEARED = (0.0, 0.25)
"""Share of the interference that goes into the roughness, least and most: rule of the trade, no source."""


@dataclass(frozen=True)
class Ring:
    """What a bush or its housing is made of.

    `modulus_pa` with its standard uncertainty [Pa]; `poisson` without dimension.
    """

    name: str
    modulus_pa: float
    modulus_uncertainty_pa: float
    poisson: float


STEEL = Ring("steel", 205e9, 5e9, 0.29)
CAST_IRON = Ring("cast iron", 105e9, 15e9, 0.26)
ALUMINIUM = Ring("aluminium", 71e9, 3e9, 0.33)
BRONZE = Ring("bronze", 110e9, 5e9, 0.34)
SINTERED_BRONZE = Ring("sintered bronze", 55e9, 15e9, 0.25)
MATERIALS = (STEEL, CAST_IRON, ALUMINIUM, BRONZE, SINTERED_BRONZE)


@dataclass(frozen=True)
class PressFit:
    """A bush pressed home, sizes as diameters [m].

    Attributes
    ----------
    interference : Estimate
        Bush's outside less the housing's bore.
    closing : Estimate
        By how much the bush's bore gets smaller.
    bore : Estimate
        Its bore once it is in.
    pressure_pa : float
        Between bush and housing, without loss in the roughness.
    """

    interference: Estimate
    closing: Estimate
    bore: Estimate
    pressure_pa: float


def pressed_in(
    bush_bore: Estimate,
    bush_outside: Estimate,
    housing_bore: Estimate,
    housing_outside_m: float,
    bush: Ring = SINTERED_BRONZE,
    housing: Ring = CAST_IRON,
) -> PressFit:
    """What a bush's bore will be once it is pressed in.

    Parameters
    ----------
    bush_bore, bush_outside, housing_bore : Estimate
        Diameters before pressing [m].
    housing_outside_m : float
        Outside diameter of the boss it goes into [m].

    Raises
    ------
    MeasurementError
        If the diameters are not in their order, or the bush is loose in its housing.

    Notes
    -----
    With d the diameter where they meet, p the pressure and delta the interference on diameter:
    p = delta / (d [(kh + nuh) / Eh + (kb - nub) / Eb]), where kh = (D² + d²) / (D² - d²) and
    kb = (d² + b²) / (d² - b²); the bore b closes by 2 p d² b / (Eb (d² - b²)).

    Examples
    --------
    >>> sizes = [Estimate(mm * 1e-3, 1e-6) for mm in (12.05, 16.04, 16.00)]
    >>> found = pressed_in(*sizes, 26e-3, BRONZE, STEEL)
    >>> 0.02 < found.closing.value * 1e3 < 0.04
    True
    """
    _check(bush_bore, bush_outside, housing_bore, housing_outside_m)
    smeared = Estimate(sum(SMEARED) / 2, rectangular((SMEARED[1] - SMEARED[0]) / 2))
    moduli = [Estimate(one.modulus_pa, one.modulus_uncertainty_pa) for one in (bush, housing)]
    inputs = [bush_bore, bush_outside, housing_bore, smeared, *moduli]
    names = ["bush bore", "bush outside", "housing bore", "roughness", bush.name, f"housing, {housing.name}"]

    def closes(x: tuple[float, ...]) -> float:
        bore, outside, seat, lost, soft, stiff = x
        pressure = _pressure(
            (outside - seat) * (1 - lost), bore, seat, housing_outside_m, (soft, bush.poisson),
            (stiff, housing.poisson),
        )  # fmt: skip
        return 2 * pressure * seat**2 * bore / (soft * (seat**2 - bore**2))

    closing, budget = propagate(lambda x: closes(tuple(x)), inputs, names)
    left, bore_budget = propagate(lambda x: x[0] - closes(tuple(x)), inputs, names)
    interference = _less(bush_outside, housing_bore)
    full = _pressure(
        interference.value, bush_bore.value, housing_bore.value, housing_outside_m,
        (bush.modulus_pa, bush.poisson), (housing.modulus_pa, housing.poisson),
    )  # fmt: skip
    return PressFit(interference, budget.estimate(closing), bore_budget.estimate(left), full)


def _pressure(
    interference_m: float,
    bore_m: float,
    seat_m: float,
    outside_m: float,
    bush: tuple[float, float],
    housing: tuple[float, float],
) -> float:
    """Pressure between the rings [Pa]; each ring as modulus and Poisson's ratio."""
    outer = (outside_m**2 + seat_m**2) / (outside_m**2 - seat_m**2)
    inner = (seat_m**2 + bore_m**2) / (seat_m**2 - bore_m**2)
    gives = (outer + housing[1]) / housing[0] + (inner - bush[1]) / bush[0]
    return interference_m / (seat_m * gives)


def _less(larger: Estimate, smaller: Estimate) -> Estimate:
    parts = [
        Component(str(place), one.standard_uncertainty, 1.0, one.degrees_of_freedom)
        for place, one in enumerate((larger, smaller))
    ]
    return Budget(tuple(parts)).estimate(larger.value - smaller.value)


def _check(bore: Estimate, outside: Estimate, seat: Estimate, housing_outside_m: float) -> None:
    sizes = (bore.value, seat.value, housing_outside_m)
    if not all(math.isfinite(size) and size > 0 for size in (*sizes, outside.value)):
        raise MeasurementError(f"press fit: found {sizes}, expected diameters above 0")
    if not (bore.value < min(seat.value, outside.value) and seat.value < housing_outside_m):
        found = ", ".join(f"{size * 1e3:.4g} mm" for size in sizes)
        raise MeasurementError(
            f"press fit: found bush bore, housing bore and housing outside {found}, expected each larger"
        )
    if outside.value <= seat.value:
        raise MeasurementError(
            f"press fit: found a bush of {outside.value * 1e3:.4f} mm for a housing of "
            f"{seat.value * 1e3:.4f} mm, expected it to be larger: this bush would be loose"
        )
    if outside.value > 1.05 * seat.value:
        raise MeasurementError(
            f"press fit: found a bush {outside.value / seat.value:.3g} times as large as its housing's bore, "
            "expected a few thousandths more: another unit?"
        )
