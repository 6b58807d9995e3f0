"""Every screen can be used by everybody, at both sizes and at 200 %; each address stands in the list here."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.urls import URLPattern
from playwright.sync_api import Browser, Page, expect

from barwise.web.urls import urlpatterns
from tests.web.browser.conftest import SIZES, screen
from tests.web.browser.patience import marked
from tests.web.browser.usable import against_the_rules, not_reached, runs_out, too_small, twice_the_size
from tests.web.served import barwise, free_port, served

SCREENS = {
    "home": ["/", "/?closed=1", "/?find=nothing-like-it"],
    "intake": ["/jobs/new"],
    "job": ["/jobs/1", "/jobs/2", "/jobs/3"],
    "job-worth": ["/jobs/1/worth", "/jobs/3/worth"],
    "job-sheet": ["/jobs/1/sheet?sheet=demo-36-lap"],
    "bring-in": ["/import"],
    "station": [
        "/jobs/1/intake?check=as-received",
        "/jobs/1/intake?check=complaint",
        "/jobs/1/armature?check=insulation",
        "/jobs/1/armature?check=winding",
        "/jobs/1/commutator?check=look",
        "/jobs/1/commutator?check=diameter",
        "/jobs/1/brushes?check=length",
        "/jobs/1/assembly?check=lubrication",
        "/jobs/2/armature?check=insulation",
        "/jobs/3/brushes?check=spring-force",
    ],
    "walk": [
        "/jobs/1/armature/winding/walk?test=drop",
        "/jobs/1/armature/winding/walk?test=blade",
        "/jobs/1/commutator/cut/walk",
        "/jobs/2/armature/winding/walk?test=drop",
        "/jobs/3/commutator/cut/walk",
    ],
    "answer": [
        "/jobs/1/armature/winding/answer",
        "/jobs/1/commutator/cut/answer",
        "/jobs/2/armature/winding/answer",
    ],
    "sheets": ["/sheets"],
    "sheet-new": ["/sheets/new"],
    "sheet": ["/sheets/demo-57-wave"],
    "sheet-edit": ["/sheets/demo-57-wave/edit", "/sheets/demo-57-wave/edit?as=text"],
    "instruments": ["/instruments"],
    "instrument-new": ["/instruments/new"],
    "instrument": ["/instruments/1"],
    "instrument-edit": ["/instruments/1/edit"],
    "customers": ["/customers"],
    "customer": ["/customers/1"],
    "unit": ["/units/1"],
    "people": ["/people"],
    "shop": ["/shop"],
    "who": ["/who"],
}
IN_THE_NETWORK = {"sign-in": ["/sign-in"], "password": ["/password"]}
SHOW_NOTHING = {
    **dict.fromkeys(("job-wait", "job-close", "job-reopen"), "sent from the page of a job, and shown there"),
    **dict.fromkeys(("take", "strike", "decide", "part", "photo-add"), "sent from a station, shown there"),
    **dict.fromkeys(("answer-again", "answer-pass"), "sent from an answer, and shown there"),
    "instrument-retire": "sent from the page of an instrument",
    "sign-out": "sent from every page, and leads to signing in",
    **dict.fromkeys(("job-export", "job-readings", "photo"), "a file"),
    "health": "for other programs",
}
LOOKED_AT = [address for addresses in SCREENS.values() for address in addresses]
REFUSED = [
    ("/jobs/new", "Take it in"),
    ("/import", "Bring it in"),
    ("/jobs/1/brushes?check=length", "Take it"),
    ("/jobs/1/commutator/cut/answer", "None left: all is fresh"),
    ("/instruments/new", "Take it into use"),
    ("/sheets/new", "Save"),
    ("/people", "Make the account"),
]
"""Pages with a form, and the button that sends it as it stands, with nothing in it."""


@pytest.fixture(scope="module")
def network(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A shop served to the network, with an account."""
    folder: Path = tmp_path_factory.mktemp("network") / "shop"
    barwise(folder, "people", "add", "Ada Bench", "--password-stdin", given="kommutator-62\n")
    port = free_port()
    with served(folder, port, [], "--lan"):
        yield f"http://127.0.0.1:{port}"


def test_every_address_is_looked_at_here_or_shows_nothing_of_its_own() -> None:
    known = {one.name for one in urlpatterns if isinstance(one, URLPattern)}
    listed = {*SCREENS, *IN_THE_NETWORK, *SHOW_NOTHING}
    assert known - listed == set(), "a new address is listed in this file, with what it shows"


@pytest.mark.parametrize("address", LOOKED_AT)
def test_a_screen_can_be_used_by_everybody_and_asks_nobody_else(
    any_size: Page, address: str, demo_shop: str
) -> None:
    with silent_and_at_home(any_size, demo_shop):
        assert any_size.goto(address).status == 200
        if "/walk" in address and any_size.locator("#entry").count():
            marked(any_size, "walk", "ready")
        can_be_used(any_size)


@pytest.mark.parametrize(("address", "button"), REFUSED)
def test_a_screen_that_refuses_what_was_sent_can_be_used_by_everybody(
    any_size: Page, address: str, button: str
) -> None:
    any_size.goto(address)
    any_size.evaluate("for (const form of document.forms) form.noValidate = true")
    any_size.get_by_role("button", name=button).first.click()
    expect(any_size.locator("[role=alert]").first).to_be_visible()
    can_be_used(any_size)


@pytest.mark.parametrize("size", SIZES)
def test_signing_in_to_the_network_can_be_used_by_everybody(
    chromium: Browser, network: str, size: str
) -> None:
    with screen(chromium, network, size) as page:
        for address in IN_THE_NETWORK["sign-in"]:
            page.goto(address)
            can_be_used(page)
        page.get_by_label("Name").fill("Ada Bench")
        page.get_by_label("Password").fill("wrong-62")
        page.keyboard.press("Enter")
        expect(page.get_by_role("alert")).to_contain_text("do not belong together")
        can_be_used(page)
        page.get_by_label("Password").fill("kommutator-62")
        page.keyboard.press("Enter")
        page.wait_for_url("**/")
        for address in IN_THE_NETWORK["password"]:
            page.goto(address)
            can_be_used(page)
        page.goto("/people")  # for the office alone
        expect(page.get_by_role("heading", level=1)).to_have_text("You may not do this")
        can_be_used(page)


@pytest.mark.parametrize(
    "address", ["/jobs/1/commutator?check=diameter", "/jobs/2/armature?check=insulation"]
)
def test_a_decision_is_a_word_and_a_shape_besides_its_colour(any_size: Page, address: str) -> None:
    any_size.goto(address)
    decision = any_size.locator(".came .decision")
    expect(decision).to_have_text(re.compile("^(accept|reject|undecided)$"))
    word = decision.inner_text().strip()
    assert decision.locator("svg path").count() >= 1
    assert word in any_size.locator(".picture svg desc").text_content()


def can_be_used(page: Page) -> None:
    """By rules, by finger and by keyboard, as it is and at 200 %."""
    assert against_the_rules(page) == []
    assert too_small(page) == []
    assert runs_out(page) == 0
    with twice_the_size(page):
        assert against_the_rules(page) == []
        assert too_small(page) == []
        assert runs_out(page) == 0
    assert not_reached(page) == []


@contextmanager
def silent_and_at_home(page: Page, shop: str) -> Iterator[None]:
    """Nothing is asked of another computer, and the browser complains of nothing."""
    asked: list[str] = []
    said: list[str] = []
    hear = {
        "request": lambda request: asked.append(request.url),
        "console": lambda message: said.append(message.text),
    }
    for event, heard in hear.items():
        page.on(event, heard)
    yield
    for event, heard in hear.items():
        page.remove_listener(event, heard)
    assert [url for url in asked if not url.startswith(shop)] == []
    assert said == []
