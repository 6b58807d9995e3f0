"""What each fault does to the readings of two windings, as a table for the rebuilder."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.bar_walk import usual_feed
from barwise.machine.faults import (
    BarBridge,
    Fault,
    HighResistanceJoint,
    OpenCoil,
    ReversedCoil,
    ShortedCoil,
    TurnShort,
)
from barwise.machine.network import Network
from barwise.machine.winding import Winding

Array = NDArray[np.float64]

LAP = Winding("lap", poles=4, bars=32, turns_per_coil=4)
WAVE = Winding("wave", poles=4, bars=57, progression="retrogressive")
CLEAR = 0.2
"""Pairs whose healthy drop is less than this share of the largest are left out of the ratios."""


def signatures() -> str:
    """Readings over a healthy armature's, at the pairs a fault touches and at all others."""
    return "\n\n".join(
        f"**{name}**\n\n{_table(winding)}"
        for name, winding in (
            ("Lap, 4 poles, 32 bars, 4 turns a coil", LAP),
            ("Wave, 4 poles, 57 bars, 1 turn a coil", WAVE),
        )
    )


def _table(winding: Winding) -> str:
    place = winding.bars * 5 // 8
    faults: dict[str, Fault] = {
        "open coil": OpenCoil(place),
        "bad joint, coil 1.5 times": HighResistanceJoint(place, 1.5),
        "coil shorted dead": ShortedCoil(place, 0.0),
        "coil shorted through 0.4 of its resistance": ShortedCoil(place, 0.4),
        "1 turn of 4 shorted": TurnShort(place, 1, 0.0),
        "bars bridged": BarBridge(place, 0.0),
        "coil reversed": ReversedCoil(place),
    }
    if winding.turns_per_coil == 1:
        del faults["1 turn of 4 shorted"]
    if winding.kind == "lap":
        del faults["bars bridged"]
    head = "| fault | drop at its pairs | drop elsewhere | induced at its pairs | induced elsewhere |"
    rows = [_row(winding, name, fault) for name, fault in faults.items()]
    return "\n".join([head, "| --- | ---: | ---: | ---: | ---: |", *rows])


def _row(winding: Winding, name: str, fault: Fault) -> str:
    feed = usual_feed(winding)
    sound, faulty = Network(winding), Network(winding, (fault,))
    healthy = sound.bar_drop(feed)
    clear = np.abs(healthy) > CLEAR * np.abs(healthy).max()
    drop = faulty.bar_drop(feed) / healthy
    induced = faulty.induced() / sound.induced()
    touched = _pairs(winding, fault)
    cells = [
        _spread(drop[touched & clear]),
        _spread(drop[~touched & clear]),
        _spread(induced[touched]),
        _spread(induced[~touched]),
    ]
    return f"| {' | '.join([name, *cells])} |"


def _pairs(winding: Winding, fault: Fault) -> NDArray[np.bool_]:
    """Pairs of neighbouring bars between which the fault lies, shape (C,)."""
    bars = np.arange(1, winding.bars + 1)
    if isinstance(fault, BarBridge):
        return bars == fault.bar
    return np.array([fault.coil in winding.coils_between(int(bar)) for bar in bars])


def _spread(ratios: Array) -> str:
    """Percent of healthy, from lowest to highest."""
    low, high = (round(100 * float(x)) + 0 for x in (ratios.min(), ratios.max()))
    return f"{low} %" if low == high else f"{low} to {high} %"
