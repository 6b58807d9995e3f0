"""How Django finds the record."""

from django.apps import AppConfig


class RecordConfig(AppConfig):
    """The app with label ``record``."""

    name = "barwise.record"
    label = "record"
    verbose_name = "Record of jobs and readings"
    default_auto_field = "django.db.models.BigAutoField"
