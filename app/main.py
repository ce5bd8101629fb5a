"""The first page of the app: a demo well, its drawing, one depth to change, findings and volumes live.

The state is the text of the well file; every change edits that text in place, so what is on screen can be
saved and run from the command line.
"""

from __future__ import annotations

import streamlit as st

from app.drawing_view import drawing
from schematic import verbs
from schematic.catalogue.glossary import meaning
from schematic.cli import CAUTION
from schematic.export.report import counts, missing_inputs
from schematic.export.tables import as_data, tables
from schematic.outcome import Found, sentence
from schematic.units import sentence_case
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError

state = st.session_state


def open_demo() -> None:
    """Begin with the text of the chosen demo."""
    state.text, state.undone, state.problem = verbs.demos()[state.demo], [], ""


def change_lap() -> None:
    """Put the typed lap into the text; a text that does not read is told and not kept."""
    try:
        text = edit.set(state.text, "liner.lap", state.lap.strip())
        verbs.check(verbs.load_text(text, state.demo))
    except (InputError, edit.EditError, PathError) as error:
        state.problem = str(error)
        return
    state.undone.append(state.text)
    state.text, state.problem = text, ""


def undo() -> None:
    """Take the last change back."""
    state.text, state.problem = state.undone.pop(), ""


st.set_page_config(page_title="Lapline", layout="wide")
if "text" not in state:
    state.demo = next(iter(verbs.demos()))
    open_demo()
document = verbs.load_text(state.text, state.demo)
evaluation = verbs.check(document)
plan = evaluation.plan
system = plan.identity.system
left, right = st.columns([0.58, 0.42])

with right:
    st.selectbox("Demo well", list(verbs.demos()), key="demo", on_change=open_demo)
    state.lap = document.content.liner.lap.text if document.content.liner.lap else ""
    st.text_input("Lap, liner top to host shoe", key="lap", on_change=change_lap)
    st.button("Undo", on_click=undo, disabled=not state.undone)
    if state.problem:
        st.text(state.problem)
    st.text(counts(evaluation))
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        st.text(f"{found.severity.value}: {sentence(found.what, found.figures, system)}")
        st.text(f"    {sentence(found.mend, found.figures, system)}")
    for name, count in missing_inputs(evaluation)[:10]:
        st.text(f"not checked, needs {name} ({count})")
    chosen = (state.get("drawing") or {}).get("chosen")
    if chosen:
        st.text(f"Chosen: {chosen['name']}")
        kinds = {part.path: part.kind for part in plan.depth.liner.parts}
        st.text(meaning(kinds.get(chosen["part"], chosen["part"])) or "")

with left:
    true_scale = st.toggle("True depth scale")
    sheet = verbs.sheet(evaluation, "true" if true_scale else "fitted")
    drawing(verbs.render(sheet, ".svg")[0].decode(), chosen["part"] if chosen else None, lambda: None)
    for table in tables(evaluation):
        st.text(sentence_case(table.title))
        rows = [
            {head: cell["printed"] if isinstance(cell, dict) else cell for head, cell in row.items()}
            for row in as_data(table, system)["rows"]  # type: ignore[attr-defined]
        ]
        st.dataframe(rows, hide_index=True)
    st.download_button("Download the well file", state.text, state.demo, "application/yaml")
    st.download_button("Download the sheet as PDF", lambda: verbs.render(sheet, ".pdf")[0], "sheet.pdf")
st.text(CAUTION)
