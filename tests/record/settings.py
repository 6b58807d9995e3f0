"""The least Django that the record needs; DATABASE_URL chooses PostgreSQL instead of SQLite."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import dj_database_url

SECRET_KEY = "for tests only"
USE_TZ = True
TIME_ZONE = "UTC"
INSTALLED_APPS = ["django.contrib.contenttypes", "django.contrib.auth", "barwise.record"]
BARWISE_DATA = Path(os.environ.get("BARWISE_DATA") or tempfile.mkdtemp(prefix="barwise-test-"))
_url = os.environ.get("DATABASE_URL")
DATABASES = {
    "default": dj_database_url.parse(_url)
    if _url
    else {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": BARWISE_DATA / "barwise.sqlite3",
        "OPTIONS": {"timeout": 10, "transaction_mode": "IMMEDIATE"},
    }
}
