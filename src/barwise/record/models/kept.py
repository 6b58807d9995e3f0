"""Rows that are written once and kept: no change, no deletion.

The same is forbidden by triggers in the database (migration 0002), so that no other program can do what
this one refuses.
"""

from __future__ import annotations

from typing import Any, NoReturn

from django.db import models

from barwise.record.refusals import RecordError


class KeptQuerySet(models.QuerySet[Any]):
    """Reads and adds; refuses to change or delete."""

    def update(self, **changes: Any) -> NoReturn:
        """Refuse."""
        _refuse(self.model, f"a change of {', '.join(changes)}")

    def delete(self) -> NoReturn:
        """Refuse."""
        _refuse(self.model, "a deletion")

    def bulk_update(self, *_: Any, **__: Any) -> NoReturn:
        """Refuse."""
        _refuse(self.model, "a change")


class Kept(models.Model):
    """A row that is only ever added."""

    objects = KeptQuerySet.as_manager()

    class Meta:
        """No table of its own."""

        abstract = True

    def save(self, *arguments: Any, **options: Any) -> None:
        """Add the row; refuse to write it a second time."""
        if not self._state.adding:
            _refuse(type(self), "a change")
        super().save(*arguments, **{**options, "force_insert": True})

    def delete(self, *_: Any, **__: Any) -> NoReturn:
        """Refuse."""
        _refuse(type(self), "a deletion")


def _refuse(model: type[models.Model], found: str) -> NoReturn:
    name = str(model._meta.verbose_name)
    raise RecordError(f"{name}: found {found}, expected none: it is kept as it was written. Add a new one")
