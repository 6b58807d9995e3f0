"""The tables as first made."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Customer",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(db_index=True, max_length=200)),
                ("contact", models.TextField(blank=True, default="")),
                ("note", models.TextField(blank=True, default="")),
                ("invented", models.BooleanField(default=False)),
            ],
        ),
        migrations.CreateModel(
            name="Unit",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("tag", models.CharField(max_length=60, unique=True)),
                ("serial", models.CharField(blank=True, db_index=True, default="", max_length=80)),
                ("family_key", models.CharField(max_length=60)),
                ("description", models.CharField(blank=True, default="", max_length=200)),
                ("invented", models.BooleanField(default=False)),
            ],
        ),
        migrations.CreateModel(
            name="Instrument",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("tag", models.CharField(db_index=True, max_length=60)),
                ("kind", models.CharField(max_length=80)),
                ("quantity", models.CharField(default="length", max_length=20)),
                ("unit", models.CharField(blank=True, default="", max_length=12)),
                ("resolution_si", models.FloatField(default=0.0)),
                ("calibration_standard_uncertainty_si", models.FloatField(default=0.0)),
                ("repeatability_si", models.FloatField(default=0.0)),
                ("calibrated_on", models.DateField(blank=True, null=True)),
                ("due_on", models.DateField(blank=True, null=True)),
                ("retired", models.BooleanField(default=False)),
                (
                    "follows",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="followed_by",
                        to="record.instrument",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Job",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("uuid", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("number", models.CharField(max_length=40, unique=True)),
                ("family_key", models.CharField(max_length=60)),
                ("complaint", models.TextField(blank=True, default="")),
                (
                    "state",
                    models.CharField(
                        choices=[("open", "open"), ("waiting", "waiting"), ("closed", "closed")],
                        default="open",
                        max_length=8,
                    ),
                ),
                ("waits_for", models.CharField(blank=True, default="", max_length=200)),
                ("opened_at", models.DateTimeField()),
                ("closed_at", models.DateTimeField(null=True)),
                ("last_seq", models.PositiveIntegerField(default=0)),
                ("invented", models.BooleanField(default=False)),
                (
                    "customer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="jobs", to="record.customer"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Person",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=120, unique=True)),
                (
                    "role",
                    models.CharField(
                        choices=[("bench", "bench"), ("office", "office"), ("reader", "reader")],
                        default="bench",
                        max_length=8,
                    ),
                ),
                ("active", models.BooleanField(default=True)),
                (
                    "user",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="person",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Part",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("station_key", models.CharField(blank=True, default="", max_length=60)),
                ("name", models.CharField(max_length=120)),
                ("part_number", models.CharField(blank=True, default="", max_length=80)),
                (
                    "action",
                    models.CharField(choices=[("fitted", "fitted"), ("replaced", "replaced")], max_length=8),
                ),
                ("quantity", models.PositiveIntegerField(default=1)),
                ("note", models.TextField(blank=True, default="")),
                ("recorded_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="parts", to="record.job"
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
        ),
        migrations.CreateModel(
            name="Disposition",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("station_key", models.CharField(max_length=60)),
                ("part", models.CharField(blank=True, default="", max_length=120)),
                (
                    "proposed",
                    models.CharField(
                        blank=True,
                        choices=[("reuse", "reuse"), ("rework", "rework"), ("replace", "replace")],
                        default="",
                        max_length=8,
                    ),
                ),
                (
                    "decided",
                    models.CharField(
                        choices=[("reuse", "reuse"), ("rework", "rework"), ("replace", "replace")],
                        max_length=8,
                    ),
                ),
                ("reason", models.TextField(blank=True, default="")),
                ("decided_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="dispositions",
                        to="record.job",
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
                "verbose_name": "disposition",
            },
        ),
        migrations.CreateModel(
            name="Change",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField(db_index=True)),
                ("what", models.CharField(max_length=60)),
                ("line", models.TextField()),
                ("details", models.JSONField(default=dict)),
                (
                    "job",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="changes",
                        to="record.job",
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="changes",
                        to="record.person",
                    ),
                ),
            ],
            options={
                "verbose_name": "change",
            },
        ),
        migrations.CreateModel(
            name="Photo",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("station_key", models.CharField(blank=True, default="", max_length=60)),
                ("check_key", models.CharField(blank=True, default="", max_length=60)),
                ("sha256", models.CharField(max_length=64)),
                ("width", models.PositiveIntegerField()),
                ("height", models.PositiveIntegerField()),
                ("size_bytes", models.PositiveIntegerField()),
                ("caption", models.CharField(blank=True, default="", max_length=200)),
                ("recorded_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="photos", to="record.job"
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
        ),
        migrations.CreateModel(
            name="Reading",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.UUIDField(unique=True)),
                ("seq", models.PositiveIntegerField()),
                ("station_key", models.CharField(max_length=60)),
                ("check_key", models.CharField(max_length=60)),
                ("test", models.CharField(blank=True, default="", max_length=20)),
                ("place_from", models.CharField(blank=True, default="", max_length=16)),
                ("place_to", models.CharField(blank=True, default="", max_length=16)),
                ("track", models.CharField(blank=True, default="", max_length=16)),
                ("value_si", models.FloatField(null=True)),
                ("entered", models.TextField(blank=True, default="")),
                ("unit", models.CharField(blank=True, default="", max_length=12)),
                ("feed_from", models.PositiveIntegerField(null=True)),
                ("feed_to", models.PositiveIntegerField(null=True)),
                ("feed_amps", models.FloatField(null=True)),
                ("taken_at", models.DateTimeField()),
                ("received_at", models.DateTimeField()),
                ("struck", models.BooleanField(default=False)),
                (
                    "instrument",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="readings",
                        to="record.instrument",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="readings", to="record.job"
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="readings",
                        to="record.person",
                    ),
                ),
                (
                    "supersedes",
                    models.OneToOneField(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="superseded_by",
                        to="record.reading",
                    ),
                ),
            ],
            options={
                "verbose_name": "reading",
                "ordering": ["job_id", "seq"],
            },
        ),
        migrations.CreateModel(
            name="Result",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("station_key", models.CharField(max_length=60)),
                ("check_key", models.CharField(max_length=60)),
                ("decision", models.CharField(max_length=12)),
                ("value", models.FloatField(null=True)),
                ("uncertainty", models.FloatField(null=True)),
                ("quantity", models.CharField(blank=True, default="", max_length=20)),
                ("unit", models.CharField(blank=True, default="", max_length=12)),
                ("probability", models.FloatField(null=True)),
                ("line", models.TextField(blank=True, default="")),
                ("settle", models.TextField(blank=True, default="")),
                ("details", models.JSONField(default=dict)),
                ("software_version", models.CharField(max_length=40)),
                ("seqs", models.JSONField(default=list)),
                ("fingerprint", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField()),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="results", to="record.job"
                    ),
                ),
            ],
            options={
                "verbose_name": "result",
            },
        ),
        migrations.CreateModel(
            name="CheckStanding",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("station_key", models.CharField(max_length=60)),
                ("check_key", models.CharField(max_length=60)),
                ("in_force", models.PositiveIntegerField(default=0)),
                ("touches", models.PositiveIntegerField(default=0)),
                ("decided_touches", models.PositiveIntegerField(default=0)),
                ("touched_at", models.DateTimeField(null=True)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="standings", to="record.job"
                    ),
                ),
                (
                    "result",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="record.result",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="SheetVersion",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.CharField(max_length=60)),
                ("version", models.PositiveIntegerField()),
                ("title", models.CharField(max_length=200)),
                ("family_key", models.CharField(max_length=60)),
                ("toml", models.TextField()),
                ("sha256", models.CharField(max_length=64)),
                ("invented", models.BooleanField(default=False)),
                ("stored_at", models.DateTimeField()),
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
                "verbose_name": "version of a model sheet",
            },
        ),
        migrations.AddField(
            model_name="result",
            name="sheet",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="results",
                to="record.sheetversion",
            ),
        ),
        migrations.AddField(
            model_name="job",
            name="sheet",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="jobs",
                to="record.sheetversion",
            ),
        ),
        migrations.CreateModel(
            name="Shop",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(blank=True, default="", max_length=120)),
                ("decimal_comma", models.BooleanField(default=False)),
                (
                    "length_unit",
                    models.CharField(choices=[("in", "inch"), ("mm", "mm")], default="in", max_length=4),
                ),
                ("level", models.FloatField(default=0.95)),
                ("invented", models.BooleanField(default=False)),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("id", 1)), name="one_shop"),
                    models.CheckConstraint(
                        condition=models.Q(("level__gt", 0.5), ("level__lt", 1)), name="shop_level"
                    ),
                ],
            },
        ),
        migrations.AddField(
            model_name="job",
            name="unit",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="jobs", to="record.unit"
            ),
        ),
        migrations.AddConstraint(
            model_name="instrument",
            constraint=models.UniqueConstraint(
                condition=models.Q(("retired", False)), fields=("tag",), name="instrument_tag_in_use_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="instrument",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("calibration_standard_uncertainty_si__gte", 0),
                    ("repeatability_si__gte", 0),
                    ("resolution_si__gte", 0),
                ),
                name="instrument_figures_not_negative",
            ),
        ),
        migrations.AddIndex(
            model_name="disposition",
            index=models.Index(fields=["job", "station_key", "-id"], name="dispositions_of_station"),
        ),
        migrations.AddConstraint(
            model_name="disposition",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("proposed", ""),
                    ("decided", models.F("proposed")),
                    models.Q(("reason", ""), _negated=True),
                    _connector="OR",
                ),
                name="overruled_with_a_reason",
            ),
        ),
        migrations.AddIndex(
            model_name="change",
            index=models.Index(fields=["job", "-id"], name="changes_of_job"),
        ),
        migrations.AddIndex(
            model_name="reading",
            index=models.Index(fields=["job", "station_key", "check_key", "seq"], name="readings_of_check"),
        ),
        migrations.AddConstraint(
            model_name="reading",
            constraint=models.UniqueConstraint(fields=("job", "seq"), name="reading_numbered_once"),
        ),
        migrations.AddConstraint(
            model_name="reading",
            constraint=models.CheckConstraint(
                condition=models.Q(("struck", False), ("supersedes__isnull", False), _connector="OR"),
                name="struck_reading_names_which",
            ),
        ),
        migrations.AddConstraint(
            model_name="checkstanding",
            constraint=models.UniqueConstraint(
                fields=("job", "station_key", "check_key"), name="one_standing_per_check"
            ),
        ),
        migrations.AddConstraint(
            model_name="sheetversion",
            constraint=models.UniqueConstraint(fields=("key", "version"), name="sheet_version_once"),
        ),
        migrations.AddIndex(
            model_name="result",
            index=models.Index(fields=["job", "station_key", "check_key", "-id"], name="results_of_check"),
        ),
        migrations.AddIndex(
            model_name="job",
            index=models.Index(fields=["state", "-opened_at"], name="jobs_on_hand"),
        ),
    ]
