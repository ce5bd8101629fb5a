"""The logic of the app's page, run by Streamlit's own test driver; the browser has no part in it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import answers
from schematic import verbs
from tests.app.told import handed as data

PAGE = Path(__file__).parents[2] / "app" / "main.py"
BRINDLEWICK, SOLLIVANE = "brindlewick-4.yaml", "sollivane-a7.yaml"
# What the trade reference expects the checks to find in this well, each by a phrase of its headline.
EXPECTED = (
    "wants silica",
    "from a coupling, not proved",
    "43% over gauge",
    "gap 0.844 in",
    "with no loss",
    "loads the hanger",
    "across the lap from behind",
    "if the lap leaks",
    "Gelled cement",
    "buckling",
)
HOSTILE = "<img src=x onerror=alert(1)>"
NARROW, FIXED = "\u202f", "\u00a0"  # spaces between thousands, and before a unit


@pytest.fixture
def page():
    """Plan, come to from Start."""
    shown = AppTest.from_file(str(PAGE), default_timeout=60).run()
    return next(each for each in shown.button if each.label == "Plan with it").click().run()


def blocks(page: AppTest, kind: str) -> list[dict]:
    """The blocks of a kind beside the drawing."""
    return [block for each in data(page, "answers") for block in each["blocks"] if block["kind"] == kind]


def svg(page: AppTest) -> str:
    """The drawing that was handed to the component."""
    (shown,) = data(page, "well_drawing")
    return "".join(shown["pages"])


def heads(page: AppTest) -> list[str]:
    """The headlines of the findings."""
    return [row["text"] for each in data(page, "findings_list") for row in each["rows"]]


def as_expected(page: AppTest) -> bool:
    """Whether the findings are those that the well is known for, and no others."""
    shown = heads(page)
    return len(shown) == len(EXPECTED) and all(any(p in head for head in shown) for p in EXPECTED)


def counted(page: AppTest) -> dict[str, str]:
    """The counts of the checks by their sign."""
    (found,) = data(page, "findings_list")
    return dict(found["counts"])


def choose(page: AppTest, part: str, title: str) -> dict:
    """The block of a part after a click on a group of the drawing."""
    page.session_state["drawing"] = {"chosen": {"part": part, "title": title}}
    page.run()
    (chosen,) = blocks(page, "part")
    return chosen


def text(page: AppTest) -> str:
    """The well file as it stands."""
    return page.session_state["texts"][page.session_state["demo"]][-1]


def test_the_first_run_shows_a_demo_with_its_drawing_checks_and_tables(page):
    assert not page.exception
    assert blocks(page, "bar")[0]["name"] == "Brindlewick 4"
    assert blocks(page, "bar")[0]["kept"] == "Demo well: change it freely"
    assert "Brindlewick 4" in svg(page)
    assert counted(page)["error"] == "0 errors"
    assert as_expected(page)
    assert {"Laps", "Volumes", "Cement"} <= {table["title"] for table in blocks(page, "table")}
    assert any("Not a basis for well-control" in each.value for each in page.text)


def test_a_table_shows_the_figures_of_the_command_with_their_units(page):
    (volumes,) = [table for table in blocks(page, "table") if table["title"] == "Volumes"]

    assert volumes["heads"] == ["space", "side", "top MD, ft", "bottom MD, ft", "volume, bbl"]
    (lap,) = [row for row in volumes["rows"] if row[0] == "lap"]
    # host shoe 9 850 ft in the file, less its lap of 370 ft
    assert lap[1:4] == ["outside", f"9{NARROW}480.0", f"9{NARROW}850.0"]


def test_an_edit_of_the_lap_moves_the_liner_top_everywhere(page):
    assert f"9{NARROW}480.0" in json.dumps(blocks(page, "table"), ensure_ascii=False)
    before = svg(page)

    page.text_input[0].set_value("350 ft").run()

    assert not page.exception
    assert svg(page) != before
    hanging = f"9{NARROW}500.0"  # 9 850 less 350
    (liner,) = [table for table in blocks(page, "table") if table["title"].startswith("Liner")]
    assert liner["rows"][0][1] == hanging
    assert choose(page, "liner.assembly.9", "")["cells"][0] == {
        "label": "top MD",
        "value": f"{hanging}{FIXED}ft",
    }
    assert blocks(page, "bar")[0]["kept"] == "1 change, only in this tab"


def test_a_short_lap_is_found_and_a_longer_one_clears_it(page):
    page.text_input[0].set_value("80 ft").run()  # common practice asks for 100 ft
    assert heads(page)[0] == "Lap 80.0 ft, least 100 ft"
    assert "length: 9366 ft" in text(page)  # 9076 + 370 - 80: the running string goes along
    (found,) = data(page, "findings_list")
    letters = [row["letter"] for row in found["rows"]]
    assert letters == [chr(ord("a") + n) for n in range(len(letters))]
    page.session_state["finding"] = "lap-outside-limits liner"
    page.run()
    (slip,) = blocks(page, "slip")
    assert slip["lines"][1].startswith("Set the liner top at 9750 ft or shallower")  # 9850 - 100
    assert any(line.startswith("Limit 100 ft, common practice") for line in slip["quiet"])
    assert slip["quiet"][-1].startswith(
        "Depends on: Measured depth of the host shoe less that of the liner top"
    )
    page.session_state["finding"] = None

    page.text_input[0].set_value("370 ft").run()
    assert as_expected(page)


@pytest.mark.parametrize("typed", ["112.776 m", "4440 in"])
def test_the_lap_is_understood_in_any_unit_of_length(page, typed):
    page.text_input[0].set_value(typed).run()  # both are 370 ft: 0.3048 m and 12 in to the foot, exactly

    assert page.text_input[0].value == typed
    assert as_expected(page)


def test_the_edit_keeps_every_other_line_of_the_text(page):
    before = text(page).splitlines()

    page.text_input[0].set_value("380 ft").run()

    changed = [(a, b) for a, b in zip(before, text(page).splitlines(), strict=True) if a != b]
    along = ("      length: 9076 ft", "      length: 9066 ft")  # of the uppermost drill pipe
    assert sorted(changed) == sorted([("  lap: 370 ft", "  lap: 380 ft"), along])


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("eighty", "it does not begin with a number"),
        ("370", "a number without a unit"),
        ("370 psi", "'psi' measures something else"),
        ("-5 ft", "check the sign"),
        ("12000 ft", "shorten the lap"),
        ("", "write a value"),
        ("{a: [b", "it does not begin with a number"),
        (HOSTILE, "it does not begin with a number"),
    ],
)
def test_a_bad_value_is_told_in_three_lines_and_changes_nothing(page, typed, found):
    before, drawn = text(page), svg(page)

    page.text_input[0].set_value(typed).run()

    assert not page.exception
    assert text(page) == before
    assert svg(page) == drawn
    assert page.text_input[0].value == typed  # to be mended, not to be typed again
    (told,) = blocks(page, "slip")
    assert [line.partition(":")[0] for line in told["lines"]] == ["Found", "Accepted", "Mend"]
    assert found in told["lines"][2]
    assert page.button[0].disabled  # nothing to undo

    page.text_input[0].set_value("370 ft").run()
    assert blocks(page, "slip") == []


def test_undo_takes_the_changes_back_one_by_one(page):
    before = text(page)
    for typed in ("400 ft", "410 ft"):
        page.text_input[0].set_value(typed).run()

    page.button[0].click().run()
    assert page.text_input[0].value == "400 ft"
    page.button[0].click().run()

    assert text(page) == before
    assert page.button[0].disabled


def test_the_same_value_again_is_no_change(page):
    page.text_input[0].set_value(" 370 ft ").run()

    assert page.button[0].disabled


def test_another_demo_shows_its_own_well_and_the_first_keeps_its_changes(page):
    page.text_input[0].set_value("350 ft").run()
    page.text_input[0].set_value("nonsense").run()
    page.selectbox[0].set_value(SOLLIVANE).run()

    assert text(page) == verbs.demos()[SOLLIVANE]
    assert "Sollivane A-7" in svg(page)
    assert page.text_input[0].value == "125 m"  # as its file says
    assert blocks(page, "slip") == []
    assert heads(page)[0].startswith("8 1/2 in bit, 215.9 mm, over drift")

    page.selectbox[0].set_value(BRINDLEWICK).run()
    assert page.text_input[0].value == "350 ft"


def test_the_scale_of_the_drawing_is_switched(page):
    fitted = svg(page)

    page.session_state["plan-view"] = "True scale"
    page.run()

    assert svg(page) != fitted
    assert "true: 1:" in svg(page)


def test_a_chosen_part_tells_its_name_meaning_and_figures(page):
    hanger = choose(page, "liner.assembly.7", "Hydraulic hanger")

    assert hanger["name"] == "Hydraulic hanger, 9.6 ft"
    assert hanger["lines"][0] == "Carries the liner on slips that bite into the host casing."
    cells = {cell["label"]: cell["value"] for cell in hanger["cells"]}
    assert cells["length"] == f"9.6{FIXED}ft"  # the file says 9.6 ft, 8.312 in and 6.160 in
    assert (cells["OD"], cells["ID"]) == (f"8.312{FIXED}in", f"6.160{FIXED}in")


def test_a_figure_that_is_not_known_is_handed_on_as_not_known():
    evaluation = verbs.check(verbs.load_text(verbs.demos()["sketch.yaml"]))
    collar = next(part for part in evaluation.plan.depth.liner.parts if part.kind == "landing collar")
    chosen = {"part": collar.path, "title": ""}
    (its,) = answers.part(evaluation, verbs.sheet(evaluation), chosen)  # the file gives it no size

    assert {"label": "OD", "value": None} in its["cells"]
    assert {"label": "ID", "value": None} in its["cells"]


@pytest.mark.parametrize(
    ("part", "title", "name", "label", "value"),
    [
        (
            "strings.intermediate casing",
            "",
            "Intermediate casing, 9 5/8 in 47 lb/ft L-80",
            "known by",
            "bond log",
        ),
        ("hole.2", "8 1/2 in hole to 12\u2009600", "8 1/2 in hole to 12\u2009600", "size by", "caliper"),
        ("volumes.lap", "gone", "Volume: lap, 8.94", "bottom MD", f"9{NARROW}850.0{FIXED}ft"),
    ],
)
def test_strings_hole_and_volumes_can_be_chosen_too(page, part, title, name, label, value):
    chosen = choose(page, part, title)

    assert chosen["name"] == name
    assert {"label": label, "value": value} in chosen["cells"]


def test_what_another_well_does_not_have_is_no_longer_chosen(page):
    choose(page, "strings.intermediate casing", "")

    page.selectbox[0].set_value(SOLLIVANE).run()  # its strings have other names

    assert not page.exception
    assert blocks(page, "part") == []


def test_a_part_with_a_finding_names_the_letter(page):
    page.selectbox[0].set_value(SOLLIVANE).run()

    assert "Finding a" in choose(page, "hole.3", "")["lines"]


def test_names_from_a_file_are_data_for_the_components(page):
    mine = text(page).replace("name: Brindlewick 4", f"name: '{HOSTILE}'")
    page.session_state["texts"] = {BRINDLEWICK: [mine], SOLLIVANE: [verbs.demos()[SOLLIVANE]]}
    page.run()

    assert not page.exception
    assert blocks(page, "bar")[0]["name"] == HOSTILE
    assert "<img" not in svg(page)
    assert "&lt;img" in svg(page)
    assert not page.markdown  # nothing of the page goes through markup
    assert not [each for each in page.get("html") if "img" in each.proto.body]


@pytest.mark.parametrize("name", verbs.demos())
def test_every_demo_well_opens(page, name):
    page.selectbox[0].set_value(name).run()

    assert not page.exception
    assert blocks(page, "bar")[0]["name"] == verbs.load_text(verbs.demos()[name]).content.well.name
    assert "<svg" in svg(page)
