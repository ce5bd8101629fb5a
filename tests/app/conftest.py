"""What tests of the app share: its server, a watched page of it, and what they must put back."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from tests.app.serving import free_port, lapline_app, served

try:
    from playwright.sync_api import expect
except ImportError:
    pass  # what needs a browser is skipped then, with the reason
else:
    expect.set_options(timeout=60_000)  # a machine may be busy with other tests


@pytest.fixture(autouse=True)
def _main_module_kept():
    """A page that is run in the test's process takes the place of the main module; spawned work would run it."""
    kept = sys.modules["__main__"]
    yield
    sys.modules["__main__"] = kept


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """The app with its demo wells, started from a directory that is not its own; one for all tests."""
    port = free_port()
    with served(lapline_app(port), port):
        yield f"http://127.0.0.1:{port}"


@contextmanager
def nothing_wrong(page, address: str) -> Iterator[None]:
    """In the block no request leaves this server, no dialog opens, and the browser has nothing to complain of."""
    wrong: list[str] = []
    here = (f"{address}/", address.replace("http", "ws") + "/", "data:", "blob:")

    def dialog(opened) -> None:
        wrong.append(f"dialog: {opened.message}")
        opened.dismiss()

    def console(said) -> None:
        probe = said.location.get("url", "").endswith(("/_stcore/health", "/_stcore/host-config"))
        if (
            said.type == "error" and not probe
        ):  # Streamlit asks below a page's address first where it is served
            wrong.append(f"console: {said.text} {said.location}")

    page.on("request", lambda one: None if one.url.startswith(here) else wrong.append(f"request: {one.url}"))
    page.on("websocket", lambda one: None if one.url.startswith(here) else wrong.append(f"socket: {one.url}"))
    page.on("pageerror", lambda error: wrong.append(f"error: {error}"))
    page.on("dialog", dialog)
    page.on("console", console)
    yield
    assert wrong == []


@pytest.fixture
def open_page(address, browser_page) -> Iterator[Callable[[str], object]]:
    """Opens a page of the app by its place in the address, and watches it to the end of the test."""
    browser_page.set_viewport_size({"width": 1440, "height": 900})
    browser_page.set_default_timeout(60_000)

    def opened(place: str):
        browser_page.goto(f"{address}/{place}")
        browser_page.locator("g[data-part], .card img").first.wait_for(timeout=60_000)
        return browser_page

    with nothing_wrong(browser_page, address):
        yield opened


@pytest.fixture
def page(open_page):
    """Plan with its drawing."""
    return open_page("plan")
