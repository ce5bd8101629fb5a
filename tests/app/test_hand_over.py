"""Hand over: every file that is offered is made whole, named after the plan; the record stands beside it."""

from __future__ import annotations

import io
import zipfile

import pytest

pytest.importorskip("streamlit")
from streamlit.testing.v1 import AppTest

from app import hand_over
from schematic import verbs
from schematic.wellfile import edit

DEMOS = verbs.demos()
BRINDLEWICK, SKETCH = "brindlewick-4.yaml", "sketch.yaml"
OFFERED = [(word, form) for _title, word, forms in hand_over._FILES for form in forms]
BEGINS = {"pdf": b"%PDF", "docx": b"PK", "xlsx": b"PK", "svg": b"PK", "png": b"PK", "json": b"{", "csv": b""}


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
    made = hand_over.content(verbs.load_text(DEMOS[BRINDLEWICK]), word, form)

    assert made.startswith(BEGINS[form])
    assert len(made) > 500


@pytest.mark.parametrize("form", ["svg", "png"])
def test_all_pages_of_a_drawing_go_into_one_archive(form):
    made = hand_over.content(verbs.load_text(DEMOS[BRINDLEWICK]), "sheet", form)

    pages = len(verbs.sheet(verbs.load_text(DEMOS[BRINDLEWICK])).scenes)
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert len(archive.namelist()) == pages > 1
        assert f"sheet.{form}" in archive.namelist()


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

    assert hand_over.file_name(verbs.check(verbs.load_text(text)), "sheet", "pdf") == expected


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
    assert "3 readings, 1 outside the band of the plan." in shown(page)


def test_without_a_record_the_page_says_what_would_fill_it(page):
    page.selectbox(key="demo").select(SKETCH).run()
    page.session_state["hand-over"] = "Planned and recorded"
    page.run()

    assert "Nothing is recorded yet" in shown(page)
