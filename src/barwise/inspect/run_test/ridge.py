"""Where the posterior of a cause lies: several normal distributions along the size of its fault.

The readings fix four numbers and leave more than twice as many open. With a fault whose size reaches over
decades what is left is a bent ridge: one normal distribution about its best point misses its ends, and
intervals come out too narrow. So the other unknowns are fitted anew at some sizes along it, and the posterior
is taken as normal about each of these (as integrated nested Laplace approximations are: Rue, Martino and
Chopin, J. R. Statist. Soc. B 71, 2009, section 3; from memory).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from barwise.inspect.run_test.best import Best, refitted
from barwise.inspect.run_test.prediction import Problem
from barwise.inspect.run_test.sampling import Mixture, evened

Array = NDArray[np.float64]

_OVER_PRIOR, _APART = np.array([-2.2, -1.1, 0.0, 1.1, 2.2]), 1.1
"""Of two sizes the second is hardly fixed by any reading: places over its whole prior."""
_ABOUT_BEST, _WIDE = np.array([-5.0, -2.5, -1.0, 0.0, 1.0, 2.5]), 1.2
"""Of a single size: places in its own standard deviations; further out where the fault is small."""


def along_the_ridge(asked: Problem, best: Best, whitening: Array, size: int) -> Mixture:
    """Where a cause's posterior lies in its first `size` unknowns; `whitening` has the others in it."""
    nodes, window = _nodes(asked, best, size)
    middles, roots, masses = [], [], []
    for node in nodes:
        steep = whitening @ node.slopes[:, :size]
        root = np.linalg.inv(np.linalg.cholesky(steep.T @ steep + np.eye(size) + np.diag(window))).T
        middles.append(node.z[:size])
        roots.append(root)
        masses.append(float(np.linalg.slogdet(root)[1]) - 0.5 * node.cost)
    shares = evened(np.exp(np.array(masses) - max(masses)))
    return Mixture(shares, np.array(middles), np.array(roots))


def _nodes(asked: Problem, best: Best, size: int) -> tuple[list[Best], Array]:
    """The best points along the last size of the fault, and what narrows each to its stretch of it."""
    window, unknowns, held = np.zeros(size), best.cause.unknowns, size - 1
    if not unknowns:
        return [best], window
    places, apart = _OVER_PRIOR, _APART
    if unknowns == 1:
        spread = math.sqrt(float(np.linalg.inv(best.precision)[held, held]))
        places, apart = best.z[held] + spread * _ABOUT_BEST, _WIDE * spread
    window[held] = apart**-2.0
    return refitted(asked, best, held, places), window
