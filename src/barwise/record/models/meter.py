"""What a meter that talks does just now, between its listener and the page that it reads for."""

from __future__ import annotations

from django.db import models

from barwise.record.models.shop import Instrument

LINE_LENGTH = 200
PEDAL_LENGTH = 20
WORDS_LENGTH = 300


class Meter(models.Model):
    """One row for each instrument that was ever listened to. It is no record and is written over.

    `state` and `words` are the meter's, last heard at `heard_at`; `rule` says when it takes a reading.
    `page` is the page it reads for, last seen at `page_at`, by itself or at the pedal (`how`), and `follows`
    the one that the listener knows of; `presses` counts the pedal. The reading on offer has `number`, and is
    the page's to take while it is fresh.
    """

    instrument = models.OneToOneField(Instrument, on_delete=models.PROTECT, related_name="meter")
    state = models.CharField(max_length=12, default="", blank=True)
    words = models.CharField(max_length=WORDS_LENGTH, default="", blank=True)
    rule = models.CharField(max_length=WORDS_LENGTH, default="", blank=True)
    heard_at = models.DateTimeField(null=True)
    page = models.UUIDField(null=True)
    follows = models.UUIDField(null=True)
    page_at = models.DateTimeField(null=True)
    how = models.CharField(max_length=6, default="steady")
    pedal = models.CharField(max_length=PEDAL_LENGTH, default="", blank=True)
    presses = models.PositiveIntegerField(default=0)
    number = models.PositiveIntegerField(default=0)
    key = models.UUIDField(null=True)
    text = models.CharField(max_length=80, default="", blank=True)
    unit = models.CharField(max_length=12, default="", blank=True)
    said = models.CharField(max_length=LINE_LENGTH, default="", blank=True)
    offered_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.instrument.tag}: {self.state}"
