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


class BroughtSeal(Kept):
    """What another shop signed of a job brought in, byte for byte, and what had been altered by then.

    Attributes
    ----------
    number : str
        Of the job here.
    packed, digest : bytes, str
        ``seal.json`` as it came, and the SHA-256 of what was signed; empty where nothing was signed.
    taken : str
        Of an altered file, what was brought in: ``signed`` or ``found``; else empty.
    altered : list
        What was not as it was signed, as `sealed_job.Alteration` has it.
    photos : dict
        By a photo's key the SHA-256 of its picture here: each is made anew when it comes in.
    """

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="brought")
    number = models.CharField(max_length=40)
    packed = models.BinaryField()
    digest = models.CharField(max_length=64, default="", blank=True)
    shop = models.CharField(max_length=200, default="", blank=True)
    key = models.CharField(max_length=64, default="", blank=True)
    signed_at = models.DateTimeField(null=True)
    taken = models.CharField(max_length=8, default="", blank=True)
    altered = models.JSONField(default=list)
    photos = models.JSONField(default=dict)
    brought_at = models.DateTimeField()
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="+")

    class Meta:
        """One for a job."""

        verbose_name = "seal brought in"

    def __str__(self) -> str:
        return f"{self.job_id} sealed by {self.shop or 'another shop'}"
