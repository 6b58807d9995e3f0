"""A backup is whole before anything older goes, and a damaged one is passed over."""

from __future__ import annotations

import json
import os
import sqlite3
import time
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from barwise.errors import BarwiseError, InputError
from barwise.files.on_disk import write_whole
from barwise.record.photo_place import digest_of, place
from barwise.web import database_file
from barwise.web.backup import taking
from barwise.web.backup.kept import NAMED, Backup, DamagedBackupError, backups, newest_sound
from barwise.web.backup.plan import Plan, parse_plan, the_plan
from barwise.web.backup.restoring import put_right, restore
from barwise.web.backup.retention import Keep, kept
from barwise.web.backup.schedule import back_up_on_schedule
from barwise.web.backup.taking import bring_to_second_place, is_due, on_one_drive, pack, take, trouble
from barwise.web.data_folder import DataFolder, make

ROWS = 100
NOW = datetime(2026, 3, 4, 12, tzinfo=UTC)
times = st.sets(
    st.integers(0, 900 * 24 * 60).map(lambda minutes: NOW - timedelta(minutes=minutes)),
    min_size=1,
    max_size=80,
)
keeps = st.builds(Keep, *[st.integers(0, 20)] * 4)


@pytest.fixture
def folder(tmp_path: Path) -> DataFolder:
    """A folder with a key, and a database of a few pages with readings in it."""
    made = DataFolder(tmp_path / "shop")
    make(made)
    with closing(sqlite3.connect(made.database)) as database, database:
        database.execute("PRAGMA journal_mode=WAL")
        database.execute("CREATE TABLE record_job (id INTEGER PRIMARY KEY)")
        database.execute(
            "CREATE TABLE record_reading (id INTEGER PRIMARY KEY AUTOINCREMENT, words TEXT, received_at TEXT)"
        )
        database.execute("CREATE INDEX words ON record_reading(words)")
        database.execute("CREATE TABLE record_photo (sha256 TEXT)")
        read(database, ROWS)
    return made


def read(database: sqlite3.Connection, count: int) -> None:
    rows = [("drop " * 100, "2026-03-04 05:06:07")] * count
    database.executemany("INSERT INTO record_reading(words, received_at) VALUES (?, ?)", rows)
    database.commit()


def readings(file: Path) -> int:
    with closing(sqlite3.connect(file)) as database:
        return database.execute("SELECT count(*) FROM record_reading").fetchone()[0]


def with_photos(folder: DataFolder, *contents: bytes) -> list[str]:
    digests = [digest_of(content) for content in contents]
    for digest, content in zip(digests, contents, strict=True):
        write_whole(place(folder.photos, digest), content)
    with closing(sqlite3.connect(folder.database)) as database, database:
        database.executemany("INSERT INTO record_photo VALUES (?)", [(digest,) for digest in digests])
    return digests


# ------------------------------------------------------------------------------------------- retention


@given(times, keeps)
def test_the_newest_backup_always_stays(taken: set[datetime], keep: Keep) -> None:
    stay = kept(taken, keep)
    assert max(taken) in stay
    assert stay <= taken
    assert len(stay) <= max(1, keep.latest) + keep.daily + keep.weekly + keep.monthly


@given(times, keeps)
def test_what_stays_stays_when_it_is_asked_again(taken: set[datetime], keep: Keep) -> None:
    stay = kept(taken, keep)
    assert kept(stay, keep) == stay


@given(times)
@example({NOW - timedelta(days=n) for n in range(800)})
def test_each_of_the_last_days_weeks_and_months_with_a_backup_keeps_one(taken: set[datetime]) -> None:
    """Common practice (son, father, grandfather), no source."""
    stay, keep = kept(taken, Keep()), Keep()
    spans = (
        (keep.daily, lambda at: at.date()),
        (keep.weekly, lambda at: at.isocalendar()[:2]),
        (keep.monthly, lambda at: (at.year, at.month)),
    )
    for most, span in spans:
        last = sorted({span(at) for at in taken}, reverse=True)[:most]
        assert set(last) <= {span(at) for at in stay}


def test_a_year_of_daily_backups_leaves_seven_days_four_weeks_and_twelve_months() -> None:
    """Written out by hand from a calendar: 4 March 2026 is a Wednesday."""
    stay = kept([NOW - timedelta(days=n) for n in range(366)], Keep())
    days = ["03-04", "03-03", "03-02", "03-01", "02-28", "02-27", "02-26"]
    sundays = ["02-22", "02-15"]
    ends_of_months = [
        "01-31",
        "12-31",
        "11-30",
        "10-31",
        "09-30",
        "08-31",
        "07-31",
        "06-30",
        "05-31",
        "04-30",
    ]
    assert [f"{at:%m-%d}" for at in sorted(stay, reverse=True)] == days + sundays + ends_of_months


# ---------------------------------------------------------------------------------------------- taking


def test_a_backup_has_the_database_the_photos_once_and_whatever_else_lies_in_the_folder(
    folder: DataFolder,
) -> None:
    photos = with_photos(folder, b"one", b"two")
    (folder.path / "keys").mkdir()
    (folder.path / "keys" / "some.pem").write_text("of another version")
    first, second = take(folder), take(folder)
    contents = second.check()
    assert (contents.jobs, contents.readings, contents.last_reading) == (0, ROWS, "2026-03-04 05:06:07")
    assert set(contents.files) == {"database.sqlite3", "files/secret-key", "files/keys/some.pem"}
    assert sorted(contents.photos) == sorted(photos)
    assert sorted(one.stem for one in folder.copied_photos.rglob("*.jpg")) == sorted(photos)
    assert readings(first.path / "database.sqlite3") == ROWS
    assert not second.path.stat().st_mode & 0o77
    assert not any(one.stat().st_mode & 0o77 for one in second.path.rglob("*") if one.is_file())
    assert not list(folder.copies.rglob("*.unfinished"))


def test_a_backup_holds_what_is_still_in_the_log_beside_the_database(folder: DataFolder) -> None:
    with closing(sqlite3.connect(folder.database)) as busy:
        read(busy, 1)
        assert readings(take(folder).path / "database.sqlite3") == ROWS + 1


def test_a_writer_goes_on_in_the_middle_of_a_backup_and_the_copy_is_of_one_moment(
    folder: DataFolder, tmp_path: Path, monkeypatch
) -> None:
    """Each step of the copy meets another commit; the copy neither begins anew nor mixes moments."""
    from barwise.web.backup import database as part

    monkeypatch.setattr(part, "STEP_PAGES", 4)
    steps = []
    with closing(sqlite3.connect(folder.database, timeout=0)) as busy:

        def write_between(path: Path) -> None:
            steps.append(path)
            read(busy, 1)

        monkeypatch.setattr(part, "to_disk", write_between)
        part.copy_sqlite(folder.database, tmp_path / "copy.sqlite3")
    assert len(steps) > 5
    assert readings(tmp_path / "copy.sqlite3") == ROWS
    assert readings(folder.database) == ROWS + len(steps)


def test_a_backup_that_fails_lets_none_go_and_is_told_of_until_one_succeeds(
    folder: DataFolder, monkeypatch
) -> None:
    there = [take(folder).path for _ in range(3)]
    (folder.path / "backup.toml").write_text("[keep]\nlatest = 1\ndaily = 0\nweekly = 0\nmonthly = 0\n")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(taking, "copy_sqlite", full)
        with pytest.raises(BarwiseError, match="no backup was taken"):
            take(folder)
    assert sorted(one.path for one in backups(folder.copies)) == sorted(there)
    assert "No space left" in trouble(folder)
    newest = take(folder)
    assert [one.path for one in backups(folder.copies)] == [newest.path]
    assert trouble(folder) == ""


def test_a_damaged_database_is_not_copied_over_the_sound_backups(folder: DataFolder) -> None:
    sound = take(folder)
    with closing(sqlite3.connect(folder.database)) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    whole = folder.database.read_bytes()
    folder.database.write_bytes(whole[:8192] + b"\xff" * 8192 + whole[16384:])
    with pytest.raises(BarwiseError, match="no backup was taken"):
        take(folder)
    assert backups(folder.copies) == [sound]


def test_an_index_that_lies_is_found_before_anything_older_goes(folder: DataFolder) -> None:
    sound = take(folder)
    with closing(sqlite3.connect(folder.database)) as database:
        database.execute("PRAGMA writable_schema=ON")
        database.execute(
            "UPDATE sqlite_schema SET sql = replace(sql, '(words)', '(received_at)') WHERE name = 'words'"
        )
        database.commit()
    assert database_file.what_is_wrong(folder) == ""  # the quick check does not see it
    with pytest.raises(BarwiseError, match="not sound"):
        take(folder)
    assert backups(folder.copies) == [sound]
    assert [one.name[-8:] for one in folder.copies.glob("*.damaged")] == [".damaged"]


def test_no_backup_takes_the_last_of_the_disk(folder: DataFolder, monkeypatch) -> None:
    monkeypatch.setattr(taking, "ROOM_BYTES", 10**18)
    with pytest.raises(BarwiseError, match="make room"):
        take(folder)
    assert backups(folder.copies) == []


def test_what_a_killed_process_left_is_no_backup_and_goes_in_time(folder: DataFolder) -> None:
    left = folder.copies / f"{NOW:{NAMED}}.unfinished"
    left.mkdir()
    assert backups(folder.copies) == []
    take(folder)
    assert left.exists()
    os.utime(left, (0, 0))
    take(folder)
    assert not left.exists()


def test_backups_are_due_once_a_day_and_one_from_the_future_does_not_count(folder: DataFolder) -> None:
    now = take(folder).taken
    assert not is_due(folder, now + timedelta(hours=23))
    assert is_due(folder, now + timedelta(hours=25))
    assert is_due(folder, now - timedelta(days=300)), "the clock went back, the newest has a later date"
    (folder.path / "backup.toml").write_text("every_hours = 2")
    assert is_due(folder, now + timedelta(hours=3))
    (folder.path / "backup.toml").write_text("every_hours = often")
    assert is_due(folder, now + timedelta(hours=25)), "a slip in the settings ends no backups"


def test_a_server_that_runs_for_long_takes_its_backup_too(folder: DataFolder) -> None:
    over = back_up_on_schedule(folder, timedelta(milliseconds=10))
    try:
        for _ in range(2000):
            if backups(folder.copies):
                break
            time.sleep(0.01)
        assert len(backups(folder.copies)) == 1
    finally:
        over.set()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("every_hours = 0", "every_hours"),
        ("every_hours = true", "a whole number"),
        ("every = 3", "one of every_hours"),
        ("[keep]\nyearly = 3", "one of latest"),
        ("[keep]\ndaily = -1", "daily"),
        ("keep = 3", "a table"),
        ('second_place = "usb"', "the whole path"),
        ("second_place = 3", "a folder in quotes"),
        ("every_hours = ", "TOML"),
    ],
)
def test_settings_that_make_no_sense_are_told_with_their_name(text: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        parse_plan(text)


def test_settings_are_what_is_usual_until_said_otherwise(folder: DataFolder) -> None:
    assert the_plan(folder) == parse_plan("") == Plan()
    said = parse_plan('every_hours = 6\nsecond_place = "/media/stick/barwise"\n[keep]\ndaily = 14\n')
    assert said == Plan(timedelta(hours=6), Keep(daily=14), Path("/media/stick/barwise"))


# ---------------------------------------------------------------------------------------- second place


def test_the_second_place_gets_each_backup_with_its_photos_and_thins_them_out(
    folder: DataFolder, tmp_path: Path
) -> None:
    (digest,) = with_photos(folder, b"one")
    second = tmp_path / "stick"
    (folder.path / "backup.toml").write_text(
        f'second_place = "{second.as_posix()}"\n[keep]\nlatest = 2\ndaily=0\nweekly=0\nmonthly=0'
    )
    take(folder)
    with pytest.raises(BarwiseError, match="plug the drive in"):
        bring_to_second_place(folder)
    assert not second.exists(), "made anew, it would lie on the first drive"
    second.mkdir()
    for _ in range(3):
        newest = take(folder)
        there = bring_to_second_place(folder)
        assert there == second / newest.path.name
        assert bring_to_second_place(folder) == there
    assert len(backups(second)) == 2
    assert place(second / "photos", digest).read_bytes() == b"one"
    assert on_one_drive(folder, the_plan(folder))
    other = DataFolder(tmp_path / "elsewhere")
    done = restore(second / newest.path.name, other)
    assert (readings(other.database), done.photos) == (ROWS, (digest,))


# ------------------------------------------------------------------------------------------- restoring


def test_a_damaged_backup_is_passed_over_for_the_one_before(folder: DataFolder) -> None:
    first, last = take(folder), take(folder)
    copied = last.path / "database.sqlite3"
    spoilt = bytearray(copied.read_bytes())
    spoilt[len(spoilt) // 2] ^= 1
    copied.write_bytes(spoilt)
    assert newest_sound(folder.copies) == first
    with pytest.raises(DamagedBackupError, match=r"database\.sqlite3 is not as it was written"):
        restore(last.path, DataFolder(folder.path.parent / "new"))
    assert not (folder.path.parent / "new" / "barwise.sqlite3").exists()


def test_a_list_that_was_altered_is_refused(folder: DataFolder) -> None:
    backup = take(folder)
    said = json.loads((backup.path / "list.json").read_text())
    (backup.path / "list.json").write_text(json.dumps({**said, "readings": 5}))
    with pytest.raises(DamagedBackupError, match="not as it was written"):
        backup.check()
    for text in ("", "[]", "{}", "null", '{"sum": "x"}'):
        (backup.path / "list.json").write_text(text)
        with pytest.raises(DamagedBackupError):
            backup.check()


@pytest.mark.parametrize("alive", [False, True])
def test_a_backup_is_put_back_and_what_was_there_is_kept(folder: DataFolder, alive: bool) -> None:
    taken = take(folder)
    with closing(sqlite3.connect(folder.database)) as database:
        read(database, 7)
    if alive:
        with pytest.raises(BarwiseError, match="107 readings is alive there: nothing was changed"):
            restore(taken.path, folder)
        assert readings(folder.database) == ROWS + 7
        before = folder.database.read_bytes()
    else:
        before = folder.database.read_bytes()[:5000]
        folder.database.write_bytes(before)
        folder.beside("-wal").write_bytes(b"of the file before")
    folder.key_file.write_text("another")
    done = restore(taken.path, folder, replace=alive)
    assert readings(folder.database) == ROWS
    assert len(folder.key_file.read_text()) > 40
    aside = Path(done.aside)
    assert (aside / "barwise.sqlite3").read_bytes()[:4000] == before[:4000]
    assert (aside / "secret-key").read_text() == "another"
    if alive:
        assert readings(aside / "barwise.sqlite3") == ROWS + 7
    else:
        assert (aside / "barwise.sqlite3-wal").read_bytes() == b"of the file before"
    assert not list(folder.path.glob("unpacking-*"))


def test_a_shop_that_is_being_served_is_not_replaced(folder: DataFolder) -> None:
    taken = take(folder)
    with closing(sqlite3.connect(folder.database)) as serving:
        assert serving.execute("SELECT count(*) FROM record_reading").fetchone() == (ROWS,)
        with pytest.raises(BarwiseError, match="stop barwise serve first"):
            restore(taken.path, folder, replace=True)
    assert restore(taken.path, folder, replace=True).contents is not None


def test_one_file_makes_the_whole_shop_again(folder: DataFolder, tmp_path: Path) -> None:
    (digest,) = with_photos(folder, b"one")
    pack(take(folder), tmp_path / "shop.zip")
    other = DataFolder(tmp_path / "new" / "shop")
    done = restore(tmp_path / "shop.zip", other)
    assert readings(other.database) == ROWS
    assert place(other.photos, digest).read_bytes() == b"one"
    assert other.key_file.read_text() == folder.key_file.read_text()
    assert (done.lost, done.aside) == ((), "")
    assert sorted(one.name for one in other.path.iterdir()) == ["barwise.sqlite3", "photos", "secret-key"]


def test_a_zip_that_is_damaged_or_is_none_is_refused_in_words_and_changes_nothing(
    folder: DataFolder, tmp_path: Path
) -> None:
    packed = tmp_path / "shop.zip"
    pack(take(folder), packed)
    whole = packed.read_bytes()
    other = DataFolder(tmp_path / "new")
    step = max(1, len(whole) // 40)
    for at in range(0, len(whole), step):
        spoilt = bytearray(whole)
        spoilt[at] ^= 0x10
        packed.write_bytes(spoilt)
        try:
            restore(packed, other, replace=True)
        except BarwiseError:
            continue
        assert readings(other.database) == ROWS, at  # what does not matter was spoilt
    for content in (b"", b"PK", whole[: len(whole) // 2]):
        packed.write_bytes(content)
        with pytest.raises(BarwiseError, match=r"no backup|damaged"):
            restore(packed, other, replace=True)
    with pytest.raises(BarwiseError, match="is not there"):
        restore(tmp_path / "nothing", other)


def test_photos_that_are_gone_or_damaged_are_put_back_and_the_sound_database_is_left_alone(
    folder: DataFolder,
) -> None:
    gone, damaged, never_copied = with_photos(folder, b"one", b"two", b"three")
    place(folder.photos, never_copied).unlink()
    assert take(folder).contents.missing == (never_copied,)
    place(folder.photos, gone).unlink()
    place(folder.photos, damaged).write_bytes(b"tw")
    before = folder.database.read_bytes()
    done = put_right(folder)
    assert (done.backup, set(done.photos), done.lost) == (None, {gone, damaged}, (never_copied,))
    assert place(folder.photos, gone).read_bytes() == b"one"
    assert place(folder.photos, damaged).read_bytes() == b"two"
    assert folder.database.read_bytes() == before


def test_a_damaged_photo_is_not_copied_as_if_it_were_whole(folder: DataFolder) -> None:
    (digest,) = with_photos(folder, b"one")
    place(folder.photos, digest).write_bytes(b"o")
    assert take(folder).contents.missing == (digest,)
    assert not place(folder.copied_photos, digest).exists()


def test_nothing_is_put_in_the_place_of_a_sound_shop(folder: DataFolder) -> None:
    take(folder)
    with pytest.raises(BarwiseError, match="nothing was put back"):
        put_right(folder)


def test_what_would_be_lost_is_counted_also_in_a_damaged_file(folder: DataFolder) -> None:
    take(folder)
    with closing(sqlite3.connect(folder.database)) as database:
        read(database, 7)
    whole = folder.database.read_bytes()
    folder.database.write_bytes(whole[:-4096] + b"\xff" * 4096)
    with pytest.raises(
        database_file.DamagedDatabaseError, match="It has 100 readings; 7 readings came after"
    ):
        database_file.check(folder)
    folder.database.write_bytes(whole[:3000])
    with pytest.raises(database_file.DamagedDatabaseError, match="does not say any more"):
        database_file.check(folder)


def test_a_lost_log_is_noticed_by_the_readings_the_newest_backup_has(folder: DataFolder) -> None:
    with closing(sqlite3.connect(folder.database)) as database:
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        before = folder.database.read_bytes()
        read(database, 9)
        take(folder)
        assert database_file.fewer_than_backed_up(folder) == ""
    folder.database.write_bytes(before)
    folder.beside("-wal").unlink(missing_ok=True)
    database_file.check(folder)  # it is sound, and older
    said = database_file.fewer_than_backed_up(folder)
    assert "has 100 readings, its newest backup 109" in said
    assert "--replace" in said


def test_names_that_are_no_backup_are_passed_over(folder: DataFolder) -> None:
    for name in ("barwise-yesterday-Z", "barwise-2026-13-44T05-06-07-000000Z"):
        (folder.copies / name).mkdir()
    assert backups(folder.copies) == []
    assert Backup(folder.copies / f"{NOW:{NAMED}}").taken == NOW
