"""The walk in a real browser: no pointer, no network, a reload, two people, a reading out of family."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from benchmarks.entering import BARS, PEOPLE, Server, free_port, make_shop
from tests.web.browser.conftest import name_picked
from tests.web.browser.patience import comes_to, marked, patient, until
from tests.web.browser.usable import has_the_focus_it_asks_for

ADA, BERT = PEOPLE
FEED = f"feed_from=1&feed_to={1 + BARS // 2}&feed_amps=10"
WALK = "/jobs/{job}/armature/winding/walk?test={test}&"
HEARING = "**/api/**/winding/walk?*"
OWN_SCRIPTS = Path("src/barwise/web/static/barwise")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder: Path = tmp_path_factory.mktemp("walk") / "shop"
    make_shop(folder, jobs=20)
    return folder


@pytest.fixture(scope="module")
def server(shop: Path) -> Iterator[Server]:
    made = Server(shop, free_port())
    made.start()
    yield made
    made.end()


@pytest.fixture(scope="module")
def next_job() -> Callable[[], int]:
    """A job of its own for each test."""
    numbers = iter(range(1, 21))
    return lambda: next(numbers)


@pytest.fixture(scope="module")
def picked(chromium: Browser, server: Server) -> dict[str, Any]:
    """What a browser of each person keeps."""
    shop = f"http://127.0.0.1:{server.port}"
    return {person: name_picked(chromium, shop, person) for person in PEOPLE}


@pytest.fixture
def at_bench(chromium: Browser, server: Server, picked: dict[str, Any]) -> Iterator[Callable[..., Page]]:
    """A tablet of its own with a name picked, and everything on it that a browser complains about."""
    made: list[BrowserContext] = []

    def open_page(person: str = ADA, width: int = 820, height: int = 1180) -> Page:
        context = chromium.new_context(
            viewport={"width": width, "height": height},
            has_touch=True,
            base_url=f"http://127.0.0.1:{server.port}",
            storage_state=picked[person],
        )
        made.append(patient(context))
        return context.new_page()

    yield open_page
    for context in made:
        context.close()


def walk(page: Page, job: int, test: str = "drop", more: str = FEED) -> None:
    page.goto(WALK.format(job=job, test=test) + (more if test == "drop" else ""))
    ready(page)


def ready(page: Page) -> None:
    marked(page, "walk", "ready")


def deaf(page: Page) -> None:
    """A page opened from now on hears nothing of the readings that the server knows, as if it were too slow.

    Before the page is opened: what it asked already would be answered all the same, some time or other.
    """
    page.route(HEARING, lambda route: route.abort())


def sounds(page: Page, name: str) -> None:
    marked(page, "sound", name)


def hears(page: Page, number: int) -> None:
    """What the server knows of the readings up to one of this number has come to this page."""
    until(page, "number => Number(document.documentElement.dataset.heard) >= number", number)


def enter(page: Page, *values: str) -> None:
    for value in values:
        page.keyboard.type(value)
        page.keyboard.press("Enter")


def nothing_waits(page: Page) -> None:
    """No reading is on its way to the browser's database, in it, or on its way to the server."""
    until(
        page,
        """async () => {
            const queue = await new Promise(done => {
                const asked = indexedDB.open("barwise"); asked.onsuccess = () => done(asked.result); });
            const count = await new Promise(done => {
                const asked = queue.transaction("entries").objectStore("entries").count();
                asked.onsuccess = () => done(asked.result); });
            queue.close();
            return count === 0 && !document.querySelector(".cell.waits");
        }""",
    )


def keeps(page: Page, shop: Path, job: int, wanted: list[tuple[str, str]], test: str = "drop") -> None:
    """The record comes to hold these, whatever is still on its way, and then nothing waits."""
    comes_to(page, lambda: kept(shop, job, test), wanted)
    nothing_waits(page)
    assert kept(shop, job, test) == wanted


def kept_in_any_order(page: Page, shop: Path, job: int, wanted: list[tuple[str, str]]) -> None:
    comes_to(page, lambda: sorted(kept(shop, job)), wanted)


def kept(shop: Path, job: int, test: str = "drop") -> list[tuple[str, str]]:
    """Place and text of the readings in force, in their order."""
    asked = (
        "SELECT place_from, entered FROM record_reading r WHERE job_id = ? AND test = ? AND NOT struck"
        " AND NOT EXISTS (SELECT 1 FROM record_reading n WHERE n.supersedes_id = r.id) ORDER BY seq"
    )
    with closing(sqlite3.connect(shop / "barwise.sqlite3", timeout=30)) as database:
        return [tuple(row) for row in database.execute(asked, (job, test))]


def drops(count: int) -> list[str]:
    """Healthy drops: the walk starts where the current goes in, and comes back on the other path."""
    half = BARS // 2
    return [f"{(3.5 if n < half else -3.5) + 0.01 * (n % 3):.2f}" for n in range(count)]


def in_order(texts: list[str]) -> list[tuple[str, str]]:
    return [(str(n + 1), text) for n, text in enumerate(texts)]


def test_two_tests_of_62_bars_take_124_values_and_124_enters_and_no_pointer(
    at_bench, server: Server, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    page.evaluate("""() => {
        window.touched = 0;
        for (const name of ["pointerdown", "click", "touchstart"])
            addEventListener(name, event => { touched += event.isTrusted && event.detail !== 0; }, true);
    }""")
    first, second = drops(BARS), [f"{12 + 0.01 * (n % 4):.2f}" for n in range(BARS)]
    enter(page, *first)
    expect(page.locator("#here")).to_contain_text("all read")
    nothing_waits(page)
    assert page.evaluate("touched") == 0
    page.keyboard.press("n")
    page.wait_for_url("**test=induced*")
    ready(page)
    expect(page.locator("#count")).to_have_text("0 of 62 read")
    enter(page, *second)
    expect(page.locator("#here")).to_contain_text("all read")
    expect(page.locator("#count")).to_have_text("62 of 62 read")
    keeps(page, shop, job, in_order(first))
    keeps(page, shop, job, in_order(second), "induced")


def test_a_lost_network_loses_nothing_and_the_frame_says_how_many_wait(
    at_bench, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    texts = drops(12)
    enter(page, *texts[:5])
    nothing_waits(page)
    page.context.set_offline(True)
    enter(page, *texts[5:])
    expect(page.locator("#here")).to_contain_text("13–14")
    expect(page.locator("#waiting")).to_contain_text("7 readings wait")
    expect(page.locator(".cell.waits")).to_have_count(7)
    assert len(kept(shop, job)) == 5
    page.context.set_offline(False)
    expect(page.locator("#waiting")).to_be_empty()
    keeps(page, shop, job, in_order(texts))


def test_readings_that_wait_survive_a_reload_and_a_server_that_is_killed_and_started_again(
    at_bench, server: Server, shop: Path, next_job
) -> None:
    import signal

    page, job = at_bench(), next_job()
    walk(page, job)
    texts = drops(6)
    enter(page, *texts[:3])
    nothing_waits(page)
    server.end(signal.SIGKILL)
    enter(page, *texts[3:])
    expect(page.locator("#waiting")).to_contain_text("3 readings wait")
    server.start()
    page.goto("/")  # another page sends them too
    keeps(page, shop, job, in_order(texts))
    walk(page, job)
    expect(page.locator("#here")).to_contain_text("7–8")


def test_a_reload_while_readings_wait_shows_them_again_where_they_were_read(
    at_bench, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    page.route("**/readings", lambda route: route.abort())
    enter(page, *drops(4))
    expect(page.locator(".cell.waits")).to_have_count(4)
    expect(page.locator("#waiting")).to_contain_text("4 readings wait")  # each is in the browser's database
    page.reload()
    ready(page)
    expect(page.locator(".cell.waits")).to_have_count(4)
    expect(page.locator("#here")).to_contain_text("5–6")
    page.unroute("**/readings")
    keeps(page, shop, job, in_order(drops(4)))


def test_two_people_in_one_walk_see_each_other_and_neither_overwrites(at_bench, shop: Path, next_job) -> None:
    ada, bert, job = at_bench(ADA), at_bench(BERT), next_job()
    walk(ada, job)
    walk(bert, job)
    enter(ada, "3.50")
    expect(bert.locator(".cell.read")).to_have_count(1)
    expect(bert.locator("#here")).to_contain_text("1–2")  # nothing moves under Bert's hand
    expect(bert.locator("#said")).to_contain_text(f"{ADA} has just read 1–2: 3.50 mV")
    enter(bert, "3.58")  # he read it as well: both count
    expect(first_row(ada)).to_contain_text("3.58")
    kept_in_any_order(ada, shop, job, [("1", "3.50"), ("1", "3.58")])
    enter(bert, "3.51")
    enter(ada, "3.52")
    kept_in_any_order(ada, shop, job, [("1", "3.50"), ("1", "3.58"), ("2", "3.51"), ("2", "3.52")])
    nothing_waits(ada)
    nothing_waits(bert)


def first_row(page: Page) -> Locator:
    return page.locator("#rows tr").first.locator("td").first


def test_both_correcting_one_reading_leaves_one_correction_and_says_so_to_the_other(
    at_bench, shop: Path, next_job
) -> None:
    ada, bert, job = at_bench(ADA), at_bench(BERT), next_job()
    walk(ada, job)
    enter(ada, "3.50")
    keeps(ada, shop, job, [("1", "3.50")])
    for page in (ada, bert):
        deaf(page)  # neither hears of the other
        walk(page, job)
        page.keyboard.press("b")
        expect(page.locator("#here")).to_contain_text("1–2")
    enter(ada, "3.60")
    keeps(ada, shop, job, [("1", "3.60")])
    enter(bert, "3.70")
    expect(bert.locator("#refused")).to_contain_text("Not taken: 1–2, 3.70 mV")
    expect(bert.locator("#refused")).to_contain_text("corrected to 3.60 mV already")
    assert kept(shop, job) == [("1", "3.60")]
    bert.unroute(HEARING)
    expect(first_row(bert)).to_have_text("3.60 mV")
    bert.get_by_role("button", name="Type it anew").click()
    expect(bert.locator("#value")).to_have_value("3.70")
    bert.keyboard.press("Enter")
    expect(bert.locator("#refused")).to_be_empty()
    keeps(bert, shop, job, [("1", "3.60"), ("1", "3.70")])


def test_a_reading_out_of_family_looks_and_sounds_different_and_waits_for_the_hand(
    at_bench, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    enter(page, *drops(8))
    hears(page, 8)
    enter(page, "4.41")
    sounds(page, "odd")
    expect(page.locator("#here")).to_contain_text("9–10")
    expect(page.locator("#here")).to_have_class(re.compile("odd"))
    expect(page.locator("#said")).to_have_text(
        "Out of family: 4.41 mV, expected about 3.51. Touch again, or Enter keeps it."
    )
    expect(page.locator(".cell.odd .spike")).to_be_visible()
    assert Axe().run(page).response["violations"] == []
    enter(page, "3.51")  # touched again
    sounds(page, "taken")
    expect(page.locator("#here")).to_contain_text("10–11")
    enter(page, "4.39", "")  # Enter keeps it
    expect(page.locator("#here")).to_contain_text("11–12")
    keeps(page, shop, job, in_order([*drops(8), "3.51", "4.39"]))


def test_a_reading_that_turns_out_to_be_out_of_family_later_is_said_then_and_gone_back_to(
    at_bench, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    deaf(page)  # the hand is faster than the server
    walk(page, job)
    good = drops(10)
    enter(page, *good[:8], "4.41", good[9])
    sounds(page, "taken")
    expect(page.locator("#here")).to_contain_text("11–12")
    page.unroute(HEARING)
    sounds(page, "odd")
    expect(page.locator("#said")).to_have_text(
        "Out of family: 9–10, 4.41 mV, expected about 3.51. o goes back there."
    )
    expect(page.locator("#here")).to_contain_text("11–12")  # nothing moves under the hand
    page.get_by_role("button", name="Out of family").tap()
    expect(page.locator("#here")).to_contain_text("9–10")
    enter(page, good[8])
    sounds(page, "taken")
    expect(page.locator("#here")).to_contain_text("11–12")
    keeps(page, shop, job, [*in_order(good[:8]), ("10", good[9]), ("9", good[8])])


def test_a_browser_that_cannot_keep_a_reading_says_so_and_leaves_it_in_the_field(at_bench, next_job) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    page.evaluate("() => { IDBObjectStore.prototype.add = () => { throw new Error('full'); }; }")
    enter(page, "3.50")
    expect(page.locator("#said")).to_contain_text("This browser could not keep it")
    expect(page.locator("#value")).to_have_value("3.50")
    expect(page.locator("#here")).to_contain_text("1–2")
    expect(page.locator(".cell.waits")).to_have_count(0)


def test_what_is_no_number_stays_in_the_field_and_goes_nowhere(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    for typed in ("3,59", "3.5x", "12 in"):
        enter(page, typed)
        expect(page.locator("#value")).to_have_value(typed)
        expect(page.locator("#said")).to_contain_text(f"found {typed}, expected a number such as 3.59")
        page.locator("#value").fill("")
    enter(page, "3590uV")
    keeps(page, shop, job, [("1", "3590")])


def test_what_the_server_refuses_stays_with_its_message_until_it_is_mended(
    at_bench, shop: Path, next_job
) -> None:
    page, job = at_bench(), next_job()
    walk(page, job, "induced")
    enter(page, "-3.59")
    expect(page.locator("#refused")).to_contain_text("0 or above")
    expect(page.locator("#here")).to_contain_text("2–3")
    expect(page.locator(".cell.refused")).to_have_count(1)
    page.reload()
    ready(page)
    page.get_by_role("button", name="Type it anew").click()
    page.locator("#value").fill("3.59")
    page.keyboard.press("Enter")
    keeps(page, shop, job, [("1", "3.59")], "induced")


def test_skip_back_repeat_undo_and_go_serve_the_hand(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    here = page.locator("#here")
    enter(page, "3.50")
    page.keyboard.press("s")
    expect(here).to_contain_text("3–4")
    enter(page, "g14")
    expect(here).to_contain_text("14–15")
    enter(page, "3.60")
    page.keyboard.press("u")
    expect(here).to_contain_text("14–15")
    enter(page, "3.61")
    page.keyboard.press("r")
    expect(here).to_contain_text("14–15")
    enter(page, "3.62")  # once more: both count
    page.keyboard.press("ArrowLeft")
    expect(here).to_contain_text("14–15")
    beside = page.get_by_role("button", name="counts beside it")
    beside.click()
    expect(beside).to_have_attribute("aria-pressed", "true")
    enter(page, "3.63")
    keeps(page, shop, job, [("1", "3.50"), ("14", "3.61"), ("14", "3.62"), ("14", "3.63")])
    walk(page, job)
    expect(here).to_contain_text("2–3")  # skipped is not read


def test_the_walk_goes_on_where_it_stopped_on_another_device(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(ADA), next_job()
    walk(page, job)
    enter(page, *drops(3))
    keeps(page, shop, job, in_order(drops(3)))
    other = at_bench(BERT)
    walk(other, job, more="")  # the feed too is known from the readings
    expect(other.locator("#here")).to_contain_text("4–5")
    expect(other.locator("#count")).to_have_text("3 of 62 read")


def test_a_finger_takes_a_whole_reading_on_the_keys_with_either_hand(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(), next_job()
    walk(page, job)
    for sign in ("±", "3", ".", "5", "⌫", "6", "Enter"):
        page.locator("#keys button", has_text=sign).tap()
    keeps(page, shop, job, [("1", "-3.6")])
    expect(page.locator("#value")).to_be_focused()
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll("#walk button, #walk .button, #value")]
            .map(one => one.getBoundingClientRect()).filter(box => box.width)
            .flatMap(box => [box.width, box.height]))"""
    )
    assert smallest >= 48
    right = page.locator("#keys").bounding_box()["x"]
    page.get_by_role("button", name="Other hand").tap()
    keys_left_of = "right => document.getElementById('keys').getBoundingClientRect().x < right"
    until(page, keys_left_of, right)
    page.reload()
    ready(page)
    until(page, keys_left_of, right)


def test_lamp_and_strip_are_two_large_buttons_and_two_keys(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(), next_job()
    walk(page, job, "ground")
    page.keyboard.press("d")
    page.get_by_role("button", name="lit").tap()
    expect(page.locator("#count")).to_have_text(f"2 of {BARS} read")
    enter(page, "2.5")
    keeps(page, shop, job, [("1", "dark"), ("2", "lit"), ("3", "2.5")], "ground")
    walk(page, job, "blade")
    page.keyboard.press("q")
    page.get_by_role("button", name="buzz").tap()
    keeps(page, shop, job, [("1", "quiet"), ("2", "buzz")], "blade")
    expect(page.locator("#count")).to_have_text(f"2 of {BARS // 2} read")


def test_the_dial_is_walked_track_by_track(at_bench, shop: Path, next_job) -> None:
    page, job = at_bench(), next_job()
    page.goto(f"/jobs/{job}/commutator/cut/walk")
    page.get_by_label("Tracks").fill("0.3 0.7")
    page.get_by_role("button", name="Start the walk").click()
    ready(page)
    expect(page.locator("#here")).to_contain_text("track 0.3")
    enter(page, *[f"{0.0001 * (n % 5):.4f}" for n in range(BARS)])
    expect(page.locator("#here")).to_contain_text("track 0.7")
    enter(page, "-.0003")
    comes_to(page, lambda: kept(shop, job, "")[-1], ("1", "-.0003"))


@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1280, 800), (410, 590)])
def test_a_walk_can_be_used_by_everybody_and_asks_nobody_else(
    at_bench, server: Server, next_job, width: int, height: int
) -> None:
    page, job = at_bench(width=width, height=height), 20
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"/jobs/{job}/armature/winding/walk?test=drop")
    has_the_focus_it_asks_for(page)
    assert Axe().run(page).response["violations"] == []
    with page.expect_response(re.compile("/winding/walk[?].*after=")):
        page.get_by_role("button", name="Start the walk").press("Enter")
        page.wait_for_url("**feed_from=**")
        ready(page)
        has_the_focus_it_asks_for(page)
        assert Axe().run(page).response["violations"] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert [url for url in asked if f"127.0.0.1:{server.port}/" not in url] == []
    assert said == []


def test_own_scripts_stay_under_25_kilobytes_together() -> None:
    sizes = [script.stat().st_size for script in OWN_SCRIPTS.glob("*.js")]
    assert 0 < sum(sizes) < 25_000
