"""Whoever cannot see well or holds no mouse: names for a screen reader, contrast, the keyboard."""

from __future__ import annotations

import re

import pytest

pytest.importorskip("streamlit")
pytest.importorskip("playwright")
from playwright.sync_api import expect

from app import start, tables
from tests.app.test_browser import focused
from tests.app.test_foreign import quiet
from tests.app.test_learn import tab_to

pytestmark = pytest.mark.browser
INPUTS = {
    "textbox",
    "searchbox",
    "combobox",
    "slider",
    "spinbutton",
    "button",
    "radio",
    "checkbox",
    "link",
    "switch",
}
LEAST = 4.5
LEAST_EDGE = 3.0  # WCAG 2, 1.4.11

_COLOURS = """
  const rgba = text => { const n = (text.match(/[\\d.]+/g) ?? [0, 0, 0, 0]).map(Number);
    const s = text.startsWith('color(srgb') ? 255 : 1; return [n[0] * s, n[1] * s, n[2] * s, n[3] ?? 1]; };
  const over = (top, under) => [0, 1, 2].map(i => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
  const light = c => { const [r, g, b] = c.map(v => { v /= 255;
    return v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; }); return .2126 * r + .7152 * g + .0722 * b; };
  const parent = one => one.assignedSlot ?? one.parentElement ?? one.getRootNode().host ?? null;
  const stylesOf = one => { const chain = [];
    for (let at = one; at; at = parent(at)) chain.push(getComputedStyle(at));
    return chain; };
  const groundOf = chain => [...chain].reverse().reduce(
    (ground, style) => over(rgba(style.backgroundColor), ground), [255, 255, 255, 1]);
  const ratioOf = (ink, ground) => {
    const [a, b] = [light(over(ink, ground)), light(ground)];
    return (Math.max(a, b) + .05) / (Math.min(a, b) + .05); };
  const everything = function* () { const roots = [document];
    for (const root of roots) for (const one of root.querySelectorAll('*')) {
      if (one.shadowRoot) roots.push(one.shadowRoot);
      if (!one.ownerSVGElement && one.getBoundingClientRect().width
          && one.checkVisibility({ visibilityProperty: true, opacityProperty: true })
          && !one.closest(':disabled, [aria-disabled=true], [data-disabled=true]')
          && !one.getRootNode().host?.closest(':disabled')) yield one; } };
"""

# texts whose colour stands out too little from what lies under them; what cannot be used now is let off
FAINT = f"""least => {{{_COLOURS}
  const found = [];
  let count = 0;
  for (const one of everything()) {{
    if (['STYLE', 'SCRIPT', 'CANVAS'].includes(one.tagName)) continue;
    const text = [...one.childNodes].filter(n => n.nodeType === 3).map(n => n.data.trim()).join(' ').trim();
    const chain = stylesOf(one);
    if (!text || chain.some(style => style.clipPath === 'inset(50%)')) continue;   // for a reader alone
    const ink = rgba(chain[0].color), seen = chain.reduce((all, style) => all * Number(style.opacity), 1);
    const ratio = ratioOf([ink[0], ink[1], ink[2], ink[3] * seen], groundOf(chain));
    count += 1;
    if (ratio < least) found.push(`${{ratio.toFixed(2)}} ${{one.tagName}} ${{text.slice(0, 60)}}`);
  }}
  return [count, [...new Set(found)]];
}}"""

# boxes to type in, buttons with an edge, rings and switches that stand out too little from what is around them; a
# button without an edge is known by its words, a ring that the browser itself draws is left to it
EDGES = f"""least => {{{_COLOURS}
  const edge = one => {{                                    // of its border or its ground, what stands out more
    const [style, ...around] = stylesOf(one), under = groundOf(around);
    const line = parseFloat(style.borderTopWidth) ? ratioOf(rgba(style.borderTopColor), under) : 1;
    return Math.max(line, ratioOf(rgba(style.backgroundColor), under)); }};
  const marks = one => {{
    const style = getComputedStyle(one), ring = one.querySelector(':scope > span > input') && one;
    if (ring) return [...one.querySelectorAll('div')].filter(d => !d.textContent.trim() && d.offsetWidth > 8);
    if (one.tagName === 'BUTTON') return parseFloat(style.borderTopWidth) ? [one] : [];
    return [one, parent(one), parent(parent(one))].filter(
      at => at?.tagName && parseFloat(getComputedStyle(at).borderTopWidth)).slice(0, 1).concat(one).slice(0, 1); }};
  const boxes = 'input:not([type=radio], [type=checkbox], [type=range], [type=file]), textarea, select, button,'
    + ' label:has(> span > input)';
  const found = [];
  let count = 0;
  for (const one of everything()) {{
    const its = one.matches(boxes) ? marks(one) : [];
    if (!its.length) continue;
    const ratio = Math.max(...its.map(edge));
    count += 1;
    const name = one.getAttribute('aria-label') ?? one.textContent;
    if (ratio < least) found.push(`${{ratio.toFixed(2)}} ${{one.tagName}} ${{name.slice(0, 60)}}`);
  }}
  return [count, [...new Set(found)]];
}}"""


# buttons in sight that are filled with the primary colour: the next action
FILLED = f"""() => {{{_COLOURS}
  return [...everything()].filter(one => {{
    const box = one.getBoundingClientRect(), ground = getComputedStyle(one).backgroundColor;
    return one.tagName === 'BUTTON' && ['rgb(11, 92, 138)', 'rgb(36, 120, 174)'].includes(ground)
      && box.top >= 0 && box.bottom <= innerHeight;
  }}).map(one => one.textContent);
}}"""


def nameless(page) -> list[str]:
    """What of the page can be used and has no name in the accessibility tree."""
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    return [
        node["role"]["value"]
        for node in nodes
        if not node["ignored"]
        and node.get("role", {}).get("value") in INPUTS
        and not node.get("name", {}).get("value", "").strip()
    ]


def views(page):
    """Every page with its switches, one after another."""
    turn = page.get_by_test_id("stTopNavLink")
    yield "Start"
    page.get_by_role("button", name="Sketch a well").click()
    page.get_by_role("button", name="Draw it").click()  # with what is wrong under each field
    quiet(page)
    yield "Sketch"
    turn.get_by_text("Plan", exact=True).click()
    for panel in ("Depths", "Part", *tables.PANELS):
        page.get_by_role("radiogroup", name="Panel").get_by_role("radio", name=panel, exact=True).click()
        quiet(page)
        if panel == "Part":
            page.locator(".st-key-part-chosen input").click()
            page.get_by_role("option", name="Hydraulic hanger").click()
            quiet(page)
        yield f"Plan, {panel}"
        if panel == "Depths":
            for typed in ("420 ft", "370"):
                box = page.get_by_role("textbox", name="Lap, liner top to host shoe")
                box.fill(typed)
                box.press("Enter")
                quiet(page)
                yield f"Plan, {typed} typed"
            page.get_by_role("button", name="Keep 420 ft").click()
            expect(box).to_have_value("420 ft")
            quiet(page)
            page.get_by_role("button", name="Put back 370 ft").click()
            quiet(page)
    for name in ("Compare", "Run"):
        turn.get_by_text(name, exact=True).click()
        quiet(page)
        yield name
        if name == "Compare":
            for popover in ("Rename ...", "New option from this one ..."):
                if popover == "Rename ...":
                    page.locator(".card").nth(1).click()
                    quiet(page)
                page.get_by_role("button", name=popover).click()
                page.get_by_test_id("stPopoverBody").wait_for()
                yield popover
                page.keyboard.press("Escape")
    page.get_by_role("button", name="Shoe not on depth ...").click()
    page.get_by_role("textbox", name="Measured depth").wait_for()
    yield "Shoe not on depth"
    page.keyboard.press("Escape")
    turn.get_by_text("Learn", exact=True).click()
    for way in ("Take apart", "Watch it work", "Practise"):
        page.get_by_role("radio", name=way).click()
        quiet(page)
        yield way
    page.locator("fieldset label").first.click()
    quiet(page)
    page.get_by_role("button", name="Answer", exact=True).click()
    quiet(page)
    yield "Practise, answered"
    turn.get_by_text("Hand over", exact=True).click()
    for what in ("Planned and recorded", "Files"):
        page.get_by_role("radiogroup", name="What").get_by_role("radio", name=what).click()
        quiet(page)
        yield what
    page.get_by_role("button", name=re.compile("^Make revision")).click()
    page.get_by_test_id("stPopoverBody").wait_for()
    yield "Make revision"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_all_inputs_have_names_all_stands_out_and_one_button_is_the_next_action(
    open_page, browser_page, scheme
):
    browser_page.emulate_media(color_scheme=scheme)
    page = open_page("")
    wrong = {}
    for view in views(page):
        page.mouse.move(2, 300)
        expect(page.locator('[data-stale="true"]')).to_have_count(0)  # what is about to go is faint
        page.wait_for_timeout(300)  # colours change gradually
        count, faint = page.evaluate(FAINT, LEAST)
        assert count > 10, view
        boxes, edges = page.evaluate(EDGES, LEAST_EDGE)
        assert boxes > 2, view
        filled = page.evaluate(FILLED)
        not_one = [] if len(filled) == 1 else [f"filled: {filled}"]
        if found := nameless(page) + faint + edges + not_one:
            wrong[view] = found
    assert wrong == {}


def pressed(page, name: str) -> None:
    """Walk to a button and press it."""
    tab_to(page, name)
    page.keyboard.press("Enter")


def test_a_sketch_is_made_and_its_sheet_fetched_by_keyboard_alone(open_page):
    page = open_page("")
    pressed(page, "Sketch a well")
    page.get_by_role("textbox", name="1 Well").wait_for()
    for number, field in enumerate(start.FIELDS, 1):
        tab_to(page, f"{number} {field.label}")
        page.keyboard.type(field.example)
    pressed(page, "Plan with it")
    page.get_by_role("heading", name="Quill 7").wait_for()
    quiet(page)
    pressed(page, "Hand over")
    page.get_by_role("button", name="Download this").wait_for(timeout=60_000)
    quiet(page)
    with page.expect_download(timeout=60_000) as download:
        pressed(page, "Download this")
    assert download.value.path().read_bytes().startswith(b"%PDF")


def test_a_part_is_changed_by_keyboard_alone(open_page):
    page = open_page("plan")
    tab_to(page, "Depths")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    page.locator(".st-key-part-chosen input").wait_for()
    quiet(page)
    tab_to(page, "Part")
    page.keyboard.type("Hydraulic hanger")
    page.get_by_role("option", name="Hydraulic hanger").first.wait_for()
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Hydraulic hanger").first.wait_for()
    quiet(page)
    tab_to(page, "Length")
    page.keyboard.press("Control+a")
    page.keyboard.type("12.6 ft")
    pressed(page, "Change")
    page.get_by_text("1 change, only in this tab").wait_for()
    page.keyboard.press("Alt+z")
    page.get_by_text("Demo well: change it freely").wait_for()


def test_an_option_is_made_compared_adopted_and_undone_by_keyboard_alone(open_page):
    page = open_page("compare")
    pressed(page, "New option from this one ...")
    page.get_by_role("textbox", name="to", exact=True).wait_for()
    tab_to(page, "Name")
    page.keyboard.type("short lap")
    tab_to(page, "to")
    page.keyboard.type("320 ft")
    pressed(page, "Keep as an option")
    chosen = page.locator('.card[aria-pressed="true"]')
    expect(chosen).to_contain_text("Short lap")
    quiet(page)
    pressed(page, "Lap of 150 ft")  # its drawing
    page.get_by_text("What decides: lap of 150 ft").wait_for()
    expect(chosen).to_have_attribute("data-option", "1")
    assert focused(page).startswith("Lap of 150 ft")
    tab_to(page, "Short lap")
    page.keyboard.press("Enter")
    page.get_by_text("What decides: short lap").wait_for()
    quiet(page)
    pressed(page, "Adopt")
    page.get_by_text("2 changes, only in this tab").wait_for()
    expect(page.locator("td.chosen", has_text=re.compile(r"^9.530")).first).to_be_visible()
    quiet(page)
    page.keyboard.press("Alt+z")
    page.get_by_text("1 change, only in this tab").wait_for()
    expect(page.locator(".card")).to_have_count(4)
