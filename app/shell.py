"""What every page has: the bar with the well, its state, undo, redo and the file; what wants an answer."""

from __future__ import annotations

import re
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
[data-testid="stHeading"] h1 { font-size: 1.6rem; padding: 0 0 .3rem }
[data-testid="stHeading"] h3 { font-size: 1.1rem; padding: 0 0 .3rem }
[data-testid="stPageLink"] p { text-decoration: underline }
.st-key-run [data-testid="stButton"] button { min-height: 44px }
@media (max-width: 1100px) { [data-testid="stButton"] kbd { display: none } }
</style>"""


def escaped(text: str) -> str:
    """A text for a label or a tooltip, where Streamlit would read marks as markup."""
    return re.sub(r"([!-/:-@\[-`{-~])", r"\\\1", text)


def bar(evaluation: Evaluation, pages: Sequence[tuple[str, bytes]] = (), sheet: Sheet | None = None) -> None:
    """The bar: well, save state, which well, undo, redo, the file, and on Plan the sheet as drawn."""
    kept, changed = state.kept()
    lost = kept.startswith("Not ")
    with st.container(horizontal=True, vertical_alignment="center", wrap=False):
        show("bar", answers.bar(evaluation, kept, changed))
        st.selectbox(
            "Well on screen",
            [*state.state.origin],
            key="demo",
            on_change=state.forget_problem,
            label_visibility="collapsed",
            width=165,
        )
        for label, does, can, keys in (
            ("Undo", state.undo, len(state.texts()) > 1, "Alt+Z"),
            ("Redo", state.redo, bool(state.later()), "Alt+Y"),
        ):
            tip = escaped(state.told(label))
            st.button(label, on_click=does, disabled=not can, shortcut=keys, help=tip)
        if state.state.origin.get(st.session_state.demo) == "file":
            st.button("Save", on_click=state.save, disabled=not changed, shortcut="Ctrl+S")
        download(lost)
        if sheet is not None:
            st.download_button(
                "Sheet, PDF",
                lambda: verbs.render(sheet, ".pdf")[0],  # made when it is asked for
                "sheet.pdf",
                "application/pdf",
                on_click="ignore",
                type="secondary" if lost else "primary",
            )
        for number, (name, page) in enumerate(pages, 1):
            label = f"Sheet {number}, SVG" if len(pages) > 1 else "Sheet, SVG"
            st.download_button(label, page, name, "image/svg+xml", on_click="ignore")
    questions()


def download(filled: bool = False, label: str = "Download") -> None:
    """The text on screen as a file."""
    st.download_button(
        label,
        state.current(),
        st.session_state.demo,
        "application/yaml",
        on_click=state.downloaded,
        type="primary" if filled else "secondary",
    )


def questions() -> None:
    """What wants an answer: the file changed on disk, or a draft of it was found."""
    if state.on_disk() is not None:
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text("The file changed on disk.")
            st.button("Read it", on_click=state.read_disk, help="What is on screen stays one step back: Undo")
            st.button("Keep mine", on_click=state.keep_mine, help="Save then writes over what the file holds")
    for number, kept in enumerate(st.session_state.offered):
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(f"Draft of {st.session_state.draft_of}, {state.age(kept.at)}.")
            st.button("Go on with it", on_click=state.go_on, args=(kept,), key=f"go-on-{number}")
            st.button("Drop it", on_click=state.drop, args=(kept,), key=f"drop-{number}", type="tertiary")
