"""A walk and a check read by a meter: simulated by PyVISA-sim, heard by its listener, taken by a browser.

The listener runs as `barwise instrument listen` does; the hand on the leads is the test's.
"""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from barwise.report.measured.meter import rule_in_words
from barwise.talk.bench import Bench
from barwise.talk.listener import Listener
from barwise.talk.profile import MeterProfile
from benchmarks.entering import PEOPLE, Server, environment, free_port, make_shop
from tests.talk.simulated import LIBRARY, OPEN, Simulated, SocketMeter, example
from tests.web.browser.conftest import name_picked
from tests.web.browser.patience import PATIENCE_S, comes_to, marked, patient
from tests.web.browser.test_walk_in_browser import enter, in_order, kept
from tests.web.browser.usable import against_the_rules, runs_out, too_small

TAG, ADDRESS = "M-2", "TCPIP::192.0.2.10::5025::SOCKET"
INSTRUMENT = """
from barwise.web.data_folder import data_folder
from barwise.web.started import prepare
prepare(data_folder())
from barwise.record.instruments import Figures, add_instrument
add_instrument("M-2", "milliohm meter", Figures(1e-6), "resistance", "mohm")
"""


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder: Path = tmp_path_factory.mktemp("meter") / "shop"
    make_shop(folder, jobs=12)
    subprocess.run([sys.executable, "-c", INSTRUMENT], env=environment(folder), check=True)
    return folder


@pytest.fixture(scope="module")
def server(shop: Path) -> Iterator[Server]:
    made = Server(shop, free_port())
    made.start()
    yield made
    made.end()


@pytest.fixture(scope="module")
def next_job() -> Callable[[], int]:
    numbers = iter(range(1, 13))
    return lambda: next(numbers)


@pytest.fixture(scope="module")
def picked(chromium: Browser, server: Server) -> Any:
    return name_picked(chromium, f"http://127.0.0.1:{server.port}", PEOPLE[0])


@pytest.fixture
def at_bench(chromium: Browser, server: Server, picked: Any) -> Iterator[Callable[..., Page]]:
    made: list[BrowserContext] = []

    def open_page(width: int = 820, height: int = 1180) -> Page:
        context = chromium.new_context(
            viewport={"width": width, "height": height},
            has_touch=True,
            base_url=f"http://127.0.0.1:{server.port}",
            storage_state=picked,
        )
        made.append(patient(context))
        return context.new_page()

    yield open_page
    for context in made:
        context.close()


@pytest.fixture
def leads() -> Iterator[Simulated]:
    made = Simulated(ADDRESS)
    yield made
    made.as_at_first()


@pytest.fixture
def heard(server: Server) -> Iterator[Callable[..., Listener]]:
    """A listener of a meter; ended afterwards."""
    made: list[tuple[Listener, threading.Thread]] = []

    def listen(profile: MeterProfile | None = None, address: str = "", library: str = LIBRARY) -> Listener:
        profile = profile or quick(example("milliohm-scpi"))
        bench = Bench(f"http://127.0.0.1:{server.port}")
        listener = Listener(profile, bench, TAG, rule_in_words(profile), print, address, library)
        running = threading.Thread(target=listener.run, daemon=True)
        running.start()
        made.append((listener, running))
        return listener

    yield listen
    for listener, running in made:
        listener.stop()
        running.join(PATIENCE_S)
    for meter in threading.enumerate():
        if meter.name == f"meter {TAG}":  # the next test has the same wire
            meter.join(PATIENCE_S)


def quick(profile: MeterProfile, timeout_s: float = 1.0) -> MeterProfile:
    return replace(profile, port=profile.port.model_copy(update={"timeout_s": timeout_s}))


def walk(page: Page, job: int, how: str = "steady", more: str = "") -> None:
    page.goto(f"/jobs/{job}/armature/winding/walk?test=resistance&unit=mohm&instrument=1&how={how}{more}")
    marked(page, "walk", "ready")


def says(page: Page, words: str) -> None:
    expect(page.locator("#meter-said")).to_contain_text(words)


def check(page: Page, job: int) -> None:
    """The resistance of each of four coils, in milliohms, with the meter picked."""
    page.goto(f"/jobs/{job}/frame?check=coil-ohms")
    page.get_by_label("Instrument").select_option("1")
    expect(page.get_by_label("By hand")).to_be_visible()


def touch(leads: Any, page: Page, mohm: str) -> None:
    """Lift, then hold on the next bars until the page asks for the lifting."""
    hold(leads, page, mohm)
    says(page, "Lift")


def hold(leads: Any, page: Page, mohm: str) -> None:
    """Lift, then hold on the next bars."""
    leads.says(reading=OPEN)
    says(page, "Touch")
    leads.says(reading=f"{mohm}E-03")


def test_bars_are_read_by_touching_alone_and_each_reading_keeps_what_the_meter_wrote(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    heard()
    walk(page, job)
    says(page, "Touch")
    expect(page.locator("#meter-rule")).to_contain_text("4 readings within 3 steps of its last digit")
    read = ["0.713", "0.714", "0.714", "0.712"]
    for n, mohm in enumerate(read):
        touch(leads, page, f"+{mohm}000")
        comes_to(page, lambda: kept(shop, job, "resistance"), in_order(read[: n + 1]))
    answer = page.request.get(f"/api/v1/jobs/{job}/armature/winding/readings").json()
    assert [one["said"] for one in answer["readings"]] == [f"+{mohm}000E-03" for mohm in read]
    assert {one["said_unit"] for one in answer["readings"]} == {"ohm"}
    assert answer["readings"][0]["value_si"] == pytest.approx(0.713e-3)
    assert against_the_rules(page) == []
    assert too_small(page) == []
    assert runs_out(page) == 0


def test_the_pedal_takes_one_settled_reading_for_each_press_and_nothing_without_it(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    heard()
    leads.says(reading="0.713E-03")
    walk(page, job)
    page.get_by_text("How it is set up").click()
    page.get_by_label("The meter, at the pedal").check()
    page.get_by_label("Pedal: press it once").focus()
    page.keyboard.press("F9")
    expect(page.get_by_label("Pedal: press it once")).to_have_value("F9")
    page.get_by_role("button", name="Go on like this").click()
    page.wait_for_url("**how=pedal**")
    marked(page, "walk", "ready")
    says(page, "Touch, then press the pedal.")
    assert (against_the_rules(page), too_small(page), runs_out(page)) == ([], [], 0)
    assert kept(shop, job, "resistance") == []
    page.keyboard.press("F9")
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713"]))
    leads.says(reading="0.714E-03")
    page.get_by_role("button", name="Take the meter").click()
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714"]))
    page.keyboard.press("F9")  # the button has not kept the keys to itself
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714", "0.714"]))
    leads.says(reading=OPEN)
    page.keyboard.press("F9")
    says(page, "press again")
    assert len(kept(shop, job, "resistance")) == 3


def test_a_meter_set_to_something_else_takes_nothing_and_says_why(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    heard()
    walk(page, job)
    touch(leads, page, "0.713")
    leads.says(function='"VOLT:DC"', reading="0.5")
    says(page, "expected FRES: set it back")
    leads.says(function='"FRES"', reading=OPEN)
    touch(leads, page, "0.714")
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714"]))


def test_unplugged_in_mid_walk_it_says_so_and_the_hand_goes_on_and_so_does_the_meter(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page, meter = next_job(), at_bench(), SocketMeter()
    profile = quick(example("milliohm-scpi"))
    heard(replace(profile, scpi=profile.scpi.model_copy(update={"set_up": ()})), meter.address, "@py")
    walk(page, job)
    says(page, "Touch")
    meter.reading = "0.713E-03"
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713"]))
    meter.pull()
    says(page, "Unplugged. Go on by hand")
    enter(page, "0.714")
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714"]))
    meter.reading = OPEN
    meter.plug_in()
    says(page, "Touch")
    meter.reading = "0.712E-03"
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714", "0.712"]))
    meter.pull()


def test_a_slow_or_silent_meter_holds_up_neither_page_nor_hand(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    leads.is_silent("READ?")
    heard(quick(example("milliohm-scpi"), 2.0))
    walk(page, job)
    says(page, "It does not answer. Go on by hand.")
    enter(page, "0.713", "0.714")
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713", "0.714"]))
    leads.answers("READ?")
    says(page, "Touch")


def test_without_a_listener_the_page_says_what_is_missing(
    at_bench: Callable[..., Page], next_job: Callable[[], int], server: Server
) -> None:
    page = at_bench()
    walk(page, next_job())
    says(page, "Nobody listens to it")


def test_a_second_page_takes_the_meter_over_and_the_first_says_so(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, first, second = next_job(), at_bench(), at_bench()
    heard()
    walk(first, job)
    says(first, "Touch")
    walk(second, job)
    says(first, "Another page reads it now.")
    touch(leads, second, "0.713")
    comes_to(second, lambda: kept(shop, job, "resistance"), in_order(["0.713"]))
    first.get_by_role("button", name="Read here").click()
    says(second, "Another page reads it now.")


def test_a_meter_of_another_quantity_cannot_be_chosen_and_by_hand_needs_none(
    at_bench: Callable[..., Page], next_job: Callable[[], int], server: Server
) -> None:
    page, job = at_bench(), next_job()
    page.goto(f"/jobs/{job}/armature/winding/walk?test=drop&feed_from=1&feed_to=32&feed_amps=10&instrument=1")
    expect(page.get_by_text("an instrument for voltage, or none")).to_be_visible()
    page.goto(f"/jobs/{job}/armature/winding/walk?test=resistance&unit=mohm&how=steady")
    expect(page.get_by_text("the instrument that is to be heard")).to_be_visible()


def test_without_a_word_from_the_server_the_page_says_so_by_itself(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    heard()
    walk(page, job)
    says(page, "Touch")
    late = page.get_by_text("No word from the shop's computer.")
    expect(late).not_to_be_visible()
    page.context.set_offline(True)
    expect(late).to_be_visible()
    enter(page, "0.713")
    page.context.set_offline(False)
    expect(late).not_to_be_visible()
    comes_to(page, lambda: kept(shop, job, "resistance"), in_order(["0.713"]))
    # The meter had let go of the page. It says to lift where a touch came before it took it up again.
    touch(leads, page, "0.714")
    touch(leads, page, "0.714")
    comes_to(page, lambda: kept(shop, job, "resistance")[:2], in_order(["0.713", "0.714"]))


def test_a_check_of_a_station_is_read_by_touching_and_keeps_what_the_meter_wrote(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    leads: Simulated,
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page = next_job(), at_bench()
    heard()
    check(page, job)
    page.get_by_label("The meter, when steady").check()
    says(page, "Touch")
    expect(page.locator("#meter-rule")).to_contain_text("4 readings within 3 steps of its last digit")
    read = ["0.713", "0.714", "0.714", "0.712"]
    touch(leads, page, "+0.713000")
    comes_to(page, lambda: kept(shop, job, ""), in_order(read[:1]))
    expect(page.get_by_text("which wrote +0.713000E-03 (ohm)")).to_be_visible()
    for n, mohm in enumerate(read[1:3], 2):
        touch(leads, page, f"+{mohm}000")
        comes_to(page, lambda: kept(shop, job, ""), in_order(read[:n]))
    # The hand goes on in between, and while it types the meter takes nothing.
    expect(page.get_by_role("radio", name="4")).to_be_checked()
    page.get_by_label("Reading").press_sequentially("0.7")
    touch(leads, page, "+0.800000")
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    comes_to(page, lambda: kept(shop, job, ""), in_order(read))
    expect(page.get_by_text("rests: all that is asked for here was read")).to_be_visible()
    answer = page.request.get(f"/api/v1/jobs/{job}/frame/coil-ohms/readings").json()
    wrote = [f"+{mohm}000E-03" for mohm in read[:3]]
    assert [one["said"] for one in answer["readings"]] == [*wrote, ""]
    assert answer["readings"][0]["value_si"] == pytest.approx(0.713e-3)
    page.get_by_role("link", name="Read once more").click()
    hold(leads, page, "+0.715000")  # once it is kept the meter rests, and asks for nothing
    comes_to(page, lambda: kept(shop, job, "")[4:], [("1", "0.715")])
    expect(page.get_by_text("rests: all that is asked for here was read")).to_be_visible()
    assert (against_the_rules(page), too_small(page), runs_out(page)) == ([], [], 0)


def test_at_a_check_the_pedal_takes_and_a_pulled_plug_leaves_it_to_the_hand(
    at_bench: Callable[..., Page],
    heard: Callable[..., Listener],
    next_job: Callable[[], int],
    shop: Path,
) -> None:
    job, page, meter = next_job(), at_bench(1280, 800), SocketMeter()
    profile = quick(example("milliohm-scpi"))
    heard(replace(profile, scpi=profile.scpi.model_copy(update={"set_up": ()})), meter.address, "@py")
    meter.reading = "0.713E-03"
    check(page, job)
    page.get_by_label("The meter, at the pedal").check()
    says(page, "Touch, then press the pedal.")  # the page has settled, the field has the focus
    page.get_by_label("Pedal: press it once").focus()
    page.keyboard.press("F8")
    expect(page.get_by_role("button", name="Take the meter: F8")).to_be_visible()
    says(page, "Touch, then press the pedal.")
    assert (against_the_rules(page), too_small(page), runs_out(page)) == ([], [], 0)
    page.keyboard.press("F8")
    comes_to(page, lambda: kept(shop, job, ""), in_order(["0.713"]))
    meter.reading = "0.714E-03"
    page.get_by_role("button", name="Take the meter").click()
    comes_to(page, lambda: kept(shop, job, ""), in_order(["0.713", "0.714"]))
    meter.pull()
    says(page, "Unplugged. Go on by hand")
    page.get_by_label("Reading").fill("0.712")
    page.keyboard.press("Enter")
    comes_to(page, lambda: kept(shop, job, ""), in_order(["0.713", "0.714", "0.712"]))
