"""Where a shop writes commas every page shows them, and leaves what people wrote as they wrote it."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import Any

import pytest
from django.test import Client

from barwise.machine.feed import Feed
from barwise.record.dispositions import decide_part
from barwise.record.habits import change_shop
from barwise.record.instruments import Figures, add_instrument
from barwise.record.jobs import add_customer, add_unit, open_job, record_part, wait_for
from barwise.record.models import Instrument, Job, Person, Result
from barwise.record.results import decide_check
from barwise.record.sheets import store_sheet
from barwise.route.sheet import dump_sheet, load_sheet
from tests.web.addresses import ADDRESSES
from tests.web.shop import bench_client, read
from tests.web.test_answer import rows, walk_commutator
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

WRITTEN = "bolt 7.77 mm"
"""What people write stands with its point, wherever it stands."""
AS_IT_STANDS = {"2.8", "2.9", "0.20", "1.2385"}
"""What a general limit or a rule is quoted by, and the choice of the point itself."""
POINTED = re.compile(r"(?<![\w.])\d+\.\d+(?!\w|\.\w)")
SPOKEN = frozenset({"aria-label", "alt", "title"})


class Words(HTMLParser):
    """What a page says, seen or heard, without its code."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self._code = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._code += tag in ("head", "script", "pre", "code", "textarea")
        given = dict(attrs)
        self.said += [value or "" for name, value in attrs if name in SPOKEN]
        if given.get("inputmode") == "decimal":
            self.said.append(given.get("value") or "")

    def handle_endtag(self, tag: str) -> None:
        self._code -= tag in ("head", "script", "pre", "code", "textarea")

    def handle_data(self, data: str) -> None:
        if not self._code:
            self.said.append(data)


def words(page: str) -> str:
    reader = Words()
    reader.feed(page)
    return " ".join(reader.said)


@pytest.fixture
def bench() -> Client:
    return bench_client(WRITTEN)


@pytest.fixture
def job(bench: Client) -> Job:
    """A job with something from people in every place they can write, and with results of every kind."""
    anna = Person.objects.get()
    sheet = store_sheet(dump_sheet(load_sheet("demo-57-wave").model_copy(update={"title": WRITTEN})))
    unit = add_unit(WRITTEN, "starter", serial=WRITTEN, description=WRITTEN)
    made = open_job(unit, add_customer(WRITTEN, WRITTEN), sheet, WRITTEN)
    tool = add_instrument(WRITTEN, WRITTEN, Figures(2.54e-6, 1.5e-6), unit="in", person=anna)
    read(made, "intake", "complaint", WRITTEN, anna)
    read(
        made,
        "commutator",
        "diameter",
        "1,2421",
        anna,
        unit="in",
        place_from="1",
        track="0.2",
        instrument=tool,
    )
    walk_commutator(made, "0.5")
    for test, start, end, value, bars_unit, into, out, amps in rows("readings.csv"):
        if test == "drop":
            place: dict[str, Any] = {"place_from": start, "place_to": end, "unit": bars_unit}
            read(
                made,
                "armature",
                "winding",
                value,
                test=test,
                feed=Feed(int(into), int(out), float(amps)),
                **place,
            )
    decide_check(made, "armature", "winding")
    decide_check(made, "commutator", "cut")
    decide_part(made, "armature", "rework", WRITTEN, person=anna)
    record_part(made, WRITTEN, "replaced", part_number=WRITTEN, station="armature", note=WRITTEN)
    wait_for(made, WRITTEN)
    return made


@pytest.fixture(autouse=True)
def commas(bench: Client) -> None:
    change_shop(decimal_comma=True, name=WRITTEN)


def address(path: str, job: Job) -> str:
    known = {"job": job.pk, "customer": job.customer_id, "unit": job.unit_id}
    return path.format(**known, instrument=Instrument.objects.get().pk)


PAGES = (
    *(one.path for name, one in ADDRESSES.items() if one.look and "api" not in name and "photo" not in name),
    "/jobs/{job}/commutator/cut/answer",
    "/jobs/{job}/commutator/cut/walk",
    "/jobs/{job}/commutator?check=diameter",
    "/jobs/{job}/intake?check=complaint",
    "/jobs/{job}/brushes?check=holders",
    "/sheets/demo-57-wave/edit",
)


def test_no_page_shows_a_decimal_point_but_in_what_people_wrote(bench: Client, job: Job) -> None:
    wrong = {}
    tables = [(name, 2 if name == "profile.csv" else 3) for name in ("profile.csv", "readings.csv")]
    typed = {"0.2"} | {row[at].lstrip("-") for name, at in tables for row in rows(name)}
    for path in PAGES:
        answer = bench.get(address(path, job))
        kind = answer.headers.get("Content-Type", "")
        text = words(answer.content.decode()) if kind.startswith("text/html") else ""
        answer.close()
        left = set(POINTED.findall(text.replace(WRITTEN, ""))) - AS_IT_STANDS - typed
        if left or "7,77" in text:
            wrong[path] = left or text[text.index("7,77") - 60 :][:80]
    assert wrong == {}


def test_the_numbers_are_there_with_their_comma(bench: Client, job: Job) -> None:
    assert "1,250" in said(bench.get("/sheets/demo-57-wave"))
    assert "0,0001 in" in said(bench.get(address("/instruments/{instrument}", job)))
    assert "99,9 %" in said(bench.get(f"/units/{job.unit_id}"))
    cut = bench.get(f"/jobs/{job.pk}/commutator/cut/answer").content.decode()
    assert re.search(r"Cleans up at 1,\d{4} in", cut)
    assert 'value="0,0001"' in bench.get(address("/instruments/{instrument}/edit", job)).content.decode()


def test_what_is_kept_and_what_programs_are_told_has_the_point(bench: Client, job: Job) -> None:
    assert "99.9 %" in Result.objects.get(check_key="winding").line
    told = bench.get(f"/api/v1/jobs/{job.pk}/commutator/cut/result").json()
    assert re.search(r"\d\.\d", told["line"])
    table = bench.get(f"/jobs/{job.pk}/readings.csv").content.decode()
    assert ",1.2421,in," in table


def test_a_field_with_a_comma_comes_back_as_the_same_number(bench: Client, job: Job) -> None:
    page = bench.get(address("/instruments/{instrument}/edit", job)).content.decode()
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', page))
    sent = {name: fields[name] for name in ("resolution", "repeatability", "uncertainty")}
    kept = bench.post(address("/instruments/{instrument}/edit", job), {**sent, "unit": "in", "coverage": "1"})
    assert kept.status_code == 302
    newest = Instrument.objects.order_by("-pk").first()
    assert newest is not None
    assert newest.resolution_si == pytest.approx(2.54e-6)


def test_a_shop_that_writes_points_sees_its_pages_unchanged(bench: Client, job: Job) -> None:
    change_shop(decimal_comma=False)
    page = said(bench.get("/sheets/demo-57-wave"))
    assert "1.250" in page
    assert "1,250" not in page
