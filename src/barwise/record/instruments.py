"""The shop's instruments: what each can be trusted for, and when its calibration runs out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from django.db import transaction
from django.utils import timezone

from barwise.errors import InputError
from barwise.record.changes import log
from barwise.record.models import Instrument, Person
from barwise.record.refusals import RecordError

SOON = timedelta(days=30)
"""A calibration that runs out within this time is shown as due soon."""

Due = Literal["in date", "due soon", "overdue", "no date"]


@dataclass(frozen=True)
class Figures:
    """What a certificate and a few repeats say of an instrument, in SI."""

    resolution_si: float
    calibration_standard_uncertainty_si: float = 0.0
    repeatability_si: float = 0.0
    calibrated_on: date | None = None
    due_on: date | None = None


@transaction.atomic
def add_instrument(
    tag: str,
    kind: str,
    figures: Figures,
    quantity: str = "length",
    unit: str = "",
    person: Person | None = None,
) -> Instrument:
    """Take an instrument into use.

    Raises
    ------
    InputError
        If a figure cannot be, or it was calibrated in the future or is due before.
    RecordError
        If the tag is in use.
    """
    tag = tag.strip()
    if not tag or not kind.strip():
        raise InputError("kind" if tag else "tag", "nothing", "a name")
    if Instrument.objects.filter(tag=tag, retired=False).exists():
        raise RecordError(f"instrument {tag}: found in use already, expected a tag of its own")
    made = _made(tag, kind.strip(), figures, quantity, unit, None)
    log("instrument added", f"Instrument {made}", person)
    return made


@transaction.atomic
def recalibrate(instrument: Instrument, figures: Figures, person: Person | None = None) -> Instrument:
    """The same instrument with a new certificate: a row that follows the old one, which is retired.

    Readings taken before keep the figures they were taken with. Raises as `add_instrument`, and RecordError
    if the row was retired before.
    """
    old = Instrument.objects.select_for_update().get(pk=instrument.pk)
    if old.retired:
        raise RecordError(f"instrument {old}: found retired, expected the one in use")
    old.retired = True
    old.save(update_fields=["retired"])
    made = _made(old.tag, old.kind, figures, old.quantity, old.unit, old)
    log(
        "instrument calibrated", f"Instrument {made}: figures of {figures.calibrated_on or 'no date'}", person
    )
    return made


@transaction.atomic
def retire(instrument: Instrument, person: Person | None = None) -> None:
    """Take an instrument out of use; its readings stay."""
    Instrument.objects.filter(pk=instrument.pk).update(retired=True)
    log("instrument retired", f"Instrument {instrument}", person)


def in_use() -> list[Instrument]:
    """Instruments in use, by tag."""
    return list(Instrument.objects.filter(retired=False).order_by("tag"))


def due(instrument: Instrument, today: date | None = None) -> Due:
    """Whether its calibration is in date."""
    today = timezone.localdate() if today is None else today
    if instrument.due_on is None:
        return "no date"
    if instrument.due_on < today:
        return "overdue"
    return "due soon" if instrument.due_on - today <= SOON else "in date"


def _made(
    tag: str, kind: str, figures: Figures, quantity: str, unit: str, follows: Instrument | None
) -> Instrument:
    _check(figures)
    return Instrument.objects.create(
        tag=tag, kind=kind, quantity=quantity, unit=unit, follows=follows, **vars(figures)
    )


def _check(figures: Figures) -> None:
    for name in ("resolution_si", "calibration_standard_uncertainty_si", "repeatability_si"):
        value = getattr(figures, name)
        if not (math.isfinite(value) and value >= 0):
            raise InputError(name.removesuffix("_si"), str(value), "0 or more")
    if figures.calibrated_on is not None and figures.calibrated_on > timezone.localdate():
        raise InputError(
            "calibrated_on", f"{figures.calibrated_on}, which is in the future", "today or before"
        )
    if figures.calibrated_on and figures.due_on and figures.due_on < figures.calibrated_on:
        found = f"{figures.due_on}, before it was calibrated on {figures.calibrated_on}"
        raise InputError("due_on", found, "a later day")
