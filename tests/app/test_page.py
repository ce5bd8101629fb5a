"""The logic of the app's page, run by Streamlit's own test driver."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from schematic import verbs

PAGE = Path(__file__).parents[2] / "app" / "main.py"

pytestmark = pytest.mark.filterwarnings("default")  # streamlit's own warnings are not this project's


@pytest.fixture
def page():
    """The page after its first run."""
    return AppTest.from_file(str(PAGE), default_timeout=60).run()


def words(page: AppTest) -> str:
    """All plain text of the page."""
    return "\n".join(text.value for text in page.text)


def svg(page: AppTest) -> str:
    """The drawing that was handed to the component."""
    return str(json.loads(page.get("bidi_component")[0].proto.json)["svg"])


def test_first_run_shows_a_demo_with_its_drawing_findings_and_volumes(page):
    assert not page.exception
    assert "0 errors, 0 warnings" in words(page)
    assert "Brindlewick 4" in svg(page)
    assert "Volumes" in words(page)


def test_an_edit_of_the_lap_changes_text_drawing_and_findings(page):
    before = svg(page)

    page.text_input[0].set_value("80 ft").run()

    assert not page.exception
    assert "lap: 80 ft" in page.session_state["text"]
    assert "the least is 100 ft" in words(page)
    assert svg(page) != before


def test_the_edit_keeps_every_other_line_of_the_text(page):
    before = page.session_state["text"].splitlines()

    page.text_input[0].set_value("380 ft").run()

    after = page.session_state["text"].splitlines()
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [
        ("  lap: 370 ft", "  lap: 380 ft")
    ]


def test_a_text_that_is_no_length_is_told_and_changes_nothing(page):
    before = page.session_state["text"]

    page.text_input[0].set_value("eighty").run()

    assert not page.exception
    assert page.session_state["text"] == before
    assert "found     eighty" in words(page)
    assert "mend" in words(page)


def test_undo_takes_the_last_change_back(page):
    before = page.session_state["text"]

    page.text_input[0].set_value("400 ft").run()
    page.button[0].click().run()

    assert page.session_state["text"] == before
    assert page.button[0].disabled


def test_another_demo_begins_with_its_own_text(page):
    page.selectbox[0].set_value("sollivane-a7.yaml").run()

    assert page.session_state["text"] == verbs.demos()["sollivane-a7.yaml"]
    assert "Sollivane A-7" in svg(page)
    assert "bit-larger" not in words(page)
    assert "error: The 8 1/2 in bit" in words(page)


def test_a_chosen_part_is_named_with_its_meaning(page):
    page.session_state["drawing"] = {
        "chosen": {"part": "liner.assembly.7", "name": "Hydraulic hanger, 9.6 ft"}
    }
    page.run()

    assert "Chosen: Hydraulic hanger, 9.6 ft" in words(page)


def test_names_from_a_file_stay_text(page):
    hostile = "<img src=x onerror=alert(1)>"
    page.session_state["text"] = page.session_state["text"].replace(
        "name: Brindlewick 4", f"name: '{hostile}'"
    )
    page.run()

    assert not page.exception
    assert "<img" not in svg(page)
    assert "&lt;img" in svg(page)
