"""Whether a screen can be used by everybody: by rules, by an oily finger, by keyboard, at twice the size.

axe-core 4 checks the rules of WCAG 2.2 AA that a machine can check; the size of a target is the shop's own
rule (48 px, twice what WCAG 2.2 asks in success criterion 2.5.8). A browser at 200 % lays out half as many
CSS pixels (success criterion 1.4.4).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.web.browser.patience import until

SMALLEST_TARGET = 48
_VIOLATIONS = """async () => {
    const found = await axe.run(document, {resultTypes: ["violations"]});
    return found.violations.map(one => `${one.id}: ${one.nodes.map(node => node.html.slice(0, 120))}`);
}"""
_TOO_SMALL = """least => [...document.querySelectorAll(
        "button, .button, summary, select, textarea, input:not([type=hidden]), nav a, li > a")]
    .map(one => [one, (one.closest("label") ?? one).getBoundingClientRect()])
    .filter(([one, box]) => box.width && (box.height < least || box.width < least))
    .map(([one, box]) => `${one.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`)"""
_REACHABLE = """() => {
    window.met = new Set();
    document.addEventListener("focusin", event => met.add(event.target));
    document.activeElement.blur();
    window.reachable = [...document.querySelectorAll(
            "a[href], button, input:not([type=hidden]), select, summary, textarea, [tabindex='0']")]
        .filter(one => one.checkVisibility() && one.tabIndex >= 0 && !one.disabled)
        .filter(one => one.type != "radio" || one.checked);
    return reachable.length;
}"""
_NOT_MET = "() => reachable.filter(one => !met.has(one)).map(one => one.outerHTML.slice(0, 120))"


def has_the_focus_it_asks_for(page: Page) -> None:
    """Wait until the browser gave the focus to what is to have it (`autofocus`); it does so when it draws.

    A hand that is there first keeps the focus, and the browser then writes that to its console.
    """
    until(page, "() => document.querySelector('[autofocus]')?.matches(':focus') ?? true")


def against_the_rules(page: Page) -> list[str]:
    """Rules that the page breaks, with the elements."""
    if not page.evaluate("typeof axe == 'object'"):
        page.evaluate(Axe().axe_script)
    found: list[str] = page.evaluate(_VIOLATIONS)
    return found


def too_small(page: Page) -> list[str]:
    """What a finger would miss; a radio button or a box is as large as its label."""
    found: list[str] = page.evaluate(_TOO_SMALL, SMALLEST_TARGET)
    return found


def runs_out(page: Page) -> int:
    """Pixels that lie outside at the side."""
    wide: int = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    return max(wide, 0)


def not_reached(page: Page) -> list[str]:
    """What the tab key does not come to; a group of choices counts once, by the one that is made."""
    count: int = page.evaluate(_REACHABLE)
    for turn in range(2 * count + 10):  # a date takes several
        page.keyboard.down("Tab")  # held: it goes on as when pressed again, for half the messages
        if turn % 10 == 9 and not page.evaluate(_NOT_MET):
            break
    page.keyboard.up("Tab")
    found: list[str] = page.evaluate(_NOT_MET)
    return found


@contextmanager
def twice_the_size(page: Page) -> Iterator[None]:
    """The page as at 200 %."""
    size = page.viewport_size
    assert size is not None
    _resize(page, size["width"] // 2, size["height"] // 2)
    try:
        yield
    finally:  # the next test looks at the same page
        _resize(page, size["width"], size["height"])


def at_its_size(page: Page) -> None:
    """Wait until the browser gave the page the room it was promised; a busy one is late with it."""
    size = page.viewport_size
    assert size is not None
    script = "wanted => innerWidth == wanted && document.documentElement.clientWidth > wanted - 40"
    until(page, script, size["width"])


def _resize(page: Page, width: int, height: int) -> None:
    page.set_viewport_size({"width": width, "height": height})
    at_its_size(page)
