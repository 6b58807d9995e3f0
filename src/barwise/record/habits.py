"""How this shop works: its name, its decimal sign and unit, and how sure a decision must be."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.db.models import F

from barwise.errors import InputError
from barwise.files.text import shown
from barwise.record.changes import log
from barwise.record.models import CheckStanding, Person, Shop


def the_shop() -> Shop:
    """The shop's one row, or what is usual while nothing was said."""
    return Shop.objects.first() or Shop(pk=1)


@transaction.atomic
def change_shop(person: Person | None = None, **changes: Any) -> Shop:
    """Change `name`, `decimal_comma`, `length_unit` or `level`; another level puts all results out of date.

    Raises
    ------
    InputError
        If the unit is neither in nor mm, or the level is not between 0.5 and 1.
    """
    shop = Shop.objects.select_for_update().first() or Shop(pk=1)
    _check(changes)
    before = {name: getattr(shop, name) for name in changes}
    for name, value in changes.items():
        setattr(shop, name, value)
    shop.save()
    if changes.get("level", shop.level) != before.get("level", shop.level):
        CheckStanding.objects.update(touches=F("touches") + 1)
    said = ", ".join(f"{name} {value}" for name, value in changes.items())
    log("shop changed", f"Shop: {said}", person, details={"before": before, "after": changes})
    return shop


def _check(changes: dict[str, Any]) -> None:
    known = ("name", "decimal_comma", "length_unit", "level")
    for name, value in changes.items():
        if name not in known:
            raise InputError("shop", shown(name), f"one of {', '.join(known)}")
        if name == "length_unit" and value not in ("in", "mm"):
            raise InputError(name, shown(str(value)), "in or mm")
        if name == "level" and not 0.5 < float(value) < 1:
            raise InputError(name, f"{float(value) * 100:g} %", "between 50 and 100 %, such as 95")
