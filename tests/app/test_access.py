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

# texts whose colour stands out too little from what lies under them; what cannot be used now is let off
FAINT = """least => {
  const rgba = text => { const n = (text.match(/[\\d.]+/g) ?? [0, 0, 0, 0]).map(Number);
    const s = text.startsWith('color(srgb') ? 255 : 1; return [n[0] * s, n[1] * s, n[2] * s, n[3] ?? 1]; };
  const over = (top, under) => [0, 1, 2].map(i => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
  const light = c => { const [r, g, b] = c.map(v => { v /= 255;
    return v <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; }); return .2126 * r + .7152 * g + .0722 * b; };
  const parent = one => one.assignedSlot ?? one.parentElement ?? one.getRootNode().host ?? null;
  const found = [], roots = [document];
  let count = 0;
  for (const root of roots) for (const one of root.querySelectorAll('*')) {
    if (one.shadowRoot) roots.push(one.shadowRoot);
    if (one.ownerSVGElement || ['STYLE', 'SCRIPT', 'CANVAS'].includes(one.tagName)) continue;
    const text = [...one.childNodes].filter(n => n.nodeType === 3).map(n => n.data.trim()).join(' ').trim();
    const box = one.getBoundingClientRect();
    if (!text || !box.width || !one.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    if (one.closest(':disabled, [aria-disabled=true], [data-disabled=true]')
        || one.getRootNode().host?.closest(':disabled')) continue;
    const chain = [];
    for (let at = one; at; at = parent(at)) chain.push(getComputedStyle(at));
    if (chain.some(style => style.clipPath === 'inset(50%)')) continue;   // for a reader alone
    let ground = [255, 255, 255, 1], seen = 1;
    for (const style of [...chain].reverse()) ground = over(rgba(style.backgroundColor), ground);
    for (const style of chain) seen *= Number(style.opacity);
    const ink = rgba(chain[0].color);
    const [a, b] = [light(over([ink[0], ink[1], ink[2], ink[3] * seen], ground)), light(ground)];
    const ratio = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
    count += 1;
    if (ratio < least) found.push(`${ratio.toFixed(2)} ${one.tagName} ${text.slice(0, 60)}`);
  }
  return [count, [...new Set(found)]];
}"""


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
    for name in ("Compare", "Run"):
        turn.get_by_text(name, exact=True).click()
        quiet(page)
        yield name
    page.get_by_role("button", name="Shoe not on depth ...").click()
    page.get_by_role("textbox", name="Measured depth").wait_for()
    yield "Shoe not on depth"
    page.keyboard.press("Escape")
    turn.get_by_text("Learn", exact=True).click()
    for way in ("Take apart", "Watch it work", "Practise"):
        page.get_by_role("radio", name=way).click()
        quiet(page)
        yield way
    turn.get_by_text("Hand over", exact=True).click()
    for what in ("Planned and recorded", "Files"):
        page.get_by_role("radiogroup", name="What").get_by_role("radio", name=what).click()
        quiet(page)
        yield what


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_all_inputs_have_names_and_all_texts_stand_out(open_page, browser_page, scheme):
    browser_page.emulate_media(color_scheme=scheme)
    page = open_page("")
    wrong = {}
    for view in views(page):
        page.mouse.move(2, 300)
        page.wait_for_timeout(300)  # colours change gradually
        count, faint = page.evaluate(FAINT, LEAST)
        assert count > 10, view
        if found := nameless(page) + faint:
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
