"""How this shop works: its name, its decimal sign and unit, and how sure a decision must be."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.db.models import F

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.record.changes import log
from barwise.record.models import CheckStanding, Person, Shop

CHANGES = ("name", "decimal_comma", "length_unit", "level", "address", "warranty", "paper")
CHOICES = {"length_unit": ("in", "mm"), "paper": tuple(dict(Shop.PAPERS))}
LONGEST = {"address": 400, "warranty": 6000}
"""Characters that are printed of a text."""
SHORT = 60


def the_shop() -> Shop:
    """The shop's one row, or what is usual while nothing was said."""
    return Shop.objects.first() or Shop(pk=1)


@transaction.atomic
def change_shop(person: Person | None = None, **changes: Any) -> Shop:
    """Change what `CHANGES` names; another level puts all results out of date.

    Raises
    ------
    InputError
        If the unit is neither in nor mm, the paper neither a4 nor letter, the level not between 0.5 and 1, or
        address or warranty are longer than can be printed.
    """
    shop = Shop.objects.select_for_update().first() or Shop(pk=1)
    _check(changes)
    before = {name: getattr(shop, name) for name in changes}
    for name, value in changes.items():
        setattr(shop, name, value)
    shop.save()
    if changes.get("level", shop.level) != before.get("level", shop.level):
        CheckStanding.objects.update(touches=F("touches") + 1)
    said = ", ".join(f"{name} {_short(value)}" for name, value in changes.items())
    log("shop changed", f"Shop: {said}", person, details={"before": before, "after": changes})
    return shop


def _short(value: Any) -> str:
    """In one line of the log; the whole of it stands in the details."""
    words = " ".join(str(value).split())
    return words if len(words) <= SHORT else f"{words[:SHORT]}..."


def _check(changes: dict[str, Any]) -> None:
    for name, value in changes.items():
        if name not in CHANGES:
            raise InputError("shop", shown(name), f"one of {', '.join(CHANGES)}")
        known = CHOICES.get(name, ())
        if known and value not in known:
            raise InputError(name, shown(str(value)), " or ".join(known))
        longest = LONGEST.get(name, 0)
        if longest and len(value) > longest:
            raise InputError(name, f"{len(value)} characters", f"at most {longest}")
        if name == "level" and not 0.5 < float(value) < 1:
            raise InputError(name, f"{float(value) * 100:g} %", "between 50 and 100 %, such as 95")
