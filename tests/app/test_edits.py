"""No edit is lost and no figure is stale: quick edits, edits while the page works, tabs, a reload, a restart."""

from __future__ import annotations

import re

import pytest

pytest.importorskip("streamlit")
pytest.importorskip("playwright")
from playwright.sync_api import expect

from schematic import verbs
from schematic.wellfile import edit
from tests.app.serving import free_port, lapline_app, served
from tests.app.test_foreign import quiet
from tests.app.test_ways import saved, shows
from tests.app.told import TEXT, told_by_verbs, with_lap

pytestmark = pytest.mark.browser
LAP = "Lap, liner top to host shoe"


def lap(page, value: str) -> None:
    """Type a lap."""
    field = page.get_by_role("textbox", name=LAP)
    field.fill(value)
    field.press("Enter")


def test_ten_quick_edits_in_a_row_are_all_kept(page):
    laps = [f"{feet} ft" for feet in range(381, 391)]
    for value in laps:  # without a wait between them
        lap(page, value)
    last = told_by_verbs(with_lap(laps[-1]))
    shows(page, last, "drawing", "counts", "findings", "figures")
    quiet(page)  # the bar of the run before has gone
    assert verbs.load_text(saved(page, "Download").decode()).content.liner.lap.text == "390 ft"
    expect(page.get_by_role("textbox", name=LAP)).to_have_value("390 ft")

    undo, told = page.get_by_role("button", name=re.compile("^Undo(?! it)")), told_by_verbs(TEXT)
    for _ in laps:
        if undo.is_disabled():
            break
        text = page.get_by_role("textbox", name=LAP).input_value()
        undo.click()
        expect(page.get_by_role("textbox", name=LAP)).not_to_have_value(text)
        quiet(page)
    shows(page, told, "drawing", "counts", "findings", "figures")


def test_what_is_typed_while_the_page_works_stays(page):
    page.get_by_role("textbox", name=LAP).fill("420 ft")
    page.keyboard.press("Tab")  # begins a run; the next field is typed into at once
    excess = page.locator(".st-key-excess input")
    excess.click()
    page.keyboard.press("Control+a")
    page.keyboard.type("35 %", delay=60)
    page.locator(".paper text", has_text="9\u2009430").first.wait_for()
    page.wait_for_timeout(300)  # the end of the run that was begun
    expect(excess).to_have_value("35 %")
    page.keyboard.press("Enter")

    text = edit.set(with_lap("420 ft"), "cement.excess.open hole", "35 %")
    shows(page, told_by_verbs(text), "drawing", "counts", "findings", "figures")
    assert saved(page, "Download").decode() == text


def test_the_drawing_and_what_stands_beside_it_are_of_the_same_text(page):
    """In a pause between two runs drawing, findings and figures are of one text, whatever was pressed before."""
    told = {value: told_by_verbs(with_lap(value)) for value in ("420 ft", "150 ft", "380 ft")}
    for value, expected in told.items():
        lap(page, value)
        page.get_by_role("radiogroup", name="View").get_by_role("radio", name="True scale").click()
        quiet(page)
        page.get_by_role("radiogroup", name="View").get_by_role("radio", name="Fitted depths").click()
        shows(page, expected, "drawing", "counts", "findings", "figures")


def test_two_tabs_do_not_see_each_others_wells(page, address):
    other = page.context.new_page()
    other.goto(f"{address}/plan")
    other.locator("g[data-part]").first.wait_for()
    lap(page, "420 ft")
    page.locator(".paper text", has_text="9\u2009430").first.wait_for()
    lap(other, "320 ft")
    other.locator(".paper text", has_text="9\u2009530").first.wait_for()
    assert page.locator(".paper text", has_text="9\u2009530").count() == 0
    lap(page, "421 ft")
    page.locator(".paper text", has_text="9\u2009429").first.wait_for()
    assert saved(other, "Download").decode() == with_lap("320 ft")
    assert saved(page, "Download").decode() == with_lap("421 ft")


def test_edits_outlive_a_reload_and_a_server_that_ends_and_starts_again(browser_page, tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text(TEXT)
    port = free_port()
    address = f"http://127.0.0.1:{port}"
    page = browser_page
    page.set_default_timeout(60_000)
    draft = tmp_path / ".mine.yaml.draft"
    with served([*lapline_app(port), str(file)], port):
        page.goto(f"{address}/plan")
        lap(page, "420 ft")
        page.get_by_text("1 change, draft kept").wait_for()
        page.reload()
        page.get_by_role("button", name="Go on with it").click()
        page.get_by_text("1 change, draft kept").wait_for()
        page.locator(".paper text", has_text="9\u2009430").first.wait_for()
        lap(page, "425 ft")
        page.get_by_text("2 changes, draft kept").wait_for()
    # killed: the page still stands there, and the next server is asked at the next touch
    assert draft.read_text() == with_lap("425 ft")
    with served([*lapline_app(port), str(file)], port):
        page.get_by_role("radiogroup", name="Panel").get_by_role("radio", name="Part").click()
        page.get_by_role("button", name="Go on with it").click()
        page.locator(".paper text", has_text="9\u2009425").first.wait_for()
        assert page.get_by_test_id("stException").count() == 0
    assert file.read_text() == TEXT
