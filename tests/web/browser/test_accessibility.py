"""Every screen can be used by everybody: axe-core, size of targets, 200 % zoom, keyboard.

axe-core 4 checks the rules of WCAG 2.2 AA that a machine can check; the size of a target is the shop's own
rule (48 px for a finger with oil on it, twice what WCAG 2.2 asks in success criterion 2.5.8).
"""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

SMALLEST_TARGET = 48
SCREENS = [
    "/",
    "/?closed=1",
    "/?find=nothing-like-it",
    "/jobs/new",
    "/jobs/1",
    "/jobs/2",
    "/jobs/3",
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
    "/jobs/1/armature/winding/answer",
    "/jobs/1/commutator/cut/answer",
    "/jobs/2/armature/winding/answer",
    "/sheets",
    "/sheets/new",
    "/sheets/demo-57-wave",
    "/sheets/demo-57-wave/edit",
    "/instruments",
    "/instruments/new",
    "/instruments/1",
    "/customers",
    "/customers/1",
    "/units/1",
    "/people",
]
OFTEN = ["/", "/jobs/new", "/jobs/1", "/jobs/1/armature?check=insulation", "/jobs/1/brushes?check=length"]


@pytest.mark.parametrize("address", SCREENS)
def test_a_screen_can_be_used_by_everybody_and_asks_nobody_else(
    any_size: Page, address: str, demo_shop
) -> None:
    asked: list[str] = []
    said: list[str] = []
    any_size.on("request", lambda request: asked.append(request.url))
    any_size.on("console", lambda message: said.append(message.text))
    assert any_size.goto(address).status == 200
    found = Axe().run(any_size).response["violations"]
    assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in found] == []
    assert too_small(any_size) == []
    assert runs_out_at_twice_the_size(any_size) == 0
    assert [url for url in asked if not url.startswith(demo_shop)] == []
    assert said == []


def too_small(page: Page) -> list[str]:
    """What a finger would miss; a radio button or a box is as large as its label."""
    found: list[str] = page.evaluate(
        """least => [...document.querySelectorAll(
                "button, .button, summary, select, textarea, input:not([type=hidden]), nav a, li > a")]
            .map(one => [one, (one.closest("label") ?? one).getBoundingClientRect()])
            .filter(([one, box]) => box.width && (box.height < least || box.width < least))
            .map(([one, box]) => `${one.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`)""",
        SMALLEST_TARGET,
    )
    return found


def runs_out_at_twice_the_size(page: Page) -> int:
    """Pixels that lie outside at the side; at 200 % a browser lays out half as many (WCAG 2.2, 1.4.4)."""
    size = page.viewport_size
    assert size is not None
    page.set_viewport_size({"width": size["width"] // 2, "height": size["height"] // 2})
    wide: int = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    page.set_viewport_size(size)
    return max(wide, 0)


@pytest.mark.parametrize("address", OFTEN)
def test_everything_is_reached_with_the_tab_key(any_size: Page, address: str) -> None:
    any_size.goto(address)
    reachable = any_size.evaluate(
        """() => [...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, summary")]
            .filter(one => one.checkVisibility() && !(one.type == "radio" && !one.checked)).length"""
    )
    any_size.evaluate("document.activeElement.blur()")
    met = set()
    for _ in range(reachable + 10):
        any_size.keyboard.press("Tab")
        # A date picker or a group may take a second press; what counts is that each is met.
        met.add(
            any_size.evaluate(
                """() => [...document.querySelectorAll("a, button, input, select, summary")]
                .indexOf(document.activeElement)"""
            )
        )
    assert len(met - {-1}) >= reachable


@pytest.mark.parametrize(
    "address", ["/jobs/1/commutator?check=diameter", "/jobs/2/armature?check=insulation"]
)
def test_a_decision_is_a_word_and_a_shape_besides_its_colour(any_size: Page, address: str) -> None:
    any_size.goto(address)
    decision = any_size.locator(".came .decision")
    assert decision.inner_text().strip() in ("accept", "reject", "undecided")
    assert decision.locator("svg path").count() >= 1
    picture = any_size.locator(".picture svg")
    assert decision.inner_text().strip() in picture.locator("desc").text_content()
