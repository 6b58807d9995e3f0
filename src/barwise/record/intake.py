"""A unit comes in: customer, unit and job in one go, or nothing at all."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction

from barwise.errors import InputError
from barwise.record.jobs import add_customer, add_unit, open_job
from barwise.record.models import Customer, Job, Person, SheetVersion, Unit
from barwise.record.sheets import versions_of

MOST_NAMES = 300
"""Customers offered by name while one is typed."""


@dataclass(frozen=True)
class Arrival:
    """What is said of a unit at the door.

    `sheet` is the key of a model sheet, empty while the model is not known; `number` the shop's own job
    number, empty for the next one.
    """

    customer: str = ""
    contact: str = ""
    tag: str = ""
    serial: str = ""
    description: str = ""
    family: str = ""
    sheet: str = ""
    complaint: str = ""
    number: str = ""


@transaction.atomic
def take_in(arrival: Arrival, person: Person | None = None) -> Job:
    """Open the job of a unit that came in, with its customer and unit where they are new.

    Raises
    ------
    InputError
        If something is missing; its place is the field.
    RecordError
        If the tag is on another unit, the unit is on the bench already, or the sheet is of another family.
    """
    sheet = _newest(arrival.sheet)
    customer = _customer(arrival, person)
    known = Unit.objects.filter(tag=" ".join(arrival.tag.split())).first()
    unit = add_unit(
        arrival.tag,
        arrival.family or (known.family_key if known else ""),
        arrival.serial,
        arrival.description,
        person,
    )
    return open_job(unit, customer, sheet, arrival.complaint, person, arrival.number)


def known_customers() -> list[str]:
    """Names to offer while one is typed, those of the latest jobs first."""
    names = Customer.objects.order_by("-pk").values_list("name", flat=True)[:MOST_NAMES]
    return list(dict.fromkeys(names))


def _customer(arrival: Arrival, person: Person | None) -> Customer:
    """The known customer of that name, unless the contact says that it is another one."""
    name, contact = " ".join(arrival.customer.split()), arrival.contact.strip()
    same = list(Customer.objects.filter(name__iexact=name)[:2]) if name and not contact else []
    if len(same) == 1:
        return same[0]
    if len(same) > 1:
        raise InputError("contact", f"several customers called {name}", "a contact that tells them apart")
    return add_customer(name, contact, person)


def _newest(key: str) -> SheetVersion | None:
    if not key:
        return None
    versions = versions_of(key)
    if not versions:
        raise InputError("sheet", f'"{key[:40]}"', "a model sheet of this shop")
    return versions[0]
