"""A station: readings taken, asked about, corrected, withdrawn; what becomes of the part; photos."""

from __future__ import annotations

import io
import re
import uuid
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import Group, User
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from PIL import Image

from barwise.record.in_force import in_force
from barwise.record.instruments import Figures, add_instrument
from barwise.record.jobs import close_job
from barwise.record.models import Disposition, Job, Part, Person, Photo, Reading, Shop
from barwise.record.photos import path_of
from barwise.record.route_of import route_of
from barwise.route.family import load_family
from barwise.web.roles import make_roles
from tests.web.shop import open_invented_job, read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db
HTMX = {"HTTP_HX_REQUEST": "true"}


def take(bench: Client, job: Job, check: str, value: str, station: str = "armature", **more: Any) -> Any:
    headers = HTMX if more.pop("htmx", False) else {}
    sent = {"key": str(uuid.uuid4()), "value": value, **more}
    return bench.post(f"/jobs/{job.pk}/{station}/{check}/take", sent, follow=True, **headers)


def limit_of(job: Job, station: str, check: str) -> Any:
    route = route_of(job)
    return route.limit(route.family.check(station, check))


def field(answer: Any, name: str) -> str:
    """What stands in a field of the form that came back."""
    tags = re.findall(rf'<input[^>]*name="{name}"[^>]*>', answer.content.decode())
    return next(re.search(r'value="([^"]*)"', tag)[1] for tag in tags if "value=" in tag)


def unit_picked(answer: Any) -> str:
    return re.search(r'name="unit" value="([^"]+)" checked', answer.content.decode())[1]


def test_the_first_open_check_stands_in_front_with_what_to_do(bench: Client, job: Job) -> None:
    read(job, "armature", "look", "clean")
    read(job, "teardown", "cleaned", "yes")
    words = said(bench.get(f"/jobs/{job.pk}/armature"))
    assert "Bare wire once round all bars" in words
    assert "5 Mohm or more" in words


def test_a_check_that_waits_for_another_does_not_push_itself_in_front(bench: Client, job: Job) -> None:
    read(job, "armature", "look", "clean")
    assert 'id="check-title">Winding' in bench.get(f"/jobs/{job.pk}/armature").content.decode()
    words = said(bench.get(f"/jobs/{job.pk}/armature", {"check": "insulation"}))
    assert "Usually done first: Teardown: Cleaned and dried" in words


def test_a_caution_stands_where_the_hazard_is(bench: Client, job: Job) -> None:
    dangerous = said(bench.get(f"/jobs/{job.pk}/armature", {"check": "insulation"}))
    assert "An insulation tester leaves charge" in dangerous
    assert "Caution" not in said(bench.get(f"/jobs/{job.pk}/armature", {"check": "shaft-runout"}))


def test_a_limit_that_is_not_the_model_s_own_is_marked_and_has_its_source(bench: Client, job: Job) -> None:
    words = said(bench.get(f"/jobs/{job.pk}/commutator", {"check": "mica-depth"}))
    assert "general limit, not this model’s" in words
    assert "TM 10-3930-653-14" in words
    own = said(bench.get(f"/jobs/{job.pk}/commutator", {"check": "diameter"}))
    assert "general limit" not in own


def test_a_number_is_taken_decided_and_drawn(bench: Client, job: Job) -> None:
    answer = take(bench, job, "shaft-runout", "0.0012", unit="in")
    words, page = said(answer), answer.content.decode()
    assert "accept 0.0012 in, within its limit" in words
    assert "<svg" in page
    assert "at most" in page
    reading = Reading.objects.get()
    assert (reading.entered, reading.unit, reading.person) == ("0.0012", "in", Person.objects.get())


def test_a_number_near_its_limit_is_undecided_and_says_what_settles_it(bench: Client, job: Job) -> None:
    edge_mm = limit_of(job, "armature", "shaft-runout").allowed.upper * 1e3
    words = said(take(bench, job, "shaft-runout", f"{edge_mm:.2f}", unit="mm"))
    assert "undecided" in words
    assert "To settle it:" in words


def test_a_number_beyond_its_limit_proposes_what_its_check_speaks_for(bench: Client, job: Job) -> None:
    words = said(take(bench, job, "shaft-runout", "0.009", unit="in"))
    assert "reject 0.009 in, beyond its limit" in words
    assert "The readings speak for rework" in words


@pytest.mark.parametrize("htmx", [False, True])
def test_a_number_that_is_none_stays_in_its_field_with_what_is_wrong(bench: Client, job, htmx: bool) -> None:
    answer = take(bench, job, "shaft-runout", "1.2x", unit="mm", reason="new shaft", htmx=htmx)
    assert field(answer, "value") == "1.2x"
    assert unit_picked(answer) == "mm"
    assert "Found" in said(answer)
    assert "Expected length in mm" in said(answer)
    # htmx swaps nothing that does not come as a success.
    assert answer.status_code == (200 if htmx else 422)
    assert not Reading.objects.exists()


@pytest.mark.parametrize("typed", ["1,078", "1.078,5", "", "0x1F", "--3", "1e999", "NaN", "٣"])
def test_no_odd_number_breaks_the_page_or_is_taken(bench: Client, job: Job, typed: str) -> None:
    answer = take(bench, job, "shaft-runout", typed, unit="in")
    assert answer.status_code == 422
    assert field(answer, "value") == typed
    assert not Reading.objects.exists()


def test_where_the_shop_writes_commas_a_comma_is_taken(bench: Client, job: Job) -> None:
    Shop.objects.create(id=1, decimal_comma=True)
    assert "accept" in said(take(bench, job, "shaft-runout", "0,0012", unit="in"))
    assert Reading.objects.get().value_si == pytest.approx(0.0012 * 0.0254)


def test_millimetres_where_inches_are_meant_are_asked_about_and_nothing_is_taken(bench, job) -> None:
    answer = take(bench, job, "diameter", "1.2421", station="commutator", unit="mm", place="3", track="0.4")
    assert "Is it 1.2421 in?" in said(answer)
    assert field(answer, "value") == "1.2421"
    assert not Reading.objects.exists()
    key = field(answer, "key")
    bench.post(
        f"/jobs/{job.pk}/commutator/diameter/take",
        {"key": key, "value": "1.2421", "unit": "mm", "place": "3", "track": "0.4", "meant": "1.2421 in"},
    )
    reading = Reading.objects.get()
    assert (reading.entered, reading.unit, reading.place_from, reading.track) == ("1.2421", "in", "3", "0.4")
    assert unit_picked(bench.get(f"/jobs/{job.pk}/commutator", {"check": "diameter"})) == "in"


def test_what_was_asked_about_is_taken_as_typed_when_it_is_meant(bench: Client, job: Job) -> None:
    take(bench, job, "diameter", "1.2421", station="commutator", unit="mm", confirmed="1")
    assert Reading.objects.get().unit == "mm"


def test_enter_in_the_field_never_answers_the_question(bench: Client, job: Job) -> None:
    page = take(bench, job, "diameter", "1.2421", station="commutator", unit="mm").content.decode()
    forms = re.findall(r"<form.*?</form>", page, re.S)
    (entry,) = [form for form in forms if 'id="value"' in form]
    assert 'name="meant"' not in entry
    assert 'name="confirmed"' not in entry


def test_a_form_sent_twice_is_one_reading(bench: Client, job: Job) -> None:
    for _ in range(2):
        take(bench, job, "shaft-runout", "0.0012", unit="in", key="6a2f8f5e-3a64-4c39-9f0e-0d6a3a3c1b11")
    assert Reading.objects.count() == 1


def test_another_value_under_a_form_sent_before_is_kept_in_the_field_and_may_be_sent_again(
    bench, job
) -> None:
    key = str(uuid.uuid4())
    take(bench, job, "shaft-runout", "0.0012", unit="in", key=key)
    answer = take(bench, job, "shaft-runout", "0.0014", unit="in", key=key)
    assert "This form was sent before" in said(answer)
    assert field(answer, "value") == "0.0014"
    assert field(answer, "key") != key
    take(bench, job, "shaft-runout", "0.0014", unit="in", key=field(answer, "key"))
    assert Reading.objects.count() == 2


def test_a_damaged_key_is_refused_and_the_value_stays(bench: Client, job: Job) -> None:
    answer = take(bench, job, "shaft-runout", "0.0012", unit="in", key="no key")
    assert answer.status_code == 422
    assert field(answer, "value") == "0.0012"


def test_unit_and_instrument_are_offered_again_at_the_next_check_of_their_kind(bench, job) -> None:
    dial = add_instrument("D-2", "dial indicator", Figures(1e-5))
    take(bench, job, "shaft-runout", "0.03", unit="mm", instrument=str(dial.pk))
    page = bench.get(f"/jobs/{job.pk}/teardown", {"check": "end-play-found"})
    assert unit_picked(page) == "mm"
    assert f'value="{dial.pk}" selected' in page.content.decode()
    assert Reading.objects.get().instrument == dial


def test_an_instrument_whose_calibration_ran_out_says_so(bench: Client, job: Job) -> None:
    add_instrument("D-9", "dial indicator", Figures(1e-5, 0.0, 0.0, date(2020, 1, 5), date(2021, 1, 5)))
    page = said(bench.get(f"/jobs/{job.pk}/armature", {"check": "shaft-runout"}))
    assert "D-9 dial indicator (calibration overdue)" in page


def test_an_instrument_that_cannot_read_this_is_refused(bench: Client, job: Job) -> None:
    meter = add_instrument("V-1", "meter", Figures(1e-5), quantity="voltage")
    answer = take(bench, job, "shaft-runout", "0.001", unit="in", instrument=str(meter.pk))
    assert answer.status_code == 422
    assert field(answer, "value") == "0.001"


def test_places_are_read_one_after_the_other_and_the_next_is_offered(bench: Client, job: Job) -> None:
    page = bench.get(f"/jobs/{job.pk}/brushes", {"check": "spring-force"}).content.decode()
    names = re.findall(r'name="place" value="(\d+)"', page)
    assert len(names) > 1
    for name in names:
        page = bench.get(f"/jobs/{job.pk}/brushes", {"check": "spring-force"}).content.decode()
        assert f'name="place" value="{name}" checked' in page
        take(bench, job, "spring-force", "36", station="brushes", unit="ozf", place=name)
    assert "accept" in said(bench.get(f"/jobs/{job.pk}/brushes", {"check": "spring-force"}))


def test_repeats_are_counted_and_averaged(bench: Client, job: Job) -> None:
    how = {"station": "commutator", "unit": "in", "confirmed": "1"}
    page = said(take(bench, job, "final-diameter", "1.2389", **how))
    assert "Reading 2 of 2" in page
    take(bench, job, "final-diameter", "1.2391", **how)
    assert in_force(job, "commutator", "final-diameter").count() == 2


def test_enter_on_the_empty_field_goes_on_when_the_check_is_complete(bench: Client, job: Job) -> None:
    read(job, "armature", "look", "clean")
    answer = take(bench, job, "shaft-runout", "0.001", unit="in")
    onward = field(answer, "onward")
    after = take(bench, job, "shaft-runout", "", unit="in", onward=onward)
    assert f'href="?check={onward}" aria-current="true"' in after.content.decode()
    assert Reading.objects.filter(check_key="shaft-runout").count() == 1


def test_a_choice_is_taken_with_one_press_and_stays_pressed(bench: Client, job: Job) -> None:
    page = take(bench, job, "look", "solder thrown").content.decode()
    assert 'value="solder thrown" aria-pressed="true"' in page
    assert "The walk shows which joints are bad" in page
    assert Reading.objects.get().entered == "solder thrown"


def test_yes_and_no_are_two_buttons(bench: Client, job: Job) -> None:
    page = bench.get(f"/jobs/{job.pk}/assembly", {"check": "lubrication"}).content.decode()
    assert re.findall(r'<button name="value" value="(\w+)"', page) == ["yes", "no"]
    assert "reject" in said(take(bench, job, "lubrication", "no", station="assembly"))


def test_a_note_is_kept_word_for_word_and_shown_as_text(bench: Client, job: Job) -> None:
    note = "<b>cast mark</b> 7 & 9\nnose cracked"
    page = take(bench, job, "tag", note, station="intake").content.decode()
    assert Reading.objects.get().entered == note
    assert "<b>cast" not in page
    assert "&lt;b&gt;cast mark" in page


def test_a_walk_is_opened_from_its_check(bench: Client, job: Job) -> None:
    page = bench.get(f"/jobs/{job.pk}/armature", {"check": "winding"}).content.decode()
    assert f'href="/jobs/{job.pk}/armature/winding/walk"' in page
    assert 'id="value"' not in page


def test_a_reading_is_undone_at_once(bench: Client, job: Job) -> None:
    page = take(bench, job, "shaft-runout", "0.0012", unit="in").content.decode()
    form = next(one for one in re.findall(r"<form.*?</form>", page, re.S) if "Undo" in one)
    sent = dict(re.findall(r'name="(reading|key|reason)" value="([^"]*)"', form))
    after = bench.post(f"/jobs/{job.pk}/armature/shaft-runout/strike", sent, follow=True)
    assert not in_force(job).exists()
    assert "No longer counted: 1" in said(after)
    assert Reading.objects.count() == 2


def test_striking_out_needs_a_reason_that_is_kept(bench: Client, job: Job) -> None:
    wrong = read(job, "armature", "shaft-runout", "0.0012").reading
    sent = {"reading": str(wrong.key), "key": str(uuid.uuid4()), "reason": " "}
    address = f"/jobs/{job.pk}/armature/shaft-runout/strike"
    assert bench.post(address, sent).status_code == 422
    assert in_force(job).count() == 1
    after = bench.post(address, {**sent, "reason": "dial had come loose"}, follow=True)
    assert not in_force(job).exists()
    assert "struck out: dial had come loose, Anna (invented)" in said(after)
    assert Reading.objects.get(supersedes=wrong).reason == "dial had come loose"


def test_a_correction_takes_the_place_of_a_reading_and_both_stay(bench: Client, job: Job) -> None:
    wrong = read(job, "armature", "shaft-runout", "0.0012").reading
    page = bench.get(f"/jobs/{job.pk}/armature", {"check": "shaft-runout", "correct": str(wrong.key)})
    assert "In the place of 0.0012 in" in said(page)
    after = take(bench, job, "shaft-runout", "0.0021", unit="in", corrects=field(page, "corrects"))
    assert [one.entered for one in in_force(job)] == ["0.0021"]
    assert "corrected to 0.0021 in" in said(after)


def test_a_part_measured_anew_after_rework_counts_alone(bench: Client, job: Job) -> None:
    bad = {"station": "bearings", "unit": "in"}
    take(bench, job, "clearance-drive-end", "0.020", confirmed="1", **bad)
    take(bench, job, "clearance-drive-end", "0.021", confirmed="1", **bad)
    refused = take(bench, job, "clearance-drive-end", "0.003", anew="1", **bad)
    assert refused.status_code == 422
    assert field(refused, "value") == "0.003"
    assert "accept 0.003 in" in said(
        take(bench, job, "clearance-drive-end", "0.003", anew="1", reason="new bush", **bad)
    )
    assert [one.entered for one in in_force(job)] == ["0.003"]
    assert Reading.objects.filter(job=job, struck=True, reason="new bush").count() == 2


def test_what_is_asked_about_first_withdraws_nothing(bench: Client, job: Job) -> None:
    read(job, "commutator", "diameter", "1.2421", unit="in")
    sent = {"station": "commutator", "unit": "mm", "anew": "1", "reason": "turned"}
    answer = take(bench, job, "diameter", "1.2380", **sent)
    assert "Is it 1.2380 in?" in said(answer)
    assert field(answer, "reason") == "turned"
    assert [one.entered for one in in_force(job)] == ["1.2421"]


def test_units_no_starter_is_measured_in_are_not_offered_and_may_be_typed(bench: Client, job: Job) -> None:
    page = bench.get(f"/jobs/{job.pk}/armature?check=shaft-runout").content.decode()
    assert set(re.findall(r'name="unit" value="(\w+)"', page)) == {"in", "thou", "mm", "um"}
    take(bench, job, "shaft-runout", "0.00003 m")
    assert Reading.objects.get().unit == "m"


def test_a_proposal_is_overruled_with_a_reason_only(bench: Client, job: Job) -> None:
    read(job, "armature", "shaft-runout", "0.009")
    address = f"/jobs/{job.pk}/armature/decide"
    refused = bench.post(address, {"decided": "reuse", "reason": ""})
    assert refused.status_code == 422
    assert "expected a reason" in said(refused)
    assert not Disposition.objects.exists()
    bench.post(address, {"decided": "reuse", "reason": "customer's wish, said in writing"})
    made = Disposition.objects.get()
    assert (made.proposed, made.decided, made.person) == ("rework", "reuse", Person.objects.get())
    page = said(bench.get(f"/jobs/{job.pk}/armature"))
    assert "reuse Anna (invented)" in page
    assert "(proposed: rework)" in page


def test_a_part_is_written_down_and_a_slip_keeps_what_was_typed(bench: Client, job: Job) -> None:
    part = {"name": "Bush, drive end", "quantity": "one", "action": "replaced", "part_number": "INV-7"}
    refused = bench.post(f"/jobs/{job.pk}/bearings/part", part)
    assert refused.status_code == 422
    assert field(refused, "part_number") == "INV-7"
    bench.post(f"/jobs/{job.pk}/bearings/part", {**part, "quantity": "1"})
    assert str(Part.objects.get()) == "1 Bush, drive end replaced"
    assert "Bush, drive end, INV-7, replaced" in said(bench.get(f"/jobs/{job.pk}"))


def photo(size: tuple[int, int] = (40, 30)) -> SimpleUploadedFile:
    written = io.BytesIO()
    Image.new("RGB", size, "brown").save(written, "JPEG")
    return SimpleUploadedFile("IMG_0001.JPG", written.getvalue())


def test_a_photo_is_kept_and_shown(bench: Client, job: Job) -> None:
    bench.post(
        f"/jobs/{job.pk}/armature/photo", {"photo": photo(), "caption": "burnt riser", "check": "look"}
    )
    kept = Photo.objects.get()
    assert path_of(kept).exists()
    page = bench.get(f"/jobs/{job.pk}/armature").content.decode()
    assert f'src="/photos/{kept.key}" alt="burnt riser"' in page
    shown = bench.get(f"/photos/{kept.key}")
    assert shown["Content-Type"] == "image/jpeg"
    assert b"".join(shown.streaming_content) == path_of(kept).read_bytes()


def test_a_photo_that_a_check_asks_for_makes_it_done(bench: Client, job: Job) -> None:
    sent = {"photo": photo(), "for_check": "as-received", "check": "as-received"}
    page = bench.post(f"/jobs/{job.pk}/intake/photo", sent, follow=True)
    assert "noted" in said(page)
    assert (Reading.objects.get().check_key, Photo.objects.get().check_key) == ("as-received", "as-received")


@pytest.mark.parametrize("htmx", [False, True])
def test_a_photo_of_forty_megabytes_is_refused_in_plain_words(bench: Client, job: Job, htmx: bool) -> None:
    large = SimpleUploadedFile("large.jpg", b"\xff\xd8" + bytes(40_000_000))
    sent = {"photo": large, "caption": "the nose", "check": "look"}
    answer = bench.post(f"/jobs/{job.pk}/armature/photo", sent, **(HTMX if htmx else {}))
    assert "The photo was not taken in: found" in said(answer)
    assert "at most 25 MB" in said(answer)
    assert field(answer, "caption") == "the nose"
    assert not Photo.objects.exists()
    # What htmx swaps is the photos alone: a value that is being typed beside them stays.
    assert (
        'id="value"' in answer.content.decode() or 'class="answers"' in answer.content.decode()
    ) is not htmx


def test_a_file_that_is_no_picture_is_refused_by_its_content(bench: Client, job: Job) -> None:
    page = SimpleUploadedFile("photo.jpg", b"<html><script>alert(1)</script>", content_type="image/jpeg")
    answer = bench.post(f"/jobs/{job.pk}/armature/photo", {"photo": page})
    assert "no picture by its content" in said(answer)


def test_without_a_photo_nothing_is_added(bench: Client, job: Job) -> None:
    assert "take it or choose it first" in said(bench.post(f"/jobs/{job.pk}/armature/photo", {}))


def test_without_a_name_nothing_is_taken_and_the_value_stays(job: Job) -> None:
    answer = take(Client(HTTP_HOST="localhost"), job, "shaft-runout", "0.0012", unit="in")
    assert answer.status_code == 422
    assert field(answer, "value") == "0.0012"
    assert not Reading.objects.exists()


def test_without_a_name_the_page_asks_for_one_before_it_offers_the_form(job: Job) -> None:
    page = Client(HTTP_HOST="localhost").get(f"/jobs/{job.pk}/armature", {"check": "shaft-runout"})
    assert 'id="value"' not in page.content.decode()
    assert "Every reading carries a name" in said(page)


def test_a_closed_job_offers_no_form_and_takes_nothing(bench: Client, job: Job) -> None:
    close_job(job)
    assert 'id="value"' not in bench.get(f"/jobs/{job.pk}/armature?check=shaft-runout").content.decode()
    assert take(bench, job, "shaft-runout", "0.0012", unit="in").status_code == 422
    assert not Reading.objects.exists()


@pytest.mark.parametrize("place", ["nowhere", "armature/no-such/take"])
def test_a_station_or_check_that_is_not_there_is_not_found(bench: Client, job: Job, place: str) -> None:
    address = f"/jobs/{job.pk}/{place}"
    assert (bench.post(address) if place.endswith("take") else bench.get(address)).status_code == 404


def test_every_station_and_check_of_the_route_has_its_page(bench: Client) -> None:
    job = open_invented_job(sheet="")  # of an unknown model every check is asked for
    for name, check in load_family("starter").all_checks():
        page = bench.get(f"/jobs/{job.pk}/{name.partition('.')[0]}", {"check": check.key}).content.decode()
        assert f'id="check-title">{check.title}' in page.replace("&#x27;", "'")


def test_a_page_holds_no_inline_style_or_script(bench: Client, job: Job) -> None:
    page = take(bench, job, "shaft-runout", "0.0012", unit="in").content.decode()
    assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:", page)


def test_the_queries_of_a_station_do_not_grow_with_its_readings(
    bench, job, django_assert_num_queries
) -> None:
    address = f"/jobs/{job.pk}/armature?check=shaft-runout"
    read(job, "armature", "shaft-runout", "0.0012")
    with CaptureQueriesContext(connection) as few:
        bench.get(address)
    for _ in range(6):
        read(job, "armature", "shaft-runout", "0.0013")
    with django_assert_num_queries(len(few)):
        bench.get(address)


def test_a_reader_sees_a_station_and_takes_nothing(lan: None, job: Job) -> None:
    make_roles()
    user = User.objects.create_user("reader", password="kommutator-62")
    user.groups.add(Group.objects.get(name="reader"))
    reader = Client()
    reader.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    page = reader.get(f"/jobs/{job.pk}/armature", {"check": "shaft-runout"})
    assert page.status_code == 200
    assert 'id="value"' not in page.content.decode()
    assert take(reader, job, "shaft-runout", "0.0012", unit="in").status_code == 403
    assert reader.post(f"/jobs/{job.pk}/armature/decide", {"decided": "reuse"}).status_code == 403


def test_a_winding_of_the_switch_is_drawn_with_what_is_wrong_in_it(bench: Client) -> None:
    job = open_invented_job()
    read(job, "switch", "pull-in-current", "0", unit="A", confirmed=True)
    page = bench.get(f"/jobs/{job.pk}/switch?check=pull-in-current").content.decode()
    assert page.count('<div class="picture">') == 2
    assert "The windings of the switch" in page
    assert "Likeliest: pull-in winding open" in page
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_a_diameter_is_asked_for_again_a_quarter_turn_on_and_then_on_another_track(bench: Client) -> None:
    job = open_invented_job()
    read(job, "commutator", "diameter", "1.2421", unit="in", place_from="50", track="0.2")
    page = bench.get(f"/jobs/{job.pk}/commutator?check=diameter").content.decode()
    assert 'name="place" value="7"' in page  # bar 50 and a quarter of 57 bars
    assert 'name="track" value="0.2"' in page
    read(job, "commutator", "diameter", "1.2424", unit="in", place_from="7", track="0.2")
    page = bench.get(f"/jobs/{job.pk}/commutator?check=diameter").content.decode()
    assert 'name="place" value="50"' in page
    assert 'name="track" value="0.69"' in page  # well within the brushes, which run from 0.12 to 0.88
    for bar in ("50", "7"):
        read(job, "commutator", "diameter", "1.2424", unit="in", place_from=bar, track="0.69")
    page = bench.get(f"/jobs/{job.pk}/commutator?check=diameter").content.decode()
    assert 'name="track" value=""' in page


def test_a_micrometre_is_printed_with_its_sign_and_sent_with_its_name(bench: Client) -> None:
    job = open_invented_job()
    read(job, "armature", "shaft-runout", "30", unit="um")
    page = bench.get(f"/jobs/{job.pk}/armature?check=shaft-runout").content.decode()
    assert 'value="um"' in page
    assert "> µm</label>" in page
    assert "30 µm" in page
    assert "30 um" not in page
