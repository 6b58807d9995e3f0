"""Pictures of the real screens for the documents: the invented shop, served and looked at on a tablet.

python -m benchmarks.screens
"""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

PICTURES = Path("docs/pictures")
CHROMIUM = "/usr/bin/chromium"
TABLET = {"width": 820, "height": 1180}
BARWISE = [sys.executable, "-m", "barwise.cli.main"]
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
    with tempfile.TemporaryDirectory() as folder, closing(socket.socket()) as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
        free.close()
        subprocess.run([*BARWISE, "demo", "--data", folder], check=True, capture_output=True)
        serving = subprocess.Popen(
            [*BARWISE, "serve", "--port", str(port)],
            env={**os.environ, "BARWISE_DATA": folder},
            stdout=subprocess.DEVNULL,
        )
        try:
            yield _answering(f"http://127.0.0.1:{port}")
        finally:
            serving.terminate()
            serving.wait()


def _answering(address: str) -> str:
    for _ in range(100):
        try:
            with urllib.request.urlopen(f"{address}/health", timeout=1):
                return address
        except OSError:
            time.sleep(0.2)
    raise TimeoutError(f"{address}: no answer within 20 s")


def main() -> None:
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


if __name__ == "__main__":
    main()
