"""The screens as an application of Django: its templates, its static files, and who may do what."""

from __future__ import annotations

from django.apps import AppConfig, apps
from django.db.backends.signals import connection_created
from django.db.models.signals import post_migrate


class WebConfig(AppConfig):
    """Makes the roles whenever the tables are made or changed, and has writers wait for their turn."""

    name = "barwise.web"
    label = "web"

    def ready(self) -> None:
        """Have the roles follow each migration, and each connection wait outside of SQLite."""
        from barwise.web.roles import make_roles
        from barwise.web.turn_to_write import wait_outside

        # Roles are groups, so they follow the tables of accounts; this application has no tables.
        post_migrate.connect(make_roles, sender=apps.get_app_config("auth"))
        connection_created.connect(wait_outside)
