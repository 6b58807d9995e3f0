"""How bad a fault is: its severity with a 95 % interval, in coil resistances and, where known, in ohm."""

from __future__ import annotations

import numpy as np

from barwise.inspect.armature.hypotheses import BAR_BRIDGE, BRIDGE, GROUND, JOINT
from barwise.inspect.armature.search import Explanations
from barwise.machine.faults import Fault, HighResistanceJoint, ShortedCoil, TurnShort

WIDE = 1.96
"""Standard deviations to either side of a 95 % interval."""
UNLIKE_COIL = 0.01
"""How far a sound coil's resistance may lie from its fellows' [1]: common practice, no source."""
UNLIKE_BRIDGE = 0.03
LEAST_BRIDGE = 0.003
"""How well the model knows a bridge: as a share of bridge and coil together, and of the coil alone [1]. Both
are set so that the intervals hold on made armatures (docs/armature-accuracy.md)."""


def how_bad(fitted: Explanations, row: int, fault: Fault, kind: int, place: int) -> dict[str, float]:
    """Severity of one fault of an explanation; nothing for a fault that has none."""
    fit, lay = fitted.fit, fitted.predictor.layout
    if kind not in (BRIDGE, JOINT, BAR_BRIDGE, GROUND):
        return {}
    sets = fit.hypotheses
    column = int(np.flatnonzero((sets.kind[row] == kind) & (sets.place[row] == place))[0])
    u = float(sets.severity[row, column])
    at = lay.severity + column
    sd = float(np.sqrt(max(fit.covariance[row, at, at], 0.0)))
    if kind == GROUND:
        low, high = max(0.0, u - WIDE * sd), min(1.0, u + WIDE * sd)
        return {"fraction": u, "fraction_low": low, "fraction_high": high}
    if isinstance(fault, HighResistanceJoint):
        coil_ohm = float(np.exp(fit.theta[row, lay.level])) if fitted.predictor.seen.direct else None
        return _joint(fault.factor, u, sd, coil_ohm)
    return _bridge(fault, u, sd, fitted.predictor.seen.winding.turns_per_coil)


def _joint(factor: float, u: float, sd: float, coil_ohm: float | None) -> dict[str, float]:
    spread = WIDE * float(np.hypot(sd, UNLIKE_COIL))
    low, high = max(1.0, float(np.exp(u - spread))), float(np.exp(u + spread))
    out = {"factor": factor, "factor_low": low, "factor_high": high}
    return out if coil_ohm is None else {**out, "added_ohm": (factor - 1) * coil_ohm}


def _bridge(fault: Fault, u: float, sd: float, turns_per_coil: int) -> dict[str, float]:
    low, high = bridge_interval(u, sd)
    out = {"bridge_ratio": float(np.exp(u)), "bridge_ratio_low": low, "bridge_ratio_high": high}
    if isinstance(fault, TurnShort):
        out["turns"] = float(fault.turns)
    if isinstance(fault, ShortedCoil):
        out["turns"] = float(turns_per_coil)
    return out


def bridge_interval(u: float, sd: float) -> tuple[float, float]:
    """A near-dead bridge is known to a share of the coil, and may be dead; others to a share of it."""
    ratio = float(np.exp(u))
    spread = float(np.hypot(sd, UNLIKE_BRIDGE * (1 + ratio)))
    half = WIDE * float(np.hypot(ratio * spread, LEAST_BRIDGE))
    low = min(ratio - half, ratio * float(np.exp(-WIDE * spread)))
    return max(0.0, low), max(ratio + half, ratio * float(np.exp(WIDE * spread)))
