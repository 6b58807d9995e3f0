"""A reading: one raw observation, kept for good."""

from __future__ import annotations

from django.db import models

from barwise.record.models.job import KEY_LENGTH, Job
from barwise.record.models.kept import Kept
from barwise.record.models.meter import LINE_LENGTH
from barwise.record.models.shop import Instrument, Person

PLACE_LENGTH = 16
REASON_LENGTH = 200
NO_REASON = "no reason was written down"
"""Of a reading that was struck before reasons were kept with it, or elsewhere."""


class Reading(Kept):
    """What was read, where, with what, by whom and when.

    `key` is made at the bench, so that a reading sent twice is stored once. `seq` numbers the readings of
    a job in the order they came. `value_si` is null for a choice such as dark or ok; `entered` is what was
    typed, letter for letter, with `unit`. `taken_at` is the bench's clock, `received_at` the server's.
    A reading that `supersedes` another takes its place; one that is `struck` as well only withdraws it, for
    its `reason`. `said` is what a meter that talks wrote, letter for letter, and `said_unit` the unit it
    meant; empty where a hand typed it. `link` is the reading's place in the chain of its job
    (`barwise.files.reading_chain`).
    """

    key = models.UUIDField(unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="readings")
    seq = models.PositiveIntegerField()
    station_key = models.CharField(max_length=KEY_LENGTH)
    check_key = models.CharField(max_length=KEY_LENGTH)
    test = models.CharField(max_length=20, default="", blank=True)
    place_from = models.CharField(max_length=PLACE_LENGTH, default="", blank=True)
    place_to = models.CharField(max_length=PLACE_LENGTH, default="", blank=True)
    track = models.CharField(max_length=PLACE_LENGTH, default="", blank=True)
    value_si = models.FloatField(null=True)
    entered = models.TextField(default="", blank=True)
    unit = models.CharField(max_length=12, default="", blank=True)
    feed_from = models.PositiveIntegerField(null=True)
    feed_to = models.PositiveIntegerField(null=True)
    feed_amps = models.FloatField(null=True)
    instrument = models.ForeignKey(Instrument, null=True, on_delete=models.PROTECT, related_name="readings")
    person = models.ForeignKey(Person, null=True, on_delete=models.PROTECT, related_name="readings")
    taken_at = models.DateTimeField()
    received_at = models.DateTimeField()
    supersedes = models.OneToOneField(
        "self", null=True, on_delete=models.PROTECT, related_name="superseded_by"
    )
    struck = models.BooleanField(default=False)
    reason = models.CharField(max_length=REASON_LENGTH, default="", blank=True)
    said = models.CharField(max_length=LINE_LENGTH, default="", blank=True)
    said_unit = models.CharField(max_length=12, default="", blank=True)
    link = models.CharField(max_length=64, default="", blank=True)

    class Meta:
        """Numbered within its job; read by job and check."""

        verbose_name = "reading"
        ordering = ["job_id", "seq"]
        constraints = [
            models.UniqueConstraint(fields=["job", "seq"], name="reading_numbered_once"),
            models.CheckConstraint(
                condition=models.Q(struck=False) | models.Q(supersedes__isnull=False),
                name="struck_reading_names_which",
            ),
            models.CheckConstraint(
                condition=models.Q(struck=False, reason="") | (models.Q(struck=True) & ~models.Q(reason="")),
                name="struck_for_a_reason",
            ),
        ]
        indexes = [models.Index(fields=["job", "station_key", "check_key", "seq"], name="readings_of_check")]

    def __str__(self) -> str:
        return f"{self.job_id} #{self.seq}: {self.entered} {self.unit}".rstrip()
