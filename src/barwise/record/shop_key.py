"""The key this shop signs with: in a file of the data folder, its public half in the record."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from barwise.errors import BarwiseError
from barwise.files.canonical_json import time_text
from barwise.files.on_disk import write_once, write_whole
from barwise.files.signing_key import PublicKey, SigningKey, grouped
from barwise.record.changes import log
from barwise.record.models import Person, ShopKey

LOST = "the key before it was not here to vouch for it"


def the_key(person: Person | None = None) -> SigningKey:
    """The key that signs now; made, and written down in the record, where there is none.

    Raises
    ------
    BarwiseError
        If its file is there and cannot be read, or cannot be written.
    """
    file = _file()
    try:
        key = SigningKey.read(file)
    except FileNotFoundError:
        key = _made(file)
    if not ShopKey.objects.filter(fingerprint=key.fingerprint).exists():
        _keep(PublicKey(key.public, time_text(timezone.now())), person)
    return key


def key_at_hand() -> str:
    """Fingerprint of the key that signs here; empty before the first one, or where its file is gone."""
    try:
        return SigningKey.read(_file()).fingerprint
    except (FileNotFoundError, BarwiseError):
        return ""


def new_key(person: Person | None = None) -> SigningKey:
    """Another key that signs from now on, with the word of the one before; that one's file is then gone.

    The record is written before the file: a power cut between the two leaves the old key signing.
    """
    old, new = the_key(person), SigningKey.made()
    with transaction.atomic():
        _keep(old.vouch(PublicKey(new.public, time_text(timezone.now()))), person)
        try:
            write_whole(_file(), new.pem)
        except OSError as error:
            raise _cannot(error) from None
    return new


def public_keys() -> tuple[PublicKey, ...]:
    """All keys this shop ever signed with, the oldest first."""
    rows = ShopKey.objects.order_by("id")
    return tuple(PublicKey(one.public, one.made_at, one.follows, one.vouched) for one in rows)


def _made(file: Path) -> SigningKey:
    try:
        write_once(file, SigningKey.made().pem)
    except OSError as error:
        raise _cannot(error) from None
    return SigningKey.read(file)  # another bench may have been first


def _keep(key: PublicKey, person: Person | None) -> None:
    first = not ShopKey.objects.exists()
    ShopKey(fingerprint=key.fingerprint, **vars(key)).save()
    after = "" if first else f", after {grouped(key.follows)}" if key.follows else f": {LOST}"
    log("signing key made", f"Signing key {grouped(key.fingerprint)}{after}", person)


def _cannot(error: OSError) -> BarwiseError:
    return BarwiseError(f"the signing key {_file()} cannot be written ({error.strerror}): free the folder")


def _file() -> Path:
    return Path(settings.SIGNING_KEY_FILE)
