"""Model sheets as the record keeps them: every version word for word, since jobs were judged by it."""

from __future__ import annotations

import hashlib
from functools import lru_cache

from django.db import transaction
from django.utils import timezone

from barwise.record.changes import log
from barwise.record.models import Person, SheetVersion
from barwise.record.refusals import RecordError
from barwise.route.sheet import ModelSheet, parse_sheet


@transaction.atomic
def store_sheet(toml: str, person: Person | None = None, name: str = "sheet.toml") -> SheetVersion:
    """Keep a version of a model sheet; the same text a second time is the version that is there.

    Parameters
    ----------
    toml : str
        The sheet's text.
    name : str
        What messages call it.

    Raises
    ------
    InputError, WindingError
        If the text is no sheet; names line and key.
    RecordError
        If this version of this sheet is kept already with another text.
    """
    sheet = parse_sheet(toml, name)
    digest = hashlib.sha256(toml.encode()).hexdigest()
    kept = SheetVersion.objects.filter(key=sheet.key, version=sheet.version).first()
    if kept is not None:
        return _same(kept, digest)
    stored = SheetVersion(
        key=sheet.key,
        version=sheet.version,
        title=sheet.title,
        family_key=sheet.family,
        toml=toml,
        sha256=digest,
        invented=sheet.invented,
        stored_at=timezone.now(),
        person=person,
    )
    stored.save()
    log("sheet stored", f"Sheet {sheet.key}, version {sheet.version}: {sheet.title}", person)
    return stored


def newest_versions() -> list[SheetVersion]:
    """The newest version of each sheet, by title."""
    newest: dict[str, SheetVersion] = {}
    for version in SheetVersion.objects.order_by("key", "version").defer("toml"):
        newest[version.key] = version
    return sorted(newest.values(), key=lambda one: one.title)


def versions_of(key: str) -> list[SheetVersion]:
    """All versions of one sheet, the newest first."""
    return list(SheetVersion.objects.filter(key=key).order_by("-version"))


def model_sheet(version: SheetVersion | None) -> ModelSheet | None:
    """The sheet itself; None where a job has none."""
    return None if version is None else sheet_from(version.toml)


@lru_cache(maxsize=128)
def sheet_from(toml: str) -> ModelSheet:
    """The sheet of a text that was kept; read once."""
    return parse_sheet(toml)


def _same(kept: SheetVersion, digest: str) -> SheetVersion:
    if kept.sha256 != digest:
        raise RecordError(
            f"version {kept.version} of sheet {kept.key}: found another text than the one kept, expected the "
            f"same; save the change as version {kept.version + 1} or later"
        )
    return kept
