"""The unit table against pint, an independent library, and against the definition of the inch."""

import pint
import pytest

from barwise.measure.units import UNITS, find_unit, names_of

SI = {
    "voltage": "volt",
    "resistance": "ohm",
    "current": "ampere",
    "length": "metre",
    "force": "newton",
    "torque": "newton * metre",
    "speed": "radian / second",
    "time": "second",
    "pressure": "pascal",
    "temperature": "degC",
    "share": "dimensionless",
    "area": "metre ** 2",
    "volume": "metre ** 3",
    "inertia": "kilogram * metre ** 2",
}
PINT_NAME = {
    "mohm": "milliohm",
    "Mohm": "megaohm",
    "um": "micrometer",
    "uV": "microvolt",
    "kgf": "kilogram_force",
    "lbf": "pound_force",
    "ozf": "ounce_force",
    "Nm": "newton * metre",
    "lbf.ft": "pound_force * foot",
    "lbf.in": "pound_force * inch",
    "%": "percent",
    "mm2": "millimetre ** 2",
    "cm3": "centimetre ** 3",
    "in3": "inch ** 3",
    "kg.m2": "kilogram * metre ** 2",
}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", UNITS)
def test_every_factor_agrees_with_pint(name: str, registry: pint.UnitRegistry) -> None:
    """Source: pint's default registry, a reference library independent of this table."""
    unit = UNITS[name]
    theirs = registry.Quantity(1.0, PINT_NAME.get(name, name)).to(SI[unit.dimension]).magnitude
    assert unit.to_si(1.0) == pytest.approx(theirs, rel=1e-12)
    assert unit.from_si(theirs) == pytest.approx(1.0, rel=1e-12)


def test_a_bare_m_is_a_metre_and_never_a_thousandth() -> None:
    metre = find_unit("m")
    assert metre is not None
    assert metre.dimension == "length"


def test_an_inch_is_exactly_25_4_millimetres() -> None:
    """Source: NIST Special Publication 811, 2008, B.8: 1 in = 2.54 E-02 m exact (from memory)."""
    assert UNITS["in"].factor == 0.0254
    assert UNITS["in"].factor / UNITS["thou"].factor == pytest.approx(1000, rel=1e-12)


def test_small_m_is_milli_and_capital_m_is_mega() -> None:
    """Source: SI Brochure, 9th edition, 2019, table 7 (from memory): m is 10^-3, M is 10^6."""
    assert UNITS["Mohm"].factor / UNITS["mohm"].factor == pytest.approx(1e9)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("mΩ", "mohm"),
        ("MΩ", "Mohm"),
        ("k\N{OHM SIGN}", "kohm"),
        ("\N{MICRO SIGN}V", "uV"),
        ("\N{GREEK SMALL LETTER MU}V", "uV"),
        (" mV ", "mV"),
        ("MOhm", "Mohm"),
        ("ohms", "ohm"),
        ("°C", "degC"),
        ("°F", "degF"),
        ("oz", "ozf"),
        ("lb-ft", "lbf.ft"),
    ],
)
def test_the_usual_signs_and_spellings_are_understood(written: str, name: str) -> None:
    unit = find_unit(written)
    assert unit is not None
    assert unit.name == name


@pytest.mark.parametrize("written", ["MOHM", "MV", "mv", "", "volt"])
def test_a_spelling_that_could_mean_two_units_is_not_taken(written: str) -> None:
    assert find_unit(written) is None


def test_units_are_listed_by_dimension() -> None:
    assert names_of("voltage") == ("V", "mV", "uV")
    assert names_of("resistance") == ("ohm", "mohm", "kohm", "Mohm")
