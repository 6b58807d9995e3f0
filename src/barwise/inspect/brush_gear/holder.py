"""How freely a brush may lie in its holder, and how far the holder may stand off the commutator.

Sources
-------
ANSI/EASA AR100-2020, Recommended Practice for the Repair of Rotating Electrical Apparatus, table 2-12
(brush-to-brushholder clearance, after IEC 60136 table I) and, for the gap, AR100-2015, section 2, page 2.
"""

from __future__ import annotations

from bisect import bisect_right

from barwise.measure.decision import Limit

CLEARANCE_SOURCE = "ANSI/EASA AR100-2020 table 2-12, after IEC 60136"
GAP_SOURCE = "ANSI/EASA AR100-2015, section 2, page 2"

GAP = Limit(0.0015, 0.003)
"""From brush holder to commutator, depending on the size of the machine [m]."""

_CLEARANCE_MM = (
    (1.6, 0.044, 0.144),
    (3.2, 0.050, 0.158),
    (4.0, 0.050, 0.178),
    (6.3, 0.055, 0.193),
    (12.5, 0.072, 0.232),
    (20.0, 0.080, 0.254),
    (32.0, 0.100, 0.300),
    (64.0, 0.110, 0.330),
)
"""Nominal side of the brush from which a row holds, smallest and largest clearance [mm]."""
_LARGEST_MM = 80.0


def holder_clearance(side_m: float) -> Limit | None:
    """Clearance [m] between holder and brush along a side of this nominal size [m].

    Returns
    -------
    Limit or None
        None where the table does not reach.

    Examples
    --------
    >>> holder_clearance(0.008)
    Limit(lower=5.5e-05, upper=0.000193)
    """
    side = 1000 * side_m
    # A real brush is a little under its nominal size: a hundredth brings it back to its row.
    row = bisect_right([start for start, _, _ in _CLEARANCE_MM], side * 1.01) - 1
    if row < 0 or side > _LARGEST_MM * 1.01:
        return None
    _, least, most = _CLEARANCE_MM[row]
    return Limit(round(least * 1e-3, 9), round(most * 1e-3, 9))
