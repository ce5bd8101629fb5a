"""Plan: the drawing live, one depth to change, findings, the chosen part, figures."""

from __future__ import annotations

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from app.drawing_view import chosen, drawing
from app.shell import bar
from schematic import verbs
from schematic.export import CAUTION
from schematic.wellfile import edit


def change_lap() -> None:
    """Put the typed lap into the text."""
    typed = st.session_state.lap.strip()
    state.change(lambda text: edit.set(text, "liner.lap", typed))


def page() -> None:
    """The page."""
    document = state.document()
    evaluation = verbs.check(document)
    scale = "true" if st.session_state.scale == "True scale" else "fitted"
    sheet = verbs.sheet(evaluation, scale)  # type: ignore[arg-type]
    pages = verbs.render(sheet, ".svg")
    if not st.session_state.problem:
        lap = document.content.liner.lap
        st.session_state.lap = lap.text if lap else ""
    bar(
        evaluation,
        [(f"sheet-{n}.svg" if n > 1 else "sheet.svg", page) for n, page in enumerate(pages, 1)],
        sheet,
    )
    left, right = st.columns([0.58, 0.42])
    with left, st.container(key="paper"):
        st.segmented_control(
            "Depth scale", ["Fitted", "True scale"], key="scale", required=True, label_visibility="collapsed"
        )
        drawing(pages, chosen(), lambda: None)
    with right:
        show("checks", answers.checks(evaluation))
        st.text_input("Lap, liner top to host shoe", key="lap", on_change=change_lap)
        below = answers.part(evaluation, sheet, chosen()) + answers.figures(evaluation)
        show("below", st.session_state.problem + below)
        st.text(CAUTION)
