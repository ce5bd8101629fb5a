"""What several tests share: a browser, and programs that a machine may lack."""

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("no timing is a test", settings(), deadline=None)
settings.load_profile("no timing is a test")

_BROWSER_ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-quic",
]


def _absent(what):
    """Skip with the reason; on a build machine, which must have everything, fail."""
    if os.environ.get("CI"):
        pytest.fail(f"{what} is not installed")
    pytest.skip(f"{what} is not installed")


@pytest.fixture(scope="session")
def program():
    """Path of an installed program by name; skips the test where there is none."""
    return lambda name: shutil.which(name) or _absent(name)


@pytest.fixture(scope="session")
def _browser():
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _absent("playwright")
    with sync_playwright() as playwright:
        own = playwright.chromium.executable_path
        path = shutil.which("chromium") or shutil.which("chromium-browser")
        if path is None and Path(own).exists():
            path = own
        if path is None:
            _absent("chromium")
        browser = playwright.chromium.launch(executable_path=path, args=_BROWSER_ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def browser_page(_browser):
    """Return a fresh page of a real browser, with no cookies or storage from another test."""
    context = _browser.new_context()
    yield context.new_page()
    context.close()
