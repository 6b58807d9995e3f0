"""Which connection the readings speak for, when nobody knows how the armature was wound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from barwise.errors import BarwiseError
from barwise.inspect.armature.assessment import SURE, explain
from barwise.machine.winding import Winding
from barwise.measure.readings import Reading

Array = NDArray[np.float64]
Aspect = Literal["kind", "poles", "plex", "progression"]


@dataclass(frozen=True)
class Connection:
    """A winding, its probability among those asked about, and whether the readings tell it apart.

    `alike` lists the others that these readings cannot tell from it: they predict the same.
    """

    winding: Winding
    probability: float
    alike: tuple[Winding, ...]


@dataclass(frozen=True)
class Question:
    """One thing to know of a winding, and what the readings say to it, most probable first."""

    about: Aspect
    answers: tuple[tuple[str | int, float], ...]

    @property
    def settled(self) -> bool:
        """Whether the first answer is sure enough to go by."""
        return self.answers[0][1] >= SURE


ASPECTS: tuple[Aspect, ...] = ("kind", "poles", "plex", "progression")
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
        for i in np.argsort(-np.round(share, 9), kind="stable")
    )


def questions(connections: Sequence[Connection]) -> tuple[Question, ...]:
    """What is open between these windings, and how probable each answer is."""
    out = []
    for about in ASPECTS:
        share: dict[str | int, float] = {}
        for connection in connections:
            answer = getattr(connection.winding, about)
            share[answer] = share.get(answer, 0.0) + connection.probability
        if len(share) > 1:
            out.append(Question(about, tuple(sorted(share.items(), key=lambda item: -round(item[1], 9)))))
    return tuple(out)


def same_circuit(one: Winding, other: Winding) -> bool:
    """Whether the coils of two windings join the same bars, so that no current fed tells them apart."""
    return one.bars == other.bars and _joined(one) == _joined(other)


def _joined(winding: Winding) -> set[frozenset[int]]:
    return {frozenset(winding.coil_bars(coil)) for coil in range(1, winding.bars + 1)}


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
