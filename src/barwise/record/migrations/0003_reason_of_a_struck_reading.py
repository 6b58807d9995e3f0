"""Why a reading was struck out stands with the row that strikes it, and no longer in the log of changes only.

A new column is a change of every row, so the guard of the readings is put aside and stands again at the end;
SQLite writes such a table anew, and its triggers go with the old one.
"""

from __future__ import annotations

from typing import Any

from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

SAID = "record_reading is kept as it was written: add a new row instead"
NO_REASON = "no reason was written down"


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


def take_over(apps: StateApps, _: BaseDatabaseSchemaEditor) -> None:
    """The reasons that were logged, by the key of the reading that was withdrawn."""
    logged = apps.get_model("record", "Change").objects.filter(what="reading withdrawn")
    reasons = {
        details.get("key"): details.get("reason") for details in logged.values_list("details", flat=True)
    }
    readings: Any = apps.get_model("record", "Reading").objects
    for row in readings.filter(struck=True).select_related("supersedes"):
        reason = reasons.get(str(row.supersedes.key)) or NO_REASON
        readings.filter(pk=row.pk).update(reason=reason[:200])


class Migration(migrations.Migration):
    """After the triggers are there."""

    dependencies = [("record", "0002_kept_for_good")]
    operations = [
        migrations.RunPython(put_guard_aside, guard_again),
        migrations.AddField("reading", "reason", models.CharField(blank=True, default="", max_length=200)),
        migrations.RunPython(take_over, migrations.RunPython.noop),
        migrations.AddConstraint(
            "reading",
            models.CheckConstraint(
                condition=models.Q(struck=False, reason="") | (models.Q(struck=True) & ~models.Q(reason="")),
                name="struck_for_a_reason",
            ),
        ),
        migrations.RunPython(guard_again, put_guard_aside),
    ]
