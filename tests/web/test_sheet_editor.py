"""The editor of model sheets: errors beside the field, doubts asked, nothing typed lost."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from django.test import Client

from barwise.record.habits import change_shop
from barwise.record.models import SheetVersion
from barwise.record.sheets import sheet_from, store_sheet
from barwise.route.sheet import dump_sheet, load_sheet, sheets
from barwise.web.sheet_form import typed_from
from tests.web.shop import bench_client
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db

SHEET = "demo-57-wave"
EDIT = f"/sheets/{SHEET}/edit"
SOURCE = {"source.kind": "maker's sheet", "source.text": "invented, p. 3"}


@pytest.fixture
def bench() -> Client:
    store_sheet(dump_sheet(load_sheet(SHEET)))
    return bench_client()


def fields(answer: Any) -> dict[str, str]:
    """What a browser would send of the page as it stands."""
    page = answer.content.decode()
    page = page[page.index('class="sheet-editor"') :]
    found = {}
    for tag in re.findall(r"<input [^>]*>", page):
        name, value = re.search(r'name="([^"]*)"', tag), re.search(r' value="([^"]*)"', tag)
        if name and ("checkbox" not in tag or " checked" in tag):
            found[name[1]] = unescape(value[1]) if value else ""
    for name, options in re.findall(r'<select [^>]*name="([^"]*)"[^>]*>(.*?)</select>', page, re.DOTALL):
        chosen = re.search(r'value="([^"]*)" selected', options) or re.search(r'value="([^"]*)"', options)
        found[name] = unescape(chosen[1]) if chosen else ""
    return found


def beside(answer: Any, field: str) -> str:
    """What stands as wrong beside one field."""
    found = re.search(rf'id="wrong-{re.escape(field)}">(.*?)</div>', answer.content.decode(), re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", found[1])).split()) if found else ""


def test_a_change_makes_the_next_version_by_the_person_at_the_bench(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {"limits.brush-length.discard": "0.410"}
    assert bench.post(EDIT, sent).status_code == 302
    kept = SheetVersion.objects.get(key=SHEET, version=2)
    assert "discard = 0.410" in kept.toml
    assert str(kept.person) == "Anna (invented)"


def test_one_changed_figure_is_all_that_differs(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {"limits.brush-length.discard": "0.410"}
    bench.post(EDIT, sent)
    versions = [said(bench.get(f"/sheets/{SHEET}")).partition("Version 2")[2].partition("Version 1")[0]]
    assert "brush-length, discard: from 0.400 in to 0.410 in." in versions[0]
    assert versions[0].count(": from") == 1


@pytest.mark.parametrize("key", sheets())
def test_every_sheet_that_comes_with_barwise_goes_through_the_form_unchanged(bench: Client, key: str) -> None:
    if key != SHEET:
        store_sheet(dump_sheet(load_sheet(key)))
    answer = bench.post(f"/sheets/{key}/edit", fields(bench.get(f"/sheets/{key}/edit")))
    assert "nothing differs from version 1" in said(answer)


def test_low_above_high_is_refused_with_both_numbers(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {"limits.end-play.low": "0.030", "limits.end-play.high": "0.005"}
    answer = bench.post(EDIT, sent)
    assert answer.status_code == 422
    assert "Found low 0.030 in above high 0.005 in. Expected them the other way round" in said(answer)
    assert SheetVersion.objects.count() == 1


def test_inch_and_mm_that_disagree_are_refused_with_both_numbers(bench: Client) -> None:
    """Run-out printed as 0.00197 inch (0.5 mm), TM 9-2815-255-24 p. 3-38."""
    sent = fields(bench.get(EDIT))
    sent |= {"limits.commutator-runout.high": "0.00197", "limits.commutator-runout.also.high": "0.5"}
    words = said(bench.post(EDIT, sent))
    assert "Found high 0.00197 in and 0.5 mm, which is 0.01969 in." in words


def test_what_is_no_number_is_said_beside_its_field_and_stays_in_it(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {
        "limits.end-play.low": "five thou",
        "limits.shaft-runout.high": "0.0035",
    }
    answer = bench.post(EDIT, sent)
    assert "five thou" in beside(answer, "limits.end-play.low")
    kept = fields(answer)
    assert (kept["limits.end-play.low"], kept["limits.shaft-runout.high"]) == ("five thou", "0.0035")


def test_all_that_is_wrong_is_said_at_once(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {
        "limits.end-play.low": "x",
        "limits.spring-force.low": "99",
        "winding.poles": "3",
    }
    answer = bench.post(EDIT, sent)
    assert "3 places need another look" in said(answer)
    assert beside(answer, "winding.poles")


def test_a_tenfold_span_is_asked_about_and_taken_once_it_is_ticked(bench: Client) -> None:
    """No-load speed printed from 360 to 5400, TM 9-4940-568-34 p. 5-157."""
    sent = fields(bench.get(EDIT)) | {"limits.no-load-speed.low": "360"}
    answer = bench.post(EDIT, sent)
    assert answer.status_code == 422
    assert "Does the sheet miss a digit?" in said(answer)
    asked = re.search(r'name="confirmed" value="([^"]*)"', answer.content.decode())
    assert asked is not None
    ticked = bench.post(EDIT, fields(answer) | {"confirmed": unescape(asked[1])})
    assert ticked.status_code == 302


def test_a_tick_for_other_numbers_does_not_hold(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {"limits.no-load-speed.low": "360"}
    asked = re.search(r'name="confirmed" value="([^"]*)"', bench.post(EDIT, sent).content.decode())
    assert asked is not None
    again = sent | {"limits.no-load-speed.low": "36", "confirmed": unescape(asked[1])}
    assert bench.post(EDIT, again).status_code == 422


def test_a_new_sheet_takes_its_short_name_from_its_title(bench: Client) -> None:
    sent = {"title": "Invented 24 V, 31 bars", "limits.end-play.high": "0.8", "limits.end-play.unit": "mm"}
    answer = bench.post("/sheets/new", sent | SOURCE)
    assert answer.status_code == 302
    sheet = sheet_from(SheetVersion.objects.get(key="invented-24-v-31-bars").toml)
    assert sheet.limits["end-play"].source.words == "maker's sheet: invented, p. 3"
    assert str(sheet.limits["end-play"].high) == "0.8"


def test_a_limit_without_a_source_is_refused_at_its_source(bench: Client) -> None:
    sent = {"title": "Invented", "limits.end-play.high": "0.8", "limits.end-play.unit": "mm"}
    answer = bench.post("/sheets/new", sent)
    assert beside(answer, "limits.end-play.source.kind")


def test_a_copy_needs_a_name_of_its_own(bench: Client) -> None:
    sent = fields(bench.get("/sheets/new", {"from": SHEET})) | {"title": "Other", "key": SHEET}
    answer = bench.post(f"/sheets/new?from={SHEET}", sent)
    assert "a short name not in use" in beside(answer, "key")


def test_a_decimal_comma_is_taken_where_the_shop_writes_one(bench: Client) -> None:
    change_shop(decimal_comma=True)
    sent = {"title": "Komma", "limits.end-play.high": "0,80", "limits.end-play.unit": "mm"}
    assert bench.post("/sheets/new", sent | SOURCE).status_code == 302
    assert "high = 0.80" in SheetVersion.objects.get(key="komma").toml


def test_a_decimal_comma_is_refused_where_the_shop_writes_points(bench: Client) -> None:
    sent = {"title": "Komma", "limits.end-play.high": "0,80", "limits.end-play.unit": "mm"}
    assert "0,80" in beside(bench.post("/sheets/new", sent | SOURCE), "limits.end-play.high")


def test_a_version_saved_meanwhile_is_not_overwritten_and_nothing_typed_is_lost(bench: Client) -> None:
    opened = fields(bench.get(EDIT))
    bench.post(EDIT, opened | {"limits.brush-length.discard": "0.410"})
    late = bench.post(EDIT, opened | {"limits.brush-length.discard": "0.420"})
    assert late.status_code == 422
    assert "version 2 was saved by Anna (invented) while you worked on version 1" in said(late)
    assert fields(late)["limits.brush-length.discard"] == "0.420"
    assert SheetVersion.objects.filter(key=SHEET).count() == 2


def test_the_text_is_kept_word_for_word_but_for_its_version(bench: Client) -> None:
    text = "# kept for the next one\n" + dump_sheet(load_sheet(SHEET)).replace("0.410", "0.420")
    text = text.replace("discard = 0.400", "discard = 0.415 # measured")
    assert bench.post(EDIT, {"toml": text, "changes": "1"}).status_code == 302
    kept = SheetVersion.objects.get(key=SHEET, version=2).toml
    assert kept == text.replace("version = 1\n", "version = 2\n", 1)


def test_a_text_that_is_no_sheet_is_refused_with_line_and_key_and_stays(bench: Client) -> None:
    text = dump_sheet(load_sheet(SHEET)).replace("discard = 0.400", "discrad = 0.400")
    answer = bench.post(EDIT, {"toml": text, "changes": "1"})
    line = text[: text.index("discrad")].count("\n") + 1
    assert f"sheet.toml line {line}, key limits.brush-length.discrad" in said(answer)
    assert "discrad = 0.400" in answer.content.decode()


def test_fields_are_shown_as_text_and_back_without_saving(bench: Client) -> None:
    sent = fields(bench.get(EDIT)) | {"limits.brush-length.discard": "0.410", "show": "text"}
    as_text = bench.post(EDIT, sent)
    text = re.search(r"<textarea[^>]*>\n(.*)</textarea>", as_text.content.decode(), re.DOTALL)
    assert text is not None
    back = bench.post(EDIT, {"toml": unescape(text[1]), "changes": "1", "show": "fields"})
    assert fields(back)["limits.brush-length.discard"] == "0.410"
    assert SheetVersion.objects.count() == 1


def test_the_form_has_a_row_for_each_limit_a_check_looks_up(bench: Client) -> None:
    sheet = load_sheet(SHEET)
    page = fields(bench.get(EDIT))
    assert all(f"limits.{key}.low" in page for key in sheet.limits)
    assert {"winding.kind": "wave", "winding.poles": "4", "bars": "57"}.items() <= page.items()


def test_typed_fields_keep_every_digit_of_the_sheet() -> None:
    typed = typed_from(load_sheet(SHEET))
    assert typed["limits.commutator-diameter.new"] == "1.250"
    assert typed["limits.journal-drive-end.new"] == "0.5000"
