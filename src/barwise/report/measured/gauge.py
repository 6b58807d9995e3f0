"""A gauge study in words and as JSON: what instrument, people and parts each add to the spread."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from barwise.measure.gauge_study import GaugeStudy
from barwise.measure.units import UNITS
from barwise.report.probability import probability_in_words

GOOD, FAIR = 10.0, 30.0
"""Percent: below the first good, above the second not fit. AIAG, Measurement Systems Analysis, 4th edition,
2010, chapter II (from memory)."""
ENOUGH_CATEGORIES = 5
NAMES = {"part": "parts", "operator": "people", "interaction": "people on single parts"}
LENGTHS = frozenset(one.name for one in UNITS.values() if one.dimension == "length")
SOURCE = "AIAG, Measurement Systems Analysis, 2010, from memory"


@dataclass(frozen=True)
class GaugeAnswer:
    """A study, the unit of its readings (may be empty), and the tolerance to judge it by, if any."""

    study: GaugeStudy
    unit: str
    tolerance: float | None

    @property
    def percent(self) -> float:
        """The figure judged: of the tolerance where there is one, else of the total spread."""
        if self.tolerance is None:
            return self.study.percent_of_total(self.study.gauge_variation)
        return self.study.percent_of_tolerance(self.tolerance)

    @property
    def verdict(self) -> str:
        """``good``, ``fair`` or ``not fit``."""
        if self.percent < GOOD:
            return "good"
        return "fair" if self.percent <= FAIR else "not fit"


def gauge_text(answer: GaugeAnswer) -> str:
    """The verdict, the table of spreads, and what to do with them."""
    study = answer.study
    who = "one person" if study.people == 1 else f"{study.people} people"
    against = "of the tolerance" if answer.tolerance is not None else "of the spread in this study"
    lines = [
        f"{answer.verdict.upper()}: gauge and people take up {answer.percent:.1f} % {against}",
        f"{study.parts} parts, {who}, {study.repeats} readings each",
        f"under {GOOD:g} % good, over {FAIR:g} % not fit ({SOURCE})",
        "",
        "                            spread (1 sd)     of the total",
    ]
    rows = [("same person, same part", study.equipment_variation)]
    if study.people > 1:
        rows.append(("between people", study.appraiser_variation))
        rows.append(("gauge and people", study.gauge_variation))
    rows += [("between parts", study.part_variation), ("total", study.total_variation)]
    unit = f" {answer.unit}" if answer.unit else ""
    places = _places(min((size for _, size in rows if size > 0), default=1.0))
    lines += [
        f"  {name:<24}  {f'{size:.{places}f}{unit}':<16}  {study.percent_of_total(size):6.1f} %"
        for name, size in rows
    ]
    return "\n".join([*lines, "", *_remarks(answer)])


def _remarks(answer: GaugeAnswer) -> Iterator[str]:
    study, unit = answer.study, f" {answer.unit}" if answer.unit else ""
    kinds = study.distinct_categories
    if math.isfinite(kinds):
        enough = "enough" if kinds >= ENOUGH_CATEGORIES else "too few to sort these parts by it"
        sizes = f"tells {max(1, int(kinds))} sizes of part apart"
        yield f"{sizes}, {ENOUGH_CATEGORIES} or more are wanted: {enough}"
    else:
        yield "all readings of a part are the same: the scale is too coarse to show its own spread"
    if study.people == 1:
        yield "one person only: what another hand would read is not in it"
    elif study.pooled:
        yield "people agree alike on all parts (interaction put into the repeatability)"
    else:
        luck = probability_in_words(study.interaction_chance)
        yield f"people may differ on single parts (by luck alone so much with a chance of {luck})"
    for name in study.negative:
        yield f"the spread between {NAMES[name]} is too small to show: taken as 0"
    if study.gauge_variation > 0 and answer.unit in LENGTHS:
        whose = "for any of these people" if study.people > 1 else "in these hands"
        yield f"with barwise limit, {whose}: --repeatability '{_spread(study.gauge_variation)}{unit}'"


def gauge_answer(answer: GaugeAnswer) -> dict[str, Any]:
    """The same as plain values, not rounded, in the readings' unit."""
    study = answer.study
    kinds = study.distinct_categories
    lines = {name: getattr(study, name) for name in ("part", "operator", "interaction", "error")}
    return {
        "verdict": answer.verdict,
        "percent": answer.percent,
        "of": "total" if answer.tolerance is None else "tolerance",
        "unit": answer.unit or None,
        "parts": study.parts,
        "people": study.people,
        "repeats": study.repeats,
        "repeatability": study.equipment_variation,
        "reproducibility": study.appraiser_variation if study.people > 1 else None,
        "gauge": study.gauge_variation,
        "part_spread": study.part_variation,
        "total": study.total_variation,
        "categories": kinds if math.isfinite(kinds) else None,
        "interaction_pooled": study.pooled,
        "table": {
            name: {
                "sum_of_squares": line.sum_of_squares,
                "degrees_of_freedom": line.degrees_of_freedom,
                "mean_square": line.mean_square,
            }
            for name, line in lines.items()
            if line.degrees_of_freedom
        },
        "counted_as_nought": list(study.negative),
    }


def _spread(size: float) -> str:
    return f"{size:.{_places(size)}f}"


def _places(size: float) -> int:
    """Decimals that show two digits that count."""
    return min(12, max(0, 1 - math.floor(math.log10(size))))
