"""Waiting for what a slow machine shows later; a page that is just changing is "not yet".

The pages forbid Playwright's own `wait_for_function` (it needs `eval`). What a locator can say is waited for
with `expect`, which is as patient; nothing is read straight after a touch, a key or a way to another page.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from playwright.sync_api import BrowserContext, Error, Page, expect

PATIENCE_S = 90.0
"""A server that just started, with others at work on the computer, may take a minute for its first page."""
_AGAIN_AFTER_MS = 50


def patient(context: BrowserContext) -> BrowserContext:
    """The same context, which waits as long for pages and for what is on them."""
    context.set_default_timeout(PATIENCE_S * 1000)
    return context


def until(page: Page, script: str, argument: object = None) -> None:
    """Wait until a script of the page gives something true; one that cannot run yet gives nothing."""
    complaint = ""

    def holds() -> bool:
        nonlocal complaint
        try:
            return bool(page.evaluate(script, argument))
        except Error as error:
            complaint = error.message
            return False

    if not _patiently(page, holds):
        raise AssertionError(f"never: {script} {complaint}".rstrip())


def comes_to(page: Page, found: Callable[[], object], wanted: object) -> None:
    """Wait until what is found outside of the page, in the record, is as wanted."""
    _patiently(page, lambda: found() == wanted)
    assert found() == wanted


def marked(page: Page, name: str, text: str) -> None:
    """Wait until the page says something of itself, as its root element carries it."""
    expect(page.locator(f"html[data-{name}='{text}']")).to_be_attached(timeout=PATIENCE_S * 1000)


def _patiently(page: Page, holds: Callable[[], bool]) -> bool:
    latest = time.monotonic() + PATIENCE_S
    while not holds():
        if time.monotonic() > latest:
            return False
        page.wait_for_timeout(_AGAIN_AFTER_MS)  # what the page asks for is answered meanwhile
    return True
