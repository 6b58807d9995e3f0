"""The assembly file: end play, pinion clearance, shims in the drawer, torque list and marks, in TOML.

See docs/assembly.md for the keys.
"""

from __future__ import annotations

from pathlib import Path

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_limits import entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text, shown
from barwise.inspect.assembly.bolts import NUT_FACTORS, PROOF_PA, Thread, thread_of
from barwise.inspect.assembly.judgement import AssemblyWork, Bolt, RingMesh
from barwise.inspect.assembly.mesh import Mesh
from barwise.inspect.assembly.orientation import WAYS, Marks, is_hour
from barwise.inspect.assembly.shims import MOST_PIECES, Goal, Shim
from barwise.measure.units import Unit

KIND = "a TOML file with [end_play] or [pinion_clearance], and a [[shim]] table for each kind in stock"

_TOP = ("end_play", "pinion_clearance", "setting", "most_pieces", "shim", "fitted", "mesh", "bolt", "marks")
_GOAL = ("now", "range", "moves")
_USUAL = {"end_play": {"shaft": -1.0}, "pinion_clearance": {"switch": 1.0}}
_SHIM = ("name", "thickness", "count", "places")
_FITTED = ("name", "thickness", "count", "place")
_MESH = ("pinion", "ring", "module", "diametral_pitch", "angle", "backlash", "wanted")
_BOLT = ("name", "torque", "thread", "grade", "surface", "tightened")
_MARKS = ("rotation", "switch")
_INCH = 0.0254


def load_assembly(path: str | Path) -> AssemblyWork:
    """Read an assembly file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_assembly(read_text(path, KIND), str(path))


def parse_assembly(text: str, name: str = "assembly.toml") -> AssemblyWork:
    """Read the text of an assembly file, called `name` in messages. Raises as `load_assembly`."""
    top = Table.of_file(text, name, KIND, 'now = "0.9 mm" under [end_play]')
    top.only(_TOP)
    if not any(top.has(key) for key in (*_USUAL, "mesh", "bolt", "marks")):
        raise InputError(name, "nothing to judge", KIND)
    setting = top.optional_quantity("setting", "length", least=0)
    goals, units = [], {}
    for key in _USUAL:
        if top.has(key):
            goal, unit = _goal(top.table(key), key, 0.0 if setting is None else setting.value)
            goals.append(goal)
            units[goal.name] = unit
    return AssemblyWork(
        goals=tuple(goals),
        units=units,
        stock=tuple(_shim(one, goals) for one in top.tables("shim")),
        fitted=_fitted(top, goals),
        most_pieces=top.whole("most_pieces", 0, MOST_PIECES, 4),
        mesh=_mesh(top.table("mesh")) if top.has("mesh") else None,
        bolts=tuple(_bolt(one) for one in top.tables("bolt")),
        marks=_marks(top.table("marks")),
    )


def _goal(table: Table, key: str, setting_m: float) -> tuple[Goal, Unit]:
    table.only(_GOAL)
    now = table.quantity("now", "length", least=0)
    bound = entered_limit(table, "range", "length", "at least")
    if bound is None or bound.limit.lower is None or bound.limit.upper is None:
        table.refuse(
            "range", "nothing" if bound is None else "one side", "two: the least and the most allowed"
        )
    moves = _moves(table, _USUAL[key])
    limit = bound.limit
    return (
        Goal(
            name=key.replace("_", " "),
            now=now.estimate,
            low_m=limit.lower or 0.0,
            high_m=limit.upper or 0.0,
            moves=moves,
            setting_m=setting_m,
        ),
        now.unit,
    )


def _moves(table: Table, usual: dict[str, float]) -> dict[str, float]:
    """Places of shims, and how much a unit of shim there moves this."""
    if not table.has("moves"):
        return usual
    given = table.table("moves")
    found = {key: given.checked_number(key, value, -10, 10) for key, value in given.values.items()}
    if not found:
        table.refuse("moves", "no place", "places with their share, such as { shaft = -1 }")
    return found


def _shim(table: Table, goals: list[Goal]) -> Shim:
    table.only(_SHIM)
    places = table.values.get("places", [])
    known = _places(goals)
    for one in places if isinstance(places, list) else [places]:
        if one not in known:
            table.refuse(
                "places", f"{one!s:.30}", f"places that [end_play] or [pinion_clearance] name: {known}"
            )
    thickness = table.quantity("thickness", "length", above=0, most=0.02)
    return Shim(
        name=table.words("name", thickness.entered),
        thickness_m=thickness.value,
        count=table.whole("count", 0, 1000, 1),
        uncertainty_m=thickness.standard_uncertainty,
        places=tuple(places) if isinstance(places, list) else (str(places),),
    )


def _fitted(top: Table, goals: list[Goal]) -> dict[str, tuple[Shim, ...]]:
    found: dict[str, list[Shim]] = {}
    known = _places(goals)
    for table in top.tables("fitted"):
        table.only(_FITTED)
        place = table.choice("place", known) if known else ""
        thickness = table.quantity("thickness", "length", above=0, most=0.02)
        name = table.words("name", thickness.entered)
        one = Shim(name, thickness.value, 1, thickness.standard_uncertainty)
        found.setdefault(place, []).extend([one] * table.whole("count", 1, MOST_PIECES, 1))
    return {place: tuple(some) for place, some in found.items()}


def _places(goals: list[Goal]) -> list[str]:
    return list(dict.fromkeys(place for goal in goals for place in goal.moves))


def _mesh(table: Table) -> RingMesh:
    table.only(_MESH)
    if table.has("module") == table.has("diametral_pitch"):
        table.refuse("module", "both or neither of module and diametral_pitch", "one of them")
    if table.has("module"):
        module = table.quantity("module", "length", above=0).value
    else:
        module = _INCH / table.number("diametral_pitch", 1, 100)
    wanted = entered_limit(table, "wanted", "length", "at least")
    if wanted is None:
        table.refuse("wanted", "nothing", 'the range, such as ["0.3 mm", "0.7 mm"]')
    backlash = table.quantity("backlash", "length", least=0)
    try:
        mesh = Mesh(
            table.whole("pinion", 5, 400),
            table.whole("ring", 6, 400),
            module,
            table.number("angle", 10, 35, 20.0),
        )
    except MeasurementError as error:
        found, _, expected = str(error).partition(": ")[2].removeprefix("found ").partition(", expected ")
        table.refuse("", found, expected)
    return RingMesh(mesh, backlash.estimate, wanted, backlash.unit)


def _bolt(table: Table) -> Bolt:
    table.only(_BOLT)
    torque = entered_limit(table, "torque", "torque", "at least")
    if torque is None:
        table.refuse("torque", "nothing", 'the sheet\'s range, such as ["60 lbf.in", "80 lbf.in"]')
    tightened = table.optional_quantity("tightened", "torque", above=0)
    unit = table.quantities("torque", "torque", above=0)[0].unit
    return Bolt(
        name=table.words("name"),
        torque=torque,
        unit=unit,
        thread=_thread(table),
        grade=table.choice("grade", list(PROOF_PA), "8.8"),
        surface=table.choice("surface", list(NUT_FACTORS), "dry"),
        tightened=None if tightened is None else tightened.estimate,
    )


def _thread(table: Table) -> Thread | None:
    if not table.has("thread"):
        return None
    try:
        return thread_of(table.words("thread"))
    except MeasurementError as error:
        found, _, expected = str(error).partition(": ")[2].removeprefix("found ").partition(", expected ")
        table.refuse("thread", found, expected)


def _marks(table: Table) -> tuple[Marks, ...]:
    """Pairs under [marks]: ``rotation = ["clockwise", "clockwise"]``, at teardown and at assembly."""
    table.only(_MARKS)
    found = []
    for key in table.values:
        pair = table.values[key]
        if not (isinstance(pair, list) and len(pair) == 2 and all(isinstance(one, str) for one in pair)):
            table.refuse(
                key, f"{pair!s:.40}", 'two: as marked at teardown, and as it is, ["2 o\'clock", "2:00"]'
            )
        for one in pair:
            if key == "switch" and not is_hour(one):
                table.refuse(key, shown(one), "an hour of the clock, such as 2 o'clock or 2:30")
            if key == "rotation" and one.strip().casefold() not in WAYS:
                table.refuse(key, shown(one), " or ".join(WAYS))
        found.append(Marks(key, *pair))
    return tuple(found)
