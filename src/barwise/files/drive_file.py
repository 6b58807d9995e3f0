"""The drive file: pinion, clutch, spline, springs, travel and lever as measured, in TOML.

See docs/drive.md for the keys.
"""

from __future__ import annotations

from pathlib import Path

from barwise.errors import InputError, MeasurementError
from barwise.files.entered_limits import Side, entered_limit
from barwise.files.entered_tables import Table
from barwise.files.text import read_text, shown
from barwise.inspect.drive.clutch import SlipTest, torque_of
from barwise.inspect.drive.measured import Drive, PinionTeeth, Sized
from barwise.inspect.finding import Bound
from barwise.machine.gear_teeth import USUAL_ANGLE_DEG, SpurGear, teeth_to_span
from barwise.measure.quantity import Quantity
from barwise.measure.uncertainty import Estimate
from barwise.measure.units import UNITS, Dimension, Unit

KIND = "a TOML file with [pinion], [clutch] or [sizes] tables of a drive"
INCH = 0.0254
MOST_TEETH = 200

_TOP = ("pinion", "clutch", "sizes", "limits")
_PINION = (
    "teeth", "module", "diametral_pitch", "pressure_angle", "shift", "spanned", "span", "thickness",
    "new", "minimum", "slides",
)  # fmt: skip
_CLUTCH = (
    "feels", "held", "held_pull", "held_arm", "slipped", "slipped_pull", "slipped_arm",
    "drag", "drag_pull", "drag_arm", "locked_torque", "reduction",
)  # fmt: skip
_SIZES: dict[str, tuple[Dimension, Side, str, str]] = {
    "chamfer": ("length", "at least", "pinion, chamfer", "New pinion: without it the ring gear is milled."),
    "spline_play": ("length", "at most", "spline, play", "New drive, or the armature's spline is gone."),
    "spring_length": ("length", "at least", "return spring, free length", "New spring."),
    "spring_force": ("force", "at least", "return spring, force", "New spring: the pinion drifts out."),
    "travel": ("length", "at least", "pinion, travel", "Look at the lever, the stop and the link."),
    "lever_play": ("length", "at most", "lever, play", "New lever, bush or pin: contacts close too early."),
}  # fmt: skip
_LIMITS = (*_SIZES, "slip", "drag")


def load_drive(path: str | Path) -> Drive:
    """Read a drive file.

    Raises
    ------
    InputError
        If it cannot be read, or a key is missing, unknown, of the wrong kind or at odds with another; names
        file, line and key, and what was expected.
    """
    path = Path(path)
    return parse_drive(read_text(path, KIND), str(path))


def parse_drive(text: str, name: str = "drive.toml") -> Drive:
    """Read the text of a drive file, called `name` in messages. Raises as `load_drive`."""
    top = Table.of_file(text, name, KIND, 'span = "11.52 mm"')
    top.only(_TOP)
    pinion, clutch = top.table("pinion"), top.table("clutch")
    sizes, limits = top.table("sizes"), top.table("limits")
    for table, known in ((pinion, _PINION), (clutch, _CLUTCH), (sizes, tuple(_SIZES)), (limits, _LIMITS)):
        table.only(known)
    teeth = _teeth(pinion)
    slip, slip_unit = _slip(clutch)
    drag, drag_unit = _torque(clutch, "drag")
    locked = clutch.optional_quantity("locked_torque", "torque", above=0)
    drive = Drive(
        teeth=teeth,
        slip=slip,
        slip_unit=slip_unit,
        slip_bound=entered_limit(limits, "slip", "torque", "at least"),
        locked=None if locked is None else locked.estimate,
        reduction=clutch.number("reduction", 0.1, 20.0, 1.0),
        drag=drag,
        drag_unit=drag_unit,
        drag_bound=entered_limit(limits, "drag", "torque", "at most"),
        feels=clutch.choice("feels", ("locks and runs free", "slips", "rough"))  # type: ignore[arg-type]
        if clutch.has("feels")
        else None,
        slides=pinion.flag("slides", True) if pinion.has("slides") else None,
        sizes=tuple(_sizes(sizes, limits)),
    )
    measured = (teeth.spans, teeth.thicknesses, slip, drag, drive.feels, drive.sizes)
    if not any(measured) and drive.slides is None:
        raise InputError(name, "nothing measured on the drive", KIND)
    return drive


def _teeth(table: Table) -> PinionTeeth:
    spans = table.quantities("span", "length", above=0, most=1.0)
    thicknesses = table.quantities("thickness", "length", above=0, most=0.1)
    if spans and thicknesses:
        table.refuse("thickness", "thicknesses beside spans", "one way of measuring the teeth")
    new = table.optional_quantity("new", "length", above=0)
    minimum = table.optional_quantity("minimum", "length", above=0)
    if new is not None and minimum is not None and minimum.value >= new.value:
        table.refuse("minimum", shown(minimum.entered), f"a minimum below the new size, {new.entered}")
    gear = _gear(table)
    spanned = table.whole("spanned", 1, MOST_TEETH) if table.has("spanned") else None
    if spanned is not None and gear is not None and spanned > gear.teeth // 2 + 1:
        table.refuse("spanned", str(spanned), f"at most {gear.teeth // 2 + 1} of {gear.teeth} teeth")
    if spans and spanned is None:
        advised = "" if gear is None else f" ({teeth_to_span(gear)} touch near the pitch circle)"
        table.refuse("span", "a span", f"pinion.spanned with it, the teeth between the jaws{advised}")
    return PinionTeeth(gear, table.has("shift"), spanned, spans, thicknesses, new, minimum)


def _gear(table: Table) -> SpurGear | None:
    """The gear's numbers, where its teeth and their size are given."""
    if table.has("module") and table.has("diametral_pitch"):
        table.refuse("diametral_pitch", "a diametral pitch beside a module", "one of them")
    if not table.has("module") and not table.has("diametral_pitch"):
        return None
    teeth = table.whole("teeth", 4, MOST_TEETH)
    if table.has("module"):
        module = table.quantity("module", "length", above=0, most=0.1).value
    else:
        module = INCH / table.number("diametral_pitch", 1, 200)
    angle = table.number("pressure_angle", 10, 35, USUAL_ANGLE_DEG)
    shift = table.number("shift", -1, 1.5, 0.0)
    try:
        return SpurGear(teeth, module, angle, shift)
    except MeasurementError as error:
        table.refuse("teeth", str(error), "a gear that can be")


def _slip(table: Table) -> tuple[SlipTest | None, Unit | None]:
    held, held_unit = _torque(table, "held")
    slipped, slipped_unit = _torque(table, "slipped")
    if held is not None and slipped is not None:
        table.refuse(
            "slipped" if table.has("slipped") else "slipped_pull", "both held and slipped", "one of them"
        )
    if slipped is not None:
        return SlipTest(slipped, "slipped"), slipped_unit
    return (None, None) if held is None else (SlipTest(held, "held"), held_unit)


def _torque(table: Table, key: str) -> tuple[Estimate | None, Unit | None]:
    """Off a torque wrench, or a pull at an arm; with the unit to say it in."""
    pull_key, arm_key = f"{key}_pull", f"{key}_arm"
    torque = table.optional_quantity(key, "torque", least=0)
    pull = table.optional_quantity(pull_key, "force", least=0)
    arm = table.optional_quantity(arm_key, "length", above=0)
    if torque is not None:
        if pull is not None or arm is not None:
            table.refuse(key, "a torque beside a pull or an arm", f"{key}, or {pull_key} and {arm_key}")
        return torque.estimate, torque.unit
    if (pull is None) != (arm is None):
        given, other = (pull_key, arm_key) if arm is None else (arm_key, pull_key)
        table.refuse(given, f"{given} alone", f"{other} with it")
    if pull is None or arm is None:
        return None, None
    return torque_of(pull.estimate, arm.estimate), _torque_unit(pull, arm)


def _torque_unit(pull: Quantity, arm: Quantity) -> Unit:
    if pull.unit.name in ("lbf", "ozf"):
        return UNITS["lbf.in" if arm.unit.name == "in" else "lbf.ft"]
    return UNITS["Nm"]


def _sizes(table: Table, limits: Table) -> list[Sized]:
    found = []
    for key, (dimension, side, part, then) in _SIZES.items():
        value = table.optional_quantity(key, dimension, least=0)
        bound: Bound | None = entered_limit(limits, key, dimension, side)
        if value is not None:
            found.append(Sized(part, value, bound, then))
    return found
