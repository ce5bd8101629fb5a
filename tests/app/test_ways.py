"""What users come for, each from its first step to its end, in a browser."""

from __future__ import annotations

import re
import subprocess
import time
from contextlib import suppress

import pytest

pytest.importorskip("playwright")
pytest.importorskip("streamlit")
from playwright.sync_api import expect

from app import inspector, start, tables
from schematic import verbs
from schematic.wellfile.read import Document
from tests.app.test_foreign import quiet
from tests.app.told import BRINDLEWICK, TEXT, told_by_verbs, told_on_plan

pytestmark = pytest.mark.browser

# of each table a row, a column, and what is typed there
EDITS = {
    "Liner": (7, "length", "12.6 ft"),
    "Strings": (2, "pipe", "9 5/8 in 53.5 lb/ft L-80"),
    "Hole": (2, "bit", "8 3/4 in"),
    "Survey": (3, "inc", "9 deg"),
    "Rock tops": (1, "md", "9990 ft"),
    "Pore and fracture pressure": (3, "fracture", "14.9 ppg"),
    "Leak-off tests": (0, "emw", "14.5 ppg"),
    "Running string": (4, "length", "9060 ft"),
    "Tests": (0, "surface pressure", "9000 psi"),
    "Fluids": (0, "density", "12.9 ppg"),
    "Slurries": (0, "fluid", "mud"),
    "Pumping schedule": (2, "volume", "120 bbl"),
}
PLACES = [(panel, rows) for panel, places in tables.PANELS.items() for rows in places
          if isinstance(rows, tables.Rows)]  # fmt: skip
_FIRST_CELL = 116  # across; left of it are the box that marks the row, and its number
_ROW = 29


def shows(page, expected: dict[str, list[str]], *parts: str) -> None:
    """Wait until the page tells what the verbs tell, of the drawing and all beside it at one moment."""
    found: dict[str, list[str]] = {}
    for _ in range(600):
        found = told_on_plan(page)
        if all(found[part] == expected[part] for part in parts):
            return
        time.sleep(0.1)
    for part in parts:
        assert found[part] == expected[part]


def turn_to(page, panel: str) -> None:
    """Another panel of Plan."""
    page.get_by_role("radiogroup", name="Panel").get_by_role("radio", name=panel, exact=True).click()


def pick(page, key: str, option: str) -> None:
    """Pick an option of a select box by typing it."""
    field = page.locator(f".st-key-{key} input")
    field.wait_for()
    if field.input_value() == option:
        return
    field.click()
    field.fill(option)
    page.get_by_role("option", name=option, exact=True).first.click()


def type_cell(page, document: Document, rows: tables.Rows, row: int, column: str, typed: str) -> None:
    """Type into a cell of the grid on screen."""
    heads = tables.columns_to_type_in(rows, tables.records(document, rows))
    held = tables.records(document, rows)[row].get(column, "")
    mine = page.locator(f'[aria-label="Add row: {rows.title}, to type in"]')
    grid = page.get_by_test_id("stDataFrame").filter(has=mine).locator("canvas").first
    grid.scroll_into_view_if_needed()
    field = page.locator("#portal input, #portal textarea").first
    for _ in range(20):  # what is pressed before the grid is there goes astray
        box = grid.bounding_box()
        page.mouse.click(box["x"] + _FIRST_CELL, box["y"] + _ROW * (row + 1) + _ROW / 2)
        for _ in range(heads.index(column)):
            page.keyboard.press("ArrowRight")
        page.keyboard.press("Enter")
        with suppress(AssertionError):
            expect(field).to_have_value(held, timeout=1000)
            break
        page.keyboard.press("Escape")
    field.fill(typed)
    page.keyboard.press("Enter")


def saved(page, button: str) -> bytes:
    """The file that a button gives."""
    quiet(page)
    with page.expect_download(timeout=60_000) as download:
        page.get_by_role("button", name=button, exact=True).click()
    return download.value.path().read_bytes()


def test_an_edit_in_each_table_and_the_same_in_the_inspector_change_all_alike(open_page):
    assert set(EDITS) == {rows.title for _panel, rows in PLACES}
    before, text = told_by_verbs(TEXT), TEXT
    steps = []
    for panel, rows in PLACES:  # one edit upon the other
        document = verbs.load_text(text, BRINDLEWICK)
        row, column, typed = EDITS[rows.title]
        loc = (*rows.loc, tables._steps(document.root, rows.loc)[row])
        field = next(one for one in inspector.fields(document, loc) if one.label == column)
        text = inspector.with_value(text, field, typed)
        expected = told_by_verbs(text)
        assert before["drawing"] != expected["drawing"], rows.title
        steps.append((panel, rows, document, loc, field, typed, expected))
    assert all(before[part] != expected[part] for part in before)

    page = open_page("plan")
    turn_to(page, "Hole")
    page.get_by_role("radio", name="Type in rows").click()
    for panel, rows, document, _loc, field, typed, expected in steps:
        turn_to(page, panel)
        if len(tables.PANELS[panel]) > 1:
            pick(page, f"table-{panel}", rows.title)
        type_cell(page, document, rows, EDITS[rows.title][0], field.label, typed)
        shows(page, expected, "drawing", "counts", "findings")
    turn_to(page, "Depths")
    shows(page, expected, "drawing", "counts", "findings", "figures")
    assert saved(page, "Download").decode() == text

    page = open_page("plan")  # the well as it was
    turn_to(page, "Part")
    for _panel, _rows, document, loc, field, typed, expected in steps:
        these = inspector.choices(document, verbs.check(document).plan)
        pick(page, "part-chosen", next(one.name for one in these if one.loc == loc))
        key = re.sub(r"\W", "-", inspector._key(document, field))
        box = page.locator(f".st-key-{key} input")
        expect(box).to_have_value(field.text, timeout=60_000)
        box.fill(typed)
        if field.label == "pipe":
            box.press("Enter")
        quiet(page)  # what is pressed while the page moves under the hand may go astray
        path = re.sub(r"\W", "-", next(one.path for one in these if one.loc == loc))
        page.locator(f".st-key-change-{path} button").click()  # another part's may be there for a moment
        shows(page, expected, "drawing", "counts", "findings")
    turn_to(page, "Depths")
    shows(page, expected, "drawing", "counts", "findings", "figures")
    assert saved(page, "Download").decode() == text


def test_ten_inputs_become_a_sheet(open_page, program, tmp_path):
    page = open_page("")
    page.get_by_role("button", name="Sketch a well").click()
    for number, field in enumerate(start.FIELDS, 1):
        page.get_by_role("textbox", name=f"{number} {field.label}", exact=True).fill(field.example)
    page.get_by_role("button", name="Draw it").click()
    page.locator(".paper text", has_text="Quill 7").first.wait_for()
    page.get_by_role("button", name="Plan with it").click()
    page.get_by_role("heading", name="Quill 7").wait_for()

    file = tmp_path / "sheet.pdf"
    quiet(page)
    page.get_by_role("link", name="Hand over").first.click()
    page.get_by_role("button", name="Download this").wait_for()
    file.write_bytes(saved(page, "Download this"))
    read = subprocess.run(
        [program("pdftotext"), file, "-"], capture_output=True, text=True, check=True
    ).stdout
    for figure in ("Quill 7", "9 480", "12 590", "9 5/8 in"):
        assert figure in read.replace("\u2009", " "), figure
    typed = verbs.load_text(saved(page, "Download").decode()).content
    assert (typed.liner.lap.text, typed.cement.planned_top.text) == ("370 ft", "9280 ft")


def test_an_option_is_made_compared_adopted_and_undone(open_page):
    page = open_page("compare")
    page.get_by_role("button", name="New option from this one ...").click()
    page.get_by_role("textbox", name="Name", exact=True).fill("short lap")
    page.get_by_role("textbox", name="to", exact=True).fill("320 ft")
    page.get_by_role("button", name="Keep as an option").click()
    pressed = page.locator('.card[aria-pressed="true"]')
    expect(pressed).to_have_attribute("data-option", "3")  # the option that was made is chosen
    expect(pressed).to_contain_text("Short lap")
    page.locator("td.chosen", has_text=re.compile(r"^9.530")).first.wait_for()

    page.locator("td", has_text=re.compile(r"^9.700")).first.click()  # a cell chooses its column
    expect(pressed).to_have_attribute("data-option", "1")
    page.get_by_text("What decides: lap of 150 ft").wait_for()
    page.locator(".card").nth(3).click()
    expect(pressed).to_have_attribute("data-option", "3")
    page.get_by_role("button", name="Adopt").click()
    page.get_by_text("2 changes, only in this tab").wait_for()
    quiet(page)
    page.get_by_role("link", name="Plan", exact=True).click()
    page.locator(".paper text", has_text="9\u2009530").first.wait_for()
    adopted = told_on_plan(page)

    page.get_by_role("button", name="Undo").click()
    page.locator(".paper text", has_text="9\u2009480").first.wait_for()
    shows(page, told_by_verbs(TEXT), "counts", "findings")
    assert told_on_plan(page)["drawing"] != adopted["drawing"]
    quiet(page)
    page.get_by_role("link", name="Compare", exact=True).click()
    page.locator(".card", has_text="Short lap").wait_for()  # the option itself is still there


LEAST_LETTER_PX = """svg => Math.min(...[...svg.querySelectorAll('text')].map(
  text => text.getAttribute('font-size') * svg.getScreenCTM().a))"""
LIMITS = {4: ("Hook load limit", False), 14: ("Slack off limit", True)}  # by mouse, by keyboard
READ = {8: ("pick up", "331 klbf"), 10: ("volume", "172.4 bbl"), 20: ("bumped at", "251.3 bbl")}


def test_all_steps_are_walked_with_three_readings_and_the_report_is_exported(open_page):
    page = open_page("run")
    cards = verbs.steps(verbs.check(verbs.load_text(TEXT)))
    for card in cards:
        box = page.locator(".st-key-step input")
        expect(box).to_have_value(f"{card.number}  {card.title}")
        expect(
            page.get_by_role("list", name="Now, next, never exceed").get_by_role("listitem")
        ).to_have_count(3)
        if card.number in READ:
            quiet(page)  # the boxes are this card's
            head, value = READ[card.number]
            label = f"{head}, {value.split()[1]}"
            page.locator(".st-key-readings").get_by_role("textbox", name=label, exact=True).fill(value)
            page.get_by_role("button", name="Keep readings").click()
            page.locator("td", has_text=value.partition(" ")[0]).first.wait_for()
        if card.number in LIMITS:  # a limit that waits for an input leads to its field
            field, by_keys = LIMITS[card.number]
            led = page.get_by_role("button", name=f"{field} (Installation)").first
            quiet(page)
            if by_keys:
                led.focus()
                page.keyboard.press("Enter")
            else:
                led.click()
            expect(page.get_by_role("textbox", name=field, exact=True)).to_be_focused()
            quiet(page)
            page.get_by_role("link", name="Run", exact=True).click()
            expect(box).to_have_value(f"{card.number}  {card.title}")
            quiet(page)
        if card is not cards[-1]:
            way_on = "Done" if card.released else "Leave on hold"
            page.get_by_role("button", name=f"{way_on}, go to {card.number + 1}").click()
    quiet(page)
    page.get_by_role("button", name="Done, hand over").click()

    ways = page.get_by_role("radiogroup", name="What")
    ways.get_by_role("radio", name="Planned and recorded").click()
    page.locator("td", has_text="251.3").first.wait_for()
    ways.get_by_role("radio", name="Files").click()
    page.get_by_test_id("stRadioGroup").get_by_text("Planned and recorded").click()
    page.get_by_role("radio", name="csv").click()
    page.get_by_text("recorded", exact=False).first.wait_for()
    report = saved(page, "Download this").decode()
    for _head, value in READ.values():
        assert value.partition(" ")[0] in report
    page.set_viewport_size({"width": 1024, "height": 768})
    ways.get_by_role("radio", name="Since revision 2").click()
    both = page.locator(".paper svg")
    both.get_by_text("What changed", exact=True).wait_for()
    assert both.evaluate(LEAST_LETTER_PX) >= 9.0
    page.get_by_text("3 changes, only in this tab").wait_for()


def test_a_broken_file_tells_its_problems_by_line_and_loses_nothing(open_page):
    page = open_page("")
    broken = TEXT.replace("lap: 370 ft", "lapp: 370 ft # mine").replace("12.6 ppg, base", "12.6 pgp, base")
    lines = [number for number, line in enumerate(broken.split("\n"), 1) if "lapp" in line or "pgp" in line]
    page.locator("input[type=file]").set_input_files(
        {"name": "mine.yaml", "mimeType": "application/yaml", "buffer": broken.encode()}
    )
    for line in lines:
        page.get_by_role("heading", name=f"Line {line}: ").wait_for()
    area = page.get_by_role("textbox", name="Text of the well file")
    assert area.input_value() == broken
    page.get_by_role("button", name="Read again").click()
    quiet(page)  # a page that is asked for within the run of another press may not come
    page.get_by_role("link", name="Run", exact=True).click()  # every page shows the text until it reads
    page.wait_for_url("**/run")
    quiet(page)
    page.get_by_role("heading", name=f"Line {lines[0]}: ").wait_for()
    assert saved(page, "Download as it is") == broken.encode()

    area.fill(broken.replace("lapp:", "lap:"))
    page.get_by_role("heading", name=f"Line {lines[0]}: ").wait_for(state="detached")
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("heading", name=f"Line {lines[0]}: ").wait_for()
    expect(area).to_have_value(broken)  # the box is drawn anew after the problems
    area.fill(broken.replace("lapp:", "lap:").replace("pgp", "ppg"))
    page.get_by_role("button", name="Read again").click()
    page.get_by_role("list", name="Now, next, never exceed").wait_for()
    assert saved(page, "Download") == TEXT.replace("lap: 370 ft", "lap: 370 ft # mine").encode()
