"""Django made ready for a command: the data folder, the database and its tables, the static files."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from barwise.errors import BarwiseError
from barwise.web import database_file, photo_files
from barwise.web.backup.database import counted_in_sqlite
from barwise.web.backup.taking import take
from barwise.web.data_folder import DataFolder, data_folder, elsewhere, make

OWN_APPS = ("record", "web")


def start(folder: DataFolder) -> None:
    """Make the data folder and load Django. Reads no database."""
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "barwise.web.settings")
    make(folder)
    django.setup()


def prepare(folder: DataFolder) -> list[str]:
    """Make the database ready: checked, copied and brought up to date.

    Returns
    -------
    list of str
        What was done that the shop may want to know.

    Raises
    ------
    BarwiseError
        If the database is damaged, cannot be reached, or was made by a newer barwise.
    """
    if own_file():
        make(folder)
        database_file.check(folder)
    start(folder)
    with plain_words(folder):
        said = _bring_up_to_date(folder)
    return said + (_what_is_gone(folder) if own_file() else [])


def _what_is_gone(folder: DataFolder) -> list[str]:
    fewer = database_file.fewer_than_backed_up(folder)
    said = [fewer] if fewer else []
    lost = photo_files.gone(folder, counted_in_sqlite(folder.database).photos)
    if lost:
        some = "1 photo is" if len(lost) == 1 else f"{len(lost)} photos are"
        said.append(f"{some} gone from {folder.photos}: barwise restore puts back what the backups have")
    return said


def own_file() -> bool:
    """Whether the data lies in a file of the data folder, and not in a database named by DATABASE_URL."""
    return not elsewhere()


def lay_out_static() -> None:
    """Lay style and scripts out under names that change with their content; a server that runs goes on."""
    from django.core.management import call_command

    call_command("collectstatic", interactive=False, verbosity=0)


def manage(arguments: Sequence[str]) -> None:
    """Run one of Django's own commands on the shop.

    `check --deploy` asks whether it may stand in a network, so it is asked of the settings for a network
    unless BARWISE_LAN says otherwise.
    """
    from django.core.management import execute_from_command_line

    if "--deploy" in arguments:
        os.environ.setdefault("BARWISE_LAN", "1")
    folder = data_folder()
    start(folder)
    with plain_words(folder):
        execute_from_command_line(["barwise manage", *arguments])


@contextmanager
def plain_words(folder: DataFolder) -> Iterator[None]:
    """Turn a database that fails into words that say what to do."""
    from django.db import DatabaseError, connection

    try:
        yield
    except DatabaseError as error:
        if connection.vendor == "sqlite":
            database_file.check(folder)
            raise BarwiseError(f"the database {folder.database} refuses: {error}") from error
        raise BarwiseError(f"the database named in DATABASE_URL refuses: {error}") from error


def _bring_up_to_date(folder: DataFolder) -> list[str]:
    from django.core.management import call_command
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    _refuse_newer(set(executor.loader.applied_migrations), set(executor.loader.disk_migrations))
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    begun = bool(executor.loader.applied_migrations)
    if not plan:
        return []
    done = [_backed_up_first(folder)] if begun else []
    call_command("migrate", interactive=False, verbosity=0)
    if own_file():
        folder.database.chmod(0o600)
    done.append("The tables were brought up to date." if begun else "A new shop was begun.")
    return done


def _backed_up_first(folder: DataFolder) -> str:
    """A backup before the tables change. Without one a file is left as it is; a server has its own."""
    try:
        return f"A backup was taken first: {take(folder).path}"
    except BarwiseError as error:
        if own_file():
            raise
        return f"No backup was taken first: {error}"


def _refuse_newer(applied: set[tuple[str, str]], known: set[tuple[str, str]]) -> None:
    unknown = sorted(name for app, name in applied - known if app in OWN_APPS)
    if unknown:
        raise BarwiseError(
            f"the database was made by a newer barwise (it has {unknown[-1]}, which this version does not "
            "know): start it with that version; nothing was changed"
        )
