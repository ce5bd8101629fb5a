"""Compare: an option made, adopted, dropped and undone, through the text of the well file."""

from __future__ import annotations

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from schematic import verbs

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


def opened(page: AppTest, name: str) -> AppTest:
    page.selectbox(key="demo").select(name)
    return page.run()


def text(page: AppTest, name: str = BRINDLEWICK) -> str:
    return page.session_state.texts[name][-1]


def button(page: AppTest, label: str):
    (found,) = [one for one in page.button if one.label == label]
    return found


def shown(page: AppTest) -> str:
    return " ".join(each.proto.json for each in page.get("bidi_component"))


def test_an_adopted_option_is_the_well_as_written_and_undo_takes_it_back(page):
    option = verbs.options(verbs.load_text(text(page)))[1].evaluation.plan
    button(page, "Adopt").click().run()

    adopted = verbs.check(verbs.load_text(text(page))).plan
    assert adopted.depth.liner.top_md_m == option.depth.liner.top_md_m == pytest.approx(9700 * 0.3048)
    assert [one.name for one in verbs.load_text(text(page)).content.options] == ["seat in the running tool"]
    assert "as written" in shown(page)
    button(page, "Undo").click().run()
    assert text(page) == DEMOS[BRINDLEWICK]


def test_a_dropped_option_goes_and_all_else_stays(page):
    button(page, "Drop").click().run()

    whole = DEMOS[BRINDLEWICK]
    start, end = whole.index("  - name: lap of 150 ft"), whole.index("  - name: seat in the running tool")
    assert text(page) == whole[:start] + whole[end:]


def test_the_last_one_dropped_leaves_no_options(page):
    button(page, "Drop").click().run()
    button(page, "Drop").click().run()

    assert verbs.load_text(text(page)).content.options is None
    assert "No options yet" in shown(page)


@pytest.mark.parametrize("well", [BRINDLEWICK, SKETCH])
def test_an_option_is_made_and_a_second_change_goes_into_it(page, well):
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
        {"liner.lap": "200 m", "liner.off bottom": "3 m"},
    )
    assert "longer lap" in shown(page)


def test_an_option_without_a_value_is_told_and_not_made(page):
    page.text_input(key="option-name").input("nothing")
    button(page, "Keep as an option").click().run()

    assert text(page) == DEMOS[BRINDLEWICK]
    assert "An option wants a name, and a value for liner.lap." in shown(page)


def test_an_option_that_cannot_be_is_told_and_cannot_be_adopted(page):
    page.text_input(key="option-name").input("too low")
    page.selectbox(key="option-path").select("liner.off bottom")
    page.text_input(key="option-value").input("90000 m")
    button(page, "Keep as an option").click().run()
    page.selectbox(key="option").select(2).run()

    assert "cannot be" in shown(page)
    assert button(page, "Adopt").disabled


def test_hostile_names_of_options_stay_text(page):
    page.text_input(key="option-name").input(HOSTILE)
    page.text_input(key="option-value").input("380 ft")
    button(page, "Keep as an option").click().run()

    assert not page.exception
    assert not page.markdown
    assert verbs.load_text(text(page)).content.options[-1].name == HOSTILE
