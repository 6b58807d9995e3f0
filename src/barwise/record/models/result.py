"""What readings came to, and what the rebuilder then decided."""

from __future__ import annotations

from django.db import models

from barwise.record.models.job import KEY_LENGTH, Job, SheetVersion
from barwise.record.models.kept import Kept
from barwise.record.models.shop import Person


class Result(Kept):
    """A check decided from the readings in force at the time; deciding again adds another row.

    `fingerprint` covers everything that went in: readings, sheet version, the outcomes of other checks it
    leaned on. The same fingerprint and the same software must come to the same result.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="results")
    station_key = models.CharField(max_length=KEY_LENGTH)
    check_key = models.CharField(max_length=KEY_LENGTH)
    decision = models.CharField(max_length=12)
    value = models.FloatField(null=True)
    uncertainty = models.FloatField(null=True)
    quantity = models.CharField(max_length=20, default="", blank=True)
    unit = models.CharField(max_length=12, default="", blank=True)
    probability = models.FloatField(null=True)
    line = models.TextField(default="", blank=True)
    settle = models.TextField(default="", blank=True)
    details = models.JSONField(default=dict)
    software_version = models.CharField(max_length=40)
    sheet = models.ForeignKey(SheetVersion, null=True, on_delete=models.PROTECT, related_name="results")
    seqs = models.JSONField(default=list)
    fingerprint = models.CharField(max_length=64)
    made_at = models.DateTimeField()

    class Meta:
        """The newest of a check is the one that counts."""

        verbose_name = "result"
        indexes = [models.Index(fields=["job", "station_key", "check_key", "-id"], name="results_of_check")]

    def __str__(self) -> str:
        return f"{self.job_id} {self.station_key} {self.check_key}: {self.decision}"


class Disposition(Kept):
    """Reuse, rework or replace: what was proposed and what the person decided.

    The newest for a job's station and part counts. To decide other than proposed needs a reason.
    """

    CHOICES = [("reuse", "reuse"), ("rework", "rework"), ("replace", "replace")]

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="dispositions")
    station_key = models.CharField(max_length=KEY_LENGTH)
    part = models.CharField(max_length=120, default="", blank=True)
    proposed = models.CharField(max_length=8, choices=CHOICES, default="", blank=True)
    decided = models.CharField(max_length=8, choices=CHOICES)
    reason = models.TextField(default="", blank=True)
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")
    decided_at = models.DateTimeField()

    class Meta:
        """An overruled proposal has its reason."""

        verbose_name = "disposition"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(proposed="")
                | models.Q(decided=models.F("proposed"))
                | ~models.Q(reason=""),
                name="overruled_with_a_reason",
            )
        ]
        indexes = [models.Index(fields=["job", "station_key", "-id"], name="dispositions_of_station")]

    def __str__(self) -> str:
        return f"{self.job_id} {self.station_key} {self.part}: {self.decided}"
