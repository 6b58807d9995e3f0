"""Triggers that keep readings, and all else that is only ever added, from change and deletion.

The service layer refuses the same; these stand for every other program that opens the database.
"""

from __future__ import annotations

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps

KEPT = ("reading", "result", "disposition", "change", "sheetversion")
FIGURES = (
    "tag",
    "kind",
    "quantity",
    "unit",
    "resolution_si",
    "calibration_standard_uncertainty_si",
    "repeatability_si",
    "calibrated_on",
)
"""Of an instrument: readings were judged by these."""
SAID = "is kept as it was written: add a new row instead"


def forbid(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    statements = {"sqlite": _sqlite, "postgresql": _postgresql}
    for statement in statements[editor.connection.vendor]():
        editor.execute(statement)


def allow(_: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    postgresql = editor.connection.vendor == "postgresql"
    for table in (*KEPT, "instrument"):
        on = f" ON record_{table}" if postgresql else ""
        for event in ("update", "delete", "truncate"):
            editor.execute(f"DROP TRIGGER IF EXISTS record_{table}_no_{event}{on}")
    if postgresql:
        editor.execute("DROP FUNCTION IF EXISTS record_kept()")


def _sqlite() -> list[str]:
    def trigger(table: str, event: str, of: str = "") -> str:
        return (
            f"CREATE TRIGGER record_{table}_no_{event} BEFORE {event.upper()}{of} ON record_{table} "
            f"BEGIN SELECT RAISE(ABORT, 'record_{table} {SAID}'); END"
        )

    figures = f" OF {', '.join(FIGURES)}"
    return [
        *(trigger(table, event) for table in KEPT for event in ("update", "delete")),
        trigger("instrument", "update", figures),
        trigger("instrument", "delete"),
    ]


def _postgresql() -> list[str]:
    def trigger(table: str, event: str, of: str = "", each: str = "ROW") -> str:
        return (
            f"CREATE TRIGGER record_{table}_no_{event} BEFORE {event.upper()}{of} ON record_{table} "
            f"FOR EACH {each} EXECUTE FUNCTION record_kept()"
        )

    function = (
        "CREATE FUNCTION record_kept() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"RAISE EXCEPTION USING MESSAGE = TG_TABLE_NAME || ' {SAID}'; END $$"
    )
    figures = f" OF {', '.join(FIGURES)}"
    return [
        function,
        *(trigger(table, event) for table in KEPT for event in ("update", "delete")),
        *(trigger(table, "truncate", each="STATEMENT") for table in (*KEPT, "instrument")),
        trigger("instrument", "update", figures),
        trigger("instrument", "delete"),
    ]


class Migration(migrations.Migration):
    """After the tables are there."""

    dependencies = [("record", "0001_first")]
    operations = [migrations.RunPython(forbid, allow)]
