"""A second family is one data file: taken in, walked, judged and sent elsewhere by the code that is there."""

from __future__ import annotations

import re
import shutil
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from barwise.record import route_of
from barwise.record.approvals import asked_for
from barwise.record.exchange import export_job, import_job
from barwise.record.models import Job, Result, Unit
from barwise.record.recheck import recheck
from barwise.route import family
from tests.record.test_exchange import changed
from tests.route.test_family import GENERATOR
from tests.web.shop import bench_client, open_invented_job
from tests.web.test_jobs import ARRIVAL, said
from tests.web.test_sheet_editor import fields

pytestmark = pytest.mark.django_db

CACHES = (family.load_family, route_of._route)
SHEET = {
    "title": "Made-up generator",
    "key": "made-up-generator",
    "facts.brushes": "2",
    "bars": "57",
    "winding.kind": "wave",
    "winding.poles": "4",
    "winding.slots": "29",
    "winding.progression": "retrogressive",
    "source.kind": "own measurement",
    "limits.output-volts.low": "27",
    "limits.output-volts.high": "29",
    "limits.output-volts.unit": "V",
    "limits.brush-length.new": "20.0",
    "limits.brush-length.discard": "10.0",
    "limits.brush-length.unit": "mm",
}


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Client]:
    """The bench with one more data file in the folder of families, and nothing else."""
    shutil.copytree(str(family._BUILT_IN), tmp_path / "families")
    shutil.copy(GENERATOR, tmp_path / "families" / "generator.toml")
    monkeypatch.setattr(family, "_BUILT_IN", tmp_path / "families")
    for cache in CACHES:
        cache.cache_clear()
    yield bench_client()
    for cache in CACHES:
        cache.cache_clear()


@pytest.fixture
def job(bench: Client) -> Job:
    """Its sheet written in the browser, and a unit taken in."""
    form = fields(bench.get("/sheets/new?family=generator"))
    assert "limits.output-volts.low" in form
    kept = bench.post("/sheets/new", form | SHEET)
    assert kept.status_code == 302, said(kept)
    arrival = ARRIVAL | {"family": "generator", "sheet": "made-up-generator", "tag": "G-1"}
    assert bench.post("/jobs/new", arrival).status_code == 302
    return Job.objects.get(unit__tag="G-1")


def take(bench: Client, job: Job, check: str, **typed: str) -> Any:
    return bench.post(f"/jobs/{job.pk}/output/{check}/take", typed, follow=True)


def walk_all(bench: Client, job: Job) -> None:
    for bar in range(1, 58):
        entry = {
            "key": str(uuid.uuid4()),
            "station": "armature",
            "check": "winding",
            "test": "drop",
            "place_from": str(bar),
            "place_to": str(bar % 57 + 1),
            "text": "5.03" if bar == 5 else "3.53",
            "unit": "mV",
            "feed": {"into": 1, "out": 15, "amps": 10.0},
        }
        answer = bench.post(f"/api/v1/jobs/{job.pk}/readings", entry, content_type="application/json")
        assert answer.status_code == 201


def test_it_is_offered_at_the_door_and_its_job_has_its_own_stations(bench: Client, job: Job) -> None:
    assert "Direct-current generator" in said(bench.get("/jobs/new"))
    page = said(bench.get(f"/jobs/{job.pk}"))
    assert "Armature" in page
    assert "Output" in page
    assert "Drive" not in page


def test_its_numbers_are_judged_by_its_own_limits(bench: Client, job: Job) -> None:
    assert "reject" in said(take(bench, job, "volts", value="31.0", unit="V"))
    for place, length in (("1", "15.0"), ("2", "14.0")):
        came = take(bench, job, "brush-length", value=length, unit="mm", place=place)
    assert "accept" in said(came)
    answer = bench.post(f"/jobs/{job.pk}/output/decide", {"decided": "rework", "reason": "brushes good"})
    assert answer.status_code == 302


def test_its_file_says_whether_what_is_found_at_a_station_is_of_a_part_that_could_be_priced(
    bench: Client, job: Job, tmp_path: Path
) -> None:
    take(bench, job, "volts", value="31.0", unit="V")
    assert [one.station for one in asked_for(job)] == ["Output"]
    data = tmp_path / "families" / "generator.toml"
    data.write_text(data.read_text().replace('title = "Output"', 'title = "Output"\nwhole_unit = true'))
    for cache in CACHES:
        cache.cache_clear()
    assert asked_for(job) == ()


def test_its_walk_is_walked_and_its_winding_diagnosed(bench: Client, job: Job) -> None:
    assert bench.get(f"/jobs/{job.pk}/armature/winding/walk?test=drop").status_code == 200
    walk_all(bench, job)
    answer = bench.post(f"/jobs/{job.pk}/armature/winding/answer/again", follow=True)
    assert "<svg" in answer.content.decode()
    assert Result.objects.get(job=job, check_key="winding").decision != "accept"


def test_every_page_of_it_opens_and_its_job_goes_elsewhere_and_comes_to_the_same(
    bench: Client, job: Job
) -> None:
    take(bench, job, "volts", value="28.0", unit="V")
    take(bench, job, "brush-length", value="15.0", unit="mm", place="1")
    links = re.findall(r'href="(/(?!static)[^"#]*)"', bench.get(f"/jobs/{job.pk}").content.decode())
    for address in {f"/jobs/{job.pk}/armature", f"/jobs/{job.pk}/output", f"/units/{job.unit_id}", *links}:
        answer = bench.get(address)
        answer.close()
        assert answer.status_code == 200, address
    assert recheck(job).agrees
    brought = import_job(changed(export_job(job), as_another_job))
    assert brought.differences == ()
    assert brought.job.family_key == "generator"
    assert recheck(brought.job).agrees


def as_another_job(written: dict[str, Any]) -> None:
    """The same job as another shop would send it, so that it is not here yet."""
    written["uuid"] = str(uuid.uuid4())
    for one in written["readings"]:
        one["key"], one["link"] = str(uuid.uuid4()), ""


def test_a_sheet_of_one_family_judges_no_job_of_the_other(bench: Client, job: Job) -> None:
    other = open_invented_job("T-101")
    sent = {"sheet": "made-up-generator", "version": "1"}
    answer = bench.post(f"/jobs/{other.pk}/sheet", sent)
    assert answer.status_code == 422
    assert "Made-up generator" not in said(bench.get(f"/jobs/{other.pk}"))
    assert Unit.objects.get(tag="G-1").family_key == "generator"
