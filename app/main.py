"""The first page of the app: a demo well, its drawing, one depth to change, findings and volumes live.

The state is the text of the well file; every change edits that text in place, so what is on screen can be
saved and run from the command line.
"""

from __future__ import annotations

import streamlit as st

from app import answers
from app.answers_view import answers as show
from app.drawing_view import chosen, drawing
from schematic import verbs
from schematic.export import CAUTION
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError

# Streamlit keeps room for a bar of its own; the drawing stays in place while the answers scroll.
STYLE = """<style>
[data-testid="stMainBlockContainer"] { padding: 1rem 1.25rem }
[data-testid="stColumn"]:has(.st-key-paper) { position: sticky; top: .5rem; align-self: flex-start }
[data-testid="stButtonGroup"] [aria-checked="true"] * {
  color: light-dark(#161d1f, #e8ecea); font-weight: 650
}
@media (max-width: 1100px) { [data-testid="stButton"] kbd { display: none } }
</style>"""
state = st.session_state


def forget_problem() -> None:
    """Another well begins without the message about the last one's value."""
    state.problem = []


def change_lap() -> None:
    """Put the typed lap into the text; what does not read is told, and the text stays as it was."""
    texts = state.texts[state.demo]
    try:
        text = edit.set(texts[-1], "liner.lap", state.lap.strip())
        verbs.check(verbs.load_text(text, state.demo))
    except InputError as error:
        state.problem = answers.refused(error.problems)
        return
    except (edit.EditError, PathError) as error:
        state.problem = answers.refused(str(error))
        return
    state.problem = []
    if text != texts[-1]:
        texts.append(text)


def undo() -> None:
    """Take the last change back."""
    state.texts[state.demo].pop()
    state.problem = []


st.set_page_config(page_title="Lapline", layout="wide")
st.html(STYLE)
if "texts" not in state:
    state.texts = {name: [text] for name, text in verbs.demos().items()}  # each with its earlier states
    state.problem = []
state.setdefault("demo", next(iter(state.texts)))
state.setdefault("scale", "Fitted")
texts = state.texts[state.demo]
document = verbs.load_text(texts[-1], state.demo)
evaluation = verbs.check(document)
sheet = verbs.sheet(evaluation, "true" if state.scale == "True scale" else "fitted")
pages = verbs.render(sheet, ".svg")
changed = len(texts) > 1
if not state.problem:
    state.lap = document.content.liner.lap.text if document.content.liner.lap else ""

with st.container(horizontal=True, vertical_alignment="center", wrap=False):
    show("bar", answers.bar(evaluation, len(texts) - 1))
    st.selectbox(
        "Demo well",
        list(state.texts),
        key="demo",
        on_change=forget_problem,
        label_visibility="collapsed",
        width=165,
    )
    st.button("Undo", on_click=undo, disabled=not changed, shortcut="Alt+Z")
    st.download_button(
        "Well file",
        texts[-1],
        state.demo,
        "application/yaml",
        on_click="ignore",
        type="primary" if changed else "secondary",
    )
    st.download_button(
        "Sheet, PDF",
        verbs.render(sheet, ".pdf")[0],
        "sheet.pdf",
        "application/pdf",
        on_click="ignore",
        type="secondary" if changed else "primary",
    )
    for number, page in enumerate(pages, 1):
        name = f"sheet-{number}.svg" if number > 1 else "sheet.svg"
        label = f"Sheet {number}, SVG" if len(pages) > 1 else "Sheet, SVG"
        st.download_button(label, page, name, "image/svg+xml", on_click="ignore")

left, right = st.columns([0.58, 0.42])
with left, st.container(key="paper"):
    st.segmented_control(
        "Depth scale", ["Fitted", "True scale"], key="scale", required=True, label_visibility="collapsed"
    )
    drawing(pages, chosen(), lambda: None)
with right:
    show("checks", answers.checks(evaluation))
    st.text_input("Lap, liner top to host shoe", key="lap", on_change=change_lap)
    show("below", state.problem + answers.part(evaluation, sheet, chosen()) + answers.figures(evaluation))
    st.text(CAUTION)
