"""Pictures of the real screens for the documents: the invented shop, served and looked at on a tablet.

`python -m benchmarks pictures` makes them again.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from benchmarks.entering import Server, free_port

PICTURES = Path("docs/pictures")
CHROMIUM = "/usr/bin/chromium"
TABLET = {"width": 820, "height": 1180}
WALKED = ("0.70", "0.71", "0.71", "0.70", "0.70", "0.71", "0.70", "0.70", "0.71", "0.70", "0.70", "0.93")
SCREENS = {
    "bench-jobs": "/",
    "bench-job": "/jobs/1",
    "bench-station": "/jobs/1/commutator",
    "bench-answer": "/jobs/1/armature/winding/answer",
}


@contextmanager
def shop() -> Iterator[str]:
    """Address of the invented shop while it is served from a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        demo = [sys.executable, "-m", "barwise.cli.main", "demo", "--data", folder]
        subprocess.run(demo, check=True, capture_output=True)
        server = Server(Path(folder), free_port())
        server.start()
        try:
            yield f"http://127.0.0.1:{server.port}"
        finally:
            server.end()


def write() -> None:
    """Write every picture."""
    with shop() as address, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport=TABLET, has_touch=True).new_page()
        page.goto(f"{address}/who")
        page.locator("main button").first.click()
        for name, path in SCREENS.items():
            page.goto(address + path)
            _kept(page, name)
        page.goto(f"{address}/jobs/1/armature/winding/walk?test=resistance")
        page.wait_for_timeout(1000)
        for value in WALKED:
            page.keyboard.type(value)
            page.keyboard.press("Enter")
            page.wait_for_timeout(150)
        _kept(page, "bench-walk")
        browser.close()


def _kept(page: Page, name: str) -> None:
    page.wait_for_timeout(1200)
    page.screenshot(path=PICTURES / f"{name}.png")
    print(f"{PICTURES / name}.png written")
