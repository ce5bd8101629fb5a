"""The panel of Plan: parts and their inputs, rows picked and typed in, sliders and their limits, findings."""

from __future__ import annotations

import json
import re
from functools import partial

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import answers, inspector, limits_slider, needs, plan, tables
from schematic import verbs
from schematic.drawing.findings import letters
from schematic.export.tables import Column, Table
from schematic.outcome import Found, NotChecked, Severity
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError
from tests.app.told import handed as data
from tests.app.told import with_lap

BRINDLEWICK = verbs.demos()["brindlewick-4.yaml"]
HOSTILE = "<img src=x onerror=alert(1)>"
PAGE = "from app import plan, state\nstate.begin()\nplan.page()"


@pytest.fixture
def page():
    """The page of Plan with its first demo."""
    return AppTest.from_string(PAGE, default_timeout=60).run()


def blocks(page: AppTest, kind: str) -> list[dict]:
    """The blocks of a kind."""
    return [block for each in data(page, "answers") for block in each["blocks"] if block["kind"] == kind]


def text(page: AppTest) -> str:
    """The well file as it stands."""
    return page.session_state["texts"][page.session_state["demo"]][-1]


def differing(before: str, after: str) -> list[tuple[str, str]]:
    """The lines that are not the same, of texts with as many lines."""
    return [
        (a.strip(), b.strip()) for a, b in zip(before.splitlines(), after.splitlines(), strict=True) if a != b
    ]


def turn_to(page: AppTest, panel: str) -> AppTest:
    """The page with another panel."""
    page.session_state["panel"] = panel
    return page.run()


def choose(page: AppTest, path: str) -> AppTest:
    """The page with a part chosen by its name."""
    turn_to(page, "Part")
    box = next(box for box in page.selectbox if box.label == "Part")
    return box.set_value(path).run()


def field(page: AppTest, label: str):
    """The input of a label."""
    return next(each for each in page.text_input if each.label == label)


def press(page: AppTest, label: str) -> AppTest:
    """The page after a button; labels have their marks escaped."""
    return next(each for each in page.button if each.label.replace("\\", "") == label).click().run()


def refuses(candidate: str):
    """What is wrong with a text."""
    try:
        verbs.check(verbs.load_text(candidate))
    except InputError as error:
        return error.problems
    return ()


def rows_at(title: str) -> tables.Rows:
    """The table of a title."""
    return next(
        rows
        for places in tables.PANELS.values()
        for rows in places
        if isinstance(rows, tables.Rows) and rows.title == title
    )


@pytest.mark.parametrize(("well", "first"), [("sollivane-a7.yaml", "md"), ("haldry-2.yaml", "tvd")])
def test_pressures_begin_with_the_depth_that_the_file_says_them_by(well, first):
    rows = rows_at("Pore and fracture pressure")
    shown = tables.columns(rows, tables.records(verbs.load_text(verbs.demos()[well]), rows))

    assert shown == [first, "pore", "fracture"]


def typed(title: str, changed: dict, before: str = BRINDLEWICK) -> tuple[str, list[tables.Cell]]:
    """What comes of a grid that was typed into."""
    return tables.applied(verbs.load_text(before), rows_at(title), changed, refuses)


@pytest.mark.parametrize("name", verbs.demos())
def test_every_part_of_every_well_is_chosen_and_shows_what_its_file_says(name):
    document = verbs.load_text(verbs.demos()[name])
    choices = inspector.choices(document, verbs.check(document).plan)

    assert len({choice.path for choice in choices}) == len(choices)
    for choice in choices:
        its = inspector.fields(document, choice.loc)
        assert len({one.loc for one in its}) == len(its) > 0
        written = [(one, one.text) for one in its if one.text and not one.many]
        assert inspector.with_values(document.text, written) == document.text


def test_a_part_has_the_keys_of_its_kind_and_no_others():
    document = verbs.load_text(BRINDLEWICK)
    shoe = {one.label for one in inspector.fields(document, ("liner", "assembly", 0))}

    assert {"part", "length", "od", "valves", "back pressure rating"} <= shoe
    assert not {"slips, length", "set down", "fill"} & shoe


def test_the_part_panel_follows_the_drawing_and_the_drawing_the_panel(page):
    page.session_state["drawing"] = {"chosen": {"part": "liner.assembly.7", "title": ""}, "cleared": ""}
    page.run()

    assert page.session_state["panel"] == "Part"
    assert next(box.value for box in page.selectbox if box.label == "Part") == "liner.assembly.7"
    assert blocks(page, "part")[0]["name"] == "Hydraulic hanger, 9.6 ft"

    choose(page, "strings.intermediate casing")
    (shown,) = data(page, "well_drawing")
    assert shown["chosen"]["part"] == "strings.intermediate casing"
    page.session_state["drawing"] = {"chosen": None, "cleared": "1"}  # bare paper
    page.run()
    assert data(page, "well_drawing")[0]["chosen"] is None


def test_a_part_that_is_drawn_with_others_marks_them_and_keeps_its_own_name(page):
    choose(page, "running string.assembly.4")

    assert data(page, "well_drawing")[0]["chosen"]["part"] == "running string"
    (block,) = blocks(page, "part")
    assert {cell["label"]: cell["value"] for cell in block["cells"]}["OD"] == "5.000\u00a0in"


def test_an_input_of_a_part_changes_its_line_alone(page):
    choose(page, "liner.assembly.7")
    before = text(page)
    field(page, "Length").set_value("10.6 ft")
    field(page, "Sets at").set_value("1600 psi +/- 5 %")
    press(page, "Change")

    assert differing(before, text(page)) == [
        ("length: 9.6 ft", "length: 10.6 ft"),
        ("sets at: 1500 psi +/- 5 %", "sets at: 1600 psi +/- 5 %"),
    ]
    assert len(page.session_state["texts"]["brindlewick-4.yaml"]) == 2  # one step to undo


def test_an_input_that_the_file_lacks_is_added_and_an_emptied_one_taken_out(page):
    choose(page, "liner.assembly.7")
    field(page, "Bore rating").set_value("8000 psi")
    field(page, "Load rating").set_value("")
    press(page, "Change")

    held = verbs.load_text(text(page)).content.liner.assembly[7]
    assert held.bore_rating.text == "8000 psi"
    assert held.load_rating is None


def test_a_bad_input_is_told_under_its_field_and_nothing_is_lost(page):
    choose(page, "liner.assembly.7")
    before = text(page)
    field(page, "Length").set_value("10.6 ft")
    field(page, "OD").set_value(HOSTILE)
    press(page, "Change")

    assert not page.exception
    assert text(page) == before
    assert (field(page, "Length").value, field(page, "OD").value) == ("10.6 ft", HOSTILE)
    (told,) = [each.value for each in page.text if "it does not begin with a number" in each.value]
    assert told.startswith(HOSTILE)
    assert blocks(page, "slip") == []

    field(page, "OD").set_value("8.300 in")
    press(page, "Change")
    assert differing(before, text(page)) == [
        ("length: 9.6 ft", "length: 10.6 ft"),
        ("od: 8.312 in", "od: 8.300 in"),
    ]


def test_what_was_typed_and_not_changed_is_there_again_after_another_part_and_another_page(page):
    choose(page, "liner.assembly.7")
    before = text(page)
    field(page, "Length").set_value("10.6 ft").run()
    (told,) = [each.value for each in page.text if "not changed yet" in each.value]
    assert told == "Typed, not changed yet: Length 10.6 ft (now 9.6 ft)"
    assert "Change" in filled(page)

    choose(page, "liner.assembly.8")
    assert not [each.value for each in page.text if "not changed yet" in each.value]
    turn_to(page, "Depths")
    choose(page, "liner.assembly.7")
    assert field(page, "Length").value == "10.6 ft"
    assert told in [each.value for each in page.text]
    assert text(page) == before

    press(page, "Put back")
    assert field(page, "Length").value == "9.6 ft"
    assert not [each.value for each in page.text if "not changed yet" in each.value]

    field(page, "Length").set_value("10.6 ft").run()
    choose(page, "liner.assembly.8")
    choose(page, "liner.assembly.7")
    press(page, "Change")
    assert differing(before, text(page)) == [("length: 9.6 ft", "length: 10.6 ft")]
    assert not [each.value for each in page.text if "not changed yet" in each.value]


def test_nested_inputs_begin_and_end_their_holder():
    document = verbs.load_text(BRINDLEWICK)
    loc = ("hole", 1)
    its = {one.label: one for one in inspector.fields(document, loc)}

    begun = inspector.with_values(document.text, [(its["washout, diameter"], "4 %")])
    assert verbs.load_text(begun).content.hole[1].washout.diameter.text == "4 %"
    assert inspector.with_value(begun, its["washout, diameter"], "") == document.text


def test_a_list_has_one_item_more_to_be_filled():
    document = verbs.load_text(BRINDLEWICK)
    its = {one.label: one for one in inspector.fields(document, ("hole", 2))}
    assert its["caliper 1, diameter"].text == "9.30 in"

    more = inspector.with_values(
        document.text,
        [(its["caliper 2, to"], "12000 ft"), (its["caliper, one more, to"], "12600 ft"),
         (its["caliper, one more, diameter"], "8.7 in")],
    )  # fmt: skip
    steps = verbs.load_text(more).content.hole[2].caliper
    assert [(one.to.text, one.diameter.text) for one in steps] == [
        ("11300 ft", "9.30 in"),
        ("12000 ft", "8.80 in"),
        ("12600 ft", "8.7 in"),
    ]


def test_several_depths_stand_in_one_field():
    document = verbs.load_text(BRINDLEWICK)
    its = {one.label: one for one in inspector.fields(document, ("strings", 2))}
    couplings = its["couplings, near hanger"]
    assert couplings.text.startswith("9396.5 ft, 9437.7 ft")

    changed = verbs.load_text(inspector.with_value(document.text, couplings, "9396.5 ft, 9438.0 ft"))
    assert [one.text for one in changed.content.strings[2].couplings.near_hanger] == [
        "9396.5 ft",
        "9438.0 ft",
    ]


def test_pipes_of_the_catalogue_keep_the_grade_and_read(page):
    names = inspector.pipes("7 in 29 lb/ft P-110", running=False)

    assert names[0].startswith("7 in ")
    assert all(name.endswith("P-110") for name in names)
    document = verbs.load_text(BRINDLEWICK)
    pipe = inspector.Field(("liner", "pipe"), "pipe", "")
    for name in names[:5]:
        assert (
            verbs.load_text(inspector.with_value(document.text, pipe, name)).content.liner.pipe.text == name
        )


def test_a_typed_cell_changes_its_line_alone():
    after, told = typed("Strings", {"edited_rows": {"2": {"pipe": "9 5/8 in 53.5 lb/ft L-80"}}})

    assert told == []
    assert differing(BRINDLEWICK, after) == [
        ("pipe: 9 5/8 in 47 lb/ft L-80", "pipe: 9 5/8 in 53.5 lb/ft L-80")
    ]


def test_of_many_cells_the_bad_one_is_told_and_the_rest_goes_in():
    changed = {"edited_rows": {3: {"length": "40.4 ft"}, 7: {"od": "eight", "id": "6.170 in"}}}
    after, told = typed("Liner", changed)

    (cell,) = told
    assert (cell.row, cell.column) == (7, "od")
    assert cell.problem.found == "eight"
    liner = verbs.load_text(after).content.liner.assembly
    assert (liner[3].length.text, liner[7].od.text, liner[7].id.text) == ("40.4 ft", "8.312 in", "6.170 in")


def test_rows_are_added_and_taken_out_and_the_others_keep_their_places():
    added = {"name": "Lower marl", "md": "12400 ft", "rock": "marl"}
    changed = {"deleted_rows": [1, 0], "added_rows": [added, {}], "edited_rows": {2: {"rock": "salt"}}}
    after, told = typed("Rock tops", changed)

    assert told == []
    tops = [(top.name, top.rock) for top in verbs.load_text(after).content.formation.tops]
    assert tops == [
        ("Corvane shale", "salt"),
        ("gas sand", "sand"),
        ("Ruddavine sand", "sand"),
        ("Lower marl", "marl"),
    ]


def test_a_row_in_the_making_is_told_until_it_is_whole():
    after, told = typed("Tests", {"added_rows": [{"kind": "inflow"}]})
    assert after == BRINDLEWICK
    assert "no 'name'" in told[0].problem.found

    after, told = typed("Tests", {"added_rows": [{"kind": "inflow", "name": "second"}]})
    assert told == []
    assert verbs.load_text(after).content.installation.tests[2].name == "second"


def test_a_fluid_is_added_by_its_name_and_may_get_another():
    changed = {
        "added_rows": [{"name": "wash", "kind": "wash", "density": "8.4 ppg"}],
        "edited_rows": {3: {"name": "later mud", "density": "9.9 ppg"}},
    }
    after, told = typed("Fluids", changed)

    assert told == []
    fluids = verbs.load_text(after).content.fluids
    assert set(fluids) == {"mud", "spacer", "cement", "later mud", "wash"}
    assert fluids["later mud"].density.text == "9.9 ppg"


def test_what_the_rest_of_the_file_needs_is_not_taken_out():
    after, told = typed("Fluids", {"deleted_rows": [0]})  # the schedule pumps mud

    assert after == BRINDLEWICK
    assert told[0].row == 0


@pytest.mark.parametrize("name", verbs.demos())
def test_every_table_of_every_well_holds_the_texts_of_the_file(name):
    document = verbs.load_text(verbs.demos()[name])
    for places in tables.PANELS.values():
        for rows in places:
            if isinstance(rows, tables.Rows):
                for number, record in enumerate(tables.records(document, rows)):
                    again = {
                        key: value
                        for key, value in record.items()
                        if rows.loc != ("fluids",) or key != "name"
                    }
                    one_by_one = {"edited_rows": {number: {k: v for k, v in again.items() if ", " not in v}}}
                    after, told = tables.applied(document, rows, one_by_one, lambda _text: ())
                    assert (after, told) == (document.text, [])


def test_a_moved_row_keeps_what_it_says():
    after = tables.moved(BRINDLEWICK, ("liner", "assembly"), 6, 5)
    parts = [part.part for part in verbs.load_text(after).content.liner.assembly]

    assert parts[5:7] == ["pup joint", "joint"]
    assert verbs.check(verbs.load_text(after)).plan.depth.liner.parts[4].length_m == pytest.approx(
        12.0 * 0.3048
    )


def test_a_picked_row_chooses_the_part(page):
    turn_to(page, "Strings")
    choose(page, "strings.surface casing")
    turn_to(page, "Strings")

    assert not page.exception
    (table,) = data(page, "pick_rows")
    assert (table["chosen"], table["rows"][1][0]) == (1, "surface casing")
    press(page, "Take out")
    assert [string.name for string in verbs.load_text(text(page)).content.strings] == [
        "conductor",
        "intermediate casing",
    ]


def test_the_pipe_of_a_picked_row_is_picked_from_the_catalogue(page):
    choose(page, "strings.intermediate casing")
    turn_to(page, "Strings")
    before = text(page)
    box = next(box for box in page.selectbox if "catalogue" in box.label)
    box.set_value("9 5/8 in 53.5 lb/ft L-80").run()

    assert differing(before, text(page)) == [
        ("pipe: 9 5/8 in 47 lb/ft L-80", "pipe: 9 5/8 in 53.5 lb/ft L-80")
    ]


@pytest.mark.parametrize("panel", tables.PANELS)
@pytest.mark.parametrize("mode", ["Pick rows", "Type in rows"])
def test_every_panel_opens_in_both_ways(page, panel, mode):
    page.session_state["rows-mode"] = mode
    turn_to(page, panel)
    for place in tables.PANELS[panel]:
        boxes = [box for box in page.selectbox if box.label == "Table"]
        if boxes:
            title = place.title if isinstance(place, tables.Rows) else place.name
            boxes[0].set_value(title).run()
        assert not page.exception


def test_the_limits_of_a_slider_are_where_the_checks_begin_to_find(page):
    document = verbs.load_text(BRINDLEWICK)
    its = limits_slider.input_at("liner.lap", "370 ft", 2.5)
    *_, row = limits_slider.samples(document, its, lambda text: verbs.check(verbs.load_text(text)))
    shown = limits_slider.limits(its, row)

    # common practice asks for a lap of 100 ft; the running string goes along with the liner top
    assert limits_slider.Edge(100.0, "lap outside limits", "under") in shown.edges
    # the lap is cemented from the hanger's base down, 10.4 + 7.9 + 9.6 = 27.9 ft below the liner top: 100 ft
    # of it want a lap of 127.9 ft
    assert limits_slider.Edge(128.0, "cemented lap short", "under") in shown.edges  # the next foot above
    fast = next(edge.value for edge in shown.edges if edge.text == "dart meets plug fast")
    # a lap of nought is none; the least that is looked at beside it is a foot
    assert limits_slider.Edge(1.0, "refused, needs a value above nought", "under") in shown.edges
    assert shown.bands[:2] == ((0.0, 1.0, "refused"), (1.0, 100.0, "error"))
    assert not shown.along
    assert shown.bands[-1][1] == its.high
    for text, values in (
        ("cemented lap short", (127.0, 128.0)),
        ("dart meets plug fast", (fast - 1.0, fast)),
    ):
        for value, found in zip(values, (True, False), strict=True):
            evaluation = verbs.check(verbs.load_text(limits_slider.with_value(document, its, value)))
            names = [one.rule.replace("-", " ") for one in evaluation.findings]
            assert (text in names) is found
    for value, found in ((95.0, True), (100.0, False), (105.0, False)):
        evaluation = verbs.check(verbs.load_text(BRINDLEWICK.replace("lap: 370 ft", f"lap: {value} ft")))
        rules = [one.rule for one in evaluation.outcomes if isinstance(one.answer, Found)]
        assert ("lap-outside-limits" in rules) is found


def sampled(value: float, **found: Severity) -> limits_slider.Sample:
    """What is found at a value: severities by rule."""
    its = {(rule.replace("_", "-"), "liner"): severity for rule, severity in found.items()}
    return limits_slider.Sample(value, its, dict.fromkeys(its, ""))


def test_a_mark_stands_where_a_finding_comes_goes_or_gets_worse_with_its_side():
    warning, error = Severity.WARNING, Severity.ERROR
    row = [
        sampled(0.0, lap=error),
        sampled(10.0, lap=warning),
        sampled(20.0),
        sampled(30.0, gap=warning),
        sampled(40.0, gap=warning, plug=warning),  # warns already: a further one is marked as well
        sampled(50.0, plug=warning),
    ]
    shown = limits_slider.limits(limits_slider.Input("liner.lap", 20.0, "ft", 0.0, 50.0, 10.0), row)
    assert shown.edges == (
        limits_slider.Edge(10.0, "lap", "under"),
        limits_slider.Edge(20.0, "lap", "under"),
        limits_slider.Edge(20.0, "gap", "over"),
        limits_slider.Edge(30.0, "plug", "over"),
        limits_slider.Edge(50.0, "gap", "under"),
    )
    assert [state for *_, state in shown.bands] == ["error", "warns", "passes", "warns"]


def test_a_value_between_two_steps_is_written_with_the_digits_it_needs():
    metres = limits_slider.Input("liner.lap", 120.0, "m", 0.0, 300.0, 5.0)
    assert [metres.text(value) for value in (40.0, 38.5)] == ["40 m", "38.5 m"]
    weight = limits_slider.Input("fluids.mud.density", 1.44, "sg", 1.0, 2.0, 0.01)
    assert [weight.text(value) for value in (1.4, 1.405)] == ["1.40 sg", "1.405 sg"]


def test_what_comes_and_goes_often_is_told_in_one_line():
    at = [(3.0, "over"), (5.0, "under"), (8.0, "over"), (9.0, "under"), (12.0, "over")]
    edges = tuple(limits_slider.Edge(value, "slips", side) for value, side in at)
    once = (limits_slider.Edge(1.0, "lap", "under"), limits_slider.Edge(20.0, "lap", "over"))
    assert limits_slider.ranges((*edges, *once), "{:.0f}".format) == {"slips": "3 to 5, 8 to 9, over 12"}


@pytest.mark.parametrize("written", ["1500 psi +/- 5 %", "9 5/8 in", "0 ft", "", "some"])
def test_what_is_no_single_number_has_no_slider(written):
    assert limits_slider.input_at("liner.lap", written, 2.5) is None


def test_limits_are_shown_on_demand_and_outlast_a_change_of_their_own_value(page):
    assert [slider["bands"] for slider in data(page, "limits_slider")] == [[], [], []]
    press(page, "Show the limits")
    lap, shoe, excess = data(page, "limits_slider")
    assert lap["bands"] and shoe["bands"] and excess["bands"]  # noqa: PT018

    waits = sum(
        isinstance(one.answer, NotChecked) for one in verbs.check(verbs.load_text(BRINDLEWICK)).outcomes
    )
    assert any(f"sets no limit: {waits} checks" in one.value for one in page.text)
    page.button(key="no-limit").click().run()  # what is asked for most: friction
    assert not page.exception
    assert page.session_state["to-field"][0][:2] == ("installation", "friction")
    turn_to(page, "Depths")

    page.text_input(key="lap").set_value("380 ft").run()
    moved, shoe, excess = data(page, "limits_slider")
    assert moved["value"] == 380.0
    assert moved["bands"]
    assert (moved["low"], moved["high"]) == (lap["low"], lap["high"])
    assert (shoe["bands"], excess["bands"]) == ([], [])  # those of another plan are not shown


def open_finding(page: AppTest, name: str | None) -> AppTest:
    """The page with a finding chosen, or none."""
    page.session_state["finding"] = name
    return page.run()


def test_a_chosen_finding_takes_the_place_of_the_list_and_is_walked(page):
    (found,) = data(page, "findings_list")
    open_finding(page, found["rows"][0]["id"])
    assert data(page, "findings_list") == []
    (slip,) = blocks(page, "slip")
    assert slip["head"] == found["rows"][0]["text"]
    count = len(found["rows"])  # of all, as Next leads through all
    assert f"warning, 1 of {count} findings" in [each.value for each in page.text]
    assert next(each for each in page.button if each.label == "Previous").disabled

    press(page, "Next")
    assert blocks(page, "slip")[0]["head"] == found["rows"][1]["text"]
    assert data(page, "well_drawing")[0]["chosen"]["part"] == found["rows"][1]["id"].partition(" ")[2]

    press(page, "All findings")
    assert len(data(page, "findings_list")[0]["rows"]) == len(found["rows"])


def test_a_finding_alone_has_no_next_one(page, monkeypatch):
    alone = letters(verbs.check(verbs.load_text(text(page))))[:1]
    for module in (plan, answers):
        monkeypatch.setattr(module, "letters", lambda _evaluation: alone)
    open_finding(page, answers.name_of(alone[0][1]))

    assert not page.exception
    assert "warning, 1 of 1 finding" in [each.value for each in page.text]
    assert not {"Previous", "Next"} & {each.label for each in page.button}


def test_what_was_chosen_in_a_well_is_not_chosen_in_another(page):
    others = verbs.check(verbs.load_text(verbs.demos()["sollivane-a7.yaml"])).findings
    (found,) = data(page, "findings_list")
    name = next(row["id"] for row in found["rows"] if row["id"] in [answers.name_of(one) for one in others])
    page.session_state["chosen"] = {"part": "liner", "title": ""}
    open_finding(page, name)
    page.selectbox(key="well-on-screen").select("sollivane-a7.yaml").run()

    assert not page.exception
    assert len(data(page, "findings_list")) == 1
    assert blocks(page, "slip") == []
    assert data(page, "well_drawing")[0]["chosen"] is None


ACCEPT = """
from app import accept, answers, state
state.begin()
evaluation = state.checked(state.texts()[-1], state.state.demo)[1]
outcome = evaluation.findings[0]
accept.question(outcome, answers.headline(outcome, "field"))
"""


def test_a_warning_is_accepted_by_name_and_reason_and_stays_on_the_sheet(page):
    (found,) = data(page, "findings_list")
    open_finding(page, found["rows"][0]["id"])
    assert "Accept ..." in [each.label for each in page.button]

    asked = AppTest.from_string(ACCEPT, default_timeout=30).run()
    press(asked, "Accept it")
    assert "Not accepted: it needs a name and a reason." in [each.value for each in asked.text]
    assert "waived" not in text(asked)
    asked.text_input[0].set_value("A. **Planner**")
    asked.text_input[1].set_value("cold well, <b>silica</b> not wanted")
    press(asked, "Accept it")
    document = verbs.load_text(text(asked))
    (waiver,) = document.content.waived
    assert (waiver.by, waiver.reason) == ("A. **Planner**", "cold well, <b>silica</b> not wanted")
    (outcome,) = (one for one in verbs.check(document).findings if one.waived)
    assert outcome.rule == waiver.rule
    assert (waiver.subject or "") == outcome.subject.path
    before, after = (
        dict(answers.counts(verbs.check(verbs.load_text(one)))) for one in (BRINDLEWICK, text(asked))
    )
    assert before["warning"] == "9 warnings"
    assert "accepted" not in before
    assert (after["warning"], after["accepted"]) == ("8 warnings", "1 accepted")  # a count of its own
    more = int(after["passed"].split()[0]) - int(before["passed"].split()[0])
    assert more == 1  # that the line under 'waived' names a rule is checked, too


def test_a_remedy_says_what_it_writes_clears_and_brings_and_the_next_finding_comes(page):
    page.text_input(key="lap").set_value("80 ft").run()
    open_finding(page, "lap-outside-limits liner")
    (told,) = [each["text"] for each in blocks(page, "note") if each["text"].startswith("Lap: ")]
    assert told.startswith("Lap: 80 ft to 100 ft. Clears a. ")

    press(page, "Lap 100 ft")
    assert "  lap: 100 ft\n" in text(page)
    (told,) = blocks(page, "followed")
    assert told["head"].startswith("After lap 80 ft to 100 ft")
    assert told["lines"][0].startswith("Gone: Lap 80.0 ft, least 100 ft")
    assert "length: 9346 ft" in text(page)  # 9076 + 370 - 100: the running string goes along
    assert not page.session_state["finding"].startswith("running-string-misses-liner-top")

    press(page, "Undo it")
    assert "length: 9366 ft" in text(page)
    assert "  lap: 80 ft\n" in text(page)
    (told,) = blocks(page, "followed")
    assert told["lines"][0].startswith("New: a Lap 80.0 ft, least 100 ft")
    assert "Undo it" not in [each.label for each in page.button]


def followed(page: AppTest) -> list[str]:
    """What the page says that the last change did to the findings."""
    return [line for block in blocks(page, "followed") for line in block["lines"]]


def test_after_a_change_the_page_says_what_it_did_to_the_findings_until_the_next_one(page):
    assert followed(page) == []
    page.text_input(key="lap").set_value("80 ft").run()
    lines = followed(page)
    assert lines[0].startswith("New: a Lap 80.0 ft, least 100 ft; ")  # by the letter that it has now
    turn_to(page, "Hole")
    assert followed(page) == lines

    press(page, "Undo")
    assert any(line.startswith("Gone: Lap 80.0 ft, least 100 ft; ") for line in followed(page))
    press(page, "Redo")
    assert followed(page) == lines


def test_a_change_that_does_nothing_to_the_findings_has_nothing_to_say(page):
    page.text_input(key="lap").set_value("80 ft").run()
    page.text_input(key="lap").set_value("80.0 ft").run()
    assert "  lap: 80.0 ft\n" in text(page)
    assert blocks(page, "followed") == []


def test_another_well_on_screen_is_no_change(page):
    box = next(box for box in page.selectbox if box.label == "Well on screen")
    box.set_value("haldry-2.yaml").run()
    assert blocks(page, "followed") == []


def between(old: str, new: str) -> list[str]:
    """What the second text did to the findings of the first."""
    before, now = (verbs.check(verbs.load_text(one)) for one in (old, new))
    return [line for block in answers.followed("", before, now) for line in block["lines"]]


def test_a_rule_that_has_a_finding_is_not_said_to_have_found_nothing():
    rubbed = edit.put(BRINDLEWICK, "installation.friction", {"cased": "0.22", "open hole": "0.30"})
    told = between(BRINDLEWICK, rubbed)

    now = verbs.check(verbs.load_text(rubbed))
    of_it = {type(one.answer) for one in now.outcomes if one.rule == "pipe-buckles"}
    assert Found in of_it
    assert len(of_it) > 1
    assert any(line.startswith("Checked now, nothing found") for line in told)
    assert not any("Buckling" in line for line in told)


def test_what_waits_for_an_input_and_what_is_checked_now_are_told():
    tested = edit.set(BRINDLEWICK, "strings.intermediate casing.tested to", "5000 psi")
    assert between(BRINDLEWICK, tested) == ["Checked now, nothing found: Earlier test of the host."]
    assert between(tested, BRINDLEWICK) == ["Not checked any more: Earlier test of the host."]

    short = edit.set(BRINDLEWICK, "fluids.cement.thickening time", "2 h")
    (new,) = (line for line in between(BRINDLEWICK, short) if line.startswith("New: "))
    (lost,) = between(short, edit.remove(short, "fluids.cement.thickening time"))
    assert new[7:] == lost.removeprefix("Not checked any more: ")  # its headline; it has not gone


def test_a_finding_that_only_has_another_letter_has_not_changed():
    before, now = (verbs.check(verbs.load_text(one)) for one in (BRINDLEWICK, with_lap("80 ft")))
    old, new = ({answers.name_of(one): letter for letter, one in letters(each)} for each in (before, now))
    moved = {name for name in old if name in new and old[name] != new[name]}
    same = {
        letter
        for letter, one in letters(now)
        if answers.name_of(one) in moved
        and answers.headline(one, "field") in [answers.headline(each, "field") for each in before.findings]
    }
    (lines,) = (block["lines"] for block in answers.followed("", before, now))
    told = [
        word for line in lines for part in line.partition(": ")[2].split("; ") for word in part.split(" ")[:1]
    ]
    assert same
    assert not same & {word.rstrip(".") for word in told}


def test_what_reads_the_same_stands_in_one_row_with_its_count():
    """A sketch has three lines of joints: above the landing collar, above the float collar, the shoe track."""
    document = verbs.load_text(verbs.demos()["sketch.yaml"])
    evaluation = verbs.check(document)
    said = partial(needs.told, document, evaluation.plan, inspector.choices(document, evaluation.plan))
    rows = answers.unchecked_rows(evaluation, said)
    texts = [row["text"] for row in rows]
    assert [text for text in texts if text.startswith("Length of joints")] == ["Length of joints (3)"]
    assert len(set(texts)) == len(texts)
    waits = [one for one in evaluation.outcomes if isinstance(one.answer, NotChecked)]
    assert len(waits) == len(rows) + 2


def test_what_is_not_checked_is_the_same_list_with_what_each_needs(page):
    count = dict(data(page, "findings_list")[0]["counts"])["unchecked"]
    page.session_state["unchecked"] = True
    page.run()
    (found,) = data(page, "findings_list")
    assert f"{len(found['rows'])} not checked" == count
    assert all(row["figure"].startswith("needs ") for row in found["rows"])


def test_what_was_moved_becomes_an_option_and_the_plan_is_as_it_was(page):
    assert next(each for each in page.button if each.label == "Keep as an option").disabled
    page.text_input(key="lap").set_value("420 ft").run()
    assert "Put back 370 ft" in [each.label.replace("\\", "") for each in page.button]

    press(page, "Keep as an option")
    assert "  lap: 370 ft\n" in text(page)
    kept = verbs.load_text(text(page)).content.options[-1]
    along = {"running string.assembly.drill pipe.length": "9026 ft"}  # 9076 + 370 - 420
    assert (kept.name, kept.change) == ("lap 420 ft", {"liner.lap": "420 ft", **along})
    press(page, "Undo")
    assert "  lap: 420 ft\n" in text(page)
    press(page, "Put back 370 ft")
    assert text(page) == BRINDLEWICK


def changed(page: AppTest, made) -> AppTest:
    """The page after a change of the text."""
    page.session_state.texts["brindlewick-4.yaml"].append(made(text(page)))
    return page.run()


def test_any_value_that_was_changed_becomes_an_option(page):
    pipe = "7 in 32 lb/ft P-110"
    changed(page, lambda held: edit.set(held, "liner.pipe", pipe))
    assert "Keep as an option" not in filled(page)  # it may be the plan that was changed
    press(page, "Keep as an option")
    kept = verbs.load_text(text(page)).content
    assert kept.liner.pipe.text == "7 in 29 lb/ft P-110"
    assert (kept.options[-1].name, kept.options[-1].change) == (f"pipe {pipe}", {"liner.pipe": pipe})
    assert f"Kept as the option 'pipe {pipe}'; the plan is as it was opened." in [
        each.value for each in page.text
    ]


def test_an_option_of_many_values_has_a_name_of_its_own_and_what_was_added_stays(page):
    def many(held: str, excess: str) -> str:
        held = edit.set(edit.set(held, "liner.lap", "400 ft"), "liner.off bottom", "12 ft")
        return edit.set(held, "cement.excess.open hole", excess)

    for excess in ("31 %", "32 %"):
        changed(page, partial(many, excess=excess))
        press(page, "Keep as an option")
    kept = verbs.load_text(text(page)).content
    assert [one.name for one in kept.options[-2:]] == ["lap 400 ft and 2 more", "lap 400 ft and 2 more (2)"]
    assert [one.change["cement.excess.open hole"] for one in kept.options[-2:]] == ["31 %", "32 %"]
    assert kept.liner.lap.text == "370 ft"

    changed(page, lambda held: edit.put(held, "fluids.wash", {"kind": "wash", "density": "8.4 ppg"}))
    assert next(each for each in page.button if each.label == "Keep as an option").disabled
    page.text_input(key="lap").set_value("420 ft").run()
    press(page, "Keep as an option")
    told = [each.value for each in page.text]
    assert "Kept as the option 'lap 420 ft'; what was added or taken out stays in the plan." in told


def test_eight_figures_follow_the_depths_and_say_what_they_need(page):
    def cells() -> dict[str, dict]:
        (block,) = [each for each in blocks(page, "part") if len(each["cells"]) == 8]
        return {cell["label"]: cell for cell in block["cells"]}

    assert cells()["lap"]["value"] == "370.0\u00a0ft"
    page.text_input(key="lap").set_value("380 ft").run()
    assert cells()["lap"]["value"] == "380.0\u00a0ft"
    page.session_state["texts"]["brindlewick-4.yaml"] = [edit.remove(BRINDLEWICK, "cement.planned top")]
    page.run()
    assert cells()["cement"]["value"] is None
    assert "top" in cells()["cement"]["needs"]


def test_the_units_are_written_into_the_file_and_can_be_undone(page):
    next(each for each in page.selectbox if each.label == "Units").set_value("metric").run()
    assert "  show: metric\n" in text(page)
    press(page, "Undo")
    assert text(page) == BRINDLEWICK
    assert next(each for each in page.selectbox if each.label == "Units").value == "field"


def test_the_liner_closes_from_both_ends_below_its_table(page):
    page.session_state["texts"]["brindlewick-4.yaml"] = [
        BRINDLEWICK.replace("  lap: 370 ft\n", "  lap: 372.5 ft\n", 1)  # the running string ends at 9480 ft
    ]
    page.run()
    turn_to(page, "Liner")
    (closure,) = [each for each in blocks(page, "table") if each["title"] == "Closure at the liner top"]
    assert [row[1].replace("\u202f", "") for row in closure["rows"]] == ["9477.5", "9477.5", "9480.0", "2.5"]

    page.session_state["texts"]["brindlewick-4.yaml"] = [
        edit.remove(edit.remove(BRINDLEWICK, "options"), "running string")
    ]
    page.run()
    (closure,) = [each for each in blocks(page, "table") if each["title"] == "Closure at the liner top"]
    assert closure["rows"][2][1] == "needs running string"


def test_names_of_a_file_are_data_in_the_panel(page):
    mine = BRINDLEWICK.replace("name: hydraulic hanger", f"name: '**{HOSTILE}**'")
    page.session_state["texts"]["brindlewick-4.yaml"] = [mine]
    choose(page, "liner.assembly.7")
    turn_to(page, "Liner")

    assert not page.exception
    assert not page.markdown
    assert not [each for each in page.get("html") if "img" in each.proto.body]


@pytest.fixture
def opened(open_page):
    """Plan in a browser."""
    return open_page("plan")


def file_of(page) -> str:
    """The well file as the page gives it away, at the end of a run: the next one takes a download back."""
    page.locator('.stApp[data-test-script-state="notRunning"]').wait_for()
    with page.expect_download() as download:
        page.get_by_role("button", name="Download", exact=True).click()
    return download.value.path().read_text()


@pytest.mark.browser
def test_ten_quick_edits_in_a_grid_are_all_kept(opened):
    from playwright.sync_api import expect

    opened.get_by_role("radio", name="Hole", exact=True).click()
    opened.get_by_role("radio", name="Type in rows", exact=True).click()
    opened.get_by_role("combobox", name="Table").click()
    opened.get_by_role("option", name="Rock tops").click()
    grid = opened.get_by_test_id("stDataFrame")
    opened.wait_for_timeout(2000)
    expect(grid).to_have_count(1, timeout=60_000)  # the table before this one is gone
    grid.scroll_into_view_if_needed()
    rows = ["9210", "9990", "10310", "11861", "12641"]  # each typed twice, the second time half a foot deeper
    for typed in [f"{depth}{half}" for half in (" ft", ".5 ft") for depth in rows]:
        row = rows.index(re.match(r"\d+", typed)[0])
        at = grid.bounding_box()
        opened.mouse.dblclick(at["x"] + 225, at["y"] + 29 * (row + 1) + 18)
        field = opened.locator(
            "#portal input, #portal textarea"
        ).first  # key strokes before it is there go astray
        field.fill(typed, timeout=60_000)
        opened.keyboard.press("Enter")
    for _ in range(120):
        kept = file_of(opened)  # that of the last run that ended
        if f"{rows[-1]}.5 ft" in kept:
            break
        opened.wait_for_timeout(500)

    tops = verbs.load_text(kept).content.formation.tops
    assert [top.md.text for top in tops] == [f"{depth}.5 ft" for depth in rows]


@pytest.mark.browser
def test_a_slider_is_moved_by_the_keyboard_and_changes_the_file_when_let_go(opened):
    from playwright.sync_api import expect

    field = opened.get_by_role("textbox", name="Lap, liner top to host shoe")
    expect(field).to_have_value("370 ft", timeout=60_000)
    slider = opened.get_by_role("slider", name="Lap, liner top to host shoe, slider")
    slider.focus()
    for _ in range(3):
        opened.keyboard.press("ArrowRight")
    assert slider.get_attribute("aria-valuetext").startswith("400 ft")  # three steps of 10 ft
    assert field.input_value() == "370 ft"

    opened.get_by_text("9\u2009450", exact=True).first.wait_for(timeout=60_000)  # 9 850 less 400
    expect(field).to_have_value("400 ft", timeout=60_000)


@pytest.mark.browser
def test_a_click_selects_the_row_and_a_row_marks_the_part(opened):
    opened.get_by_role("radio", name="Liner", exact=True).click()
    rows = opened.get_by_role("grid", name="Liner, to pick from").get_by_role("row")
    rows.first.wait_for(timeout=60_000)
    hanger = opened.locator('g[data-part="liner.assembly.7"]').first
    hanger.evaluate("group => group.focus()")
    opened.keyboard.press("Enter")
    opened.get_by_role("button", name="Take out").wait_for(timeout=60_000)  # of the chosen row
    assert opened.get_by_role("radio", name="Liner", exact=True).is_checked()

    assert rows.filter(has_text="Hydraulic hanger").get_attribute("aria-selected") == "true"
    rows.filter(has_text="Tie-back receptacle").click()
    opened.locator('g[data-part="liner.assembly.9"][aria-pressed="true"]').first.wait_for(timeout=60_000)
    assert hanger.get_attribute("aria-pressed") == "false"


def test_a_grid_that_was_off_the_page_begins_from_the_file(page):
    """Typed, turned to another way and back: what the file has by then is shown, and nothing of it goes."""
    page.session_state["rows-mode"] = "Type in rows"
    turn_to(page, "Hole")
    page.run()
    before = page.session_state["grid"].number
    page.session_state["rows-mode"] = "Pick rows"
    page.run()
    page.session_state["rows-mode"] = "Type in rows"
    page.run()

    assert page.session_state["grid"].number == before + 1
    assert page.session_state["grid"].document.text == text(page)


def asked_for(name: str):
    """A demo well, read and evaluated, and its parts."""
    document = verbs.load_text(verbs.demos()[name], name)
    evaluation = verbs.check(document)
    return document, evaluation, inspector.choices(document, evaluation.plan)


@pytest.mark.parametrize("name", verbs.demos())
def test_every_input_that_a_check_waits_for_leads_to_its_field_or_table(name):
    document, evaluation, these = asked_for(name)
    by_path = {one.path: one for one in these}
    its = needs.wanted(document, evaluation, these)
    assert len({way.where for way, _count in its}) == len({way.told for way, _count in its}) == len(its) > 0
    for way, _count in its:
        if way.words in ("Rating of stage collar", "Rating of external packer"):
            continue  # the file has no key for it
        if way.table:
            assert way.table in [
                rows.title for rows in tables.PANELS[way.place] if isinstance(rows, tables.Rows)
            ]
        else:
            labels = {one.loc: one.label for one in inspector.fields(document, by_path[way.part].loc)}
            assert labels[way.field].casefold().startswith(way.words.casefold().partition(", its")[0])


def test_an_input_is_one_row_with_the_checks_that_wait_for_it_alone_and_with_others():
    document, evaluation, these = asked_for("ossmere-9.yaml")
    counts = {way.told: count for way, count in needs.wanted(document, evaluation, these)}
    waits = [one.answer.missing for one in evaluation.outcomes if isinstance(one.answer, NotChecked)]
    friction = [names for names in waits if "installation.friction" in names]
    assert set(friction) == {("installation.friction",)}
    assert counts["Friction (Installation)"] == f"{len(friction)} checks"
    clock = [names for names in waits if "cement.clock.stoppage" in names]
    assert counts["Clock, stoppage (Cement)"] == f"{len(clock)} with others"
    pressures = [names for names in waits if any(one.startswith("formation.pressures") for one in names)]
    assert len({one for names in pressures for one in names}) > 1  # asked for in more than one way
    assert counts["Pore and fracture pressure (Hole)"] == f"{len(pressures)} checks"


def test_a_finding_leads_to_the_fields_that_it_is_judged_by():
    def led(name: str, rule: str) -> list[str]:
        document, evaluation, these = asked_for(name)
        outcome = next(one for one in evaluation.findings if one.rule == rule)
        return [way.told for way in needs.of_finding(document, evaluation, these, outcome)]

    certificate = "Special drift, certificate (Production casing)"
    assert led("sollivane-a7.yaml", "bit-larger-than-drift") == [certificate]
    document = verbs.load_text(with_lap("80 ft"))
    evaluation = verbs.check(document)
    its = needs.of_finding(
        document, evaluation, inspector.choices(document, evaluation.plan), evaluation.findings[0]
    )
    assert [way.told for way in its] == ["Lap (Liner)", "Least lap (Limits)"]  # not the top, as lap is given
    silica = ["Least silica (Limits)", "Silica (Fluid: cement)"]
    assert led("brindlewick-4.yaml", "slurry-wants-silica") == silica


def test_what_a_finding_is_judged_by_opens_its_field(page):
    open_finding(page, "slurry-wants-silica fluids.cement")
    press(page, "Silica (Fluid: cement)")
    assert page.session_state["panel"] == "Part"
    (cursor,) = data(page, "cursor")
    assert cursor["box"] == field(page, "Silica").key
    (folded,) = page.expander  # what is not given yet is folded away, but for what was asked for
    assert folded.proto.expanded


GO = PAGE.replace(
    "plan.page()",
    "import streamlit as st\nfrom app import needs\n"
    "st.button('Go', on_click=needs.go, args=(needs.Way('Survey', 'Hole', table='Survey'),))\nplan.page()",
)


def test_what_waits_for_a_table_opens_it_to_type_in():
    page = press(AppTest.from_string(GO, default_timeout=60).run(), "Go")
    assert page.session_state["panel"] == "Hole"
    assert page.session_state["grid"].loc == ("survey",)


@pytest.mark.browser
def test_a_row_of_what_the_checks_wait_for_puts_the_cursor_into_the_field(opened):
    rows = opened.get_by_role("listbox", name="Inputs that checks wait for")
    rows.focus()
    opened.keyboard.press("ArrowDown")
    opened.keyboard.press("ArrowDown")
    opened.keyboard.press("Enter")
    opened.locator("input:focus").wait_for(timeout=60_000)
    assert opened.locator("input:focus").get_attribute("aria-label") == "Load rating"
    opened.keyboard.type("250 klbf")
    opened.keyboard.press("Enter")
    opened.get_by_text("1 change, only in this tab").wait_for(timeout=60_000)
    assert "load rating: 250 klbf" in file_of(opened)


def test_tables_and_figures_have_the_signs_of_the_sheet():
    text = verbs.demos()["sketch.yaml"]
    evaluation = verbs.check(verbs.load_text(text))
    table = answers.figures(evaluation)[0]
    heads = [head.partition(",")[0] for head in table["heads"]]
    for row in table["rows"]:
        cells = dict(zip(heads, row, strict=True))
        joint = "joint" in cells["part"]
        assert cells["length"][0] == "\u2248"  # the whole assembly is assumed
        assert (cells["OD"] == "?") is (cells["ID"] in ("?", "valve")) is not joint
    assert table["note"] == "\u2248 assumed, ? not given"
    (note,) = answers.assumed(evaluation)
    assert note["text"].endswith("A figure after \u2248 is assumed.")

    brindlewick = answers.figures(verbs.check(verbs.load_text(BRINDLEWICK)))[0]
    assert [row[-1] for row in brindlewick["rows"]][-1] == "valve"  # of the float shoe, not unknown
    assert brindlewick["note"] == ""


def test_a_part_says_valve_where_the_sheet_does_and_an_estimated_top_of_cement(page):
    choose(page, "liner.assembly.0")
    cells = {cell["label"]: cell["value"] for each in blocks(page, "part") for cell in each["cells"]}
    assert cells["ID"] == "valve"

    doubted = BRINDLEWICK.replace("known by: bond log", "known by: volumes")
    evaluation = verbs.check(verbs.load_text(doubted))
    sheet = verbs.sheet(evaluation)
    chosen = {"part": "strings.intermediate casing", "title": ""}
    (its,) = answers.part(evaluation, sheet, chosen)
    assert {"label": "known by", "value": "volumes, estimated"} in its["cells"]


def test_what_was_not_taken_stays_in_its_cells_and_rows():
    document, rows = verbs.load_text(BRINDLEWICK), rows_at("Rock tops")
    changed = {
        "edited_rows": {"2": {"md": "10310"}, 3: {"md": "11861 ft"}},  # the first without its unit
        "deleted_rows": [0],
        "added_rows": [{"name": "a", "md": "deep"}, {"name": "b", "md": "12650 ft"}],
    }
    merged = tables.with_left(None, changed, 5)
    text, told = tables.applied(document, rows, merged, refuses)
    left = tables.left_over(document, rows, merged, told, text)

    now = verbs.load_text(text).content.formation.tops
    assert [one.name for one in now] == ["Ambrick marl", "Corvane shale", "gas sand", "Ruddavine sand", "b"]
    assert left.cells == {1: {"md": "10310"}}  # the row above it is gone
    assert left.added == ({"name": "a", "md": "deep"},)
    assert [(cell.row, cell.column) for cell in left.told] == [(1, "md"), (5, "")]  # as the grid counts them

    after = verbs.load_text(text)  # the grid of that text begins with them, and they are mended there
    mends = {"edited_rows": {5: {"md": "12660 ft"}}, "added_rows": [], "deleted_rows": []}
    merged = tables.with_left(left, mends, 5)
    text, told = tables.applied(after, rows, merged, refuses)
    assert [cell.row for cell in told] == [1]
    assert [one.name for one in verbs.load_text(text).content.formation.tops][-1] == "a"
    assert tables.with_left(left, {"deleted_rows": [5]}, 5)["added_rows"] == []


def test_a_share_without_its_unit_is_written_in_percent_by_a_press_wherever_it_was_typed(page):
    page.text_input(key="excess").set_value("17").run()
    press(page, "Write 17 %")
    assert text(page) == BRINDLEWICK.replace("open hole: 20 %", "open hole: 17 %")
    assert page.text_input(key="excess").value == "17 %"
    page.text_input(key="lap").set_value("17").run()  # a length has more than one unit
    assert not [one.label for one in page.button if one.label.startswith("Write")]
    press(page, "Keep 370 ft")

    choose(page, "cement")
    field(page, "Excess, open hole").set_value("18")
    field(page, "Excess, lap").set_value("4 %")
    press(page, "Change")
    press(page, "Write 18 %")
    held = verbs.load_text(text(page)).content.cement.excess
    assert (held.open_hole.text, held.lap.text) == ("18 %", "4 %")


def test_a_share_without_its_unit_in_a_grid_is_written_in_percent_and_the_rest_stays(page):
    page.session_state["rows-mode"] = "Type in rows"
    turn_to(page, "Fluids")
    grid, rows = page.session_state["grid"], rows_at("Fluids")
    names = [record["name"] for record in tables.records(grid.document, rows)]
    at = names.index("cement")
    changed = {"edited_rows": {at: {"silica": "35", "density": "15.8"}}, "deleted_rows": [], "added_rows": []}
    text_, told = tables.applied(grid.document, rows, changed, refuses)
    grid.began = grid.left = tables.left_over(grid.document, rows, changed, told, text_)
    grid.told = grid.left.told
    page.run()
    press(page, f"Row {at + 1}, silica: write 35 %")

    assert not page.exception
    held = verbs.load_text(text(page)).content.fluids["cement"]
    assert held.silica.text == "35 %"
    assert held.density.text != "15.8"
    (slip,) = blocks(page, "slip")  # the other one is told, and in its cell
    assert slip["head"].startswith(f"Row {at + 1}, cement, density: not taken")
    assert dict(page.dataframe[0].value.iloc[at])["density"] == "15.8"


def test_a_refused_row_is_there_again_after_another_panel(page):
    page.session_state["rows-mode"] = "Type in rows"
    turn_to(page, "Fluids")
    grid = page.session_state["grid"]
    changed = {"edited_rows": {}, "deleted_rows": [], "added_rows": [{"name": "wash", "density": "8.4"}]}
    text_, told = tables.applied(grid.document, rows_at("Fluids"), changed, refuses)
    assert text_ == BRINDLEWICK
    grid.told = tuple(told)
    grid.left = tables.left_over(grid.document, rows_at("Fluids"), changed, told, text_)
    turn_to(page, "Hole")
    assert blocks(page, "slip") == []
    turn_to(page, "Fluids")
    (told_again,) = blocks(page, "slip")
    assert told_again["head"].startswith("Row 5: not taken")
    frame = page.dataframe[0].value
    assert list(frame.index) == [1, 2, 3, 4, 5]
    assert dict(frame.iloc[4])["density"] == "8.4"
    heads = json.loads(page.dataframe[0].proto.columns)
    assert heads["density"]["help"].replace("\\", "") == "Typed with its unit, as 12.6 ppg in this file"


@pytest.mark.parametrize(
    ("elsewhere", "stays"),
    [
        (lambda text_: edit.set(text_, "liner.lap", "400 ft"), True),
        (lambda text_: edit.put(text_, "fluids.wash", {"kind": "wash", "density": "8.4 ppg"}), False),
    ],
)
def test_a_refused_cell_is_there_again_after_a_change_elsewhere(page, elsewhere, stays):
    """As long as the rows are the same ones: else it could come to stand in another one."""
    page.session_state["rows-mode"] = "Type in rows"
    turn_to(page, "Fluids")
    grid = page.session_state["grid"]
    changed = {"edited_rows": {1: {"density": "abc"}}, "deleted_rows": [], "added_rows": []}
    text_, told = tables.applied(grid.document, rows_at("Fluids"), changed, refuses)
    grid.left = tables.left_over(grid.document, rows_at("Fluids"), changed, told, text_)
    turn_to(page, "Depths")
    page.session_state.texts["brindlewick-4.yaml"].append(elsewhere(text(page)))
    turn_to(page, "Fluids")

    assert not page.exception
    assert len(blocks(page, "slip")) == stays
    assert ("abc" in list(page.dataframe[0].value["density"])) is stays


def test_a_panel_shows_the_table_that_was_left_there(page):
    turn_to(page, "Hole")
    page.selectbox(key="table-Hole").set_value("Rock tops").run()
    turn_to(page, "Depths")
    turn_to(page, "Hole")
    assert page.selectbox(key="table-Hole").value == "Rock tops"


def test_a_remedy_says_when_it_brings_back_what_was_mended_just_before(page):
    def notes() -> str:
        return " ".join(each["text"] for each in blocks(page, "note"))

    open_finding(page, "lap-test-loads-hanger installation.tests.0")
    assert "Brings: Test" in notes()
    assert "Brings back" not in notes()
    press(page, "Liner and lap, surface pressure 1878 psi")
    open_finding(page, "test-pressure-disagrees installation.tests.0")
    assert "Brings back what was mended before: Test of 2616 psi loads the hanger" in notes()


@pytest.mark.browser
def test_an_open_finding_marks_its_own_flag_and_row_and_no_other(opened):
    opened.get_by_role("option", name=re.compile("gap 0.844 in")).click()
    opened.get_by_role("button", name="All findings").wait_for()
    pressed = opened.locator('.paper g[aria-pressed="true"]:has(text)')
    marked = "all => all.filter(g => g.querySelector('.tint')).map(g => g.getAttribute('aria-label'))"
    pressed.first.wait_for()

    said = {re.sub(r"\s+", " ", words) for words in pressed.evaluate_all(marked)}
    assert said == {"Finding h"}

    opened.get_by_role("radiogroup", name="View").get_by_role("radio", name="Sheet").click()
    opened.locator(".paper svg").nth(1).wait_for()
    said = {re.sub(r"\s+", " ", words) for words in pressed.evaluate_all(marked)}
    assert said == {"Finding h", "landing collar in 8.500 in hole: gap 0.844 in, 1.0 in wanted"}


def filled(page: AppTest) -> list[str]:
    """The filled buttons."""
    return [one.label for one in page.button if one.proto.type == "primary" and not one.disabled]


@pytest.mark.parametrize("panel", ["Depths", "Part", *tables.PANELS])
def test_with_no_finding_open_the_first_one_is_the_next_action(page, panel):
    turn_to(page, panel)
    assert filled(page) == ["Look at finding a"]
    press(page, "Look at finding a")
    assert len(filled(page)) == 1
    assert "Look at finding a" not in [one.label for one in page.button]


def test_each_finding_has_one_way_on_and_the_last_one_leads_to_all(page):
    count = len(data(page, "findings_list")[0]["rows"])
    press(page, "Look at finding a")
    for _ in range(count - 1):
        assert len(filled(page)) == 1
        press(page, "Next")
    assert len(filled(page)) == 1
    assert next(one for one in page.button if one.label == "Next").disabled


def test_what_was_moved_and_can_be_kept_is_the_next_action(page):
    page.text_input(key="lap").set_value("420 ft").run()
    assert filled(page) == ["Keep as an option"]


def test_while_a_value_is_refused_the_way_on_is_to_leave_it_and_the_box_shows_the_value_before(page):
    page.text_input(key="lap").set_value("420 ft").run()
    page.text_input(key="lap").set_value("370").run()
    assert filled(page) == ["Keep 420 ft"]
    assert page.text_input(key="lap").value == "370"
    press(page, "Keep 420 ft")
    assert page.session_state.problem == []
    assert page.text_input(key="lap").value == "420 ft"
    assert filled(page) == ["Keep as an option"]


def test_what_waits_for_the_input_worth_most_stands_on_top_of_what_is_not_checked(page):
    page.session_state["unchecked"] = True
    page.run()
    rows = [row["figure"] for row in data(page, "findings_list")[0]["rows"]]
    waits = ["Friction" in figure for figure in rows]
    assert 0 < sum(waits) < len(waits)
    assert waits == sorted(waits, reverse=True)


def test_where_nothing_is_found_and_much_is_not_checked_an_input_is_the_next_action(page):
    page.selectbox(key="well-on-screen").set_value("sketch.yaml").run()
    assert data(page, "findings_list")[0]["rows"] == []
    (label,) = filled(page)
    assert label.startswith("Fill in: ")


def test_the_list_of_what_is_not_checked_has_its_own_next_action(page):
    page.session_state["unchecked"] = True
    page.run()
    assert filled(page) == ["Fill in: Friction"]  # no other input allows as many checks alone
    press(page, "Fill in: Friction")
    assert page.session_state["panel"] == "Part"
    assert page.session_state["chosen"]["part"] == "installation"


def test_findings_that_differ_are_told_by_what_is_looked_at_and_not_by_codes_or_paths():
    heads = tuple(Column(head) for head in ("finding", "severity", "rule", "what"))
    rows = (
        ("goes", "warning", "rathole-unusual", "rathole 150.0 ft"),
        ("not checked now", "warning", "slips-near-coupling", "needs strings.casing.couplings; was: near"),
        ("not checked", "", "pups-do-not-fit", "pups for the space-out: needs liner.pups"),
        ("waived", "", "slips-near-coupling", "by R. Planner: logged"),
    )
    told = answers.without_codes(Table("Findings", heads, rows))

    assert [column.head for column in told.columns] == ["finding", "severity", "what"]
    assert [row[-1] for row in told.rows] == [
        "Rathole 150.0 ft",
        "Distance of the slips from couplings",
        "Pups for the space-out",
        "Distance of the slips from couplings: by R. Planner: logged",
    ]
