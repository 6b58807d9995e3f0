"""Whatever is read at the bench, a check comes to an outcome or says why not, and draws it.

Random readings, half of them beyond sense, at random places, with whatever the checks before came to.
"""

from __future__ import annotations

import random
from contextlib import suppress

import pytest

from barwise.errors import BarwiseError
from barwise.inspect.checks import Outcome, Taken
from barwise.measure.units import UNITS, names_of
from barwise.report.parts.check_picture import check_pictures
from barwise.route.deciding import decide
from barwise.route.family import Check, load_family
from barwise.route.sheet import ModelSheet, load_sheet, sheet_facts

FAMILY = load_family("starter")
SHEET = load_sheet("demo-57-wave")
PARTS = ("armature", "frame", "brushes", "switch", "drive", "bearings", "assembly", "handover")
SLOW = ("armature.winding",)
NOTES = (
    "4200 h",
    "0 h",
    "sun 12, ring 48, 3 planets",
    "sun 9 ring 9 3 planets",
    "driver 0 driven 3",
    "as it was",
)


VEHICLES = (
    "# nothing",
    'temperature = "-40 degC"\n[battery]\nvolts = "12 V"\nrated_current = "1 A"',
    '[[leg]]\nname = "ground"\nresistance = "0 ohm"',
    'battery = { volts = "24 V", rated_current = "600 A", charge = "0 %" }\n'
    'engine = { displacement = "0.1 L", cylinders = 1, fuel = "petrol", oil = "0W-8" }\n'
    "starter = { ratio = 40 }",
)


def some(rng: random.Random, check: Check, sheet: ModelSheet | None) -> tuple[Taken, ...]:
    if check.entry == "vehicle":
        return (Taken(None, rng.choice(VEHICLES)),)
    places = check.place_names({} if sheet is None else sheet_facts(sheet).facts) or ("",)
    read = []
    for place in places:
        at = (place,) if place else ()
        for _ in range(rng.choice([0, 1, 1, 2])):
            if check.entry == "number":
                unit = rng.choice(names_of(check.quantity))  # type: ignore[arg-type]
                number = rng.choice([0.0, 1e-4, rng.uniform(0, 2), rng.uniform(0, 100), rng.gauss(0, 1), 1e6])
                read.append(Taken(UNITS[unit].to_si(number), f"{number:.6g}", unit, at))
            else:
                said = [one.say for one in check.answers] or [*NOTES, "yes", "no"]
                read.append(Taken(None, rng.choice(said), "", at))
    return tuple(read)


@pytest.mark.parametrize("seed", range(12))
def test_any_readings_come_to_an_outcome_or_a_reason(seed: int) -> None:
    rng = random.Random(seed)
    sheet = rng.choice([SHEET, None])
    context: dict[str, Outcome] = {}
    for name, check in FAMILY.all_checks():
        station, _, key = name.partition(".")
        if station not in PARTS or name in SLOW:
            continue
        read = some(rng, check, sheet)
        with suppress(BarwiseError):
            found = decide(FAMILY, station, key, sheet, read, context)
            assert found.line
            if found.decision != "not taken":
                context[name] = found
            check_pictures(check.title, found, read)
