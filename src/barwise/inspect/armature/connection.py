"""Which connection the readings speak for, when nobody knows how the armature was wound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from barwise.errors import BarwiseError
from barwise.inspect.armature.assessment import explain
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Connection:
    """A winding, its probability among those asked about, and whether the readings tell it apart.

    `alike` lists the others that these readings cannot tell from it: they predict the same.
    """

    winding: Winding
    probability: float
    alike: tuple[Winding, ...]


SAME = 1.0
"""Log evidence within which two connections are not told apart."""


def infer_connection(
    windings: Sequence[Winding], readings: Sequence[Reading], meter_ohm: float | None = None
) -> tuple[Connection, ...]:
    """Probability of each winding given the readings, most probable first.

    Parameters
    ----------
    windings : sequence of Winding
        Those that fit bars, slots and poles; each as likely as the next before the readings.
    readings : sequence of Reading
    meter_ohm : float, optional
        As in `diagnose`.

    Returns
    -------
    tuple of Connection
        A winding that the readings cannot belong to (a feed it does not join) gets probability 0.
    """
    evidence = np.array([_evidence(w, readings, meter_ohm) for w in windings])
    if not np.isfinite(evidence).any():
        return tuple(Connection(w, 0.0, ()) for w in windings)
    share = np.exp(evidence - evidence.max())
    share /= share.sum()
    return tuple(
        Connection(
            windings[i],
            float(share[i]),
            tuple(w for j, w in enumerate(windings) if j != i and _close(evidence, i, j)),
        )
        for i in np.argsort(-share, kind="stable")
    )


def _close(evidence: Array, one: int, other: int) -> bool:
    both = np.isfinite(evidence[one]) and np.isfinite(evidence[other])
    return bool(both and abs(evidence[other] - evidence[one]) < SAME)


def _evidence(winding: Winding, readings: Sequence[Reading], meter_ohm: float | None) -> float:
    """Log evidence of the readings, summed over no fault and every explanation found."""
    try:
        weights = np.concatenate([e.weight for e in explain(winding, readings, meter_ohm)])
    except BarwiseError:
        return -np.inf
    return float(np.logaddexp.reduce(weights))
