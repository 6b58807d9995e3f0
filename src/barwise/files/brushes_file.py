"""The brushes file: a set of brushes with their springs and holders as measured, in TOML.

See docs/brush-gear.md for the keys.
"""

from __future__ import annotations

from pathlib import Path

from barwise.errors import InputError
from barwise.files.entered_limits import entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text, shown
from barwise.inspect.brush_gear.gear import Brush, BrushGear
from barwise.inspect.brush_gear.life import RATE_SPREAD, Use
from barwise.inspect.brush_gear.spring import SpringArm
from barwise.measure.quantity import Quantity

KIND = "a TOML file with a [brushes] table and a [[brush]] table for each brush"
MOST_BRUSHES = 24
MOST_USE = 1e9

_TOP = ("brushes", "use", "spring", "limits", "brush")
_BRUSHES = ("count", "new_length", "minimum_length", "width", "thickness", "holder_width", "holder_thickness")
_SPRING = ("read_at", "sheet_at", "scale_arm", "brush_arm")
_LIMITS = ("spring", "gap", "seated")
_BRUSH = ("name", "length", "spring", "moves", "seated", "gap")
_USES = {"hours": "h", "starts": "starts", "kilometres": "km", "miles": "miles"}
_PLACES = ("brush", "lever")


def load_brushes(path: str | Path) -> BrushGear:
    """Read a brushes file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_brushes(read_text(path, KIND), str(path))


def parse_brushes(text: str, name: str = "brushes.toml") -> BrushGear:
    """Read the text of a brushes file, called `name` in messages. Raises as `load_brushes`."""
    top = Table.of_file(text, name, KIND, 'new_length = "0.740 in"')
    top.only(_TOP)
    table, spring, limits = top.table("brushes", needed=True), top.table("spring"), top.table("limits")
    table.only(_BRUSHES)
    spring.only(_SPRING)
    limits.only(_LIMITS)
    new, minimum = _lengths(table)
    use, to_come, spread = _use(top.table("use"))
    return BrushGear(
        brushes=_brushes(top, table),
        new=new,
        minimum=minimum,
        width=table.optional_quantity("width", "length", above=0),
        thickness=table.optional_quantity("thickness", "length", above=0),
        holder_width=table.optional_quantity("holder_width", "length", above=0),
        holder_thickness=table.optional_quantity("holder_thickness", "length", above=0),
        use=use,
        to_come=to_come,
        rate_spread=spread,
        force=entered_limit(limits, "spring", "force", "at least"),
        sheet_at=spring.choice("sheet_at", _PLACES, "brush"),  # type: ignore[arg-type]
        read_at=spring.choice("read_at", _PLACES, "brush"),  # type: ignore[arg-type]
        arm=_arm(spring),
        gap=entered_limit(limits, "gap", "length", "at most"),
        seated=entered_limit(limits, "seated", "share", "at least"),
    )


def _lengths(table: Table) -> tuple[Quantity | None, Quantity | None]:
    new = table.optional_quantity("new_length", "length", above=0)
    minimum = table.optional_quantity("minimum_length", "length", above=0)
    if new is not None and minimum is not None and minimum.value >= new.value:
        wanted = f"a minimum below the new length, {new.entered}"
        table.refuse("minimum_length", shown(minimum.entered), wanted)
    return new, minimum


def _brushes(top: Table, table: Table) -> tuple[Brush, ...]:
    tables = top.tables("brush")
    if not tables:
        raise InputError(top.name, "no [[brush]] table", "one for each brush")
    if table.has("count"):
        count = table.whole("count", 1, MOST_BRUSHES)
        if count != len(tables):
            wanted = f"{count}, one for each brush; of one that was not measured give only the name"
            table.refuse("count", f"{count}, but {len(tables)} [[brush]] tables", wanted)
    brushes: list[Brush] = []
    for number, one in enumerate(tables, start=1):
        brush = _brush(one, str(number))
        if brush.name in {other.name for other in brushes}:
            one.refuse("name", f"{shown(brush.name)} a second time", "a name of its own for each brush")
        brushes.append(brush)
    return tuple(brushes)


def _brush(table: Table, usual_name: str) -> Brush:
    table.only(_BRUSH)
    moves = table.choice("moves", ("free", "sticks", "rocks")) if table.has("moves") else None
    return Brush(
        name=table.words("name", usual_name),
        lengths=table.quantities("length", "length", above=0, most=1.0),
        pulls=table.quantities("spring", "force", least=0),
        moves=moves,  # type: ignore[arg-type]
        seated=table.optional_quantity("seated", "share", least=0, most=1),
        gap=table.optional_quantity("gap", "length", least=0),
    )


def _use(table: Table) -> tuple[Use | None, float | None, float]:
    """Use so far, use to come in the same unit, and how much the rate may change."""
    table.only((*_USES, "to_come", "rate_spread"))
    given = [key for key in _USES if table.has(key)]
    if len(given) > 1:
        table.refuse(given[1], f"{given[1]} beside {given[0]}", "one measure of use")
    spread = table.optional_quantity("rate_spread", "share", above=0, most=2)
    rate = RATE_SPREAD if spread is None else spread.value
    if not given:
        if table.has("to_come"):
            table.refuse("to_come", "what is to come", f"what was so far with it: {', '.join(_USES)}")
        return None, None, rate
    low, high = _ends(table, given[0])
    to_come = table.number("to_come", 0, MOST_USE) if table.has("to_come") else None
    return Use(low, high, _USES[given[0]]), to_come, rate


def _ends(table: Table, key: str) -> tuple[float, float]:
    found = table.values[key]
    many = found if isinstance(found, list) else [found, found]
    wanted = f"a number above 0, or two such as {key} = [3500, 4500] if it was between them"
    if len(many) != 2:
        table.refuse(key, f"{len(many)} numbers", wanted)
    low, high = (table.checked_number(key, one, 0, MOST_USE) for one in many)
    if not 0 < low <= high:
        table.refuse(key, f"{low:g}" if low == high else f"{low:g} to {high:g}", wanted)
    return low, high


def _arm(table: Table) -> SpringArm | None:
    scale = table.optional_quantity("scale_arm", "length", above=0)
    brush = table.optional_quantity("brush_arm", "length", above=0)
    if (scale is None) != (brush is None):
        known, other = ("scale_arm", "brush_arm") if brush is None else ("brush_arm", "scale_arm")
        table.refuse(known, f"{known} alone", f"{other} with it")
    return None if scale is None or brush is None else SpringArm(scale.estimate, brush.estimate)
