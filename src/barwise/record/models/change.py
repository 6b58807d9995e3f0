"""Who changed what, and when: for everything that is not a reading."""

from __future__ import annotations

from django.db import models

from barwise.record.models.job import Job
from barwise.record.models.kept import Kept
from barwise.record.models.shop import Person


class Change(Kept):
    """One change in one line, with the old and new values in `details`."""

    at = models.DateTimeField(db_index=True)
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="changes")
    job = models.ForeignKey(Job, null=True, on_delete=models.PROTECT, related_name="changes")
    what = models.CharField(max_length=60)
    line = models.TextField()
    details = models.JSONField(default=dict)

    class Meta:
        """Read by job."""

        verbose_name = "change"
        indexes = [models.Index(fields=["job", "-id"], name="changes_of_job")]

    def __str__(self) -> str:
        return self.line
