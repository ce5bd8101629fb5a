"""Run: the steps walked, readings into the record, the liner off bottom."""

from __future__ import annotations

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from schematic import verbs

DEMOS = verbs.demos()
BRINDLEWICK = "brindlewick-4.yaml"


def _page() -> None:
    from app import run, state

    state.begin()
    run.page()


def _question() -> None:
    from app import elsewhere, state

    state.begin()
    elsewhere.question()


@pytest.fixture
def question():
    """What stands in the dialog about a liner off bottom."""
    return AppTest.from_function(_question, default_timeout=60).run()


@pytest.fixture
def page():
    """The page with the first demo well."""
    return AppTest.from_function(_page, default_timeout=60).run()


def text(page: AppTest) -> str:
    return page.session_state.texts[BRINDLEWICK][-1]


def button(page: AppTest, label: str):
    (found,) = [one for one in page.button if one.label.startswith(label)]
    return found


def shown(page: AppTest) -> str:
    return " ".join(each.proto.json for each in page.get("bidi_component"))


@pytest.mark.parametrize("well", DEMOS)
def test_every_step_of_every_well_is_shown(page, well):
    page.selectbox(key="demo").select(well).run()
    cards = verbs.steps(verbs.load_text(DEMOS[well]))
    for card in cards:
        assert not page.exception
        assert page.selectbox(key="step").value == card.number
        assert "Never exceed" in shown(page)
        if card.number < len(cards):
            button(page, "Done").click().run()
    assert button(page, "Last step").disabled


def test_three_readings_go_into_the_record_and_undo_takes_them_back(page):
    before = len(verbs.load_text(text(page)).content.record)
    page.selectbox(key="step").select(11).run()
    for head, value in (("pins at", "1500 psi"), ("held at", "1700 psi"), ("hook load", "230 klbf")):
        page.text_input(key=f"read-set-the-hanger-{head}").input(value)
    button(page, "Keep readings").click().run()

    kept = verbs.load_text(text(page)).content.record[before:]
    assert [(one.step, one.what, one.value) for one in kept] == [
        ("Set the hanger", "pins at", "1500 psi"),
        ("Set the hanger", "held at", "1700 psi"),
        ("Set the hanger", "hook load", "230 klbf"),
    ]
    assert "1500 psi" in shown(page)
    button(page, "Undo").click().run()
    assert text(page) == DEMOS[BRINDLEWICK]


def test_a_liner_off_bottom_is_planned_anew_and_gone_on_with(question):
    question.text_input(key="elsewhere-depth").input("12090 ft").run()
    assert "In words" in shown(question)
    button(question, "Go on with this plan").click().run()

    assert verbs.check(verbs.load_text(text(question))).plan.depth.liner.shoe_md_m == pytest.approx(
        12090 * 0.3048
    )
    assert len(verbs.steps(verbs.load_text(text(question)))) > 20


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("13000 ft", "12600 ft"),
        ("12090", "a length such as"),
        ("deep", "a length such as"),
        ("12590 ft", "there already"),
    ],
)
def test_a_liner_that_cannot_be_there_is_told(question, typed, told):
    question.text_input(key="elsewhere-depth").input(typed).run()

    assert not question.exception
    assert told in shown(question) + " ".join(one.value for one in question.text)
    assert not [one for one in question.button if one.label == "Go on with this plan"]
    assert text(question) == DEMOS[BRINDLEWICK]


def test_a_pumping_step_is_pumped_through(page):
    page.selectbox(key="step").select(19).run()
    page.toggle(key="pump-through").set_value(True).run()

    assert not page.exception
    assert "Looking at" in shown(page)
    page.selectbox(key="step").select(11).run()
    assert not page.exception
    assert not page.toggle
