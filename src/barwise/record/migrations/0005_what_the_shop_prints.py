"""What the shop prints: its address, the words of its warranty, its paper."""

from __future__ import annotations

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("record", "0004_approval"),
    ]

    operations = [
        migrations.AddField("shop", "address", models.TextField(default="", blank=True)),
        migrations.AddField("shop", "warranty", models.TextField(default="", blank=True)),
        migrations.AddField(
            "shop",
            "paper",
            models.CharField(max_length=6, default="a4", choices=[("a4", "A4"), ("letter", "US Letter")]),
        ),
    ]
