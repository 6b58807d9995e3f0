"""Turning on the journals compared with turning on centres that are out.

Turned on centres, the new surface is round about the centres' axis. If that lies e from the journals' axis
in a direction nobody knows, the clean-up diameter is 2 min (r - e cos(t - phi)), in the limacon
approximation, and the finished commutator runs out by 2 e on its journals however well it was turned.
Derived.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barwise.inspect.commutator.pattern import Array

DIRECTIONS = 36


@dataclass(frozen=True)
class OnCentres:
    """What centres out by `offset_m` cost.

    Attributes
    ----------
    cleanup_m, worst_cleanup_m : float
        Clean-up diameter on the mean over all directions, and in the worst one [m].
    extra_m : float
        How much more comes off the diameter than on the journals, on the mean [m].
    runout_m : float
        Run-out on the journals afterwards, 2 e [m].
    """

    offset_m: float
    cleanup_m: float
    worst_cleanup_m: float
    extra_m: float
    runout_m: float


def on_centres(lowest_m: Array, offset_m: float) -> OnCentres:
    """Compare with the journals.

    Parameters
    ----------
    lowest_m : ndarray, shape (S, C)
        Lowest radius of each bar in the band, for each draw [m].
    offset_m : float
        Distance of the centres' axis from the journals'; half of the run-out of the journals on centres [m].
    """
    bars = lowest_m.shape[1]
    theta = 2 * np.pi * np.arange(bars) / bars
    journals = 2 * lowest_m.min(axis=1)
    directions = 2 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS
    turned = np.array(
        [2 * float(np.median((lowest_m - offset_m * np.cos(theta - phi)).min(axis=1))) for phi in directions]
    )
    return OnCentres(
        offset_m=offset_m,
        cleanup_m=float(turned.mean()),
        worst_cleanup_m=float(turned.min()),
        extra_m=float(np.median(journals) - turned.mean()),
        runout_m=2 * offset_m,
    )
