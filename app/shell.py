"""What every page has: the bar with the well, its state, undo and the file."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.drawing.scene import Sheet

# Streamlit keeps room for its own head; the drawing stays in place while the answers scroll.
STYLE = """<style>
[data-testid="stMainBlockContainer"] { padding: 4.05rem 1.25rem 1rem }
[data-testid="stColumn"]:has(.st-key-paper) { position: sticky; top: 4rem; align-self: flex-start }
[data-testid="stButtonGroup"] [aria-checked="true"] * {
  color: light-dark(#161d1f, #e8ecea); font-weight: 650
}
.st-key-run button { min-height: 44px }
@media (max-width: 1100px) { [data-testid="stButton"] kbd { display: none } }
</style>"""


def bar(evaluation: Evaluation, pages: Sequence[tuple[str, bytes]] = (), sheet: Sheet | None = None) -> None:
    """The bar: well, save state, which well, undo, the file, and on Plan the sheet as drawn."""
    its = state.texts()
    changed = len(its) > 1
    with st.container(horizontal=True, vertical_alignment="center", wrap=False):
        show("bar", answers.bar(evaluation, len(its) - 1))
        st.selectbox(
            "Demo well",
            list(st.session_state.texts),
            key="demo",
            on_change=state.forget_problem,
            label_visibility="collapsed",
            width=165,
        )
        st.button("Undo", on_click=state.undo, disabled=not changed, shortcut="Alt+Z")
        st.download_button(
            "Well file",
            its[-1],
            st.session_state.demo,
            "application/yaml",
            on_click="ignore",
            type="primary" if changed else "secondary",
        )
        if sheet is not None:
            st.download_button(
                "Sheet, PDF",
                verbs.render(sheet, ".pdf")[0],
                "sheet.pdf",
                "application/pdf",
                on_click="ignore",
                type="secondary" if changed else "primary",
            )
        for number, (name, page) in enumerate(pages, 1):
            label = f"Sheet {number}, SVG" if len(pages) > 1 else "Sheet, SVG"
            st.download_button(label, page, name, "image/svg+xml", on_click="ignore")
