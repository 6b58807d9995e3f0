"""Every screen in tests/web/addresses.py can be used by everybody, at both sizes and at 200 %."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.addresses import screens
from tests.web.browser.conftest import SIZES, screen
from tests.web.browser.patience import marked
from tests.web.browser.usable import (
    against_the_rules,
    at_its_size,
    has_the_focus_it_asks_for,
    not_reached,
    runs_out,
    too_small,
    twice_the_size,
)
from tests.web.served import barwise, free_port, served

REFUSED = [
    ("/jobs/new", "Take it in"),
    ("/import", "Bring it in"),
    ("/jobs/1/brushes?check=length", "Take it"),
    ("/jobs/1/commutator/cut/answer", "None left: all is fresh"),
    ("/jobs/1/handover?check=vehicle-crank", "Write it down"),
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


@pytest.mark.parametrize("address", screens())
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
    expect(any_size.locator("[role=alert]")).to_have_count(0)
    any_size.evaluate("for (const form of document.forms) form.noValidate = true")
    any_size.get_by_role("button", name=button).first.click()
    expect(any_size.locator("[role=alert]").first).to_be_visible()
    can_be_used(any_size)


@pytest.mark.parametrize("size", SIZES)
def test_signing_in_to_the_network_can_be_used_by_everybody(
    chromium: Browser, network: str, size: str
) -> None:
    with screen(chromium, network, size) as page:
        page.goto("/sign-in")
        can_be_used(page)
        page.get_by_label("Name").fill("Ada Bench")
        page.get_by_label("Password").fill("wrong-62")
        page.keyboard.press("Enter")
        expect(page.get_by_role("alert")).to_contain_text("do not belong together")
        can_be_used(page)
        page.get_by_label("Password").fill("kommutator-62")
        page.keyboard.press("Enter")
        page.wait_for_url("**/")
        page.goto("/password")
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
    page.wait_for_load_state()
    at_its_size(page)
    has_the_focus_it_asks_for(page)
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
