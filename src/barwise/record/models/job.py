"""A job: one rebuild of one unit for one customer, judged by one version of one model sheet."""

from __future__ import annotations

import uuid

from django.db import models

from barwise.record.models.kept import Kept
from barwise.record.models.shop import Customer, Person

KEY_LENGTH = 60
"""Longest key of a family, station or check."""


class Unit(models.Model):
    """The thing on the bench."""

    tag = models.CharField(max_length=60, unique=True)
    serial = models.CharField(max_length=80, default="", blank=True, db_index=True)
    family_key = models.CharField(max_length=KEY_LENGTH)
    description = models.CharField(max_length=200, default="", blank=True)
    invented = models.BooleanField(default=False)

    def __str__(self) -> str:
        return self.tag


class SheetVersion(Kept):
    """One version of a model sheet, kept word for word as it was written."""

    key = models.CharField(max_length=KEY_LENGTH)
    version = models.PositiveIntegerField()
    title = models.CharField(max_length=200)
    family_key = models.CharField(max_length=KEY_LENGTH)
    toml = models.TextField()
    sha256 = models.CharField(max_length=64)
    invented = models.BooleanField(default=False)
    stored_at = models.DateTimeField()
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """A version is one text."""

        verbose_name = "version of a model sheet"
        constraints = [models.UniqueConstraint(fields=["key", "version"], name="sheet_version_once")]

    def __str__(self) -> str:
        return f"{self.key} version {self.version}"


class Job(models.Model):
    """One rebuild.

    `uuid` is what it is known by in other shops' records after an export. `last_seq` is the number of the
    last reading: counted here, under the row's lock, so that two benches never take the same number;
    `chain_head` is that reading's link, kept here for the same reason. Readings up to `chained_seq` came in
    before there was a chain and got their links at `chained_at`.
    """

    STATES = [("open", "open"), ("waiting", "waiting"), ("closed", "closed")]

    uuid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    number = models.CharField(max_length=40, unique=True)
    unit = models.ForeignKey(Unit, on_delete=models.PROTECT, related_name="jobs")
    customer = models.ForeignKey(Customer, on_delete=models.PROTECT, related_name="jobs")
    sheet = models.ForeignKey(SheetVersion, null=True, on_delete=models.PROTECT, related_name="jobs")
    family_key = models.CharField(max_length=KEY_LENGTH)
    complaint = models.TextField(default="", blank=True)
    state = models.CharField(max_length=8, choices=STATES, default="open")
    waits_for = models.CharField(max_length=200, default="", blank=True)
    opened_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True)
    last_seq = models.PositiveIntegerField(default=0)
    chain_head = models.CharField(max_length=64, default="", blank=True)
    chained_seq = models.PositiveIntegerField(default=0)
    chained_at = models.DateTimeField(null=True)
    invented = models.BooleanField(default=False)

    class Meta:
        """The list of jobs on hand is read by state."""

        indexes = [models.Index(fields=["state", "-opened_at"], name="jobs_on_hand")]

    def __str__(self) -> str:
        return self.number


class CheckStanding(models.Model):
    """Where one check of one job stands, counted as readings come in so that no page counts them.

    It holds nothing of its own: `recheck` can make it anew from readings and results. `touches` counts what
    came in since the start - readings, outcomes it leans on, another sheet; `decided_touches` is what it was
    when `result` was made. Fewer than `touches`: the result is out of date.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="standings")
    station_key = models.CharField(max_length=KEY_LENGTH)
    check_key = models.CharField(max_length=KEY_LENGTH)
    in_force = models.PositiveIntegerField(default=0)
    touches = models.PositiveIntegerField(default=0)
    decided_touches = models.PositiveIntegerField(default=0)
    touched_at = models.DateTimeField(null=True)
    result = models.ForeignKey("record.Result", null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """One row for each check that was touched."""

        constraints = [
            models.UniqueConstraint(fields=["job", "station_key", "check_key"], name="one_standing_per_check")
        ]

    @property
    def out_of_date(self) -> bool:
        """Whether something came in since the check was decided."""
        return self.decided_touches < self.touches

    def __str__(self) -> str:
        return f"{self.job_id} {self.station_key} {self.check_key}"


class Part(models.Model):
    """A part fitted new or taken off."""

    ACTIONS = [("fitted", "fitted"), ("replaced", "replaced")]

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="parts")
    station_key = models.CharField(max_length=KEY_LENGTH, default="", blank=True)
    name = models.CharField(max_length=120)
    part_number = models.CharField(max_length=80, default="", blank=True)
    action = models.CharField(max_length=8, choices=ACTIONS)
    quantity = models.PositiveIntegerField(default=1)
    note = models.TextField(default="", blank=True)
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.quantity} {self.name} {self.action}"


class Photo(models.Model):
    """A photo of a job; the picture itself lies in the data folder under the name `sha256`."""

    key = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="photos")
    station_key = models.CharField(max_length=KEY_LENGTH, default="", blank=True)
    check_key = models.CharField(max_length=KEY_LENGTH, default="", blank=True)
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    size_bytes = models.PositiveIntegerField()
    caption = models.CharField(max_length=200, default="", blank=True)
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.job_id} {self.sha256[:12]}"
