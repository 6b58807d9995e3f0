"""Finished jobs as they were signed, and the keys they were signed with: only ever added."""

from __future__ import annotations

from django.db import models

from barwise.record.models.job import Job
from barwise.record.models.kept import Kept
from barwise.record.models.shop import Person


class ShopKey(Kept):
    """The public half of a key; the private half lies in a file of the data folder and nowhere else.

    `vouched` is the signature of the key before, `follows`, for this one; both empty where there was none
    at hand. `made_at` is text, as it is part of what is signed.
    """

    fingerprint = models.CharField(max_length=64, unique=True)
    public = models.CharField(max_length=64)
    made_at = models.CharField(max_length=40)
    follows = models.CharField(max_length=64, default="", blank=True)
    vouched = models.CharField(max_length=128, default="", blank=True)

    class Meta:
        """The newest signs."""

        verbose_name = "signing key"

    def __str__(self) -> str:
        return self.fingerprint[:16]


class Seal(Kept):
    """A job as it was signed when it was closed, byte for byte; closing it again adds another."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="seals")
    number = models.PositiveIntegerField()
    key = models.ForeignKey(ShopKey, on_delete=models.PROTECT, related_name="seals")
    packed = models.BinaryField()
    digest = models.CharField(max_length=64)
    signature = models.CharField(max_length=128)
    signed_at = models.DateTimeField()
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """Numbered within its job."""

        verbose_name = "seal"
        ordering = ["job_id", "number"]
        constraints = [models.UniqueConstraint(fields=["job", "number"], name="seal_numbered_once")]

    def __str__(self) -> str:
        return f"{self.job_id} seal {self.number}"
