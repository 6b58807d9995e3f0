"""The customer's word on a price, with the figures that were shown: only ever added."""

from __future__ import annotations

import django.db.models.deletion
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

SAID = "record_approval is kept as it was written: add a new row instead"


def forbid(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    postgresql = editor.connection.vendor == "postgresql"
    does = (
        "FOR EACH ROW EXECUTE FUNCTION record_kept()"
        if postgresql
        else f"BEGIN SELECT RAISE(ABORT, '{SAID}'); END"
    )
    for event in ("update", "delete"):
        editor.execute(
            f"CREATE TRIGGER record_approval_no_{event} BEFORE {event.upper()} ON record_approval {does}"
        )
    if postgresql:
        editor.execute(
            "CREATE TRIGGER record_approval_no_truncate BEFORE TRUNCATE ON record_approval "
            "FOR EACH STATEMENT EXECUTE FUNCTION record_kept()"
        )


def allow(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    on = " ON record_approval" if editor.connection.vendor == "postgresql" else ""
    for event in ("update", "delete", "truncate"):
        editor.execute(f"DROP TRIGGER IF EXISTS record_approval_no_{event}{on}")


class Migration(migrations.Migration):
    dependencies = [
        ("record", "0003_reason_of_a_struck_reading"),
    ]

    operations = [
        migrations.CreateModel(
            name="Approval",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "answer",
                    models.CharField(
                        choices=[("approved", "approved"), ("declined", "declined")], max_length=8
                    ),
                ),
                ("choice", models.CharField(max_length=8)),
                ("said_by", models.CharField(max_length=120)),
                (
                    "way",
                    models.CharField(
                        choices=[
                            ("in person", "in person"),
                            ("by telephone", "by telephone"),
                            ("in writing", "in writing"),
                        ],
                        max_length=12,
                    ),
                ),
                ("note", models.TextField(blank=True, default="")),
                ("shown", models.JSONField()),
                ("sha256", models.CharField(max_length=64)),
                ("software_version", models.CharField(max_length=40)),
                ("recorded_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="approvals", to="record.job"
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="record.person",
                    ),
                ),
            ],
            options={
                "verbose_name": "approval",
                "indexes": [models.Index(fields=["job", "-id"], name="approvals_of_job")],
            },
        ),
        migrations.RunPython(forbid, allow),
    ]
