"""What the customer agreed to, with the figures that were shown."""

from __future__ import annotations

from django.db import models

from barwise.record.models.job import Job
from barwise.record.models.kept import Kept
from barwise.record.models.shop import Person


class Approval(Kept):
    """The customer's word on a price, never changed: another word is another row.

    `shown` is all that was laid before the customer, as it was worked out and as it was worded; `sha256` is
    of its text, so that a page can be held against it. `person` wrote the word down.
    """

    ANSWERS = [("approved", "approved"), ("declined", "declined")]
    WAYS = [
        ("in person", "in person"),
        ("by telephone", "by telephone"),
        ("in writing", "in writing"),
    ]

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="approvals")
    answer = models.CharField(max_length=8, choices=ANSWERS)
    choice = models.CharField(max_length=8)
    said_by = models.CharField(max_length=120)
    way = models.CharField(max_length=12, choices=WAYS)
    note = models.TextField(default="", blank=True)
    shown = models.JSONField()
    sha256 = models.CharField(max_length=64)
    software_version = models.CharField(max_length=40)
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        """The newest of a job counts."""

        verbose_name = "approval"
        indexes = [models.Index(fields=["job", "-id"], name="approvals_of_job")]

    def __str__(self) -> str:
        return f"{self.job_id} {self.choice} {self.answer} by {self.said_by}"
