"""What is known of a vehicle, entered at the job: kept as typed, refused at its field, and never lost."""

from __future__ import annotations

import re
import tomllib
import uuid
from html import unescape
from typing import Any

import pytest
from django.test import Client

from barwise.record.answers import catch_up
from barwise.record.in_force import in_force
from barwise.record.models import Job, Reading, Result, Shop
from barwise.web.vehicle_form import vehicle_form, vehicle_text
from tests.web.shop import read
from tests.web.test_jobs import said

CHECK = "handover/vehicle-crank"
TYPED = {
    "temperature": "-10",
    "title": 'farm "tractor"',
    "battery.volts": "12",
    "battery.rated_current": "650 A",
    "battery.rest_volts": "12.50",
    "battery.age_years": "3",
    "engine.displacement": "146 in3",
    "engine.cylinders": "4",
    "engine.fuel": "petrol",
    "engine.oil": "15W-40",
    "starter.ring_teeth": "130",
    "starter.pinion_teeth": "9",
    "leg0.name": "positive cable",
    "leg0.size": "2/0",
    "leg0.length": "5 ft",
    "leg1.name": "switch",
    "leg1.contact": "0.5",
    "leg2.name": "ground",
    "leg2.size": "35 mm2",
    "leg2.length": "0.9 m",
}


def fields(text: str, wrong: Any = None) -> dict[str, str]:
    form = vehicle_form(text, wrong)
    groups = (*form.groups, *form.rare)
    return {field.name: field.value for group in groups for field in group.fields if field.value}


def test_the_text_is_a_vehicle_file_with_every_number_as_it_was_typed_and_its_unit() -> None:
    said = tomllib.loads(vehicle_text(TYPED, decimal_comma=False))
    assert said["temperature"] == "-10 degC"
    assert said["title"] == 'farm "tractor"'
    assert said["battery"] == {
        "volts": "12 V", "rated_current": "650 A", "rest_volts": "12.50 V", "age_years": 3,
    }  # fmt: skip
    assert said["engine"]["displacement"] == "146 in3"
    assert said["leg"][0] == {"name": "positive cable", "gauge": "2/0", "length": "5 ft"}
    assert said["leg"][2] == {"name": "ground", "area": "35 mm2", "length": "0.9 m"}


def test_the_fields_come_back_as_they_were_typed() -> None:
    text = vehicle_text(TYPED, decimal_comma=False)
    assert vehicle_text(fields(text), decimal_comma=False) == text
    assert fields(text)["leg0.size"] == "2/0"


def test_a_decimal_comma_counts_where_the_shop_writes_one() -> None:
    comma = {"battery.rest_volts": "12,50", "engine.displacement": "2,4 L", "leg0.size": "2,5 mm2"}
    text = vehicle_text({**comma, "leg0.name": "ground"}, decimal_comma=True)
    assert '"12.50 V"' in text
    assert '"2.4 L"' in text
    assert '"12,50"' in vehicle_text(comma, decimal_comma=False)


def test_a_stretch_with_a_name_of_its_own_keeps_its_row_and_one_without_is_asked_for_it() -> None:
    text = vehicle_text({"leg3.name": "earth strap"}, decimal_comma=False)
    assert fields(text)["leg3.name"] == "earth strap"
    assert "earth strap (gauge, length)" in [one.what for one in vehicle_form(text).missing]


def send(bench: Client, job: Job, **more: str) -> Any:
    sent = {"key": str(uuid.uuid4()), **TYPED, **more}
    return bench.post(f"/jobs/{job.pk}/{CHECK}/take", sent, follow=True)


def field(answer: Any, name: str) -> str:
    tag = re.search(rf'<input[^>]*name="{re.escape(name)}"[^>]*>', answer.content.decode())
    assert tag is not None, name
    return unescape(re.search(r'value="([^"]*)"', tag[0])[1])  # type: ignore[index]


@pytest.mark.django_db
def test_before_anything_is_said_the_page_says_what_it_needs_and_what_for(bench: Client, job: Job) -> None:
    words = said(bench.get(f"/jobs/{job.pk}/handover?check=vehicle-crank"))
    assert "engine (displacement, cylinders, fuel), without which there is no speed" in words


@pytest.mark.django_db
def test_the_page_says_whether_it_cranks_where_the_volts_go_and_shows_it(bench: Client, job: Job) -> None:
    answer = send(bench, job)
    words = said(answer)
    assert "cranks fast enough to start at -10 °C" in words
    assert "Weakest link:" in words
    assert "Run the starter on the bench" in words
    assert "positive cable: gauge 2/0, length 5 ft" in words
    assert '<div class="picture"><svg' in answer.content.decode()
    whole = said(bench.get(f"/jobs/{job.pk}/{CHECK}/answer"))
    for title in ("Where the volts go", "Whose fault it is", "How it starts", "Caution in the vehicle"):
        assert title in whole


@pytest.mark.django_db
def test_a_bad_figure_is_refused_at_its_field_and_all_that_was_typed_stays(bench: Client, job: Job) -> None:
    answer = send(bench, job, **{"battery.rated_current": "a lot"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'id="battery.rated_current-error"' in page
    assert field(answer, "battery.rated_current") == "a lot"
    assert field(answer, "engine.displacement") == "146 in3"
    assert not Reading.objects.filter(job=job, check_key="vehicle-crank").exists()
    second = send(bench, job, **{"leg2.length": "90 cm"})
    assert 'id="leg2.length-error"' in second.content.decode()


@pytest.mark.django_db
def test_a_change_corrects_what_was_said_and_both_stay_in_the_record(bench: Client, job: Job) -> None:
    first = send(bench, job)
    changed = send(bench, job, temperature="5", corrects=field(first, "corrects"))
    assert changed.status_code == 200
    assert Reading.objects.filter(job=job, check_key="vehicle-crank").count() == 2
    (counts,) = in_force(job, "handover", "vehicle-crank")
    assert 'temperature = "5 degC"' in counts.entered
    assert "at 5 °C" in said(changed)


@pytest.mark.django_db
def test_it_is_decided_after_the_reading_is_on_the_disk_and_anew_when_a_drop_comes_in(job: Job) -> None:
    read(job, "handover", "vehicle-crank", vehicle_text(TYPED, decimal_comma=False))
    results = Result.objects.filter(job=job, check_key="vehicle-crank")
    assert not results.exists()
    catch_up(job)
    assert results.count() == 1
    for check, value, unit in (("vehicle-current", "150", "A"), ("vehicle-ground", "0.90", "V")):
        read(job, "handover", check, value, unit=unit)
    assert results.count() == 1
    catch_up(job)
    assert results.count() == 2
    assert results.latest("id").details["crank"]["fit"]["legs"][0]["name"] == "ground"


@pytest.mark.django_db
def test_while_drops_are_read_it_waits_and_is_worked_out_when_somebody_looks_at_it(
    bench: Client, job: Job
) -> None:
    send(bench, job)
    results = Result.objects.filter(job=job, check_key="vehicle-crank")
    assert results.count() == 1
    sent = {"key": str(uuid.uuid4()), "value": "150", "unit": "A"}
    page = said(bench.post(f"/jobs/{job.pk}/handover/vehicle-current/take", sent, follow=True))
    assert results.count() == 1
    assert "Readings came in since." in page
    assert "Readings came in since." not in said(bench.get(f"/jobs/{job.pk}/handover?check=vehicle-crank"))
    assert results.count() == 2


@pytest.mark.django_db
def test_a_shop_with_commas_reads_its_own_fields_back(bench: Client, job: Job) -> None:
    Shop.objects.update_or_create(pk=1, defaults={"decimal_comma": True})
    answer = send(bench, job, **{"battery.rest_volts": "12,50"})
    assert answer.status_code == 200
    again = send(bench, job, **{"battery.rest_volts": field(answer, "battery.rest_volts")})
    assert again.status_code == 200
    assert '"12.50 V"' in Reading.objects.filter(job=job, check_key="vehicle-crank").last().entered
