"""How the bench is served. Everything that differs from shop to shop comes from the environment.

===================  ======================================================================================
BARWISE_DATA         data folder; else the system's place for a user's data
DATABASE_URL         another database, ``postgresql://...``; else SQLite in the data folder
BARWISE_LAN          1: served to the shop's network, with accounts (set by ``barwise serve --lan``)
BARWISE_PLAIN_HTTP   1: in the network without https (set by ``barwise serve --lan`` without ``--https``)
BARWISE_HOSTS        further names this computer answers to, by commas (set by ``--https`` and ``--name``)
BARWISE_READ_ONLY    why nothing can be entered: the database is damaged (set by ``barwise serve``)
===================  ======================================================================================

Importing this module writes nothing. See docs/serving.md.
"""

from __future__ import annotations

import os
from datetime import timedelta
from pathlib import Path
from typing import Any

import dj_database_url
from csp.constants import NONE, SELF

from barwise.version import __version__
from barwise.web.data_folder import data_folder, secret_key
from barwise.web.sound import address
from barwise.web.surroundings import LOOPBACK, own_names, time_zone

HERE = Path(__file__).parent
DATA = data_folder()
VERSION = __version__


def _said(name: str) -> bool:
    return os.environ.get(name, "").strip().lower() in ("1", "yes", "true", "on")


LAN = _said("BARWISE_LAN")
HTTPS = LAN and not _said("BARWISE_PLAIN_HTTP")
FURTHER_HOSTS = [name.strip() for name in os.environ.get("BARWISE_HOSTS", "").split(",") if name.strip()]

DEBUG = False
SECRET_KEY = secret_key(DATA)
ALLOWED_HOSTS = [*(own_names() if LAN else LOOPBACK), *FURTHER_HOSTS]
ROOT_URLCONF = "barwise.web.urls"
WSGI_APPLICATION = "barwise.web.wsgi.application"
APPEND_SLASH = False

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "django_htmx",
    "barwise.record",
    "barwise.web",
]

MIDDLEWARE = [
    # The headers first: so that redirects, refusals and static files carry them as well.
    "barwise.web.access.further_headers",
    "csp.middleware.CSPMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "barwise.web.views.errors.only_to_look",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "barwise.web.access.at_this_computer",
    "barwise.web.access.Roles",
    "django.contrib.messages.middleware.MessageMiddleware",
    "axes.middleware.AxesMiddleware",
    "barwise.web.shops_numbers.shops_numbers",
    "barwise.web.views.errors.WhatBarwiseRefuses",
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "barwise.web.frame.frame",
            ],
        },
    },
]

# ---------------------------------------------------------------------------------------------------
# Data. A reading is acknowledged when it is on the disk, so each commit waits for the disk (FULL).

SQLITE: dict[str, Any] = {
    "ENGINE": "django.db.backends.sqlite3",
    "NAME": str(DATA.database),
    "CONN_MAX_AGE": None,
    "OPTIONS": {
        "timeout": 10,  # to open it; after that turn_to_write waits, hence the last of the settings below
        "transaction_mode": "IMMEDIATE",
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; "
        "PRAGMA busy_timeout=0",
    },
}
READ_ONLY = os.environ.get("BARWISE_READ_ONLY", "").strip()
if READ_ONLY:  # opened as it is: nothing is written to a damaged file, and no new one is begun
    SQLITE |= {"NAME": address(DATA.database), "OPTIONS": {"timeout": 10}}
_ELSEWHERE = os.environ.get("DATABASE_URL", "").strip()
DATABASES: dict[str, Any] = {
    "default": dict(dj_database_url.parse(_ELSEWHERE, conn_max_age=None, conn_health_checks=True))
    if _ELSEWHERE
    else SQLITE
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

MEDIA_ROOT = str(DATA.photos)
SIGNING_KEY_FILE = str(DATA.signing_key)
FILE_UPLOAD_PERMISSIONS = 0o600

# ---------------------------------------------------------------------------------------------------
# Style and scripts: from this computer alone, under names that change with their content.

STATIC_URL = "/static/"
STATIC_ROOT = str(DATA.static)
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "barwise.web.static_names.StaticNames"},
}

# ---------------------------------------------------------------------------------------------------
# People

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "sign-in"

# Five wrong passwords, from one address or for one name, and it waits a quarter of an hour.
AXES_ENABLED = LAN
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = ["ip_address", "username"]
AXES_RESET_ON_SUCCESS = True
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_LOCKOUT_TEMPLATE = "locked_out.html"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

# ---------------------------------------------------------------------------------------------------
# The browser is told to load nothing from elsewhere and to run nothing written into a page.

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "blob:"],  # blob: a photo as the tablet took it, before it is sent
        "media-src": [SELF],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    },
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
CSRF_FAILURE_VIEW = "barwise.web.views.errors.form_too_old"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = int(timedelta(hours=12 if LAN else 24 * 90).total_seconds())
SESSION_SAVE_EVERY_REQUEST = False

if HTTPS:
    SECURE_SSL_REDIRECT = True
    SECURE_REDIRECT_EXEMPT = [r"^health$"]
    SECURE_HSTS_SECONDS = int(timedelta(days=30).total_seconds())
    SECURE_HSTS_INCLUDE_SUBDOMAINS = True
    SECURE_HSTS_PRELOAD = True
    SESSION_COOKIE_SECURE = True
    CSRF_COOKIE_SECURE = True

# ---------------------------------------------------------------------------------------------------
# Words and times as the shop has them

LANGUAGE_CODE = "en"
USE_I18N = False
USE_TZ = True
TIME_ZONE = time_zone()

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"screen": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["screen"], "level": "WARNING"},
    "loggers": {"django": {"handlers": [], "level": "WARNING", "propagate": True}},
}
