"""What can be wrong with a starter, each as what it changes in the motor; the ranking follows.

A cause has no list of symptoms. It edits the motor (more friction, a joint of some ohms, a field with fewer
turns) by an amount that is not known beforehand, and `barwise.inspect.run_test.fit` asks how well the edited
motor explains the readings. How often each happens, and how large it usually is, is assumed, and stated here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.points import Sheet
from barwise.machine.motor import Floats, Motor, series_ohm

Array = NDArray[np.float64]
Behaviour = Literal["turns", "seized", "open", "grounded"]
Change = Callable[[Motor, Array, Sheet], Motor]

SHAPE_OF_EMF = 1.23
"""Mean square over square of the mean of a coil's EMF round a turn, as for a sine: pi squared over 8."""
USUAL_BARS = 30
USUAL_CORNER, _CORNER_SPREAD = 900.0, 0.9
"""Armature speed at which a shorted coil's leakage reactance equals its resistance, and its spread as a
logarithm: within a factor of six either way, as no published value was found (assumed) [rad/s]."""
_COILS, _COILS_SPREAD = 1.5, 0.7
"""Shorted armature coils: one or two, seldom more than six; part of one counts as part (assumed)."""
_LOST, _LOST_SPREAD = 0.17, 0.7
"""Share of the turns lost, and the spread of its odds: one whole coil of four is a quarter, some turns
of it are less, two coils are seldom (derived from the coils there are; the spread is assumed)."""
_DROP_SHARE, _DROP_SPREAD, _RISES, _RISES_SPREAD = 0.08, 0.8, 0.3, 0.9
"""Poor contact: further constant drop as a share of the nominal volts, further resistance as a share of the
motor's. About as wide as a bad joint's, so that neither is preferred for being narrow (assumed)."""


@dataclass(frozen=True)
class Cause:
    """One explanation.

    Attributes
    ----------
    key, title : str
        For programs, and for people.
    weight : float
        How often before anything is read, against the others (assumed).
    behaviour : str
        ``turns``; ``seized`` turns not at all; ``open`` takes no current; ``grounded`` takes all of it past
        the motor.
    unknowns : int
        Standard normals that say how large it is.
    change : callable or None
        The motor with it.
    severity : tuple of (name, callable)
        How large it is, by name with unit, from the sound and the changed motor.
    means : str
        What it means for the job, in the trade's words.
    """

    key: str
    title: str
    weight: float
    behaviour: Behaviour = "turns"
    unknowns: int = 0
    change: Change | None = None
    severity: tuple[tuple[str, Callable[[Motor, Motor], Floats]], ...] = ()
    means: str = ""


def causes_for(sheet: Sheet) -> tuple[Cause, ...]:
    """The explanations that this kind of motor allows, healthy first."""
    wound = sheet.field != "permanent-magnet"
    chosen = [_HEALTHY, _FRICTION, _SHORTED_ARMATURE, _OPEN_COIL, _BRUSHES, _JOINT]
    chosen += [_SHORTED_FIELD] if wound else [_WEAK_MAGNETS]
    chosen += [_OPEN_PATH] if wound and sheet.field_paths > 1 else []
    chosen += [_SHUNT_OPEN] if sheet.field == "compound" else []
    chosen += [_GROUNDED_WINDING, _DEAD_GROUND, _SEIZED, _NO_BRUSHES, _OPEN_ARMATURE]
    chosen += [_OPEN_FIELD] if wound else []
    return tuple(chosen)


def _friction(motor: Motor, size: Array, _sheet: Sheet) -> Motor:
    return replace(motor, friction_nm=motor.friction_nm * (1 + np.exp(np.log(1.5) + 0.8 * size[..., 0])))


def shorted_coils(motor: Motor, coils: Floats, sheet: Sheet) -> Motor:
    """The motor with some shorted armature coils.

    Notes
    -----
    With C coils in `a` paths and resistance Ra at the brushes a coil has r = a^2 Ra / C and, on the mean of a
    turn, e = a E / C. Shorted it wastes e^2 / r = E^2 / (C Ra), times the shape of its EMF (derived).
    """
    bars = sheet.bars or USUAL_BARS
    return replace(motor, short_s=coils * SHAPE_OF_EMF / (bars * np.asarray(motor.armature_ohm)))


def _shorted_armature(motor: Motor, size: Array, sheet: Sheet) -> Motor:
    shorted = shorted_coils(motor, np.exp(np.log(_COILS) + _COILS_SPREAD * size[..., 0]), sheet)
    return replace(shorted, short_corner_rad_s=np.exp(np.log(USUAL_CORNER) + _CORNER_SPREAD * size[..., 1]))


def _open_coil(motor: Motor, size: Array, sheet: Sheet) -> Motor:
    """One path of the armature carries nothing for most of a turn."""
    paths = max(2, sheet.armature_paths)
    full = paths / (paths - 1)
    share = 1 / (1 + np.exp(-(1.0 + size[..., 0])))
    return replace(motor, armature_ohm=motor.armature_ohm * (1 + (full - 1) * share))


def _brushes(motor: Motor, size: Array, sheet: Sheet) -> Motor:
    drop = np.exp(np.log(_DROP_SHARE * sheet.volts_v) + _DROP_SPREAD * size[..., 0])
    rises = np.exp(np.log(_RISES) + _RISES_SPREAD * size[..., 1])
    return replace(motor, brush_v=motor.brush_v + drop, brush_ohm=motor.brush_ohm + series_ohm(motor) * rises)


def _joint(motor: Motor, size: Array, _sheet: Sheet) -> Motor:
    return replace(motor, joint_ohm=series_ohm(motor) * np.exp(np.log(0.8) + 1.0 * size[..., 0]))


def _shorted_field(motor: Motor, size: Array, _sheet: Sheet) -> Motor:
    odds = np.log(_LOST / (1 - _LOST)) + _LOST_SPREAD * size[..., 0]
    return replace(motor, lost_turns=1 / (1 + np.exp(-odds)))


def _weak_magnets(motor: Motor, size: Array, _sheet: Sheet) -> Motor:
    lost = 1 / (1 + np.exp(-(-1.4 + 0.7 * size[..., 0])))
    return replace(motor, flux_vs=motor.flux_vs * (1 - lost))


def _open_path(motor: Motor, _size: Array, _sheet: Sheet) -> Motor:
    return replace(motor, open_paths=1.0)


def _shunt_open(motor: Motor, _size: Array, _sheet: Sheet) -> Motor:
    return replace(motor, shunt_ohm=np.inf)


def _grounded(motor: Motor, size: Array, _sheet: Sheet) -> Motor:
    leak = np.exp(np.log(0.12) + 0.9 * size[..., 0]) / np.asarray(series_ohm(motor))
    place = 1 / (1 + np.exp(-(1.5 + 1.2 * size[..., 1])))
    return replace(motor, ground_s=leak, ground_place=place)


def _milliohms(name: str) -> tuple[str, Callable[[Motor, Motor], Floats]]:
    return name, lambda sound, motor: series_ohm(motor) - series_ohm(sound)


_HEALTHY = Cause("healthy", "nothing wrong", 8.0, means="It runs as a sound one of its model does.")
_FRICTION = Cause(
    "friction",
    "too much friction: bushes, bent shaft, loose pole shoe dragging",
    2.0,
    unknowns=1,
    change=_friction,
    severity=(("drag_nm", lambda sound, motor: motor.friction_nm - sound.friction_nm),),
    means="Turn it by hand, look for rub marks on core and pole shoes, measure bushes and shaft.",
)
_SHORTED_ARMATURE = Cause(
    "shorted-armature",
    "shorted armature coils",
    1.5,
    unknowns=2,
    change=_shorted_armature,
    severity=(("shorted_s", lambda _sound, motor: motor.short_s),),
    means="Armature out: drop test or exciter, look for a coil that went dark or threw its solder.",
)
_OPEN_COIL = Cause(
    "open-armature-coil",
    "an open armature coil",
    1.0,
    unknowns=1,
    change=_open_coil,
    severity=(_milliohms("more_ohm"),),
    means="Look for burnt bar edges one pole pitch apart; drop test round the commutator.",
)
_BRUSHES = Cause(
    "brush-contact",
    "poor brush contact: worn brushes, weak springs, dirty commutator, high mica",
    1.7,
    unknowns=2,
    change=_brushes,
    severity=(("drop_v", lambda sound, motor: motor.brush_v - sound.brush_v), _milliohms("more_ohm")),
    means="Measure brush length and spring force, look at the commutator and its mica.",
)
_JOINT = Cause(
    "high-resistance",
    "a joint, lead or terminal of high resistance",
    1.7,
    unknowns=1,
    change=_joint,
    severity=(("joint_ohm", lambda _sound, motor: motor.joint_ohm),),
    means="Drop from stud to brush with current on: the joint with the volts is bad, and it gets hot.",
)
_SHORTED_FIELD = Cause(
    "shorted-field",
    "shorted turns in the field",
    1.2,
    unknowns=1,
    change=_shorted_field,
    severity=(("lost_share", lambda _sound, motor: motor.lost_turns),),
    means="Drop over each coil at one current: the coil that reads low is shorted.",
)
_WEAK_MAGNETS = Cause(
    "weak-magnets",
    "weak, cracked or loose magnets",
    1.2,
    unknowns=1,
    change=_weak_magnets,
    severity=(("lost_share", lambda sound, motor: 1 - motor.flux_vs / sound.flux_vs),),
    means="Look at each magnet and its glue, and for one put in the wrong way round.",
)
_OPEN_PATH = Cause(
    "open-field-path",
    "one field path of several open",
    1.2,
    change=_open_path,
    means="Drop over each coil at one current: the open path carries none. Look at its joints.",
)
_SHUNT_OPEN = Cause(
    "shunt-open",
    "shunt coil open or off its ground",
    0.8,
    change=_shunt_open,
    means="Measure the shunt coil alone, lead to ground.",
)
_GROUNDED_WINDING = Cause(
    "grounded-winding",
    "armature or field grounded inside",
    1.0,
    unknowns=2,
    change=_grounded,
    severity=(("leak_ohm", lambda _sound, motor: 1 / np.asarray(motor.ground_s)),),
    means="Insulation test of armature, fields and brush holders apart from each other.",
)
_DEAD_GROUND = Cause(
    "dead-ground",
    "terminal or field directly grounded",
    0.7,
    behaviour="grounded",
    unknowns=1,
    means="Insulation of stud and fields to the housing.",
)
_SEIZED = Cause(
    "seized",
    "seized: bushes, drive or armature hold it fast",
    0.7,
    behaviour="seized",
    means="Turn it by hand, first with, then without the end plates tight.",
)
_NO_BRUSHES = Cause(
    "brushes-not-touching",
    "brushes do not touch: stuck, worn out, springs broken, high mica",
    1.0,
    behaviour="open",
    means="Look at the brushes in their holders, spring by spring.",
)
_OPEN_FIELD = Cause(
    "open-field", "open field circuit", 0.7, behaviour="open", means="Lamp from stud to brush lead."
)
_OPEN_ARMATURE = Cause(
    "open-armature",
    "open armature: solder thrown from the risers",
    0.5,
    behaviour="open",
    means="Look at the risers; lamp from bar to bar.",
)
