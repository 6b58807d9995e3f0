"""Who may do what in the shop: three roles, each a group of accounts with permissions."""

from __future__ import annotations

from typing import Any, Final

from django.apps.registry import Apps
from django.apps.registry import apps as installed
from django.contrib.auth.models import Group, Permission
from django.contrib.contenttypes.models import ContentType
from django.db import DEFAULT_DB_ALIAS

SEE: Final = "web.see"
ENTER: Final = "web.enter"
OFFICE: Final = "web.office"

PERMISSIONS: Final = {
    SEE: "See jobs, readings and results",
    ENTER: "Take readings and photos, decide on parts",
    OFFICE: "Keep customers, units, model sheets and instruments; import and export",
}
ROLES: Final = {
    "reader": (SEE,),
    "bench": (SEE, ENTER),
    "office": (SEE, ENTER, OFFICE),
}


def make_roles(using: str = DEFAULT_DB_ALIAS, apps: Apps = installed, **_: Any) -> None:
    """Make the permissions and the groups that hold them; called after each migration."""
    try:
        apps.get_model("auth", "Group")
    except LookupError:  # the tables are being taken down
        return
    place, _made = ContentType.objects.db_manager(using).get_or_create(app_label="web", model="shop")
    permissions = {
        name: Permission.objects.using(using).update_or_create(
            content_type=place, codename=name.partition(".")[2], defaults={"name": says}
        )[0]
        for name, says in PERMISSIONS.items()
    }
    for role, names in ROLES.items():
        group, _made = Group.objects.using(using).get_or_create(name=role)
        group.permissions.set([permissions[name] for name in names])
