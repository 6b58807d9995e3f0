"""Readings are chained, closed jobs are signed, and whatever is altered in export or record is named."""

from __future__ import annotations

import io
import json
import uuid
import zipfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from django.db import connection, transaction
from django.test import override_settings
from django.utils import timezone
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from barwise.errors import BarwiseError, InputError
from barwise.files.job_zip import PHOTO
from barwise.files.reading_chain import content_of, instrument_digest, link, start
from barwise.files.sealed_job import NAME, parse_bundle
from barwise.files.signing_key import SigningKey, grouped, named_key
from barwise.files.verifying import Verdict, verify_bytes
from barwise.record.dispositions import decide_part
from barwise.record.entry import Entry, strike, take_reading
from barwise.record.exchange import export_job, import_job
from barwise.record.jobs import close_job, record_part, reopen_job
from barwise.record.models import Job, Person, Reading, Seal, ShopKey
from barwise.record.photos import add_photo, path_of
from barwise.record.seals import bundle_of, check_job
from barwise.record.shop_key import key_at_hand, new_key, public_keys, the_key
from tests.record.conftest import Take, by_force
from tests.record.test_approvals import said
from tests.record.test_exchange import busy_job, changed
from tests.record.test_photos import picture

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Exported:
    """A sealed job of another shop, as its zip and what stands in it."""

    content: bytes = field(repr=False)
    key: str = ""

    @property
    def job(self) -> dict[str, Any]:
        return json.loads(member(self.content, "job.json"))


@pytest.fixture(scope="module")
def exported(
    django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Exported:
    folder = tmp_path_factory.mktemp("elsewhere")
    elsewhere = override_settings(MEDIA_ROOT=str(folder), SIGNING_KEY_FILE=str(folder / "key.pem"))
    with django_db_blocker.unblock(), elsewhere, transaction.atomic():
        job = busy_job()
        said(job, None)
        add_photo(job, picture((90, 60)), "handover", "", "done")
        record_part(job, "brush", "fitted", 4)
        decide_part(job, "brushes", "replace", "worn")
        close_job(job)
        made = Exported(export_job(job), key_at_hand())
        transaction.set_rollback(True)
    return made


def member(content: bytes, name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        return packed.read(name)


def repacked(content: bytes, **changed: bytes | None) -> bytes:
    """The same zip with other members; None leaves one out."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w") as new:
        for name in old.namelist():
            if (now := changed.get(name, old.read(name))) is not None:
                new.writestr(name, now)
        for name in changed.keys() - set(old.namelist()):
            new.writestr(name, changed[name] or b"")
        new.comment = old.comment
    return packed.getvalue()


def with_job(exported: Exported, change: Callable[[dict[str, Any]], object]) -> Verdict:
    """What is found where somebody changed job.json."""
    job = exported.job
    change(job)
    return verify_bytes(repacked(exported.content, **{"job.json": json.dumps(job).encode()}))


def lines(found: Verdict) -> str:
    return "\n".join(one.line for one in found.altered)


# -- the chain --------------------------------------------------------------------------------------------


def test_each_reading_has_the_link_that_follows_from_all_before(job: Job, take: Take, anna: Person) -> None:
    first = take("intake", "turns-by-hand", "free").reading
    second = take("intake", "turns-by-hand", "stiff", supersedes=first.key).reading
    strike(job, second.key, uuid.uuid4(), "another unit", anna)
    head = start(job.uuid)
    for row in Reading.objects.order_by("seq"):
        tool = "" if row.instrument is None else instrument_digest(vars(row.instrument))
        old = None if row.supersedes is None else str(row.supersedes.key)
        head = link(head, content_of(vars(row), row.person.name, tool, old))
        assert row.link == head
    job.refresh_from_db()
    assert job.chain_head == head
    assert (job.chained_seq, job.chained_at) == (0, None)


def test_the_link_of_the_page_is_the_link_of_the_program() -> None:
    """docs/proof.md: the same example by hand."""
    text = (Path(__file__).parents[2] / "docs" / "proof.md").read_text(encoding="utf-8")
    block = text.split("```python\n")[1].split("```")[0]
    known: dict[str, Any] = {}
    exec(block, known)
    reading = json.loads(known["reading"])
    assert known["link_1"] == link(start(known["job"]), reading)
    assert known["link_1"] in text.split("```")[2]


@pytest.mark.parametrize(
    "name",
    [
        "entered",
        "value_si",
        "unit",
        "taken_at",
        "received_at",
        "place_from",
        "check_key",
        "reason",
        "seq",
        "said",
    ],
)
def test_no_field_of_a_reading_is_left_out_of_its_link(exported: Exported, name: str) -> None:
    job = exported.job
    one = next(one for one in job["readings"] if one["value_si"] is not None)
    other = {
        "value_si": 1.5,
        "seq": 9,
        "taken_at": "2001-01-01T00:00:00Z",
        "received_at": "2001-01-01T00:00:00Z",
    }
    before = content_of(one, "Anna", "", None)
    after = content_of({**one, name: other.get(name, "x")}, "Anna", "", None)
    assert link("0" * 64, before) != link("0" * 64, after)
    for differs in (
        content_of(one, "Bert", "", None),
        content_of(one, "Anna", "x", None),
        content_of(one, "Anna", "", "k"),
    ):
        assert link("0" * 64, before) != link("0" * 64, differs)


# -- what is signed, and what is found --------------------------------------------------------------------


def test_an_export_of_a_closed_job_is_whole(exported: Exported) -> None:
    found = verify_bytes(exported.content)
    assert (found.word, found.altered, found.kind, found.job) == ("whole", (), "zip", "2026-0007")
    assert verify_bytes(exported.content, exported.key).word == "whole"
    assert verify_bytes(exported.content, exported.key[:32]).word == "whole"
    assert verify_bytes(member(exported.content, NAME)).word == "whole"


def test_another_key_than_the_one_demanded_proves_nothing(exported: Exported) -> None:
    found = verify_bytes(exported.content, SigningKey.made().fingerprint)
    assert (found.word, found.key_known) == ("unproven", False)


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths to each value of a JSON."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    empty = True
    for name, one in inside:
        empty = False
        yield from leaves(one, (*path, name))
    if empty:
        yield path


OF_THIS_COPY = ("software", "exported_at")


@pytest.mark.on_one_database
@settings(max_examples=150, suppress_health_check=list(HealthCheck))
@given(at=st.integers(0, 100_000), new=st.sampled_from(["x", "", None, 7, 7.5, [], "2001-01-01T00:00:00Z"]))
def test_whichever_field_of_a_job_is_altered_it_is_named(exported: Exported, at: int, new: object) -> None:
    job = exported.job
    sealing = len(job["changes"]) - 1
    paths = [one for one in leaves(job) if one[0] not in OF_THIS_COPY]
    path = paths[at % len(paths)]
    place = job
    for step in path[:-1]:
        place = place[step]
    assume(place[path[-1]] != new)
    place[path[-1]] = new
    changed = repacked(exported.content, **{"job.json": json.dumps(job).encode()})
    found = verify_bytes(changed)
    assert found.word == "altered"
    if path[:2] == ("changes", sealing):
        return  # written after the signature: only the file's own, over every byte, covers it
    named = [one for one in found.altered if not one.what.startswith("the file")]
    assert named, path
    names_it = path[-1] in ("key", "ref", "station_key", "check_key", "sha256")
    if path[0] != "changes" and not (len(path) > 1 and names_it):
        said = {one.field for one in named} | {one.what for one in named}
        assert any(str(step) in text for step in path for text in said), (path, named)


@pytest.mark.on_one_database
@settings(max_examples=200, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_whichever_byte_of_an_export_is_altered_it_is_no_longer_whole(
    exported: Exported, data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(exported.content) - 1))
    altered = bytearray(exported.content)
    altered[at] ^= data.draw(st.integers(1, 255))
    with suppress(InputError):  # so much altered that it cannot be read: refused, with a reason
        assert verify_bytes(bytes(altered)).word != "whole"


def test_a_closed_job_that_only_says_it_is_open_was_not_opened_again(exported: Exported) -> None:
    found = lines(with_job(exported, lambda job: job.update(state="open")))
    assert 'job, state: altered: signed as "closed", found "open"' in found


def test_a_field_that_a_later_barwise_knows_and_leaves_empty_is_no_alteration(exported: Exported) -> None:
    def later(job: dict[str, Any]) -> None:
        for name in ("readings", "parts", "changes"):
            for one in job[name]:
                one.update(new="", newer=None)

    assert [one.what for one in with_job(exported, later).altered] == ["the file as a whole"]
    full = with_job(exported, lambda job: job["readings"][3].update(new="x"))
    assert "reading #4, armature.winding 2-3, new: added" in lines(full)


def test_a_reading_altered_is_named_with_its_field_and_both_values(exported: Exported) -> None:
    found = with_job(exported, lambda job: job["readings"][6].update(entered="3.90"))
    assert 'reading #7, armature.winding 5-6, entered: altered: signed as "3.72", found "3.90"' in lines(
        found
    )


def test_a_reading_taken_out_put_in_or_moved_is_named(exported: Exported) -> None:
    assert "reading #7, armature.winding 5-6: missing" in lines(
        with_job(exported, lambda job: job["readings"].pop(6))
    )
    more = {"key": str(uuid.uuid4()), "seq": 99}
    added = with_job(exported, lambda job: job["readings"].append({**job["readings"][6], **more}))
    assert "reading #99, armature.winding 5-6: added" in lines(added)
    moved = with_job(exported, lambda job: job["readings"].insert(3, job["readings"].pop(6)))
    assert "out of order" in lines(moved)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda job: job.update(complaint="none"), "job, complaint: altered"),
        (lambda job: job["results"][0].update(decision="none"), "decision "),
        (lambda job: job["dispositions"][0].update(decided="reuse"), "disposition commutator, decided"),
        (lambda job: job["dispositions"].pop(), "disposition brushes: missing"),
        (lambda job: job["parts"][0].update(quantity=3), "bush, quantity: altered: signed as 2, found 3"),
        (lambda job: job["approvals"][0].update(said_by="Nobody"), "customer's word"),
        (lambda job: job["instruments"][0].update(due_on="2026-01-01"), "instrument M1, due_on"),
        (lambda job: job["photos"].pop(0), "photo drive end: missing"),
        (lambda job: job["changes"].pop(1), "change "),
        (lambda job: job.update(sheet="other"), "job, sheet"),
        (lambda job: job.update(more=1), "job, more: added"),
    ],
)  # fmt: skip
def test_whatever_else_is_altered_is_named(
    exported: Exported, change: Callable[[dict[str, Any]], object], says: str
) -> None:
    found = with_job(exported, change)
    assert found.word == "altered"
    assert says in lines(found)


def test_a_photo_altered_or_gone_is_named(exported: Exported) -> None:
    with zipfile.ZipFile(io.BytesIO(exported.content)) as packed:
        name = next(name for name in packed.namelist() if PHOTO.fullmatch(name))
    captions = {one["sha256"]: one["caption"] for one in exported.job["photos"]}
    caption = captions[name[7:71]]
    another = verify_bytes(repacked(exported.content, **{name: picture((10, 10))}))
    assert f"photo {caption}: altered: its picture is another" in lines(another)
    gone = verify_bytes(repacked(exported.content, **{name: None}))
    assert f"photo {caption}: missing" in lines(gone)


def test_who_alters_the_sealed_document_as_well_is_found_by_its_signature(exported: Exported) -> None:
    bundle = json.loads(member(exported.content, NAME))
    bundle["document"] = bundle["document"].replace('"entered":"3.72"', '"entered":"3.90"', 1)
    found = verify_bytes(json.dumps(bundle).encode())
    assert "its signature is not that of its key" in lines(found)
    assert "reading #4, armature.winding 2-3: does not fit its link" in lines(found)


def test_who_signs_anew_does_so_with_a_key_nobody_knows(exported: Exported) -> None:
    forger = SigningKey.made()
    sealed = parse_bundle(member(exported.content, NAME))
    bundle = json.loads(member(exported.content, NAME))
    document = sealed.document.decode().replace(exported.key, forger.fingerprint)
    forged = {**bundle, "document": document, "keys": [{"public": forger.public, "made_at": ""}]}
    from barwise.files.sealed_job import signed_by

    forged["signature"] = signed_by(forger, document.encode())
    content = json.dumps(forged).encode()
    assert verify_bytes(content).word == "whole"  # by its own key: that is why one demands the shop's
    assert verify_bytes(content, exported.key).word == "unproven"
    forged["keys"] = bundle["keys"]
    assert "by a key that the file does not bring" in lines(verify_bytes(json.dumps(forged).encode()))


def test_a_job_that_is_not_closed_has_its_chain_and_no_signature(
    job: Job, take_drop: Callable[..., Any]
) -> None:
    for bar in range(1, 6):
        take_drop(bar, f"3.7{bar}")
    content = export_job(job)
    found = verify_bytes(content)
    assert (found.word, found.sealed) == ("unproven", None)
    written = json.loads(member(content, "job.json"))
    written["readings"][2]["entered"] = "9.99"
    altered = verify_bytes(repacked(content, **{"job.json": json.dumps(written).encode()}))
    assert altered.word == "altered"
    assert "reading #3, armature.winding 3-4: does not fit its link" in lines(altered)


@pytest.mark.parametrize(
    "content", [b"", b"{}", b"[1]", b"PK", b"%PDF-1.7", b"\x00\xff", b'{"format":"barwise seal"}']
)
def test_what_is_no_such_file_is_refused(content: bytes) -> None:
    with pytest.raises(InputError):
        verify_bytes(content)


# -- in the shop's own record -----------------------------------------------------------------------------


@pytest.fixture
def closed(job: Job, take_drop: Callable[..., Any], anna: Person) -> Job:
    for bar in range(1, 9):
        take_drop(bar, f"3.7{bar}")
    add_photo(job, picture(), "intake", "as-received", "drive end", anna)
    record_part(job, "bush", "replaced", 2, person=anna)
    decide_part(job, "armature", "reuse", "good", person=anna)
    take_reading(job, Entry(uuid.uuid4(), "intake", "turns-by-hand", "stiff"), anna)
    return close_job(job, anna)


def test_a_closed_job_is_sealed_and_stays_as_it_was_signed(closed: Job, anna: Person) -> None:
    standing = check_job(closed)
    assert standing.verdict.word == "whole"
    assert standing.seal is not None
    assert (standing.seal.number, standing.seal.person) == (1, anna)
    assert check_job(closed, key_at_hand()).verdict.word == "whole"


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("UPDATE record_reading SET entered = '9' WHERE seq = 3", 'entered: altered: signed as "3.73"'),
        ("UPDATE record_reading SET person_id = NULL WHERE seq = 3", "#3, armature.winding 3-4, by: altered"),
        ("UPDATE record_person SET name = 'Bert'", "reading #1, armature.winding 1-2, by: altered"),
        ("UPDATE record_disposition SET decided = 'rework'", "disposition armature, decided"),
        ("UPDATE record_part SET quantity = 1", "part bush, quantity"),
        ("DELETE FROM record_part", "part bush: missing"),
        ("UPDATE record_job SET complaint = 'none'", "job, complaint"),
        ("UPDATE record_job SET chain_head = ''", "chain of readings"),
        ("DELETE FROM record_seal", "missing: it was made and is not here"),
        ("UPDATE record_seal SET signature = digest || digest", "its signature is not that of its key"),
        ("UPDATE record_reading SET seq = 0 WHERE seq = 2", "barwise never writes that"),
        ("UPDATE record_reading SET supersedes_id = 1 + id WHERE seq = 2", "2-3, supersedes: altered"),
        ("UPDATE record_seal SET packed = CAST('x' AS bytea)", "signed document: cannot be read"),
        ("UPDATE record_seal SET digest = ''", "not the one whose digest was kept"),
        ("UPDATE record_photo SET caption = 'x'", "photo drive end, caption"),
    ],
)  # fmt: skip
def test_a_row_altered_by_force_is_named(closed: Job, statement: str, says: str) -> None:
    by_force(statement)
    found = check_job(closed).verdict
    assert found.word == "altered"
    assert says in lines(found)


def test_a_check_decided_anew_after_it_was_signed_is_no_alteration(closed: Job) -> None:
    old = closed.results.order_by("id").last()
    assert old is not None
    old.pk, old._state.adding = None, True
    old.software_version, old.made_at = "9.9", timezone.now()
    old.save()
    closed.standings.filter(station_key=old.station_key, check_key=old.check_key).update(result=old)
    assert check_job(closed).verdict.word == "whole"
    assert verify_bytes(export_job(closed)).word == "whole"
    by_force("UPDATE record_result SET decision = 'reject' WHERE software_version <> '9.9'")
    assert "decision" in lines(check_job(closed).verdict)


def test_a_reading_of_an_open_job_altered_by_force_is_named(job: Job, take_drop: Callable[..., Any]) -> None:
    take_drop(1, "3.71")
    take_drop(2, "3.72")
    assert check_job(job).verdict.altered == ()
    by_force("UPDATE record_reading SET value_si = 0.009 WHERE seq = 2")
    assert "reading #2, armature.winding 2-3: does not fit its link" in lines(check_job(job).verdict)


def test_a_photo_file_that_was_exchanged_is_named(closed: Job) -> None:
    path_of(closed.photos.get()).write_bytes(b"x")
    assert "photo drive end: missing, or altered" in lines(check_job(closed).verdict)


def test_opened_again_and_closed_again_it_has_both_seals(closed: Job, take_drop: Callable[..., Any]) -> None:
    first = closed.seals.get()
    reopen_job(closed, "came back")
    take_drop(9, "3.79")
    between = check_job(closed).verdict
    assert (between.word, between.notes[0][:12]) == ("whole", "Opened again")
    close_job(Job.objects.get(pk=closed.pk))
    assert list(closed.seals.values_list("number", flat=True)) == [1, 2]
    sealed = parse_bundle(bundle_of(closed) or b"")
    assert sealed.former[0]["digest"] == first.digest == sealed.signed["former"]
    assert verify_bytes(export_job(closed)).word == "whole"
    by_force("DELETE FROM record_seal WHERE number = 1")
    assert "missing" in lines(check_job(closed).verdict)


def test_a_signed_reading_altered_in_a_job_opened_again_is_named(closed: Job) -> None:
    reopen_job(closed, "came back")
    by_force("UPDATE record_reading SET unit = 'V' WHERE seq = 4")
    assert "reading #4, armature.winding 4-5, unit: altered" in lines(check_job(closed).verdict)


def test_seals_and_keys_are_never_changed_or_deleted(closed: Job) -> None:
    for model in (Seal, ShopKey):
        with pytest.raises(BarwiseError, match="kept as it was written"):
            model.objects.get().delete()
        with pytest.raises(Exception, match="kept as it was written"), transaction.atomic():
            connection.cursor().execute(f"DELETE FROM {model._meta.db_table}")


def test_a_job_brought_in_keeps_its_chain(exported: Exported) -> None:
    here = import_job(exported.content).job
    assert [one.link for one in here.readings.order_by("seq")] == [
        one["link"] for one in exported.job["readings"]
    ]
    found = check_job(here).verdict
    assert (found.word, found.altered, here.chained_seq) == ("whole", (), 0)


def test_a_job_of_an_older_barwise_is_chained_from_the_day_it_came_in(exported: Exported) -> None:
    job = exported.job
    for name in ("chain_head", "chained_seq", "chained_at", "changes"):
        del job[name]
    for one in job["readings"]:
        del one["link"]
    job["schema"] = 1
    old = repacked(exported.content, **{"job.json": json.dumps(job).encode(), NAME: None})
    here = import_job(changed(old, lambda _: None)).job  # without the comment of a sealed zip
    assert here.chained_seq == here.last_seq > 0
    assert here.chained_at is not None
    assert check_job(here).verdict.altered == ()


def test_a_zip_that_contradicts_its_seal_is_not_brought_in_unasked(exported: Exported) -> None:
    job = exported.job
    job["parts"][0]["quantity"] = 5
    with pytest.raises(BarwiseError, match="altered after it was signed: part bush, quantity"):
        import_job(repacked(exported.content, **{"job.json": json.dumps(job).encode()}))
    assert Job.objects.count() == 0
    packed_anew = repacked(exported.content)
    assert "the file as a whole" in lines(verify_bytes(packed_anew))
    assert import_job(packed_anew).job.parts.count() == 2


# -- the key ----------------------------------------------------------------------------------------------


def test_the_key_is_made_once_for_its_owner_alone(settings: Any, db: None) -> None:
    assert key_at_hand() == ""
    made = the_key()
    assert the_key().fingerprint == made.fingerprint == key_at_hand()
    assert Path(settings.SIGNING_KEY_FILE).stat().st_mode & 0o777 == 0o600
    assert ShopKey.objects.count() == 1


def test_a_new_key_signs_and_the_old_one_vouches_for_it(closed: Job) -> None:
    old = key_at_hand()
    before = export_job(closed)
    new = new_key().fingerprint
    assert key_at_hand() == new != old
    reopen_job(closed, "came back")
    close_job(Job.objects.get(pk=closed.pk))
    after = export_job(closed)
    assert verify_bytes(after, old).word == "whole"
    assert verify_bytes(after, new).word == "whole"
    assert verify_bytes(before, old).word == "whole"
    assert verify_bytes(before, new).word == "unproven"
    bundle = json.loads(member(after, NAME))
    bundle["keys"][1]["made_at"] = "2001-01-01T00:00:00.000000Z"
    assert "did not vouch for it" in lines(verify_bytes(json.dumps(bundle).encode()))


def test_a_key_that_was_lost_is_followed_by_one_nobody_vouches_for(closed: Job, settings: Any) -> None:
    old = key_at_hand()
    Path(settings.SIGNING_KEY_FILE).unlink()
    assert key_at_hand() == ""
    assert check_job(closed, old).verdict.word == "whole"
    assert (
        verify_bytes(export_job(closed), old).word == "whole"
    )  # the seal is the old key's, the zip the new one's
    reopen_job(closed, "came back")
    close_job(Job.objects.get(pk=closed.pk))
    assert verify_bytes(export_job(closed), old).word == "unproven"
    assert [one.follows for one in public_keys()] == ["", ""]


def test_a_key_file_that_is_none_stops_the_closing_with_a_word_what_to_do(job: Job, settings: Any) -> None:
    Path(settings.SIGNING_KEY_FILE).write_text("no key")
    with pytest.raises(BarwiseError, match="put it back from your copy"):
        close_job(job)
    assert Job.objects.get(pk=job.pk).state == "open"


def test_a_fingerprint_is_taken_as_it_is_printed_or_from_a_file(tmp_path: Path) -> None:
    key = SigningKey.made()
    assert key.fingerprint.startswith(named_key(grouped(key.fingerprint)))
    file = tmp_path / "key.txt"
    file.write_text(f"{grouped(key.fingerprint)}\n")
    assert named_key(str(file)) == named_key(grouped(key.fingerprint))
    for wrong in ("", "abc", "zz" * 32, "a" * 65):
        with pytest.raises(InputError, match="fingerprint"):
            named_key(wrong)
