"""Hand over: every file that is offered is made whole, named after the plan; the record stands beside it."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import exports, revision
from schematic import verbs
from schematic.drawing.job_charts import hook_loads_sheet
from schematic.drawing.scene import Dots, Text
from schematic.wellfile import edit
from tests.app.test_browser import free_port, lapline_app, served
from tests.app.test_foreign import quiet
from tests.app.told import handed
from tests.program.programs import coarse_pictures

DEMOS = verbs.demos()
BRINDLEWICK, SKETCH = "brindlewick-4.yaml", "sketch.yaml"
OFFERED = [
    (each.word, form)
    for each in exports.offered(verbs.check(verbs.load_text(DEMOS[BRINDLEWICK])), True)
    for form in each.forms
]
BEGINS = {"pdf": b"%PDF", "docx": b"PK", "xlsx": b"PK", "svg": b"PK", "png": b"PK"}


def _page() -> None:
    from app import hand_over, state

    state.begin()
    hand_over.page()


@pytest.fixture
def page():
    """The page with the first demo well."""
    return AppTest.from_function(_page, default_timeout=60).run()


def shown(page: AppTest) -> str:
    return " ".join(each.proto.json for each in page.get("bidi_component"))


@pytest.mark.parametrize(("word", "form"), OFFERED)
def test_what_is_offered_is_made(word, form):
    with coarse_pictures():
        made = exports.content(verbs.load_text(DEMOS[BRINDLEWICK]), word, form, f"w-{word}.{form}")

    assert made.startswith(BEGINS.get(form, b""))
    assert len(made) > 150


@pytest.mark.parametrize("form", ["svg", "png"])
def test_all_pages_of_a_drawing_go_into_one_archive(form):
    made = exports.content(verbs.load_text(DEMOS[BRINDLEWICK]), "sheet", form, f"w-sheet.{form}")

    pages = len(verbs.sheet(verbs.load_text(DEMOS[BRINDLEWICK])).scenes)
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert len(archive.namelist()) == pages > 1
        assert {f"w-sheet.{form}", f"w-sheet-2.{form}"} <= {*archive.namelist()}


@pytest.mark.parametrize(
    ("well", "name", "expected"),
    [
        (BRINDLEWICK, "Brindlewick 4", "brindlewick-4-sheet-rev-2-2026-11-20.pdf"),
        (SKETCH, "Sketch", "sketch-sheet.pdf"),
        (SKETCH, "'../../etc/<b>'", "etc-b-sheet.pdf"),
        (SKETCH, "井戸", "sheet.pdf"),
    ],
)
def test_names_carry_well_revision_and_date_in_plain_letters(well, name, expected):
    text = edit.set(DEMOS[well], "well.name", name.strip("'"))

    assert exports.file_name(verbs.check(verbs.load_text(text)), "sheet", "pdf", False) == expected


def test_what_is_to_be_settled_stands_beside_the_files(page):
    assert "Settle first" in shown(page)
    assert "9 warnings not accepted" in shown(page)


def test_readings_stand_beside_the_plan(page):
    for line in (
        {"step": "Set the hanger", "what": "pins at", "value": "1500 psi"},
        {"step": "Set the hanger", "what": "pins at", "value": "1600 psi"},
    ):
        page.session_state.texts[BRINDLEWICK].append(
            edit.insert(page.session_state.texts[BRINDLEWICK][-1], "record", line)
        )
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert not page.exception
    assert "3 readings: 1 outside the band of the plan, 2 inside." in shown(page)
    assert "Set the hanger, pins at: read 1600 psi, band 1425 psi to 1575 psi." in shown(page)
    assert "Hook load on the way in" not in shown(page)  # no hook load was read


@pytest.mark.parametrize(("lines", "sign"), [(1, "passed"), (2, "advice")])
def test_a_reading_without_a_band_is_not_ticked(page, lines, sign):
    for line in (
        {"step": "Set the hanger", "what": "pins at", "value": "1500 psi"},
        {"step": "Set the hanger", "what": "returns", "value": "full"},  # the plan says nothing of it
    )[:lines]:
        page.session_state.texts[BRINDLEWICK].append(
            edit.insert(page.session_state.texts[BRINDLEWICK][-1], "record", line)
        )
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    given = [each["blocks"] for each in handed(page, "answers")]
    (slip,) = [one for each in given for one in each if "outside the band" in one.get("head", "")]
    assert slip["sign"] == sign


LOADS = (
    {"step": "run in", "what": "hook load picking up", "at": "9850 ft", "value": "330 klbf"},
    {"step": "run in", "what": "hook load slacking off", "at": "9850 ft", "value": "290 klbf"},
)


def test_measured_hook_loads_stand_on_their_curve(page):
    text = edit.put(DEMOS[BRINDLEWICK], "installation.friction", {"cased": "0.20", "open hole": "0.30"})
    for line in LOADS:
        text = edit.insert(text, "record", line)
    page.session_state.texts[BRINDLEWICK].append(text)
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert not page.exception
    assert "Hook load on the way in" in shown(page)
    assert "Dots:" in shown(page)  # and what is measured is drawn with them


def test_measured_hook_loads_are_not_drawn_where_they_have_no_place_on_the_axis():
    """They have the block in them; without its weight the curves have not."""
    text = edit.put(DEMOS[BRINDLEWICK], "installation.friction", {"cased": "0.20", "open hole": "0.30"})
    for line in LOADS:
        text = edit.insert(text, "record", line)
    drawn = []
    for each in (text, edit.remove(text, "installation.block weight")):
        (scene,) = hook_loads_sheet(verbs.check(verbs.load_text(each)), "field").scenes
        (group,) = scene.groups
        words = " ".join(shape.text for shape in group.shapes if isinstance(shape, Text))
        drawn.append((sum(isinstance(shape, Dots) for shape in group.shapes), words))

    (dotted, told), (bare, why) = drawn
    assert (dotted, bare) == (2, 0)
    assert "Dots: measured." in told
    assert "What was measured is not drawn" in why
    assert "Dots: measured." not in why


def test_the_record_stands_in_the_order_of_the_steps_and_of_typing():
    lines = (
        ("Bump the plug", "pressure", "1750 psi"),
        ("elsewhere", "colour", "grey"),
        ("bump", "volume pumped", "270 bbl"),
        ("Run the liner", "gain", "140 bbl"),
        ("dart meets plug", "volume pumped", "160 bbl"),
    )
    text = edit.remove(DEMOS[BRINDLEWICK], "record")
    for step, what, value in lines:
        text = edit.insert(text, "record", {"step": step, "what": what, "value": value})
    rows = exports.pages(verbs.load_text(text), "recorded", "csv")[0].decode().splitlines()

    told = [row.split(",")[:2] for row in rows if any(value in row for _step, _what, value in lines)]
    assert told == [
        ["Run the liner", "gain"],
        ["Dart meets the plug", "volume pumped"],
        ["Bump the plug", "pressure"],
        ["Bump the plug", "volume pumped"],
        ["elsewhere", "colour"],
    ]


def test_a_bump_beyond_where_to_stop_is_told_first(page):
    """The stop is at 272.2 bbl: 269.8 and half the shoe track."""
    line = {"step": "bump", "what": "volume pumped", "value": "275 bbl"}
    page.session_state.texts[BRINDLEWICK].append(edit.insert(DEMOS[BRINDLEWICK], "record", line))
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert "1 above what must never be exceeded" in shown(page)
    told = "Bump the plug, volume pumped: read 275 bbl, beyond the maximum over-displacement, 272.2 bbl."
    assert told in shown(page)


def test_a_curve_that_cannot_be_drawn_says_what_it_needs(page):
    text = edit.remove(edit.remove(DEMOS[BRINDLEWICK], "options"), "running string")
    text = edit.insert(text, "record", LOADS[0])
    page.session_state.texts[BRINDLEWICK].append(text)
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert not page.exception
    assert "The curve of hook load is not drawn: needs " in shown(page)


def test_without_a_record_the_page_says_what_would_fill_it(page):
    page.selectbox(key="well-on-screen").select(SKETCH).run()
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert "Nothing is recorded yet" in shown(page)


def press(page: AppTest, label: str) -> AppTest:
    (found,) = [one for one in page.button if one.label == label]
    return found.click().run()


def test_every_file_goes_into_one_archive_under_its_name(page):
    page.session_state["demo"] = SKETCH
    page.run()
    (label,) = [one.label for one in page.button if one.label.startswith("All ")]
    with coarse_pictures():
        press(page, label)

    assert not page.exception
    with zipfile.ZipFile(io.BytesIO(page.session_state["archive"]["packed"])) as archive:
        names = archive.namelist()
        assert archive.testzip() is None
        assert archive.read("sketch-well.yaml").decode() == DEMOS[SKETCH]
    count = int(label.split()[1])
    pages = len(verbs.sheet(verbs.load_text(DEMOS[SKETCH])).scenes)
    assert len(names) == count + 2 * (pages - 1)
    assert all(name.startswith("sketch-") for name in names)


def test_one_file_that_fails_and_there_is_no_archive(page, monkeypatch):
    def full(*_arguments):
        raise OSError(28, "No space left on device")

    page.session_state["demo"] = SKETCH
    page.run()
    monkeypatch.setattr(verbs, "draw_steps", full)
    with coarse_pictures():
        press(page, next(one.label for one in page.button if one.label.startswith("All ")))

    assert page.session_state["archive"]["packed"] is None
    assert "steps, pdf could not be made ([Errno 28] No space left on device)" in page.error[0].value
    assert not [one for one in page.get("download_button") if one.proto.label.startswith("Download all")]


def test_an_archive_of_another_text_is_not_offered(page):
    page.session_state["archive"] = {"text": "lapline: 1", "made": {}, "packed": b"PK", "error": ""}
    page.run()

    assert page.session_state["archive"] is None


def test_without_its_library_a_form_is_refused_with_the_reason(page, monkeypatch):
    monkeypatch.setattr(exports, "find_spec", lambda name: None)
    page.radio(key="file").set_value("Tables").run()

    assert "Not made here: xlsx needs openpyxl: pip install 'lapline[documents]'." in [
        one.value for one in page.text
    ]
    (download,) = [one for one in page.get("download_button") if one.proto.label == "Download this"]
    assert download.proto.disabled


@pytest.mark.parametrize(
    ("title", "word", "expected"),
    [
        ("Program section", "program", "Table 1. "),
        ("Tables", "tables", "rows with head"),
        ("Step cards", "steps", "<svg"),
    ],
)
def test_the_chosen_file_is_shown(page, title, word, expected):
    page.radio(key="file").set_value(title).run()

    assert not page.exception
    assert expected in shown(page)
    assert [one.value for one in page.code] == [
        f"brindlewick-4-{word}-rev-2-2026-11-20.{'xlsx' if word == 'tables' else 'pdf'}"
    ]


def widths(page: AppTest) -> set[str]:
    """The widths of the pages that are shown, in millimetres."""
    return set(re.findall(r'<svg [^>]*?width=\\"([\d.]+)mm', shown(page)))


def test_sheet_and_program_are_set_on_the_chosen_paper_and_keep_their_names(page):
    assert widths(page) == {"210"}  # ISO 216: A4 is 210 x 297 mm, A3 297 x 420 mm
    (name,) = [one.value for one in page.code]
    page.selectbox(key="paper-size").set_value("A3").run()
    assert widths(page) == {"297"}
    page.segmented_control(key="paper-way").set_value("Landscape").run()
    assert widths(page) == {"420"}
    assert [one.value for one in page.code] == [name]

    page.radio(key="file").set_value("Program section").run()
    assert page.selectbox(key="paper-size").value == "A3"
    assert widths(page) == {"210", "297"}  # text on A4 beside the schematic on A3
    page.selectbox(key="paper-size").set_value("Tabloid").run()
    assert widths(page) == {"215.9", "279.4"}  # 8.5 in and 11 in
    assert not page.exception
    page.radio(key="file").set_value("Step cards").run()
    assert not [one for one in page.selectbox if one.label == "Paper"]


def test_what_is_downloaded_is_on_the_chosen_paper():
    made = exports.content(verbs.load_text(DEMOS[SKETCH]), "sheet", "pdf", "s.pdf", exports.Paper("a3", True))
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", made)
    assert [round(float(side) / 72.0 * 25.4) for side in box.groups()] == [420, 297]  # points of 1/72 in


def test_a_text_is_shown_as_it_is(page):
    page.radio(key="file").set_value("Well file, what all comes from").run()

    assert page.code[1].value.splitlines() == DEMOS[BRINDLEWICK].splitlines()


# revisions


@pytest.mark.parametrize(
    ("number", "after"), [("", "1"), ("2", "3"), ("A", "B"), ("0.9", "0.10"), ("Z", ""), ("final", "")]
)
def test_the_next_number_is_offered_where_there_is_one(number, after):
    assert revision.following(number) == after


VALUES = {
    "number": "3",
    "date": "2026-11-26",
    "by": "A: #1 'x'",
    "note": "lap [30 ft] longer, {so}",
    "checked by": "C. Checker",
    "approved by": "",
}


@pytest.mark.parametrize("well", [BRINDLEWICK, SKETCH, "haldry-2.yaml"])
def test_the_next_revision_is_written_and_the_last_one_kept(well):
    document = verbs.load_text(DEMOS[well])
    made = verbs.load_text(revision.revised(document, VALUES)).content.well

    assert made.revision.model_dump(mode="json") == {
        "number": "3",
        "date": "2026-11-26",
        "by": "A: #1 'x'",
        "note": "lap [30 ft] longer, {so}",
        "checked_by": "C. Checker",
        "approved_by": None,
        "content": verbs.check(document).plan.identity.content_hash,
    }
    was = document.content.well
    kept = [*([was.revision] if was.revision else []), *(was.earlier_revisions or [])]
    assert (made.earlier_revisions or []) == kept


def test_who_checked_the_last_revision_has_not_checked_the_next():
    text = edit.set(DEMOS[BRINDLEWICK], "well.revision.checked by", "C. Checker")
    made = verbs.load_text(revision.revised(verbs.load_text(text), {**VALUES, "checked by": ""})).content.well

    assert made.revision.checked_by is None
    assert made.earlier_revisions[0].checked_by == "C. Checker"


def lap(page: AppTest, value: str) -> AppTest:
    page.session_state.texts[BRINDLEWICK].append(
        edit.set(page.session_state.texts[BRINDLEWICK][-1], "liner.lap", value)
    )
    return page.run()


def test_a_revision_is_made_told_in_its_names_and_taken_back(page):
    lap(page, "400 ft")
    assert "Changed since revision 2: make the next one." in shown(page)
    assert page.code[0].value == "brindlewick-4-sheet-rev-2-changed-2026-11-20.pdf"
    (note,) = [one for one in page.text_area if one.label == "What changed"]
    words = note.value
    assert words.startswith("Lap 370 to 400 ft: hanger up 30.0 ft; liner longer by the same; ")
    assert "lap longer" not in words  # the cause is not its own effect
    press(page, "Write it into the file")

    made = verbs.load_text(page.session_state.texts[BRINDLEWICK][-1]).content.well
    assert (made.revision.number, made.revision.note) == ("3", words)
    assert "Changed since" not in shown(page)
    assert page.code[0].value.startswith("brindlewick-4-sheet-rev-3-2")
    press(page, "Undo")
    assert verbs.load_text(page.session_state.texts[BRINDLEWICK][-1]).content.well.revision.number == "2"


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"installation.tests.liner and lap.surface pressure": "2700 psi"},
         "Liner and lap surface pressure 2619 to 2700 psi"),
        ({"liner.lap": "340 ft", "running string.assembly.drill pipe.length": "9106 ft"}, "Lap 370 to 340 ft: "),
        ({"running string.assembly.drill pipe.length": "9106 ft"}, "Drill pipe length 9076 to 9106 ft"),
        ({"well.show": "metric"}, ""),
    ],
)  # fmt: skip
def test_the_note_names_the_cause_before_what_follows(changes, said):
    text = DEMOS[BRINDLEWICK]
    for path, value in changes.items():
        text = edit.set(text, path, value)
    note = revision.in_short(verbs.diff(verbs.load_text(DEMOS[BRINDLEWICK]), verbs.load_text(text)))

    assert note.startswith(said)
    assert bool(note) == bool(said)
    assert len(note) <= 160


def earlier_file(page: AppTest):
    """The button that offers the text of the revision before."""
    return [one for one in page.get("download_button") if one.proto.label.startswith("Revision ")]


def test_the_earlier_revision_of_a_file_is_offered_and_found_again_beside_it(tmp_path, monkeypatch):
    file = tmp_path / "mine.yaml"
    file.write_text(DEMOS[BRINDLEWICK])
    monkeypatch.setenv("LAPLINE_FILE", str(file))
    page = AppTest.from_function(_page, default_timeout=60).run()
    assert not earlier_file(page)
    its = page.session_state.texts["mine.yaml"]
    its.append(edit.set(its[-1], "liner.lap", "400 ft"))
    page.run()
    press(page, "Write it into the file")
    assert "Revision 2 lies in mine.yaml until this one is saved over it" in shown(page)
    press(page, "Save")
    assert "Revision 2 is only in this tab: a reload loses it" in shown(page)
    (offered,) = earlier_file(page)
    assert offered.proto.label == "Revision 2 as a file"

    again = AppTest.from_function(_page, default_timeout=60).run()  # the file as it was saved, in another tab
    again.session_state["hand-over"] = "Since revision 3"
    again.run()
    assert "The text of revision 2 is not in this one: open the file kept of it." in shown(again)
    (tmp_path / "brindlewick-4-well-rev-2-2026-11-20.yaml").write_text(DEMOS[BRINDLEWICK])
    again = AppTest.from_function(_page, default_timeout=60).run()
    again.session_state["hand-over"] = "Since revision 2"
    again.run()
    assert not again.exception
    assert "anger up 30.0 ft" in shown(again)
    assert not earlier_file(again)


def test_another_tab_knows_that_the_well_was_changed_since_its_revision(page):
    made = revision.revised(verbs.load_text(DEMOS[BRINDLEWICK]), {**VALUES, "note": "longer"})
    page.session_state.texts[BRINDLEWICK] = [made]  # opened: no change of this tab
    page.run()
    assert "Changed since" not in shown(page)
    assert page.code[0].value == "brindlewick-4-sheet-rev-3-2026-11-26.pdf"

    page.session_state.texts[BRINDLEWICK] = [edit.set(made, "liner.lap", "400 ft")]
    page.run()
    assert "Changed since revision 3: make the next one." in shown(page)
    assert "Nobody stands under" not in shown(page)
    assert "revision 3 changed, planned" in shown(page)
    assert page.code[0].value == "brindlewick-4-sheet-rev-3-changed-2026-11-26.pdf"

    press(page, "Write it into the file")
    well = verbs.load_text(page.session_state.texts[BRINDLEWICK][-1]).content.well
    assert [one.number for one in (well.revision, *well.earlier_revisions)] == ["4", "3", "2", "1"]
    assert well.earlier_revisions[0].content != well.revision.content
    assert well.earlier_revisions[0].checked_by == "C. Checker"
    assert "Changed since" not in shown(page)


READING = {"step": "Set the hanger", "what": "pins at", "value": "1500 psi"}


@pytest.mark.parametrize("issued", [True, False])  # whether the file has what its revision issued
@pytest.mark.parametrize(
    "change",
    [lambda text: edit.set(text, "well.show", "metric"), lambda text: edit.insert(text, "record", READING)],
)
def test_other_units_or_a_reading_change_nothing_that_a_revision_issued(page, issued, change):
    made = revision.revised(verbs.load_text(DEMOS[BRINDLEWICK]), VALUES)
    if not issued:
        made = edit.remove(made, "well.revision.content")
    page.session_state.texts[BRINDLEWICK] = [made, change(made)]
    page.run()

    assert "Changed since" not in shown(page)
    assert page.code[0].value == "brindlewick-4-sheet-rev-3-2026-11-26.pdf"
    lap(page, "400 ft")
    assert "Changed since revision 3: make the next one." in shown(page)


def test_a_number_that_was_given_before_is_refused_with_the_reason(page):
    next(one for one in page.text_input if one.label == "Number").input("1")
    press(page, "Write it into the file")

    assert page.session_state.texts[BRINDLEWICK] == [DEMOS[BRINDLEWICK]]
    assert "revision 1 twice" in shown(page)


# what changed since


def test_what_changed_is_told_written_followed_and_drawn(page):
    lap(page, "400 ft")
    page.session_state["hand-over"] = "Since revision 2"
    page.run()

    told = shown(page)
    assert "Before: brindlewick-4.yaml, as opened, revision 2 of 2026-11-20" in told
    assert "anger up 30.0 ft; liner longer" in told
    assert "What is written otherwise" in told
    assert "What followed" in told
    assert "<svg" in told


def test_a_revision_is_compared_with_the_one_before_it_and_changes_with_the_revision_itself(page):
    lap(page, "400 ft")
    press(page, "Write it into the file")
    page.session_state["hand-over"] = "Since revision 2"
    page.run()
    assert "Before: brindlewick-4.yaml, as opened, revision 2 of" in shown(page)
    assert "anger up 30.0 ft" in shown(page)
    lap(page, "420 ft")
    assert "Before: brindlewick-4.yaml, revision 3 of" in shown(page)
    assert "anger up 20.0 ft" in shown(page)


def test_without_a_change_the_page_says_what_would_fill_it(page):
    page.session_state["hand-over"] = "Since revision 2"
    page.run()

    assert "Nothing changed between the two" in shown(page)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (DEMOS["brindlewick-4.yaml"].replace("lap: 370 ft", "lap: 340 ft"), "Before: old.yaml, revision 2"),
        ("lapline: 1", "old.yaml does not read"),
    ],
)
def test_an_earlier_file_is_compared_or_its_problems_told(page, text, told):
    page.session_state["hand-over"] = "Since revision 2"
    page.session_state[f"older-{BRINDLEWICK}-as opened"] = "an earlier file"
    page.run()
    page.file_uploader(key="earlier-file").set_value(("old.yaml", text.encode(), "application/yaml")).run()

    assert not page.exception
    assert told in shown(page)


# in a browser


@pytest.mark.browser
def test_the_chosen_file_and_all_files_are_downloaded_whole(browser_page, tmp_path):
    port = free_port()
    with served(lapline_app(port), port):
        browser_page.goto(f"http://127.0.0.1:{port}")
        browser_page.get_by_text("Sketch", exact=True).click(timeout=60_000)
        quiet(browser_page)
        browser_page.get_by_role("link", name="Hand over").first.click()
        browser_page.get_by_text("Running sheet", exact=True).wait_for(timeout=60_000)
        quiet(browser_page)
        browser_page.get_by_text("Running sheet", exact=True).click()
        browser_page.get_by_text("sketch-running-sheet.pdf").wait_for(timeout=60_000)
        quiet(browser_page)
        with browser_page.expect_download(timeout=60_000) as chosen:
            browser_page.get_by_role("button", name="Download this").click()
        assert chosen.value.suggested_filename == "sketch-running-sheet.pdf"
        assert Path(chosen.value.path()).read_bytes().startswith(b"%PDF")
        browser_page.get_by_role("button", name="All ").click()
        every = browser_page.get_by_role("button", name="Download all")
        every.wait_for(timeout=120_000)
        with browser_page.expect_download(timeout=60_000) as packed:
            every.click()
        assert packed.value.suggested_filename == "sketch-files.zip"
        with zipfile.ZipFile(packed.value.path()) as archive:
            assert archive.testzip() is None
            assert archive.read("sketch-well.yaml").decode() == DEMOS[SKETCH]


@pytest.mark.browser
def test_every_file_is_downloaded_under_its_name_and_the_first_in_every_form(open_page):
    """What all forms of all files hold is held by test_what_is_offered_is_made."""
    page = open_page("hand-over")
    evaluation = verbs.check(verbs.load_text(DEMOS[BRINDLEWICK]))
    files = page.get_by_test_id("stRadioGroup")
    for number, each in enumerate(exports.offered(evaluation, True)):
        files.get_by_text(each.title, exact=True).click()
        for form in each.forms if number == 0 else each.forms[:1]:
            shown = exports.file_name(
                evaluation, each.word, "zip" if form in exports.BY_PAGE else form, False
            )
            if len(each.forms) > 1:
                page.get_by_role("radiogroup", name="Form").get_by_role(
                    "radio", name=form, exact=True
                ).click()
            page.locator("code", has_text=shown).first.wait_for()
            quiet(page)
            with page.expect_download() as download:
                page.get_by_role("button", name="Download this").click()
            assert download.value.suggested_filename == shown
            data = download.value.path().read_bytes()
            assert data.startswith(BEGINS.get(form, b"")), shown
            assert len(data) > 150, shown
            if form == "yaml":
                assert data.decode() == DEMOS[BRINDLEWICK]


@pytest.mark.browser
def test_the_program_is_shown_page_by_page_with_what_stands_on_them(open_page):
    page = open_page("hand-over")
    page.get_by_test_id("stRadioGroup").get_by_text("Program section", exact=True).click()
    page.get_by_text("pages, one after another").wait_for()
    page.locator(".paper text", has_text="Table 1. Well").wait_for()
    pages = page.locator(".paper > svg")
    told = re.search(r"\d+", page.get_by_text("pages, one after another").inner_text())
    assert pages.count() == int(told[0]) > 10


def test_what_is_to_be_settled_first_is_the_one_filled_action(page):
    closed = "Write it into the file"  # in a form that is still to be opened
    filled = [one.label for one in page.button if one.proto.type == "primary" and one.label != closed]
    filled += [one.proto.label for one in page.get("download_button") if one.proto.type == "primary"]
    assert "Settle first" in shown(page)
    assert filled == ["Look at the findings"]
