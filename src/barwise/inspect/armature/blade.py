"""What a steel strip held over the slots says: it buzzes where a coil below carries a large current."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from barwise.errors import WindingError
from barwise.inspect.armature.hypotheses import Hypotheses, exciter_ports
from barwise.inspect.armature.prediction import Predictor
from barwise.machine.exciter import CoilImpedance, Exciter
from barwise.machine.kernel import exciter_kernel
from barwise.machine.network import BUZZ_SHARE, coil_currents

Array = NDArray[np.float64]

HEARD_RIGHT = 0.97
"""A strip is heard right this often where the current is clear: common practice, no source."""


def blade_log_likelihood(predictor: Predictor, hypotheses: Hypotheses) -> Array:
    """Log probability of every blade reading under each hypothesis, shape (H,).

    Raises
    ------
    WindingError
        If the winding's slots are not known.
    """
    seen = predictor.seen
    if not seen.blade:
        return np.zeros(len(hypotheses))
    slots = _slots_of_coils(predictor)
    share = _largest_current(predictor, hypotheses)
    out = np.zeros(len(hypotheses))
    for _, slot, buzzed in seen.blade:
        over = share[:, slots[slot]].max(axis=1) if slots[slot] else np.zeros(len(hypotheses))
        # half sure where the current is just enough to buzz
        clear = 1 / (1 + (BUZZ_SHARE / np.maximum(over, 1e-9)) ** 3)
        buzz = (1 - HEARD_RIGHT) + (2 * HEARD_RIGHT - 1) * clear
        out += np.log(buzz if buzzed else 1 - buzz)
    return out


def blade_gain(predictor: Predictor, hypotheses: Hypotheses) -> Array:
    """Log odds that the slots read could give for each hypothesis over no fault, shape (H,)."""
    if not predictor.seen.blade:
        return np.zeros(len(hypotheses))
    slots = _slots_of_coils(predictor)
    share = _largest_current(predictor, hypotheses)
    read = {slot for _, slot, _ in predictor.seen.blade}
    buzzing = sum((share[:, slots[s]].max(axis=1) > BUZZ_SHARE).astype(float) for s in read if slots[s])
    return np.asarray(buzzing * np.log(HEARD_RIGHT / (1 - HEARD_RIGHT)))


def _slots_of_coils(predictor: Predictor) -> list[list[int]]:
    """Coils (from 0) with a side in each slot."""
    winding = predictor.seen.winding
    if winding.slots is None:
        raise WindingError("blade readings need the slots of the core; give [winding] slots")
    held: list[list[int]] = [[] for _ in range(winding.slots)]
    for coil in range(1, winding.bars + 1):
        for slot in winding.coil_slots(coil):
            held[slot - 1].append(coil - 1)
    return held


def _largest_current(predictor: Predictor, hypotheses: Hypotheses) -> Array:
    """Each coil's current on a usual exciter over a dead-shorted coil's, shape (H, C)."""
    impedance = CoilImpedance()
    kernel = exciter_kernel(predictor.seen.winding, Exciter(), impedance, kinds=3)
    state = np.zeros(len(hypotheses), dtype=np.intp)
    ohm = np.full(len(hypotheses), float(np.asarray(impedance.resistance)))
    return coil_currents(kernel, state, exciter_ports(hypotheses), ohm)
