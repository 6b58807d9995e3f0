"""A real chromium, and the invented shop served by a real `barwise serve`, for every browser test."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.web.browser.patience import PATIENCE_S, patient
from tests.web.served import free_port, served

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
SIZES = {"tablet": (820, 1180), "desk": (1280, 800)}
expect.set_options(timeout=PATIENCE_S * 1000)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    # not for the whole session: while the driver's loop runs, Django refuses the database in this process
    if CHROMIUM is None:
        pytest.skip("no chromium on this computer")
    with sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"], timeout=PATIENCE_S * 1000
        )
        yield started
        started.close()


@pytest.fixture(scope="module")
def demo_shop(invented_shop: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of the invented shop, one for each file of tests."""
    folder = tmp_path_factory.mktemp("bench") / "shop"
    shutil.copytree(invented_shop, folder)
    port = free_port()
    with served(folder, port, []):
        yield f"http://127.0.0.1:{port}"


@pytest.fixture(scope="module")
def vera(chromium: Browser, demo_shop: str) -> Any:
    """What a browser of the invented shop keeps once somebody's name is picked."""
    return name_picked(chromium, demo_shop, "Vera (invented)")


def name_picked(chromium: Browser, shop: str, person: str) -> Any:
    """What a browser of a shop keeps once that name is picked: a new one need not pick it again."""
    context = patient(chromium.new_context(base_url=shop))
    page = context.new_page()
    page.goto("/who")
    page.get_by_role("button", name=person).click()
    page.wait_for_url("**/")
    kept = context.storage_state()
    context.close()
    return kept


@pytest.fixture
def tablet(chromium: Browser, demo_shop: str, vera: Any) -> Iterator[Page]:
    """An upright tablet with touch, with somebody's name picked."""
    with screen(chromium, demo_shop, "tablet", vera) as page:
        yield page


@pytest.fixture(scope="module", params=SIZES)
def any_size(request: pytest.FixtureRequest, chromium: Browser, demo_shop: str, vera: Any) -> Iterator[Page]:
    """The tablet for every test that only looks, then the desk."""
    with screen(chromium, demo_shop, request.param, vera) as page:
        yield page


@contextmanager
def screen(chromium: Browser, shop: str, size: str, kept: Any = None) -> Iterator[Page]:
    """A page of its own at one size, closed afterwards; `kept` is what the browser knows already."""
    width, height = SIZES[size]
    context = chromium.new_context(
        viewport={"width": width, "height": height},
        has_touch=size == "tablet",
        base_url=shop,
        storage_state=kept,
    )
    yield patient(context).new_page()
    context.close()
