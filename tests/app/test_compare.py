"""Compare: an option made, adopted, dropped and undone, through the text of the well file."""

from __future__ import annotations

import json
import re

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import answers, compare, sweep
from schematic import verbs
from schematic.comparison import figures as told
from schematic.comparison.figures import figures
from schematic.wellfile import edit

DEMOS = verbs.demos()
BRINDLEWICK, SKETCH = "brindlewick-4.yaml", "sketch.yaml"
HOSTILE = "<img src=x onerror=alert(1)> $\\href{x}{y}$ **b**"


def _page() -> None:
    from app import compare, state

    state.begin()
    compare.page()


@pytest.fixture
def page():
    """The page with the first demo well."""
    return AppTest.from_function(_page, default_timeout=60).run()


def test_a_value_of_the_file_is_named_in_words():
    document = verbs.load_text(DEMOS[BRINDLEWICK], BRINDLEWICK)
    fields = compare.fields(document, verbs.check(document).plan)

    assert fields["liner.lap"] == "Lap (Liner)"
    assert fields["hole[2].caliper[1].to"] == "Caliper, 2, to (Hole: 8 1/2 in)"
    assert fields["liner.assembly.joint 2.count"] == "Count (Joint, from 12465.8 ft)"
    assert len(set(fields.values())) == len(fields)  # each can be told from all others
    assert answers.value_called("liner.lap") == "lap"
    assert answers.value_called("strings.intermediate casing.shoe") == "intermediate casing, shoe"
    assert answers.value_called("formation.pressures[3].pore") == "pressures 4, pore"
    assert answers.value_called("survey[2].inc") == "survey 3, inc"


def test_the_page_says_no_path_of_the_file_and_no_code_of_a_rule(page):
    told = re.sub("<svg.*?</svg>", "", shown(page))  # a drawing has the paths of its parts

    assert "No longer checked" in told
    assert "Pups for the space-out" in told  # passed in the well as written: no pups are given there
    assert not re.search(
        r"\b(installation|liner|cement|fluids|formation|strings|running string)\.[a-z]", told
    )
    assert not [page_.code for page_ in verbs.rules() if "-" in page_.code and page_.code in told]


def opened(page: AppTest, name: str) -> AppTest:
    page.selectbox(key="well-on-screen").select(name)
    return page.run()


def text(page: AppTest, name: str = BRINDLEWICK) -> str:
    return page.session_state.texts[name][-1]


def button(page: AppTest, label: str):
    (found,) = [one for one in page.button if one.label == label]
    return found


def shown(page: AppTest) -> str:
    return " ".join(each.proto.json for each in page.get("bidi_component"))


def compared(page: AppTest) -> dict:
    """What the drawings and the table below them show."""
    (found,) = [json.loads(each.proto.json) for each in page.get("bidi_component") if '"heads"' in each.proto.json
                and '"told"' in each.proto.json]  # fmt: skip
    return found


def chosen(page: AppTest, number: int) -> AppTest:
    """The page after a click on a drawing, or on a cell below it."""
    page.session_state["option"] = number
    return page.run()


def test_an_adopted_option_is_the_well_as_written_and_undo_takes_it_back(page):
    option = verbs.options(verbs.load_text(text(page)))[1].evaluation.plan
    assert button(page, "Adopted").disabled  # the well as written
    chosen(page, 1)
    button(page, "Adopt").click().run()

    adopted = verbs.check(verbs.load_text(text(page))).plan
    assert adopted.depth.liner.top_md_m == option.depth.liner.top_md_m == pytest.approx(9700 * 0.3048)
    assert [one.name for one in verbs.load_text(text(page)).content.options] == ["seat in the running tool"]
    assert "as written" in shown(page)
    assert "Adopted: lap of 150 ft; Undo takes it back" in shown(page)
    button(page, "Undo").click().run()
    assert text(page) == DEMOS[BRINDLEWICK]
    assert "Undo takes it back" not in shown(page)


def test_a_dropped_option_goes_and_all_else_stays(page):
    chosen(page, 1)
    button(page, "Drop").click().run()

    whole = DEMOS[BRINDLEWICK]
    start, end = whole.index("  - name: lap of 150 ft"), whole.index("  - name: seat in the running tool")
    assert text(page) == whole[:start] + whole[end:]


def test_the_last_one_dropped_leaves_no_options(page):
    chosen(page, 1)
    button(page, "Drop").click().run()
    button(page, "Drop").click().run()

    assert verbs.load_text(text(page)).content.options is None
    assert "No options yet" in shown(page)


ALONG = "running string.assembly.drill pipe.length"


# by hand: 200 m are 656.168 ft, 286.168 ft more than 370 ft; 9076 ft of drill pipe become 8789.832 ft or 2679.1408 m
@pytest.mark.parametrize(("well", "along"), [(BRINDLEWICK, {ALONG: "2679.1408 m"}), (SKETCH, {})])
def test_an_option_is_made_and_a_second_change_goes_into_it(page, well, along):
    opened(page, well)
    before = len(verbs.load_text(text(page, well)).content.options or [])
    for path, value in (("liner.lap", "200 m"), ("liner.off bottom", "3 m")):
        page.text_input(key="option-name").input("longer lap")
        page.selectbox(key="option-path").select(path)
        page.text_input(key="option-value").input(value)
        button(page, "Keep as an option").click().run()

    options = verbs.load_text(text(page, well)).content.options
    assert len(options) == before + 1
    assert (options[-1].name, options[-1].change) == (
        "longer lap",
        {"liner.lap": "200 m", "liner.off bottom": "3 m"} | along,
    )
    assert "longer lap" in shown(page)


def test_an_option_without_a_value_is_told_and_not_made(page):
    page.text_input(key="option-name").input("nothing")
    button(page, "Keep as an option").click().run()

    assert text(page) == DEMOS[BRINDLEWICK]
    assert "An option wants a name, and a value for lap." in shown(page)


def test_an_option_that_cannot_be_is_told_and_cannot_be_adopted(page):
    page.text_input(key="option-name").input("too low")
    page.selectbox(key="option-path").select("liner.off bottom")
    page.text_input(key="option-value").input("90000 m")
    button(page, "Keep as an option").click().run()

    assert compared(page)["chosen"] == 3  # the one that was made
    assert {row["cells"][3]["text"] for group in compared(page)["groups"] for row in group["rows"]} <= {
        "cannot be",
        "",
    }
    assert "svg" not in compared(page)["heads"][3]
    assert button(page, "Adopt").disabled


def test_hostile_names_of_options_stay_text(page):
    page.text_input(key="option-name").input(HOSTILE)
    page.text_input(key="option-value").input("380 ft")
    button(page, "Keep as an option").click().run()

    assert not page.exception
    assert not page.markdown
    assert verbs.load_text(text(page)).content.options[-1].name == HOSTILE


def rows(page: AppTest) -> dict[str, list[dict]]:
    """The cells of the table by what they are."""
    return {row["what"]: row["cells"] for group in compared(page)["groups"] for row in group["rows"]}


def test_what_is_not_as_written_stands_out(page):
    tops = rows(page)["Liner top"]
    assert [cell["differs"] for cell in tops] == [False, True, False]
    assert [cell["text"] for cell in rows(page)["Slips to nearest coupling"]][1] == "not known"
    assert rows(page)["Slips to nearest coupling"][1]["sign"] == "unchecked"


def test_a_figure_that_its_own_rule_finds_fault_with_is_circled(page):
    page.session_state["demo"] = "sollivane-a7.yaml"
    page.run()
    page.toggle(key="only").set_value(False).run()
    its = rows(page)
    # a bit of 215.9 mm through a drift of 212.83 mm (API 5CT: 9 5/8 in 53.5 lb/ft, 8.379 in); 120 % of the
    # packer's 220 kN are 264 kN, more than the 255 kN that arrive
    assert its["Host drift over bit"][0] == {"text": "-3.1", "differs": False, "sign": "error"}
    assert its["Set-down that can reach the liner top"][0]["sign"] == "warning"
    assert its["Lap, liner top to host shoe"][0]["sign"] == ""


def test_only_what_differs_or_all_of_it(page):
    few = rows(page)
    assert "Liner shoe" not in few
    assert all(len({cell["text"] for cell in cells}) > 1 for cells in few.values())
    page.toggle(key="only").set_value(False).run()
    every = rows(page)
    assert [cell["text"] for cell in every["Liner shoe"]] == ["12\u202f590.0"] * 3
    assert set(few) < set(every)
    assert "Test liner and lap, at surface" in every


def test_options_are_drawn_in_a_row_and_the_chosen_one_says_what_decides(page):
    heads = compared(page)["heads"]
    assert [head["name"] for head in heads] == ["As written", "Lap of 150 ft", "Seat in the running tool"]
    assert all(head["svg"].startswith("<?xml") or head["svg"].startswith("<svg") for head in heads)
    assert len({head["svg"] for head in heads}) == 3
    assert heads[1]["alt"] == "lap of 150 ft: liner from 9700 ft to 12590 ft"
    assert compared(page)["told"]["lines"][0].startswith("Lap of 150 ft: Hanger down 220.0 ft")
    chosen(page, 2)
    assert compared(page)["told"]["title"] == "What decides: seat in the running tool"


def test_a_new_error_is_what_decides():
    """4 1/2 in 15.1 lb/ft has a drift of 3.701 in (API 5CT), the bit to come 3.750 in."""
    text = DEMOS["corrick-5.yaml"] + (
        "\noptions:\n  - name: heavier pipe\n    change: {liner.pipe: 4 1/2 in 15.1 lb/ft P-110}\n"
    )
    its = verbs.options(verbs.load_text(text))
    for number in (0, 1):
        lines = compare.decides(its, {"heavier pipe": ["displacement less"]}, number, "field")["lines"]
        assert "rror appears: next bit 3.750 in in pup joint 3.701 in" in lines[0]


def test_a_new_option_begins_as_the_chosen_one(page):
    chosen(page, 2)
    page.text_input(key="option-name").input("seat in the tool, longer lap")
    page.text_input(key="option-value").input("380 ft")
    button(page, "Keep as an option").click().run()

    was, new = verbs.load_text(text(page)).content.options[1:]
    assert new.change == {**was.change, "liner.lap": "380 ft", ALONG: "9066 ft"}  # 10 ft of 9076 ft less
    assert new.without == was.without


def test_an_option_is_renamed(page):
    chosen(page, 1)
    page.text_input(key="option-renamed").input("short lap")
    button(page, "Rename").click().run()

    assert verbs.load_text(text(page)).content.options[0].name == "short lap"


# a value swept


def swept(page: AppTest, well: str = SKETCH, **fields: str) -> AppTest:
    opened(page, well)
    page.session_state["compare"] = "Sweep a value"
    page.run()
    for end, value in fields.items():
        page.text_input(key=f"sweep-{end}").input(value)
    return button(page, "Sweep it").click().run()


def test_before_a_sweep_the_page_says_what_would_fill_it(page):
    page.session_state["compare"] = "Sweep a value"
    page.run()

    assert "Choose a value and its range" in shown(page)


def test_swept_figures_are_those_of_the_plan_with_the_value(page):
    swept(page, **{"from": "100 m", "to": "140 m", "step": "20 m"})

    rows = page.session_state["swept"]["done"]
    assert [row.value for row in rows] == ["100 m", "120 m", "140 m"]
    for row in rows:
        plan = verbs.check(verbs.load_text(edit.set(DEMOS[SKETCH], "liner.lap", row.value)))
        assert row.figures == figures(plan)
    assert rows[1].otherwise == ()
    assert "What each value gives" in shown(page)


def test_each_value_of_a_plan_with_a_running_string_is_computed_in_full(page):
    swept(page, BRINDLEWICK, **{"from": "340 ft", "to": "400 ft", "step": "30 ft"})

    rows = page.session_state["swept"]["done"]
    assert [sweep._shown(row, verbs.check(verbs.load_text(DEMOS[BRINDLEWICK])), "lap") for row in rows] == [
        "340\u00a0ft",
        "370\u00a0ft, now",
        "400\u00a0ft",
    ]
    assert all(told.CEMENT in row.figures for row in rows)
    assert "not computed" not in str(
        sweep.figures_table(rows, "lap", verbs.check(verbs.load_text(DEMOS[BRINDLEWICK])))
    )


def test_findings_that_come_with_a_value_are_told_with_where(page):
    swept(page, **{"from": "5 m", "to": "120 m", "step": "23 m"})

    rows = sweep.findings_rows(page.session_state["swept"]["done"]).rows
    assert any(row == ("appears", "error", "lap outside limits", "5 m to 28 m") for row in rows)


def test_a_value_that_cannot_be_is_told_and_the_others_stay(page):
    swept(page, **{"from": "100 m", "to": "9100 m", "step": "4500 m"})

    rows = page.session_state["swept"]["done"]
    assert [bool(row.refused) for row in rows] == [False, True, True]
    assert "Cannot be" in shown(page)


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"from": "200 m", "to": "100 m"}, "from the smaller to the larger"),
        ({"from": "1 m", "to": "900 m", "step": "1 m"}, "900 values"),
        ({"step": "0 m"}, "step above 0"),
        ({"from": "much"}, "much"),
    ],
)
def test_no_range_is_told(page, fields, told):
    swept(page, **fields)

    assert page.session_state["swept"] is None
    assert told in shown(page)


def test_a_swept_value_is_kept_as_an_option_and_the_table_stays(page):
    swept(page, **{"from": "100 m", "to": "140 m", "step": "20 m"})
    page.selectbox(key="sweep-keep").select("140 m")
    button(page, "Keep as an option").click().run()

    (option,) = verbs.load_text(text(page, SKETCH)).content.options
    assert (option.name, option.change) == ("lap 140 m", {"liner.lap": "140 m"})
    assert "What each value gives" in shown(page)
    button(page, "Undo").click().run()
    assert text(page, SKETCH) == DEMOS[SKETCH]


def test_a_sweep_that_is_stopped_keeps_what_was_looked_at(page):
    swept(page, **{"from": "100 m", "to": "140 m", "step": "20 m"})
    state = page.session_state["swept"]
    state["done"] = state["done"][:2]
    page.session_state["swept"] = {**state, "wanted": state["wanted"][:2]}
    page.run()

    assert page.selectbox(key="sweep-keep").options == ["100 m", "120 m"]
