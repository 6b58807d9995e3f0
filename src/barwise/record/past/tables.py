"""The tables behind the pictures of the shop's history, for a spreadsheet or another program."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from barwise.measure.proportion import Proportion
from barwise.measure.units import UNITS
from barwise.record.past.instruments_drift import InstrumentSeen
from barwise.record.past.models_read import CheckRead
from barwise.record.past.parts_fail import PartFails
from barwise.record.past.rebuilds import Rebuilds
from barwise.record.readings_csv import harmless


def units_csv(reads: Iterable[CheckRead]) -> str:
    """One row for each unit and check; values in the check's unit and in SI."""
    head = ("station", "check", "job", "unit", "at", "value", "in", "value_si", "uncertainty_si", "decision")
    return _written(
        head,
        (
            (
                read.station.key,
                read.check.key,
                one.job_number,
                one.unit_tag,
                one.at.isoformat(),
                _inside(one.value, read.unit),
                read.unit,
                repr(one.value),
                "" if one.uncertainty is None else repr(one.uncertainty),
                one.decision,
            )
            for read in reads
            for one in read.units
        ),
    )


def rebuilds_csv(found: Rebuilds) -> str:
    """One row for each closed job: what refused it after assembly, and when it came back."""
    head = ("job", "unit", "model", "closed_at", "right_first_time", "refused_by", "taken_in_again", "as_job")
    return _written(
        head,
        (
            (
                one.number,
                one.unit_tag,
                one.model,
                one.closed_at.isoformat(),
                "yes" if one.right else "no",
                " ".join(one.refused),
                "" if one.back_at is None else one.back_at.isoformat(),
                one.back_as,
            )
            for one in found.jobs
        ),
    )


def parts_csv(found: Iterable[PartFails]) -> str:
    """One row for each part, with the exact interval of its shares."""
    head = ("station", "part", "of_jobs", "replaced", "replaced_low", "replaced_high")
    more = ("reworked", "reworked_low", "reworked_high")
    return _written(
        (*head, *more),
        (
            (one.station, one.part, str(one.replaced.of), *_share(one.replaced), *_share(one.reworked))
            for one in found
        ),
    )


def drift_csv(seen: InstrumentSeen) -> str:
    """One row for each reading of the chart: in SI, how far from the others, average and bound."""
    head = ("at", "job", "model", "station", "check", "value_si", "apart", "average", "bound")
    return _written(
        head,
        (
            (
                one.at.isoformat(),
                one.job_number,
                one.model,
                one.station,
                one.check,
                repr(one.value),
                repr(one.apart),
                repr(float(seen.chart.average[place])),
                repr(float(seen.chart.bound[place])),
            )
            for place, one in enumerate(seen.readings)
        ),
    )


def _share(found: Proportion) -> tuple[str, str, str]:
    return str(found.count), repr(found.low), repr(found.high)


def _inside(value: float, unit: str) -> str:
    known = UNITS.get(unit)
    return f"{value if known is None else known.from_si(value):.10g}"


def _written(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(head)
    table.writerows([_cell(cell) for cell in row] for row in rows)
    return out.getvalue()


def _cell(text: str) -> str:
    try:
        float(text)
    except ValueError:
        return harmless(text)
    return text
