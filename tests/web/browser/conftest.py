"""A real chromium, and the invented shop served by a real `barwise serve`, for every browser test."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from tests.web.browser.patience import PATIENCE_S
from tests.web.served import barwise, free_port, served

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
expect.set_options(timeout=PATIENCE_S * 1000)
SIZES = {"tablet": (820, 1180), "desk": (1280, 800)}


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    # not for the whole session: while the driver's loop runs, Django refuses the database in this process
    if CHROMIUM is None:
        pytest.skip("no chromium on this computer")
    with sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield started
        started.close()


@pytest.fixture(scope="module")
def demo_shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of the invented shop of `barwise demo`, one for each file of tests."""
    folder: Path = tmp_path_factory.mktemp("demo") / "shop"
    made = barwise(folder, "demo", "--data", str(folder))
    assert made.returncode == 0, made.stderr
    port = free_port()
    with served(folder, port, []):
        yield f"http://127.0.0.1:{port}"


@pytest.fixture
def tablet(chromium: Browser, demo_shop: str) -> Iterator[Page]:
    """An upright tablet with touch, with somebody's name picked."""
    with _at_bench(chromium, demo_shop, "tablet") as page:
        yield page


@pytest.fixture(params=SIZES)
def any_size(request: pytest.FixtureRequest, chromium: Browser, demo_shop: str) -> Iterator[Page]:
    """The tablet, then the desk."""
    with _at_bench(chromium, demo_shop, request.param) as page:
        yield page


class _at_bench:
    """A page of its own at one size, closed afterwards."""

    def __init__(self, chromium: Browser, shop: str, size: str) -> None:
        width, height = SIZES[size]
        self.context: BrowserContext = chromium.new_context(
            viewport={"width": width, "height": height}, has_touch=size == "tablet", base_url=shop
        )

    def __enter__(self) -> Page:
        page = self.context.new_page()
        page.goto("/who")
        page.get_by_role("button", name="Vera (invented)").click()
        page.wait_for_url("**/")
        return page

    def __exit__(self, *_: object) -> None:
        self.context.close()
