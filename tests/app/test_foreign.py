"""What comes from elsewhere: texts of a file that would be markup, and pages that are not this machine's own."""

from __future__ import annotations

import http.client
import json
import re

import pytest

pytest.importorskip("streamlit")
pytest.importorskip("playwright")
from playwright.sync_api import expect

from app import tables
from tests.test_hostile_names import hostile

HOSTILE = (
    '<script>alert(1)</script>"><img src=x onerror=alert(2)>[x](javascript:alert(3))'
    "$\\href{javascript:alert(4)}{y}$**bold** "
)
NAME = '"><img src=x onerror=alert(5)>**bold**.yaml'

# all that a hostile text could have become, in the page and in the components
BECAME = """() => {
  const found = [], roots = [document];
  for (const root of roots) {
    for (const one of root.querySelectorAll('*')) {
      if (one.shadowRoot) roots.push(one.shadowRoot);
      if (['script', 'iframe', 'object', 'embed'].includes(one.localName)
          && /alert/.test(one.textContent)) found.push(one.outerHTML);
      if (one.localName === 'img' && !/^data:/.test(one.src)) found.push(one.outerHTML);
      if (one.localName === 'a' && /^javascript/i.test(one.href)) found.push(one.outerHTML);
      if (['strong', 'b', 'em'].includes(one.localName) && one.textContent === 'bold') found.push(one.outerHTML);
      if (one.localName !== 'math' && /katex/.test(one.className?.baseVal ?? one.className)) found.push('katex');
      for (const own of one.attributes) if (/^on/i.test(own.name)) found.push(one.outerHTML);
    }
  }
  return found.map(text => text.slice(0, 200));
}"""


def clean(page) -> None:
    """Nothing on the page came of a hostile text."""
    page.wait_for_timeout(100)
    assert page.evaluate(BECAME) == []


def quiet(page) -> None:
    """Wait for the end of a run."""
    page.wait_for_timeout(150)  # what was clicked begins a run
    page.locator('.stApp[data-test-script-state="notRunning"]').wait_for()
    assert page.get_by_test_id("stException").count() == 0


@pytest.mark.browser
def test_every_text_of_a_file_is_text_on_every_page(open_page):
    page = open_page("")
    file = {"name": NAME, "mimeType": "application/yaml", "buffer": hostile(HOSTILE).encode()}
    page.locator("input[type=file]").set_input_files(file)
    page.locator(".paper text", has_text="<script>alert(1)</script>").first.wait_for()
    clean(page)

    page.get_by_test_id("stTopNavLink").get_by_text("Plan", exact=True).click()
    page.get_by_role("heading", name=f"{HOSTILE}Brindlewick 4").wait_for()
    clean(page)
    field = page.get_by_role("textbox", name="Lap, liner top to host shoe")
    field.fill("<script>alert(6)</script> **bold**")
    field.press("Enter")
    page.get_by_text("<script>alert(6)</script> **bold**").first.wait_for()
    clean(page)
    field.fill("400 ft")
    field.press("Enter")
    page.get_by_text("1 change, only in this tab").wait_for()
    quiet(page)
    page.mouse.move(2, 300)
    page.get_by_role("button", name="Undo").hover()
    page.get_by_test_id("stTooltipContent").wait_for()
    clean(page)
    panels = page.get_by_role("radiogroup", name="Panel")
    for panel, places in tables.PANELS.items():
        panels.get_by_role("radio", name=panel, exact=True).click()
        quiet(page)
        for place in places if len(places) > 1 else ():
            page.locator(f".st-key-table-{panel} input").click()
            name = place.title if isinstance(place, tables.Rows) else place.name
            page.get_by_role("option", name=name, exact=True).click()
            quiet(page)
            clean(page)
    panels.get_by_role("radio", name="Part", exact=True).click()
    page.locator(".st-key-part-chosen input").click()
    clean(page)  # the list of parts
    page.get_by_role("option", name="<script>").first.click()
    quiet(page)
    hanger = page.locator('g[data-part="liner.assembly.7"]').first
    hanger.hover(force=True, position={"x": 2, "y": 4})
    hanger.evaluate("group => group.focus()")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name=f"{HOSTILE}hydraulic hanger").wait_for()
    page.get_by_role("listbox", name="Findings").get_by_role("option").first.click()
    page.get_by_role("button", name="All findings").wait_for()
    quiet(page)
    clean(page)

    page.get_by_test_id("stTopNavLink").get_by_text("Compare", exact=True).click()
    page.get_by_role("button", name="Adopt").wait_for()
    clean(page)

    page.get_by_test_id("stTopNavLink").get_by_text("Run", exact=True).click()
    page.get_by_role("list", name="Now, next, never exceed").wait_for()
    while True:
        clean(page)
        onward = page.get_by_role("button", name=re.compile("^(Done|Leave on hold), go to"))
        if not onward.count():
            break
        title = page.locator(".st-key-step input").input_value()
        onward.click()
        expect(page.locator(".st-key-step input")).not_to_have_value(title)
        quiet(page)
    page.get_by_role("button", name="Shoe not on depth ...").click()
    page.get_by_role("textbox", name="Measured depth").fill("12090 ft")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Run with the shoe at").wait_for()
    clean(page)
    page.keyboard.press("Escape")

    page.get_by_test_id("stTopNavLink").get_by_text("Learn", exact=True).click()
    for way in ("Take apart", "Watch it work", "Practise"):
        page.get_by_role("radio", name=way).click()
        quiet(page)
        clean(page)
    page.get_by_role("button", name="Hint").click()
    quiet(page)
    clean(page)

    page.get_by_test_id("stTopNavLink").get_by_text("Hand over", exact=True).click()
    for what in ("Planned and recorded", "Files"):
        page.get_by_role("radiogroup", name="What").get_by_role("radio", name=what).click()
        quiet(page)
        clean(page)


@pytest.mark.browser
def test_a_hostile_file_that_does_not_read_is_text_too(open_page):
    page = open_page("")
    broken = json.dumps(
        {"lapline": 1, HOSTILE: 1, "well": {"name": 1, "<img src=x onerror=alert(1)>": "**bold**"}}
    )
    page.locator("input[type=file]").set_input_files(
        {"name": NAME, "mimeType": "application/yaml", "buffer": broken.encode()}
    )
    page.get_by_role("heading", name="Line 1: ").first.wait_for()
    clean(page)


def _answer(address: str, path: str, **headers: str) -> int:
    """The status that a request with these headers alone gets."""
    server = http.client.HTTPConnection(address.removeprefix("http://"), timeout=10)
    server.putrequest("GET", path, skip_host=True)
    for name, value in headers.items():
        server.putheader(name.replace("_", "-"), value)
    server.endheaders()
    status = server.getresponse().status
    server.close()
    return status


SOCKET = {
    "Upgrade": "websocket",
    "Connection": "Upgrade",
    "Sec_WebSocket_Key": "dGhlIHNhbXBsZSBub25jZQ==",
    "Sec_WebSocket_Version": "13",
}


@pytest.mark.parametrize(
    ("path", "more", "granted"),
    [("/", {}, 200), ("/_stcore/host-config", {}, 200), ("/_stcore/stream", SOCKET, 101)],
)
def test_foreign_host_and_origin_are_refused(address, path, more, granted):
    here = address.removeprefix("http://")
    port = here.partition(":")[2]
    assert _answer(address, path, Host=here, **more) == granted
    assert _answer(address, path, Host=here, Origin=address, **more) == granted
    for headers in (
        {"Host": "wells.example"},
        {"Host": f"wells.example:{port}"},
        {"Host": f"127.0.0.1.wells.example:{port}"},
        {"Host": f"127.0.0.1@wells.example:{port}"},
        {},
        {"Host": here, "Origin": "http://wells.example"},
        {"Host": here, "Origin": "null"},
        {"Host": here, "Origin": "http://127.0.0.1:9"},
        {"Host": "wells.example", "Origin": "http://wells.example"},
    ):
        assert _answer(address, path, **headers, **more) in (400, 403), headers
