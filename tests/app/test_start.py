"""Start: the three ways in, the sketch as a text, a file with problems mended; and both in a browser."""

from __future__ import annotations

import os
import time
from datetime import datetime
from pathlib import Path

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import broken, start
from app.shell import escaped
from schematic import verbs
from tests.app.serving import free_port, lapline_app, served
from tests.app.told import handed as shown

PAGE = str(Path(__file__).parents[2] / "app" / "main.py")
TEN = {field.path: field.example for field in start.FIELDS}
BROKEN = """lapline: 1
well: {name: Quill 7, datum: {from: rotary table, above: mean sea level}}
hole:
  - {bit: 12 1/4 in, to: 9850 ft}
  - {bit: 8 1/2 in, to: 12600}
strings:
  - {name: casing, pipe: 9 5/8 in 47 lb/ft L-80, shoe: 9850 ft}
liner:
  pipe: 7 in 29 lb/ft P-110
  host: casing
  lapp: 370 ft
  off bottom: 10 ft
"""
MENDED = BROKEN.replace("12600}", "12600 ft}").replace("lapp", "lap")
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "[x](javascript:alert(1))",
    "$\\href{x}{y}$",
    "**bold**",
    "a: {b # c",
    "'",
    "- x",
    "&a *a !t %d @e",
)


@pytest.fixture
def page():
    """The app after its first run."""
    return AppTest.from_file(PAGE, default_timeout=60).run()


def press(page: AppTest, label: str) -> AppTest:
    (found,) = [one for one in page.button if one.label == label]
    return found.click().run()


def slips(page: AppTest) -> list[str]:
    blocks = [block for each in shown(page, "answers") for block in each["blocks"]]
    return [" ".join((b["head"], *b["lines"])).strip() for b in blocks if b["kind"] == "slip"]


def fill(page: AppTest, **other: str) -> None:
    """Type the ten inputs, some of them otherwise, and ask for the drawing."""
    for path, value in {**TEN, **other}.items():
        page.text_input(key=f"sketch-{path}").set_value(value)
    press(page, "Draw it")


def upload(page: AppTest, name: str, content: bytes) -> None:
    page.file_uploader[0].set_value((name, content, "application/yaml")).run()


# the sketch


def test_ten_values_make_a_text_that_holds_each_as_it_was_typed():
    content = verbs.load_text(start.sketched(TEN)).content
    assert content.well.name == "Quill 7"
    assert content.strings[0].pipe.text == "9 5/8 in 47 lb/ft L-80"
    assert (content.strings[0].shoe.text, content.hole[0].from_.text) == ("9850 ft", "9850 ft")
    assert (content.hole[0].bit.text, content.hole[0].to.text) == ("8 1/2 in", "12600 ft")
    assert content.liner.pipe.text == "7 in 29 lb/ft P-110"
    assert (content.liner.lap.text, content.liner.off_bottom.text) == ("370 ft", "10 ft")
    assert content.fluids["mud"].density.text == "12.6 ppg"
    assert content.cement.planned_top.text == "9280 ft"
    assert content.well.show == "field"


def test_a_sketch_in_metres_shows_metres_and_leaves_out_what_is_not_known():
    metric = {
        **TEN,
        "strings.casing.shoe": "2840 m",
        "hole[0].to": "3964 m",
        "fluids.mud.density": "",
        "cement.planned top": "",
    }
    content = verbs.load_text(start.sketched(metric)).content
    assert (content.well.show, content.fluids, content.cement) == ("metric", None, None)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_of_the_sketch_stays_data(name):
    assert verbs.load_text(start.sketched({**TEN, "well.name": name})).content.well.name == name
    assert start.faults({**TEN, "well.name": name}, "s.yaml", "field") == {}


@pytest.mark.parametrize("typed", HOSTILE)
@pytest.mark.parametrize("field", [field for field in start.FIELDS if field.path != "well.name"])
def test_what_is_no_value_is_told_at_its_field_and_nowhere_else(field, typed):
    assert list(start.faults({**TEN, field.path: typed}, "s.yaml", "field")) == [field.path]


def test_what_is_missing_is_asked_for_with_an_example():
    told = start.faults(dict.fromkeys(TEN, ""), "s.yaml", "field")
    assert list(told) == [field.path for field in start.FIELDS if field.needed]
    assert told["liner.lap"] == ["Needs a value, such as 370 ft."]
    told = start.faults({**dict.fromkeys(TEN, ""), "liner.lap": "370"}, "s.yaml", "field")
    assert told["liner.lap"] == ["370: a number without a unit: write the unit, like '370 ft'."]
    assert told["liner.off bottom"] == ["Needs a value, such as 10 ft."]


@pytest.mark.parametrize(
    ("typed", "such"),
    [
        ({"liner.lap": "370"}, "like '370 ft'"),
        ({"hole[0].bit": "8 1/2"}, "like '8 1/2 in'"),
        ({"strings.casing.shoe": "3002 m", "liner.lap": "113"}, "like '113 m'"),
        ({"strings.casing.shoe": "3002 m", "fluids.mud.density": "1.51"}, "like '1.51 sg'"),
    ],
)
def test_a_field_tells_what_is_wrong_when_it_is_left_in_the_units_of_the_host_shoe(page, typed, such):
    press(page, "Sketch a well")
    for path, value in typed.items():
        page.text_input(key=f"sketch-{path}").set_value(value).run()

    assert not page.exception
    (told,) = slips(page)
    assert "a number without a unit: write the unit," in told
    assert such in told
    page.text_input(key=f"sketch-{path}").set_value(f"{value} {such.rpartition(' ')[2][:-1]}").run()
    assert slips(page) == []


def test_the_examples_of_a_sketch_are_in_the_units_that_are_chosen(page):
    press(page, "Sketch a well")
    page.text_input(key="sketch-liner.lap").set_value("120 m").run()
    for system in ("metric", "field", "metric"):
        next(one for one in page.segmented_control if one.key == "sketch-units").set_value(system).run()
        shown_ = [one.placeholder for one in page.text_input]
        assert shown_ == [field.such_as(system) for field in start.FIELDS]
        assert page.text_input(key="sketch-liner.lap").value == "120 m"
    press(page, "Draw it")
    assert "Needs a value, such as 3002 m." in " ".join(slips(page))


def test_the_examples_of_the_sketch_are_the_same_in_both_systems():
    metres = {"ft": 0.3048, "ppg": 0.119826, "m": 1.0, "sg": 1.0}  # a gallon of water weighs 8.3454 lb

    def read(text: str) -> float:
        number, unit = text.split(" ")
        return float(number) * metres[unit]

    for field in start.FIELDS:
        if field.metric != field.example:
            assert read(field.metric) == pytest.approx(read(field.example), rel=0.02)


def test_values_that_do_not_fit_each_other_are_told():
    told = start.faults({**TEN, "liner.lap": "9900 ft"}, "s.yaml", "field")
    assert "shorten the lap" in told[""][0]


def test_a_sketch_is_drawn_beside_its_form_and_then_planned_with(page):
    press(page, "Sketch a well")
    fill(page, **{"hole[0].bit": "8 1/2"})
    assert [line for line in slips(page) if "without a unit" in line] == slips(page)
    assert "Brindlewick 4" in shown(page, "well_drawing")[0]["pages"][0]
    fill(page)
    assert slips(page) == []
    assert "Quill 7" in shown(page, "well_drawing")[0]["pages"][0]

    press(page, "Plan with it")

    assert not page.exception
    assert page.session_state["demo"] == "quill-7.yaml"
    assert verbs.load_text(page.session_state["texts"]["quill-7.yaml"][-1]).content.well.name == "Quill 7"
    assert page.selectbox(key="well-on-screen").value == "quill-7.yaml"  # the bar of Plan


# the other two ways in


def test_an_uploaded_file_is_on_screen_under_a_name_of_its_own(page):
    text = verbs.demos()["sketch.yaml"].replace("name: Sketch", "name: Mine")
    upload(page, "sketch.yaml", text.encode())
    assert page.session_state["demo"] == "sketch.yaml"
    assert page.session_state["texts"]["sketch.yaml"] == [text]
    assert page.session_state["texts"]["sketch (demo).yaml"] == [verbs.demos()["sketch.yaml"]]
    assert "Mine" in shown(page, "well_drawing")[0]["pages"][0]
    assert any("a reload loses" in each.value for each in page.text)


def test_an_uploaded_file_begins_at_the_first_step_and_the_demo_that_gives_up_its_name_keeps_its_own(page):
    first = page.session_state["demo"]
    page.session_state["step"] = 5
    page.run()
    upload(page, first, verbs.demos()[first].encode())

    assert page.session_state["demo"] == first
    assert page.session_state["step"] == 1
    assert page.session_state["steps"][f"{first.removesuffix('.yaml')} (demo).yaml"] == 5


def test_a_file_that_is_no_text_is_refused_with_the_reason(page):
    upload(page, "w.yaml", "lapline: 1".encode("utf-16"))
    assert any(each.value.startswith("w.yaml: found UTF-16 text; save the file") for each in page.text)
    assert page.session_state["demo"] == next(iter(verbs.demos()))


@pytest.mark.parametrize("name", [f"{text.replace('/', '')}.yaml" for text in HOSTILE[:5]])
def test_the_name_of_an_uploaded_file_is_never_markup(page, name):
    upload(page, name, verbs.demos()["sketch.yaml"].encode())
    assert not page.exception
    assert page.session_state["demo"] == name
    assert not page.markdown
    upload(page, name, BROKEN.encode())
    assert not page.exception
    assert shown(page, "answers")[0]["blocks"][0]["name"].startswith(name.removesuffix(".yaml"))
    assert not page.markdown


def test_a_demo_is_chosen_and_shown(page):
    page.get("button_group")[0].set_value("haldry-2.yaml").run()
    assert page.session_state["demo"] == "haldry-2.yaml"
    assert "Haldry 2" in shown(page, "well_drawing")[0]["pages"][0]


def test_the_well_on_screen_stays_when_the_page_changes(page):
    page.get("button_group")[0].set_value("haldry-2.yaml").run()
    press(page, "Plan with it")
    page.run()
    assert page.session_state["demo"] == "haldry-2.yaml"
    assert page.selectbox(key="well-on-screen").value == "haldry-2.yaml"


def test_marks_of_markup_are_escaped_for_labels():
    assert escaped("[x](y) $a$ *b* é 9 5/8") == "\\[x\\]\\(y\\) \\$a\\$ \\*b\\* é 9 5\\/8"


# a file with problems


def test_a_broken_file_is_shown_with_its_problems_and_mended_by_buttons(page):
    upload(page, "q.yaml", BROKEN.encode())
    (text,) = shown(page, "well_text")
    assert text["text"] == BROKEN
    assert text["marks"] == {"5": "1", "11": "2"}
    assert [line.split(" Accepted: ")[0] for line in slips(page)] == [
        "Line 5: 12600 Field: Hole 2, to",
        "Line 11: no such entry here: 'lapp' Field: Lapp (liner) Mend: did you mean 'lap'?",
    ]

    press(page, "Write 12600 ft")
    assert page.session_state["broken"]["q.yaml"][-1] == BROKEN.replace("12600}", "12600 ft}")
    press(page, "Write lap")
    assert page.session_state["texts"]["q.yaml"] == [MENDED]
    assert "Quill 7" in shown(page, "well_drawing")[0]["pages"][0]


def test_all_mends_at_once_and_undo_of_one(page):
    upload(page, "q.yaml", BROKEN.encode())
    press(page, "Write lap")
    press(page, "Undo")
    assert shown(page, "well_text")[0]["text"] == BROKEN
    press(page, "Mend all 2")
    assert page.session_state["texts"]["q.yaml"] == [MENDED]


def test_only_where_all_problems_mend_by_a_value_all_are_mended(page):
    upload(page, "q.yaml", BROKEN.replace("shoe: 9850 ft}", "shoe: deep}").encode())
    labels = [one.label for one in page.button]
    assert "Mend these 2" in labels
    assert not [label for label in labels if label.startswith("Mend all")]
    filled = [one.label for one in page.button if one.proto.type == "primary"]
    assert filled == ["Mend these 2"]  # to read it again does nothing before


def test_a_text_that_breaks_keeps_the_last_drawing_and_says_so(page):
    upload(page, "q.yaml", MENDED.encode())
    page.session_state["broken"]["q.yaml"] = [BROKEN]
    page.session_state["broke"]["q.yaml"] = datetime(2026, 11, 26, 2, 11)
    page.run()
    (old,) = shown(page, "well_drawing")
    assert old["band"] == "Drawing of the text as it was at 02:11"
    assert "Quill 7" in old["pages"][0]
    press(page, "Mend all 2")
    (new,) = shown(page, "well_drawing")
    assert new["band"] == ""


def test_without_a_drawing_from_before_nothing_is_drawn(page):
    upload(page, "q.yaml", BROKEN.encode())
    assert shown(page, "well_drawing") == []


def test_what_was_typed_is_taken_in_before_a_button_does_its_work(page):
    upload(page, "q.yaml", BROKEN.encode())
    typed = BROKEN.replace("Quill 7", "Quill 8")
    page.session_state["text"] = {"typed": {"text": typed, "turn": 1}}
    press(page, "Write lap")
    assert page.session_state["broken"]["q.yaml"] == [BROKEN, typed, typed.replace("lapp", "lap")]


def test_another_file_leaves_the_broken_text_where_it_can_be_found_again(page):
    upload(page, "q.yaml", BROKEN.encode())
    press(page, "Other file")
    assert page.session_state["demo"] == next(iter(verbs.demos()))
    press(page, "Plan with it")
    page.selectbox(key="well-on-screen").set_value("q.yaml").run()
    assert shown(page, "well_text")[0]["text"] == BROKEN


@pytest.mark.parametrize(
    ("right", "wrong", "written"),
    [
        ("to: 12600 ft}", "to: 12600}", "12600 ft"),
        ("lap: 370 ft", "lap: 370", "370 ft"),
        ("off bottom", "of botom", "off bottom"),
        ("pipe: 9 5/8 in 47 lb/ft L-80", 'pipe: "9 5/8 in 47 lb/ft L-80"\n    shoo: 1', None),
        ("8 1/2 in", "l20 m", None),
        ("{bit: 8 1/2 in, to: 12600 ft}", "{bit: 8,5 in, to: 12600 ft}", "8.5 in"),
    ],
)
def test_a_mend_is_offered_only_where_it_is_one_value_and_mends(right, wrong, written):
    text = MENDED.replace(right, wrong)
    error = broken.state.problems(text, "q.yaml")
    made = broken.mended(text, error.problems[0], "q.yaml")
    assert (made and made[1]) == written
    if made and wrong != "of botom":
        assert broken.state.problems(made[0], "q.yaml") is None


# in a browser


@pytest.mark.browser
def test_a_reload_and_a_restart_offer_the_draft_and_tabs_do_not_see_each_other(browser_page, tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text(verbs.demos()["brindlewick-4.yaml"])
    port = free_port()
    address = f"http://127.0.0.1:{port}"

    def lap(page, value: str) -> None:
        field = page.get_by_role("textbox", name="Lap, liner top to host shoe").first
        field.fill(value)
        field.press("Enter")
        page.get_by_text("1 change, draft kept").wait_for(timeout=60_000)

    with served([*lapline_app(port), str(file)], port):
        browser_page.goto(f"{address}/plan")
        lap(browser_page, "420 ft")
        other = browser_page.context.new_page()
        other.goto(f"{address}/plan")
        lap(other, "430 ft")
        said = other.locator(".stMainBlockContainer").inner_text().splitlines()
        assert all(line.startswith("Draft of mine.yaml") for line in said if "420 ft" in line)
        browser_page.reload()
        browser_page.get_by_role("button", name="Go on with it").nth(1).wait_for(timeout=60_000)
    with served([*lapline_app(port), str(file)], port):
        browser_page.goto(address)
        browser_page.get_by_role("button", name="Go on with it").first.click(timeout=60_000)
        browser_page.get_by_role("button", name="Plan with it").click()
        browser_page.get_by_role("button", name="Save").wait_for(timeout=60_000)
        browser_page.keyboard.press("Control+s")
        browser_page.get_by_text("Saved", exact=True).wait_for(timeout=60_000)
    assert "lap: 420 ft" in file.read_text()
    assert sorted(os.listdir(tmp_path)) == [".mine.yaml.draft-2", "mine.yaml"]


@pytest.mark.browser
def test_a_broken_file_is_mended_by_typing_and_nothing_typed_is_lost(browser_page, tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text(BROKEN)
    port = free_port()
    with served([*lapline_app(port), str(file)], port):
        browser_page.goto(f"http://127.0.0.1:{port}")
        browser_page.get_by_role("button", name="Go to line 11").click(timeout=60_000)
        area = browser_page.get_by_role("textbox", name="Text of the well file")
        line = "area => area.value.slice(area.selectionStart, area.selectionEnd)"
        for _ in range(50):
            if area.evaluate(line) == "lapp: 370 ft":
                break
            time.sleep(0.1)
        browser_page.keyboard.type("lap: 380 ft")
        browser_page.get_by_role(
            "button", name="Write 12600 ft"
        ).click()  # at once: what was typed goes in too
        browser_page.locator("g[data-part]").first.wait_for(timeout=60_000)
        assert file.read_text() == BROKEN
        kept = (tmp_path / ".mine.yaml.draft").read_text()
        assert kept == MENDED.replace("370 ft", "380 ft")
