"""The app's page in a real browser: a click names the part, an edit of the lap redraws."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

REPO = Path(__file__).parents[2]
pytestmark = pytest.mark.browser


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The app, started as its users start it."""
    port = free_port()
    command = [sys.executable, "-c", "from schematic.cli import main; main()", "app", f"--port={port}"]
    environment = {**os.environ, "PYTHONPATH": str(REPO), "STREAMLIT_SERVER_HEADLESS": "true"}
    with subprocess.Popen(
        command, env=environment, cwd="/", stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as server:
        url = f"http://127.0.0.1:{port}"
        for _ in range(300):
            try:
                urllib.request.urlopen(f"{url}/_stcore/health", timeout=1).close()
                break
            except OSError:
                time.sleep(0.1)
        yield url
        server.terminate()


def test_a_click_names_the_part_and_an_edit_of_the_lap_redraws(address, browser_page):
    elsewhere: list[str] = []
    browser_page.on("request", lambda request: elsewhere.append(request.url))
    browser_page.set_viewport_size({"width": 1440, "height": 900})
    browser_page.goto(address)
    hanger = browser_page.locator('g[data-part="liner.assembly.7"]').first
    hanger.wait_for(timeout=60_000)

    box = hanger.locator("path").first.bounding_box()
    browser_page.mouse.click(box["x"] + 2, box["y"] + box["height"] / 3)  # on the steel, not in the bore
    browser_page.get_by_text("Chosen: Hydraulic hanger, 9.6 ft").wait_for(timeout=20_000)
    assert browser_page.get_by_text("9\u2009430", exact=True).count() == 0
    lap = browser_page.get_by_label("Lap, liner top to host shoe")
    lap.fill("420 ft")
    lap.press("Enter")
    browser_page.get_by_text("9\u2009430", exact=True).first.wait_for(timeout=20_000)

    if folder := os.environ.get("LAPLINE_SCREENSHOTS"):
        browser_page.screenshot(path=f"{folder}/app.png")
    assert browser_page.get_by_text("the string is 50.0 ft too long").count() >= 1
    here = (address, address.replace("http", "ws"), "data:", "blob:")
    assert [url for url in elsewhere if not url.startswith(here)] == []


def test_the_drawing_is_walked_by_keyboard(address, browser_page):
    browser_page.goto(address)
    drawing = browser_page.locator(".host")
    drawing.locator("g[data-part]").first.wait_for(timeout=60_000)

    drawing.focus()
    for _ in range(4):
        browser_page.keyboard.press("ArrowDown")
    browser_page.keyboard.press("Enter")

    browser_page.get_by_text("Chosen: ").wait_for(timeout=20_000)
