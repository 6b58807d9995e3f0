"""Is the measuring itself good enough: repeatability and reproducibility from people and parts.

Some parts are measured several times by several people. Analysis of variance with parts, people and
their interaction as random effects splits the spread: EV (the instrument on the same part in the same
hands), AV (between people, the interaction included when it is kept), GRR (both), PV (between parts).
One person alone makes a study of repeatability: one-way analysis of variance over the parts.

Sources
-------
Automotive Industry Action Group, Measurement Systems Analysis, 4th edition, 2010, chapter III (from
memory): the ANOVA method, pooling of an interaction that does not show, number of distinct categories
1.41 PV / GRR.
S. B. Vardeman and E. S. Van Valkenburg, Two-way random-effects analyses and gauge R&R studies,
Technometrics 41 (1999) (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from barwise.errors import MeasurementError

POOL_ABOVE = 0.25
"""An interaction as large as found, or larger, by chance this often is taken for none (handbook's usual)."""


@dataclass(frozen=True)
class Source:
    """One line of the table of variance: sum of squares, degrees of freedom, mean square."""

    sum_of_squares: float
    degrees_of_freedom: int

    @property
    def mean_square(self) -> float:
        """Sum of squares over degrees of freedom; 0 with none."""
        return self.sum_of_squares / self.degrees_of_freedom if self.degrees_of_freedom else 0.0


@dataclass(frozen=True)
class GaugeStudy:
    """What the study found. Variances are in the reading's unit squared, spreads in its unit.

    Attributes
    ----------
    part, operator, interaction, error : Source
        Table of variance, the interaction always on its own line.
    interaction_chance : float
        Probability of an interaction this large when there is none (F test).
    pooled : bool
        Whether the interaction was put into the repeatability.
    repeatability_variance, operator_variance, interaction_variance, part_variance : float
        Components; one that comes out negative counts as 0 and stands in `negative`.
    """

    part: Source
    operator: Source
    interaction: Source
    error: Source
    interaction_chance: float
    pooled: bool
    repeatability_variance: float
    operator_variance: float
    interaction_variance: float
    part_variance: float
    negative: tuple[str, ...]

    @property
    def parts(self) -> int:
        """How many parts were measured."""
        return self.part.degrees_of_freedom + 1

    @property
    def people(self) -> int:
        """How many people measured; with one nothing is known of what differs between people."""
        return self.operator.degrees_of_freedom + 1

    @property
    def repeats(self) -> int:
        """How often each measured each part."""
        return self.error.degrees_of_freedom // (self.parts * self.people) + 1

    @property
    def equipment_variation(self) -> float:
        """EV: standard deviation of one person on one part."""
        return math.sqrt(self.repeatability_variance)

    @property
    def appraiser_variation(self) -> float:
        """AV: standard deviation between people, on all parts and on some."""
        return math.sqrt(self.operator_variance + self.interaction_variance)

    @property
    def gauge_variation(self) -> float:
        """GRR: EV and AV together."""
        return math.hypot(self.equipment_variation, self.appraiser_variation)

    @property
    def part_variation(self) -> float:
        """PV: standard deviation between parts."""
        return math.sqrt(self.part_variance)

    @property
    def total_variation(self) -> float:
        """TV: GRR and PV together."""
        return math.hypot(self.gauge_variation, self.part_variation)

    def percent_of_total(self, variation: float) -> float:
        """A spread against the total spread, percent. These do not add up to 100: squares do."""
        return 100 * variation / self.total_variation if self.total_variation else 0.0

    def percent_of_tolerance(self, tolerance: float) -> float:
        """Six times GRR against the width of the tolerance, percent."""
        if not tolerance > 0:
            raise MeasurementError(f"tolerance: found {tolerance}, expected a width above 0")
        return 100 * 6 * self.gauge_variation / tolerance

    @property
    def distinct_categories(self) -> float:
        """How many kinds of part it can tell apart, 1.41 PV / GRR, before it is rounded down."""
        return 1.41 * self.part_variation / self.gauge_variation if self.gauge_variation else math.inf


def gauge_study(readings: ArrayLike, pool_above: float = POOL_ABOVE) -> GaugeStudy:
    """Repeatability and reproducibility of a measurement.

    Parameters
    ----------
    readings : array_like, shape (parts, people, repeats)
        Every person measures every part equally often, at least twice; one person is enough.
    pool_above : float
        The interaction is pooled when its chance is above this: 0 always pools, 1 never.

    Raises
    ------
    MeasurementError
        If there are fewer than two parts or repeats, nobody, or a reading is missing.

    Notes
    -----
    With P parts, A people and R repeats and the interaction kept, the components are
    error MSe, interaction (MSpa - MSe) / R, people (MSa - MSpa) / (P R), parts (MSp - MSpa) / (A R);
    pooled, MSe is that of error and interaction together and takes MSpa's place.
    """
    values = _checked(readings)
    parts, people, repeats = values.shape
    part, operator, interaction, error = _table(values)
    chance = _chance(interaction, error)
    pooled = chance > pool_above
    base, cross = error.mean_square, interaction.mean_square
    if pooled:
        squares = error.sum_of_squares + interaction.sum_of_squares
        base = cross = Source(squares, error.degrees_of_freedom + interaction.degrees_of_freedom).mean_square
    raw = {"part": (part.mean_square - cross) / (people * repeats), "operator": 0.0, "interaction": 0.0}
    if people > 1:
        raw["operator"] = (operator.mean_square - cross) / (parts * repeats)
        raw["interaction"] = (cross - base) / repeats
    return GaugeStudy(
        part, operator, interaction, error, chance, pooled,
        repeatability_variance=base,
        operator_variance=max(0.0, raw["operator"]),
        interaction_variance=max(0.0, raw["interaction"]),
        part_variance=max(0.0, raw["part"]),
        negative=tuple(name for name, variance in raw.items() if variance < 0),
    )  # fmt: skip


def _checked(readings: ArrayLike) -> NDArray[np.float64]:
    try:
        values = np.asarray(readings, dtype=float)
    except ValueError:
        raise MeasurementError("gauge study: expected the same number of readings in every cell") from None
    if values.ndim != 3 or min(values.shape[::2]) < 2 or values.shape[1] < 1:
        raise MeasurementError(
            f"gauge study: found shape {values.shape}, expected at least 2 parts by 1 person by 2 repeats"
        )
    if not np.isfinite(values).all():
        raise MeasurementError("gauge study: a reading is missing or not a number, expected all of them")
    return values


def _table(values: NDArray[np.float64]) -> tuple[Source, Source, Source, Source]:
    """Parts, people, interaction, error."""
    parts, people, repeats = values.shape
    centred = values - values.mean()
    cells = centred.mean(axis=2)
    by_part, by_person = cells.mean(axis=1), cells.mean(axis=0)
    crossed = cells - by_part[:, None] - by_person[None, :]
    within = centred - cells[:, :, None]
    return (
        Source(people * repeats * float((by_part**2).sum()), parts - 1),
        Source(parts * repeats * float((by_person**2).sum()), people - 1),
        Source(repeats * float((crossed**2).sum()), (parts - 1) * (people - 1)),
        Source(float((within**2).sum()), parts * people * (repeats - 1)),
    )


def _chance(interaction: Source, error: Source) -> float:
    """Probability of an F ratio at least this large when there is no interaction."""
    if interaction.degrees_of_freedom == 0:
        return 1.0
    if error.sum_of_squares == 0:
        return 0.0 if interaction.sum_of_squares > 0 else 1.0
    from scipy.special import fdtrc

    ratio = interaction.mean_square / error.mean_square
    return float(fdtrc(interaction.degrees_of_freedom, error.degrees_of_freedom, ratio))
