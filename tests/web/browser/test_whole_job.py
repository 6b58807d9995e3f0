"""The demo job from the door to what becomes of the commutator: on the tablet, by finger and typing gauges.

Everything is done on the screens. The commutator is that of examples/demo; the armature's drops are those of
a sound winding of the same sheet. Nothing real was measured.
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from barwise.inspect.bar_walk import BarWalk, usual_feed
from barwise.route.deciding import facts_for
from barwise.route.family import load_family
from barwise.route.sheet import load_sheet
from tests.web.browser.patience import marked

TAG = "WHOLE-1"
COIL_OHM = 0.36e-3
PROFILE = Path("examples/demo/profile.csv")


def sound_drops() -> dict[str, str]:
    """Drop in mV by pair of bars, as the walk names it."""
    winding = facts_for(load_family("starter"), load_sheet("demo-57-wave")).winding
    assert winding is not None
    walk = BarWalk(winding, "drop", usual_feed(winding))
    shares = walk.healthy_pattern
    assert shares is not None
    return {
        f"{start}–{end}": f"{1e3 * COIL_OHM * share:.2f}"
        for (start, end), share in zip(walk.places, shares, strict=True)
    }


def profile(track: str) -> dict[str, str]:
    """Indicator in inches by bar and track, as the walk names it."""
    rows = csv.DictReader(line for line in PROFILE.read_text().splitlines() if not line.startswith("#"))
    return {f"{row['bar']}, {track}": row["value"] for row in rows if row["track"] == track}


def at(page: Page, title: str) -> None:
    """Go to a check of the station, by its name in the list."""
    exactly = re.compile(rf"^\s*{title}(\s+if you want it)?\s*$")
    page.locator(".checks-title", has_text=exactly).tap()
    expect(page.locator("#check-title")).to_contain_text(title)
    page.wait_for_load_state()  # a form sent before that is sent without scripts, and the page made anew


def answers(page: Page, title: str, say: str) -> None:
    at(page, title)
    page.get_by_role("group", name=title).get_by_role("button", name=say, exact=True).tap()
    expect(page.locator("form.taken")).to_contain_text(say)


def notes(page: Page, title: str, text: str) -> None:
    at(page, title)
    page.get_by_label("What is to be kept").fill(text)
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator("form.taken")).to_contain_text(text)


def reads(page: Page, title: str, value: str, unit: str, decision: str) -> None:
    at(page, title)
    takes(page, value, unit, decision)


def takes(page: Page, value: str, unit: str, decision: str) -> None:
    page.get_by_label("Reading", exact=True).fill(value)
    page.get_by_label(unit, exact=True).check()
    page.get_by_role("button", name="Take it").tap()
    expect(page.locator("form.taken")).to_contain_text(value)
    expect(page.locator(".came .decision")).to_have_text(decision)


def photographs(page: Page, title: str, picture: Path) -> None:
    at(page, title)
    page.locator("#check input[type=file]").set_input_files(picture)
    page.locator("#check").get_by_role("button", name="Add the photo").tap()
    expect(page.get_by_role("region", name="Photos").get_by_role("img")).to_have_count(1)


def next_station(page: Page, title: str) -> None:
    page.get_by_role("link", name=re.compile(f"{title} ›|Next station: {title}")).first.tap()
    expect(page.get_by_role("heading", level=1)).to_have_text(title)


def starts_the_walk(page: Page, tracks: str = "") -> list[str]:
    """Start it as it is proposed, or on other tracks; the names of its places in order."""
    page.get_by_role("link", name="Start the walk").tap()
    if tracks:
        page.get_by_label("Tracks").fill(tracks)
    page.get_by_role("button", name="Start the walk").tap()
    marked(page, "walk", "ready")
    return [name.strip() for name in page.locator("#rows th").all_text_contents()]


def gauge_types(page: Page, values: list[str]) -> None:
    """As a meter or an indicator that types does: value and Enter; what is held is kept with one more."""
    for value in values:
        page.keyboard.type(value)
        page.keyboard.press("Enter")
        if page.locator("#here.odd").count():
            page.keyboard.press("Enter")


def works_it_out(page: Page) -> None:
    page.get_by_role("link", name="The answer").tap()
    page.get_by_role("button", name="Work it out").tap()


def test_the_whole_demo_job_from_the_door_to_the_commutator(tablet: Page, tmp_path: Path) -> None:
    drawn = tmp_path / "drawn.png"
    picture = Image.new("RGB", (320, 240), "white")
    ImageDraw.Draw(picture).ellipse((60, 20, 260, 220), outline="black", width=5)
    picture.save(drawn)
    tablet.goto("/")

    tablet.get_by_role("link", name="Take in a unit").tap()
    tablet.get_by_label("Tag on the unit").fill(TAG)
    tablet.get_by_label("Customer", exact=True).fill("Invented Sawmill")
    tablet.get_by_label("57 bars").check()
    tablet.get_by_label("What is wrong").fill("Cranks slowly, worse when hot.")
    tablet.get_by_role("button", name="Take it in").tap()
    expect(tablet.get_by_role("heading", name=TAG)).to_be_visible()

    tablet.get_by_role("link", name="Next: Intake, Tag and marks").tap()
    notes(tablet, "Tag and marks", "plate gone, cast mark 7")
    photographs(tablet, "Photo as it came in", drawn)
    notes(tablet, "Complaint", "slow when hot")
    answers(tablet, "Turns by hand", "free")
    answers(tablet, "Housing, nose and terminals", "whole")

    next_station(tablet, "Teardown")
    answers(tablet, "Comes apart", "came apart")
    answers(tablet, "Cleaned and dried", "yes")

    next_station(tablet, "Armature")
    answers(tablet, "Look it over", "dark but firm")
    reads(tablet, "Winding to shaft", "50", "Mohm", "accept")
    at(tablet, "Winding")
    drops, places = sound_drops(), starts_the_walk(tablet)
    typed = [drops[place] for place in places]
    gauge_types(tablet, typed[:20])
    tablet.context.set_offline(True)
    gauge_types(tablet, typed[20:35])
    expect(tablet.locator("#waiting")).to_contain_text("readings wait in this browser")
    expect(tablet.locator(".cell.waits").nth(14)).to_be_visible()
    tablet.context.set_offline(False)
    gauge_types(tablet, typed[35:])
    expect(tablet.locator("#here")).to_contain_text("all read")
    expect(tablet.locator("#count")).to_have_text("57 of 57 read")
    expect(tablet.locator("#waiting")).to_be_empty()
    expect(tablet.locator(".cell.waits")).to_have_count(0)
    works_it_out(tablet)
    expect(tablet.locator(".verdict")).to_contain_text("SOUND AS FAR AS TESTED")

    tablet.get_by_role("link", name="Decide what becomes of the part").tap()
    part = tablet.get_by_role("region", name="What becomes of the part")
    part.get_by_role("button", name="reuse").tap()
    expect(part.locator(".decided")).to_contain_text("reuse")

    next_station(tablet, "Commutator")
    answers(tablet, "Look at the bars", "burnt bars")
    at(tablet, "Diameter as it came")
    tablet.get_by_label("Bar", exact=True).fill("1")
    tablet.get_by_label("How far out").fill("0.2")
    takes(tablet, "1.2421", "in", "accept")
    at(tablet, "Indicator walk and cut plan")
    profiles = profile("0.2") | profile("0.8")
    gauge_types(tablet, [profiles[place] for place in starts_the_walk(tablet, tracks="0.2 0.8")])
    expect(tablet.locator("#here")).to_contain_text("all read")
    expect(tablet.locator(".cell.waits")).to_have_count(0)
    works_it_out(tablet)
    expect(tablet.locator(".verdict")).to_contain_text("CUT IT")

    tablet.wait_for_load_state()  # the last of the passes is there
    last_pass = tablet.locator(".cut-to").last.inner_text()
    tablet.get_by_label("Lathe stopped: diameter now").fill(last_pass.removesuffix(" in"))
    tablet.get_by_role("button", name="None left: all is fresh").tap()
    expect(tablet.locator(".verdict")).to_contain_text("STOP: ALL CLEAN")
    expect(tablet.locator(".verdict .decision")).to_have_text("this commutator is done")
    tablet.get_by_role("link", name="Decide what becomes of the part").tap()
    part.get_by_role("button", name="reuse").tap()
    expect(part.locator(".decided")).to_contain_text("reuse")
    tablet.get_by_role("link", name=TAG).tap()
    expect(tablet.get_by_role("link", name=re.compile("^Intake"))).to_contain_text("done")
