"""A job that another shop sealed keeps that seal where it is brought in; what was altered is named."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from django.db import transaction
from django.test import override_settings
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from barwise.errors import BarwiseError
from barwise.files.sealed_job import NAME, parse_bundle
from barwise.record.brought_seals import in_words
from barwise.record.dispositions import decide_part
from barwise.record.exchange import AlteredZip, export_job, import_job
from barwise.record.habits import change_shop
from barwise.record.jobs import close_job, reopen_job
from barwise.record.models import BroughtSeal, Job, Reading, ShopKey
from barwise.record.photos import add_photo
from barwise.record.seals import check_job
from barwise.record.shop_key import key_at_hand
from tests.record.conftest import by_force
from tests.record.test_approvals import said
from tests.record.test_exchange import busy_job
from tests.record.test_photos import picture
from tests.record.test_seals import OF_THIS_COPY, Exported, leaves, lines, member, repacked

pytestmark = pytest.mark.django_db
THERE = "Shop of Nobody"


@pytest.fixture(scope="module")
def exported(
    django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Exported:
    """As it left the shop that sealed it."""
    folder = tmp_path_factory.mktemp("there")
    there = override_settings(MEDIA_ROOT=str(folder), SIGNING_KEY_FILE=str(folder / "key.pem"))
    with django_db_blocker.unblock(), there, transaction.atomic():
        change_shop(name=THERE)
        job = busy_job()
        said(job, None)
        add_photo(job, picture((90, 60)), "handover", "", "done")
        decide_part(job, "brushes", "replace", "worn")
        close_job(job)
        made = Exported(export_job(job), key_at_hand())
        transaction.set_rollback(True)
    return made


@pytest.fixture(autouse=True)
def here(tmp_path: Path, settings: Any) -> None:
    settings.MEDIA_ROOT = str(tmp_path)
    settings.SIGNING_KEY_FILE = str(tmp_path / "signing-key.pem")


def altered(exported: Exported, change: Callable[[dict[str, Any]], object]) -> bytes:
    job = exported.job
    change(job)
    return repacked(exported.content, **{"job.json": json.dumps(job).encode()})


def five_parts(job: dict[str, Any]) -> None:
    job["parts"][0]["quantity"] = 5


def test_the_seal_comes_along_and_is_not_taken_for_this_shops_own(exported: Exported) -> None:
    job = import_job(exported.content).job
    standing = check_job(job)
    assert (standing.verdict.word, standing.verdict.altered, standing.seal) == ("whole", (), None)
    brought = standing.brought
    assert brought is not None
    assert (brought.shop, brought.key, brought.altered) == (THERE, exported.key, [])
    assert in_words(brought).startswith(f"sealed by {THERE}, key ")
    assert brought.digest == parse_bundle(member(exported.content, NAME)).digest
    assert not ShopKey.objects.exists()
    assert check_job(job, exported.key).verdict.key_known


def test_a_number_that_is_taken_here_is_no_alteration(exported: Exported, job: Job) -> None:
    by_force(f"UPDATE record_job SET number = '{exported.job['number']}'")
    by_force("UPDATE record_unit SET tag = 'T-1'")
    brought = import_job(exported.content).job
    assert brought.number != exported.job["number"]
    assert check_job(brought).verdict.word == "whole"


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("UPDATE record_reading SET entered = '9' WHERE seq = 3", "entered: altered: signed as"),
        ("UPDATE record_reading SET link = '' WHERE seq = 3", "reading #3"),
        ("UPDATE record_instrument SET resolution_si = 1", "reading #1, commutator.diameter 1, instrument"),
        ("UPDATE record_person SET name = 'Bert' WHERE name LIKE 'Anna%'", "by: altered"),
        ("UPDATE record_disposition SET decided = 'reuse'", "disposition brushes, decided"),
        ("UPDATE record_part SET quantity = 1", "part bush, quantity"),
        ("DELETE FROM record_approval", "customer's word"),
        ("UPDATE record_photo SET sha256 = 'x' WHERE caption = 'done'", "barwise never writes that"),
        ("UPDATE record_photo SET caption = 'x' WHERE caption = 'done'", "photo done, caption"),
        ("UPDATE record_job SET complaint = 'none'", "job, complaint"),
        ("UPDATE record_job SET closed_at = opened_at", "job, closed_at"),
        ("UPDATE record_job SET number = 'x'", "job, number: altered"),
        ("DELETE FROM record_broughtseal", "seal it was brought in with: missing"),
        ("UPDATE record_broughtseal SET packed = CAST('x' AS bytea)", "cannot be read"),
        ("UPDATE record_broughtseal SET digest = 'x'", "not the one whose digest was kept"),
    ],
)  # fmt: skip
def test_what_is_altered_after_it_came_in_is_named(exported: Exported, statement: str, says: str) -> None:
    job = import_job(exported.content).job
    by_force(statement)
    found = check_job(job).verdict
    assert found.word == "altered"
    assert says in lines(found)


def test_an_altered_file_is_asked_about_and_nothing_is_brought_in(exported: Exported) -> None:
    content = altered(exported, five_parts)
    with pytest.raises(AlteredZip) as asked:
        import_job(content)
    assert [one.line for one in asked.value.altered] == ["part bush, quantity: altered: signed as 2, found 5"]
    assert (asked.value.has_signed, asked.value.digest) == (True, hashlib.sha256(content).hexdigest())
    assert not Job.objects.exists()


def test_what_was_signed_can_be_taken_of_an_altered_file(exported: Exported) -> None:
    job = import_job(altered(exported, five_parts), taken="signed").job
    assert job.parts.get().quantity == 2
    found = check_job(job).verdict
    assert (found.word, found.altered) == ("whole", ())
    assert "The file it came in was altered" in found.notes[0]


def test_an_altered_file_taken_as_it_is_stays_marked(exported: Exported) -> None:
    job = import_job(altered(exported, five_parts), taken="found").job
    assert job.parts.get().quantity == 5
    found = check_job(job).verdict
    expected = "part bush, quantity: altered before it was brought in: signed as 2, found 5"
    assert [one.line for one in found.altered] == [expected]
    by_force("UPDATE record_part SET quantity = 7")
    assert "part bush, quantity: altered: signed as 2, found 7" in lines(check_job(job).verdict)


def test_a_reading_altered_before_it_came_in_is_kept_and_named(exported: Exported) -> None:
    def typed_over(job: dict[str, Any]) -> None:
        job["readings"][6].update(entered="3.90", value_si=0.0039)

    job = import_job(altered(exported, typed_over), taken="found").job
    assert Reading.objects.get(job=job, seq=7).entered == "3.90"
    assert job.chained_seq == job.last_seq  # what came with links that do not fit is linked from now on
    found = lines(check_job(job).verdict)
    assert "reading #7, armature.winding 5-6, entered: altered before it was brought in" in found
    assert "reading #8" not in found


def test_a_file_whose_seal_was_taken_out_is_asked_about(exported: Exported) -> None:
    content = repacked(exported.content, **{NAME: None})
    with pytest.raises(AlteredZip) as asked:
        import_job(content)
    assert not asked.value.has_signed
    job = import_job(content, taken="found").job
    assert check_job(job).verdict.word == "altered"


def test_a_picture_that_is_another_is_left_out_and_named(exported: Exported) -> None:
    digest = exported.job["photos"][0]["sha256"]
    content = repacked(exported.content, **{f"photos/{digest}.jpg": picture((30, 30))})
    job = import_job(content, taken="signed").job
    assert job.photos.count() == len(exported.job["photos"]) - 1


def test_opened_and_closed_here_it_has_both_seals(exported: Exported) -> None:
    job = import_job(exported.content).job
    reopen_job(job, "one more look")
    assert check_job(job).verdict.word == "whole"
    close_job(Job.objects.get(pk=job.pk))
    standing = check_job(job)
    assert standing.verdict.word == "whole"
    assert standing.seal is not None
    assert standing.brought is not None
    by_force("UPDATE record_reading SET unit = 'V' WHERE seq = 4")
    assert "reading #4" in lines(check_job(job).verdict)


def test_a_seal_brought_in_is_never_changed_or_deleted(exported: Exported) -> None:
    import_job(exported.content)
    with pytest.raises(BarwiseError, match="kept as it was written"):
        BroughtSeal.objects.get().delete()


@pytest.mark.on_one_database
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(at=st.integers(0, 100_000), new=st.sampled_from(["x", "", None, 7, "2001-01-01T00:00:00Z"]))
def test_whatever_is_altered_is_never_taken_silently_nor_lost(
    exported: Exported, at: int, new: object
) -> None:
    """Any field of job.json: asked about; as it is it comes marked, or not at all where it makes no job."""
    job = exported.job
    paths = [one for one in leaves(job) if one[0] not in (*OF_THIS_COPY, "changes")]
    path = paths[at % len(paths)]
    place = job
    for step in path[:-1]:
        place = place[step]
    assume(place[path[-1]] != new)
    place[path[-1]] = new
    content = repacked(exported.content, **{"job.json": json.dumps(job).encode()})
    with pytest.raises(BarwiseError):
        import_job(content)
    with transaction.atomic():
        with suppress(BarwiseError):  # what makes no job is refused as it is
            brought = import_job(content, taken="found").job
            assert check_job(brought).verdict.word == "altered", path
        transaction.set_rollback(True)


@pytest.mark.on_one_database
def test_of_any_reading_altered_what_was_signed_comes_whole(exported: Exported) -> None:
    for at, new in ((0, "9"), (20, "x"), (-1, "")):
        content = altered(exported, lambda job, at=at, new=new: job["readings"][at].update(entered=new))
        with transaction.atomic():
            brought = import_job(content, taken="signed").job
            assert check_job(brought).verdict.word == "whole"
            transaction.set_rollback(True)
