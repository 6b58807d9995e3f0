"""What other shops signed of jobs that were brought in: kept as it came, like every seal."""

from __future__ import annotations

import django.db.models.deletion
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

TABLE = "record_broughtseal"
SAID = f"{TABLE} is kept as it was written: add a new row instead"


def forbid(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    postgresql = editor.connection.vendor == "postgresql"
    for event in ("update", "delete", "truncate") if postgresql else ("update", "delete"):
        each = "STATEMENT" if event == "truncate" else "ROW"
        does = (
            f"FOR EACH {each} EXECUTE FUNCTION record_kept()"
            if postgresql
            else f"BEGIN SELECT RAISE(ABORT, '{SAID}'); END"
        )
        editor.execute(f"CREATE TRIGGER {TABLE}_no_{event} BEFORE {event.upper()} ON {TABLE} {does}")


def allow(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    on = f" ON {TABLE}" if editor.connection.vendor == "postgresql" else ""
    for event in ("update", "delete", "truncate"):
        editor.execute(f"DROP TRIGGER IF EXISTS {TABLE}_no_{event}{on}")


def _to(model: str, name: str, *, one: bool = False) -> models.ForeignKey:
    kind = models.OneToOneField if one else models.ForeignKey
    return kind(
        null=not one, on_delete=django.db.models.deletion.PROTECT, related_name=name, to=f"record.{model}"
    )


class Migration(migrations.Migration):
    dependencies = [("record", "0007_meters_that_talk")]
    operations = [
        migrations.CreateModel(
            "BroughtSeal",
            [
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.CharField(max_length=40)),
                ("packed", models.BinaryField()),
                ("digest", models.CharField(blank=True, default="", max_length=64)),
                ("shop", models.CharField(blank=True, default="", max_length=200)),
                ("key", models.CharField(blank=True, default="", max_length=64)),
                ("signed_at", models.DateTimeField(null=True)),
                ("taken", models.CharField(blank=True, default="", max_length=8)),
                ("altered", models.JSONField(default=list)),
                ("photos", models.JSONField(default=dict)),
                ("brought_at", models.DateTimeField()),
                ("job", _to("job", "brought", one=True)),
                ("person", _to("person", "+")),
            ],
            options={"verbose_name": "seal brought in"},
        ),
        migrations.RunPython(forbid, allow),
    ]
