"""A job from the door to its first decisions, on the tablet, by touch, and once by keyboard alone."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.web.browser.patience import patient


def take_in(page: Page, tag: str) -> None:
    page.goto("/")
    page.get_by_role("link", name="Take in a unit").tap()
    page.get_by_label("Tag on the unit").fill(tag)
    page.get_by_label("Customer", exact=True).fill("Invented Quarry")
    page.get_by_label("57 bars").check()
    page.get_by_label("What is wrong").fill("Cranks slowly, worse when hot.")
    page.get_by_role("button", name="Take it in").tap()
    expect(page.get_by_role("heading", name=tag)).to_be_visible()


def at_check(page: Page, station: str, title: str) -> None:
    page.get_by_role("list").get_by_role("link", name=re.compile(f"^{station}")).first.tap()
    page.get_by_role("region", name="All checks here").get_by_role("link", name=re.compile(title)).tap()
    expect(page.locator("#check-title")).to_contain_text(title)
    page.wait_for_load_state()  # a form sent before that is sent without scripts, and the page made anew


def test_a_unit_comes_in_and_its_first_station_is_done_by_touch(tablet: Page) -> None:
    take_in(tablet, "Q-1")
    tablet.get_by_role("link", name="Next: Intake, Tag and marks").tap()
    tablet.get_by_label("What is to be kept").fill("plate gone, cast mark 7")
    tablet.get_by_role("button", name="Write it down").tap()
    tablet.get_by_role("link", name="Next: Complaint").tap()
    tablet.get_by_label("What is to be kept").fill("slow when hot")
    tablet.get_by_role("button", name="Write it down").tap()
    tablet.get_by_role("link", name="Next: Turns by hand").tap()
    tablet.get_by_role("button", name="free", exact=True).tap()
    expect(tablet.locator(".came .decision")).to_have_text("accept")
    tablet.get_by_role("link", name="Next: Housing, nose and terminals").tap()
    tablet.get_by_role("button", name="whole").tap()
    tablet.get_by_role("link", name=re.compile("Q-1")).tap()
    expect(tablet.get_by_role("link", name=re.compile("^Intake"))).to_contain_text("done")


def test_a_diameter_in_the_wrong_unit_is_asked_about_and_taken_as_meant(tablet: Page) -> None:
    take_in(tablet, "Q-2")
    at_check(tablet, "Commutator", "Diameter as it came")
    tablet.get_by_label("Bar", exact=True).fill("1")
    tablet.get_by_label("How far out").fill("0.4")
    tablet.get_by_label("Reading").fill("1.2421")
    tablet.get_by_label("mm", exact=True).check()
    tablet.get_by_role("button", name="Take it").tap()
    question = tablet.get_by_role("alert")
    expect(question).to_contain_text("Is it 1.2421 in?")
    expect(tablet.get_by_label("Reading")).to_have_value("1.2421")
    question.get_by_role("button", name="Yes: 1.2421 in").tap()
    expect(tablet.locator(".came .decision")).to_have_text("accept")
    expect(tablet.get_by_role("img", name="Diameter as it came")).to_be_visible()
    expect(tablet.locator(".readings")).to_contain_text("1 at 0.4")
    tablet.get_by_role("button", name="Undo").tap()
    expect(tablet.get_by_text("No longer counted: 1")).to_be_visible()
    expect(tablet.locator(".came")).to_have_count(0)


def test_a_worn_bush_is_rejected_proposed_for_replacement_and_measured_anew(tablet: Page) -> None:
    take_in(tablet, "Q-3")
    at_check(tablet, "Bearings", "Bush clearance, drive end")
    tablet.get_by_label("Reading").fill("0.008")
    tablet.get_by_label("in", exact=True).check()
    tablet.get_by_role("button", name="Take it").tap()
    expect(tablet.locator(".came .decision")).to_have_text("reject")
    part = tablet.get_by_role("region", name="What becomes of the part")
    expect(part).to_contain_text("The readings speak for replace")
    part.get_by_role("button", name="reuse").tap()
    expect(part.get_by_role("alert")).to_contain_text("expected a reason")
    part.get_by_role("button", name="replace").tap()
    expect(part.locator(".decided")).to_contain_text("replace")
    tablet.get_by_label("Reading").fill("0.003")
    tablet.get_by_text("Reworked, or a new part?").tap()
    tablet.get_by_label("Measured anew").check()
    tablet.get_by_label("What was done").fill("new bush pressed in")
    tablet.get_by_role("button", name="Take it").tap()
    expect(tablet.locator(".came .decision")).to_have_text("accept")


def test_readings_of_every_brush_are_entered_with_the_keyboard_alone(tablet: Page) -> None:
    take_in(tablet, "Q-4")
    at_check(tablet, "Brush gear", "Spring force")
    expect(tablet.locator("input[name=place]")).to_have_count(4)
    for number in range(1, 5):
        expect(tablet.locator(f"input[name=place][value='{number}']")).to_be_checked()
        expect(tablet.get_by_label("Reading")).to_be_focused()
        tablet.keyboard.type("36")
        tablet.keyboard.press("Enter")
        expect(tablet.locator(".readings").first.locator("li")).to_have_count(number)
    expect(tablet.locator(".came .decision")).to_have_text("accept")
    expect(tablet.get_by_label("Reading")).to_be_focused()
    expect(tablet.get_by_label("Reading")).to_be_empty()
    tablet.keyboard.press("Enter")
    expect(tablet.locator("#check-title")).not_to_contain_text("Spring force")


def test_a_photo_that_is_too_large_is_refused_and_a_value_half_typed_stays(
    tablet: Page, tmp_path: Path
) -> None:
    take_in(tablet, "Q-5")
    at_check(tablet, "Armature", "Shaft run-out")
    tablet.get_by_label("Reading").fill("0.00")
    tablet.get_by_text("Add a photo").tap()
    large = tmp_path / "large.jpg"
    large.write_bytes(b"\xff\xd8" + bytes(40_000_000))
    tablet.get_by_label("Photo", exact=True).set_input_files(large)
    tablet.get_by_role("button", name="Add the photo").tap()
    refused = tablet.get_by_role("region", name="Photos").get_by_role("alert")
    expect(refused).to_contain_text("expected at most 25 MB")
    expect(tablet.get_by_label("Reading")).to_have_value("0.00")


def test_without_scripts_a_reading_is_taken_all_the_same(chromium, demo_shop: str) -> None:
    plain = patient(chromium.new_context(java_script_enabled=False, base_url=demo_shop))
    page = plain.new_page()
    page.goto("/who?next=/jobs/1/armature%3Fcheck=shaft-runout")
    page.get_by_role("button", name="Vera (invented)").click()
    page.get_by_label("Reading").fill("0.0012")
    page.get_by_label("in", exact=True).check()
    page.get_by_role("button", name="Take it").click()
    expect(page.locator(".came .decision")).to_have_text("accept")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("No longer counted: 1")).to_be_visible()
    expect(page.locator(".came")).to_have_count(0)
    plain.close()


def test_what_is_known_of_the_vehicle_says_by_touch_whether_it_cranks(tablet: Page) -> None:
    take_in(tablet, "Q-7")
    at_check(tablet, "Handover", "Will it crank")
    expect(tablet.locator("#check")).to_contain_text("engine (displacement, cylinders, fuel), without which")
    said = {
        "The vehicle": {"How cold": "-10"},
        "Battery": {"Volts of one": "12", "Rated current": "a lot"},
        "Engine": {"Displacement": "2.4", "Cylinders": "4", "Oil grade": "15W-40"},
        "Gears": {"Teeth of the ring": "130", "Teeth of the pinion": "9"},
        "Positive cable": {"Gauge or area": "2", "Length": "1.5"},
        "Switch": {"Contacts": "0.5"},
        "Ground": {"Gauge or area": "25 mm2", "Length": "0.9"},
    }
    for group, fields in said.items():
        for label, value in fields.items():
            tablet.get_by_role("group", name=group, exact=True).get_by_label(label).first.fill(value)
    tablet.get_by_label("Fuel").select_option("petrol")
    tablet.get_by_role("button", name="Write it down").tap()
    current = tablet.get_by_role("group", name="Battery", exact=True).get_by_label("Rated current")
    expect(tablet.get_by_role("alert")).to_contain_text("a current with its unit")
    expect(current).to_have_attribute("aria-invalid", "true")
    expect(current).to_have_value("a lot")
    current.fill("540")
    tablet.get_by_role("button", name="Write it down").tap()
    expect(tablet.get_by_role("alert")).to_have_count(0)
    expect(tablet.locator(".came .decision")).to_have_text("undecided")
    expect(tablet.locator(".came")).to_contain_text("cranks fast enough to start at -10 °C")
    expect(tablet.locator(".came")).to_contain_text("Run the starter on the bench")
    expect(tablet.get_by_role("img", name="Will it crank")).to_be_visible()
    expect(current).to_have_value("540 A")
    tablet.get_by_role("link", name="Volts leg by leg").tap()
    expect(tablet.get_by_role("region", name="Where the volts go")).to_contain_text("positive cable:")


def test_closing_names_what_is_open_and_the_job_is_found_among_the_closed(tablet: Page) -> None:
    take_in(tablet, "Q-6")
    tablet.get_by_role("button", name="Close this job").tap()
    expect(tablet.get_by_role("alert")).to_contain_text("Intake: Tag and marks")
    tablet.get_by_role("button", name="Close it all the same").tap()
    expect(tablet.get_by_label("Why it is opened again")).to_be_visible()
    tablet.goto("/?closed=1")
    tablet.get_by_label("Tag, serial").fill("q-6")
    tablet.get_by_role("button", name="Find").tap()
    expect(tablet.locator(".jobs li")).to_have_count(1)
