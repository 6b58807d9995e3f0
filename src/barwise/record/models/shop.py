"""The shop: its own habits, its people, its customers and its instruments."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models


class Shop(models.Model):
    """The one row that says how this shop works.

    `decimal_comma` says whether a typed 3,59 means 3.59; `level` is the probability at which a decision
    is made; `invented` marks the demo shop, and every page and print then says so. `address`, `warranty` and
    `paper` are for what is printed: the head of the rebuild record, the shop's own words on it, its sheets.
    """

    PAPERS = [("a4", "A4"), ("letter", "US Letter")]

    name = models.CharField(max_length=120, default="", blank=True)
    decimal_comma = models.BooleanField(default=False)
    length_unit = models.CharField(max_length=4, default="in", choices=[("in", "inch"), ("mm", "mm")])
    level = models.FloatField(default=0.95)
    address = models.TextField(default="", blank=True)
    warranty = models.TextField(default="", blank=True)
    paper = models.CharField(max_length=6, default="a4", choices=PAPERS)
    invented = models.BooleanField(default=False)

    class Meta:
        """One row at most."""

        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="one_shop"),
            models.CheckConstraint(condition=models.Q(level__gt=0.5, level__lt=1), name="shop_level"),
        ]

    def save(self, *arguments: Any, **options: Any) -> None:
        """Write the one row."""
        self.pk = 1
        super().save(*arguments, **options)

    def __str__(self) -> str:
        return self.name


class Person(models.Model):
    """Someone who takes readings or decides."""

    ROLES = [("bench", "bench"), ("office", "office"), ("reader", "reader")]

    name = models.CharField(max_length=120, unique=True)
    role = models.CharField(max_length=8, choices=ROLES, default="bench")
    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="person"
    )
    active = models.BooleanField(default=True)

    def __str__(self) -> str:
        return self.name


class Customer(models.Model):
    """Who brought the unit."""

    name = models.CharField(max_length=200, db_index=True)
    contact = models.TextField(default="", blank=True)
    note = models.TextField(default="", blank=True)
    invented = models.BooleanField(default=False)

    def __str__(self) -> str:
        return self.name


class Instrument(models.Model):
    """One instrument as its certificate has it.

    The figures are SI and are never changed, since readings were judged by them: a new calibration is a
    new row that `follows` this one, and this one is retired. `quantity` is what it reads: length,
    voltage, resistance, current, ...
    """

    tag = models.CharField(max_length=60, db_index=True)
    kind = models.CharField(max_length=80)
    quantity = models.CharField(max_length=20, default="length")
    unit = models.CharField(max_length=12, default="", blank=True)
    resolution_si = models.FloatField(default=0.0)
    calibration_standard_uncertainty_si = models.FloatField(default=0.0)
    repeatability_si = models.FloatField(default=0.0)
    calibrated_on = models.DateField(null=True, blank=True)
    due_on = models.DateField(null=True, blank=True)
    follows = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="followed_by"
    )
    retired = models.BooleanField(default=False)

    class Meta:
        """A tag is in use once."""

        constraints = [
            models.UniqueConstraint(
                fields=["tag"], condition=models.Q(retired=False), name="instrument_tag_in_use_once"
            ),
            models.CheckConstraint(
                condition=models.Q(
                    resolution_si__gte=0, calibration_standard_uncertainty_si__gte=0, repeatability_si__gte=0
                ),
                name="instrument_figures_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tag} {self.kind}"
