"""The app's page in a real browser: choose, edit, keyboard, hostile names, and how its server ends."""

from __future__ import annotations

import re
import signal
import socket
import sys

import pytest

pytest.importorskip("streamlit")
pytest.importorskip("playwright")
from playwright.sync_api import expect
from pypdf import PdfReader

from schematic import verbs
from tests.app.serving import REPO, free_port, lapline_app, served
from tests.app.test_foreign import quiet

HOSTILE = "<img src=x onerror=alert(1)>"
THIN = "\u2009"  # between thousands on the sheet
pytestmark = pytest.mark.browser

# The page itself, with a hostile text where a demo would stand: names in every place a file has for them.
HOSTILE_PAGE = """
import runpy
from schematic import verbs

demos = verbs.demos()

def hostile():
    text = demos["brindlewick-4.yaml"]
    for name in ("Brindlewick 4", "hydraulic hanger", "Ostrel shale"):
        text = text.replace(f"name: {{name}}", "name: {hostile!r}")
    return {{"well.yaml": text}}

verbs.demos = hostile
try:
    runpy.run_path({page!r})
finally:
    verbs.demos = lambda: demos
"""


def body(page, part: str):
    """The body of a part in the drawing."""
    return page.locator(f'g[data-part="{part}"]').first


def focused(page) -> str:
    """The name of what has the keyboard, also inside a component."""
    return page.evaluate(
        """() => { let at = document.activeElement;
        while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
        return at.getAttribute('aria-label') ?? at.textContent; }"""
    )


def test_a_click_on_the_hanger_names_it_and_marks_it(page):
    box = body(page, "liner.assembly.7").locator("path").first.bounding_box()
    page.mouse.click(box["x"] + 2, box["y"] + box["height"] / 3)  # on the steel, not in the bore

    page.get_by_role("heading", name="Hydraulic hanger, 9.6 ft").wait_for(timeout=60_000)
    assert page.get_by_text("Carries the liner on slips").is_visible()
    marked = page.locator(".bracket").bounding_box()
    assert marked["x"] <= box["x"]
    assert marked["y"] <= box["y"]
    hanger = page.locator('g[data-part="liner.assembly.7"]').count()  # body and label
    assert page.locator('g[aria-pressed="true"]').count() == hanger == 2

    page.locator(".paper svg").first.click(position={"x": 2, "y": 2})  # bare paper
    page.locator(".bracket").wait_for(state="detached", timeout=60_000)


def test_an_edit_of_the_lap_redraws_and_undo_goes_back(page):
    page.get_by_text(f"9{THIN}480", exact=True).first.wait_for()
    lap = page.get_by_role("textbox", name="Lap, liner top to host shoe")
    lap.fill("420 ft")
    lap.press("Enter")

    page.get_by_text(f"9{THIN}430", exact=True).first.wait_for(timeout=60_000)  # 9 850 less 420
    page.get_by_text("1 change, only in this tab").wait_for()
    # the running string goes along: it still meets the liner top
    assert page.get_by_role("option", name=re.compile("ft too long")).count() == 0
    assert "0 errors" in page.locator(".counts").inner_text().split("\n")

    page.keyboard.press("Alt+z")
    page.get_by_text(f"9{THIN}480", exact=True).first.wait_for(timeout=60_000)


def test_a_finding_is_opened_and_mended_by_keyboard_and_the_next_one_comes(page):
    page.get_by_role("textbox", name="Lap, liner top to host shoe").fill("80 ft")
    page.keyboard.press("Enter")
    page.get_by_role("option", name=re.compile("error a, Lap 80.0 ft")).wait_for(timeout=60_000)
    quiet(page)
    # the running string goes along with the liner top
    assert "1 error" in page.locator(".counts").inner_text().split("\n")
    page.get_by_role("listbox", name="Findings").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")

    page.get_by_role("heading", name="Lap 80.0 ft, least 100 ft").wait_for(timeout=60_000)
    quiet(page)
    assert page.get_by_text("error, 1 of ").is_visible()
    page.get_by_role("button", name="Lap 100 ft").press("Enter")
    page.get_by_text("Gone: Lap 80.0 ft, least 100 ft").wait_for(timeout=60_000)
    quiet(page)
    page.get_by_role("button", name="Undo it").press("Enter")
    page.get_by_text("New: a Lap 80.0 ft, least 100 ft").wait_for(timeout=60_000)
    quiet(page)
    page.get_by_role("button", name="All findings").press("Enter")
    page.get_by_role("option", name=re.compile("error a, Lap 80.0 ft")).wait_for(timeout=60_000)


def test_escape_leaves_an_open_finding_from_it_and_from_the_drawing(page):
    findings = page.get_by_role("listbox", name="Findings")
    second = findings.get_by_role("option").nth(1).get_attribute("aria-label")
    findings.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    opened = page.get_by_role("group", name=second.partition(", ")[2])
    opened.and_(page.locator(":focus")).wait_for(
        timeout=60_000
    )  # what had the keyboard is gone with the list
    page.keyboard.press("Escape")
    findings.wait_for(timeout=60_000)
    page.locator(".rows:focus").wait_for(timeout=60_000)  # the list has it again, at the same finding
    assert findings.locator(".row.at").get_attribute("aria-label") == second

    page.keyboard.press("Enter")
    opened.wait_for(timeout=60_000)  # the list is there until the whole of the finding is
    page.get_by_role("button", name="Next", exact=True).focus()
    page.keyboard.press("Escape")
    findings.wait_for(timeout=60_000)
    quiet(page)

    findings.get_by_role("option").nth(1).click()
    opened.wait_for(timeout=60_000)
    lap = page.get_by_role("textbox", name="Lap, liner top to host shoe")
    lap.fill("380 ft")
    lap.press("Escape")  # of the field, not of the finding
    assert page.get_by_role("button", name="All findings").is_visible()
    body(page, "liner.assembly.7").evaluate("group => group.focus()")
    page.keyboard.press("Escape")
    findings.wait_for(timeout=60_000)


def test_what_is_not_checked_takes_the_place_of_the_findings(page):
    page.get_by_role("button", name=re.compile("not checked")).press("Enter")
    rows = page.get_by_role("listbox", name="Not checked").get_by_role("option")
    rows.first.wait_for(timeout=60_000)
    assert "needs" in rows.first.inner_text()


def test_a_bad_value_keeps_the_drawing(page):
    lap = page.get_by_role("textbox", name="Lap, liner top to host shoe")
    lap.fill("370")
    lap.press("Enter")

    page.get_by_text("Mend: a number without a unit").wait_for(timeout=60_000)
    assert lap.input_value() == "370"
    assert page.get_by_text(f"9{THIN}480", exact=True).first.is_visible()


def test_the_drawing_is_one_tab_stop_and_walked_by_arrow_keys(page):
    assert page.locator('g[data-part][tabindex="0"]').count() == 1

    body(page, "liner.assembly.9").evaluate("group => group.focus()")
    assert focused(page) == "Tie-back receptacle, 10.4 ft"
    page.keyboard.press("ArrowDown")
    assert focused(page) == "Liner top packer, 7.9 ft"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Liner top packer, 7.9 ft").wait_for(timeout=60_000)
    assert focused(page) == "Liner top packer, 7.9 ft"

    page.keyboard.press("Escape")
    page.get_by_text("Choose a part in the drawing").wait_for(timeout=60_000)


def test_by_the_keyboard_alone_a_part_leads_to_its_row_and_a_row_to_its_part(page):
    def tab_to(selector: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.locator(f"{selector}:focus").count():
                return
        raise AssertionError(f"{selector} is not reached")

    tab_to("g[data-part]")
    for _ in range(40):
        if focused(page) == "Hydraulic hanger, 9.6 ft":
            break
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Hydraulic hanger, 9.6 ft").wait_for(timeout=60_000)  # its figures

    tab_to('.st-key-panel [role="radio"]')
    for _ in range(7):
        if focused(page) == "Liner":
            break
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    row = page.get_by_role("row", name=re.compile("Hydraulic hanger"), selected=True)
    row.wait_for(timeout=60_000)  # it is chosen with the part
    tab_to(".rows")
    assert focused(page) == "Liner, to pick from"
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.locator('g[data-part="liner.assembly.8"][aria-pressed="true"]').first.wait_for(timeout=60_000)
    assert body(page, "liner.assembly.7").get_attribute("aria-pressed") == "false"


def test_the_paper_is_white_and_the_drawing_stays_in_a_dark_page(page):
    page.emulate_media(color_scheme="dark")
    page.reload()
    body(page, "liner.assembly.7").wait_for(timeout=60_000)

    colour = "element => getComputedStyle(element).backgroundColor"
    assert page.locator(".paper").evaluate(colour) == "rgb(255, 255, 255)"
    assert page.locator(".stApp").evaluate(colour) == "rgb(20, 25, 28)"  # the theme's dark ground
    page.get_by_text("Not a basis for well-control").last.scroll_into_view_if_needed()
    assert page.locator(".paper").bounding_box()["y"] >= 0


def test_names_from_a_file_run_nothing(browser_page, tmp_path):
    script = tmp_path / "hostile.py"
    script.write_text(HOSTILE_PAGE.format(hostile=HOSTILE, page=str(REPO / "app" / "main.py")))
    port = free_port()
    flags = [f"--server.port={port}", "--server.address=127.0.0.1", "--browser.gatherUsageStats=false"]
    ran: list[str] = []
    asked: list[str] = []
    browser_page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    browser_page.on("request", lambda request: asked.append(request.url))
    with served([sys.executable, "-m", "streamlit", "run", str(script), *flags], port):
        browser_page.goto(f"http://127.0.0.1:{port}/plan")
        hanger = body(browser_page, "liner.assembly.7")
        hanger.wait_for(timeout=60_000)
        hanger.hover(force=True, position={"x": 2, "y": 4})
        hanger.evaluate("group => group.focus()")
        browser_page.keyboard.press("Enter")
        browser_page.get_by_role("heading", name=HOSTILE).nth(1).wait_for(timeout=60_000)  # well and hanger

        assert browser_page.locator(".paper text", has_text="<img").count() >= 1
        assert browser_page.locator("img[src=x]").count() == 0
        assert browser_page.locator("[onerror]").count() == 0
    assert ran == []
    assert not [url for url in asked if url.endswith("/x")]


def test_the_drawing_is_stripped_of_all_that_could_run_or_fetch(browser_page):
    from app import drawing_view

    hostile = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
      viewBox="0 0 9 9" onload="alert(1)">
      <script>alert(1)</script><style>@import "http://127.0.0.1:9/s"; path {fill: red}</style>
      <image href="http://127.0.0.1:9/i" onerror="alert(1)"/><foreignObject><p>x</p></foreignObject>
      <a href="javascript:alert(1)"><text>y</text></a><use href="http://127.0.0.1:9/u#a"/>
      <g data-part="liner" aria-label="Liner" style="background: url(http://127.0.0.1:9/b)"
        onclick="alert(1)"><path d="M0 0L1 1L1 0z" fill="url(http://127.0.0.1:9/f)" xlink:href="#a"/></g></svg>"""
    asked: list[str] = []
    ran: list[str] = []
    browser_page.on("request", lambda request: asked.append(request.url))
    browser_page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    browser_page.set_content(f"<div id='root'>{drawing_view.HTML}</div>")
    kept = browser_page.evaluate(
        """([code, svg]) => {
        const show = new Function(code.replace('export default function', 'return function'))();
        const parentElement = document.querySelector('#root');
        show({ data: [{ pages: [svg], chosen: null }], parentElement, setStateValue() {} });
        return parentElement.querySelector('.paper').innerHTML; }""",
        [drawing_view.JS, hostile],
    )
    browser_page.wait_for_timeout(300)

    assert asked == []
    assert ran == []
    assert 'data-part="liner"' in kept
    for word in ("script", "style", "image", "foreign", "href", "alert", "url(", "127.0.0.1"):
        assert word not in kept


@pytest.mark.parametrize("sign", [signal.SIGINT, signal.SIGTERM])
def test_the_command_ends_its_server_without_a_traceback(sign):
    port = free_port()
    with served(lapline_app(port), port) as server:
        server.send_signal(sign)
        out, err = server.communicate(timeout=20)

    assert server.returncode == 0
    assert "Traceback" not in out + err
    with pytest.raises(ConnectionRefusedError):  # nothing is left behind that still answers
        socket.create_connection(("127.0.0.1", port), timeout=2).close()


def test_the_app_listens_on_this_machine_only():
    port = free_port()
    with served(lapline_app(port), port), pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", port), timeout=2).close()  # answers if all are open


def tab_to(page, name: str) -> None:
    """Press Tab until that has the keyboard."""
    for _ in range(80):
        if focused(page) == name:
            return
        page.keyboard.press("Tab")
    pytest.fail(f"{name} is not reached by Tab")


def test_the_keyboard_alone_walks_the_steps_keeps_three_readings_and_gets_the_report(open_page):
    page = open_page("run")
    cards = verbs.steps(verbs.load_text(verbs.demos()["brindlewick-4.yaml"]))
    step = page.locator(".st-key-step input")
    for card in cards:
        expect(step).to_have_value(f"{card.number}  {card.title}")
        quiet(page)  # the keys are the new card's
        if card.code == "set-the-hanger":
            for label, value in (
                ("pins at, psi", "1520"),
                ("held at, psi", "1700 psi"),
                ("hook load, klbf", "230"),
            ):
                tab_to(page, label)
                page.keyboard.type(value)
            page.keyboard.press("PageDown")  # not while something is typed
            tab_to(page, "Keep readings")
            page.keyboard.press("Enter")
            for value in ("1520 psi", "1700 psi", "230 klbf"):
                page.get_by_role("cell", name=value, exact=True).first.wait_for()
            expect(step).to_have_value(f"{card.number}  {card.title}")
            quiet(page)
            page.keyboard.press("PageUp")
            expect(step).to_have_value(re.compile(f"^{card.number - 1} "))
            quiet(page)
            page.keyboard.press("PageDown")
            expect(step).to_have_value(re.compile(f"^{card.number} "))
            quiet(page)
        if card is not cards[-1]:
            page.keyboard.press("PageDown")

    quiet(page)
    tab_to(page, "Hand over")
    page.keyboard.press("Enter")
    page.get_by_role("radio", name="csv").or_(page.get_by_role("radio", name="svg")).first.wait_for()
    for _ in range(80):
        if page.evaluate("document.activeElement.type === 'radio' && document.activeElement.checked"):
            break
        page.keyboard.press("Tab")
    chosen = page.get_by_test_id("stRadio").locator("label", has=page.locator("input:checked"))
    for _ in range(20):
        if chosen.inner_text() == "Planned and recorded":
            break
        page.keyboard.press("ArrowDown")
        page.wait_for_timeout(300)
    page.get_by_role("radio", name="csv").wait_for()
    quiet(page)
    tab_to(page, "Download this")
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    made = PdfReader(download.value.path())
    assert "1520 psi" in " ".join(one.extract_text() for one in made.pages).replace(THIN, "")


def test_the_box_of_a_volume_and_the_scrubber_agree(open_page):
    page = open_page("run")
    step = page.locator(".st-key-step input")
    step.fill("Dart meets")
    page.get_by_role("option", name="Dart meets the plug").click()
    expect(step).to_have_value(re.compile("Dart meets the plug"))
    page.get_by_text("Pump through").click()
    box, scrubber = page.get_by_role("textbox", name="Pumped, bbl"), page.get_by_role("slider")
    expect(box).to_have_value("0.00")  # from the dart, as the card counts
    for typed in ("155.3", "24.69 m3"):  # 24.69 / 0.158987 = 155.3
        box.fill(typed)
        box.press("Enter")
        expect(box).to_have_value("155.3")
        expect(scrubber).to_have_attribute("aria-valuetext", re.compile(r"155\.3.bbl from the dart"))
        page.get_by_text(re.compile(r"Dart meets plug in 4\.\d+.bbl")).wait_for()
        scrubber.press("Home")
        expect(page.get_by_role("combobox", name="Counted from")).to_have_value("dart")
        expect(box).to_have_value("")  # before the dart
    page.get_by_role("combobox", name="Counted from").select_option("job")
    expect(box).to_have_value("0.00")
    box.fill("9999")
    box.press("Enter")
    page.get_by_text(re.compile("is beyond the bump, at 430")).wait_for()
    expect(box).to_have_value("9999")
    scrubber.press("End")
    expect(box).to_have_value(re.compile(r"430\.\d"))
    expect(page.get_by_text("is beyond the bump")).to_have_count(0)


def test_what_was_typed_and_not_kept_outlives_the_next_click_whatever_it_is(open_page):
    page = open_page("run")
    step, travel = (
        page.locator(".st-key-step input"),
        page.get_by_role("textbox", name="travel, ft", exact=True),
    )
    step.fill("Set the hanger")
    page.get_by_role("option", name="Set the hanger").first.click()
    pins = page.get_by_role("textbox", name="pins at, psi", exact=True)
    pins.fill("1520")
    travel.fill("2")
    page.get_by_role("button", name="Done, go to").click()  # with the cursor still in the box
    expect(step).not_to_have_value(re.compile("Set the hanger"))
    pins.wait_for(state="detached")
    page.get_by_role("button", name=re.compile("^Back")).click()
    expect(step).to_have_value(re.compile("Set the hanger"))
    expect(pins).to_have_value("1520")
    expect(travel).to_have_value("2")

    travel.fill("2.5")
    travel.press("Tab")
    page.get_by_text("Typed, not kept yet: pins at 1520, travel 2.5").wait_for()
    quiet(page)
    page.get_by_role("link", name="Plan", exact=True).click()
    page.get_by_role("textbox", name="Lap, liner top to host shoe").wait_for()
    quiet(page)
    page.get_by_role("link", name="Run", exact=True).click()
    expect(pins).to_have_value("1520")
    expect(travel).to_have_value("2.5")
    page.get_by_role("button", name="Keep readings").click()
    page.get_by_role("cell", name="2.5 ft", exact=True).first.wait_for()
    expect(pins).to_have_value("")


def more_of(page, name: str) -> str:
    """What stands beside a list of that name about what of it is seen."""
    return page.get_by_label(name, exact=True).locator("xpath=../*[@class='more']").inner_text()


def test_what_is_hidden_in_lists_and_tables_is_told_beside_them(page):
    count = page.get_by_role("listbox", name="Findings").get_by_role("option").count()
    assert more_of(page, "Findings") == f"\u25be 8 of {count} rows seen: scroll for the rest"
    page.set_viewport_size({"width": 1024, "height": 768})
    page.get_by_role("radio", name="Fluids", exact=True).click()
    name = "Fluids, to pick from"
    box = page.get_by_label(name, exact=True)
    box.locator("th").first.wait_for()
    heads = box.locator("th").count()
    expect(page.get_by_text(re.compile(rf"\d of {heads} columns seen"))).to_be_visible()
    seen = int(re.search(r"(\d+) of", more_of(page, name))[1])
    last = box.locator("th").nth(seen - 1).bounding_box()
    edge = box.bounding_box()
    assert last["x"] + last["width"] <= edge["x"] + edge["width"] + 2
    cut = box.locator("th").nth(seen).bounding_box()
    assert cut["x"] + cut["width"] > edge["x"] + edge["width"]
    page.get_by_role("radio", name="Type in rows").click()
    page.get_by_text("More \u25b8 columns to the right: scroll for the rest").wait_for()
    page.get_by_role("radio", name="Pick rows").click()
    page.set_viewport_size({"width": 3600, "height": 900})
    expect(page.get_by_text("columns seen")).to_have_count(0)


@pytest.mark.parametrize(
    ("place", "action"),
    [("run", "Done, go to 2"), ("compare", "New option from this one"), ("plan", "Look at finding a")],
)
def test_the_next_action_is_in_sight_wherever_the_page_is_scrolled_to(open_page, place, action):
    page = open_page(place)
    page.set_viewport_size({"width": 1024, "height": 768})
    quiet(page)
    main = page.get_by_test_id("stMain")
    assert main.evaluate("main => main.scrollHeight - main.clientHeight") > 100
    for far in (0, 0.5, 1):
        main.evaluate("(main, far) => { main.scrollTop = far * main.scrollHeight; }", far)
        expect(page.get_by_role("button", name=re.compile(action))).to_be_in_viewport(ratio=1)


def test_the_next_card_is_read_from_its_top(open_page):
    page = open_page("run")
    page.set_viewport_size({"width": 1024, "height": 768})
    quiet(page)
    main = page.get_by_test_id("stMain")
    main.evaluate("main => { main.scrollTop = main.scrollHeight; }")
    assert main.evaluate("main => main.scrollTop") > 100
    page.get_by_role("button", name="Done, go to 2").click()
    page.get_by_role("button", name="Done, go to 3").wait_for()
    quiet(page)

    assert main.evaluate("main => main.scrollTop") == 0


def test_an_open_finding_keeps_its_way_on_in_sight(page):
    page.get_by_role("listbox", name="Findings").get_by_role("option").first.click()
    way_on = page.get_by_role("button", name="Next", exact=True)
    way_on.wait_for()
    quiet(page)
    page.get_by_test_id("stMain").evaluate("main => { main.scrollTop = main.scrollHeight; }")
    expect(way_on).to_be_in_viewport(ratio=1)
