"""Readings are chained, and finished jobs are signed.

Readings that are there get their links now, in the order they came: that protects them from today on and says
nothing about before, so each job keeps the day and how far that goes.
"""

from __future__ import annotations

from typing import Any

import django.db.models.deletion
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps
from django.utils import timezone

from barwise.files.reading_chain import content_of, instrument_digest, link, start

READING = "record_reading"
NEW = ("record_shopkey", "record_seal")
SAID = "is kept as it was written: add a new row instead"
AT_ONCE = 500


def put_guard_aside(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    _drop(editor, READING, "update", "delete")


def guard_again(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    _guard(editor, READING, "update", "delete")


def forbid(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    for table in NEW:
        _guard(editor, table, "update", "delete")
        if editor.connection.vendor == "postgresql":
            _guard(editor, table, "truncate", each="STATEMENT")


def allow(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    for table in NEW:
        _drop(editor, table, "update", "delete", "truncate")


def chain(apps: StateApps, _: BaseDatabaseSchemaEditor) -> None:
    """Each job's readings in their order, each with the link that follows from the one before."""
    jobs, now = apps.get_model("record", "Job").objects, timezone.now()
    readings: Any = apps.get_model("record", "Reading").objects
    for job in jobs.filter(last_seq__gt=0).order_by("id"):
        head, rows = start(job.uuid), []
        found = readings.filter(job=job).select_related("person", "instrument", "supersedes")
        for row in found.order_by("seq"):
            head = row.link = link(head, _content(row))
            rows.append(row)
        readings.bulk_update(rows, ["link"], batch_size=AT_ONCE)
        jobs.filter(pk=job.pk).update(chain_head=head, chained_seq=job.last_seq, chained_at=now)


def _content(row: Any) -> dict[str, Any]:
    return content_of(
        vars(row),
        by="" if row.person is None else row.person.name,
        instrument="" if row.instrument is None else instrument_digest(vars(row.instrument)),
        supersedes=None if row.supersedes is None else str(row.supersedes.key),
    )


def _guard(editor: BaseDatabaseSchemaEditor, table: str, *events: str, each: str = "ROW") -> None:
    does = (
        f"FOR EACH {each} EXECUTE FUNCTION record_kept()"
        if editor.connection.vendor == "postgresql"
        else f"BEGIN SELECT RAISE(ABORT, '{table} {SAID}'); END"
    )
    for event in events:
        editor.execute(f"CREATE TRIGGER {table}_no_{event} BEFORE {event.upper()} ON {table} {does}")


def _drop(editor: BaseDatabaseSchemaEditor, table: str, *events: str) -> None:
    on = f" ON {table}" if editor.connection.vendor == "postgresql" else ""
    for event in events:
        editor.execute(f"DROP TRIGGER IF EXISTS {table}_no_{event}{on}")


ID = ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID"))


class Migration(migrations.Migration):
    dependencies = [("record", "0005_what_the_shop_prints")]

    operations = [
        migrations.RunPython(put_guard_aside, guard_again),
        migrations.AddField("reading", "link", models.CharField(blank=True, default="", max_length=64)),
        migrations.AddField("job", "chain_head", models.CharField(blank=True, default="", max_length=64)),
        migrations.AddField("job", "chained_seq", models.PositiveIntegerField(default=0)),
        migrations.AddField("job", "chained_at", models.DateTimeField(null=True)),
        migrations.RunPython(chain, migrations.RunPython.noop),
        migrations.RunPython(guard_again, put_guard_aside),
        migrations.CreateModel(
            name="ShopKey",
            fields=[
                ID,
                ("fingerprint", models.CharField(max_length=64, unique=True)),
                ("public", models.CharField(max_length=64)),
                ("made_at", models.CharField(max_length=40)),
                ("follows", models.CharField(blank=True, default="", max_length=64)),
                ("vouched", models.CharField(blank=True, default="", max_length=128)),
            ],
            options={"verbose_name": "signing key"},
        ),
        migrations.CreateModel(
            name="Seal",
            fields=[
                ID,
                ("number", models.PositiveIntegerField()),
                ("packed", models.BinaryField()),
                ("digest", models.CharField(max_length=64)),
                ("signature", models.CharField(max_length=128)),
                ("signed_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="seals", to="record.job"
                    ),
                ),
                (
                    "key",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="seals", to="record.shopkey"
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
            options={"verbose_name": "seal", "ordering": ["job_id", "number"]},
        ),
        migrations.AddConstraint(
            "seal", models.UniqueConstraint(fields=("job", "number"), name="seal_numbered_once")
        ),
        migrations.RunPython(forbid, allow),
    ]
