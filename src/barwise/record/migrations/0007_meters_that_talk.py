"""Meters that talk, and with a reading what its meter wrote.

A new column is a change of every row, so the guard of the readings is put aside and stands again at the end.
"""

from __future__ import annotations

import django.db.models.deletion
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

SAID = "record_reading is kept as it was written: add a new row instead"


def put_guard_aside(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    on = " ON record_reading" if editor.connection.vendor == "postgresql" else ""
    for event in ("update", "delete"):
        editor.execute(f"DROP TRIGGER IF EXISTS record_reading_no_{event}{on}")


def guard_again(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    does = (
        "FOR EACH ROW EXECUTE FUNCTION record_kept()"
        if editor.connection.vendor == "postgresql"
        else f"BEGIN SELECT RAISE(ABORT, '{SAID}'); END"
    )
    for event in ("update", "delete"):
        editor.execute(
            f"CREATE TRIGGER record_reading_no_{event} BEFORE {event.upper()} ON record_reading {does}"
        )


class Migration(migrations.Migration):
    dependencies = [("record", "0006_chained_and_sealed")]
    operations = [
        migrations.RunPython(put_guard_aside, guard_again),
        migrations.AddField("reading", "said", models.CharField(blank=True, default="", max_length=200)),
        migrations.AddField("reading", "said_unit", models.CharField(blank=True, default="", max_length=12)),
        migrations.RunPython(guard_again, put_guard_aside),
        migrations.CreateModel(
            "Meter",
            [
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("state", models.CharField(blank=True, default="", max_length=12)),
                ("words", models.CharField(blank=True, default="", max_length=300)),
                ("rule", models.CharField(blank=True, default="", max_length=300)),
                ("heard_at", models.DateTimeField(null=True)),
                ("page", models.UUIDField(null=True)),
                ("follows", models.UUIDField(null=True)),
                ("page_at", models.DateTimeField(null=True)),
                ("how", models.CharField(default="steady", max_length=6)),
                ("pedal", models.CharField(blank=True, default="", max_length=20)),
                ("presses", models.PositiveIntegerField(default=0)),
                ("number", models.PositiveIntegerField(default=0)),
                ("key", models.UUIDField(null=True)),
                ("text", models.CharField(blank=True, default="", max_length=80)),
                ("unit", models.CharField(blank=True, default="", max_length=12)),
                ("said", models.CharField(blank=True, default="", max_length=200)),
                ("offered_at", models.DateTimeField(null=True)),
                (
                    "instrument",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="meter",
                        to="record.instrument",
                    ),
                ),
            ],
        ),
    ]
