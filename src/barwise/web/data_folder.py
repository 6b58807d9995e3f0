"""Where the shop's data lies on this computer, and what stands in it."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from barwise.errors import BarwiseError
from barwise.files.on_disk import write_once

ASIDE = "before-restore-"
"""How the name of a folder begins that keeps what a backup took the place of."""
UNPACKING = "unpacking-"
SHORTEST_KEY = 50
"""Characters; what `manage check --deploy` asks of a secret key."""


@dataclass(frozen=True)
class DataFolder:
    """One shop's folder: its database, photos, copies of the database, and the key that signs sessions."""

    path: Path

    @property
    def database(self) -> Path:
        """The SQLite file, unless DATABASE_URL names another database."""
        return self.path / "barwise.sqlite3"

    def beside(self, ending: str) -> Path:
        """A file that SQLite keeps beside the database, such as ``-wal``."""
        return self.database.with_name(self.database.name + ending)

    @property
    def copies(self) -> Path:
        """Backups, taken once a day and before each change of the tables."""
        return self.path / "copies"

    @property
    def copied_photos(self) -> Path:
        """One copy of each photo, for all backups."""
        return self.copies / "photos"

    @property
    def photos(self) -> Path:
        """Photos, re-encoded."""
        return self.path / "photos"

    @property
    def static(self) -> Path:
        """Style and scripts as the browser fetches them; made anew at each start."""
        return self.path / "static"

    @property
    def key_file(self) -> Path:
        """The secret that signs sessions, readable to its owner alone."""
        return self.path / "secret-key"

    @property
    def signing_key(self) -> Path:
        """The key that signs finished jobs, readable to its owner alone; made when the first is closed."""
        return self.path / "signing-key.pem"

    def other_files(self) -> list[Path]:
        """Files that are neither database nor photos, nor made anew, nor set aside: keys and settings."""
        left_out = {self.copies, self.photos, self.static}
        found = []
        for one in sorted(self.path.iterdir()) if self.path.is_dir() else ():
            if one in left_out or one.name.startswith((self.database.name, ASIDE, UNPACKING, "tmp")):
                continue
            found += sorted(file for file in one.rglob("*") if file.is_file()) if one.is_dir() else [one]
        return [file for file in found if not file.is_symlink()]


def elsewhere(environment: Mapping[str, str] = os.environ) -> str:
    """The database that DATABASE_URL names; empty where the shop has its own file."""
    return environment.get("DATABASE_URL", "").strip()


def data_folder(environment: Mapping[str, str] = os.environ) -> DataFolder:
    """The folder named by BARWISE_DATA, else the place this system keeps a user's data. Makes nothing."""
    named = environment.get("BARWISE_DATA", "").strip()
    if named:
        return DataFolder(Path(named).expanduser().absolute())
    return DataFolder(Path(platformdirs.user_data_dir("barwise", appauthor=False)))


def chosen_folder(path: Path) -> DataFolder:
    """The folder at a path, for this process alone and with its own SQLite, whatever the surroundings name.

    To be called before Django is loaded: its settings are read from the surroundings.
    """
    folder = DataFolder(path.absolute())
    os.environ["BARWISE_DATA"] = str(folder.path)
    os.environ.pop("DATABASE_URL", None)
    return folder


def make(folder: DataFolder) -> None:
    """Make the folder and its secret key, where they are missing.

    Raises
    ------
    BarwiseError
        If the folder cannot be written.
    """
    try:
        folder.path.mkdir(mode=0o700, parents=True, exist_ok=True)
        for inside in (folder.copies, folder.photos, folder.static):
            inside.mkdir(mode=0o700, exist_ok=True)
        _make_key(folder)
    except OSError as error:
        raise BarwiseError(
            f"the data folder {folder.path} cannot be written ({error.strerror}): free it, or name another "
            "folder in BARWISE_DATA"
        ) from None


def secret_key(folder: DataFolder) -> str:
    """The shop's secret; one for this process alone while the folder is not made yet.

    Raises
    ------
    BarwiseError
        If the key file is there but holds no usable key.
    """
    try:
        key = folder.key_file.read_text(encoding="utf-8").strip()
    except FileNotFoundError:
        return secrets.token_urlsafe(SHORTEST_KEY)
    except (OSError, UnicodeDecodeError):
        key = ""
    if len(key) < SHORTEST_KEY:
        raise BarwiseError(
            f"the secret key {folder.key_file} cannot be read or is too short: delete the file and start "
            "again; everybody then signs in anew, nothing else is lost"
        )
    return key


def _make_key(folder: DataFolder) -> None:
    """Write the key once. It appears whole or not at all, and whoever comes second keeps the first one's."""
    if folder.key_file.exists():
        folder.key_file.chmod(0o600)
        return
    write_once(folder.key_file, secrets.token_urlsafe(SHORTEST_KEY).encode())
