"""The frame of every page in a real browser: targets, zoom, keyboard, axe-core, nothing from elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Response, expect

from tests.web.browser.conftest import SIZES
from tests.web.browser.patience import patient
from tests.web.browser.usable import at_its_size
from tests.web.served import barwise, free_port, served

SMALLEST_TARGET = 48


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    shop: Path = tmp_path_factory.mktemp("browser") / "shop"
    barwise(shop, "people", "add", "Ada Bench", "--password-stdin", given="kommutator-62\n")
    port = free_port()
    with served(shop, port, []):
        yield f"http://127.0.0.1:{port}"


@pytest.fixture(params=SIZES)
def page(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    width, height = SIZES[request.param]
    touch = request.param == "tablet"
    context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=touch)
    yield patient(context).new_page()
    context.close()


@pytest.mark.parametrize("address", ["/", "/who", "/nope"])
def test_a_page_can_be_used_by_everybody_and_asks_nobody_else(page: Page, bench: str, address: str) -> None:
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(bench + address)
    assert Axe().run(page).response["violations"] == []
    assert [url for url in asked if not url.startswith(bench)] == []
    assert [line for line in said if "404" not in line] == []
    small = page.evaluate(
        """least => [...document.querySelectorAll("button, .button, input:not([type=hidden]), nav a")]
            .map(one => one.getBoundingClientRect())
            .filter(box => box.width && (box.height < least || box.width < least)).length""",
        SMALLEST_TARGET,
    )
    assert small == 0
    assert page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)") >= 18


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_at_twice_the_size_nothing_runs_out_at_the_side(chromium: Browser, bench: str, size) -> None:
    # A browser at 200 % lays out half as many CSS pixels (WCAG 2.2, success criterion 1.4.4).
    half = chromium.new_context(viewport={"width": size[0] // 2, "height": size[1] // 2})
    page = patient(half).new_page()
    page.goto(f"{bench}/who")
    at_its_size(page)
    assert page.evaluate("document.documentElement.scrollWidth") == size[0] // 2
    half.close()


def test_a_name_is_picked_with_the_keyboard_alone(page: Page, bench: str) -> None:
    page.goto(f"{bench}/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the content"
    for _ in range(10):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent").strip() == "Who is at the bench?":
            break
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Ada Bench").press("Enter")
    page.wait_for_url(f"{bench}/")
    expect(page.get_by_role("link", name="At the bench: Ada Bench")).to_be_visible()


def test_what_has_the_focus_is_outlined(page: Page, bench: str) -> None:
    page.goto(f"{bench}/who")
    page.keyboard.press("Tab")
    outline = page.evaluate("getComputedStyle(document.activeElement).outline")
    assert "3px" in outline
    assert "solid" in outline


def test_the_first_screen_is_under_two_hundred_kilobytes(page: Page, bench: str) -> None:
    came: list[Response] = []
    page.on("response", lambda response: came.append(response))
    page.goto(f"{bench}/", wait_until="networkidle")
    assert 0 < sum(len(response.body()) for response in came) < 200_000


def test_no_motion_for_whom_motion_troubles(chromium: Browser, bench: str) -> None:
    still = chromium.new_context(reduced_motion="reduce")
    page = patient(still).new_page()
    page.goto(f"{bench}/")
    assert float(page.evaluate("getComputedStyle(document.body).transitionDuration").rstrip("s")) < 0.001
    still.close()
