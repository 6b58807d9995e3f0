"""The answer of a walk: worked out when asked for, kept, told as old when readings came since; pass by pass.

Readings are those of the invented shop, made with a bad joint on coil 23 and one bad touch at bar 39; its
commutator is the one of examples/demo.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterator
from importlib import resources
from typing import Any

import pytest
from django.contrib.auth.models import Group, User
from django.test import Client

from barwise.machine.feed import Feed
from barwise.record.in_force import in_force
from barwise.record.jobs import close_job
from barwise.record.models import Job, Reading, Result
from barwise.record.results import decide_check
from barwise.web.roles import make_roles
from tests.web.shop import open_invented_job, read
from tests.web.test_jobs import said

pytestmark = pytest.mark.django_db
OLD_METAL = ("14", "40", "41", "42", "43", "44")


@pytest.fixture
def walked(job: Job) -> Job:
    """The drops of the invented armature are read."""
    for test, start, end, value, unit, into, out, amps in rows("readings.csv"):
        if test == "drop":
            feed = Feed(int(into), int(out), float(amps))
            place = {"place_from": start, "place_to": end}
            read(job, "armature", "winding", value, unit=unit, test=test, feed=feed, **place)
    return job


@pytest.fixture
def planned(job: Job) -> Job:
    """The invented commutator is measured, walked on one track and planned."""
    read(job, "commutator", "diameter", "1.2421", unit="in", place_from="1", track="0.2")
    walk_commutator(job, "0.5")
    decide_check(job, "commutator", "cut")
    return job


def rows(name: str) -> Iterator[list[str]]:
    text = (resources.files("barwise.record") / "invented" / name).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    return (line.split(",") for line in lines[1:])


def walk_commutator(job: Job, *tracks: str) -> None:
    for bar, track, value in rows("profile.csv"):
        if track in tracks:
            read(job, "commutator", "cut", value, unit="in", place_from=bar, track=track)


def page(job: Job, of: str) -> str:
    return f"/jobs/{job.pk}/{of}/answer"


def send_pass(bench: Client, job: Job, diameter: str, left: str, **more: Any) -> Any:
    sent = {"key": str(uuid.uuid4()), "diameter": diameter, "unit": "in", "left": left, **more}
    return bench.post(f"{page(job, 'commutator/cut')}/pass", sent, follow=True)


def untouched(job: Job) -> list[str]:
    return [one.entered for one in in_force(job, "commutator", "untouched")]


def test_looking_works_nothing_out_and_asking_does(bench: Client, walked: Job) -> None:
    words = said(bench.get(page(walked, "armature/winding")))
    assert "57 readings taken, nothing worked out yet." in words
    assert not Result.objects.filter(check_key="winding").exists()
    words = said(bench.post(f"{page(walked, 'armature/winding')}/again", follow=True))
    assert "FAULTY: HIGH-RESISTANCE JOINT" in words
    assert Result.objects.filter(check_key="winding").count() == 1


def test_a_diagnosis_says_where_what_it_means_what_to_doubt_and_what_could_be_missed(
    bench: Client, walked: Job
) -> None:
    decide_check(walked, "armature", "winding")
    answer = bench.get(page(walked, "armature/winding"))
    words = said(answer)
    assert "reject FAULTY" in words
    assert "Coil 23 Bars 23 and 51 Slots 12 and 19" in words
    assert "Clean and re-solder (or re-weld) the risers of bars 23 and 51" in words
    assert "2.29 mV drop, bars 39-40" in words
    assert "What could have been missed" in words
    assert "The feed heats the winding" in words


def test_a_doubted_reading_leads_to_its_bar_in_the_walk_under_its_feed(bench: Client, walked: Job) -> None:
    decide_check(walked, "armature", "winding")
    text = bench.get(page(walked, "armature/winding")).content.decode()
    link = re.search(r'href="([^"]+)">Probe it again', text)
    assert link is not None
    walk = bench.get(link[1].replace("&amp;", "&"))
    assert walk.status_code == 200
    assert "39" in re.findall(r'name="place_from" value="(\d+)"', walk.content.decode())


def test_too_little_read_is_undecided_and_leads_to_the_reading_that_tells_most(
    bench: Client, job: Job
) -> None:
    for bar in range(3, 7):
        place = {"place_from": str(bar), "place_to": str(bar + 1)}
        read(job, "armature", "winding", "3.70", unit="mV", test="drop", feed=Feed(1, 15, 10.0), **place)
    answer = bench.post(f"{page(job, 'armature/winding')}/again", follow=True)
    words, text = said(answer), answer.content.decode()
    assert "undecided UNDECIDED" in words
    assert "Read next" in words
    link = re.search(r'href="([^"]+)">Go there in the walk', text)
    assert link is not None
    assert bench.get(link[1].replace("&amp;", "&")).status_code == 200


def test_pictures_stand_in_the_page_without_styles_that_the_browser_is_told_to_refuse(
    bench: Client, walked: Job, planned: Job
) -> None:
    decide_check(walked, "armature", "winding")
    for of in ("armature/winding", "commutator/cut"):
        text = bench.get(page(walked, of)).content.decode()
        assert text.count("</svg>") >= 3
        assert 'style="' not in text
        assert "<style" not in text
        ids = re.findall(r' id="([^"]+)"', text)
        assert len(ids) == len(set(ids))
        wanted = set(re.findall(r"url\(#([^)]+)\)", text))
        assert wanted <= set(ids)


def test_readings_after_the_answer_are_told_and_counted_only_when_asked(bench: Client, walked: Job) -> None:
    decide_check(walked, "armature", "winding")
    place = {"place_from": "39", "place_to": "40"}
    read(walked, "armature", "winding", "3.70", unit="mV", test="drop", feed=Feed(1, 15, 10.0), **place)
    words = said(bench.get(page(walked, "armature/winding")))
    assert "Out of date: one reading came in after this was worked out." in words
    assert Result.objects.filter(check_key="winding").count() == 1
    words = said(bench.post(f"{page(walked, 'armature/winding')}/again", follow=True))
    assert "Out of date" not in words
    assert "from 58 readings" in words


def test_a_plan_says_first_whether_it_is_worth_it(bench: Client, planned: Job) -> None:
    words = said(bench.get(page(planned, "commutator/cut")))
    assert (
        words.index("CUT IT") < words.index("Cleans up at") < words.index("Passes, turning on the journals")
    )
    assert "95 % sure" in words
    assert "% worn then" in words
    assert "light cuts, TM 55-6115-498-40" in words
    assert "chuck key out before you start it" in words


def test_an_armature_that_does_not_pass_is_told_before_its_commutator_is_cut(
    bench: Client, walked: Job, planned: Job
) -> None:
    decide_check(walked, "armature", "winding")
    words = said(bench.get(page(planned, "commutator/cut")))
    assert "Armature, winding: does not pass. Settle that first" in words


def test_a_pass_is_kept_as_two_readings_and_the_rest_is_planned_from_there(
    bench: Client, planned: Job
) -> None:
    words = said(send_pass(bench, planned, "1.2373", "some", bar=OLD_METAL, named="45-48"))
    assert untouched(planned) == ["14, 40, 41, 42, 43, 44, 45, 46, 47, 48"]
    assert "It stands at 1.2373 in" in words
    assert "The passes that are left" in words
    first = re.search(r"1 (rough|finish) 1\.\d{4} in (\d\.\d) thou", words)
    assert first is not None
    assert float(first[2]) >= 0.5  # thinner than that rubs instead of cutting
    assert "Out of date" not in words


def test_all_clean_says_stop_and_what_to_do_now(bench: Client, planned: Job) -> None:
    send_pass(bench, planned, "1.2373", "some", bar=OLD_METAL)
    words = said(send_pass(bench, planned, "1.2362", "clean"))
    assert "STOP: ALL CLEAN" in words
    assert untouched(planned) == ["none"]
    for step in ("Undercut depth", "Edges, burrs and slots", "Run-out when done"):
        assert step in words
    assert "Passes, turning" not in words


def test_a_pass_without_a_word_on_the_bars_keeps_nothing_and_loses_nothing(
    bench: Client, planned: Job
) -> None:
    answer = send_pass(bench, planned, "1.2373", "some")
    assert answer.status_code == 422
    assert 'value="1.2373"' in answer.content.decode()
    assert "Found no bar." in said(answer)
    assert not Reading.objects.filter(check_key="after-pass").exists()


def test_bars_ticked_and_none_left_contradict_each_other(bench: Client, planned: Job) -> None:
    answer = send_pass(bench, planned, "1.2373", "clean", bar=OLD_METAL)
    assert "Found 6 bars named, and none left. Expected one of the two." in said(answer)
    assert re.search(r'name="bar" value="14" checked', answer.content.decode())
    assert not Reading.objects.filter(check_key="after-pass").exists()


def test_a_bar_that_is_not_there_is_refused(bench: Client, planned: Job) -> None:
    assert "bars from 1 to 57" in said(send_pass(bench, planned, "1.2373", "some", named="58"))


@pytest.mark.parametrize(("typed", "asked"), [("1.2999", "more than the 1.2421 in before"), ("31.43", "mm")])
def test_a_diameter_that_cannot_be_meant_is_asked_about_first(
    bench: Client, planned: Job, typed: str, asked: str
) -> None:
    answer = send_pass(bench, planned, typed, "clean")
    assert asked in said(answer)
    assert "Nothing is taken yet." in said(answer)
    assert not Reading.objects.filter(check_key="after-pass").exists()


def test_a_pass_sent_twice_is_one_pass(bench: Client, planned: Job) -> None:
    key = str(uuid.uuid4())
    for _ in range(2):
        send_pass(bench, planned, "1.2373", "some", bar=OLD_METAL, key=key)
    assert in_force(planned, "commutator", "after-pass").count() == 1
    assert len(untouched(planned)) == 1


def test_the_same_form_sent_again_with_other_bars_is_not_passed_over(bench: Client, planned: Job) -> None:
    key = str(uuid.uuid4())
    send_pass(bench, planned, "1.2373", "some", bar=OLD_METAL, key=key)
    answer = send_pass(bench, planned, "1.2373", "some", bar=("14",), key=key)
    assert "This form was sent before" in said(answer)
    assert untouched(planned) == [", ".join(OLD_METAL)]
    assert f'name="key" value="{key}"' not in answer.content.decode()


def test_one_that_may_not_be_turned_gets_no_cut_and_no_form_for_a_pass(bench: Client) -> None:
    job = open_invented_job(sheet="demo-23-magnet")
    read(job, "commutator", "diameter", "28.9", unit="mm", place_from="1", track="0.5")
    for bar in range(1, 24):
        read(job, "commutator", "cut", f"{0.02 * (bar % 5):.2f}", unit="mm", place_from=str(bar), track="0.5")
    decide_check(job, "commutator", "cut")
    answer = bench.get(page(job, "commutator/cut"))
    words = said(answer)
    assert "No cut is proposed: the model sheet forbids turning this commutator." in words
    assert "Cut to" not in words
    assert "leans up at" not in words
    assert "Edges, burrs" not in words  # it is scrap: nothing more is done to it
    assert 'name="diameter"' not in answer.content.decode()
    assert send_pass(bench, job, "28.8", "clean", unit="mm").status_code == 422


def test_what_is_missing_for_a_plan_is_said(bench: Client, job: Job) -> None:
    walk_commutator(job, "0.2")
    answer = bench.post(f"{page(job, 'commutator/cut')}/again", follow=True)
    words = said(answer)
    assert "no diameter yet" in words
    assert f'href="/jobs/{job.pk}/commutator?check=diameter"' in answer.content.decode()
    assert "Measure the diameter across one bar with the micrometer." in words


def test_a_closed_job_shows_its_plan_and_takes_no_pass(bench: Client, planned: Job) -> None:
    close_job(planned)
    answer = bench.get(page(planned, "commutator/cut"))
    assert "CUT IT" in said(answer)
    assert 'name="diameter"' not in answer.content.decode()


def test_a_reader_sees_the_answer_and_has_nothing_worked_out(lan: None, planned: Job) -> None:
    make_roles()
    user = User.objects.create_user("reader", password="kommutator-62")
    user.groups.add(Group.objects.get(name="reader"))
    reader = Client()
    reader.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    answer = reader.get(page(planned, "commutator/cut"))
    assert "CUT IT" in said(answer)
    assert 'name="diameter"' not in answer.content.decode()
    assert reader.post(f"{page(planned, 'commutator/cut')}/again").status_code == 403
    assert send_pass(reader, planned, "1.2373", "clean").status_code == 403


def test_without_a_name_no_pass_is_kept_and_what_was_typed_stays(planned: Job) -> None:
    nobody = Client(HTTP_HOST="localhost")
    answer = send_pass(nobody, planned, "1.2373", "clean")
    assert "Say who is at the bench first" in said(answer)
    assert 'value="1.2373"' in answer.content.decode()


def test_there_is_no_answer_of_a_check_that_the_route_has_not(bench: Client, job: Job) -> None:
    assert bench.get(page(job, "armature/nothing")).status_code == 404
    assert bench.get(page(job, "armature/shaft-runout")).status_code == 302


def test_a_run_test_shows_its_causes_and_the_motors_curve(bench: Client, job: Job) -> None:
    assert bench.get(page(job, "run/verdict")).status_code == 302
    for check, value, unit in (
        ("no-load-volts", "11.6", "V"),
        ("no-load-current", "105", "A"),
        ("no-load-speed", "2400", "rpm"),
    ):
        read(job, "run", check, value, unit=unit)
    read(job, "run", "verdict", "weigh what is read")
    shown = bench.get(page(job, "run/verdict"))
    assert shown.status_code == 200
    assert "<svg" in shown.content.decode()
    assert "What it can be" in said(shown)
