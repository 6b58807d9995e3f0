"""What is printed blank, and the label of a tag."""

from __future__ import annotations

import io

import pytest
import segno
from pypdf import PdfReader

from barwise.errors import InputError
from barwise.record.habits import change_shop
from barwise.record.models import Job
from barwise.record.route_of import route_of
from barwise.report.paper.bench_sheet import bench_sheet_pdf, blank_stations
from barwise.report.paper.tag_label import label_pdf, opens, qr_code
from barwise.route.cautions import CODE_FIRST
from tests.report.paper.printed import pages_of, run_together
from tests.web.shop import open_invented_job

pytestmark = pytest.mark.django_db


def test_a_bench_sheet_asks_for_every_check_of_the_route_with_its_limit_and_its_answers() -> None:
    job = open_invented_job()
    words = run_together(" ".join(pages_of(bench_sheet_pdf(job))))
    route = route_of(job)
    for station, checks in route.stations:
        assert run_together(station.title) in words
        for check in checks:
            assert run_together(check.title) in words
            for said in check.answers:
                assert run_together(said.say) in words
    assert run_together("allowed: 1.226 in or more") in words
    assert "57–1" in words
    assert run_together("usual: bars 1 and 15") in words


def test_a_caution_stands_before_the_first_check_of_a_station_that_can_hurt_and_is_named_after() -> None:
    stations = {one.title: one for one in blank_stations(route_of(open_invented_job()))}
    checks = stations["Armature"].checks
    first, second = [one for one in checks if one.cautions or one.as_above][:2]
    assert "A mains-fed test lamp can kill" in first.cautions[0]
    assert first.cautions[-1] == CODE_FIRST
    assert (second.cautions, second.as_above) == ((), True)


def test_a_bench_sheet_without_a_model_sheet_leaves_the_bars_to_be_written() -> None:
    job = open_invented_job("T-0", sheet="")
    pages = pages_of(bench_sheet_pdf(job, "letter"))
    assert "no model sheet, general limits only" in pages[0]
    walk = next(one for station in blank_stations(route_of(job)) for one in station.checks if one.tables)
    assert set(walk.tables[0].rows) == {""}
    assert len(walk.tables[0].rows) == 60


def test_limits_on_a_bench_sheet_have_the_shops_decimal_sign() -> None:
    change_shop(decimal_comma=True)
    words = run_together(" ".join(pages_of(bench_sheet_pdf(open_invented_job()))))
    assert run_together("allowed: 1,226 in or more") in words


def test_a_label_is_62_by_40_mm_with_tag_job_customer_and_what_its_code_holds() -> None:
    job = open_invented_job("T-100")
    pdf = label_pdf(job, "http://bench.local:8321/")
    (page,) = pages_of(pdf)
    for words in ("T-100", f"job {job.number}", "Invented Farm", "serial S-T-100", "INVENTED"):
        assert words in page
    assert f"http://bench.local:8321/jobs/{job.pk}" in page
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((62 / 25.4 * 72, 40 / 25.4 * 72), abs=0.1)


def test_a_long_tag_and_customer_stay_on_one_label() -> None:
    job = open_invented_job("T" * 60, customer="Unbroken" * 25)
    Job.objects.update(number="9" * 40)
    job.refresh_from_db()
    assert len(pages_of(label_pdf(job, "https://" + "a-long-name." * 12 + "example"))) == 1


def test_a_code_opens_the_job_where_the_server_is_known_and_names_it_elsewhere() -> None:
    job = open_invented_job()
    assert opens(job, "") == job.number
    assert opens(job, " https://bench.example/ ") == f"https://bench.example/jobs/{job.pk}"
    for wrong in ("bench.local", "javascript:alert(1)", "http://two words", "http://" + "x" * 200):
        with pytest.raises(InputError):
            opens(job, wrong)


def test_a_code_has_the_white_rim_that_scanners_need_and_survives_a_quarter_of_dirt() -> None:
    """ISO/IEC 18004:2015, 6.3.8 and table 8 (from memory): four modules of white, level Q corrects 25 %."""
    content = "http://bench.local:8321/jobs/1"
    code = segno.make(content, error="q", micro=False)
    assert code.error == "Q"
    side = code.symbol_size(border=4)[0]
    assert f'viewBox="0 0 {side} {side}"' in qr_code(content)
