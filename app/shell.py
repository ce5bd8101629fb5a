"""What every page has: the bar with the well, its state, undo, redo and the file; what wants an answer."""

from __future__ import annotations

import re

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from schematic.checks.evaluate import Evaluation
from schematic.wellfile import edit

# Streamlit keeps room for its own head; the drawing stays in place while the answers scroll, and so does the
# row with the next action: ``ahead-...`` in a column, ``ahead-of-all`` over the whole page.
STYLE = """<style>
[data-testid="stMainBlockContainer"] { padding: 4.05rem 1.25rem 1rem }
[data-testid="stColumn"]:has(:is(.st-key-paper, .st-key-sweeping)) {
  position: sticky; top: 4rem; align-self: flex-start
}
[data-testid="stButtonGroup"] [aria-checked="true"] * {
  color: light-dark(#161d1f, #e8ecea); font-weight: 650
}
[data-testid="InputInstructions"] { display: none }
:is(.st-key-panel, .st-key-plan-view) [data-testid="stButtonGroup"] button { padding: 0 .4rem }
[data-testid="stHeading"] h1 { font-size: 1.6rem; padding: 0 0 .3rem }
[data-testid="stHeading"] h3 { font-size: 1.1rem; padding: 0 0 .3rem }
[data-testid="stPageLink"] p, [data-testid="stBaseButton-tertiary"] p { text-decoration: underline }
[data-testid="stForm"]:has(input:user-valid):not(:has(button[kind^="primary"]))
  [data-testid="stFormSubmitButton"] button,
.st-key-sketch-form:has(input:placeholder-shown:not([aria-label^="9 "],
  [aria-label^="10 "])) button[kind^="secondary"],
.st-key-readings:has(input[value]:not([value=""])) [data-testid="stButton"] button {
  background: light-dark(#0b5c8a, #2478ae); border-color: transparent; color: #fff
}
[data-testid="stMain"]:has(.st-key-ahead-change button[kind="primary"])
  :is(.st-key-next, .st-key-ahead-refused) button[kind="primary"],
body:has(:is([role="dialog"], [data-testid="stPopoverBody"])) [data-testid="stMain"]
  button[kind^="primary"]:not(:is([role="dialog"], [data-testid="stPopoverBody"]) *) {
  background: transparent; border-color: light-dark(#778480, #6b787e); color: inherit
}
.st-key-sketch-form:has(input:placeholder-shown:not([aria-label^="9 "],
  [aria-label^="10 "])) button[kind^="primary"] {
  background: transparent; border-color: light-dark(#778480, #6b787e); color: inherit
}
.st-key-next [data-testid="stButton"] button { min-height: 30px; padding: 0 .8rem }
[data-testid="stMain"]:has(.st-key-readings) :is(.st-key-ahead-of-all, .st-key-readings)
  [data-testid="stButton"] button { min-height: 44px }
[data-testid="stLayoutWrapper"]:has(> .st-key-answering):not(:has(.st-key-practice-next)),
[data-testid="stLayoutWrapper"]:has(> [class*="st-key-ahead"]):has(button[kind^="primary"]) {
  position: sticky; bottom: 0; z-index: 5; padding: .4rem 0; margin: -.4rem 0;
  background: light-dark(#eff1ee, #14191c)
}
[data-testid="stLayoutWrapper"]:has(> [class*="st-key-ahead"]) { top: 3.7rem }
[data-testid="stMain"]:has(.st-key-ahead-refused) { scroll-padding-top: 9rem }
[data-testid="stLayoutWrapper"]:has(> :is(.st-key-ahead-sketch, .st-key-ahead-change)) {
  border-top: 1px solid light-dark(#778480, #6b787e)
}
[data-testid="stLayoutWrapper"]:has(> .st-key-found-words) {
  position: fixed; bottom: 5rem; right: 1.25rem; width: min(27rem, 42vw); max-height: calc(100vh - 16rem);
  overflow-y: auto; z-index: 6; padding: .6rem .8rem; border: 1px solid light-dark(#778480, #6b787e);
  background: light-dark(#eff1ee, #14191c)
}
.st-key-first-sight { --paper-high: calc(100vh - 138px) }
[data-testid="stFileUploaderDropzoneInstructions"],
[data-testid="stFileUploaderDropzone"] button [data-testid="stMarkdownContainer"] p { display: none }
[data-testid="stFileUploaderDropzone"] button [data-testid="stMarkdownContainer"]::after {
  content: 'Open a file'
}
div:has(> [role="dialog"]) { overflow: visible }
[role="dialog"] [data-testid="stLayoutWrapper"]:has(> [class*="st-key-ahead"]) {
  top: -2rem; color-scheme: light dark
}
[data-testid="stMain"]:has(.st-key-ahead-of-all) [data-testid="stColumn"]:has(.st-key-paper) { top: 8rem }
label:has([role="switch"]:not(:checked)) > span + div { background: light-dark(#778480, #6b787e) }
[data-testid^="stBaseButton"] kbd { color: inherit; opacity: 1 }
button:disabled kbd { display: none }
@media (max-width: 1365px) {
  [data-testid="stHorizontalBlock"]:has(.st-key-since-words) { flex-direction: column }
  [data-testid="stColumn"]:has(.st-key-since-words),
  [data-testid="stColumn"]:has(.st-key-since-words) > [data-testid="stVerticalBlock"] { display: contents }
  [data-testid="stColumn"]:has(.st-key-since-words) + [data-testid="stColumn"] {
    order: 1; position: static; flex: none; width: 100%; --paper-high: auto
  }
  [data-testid="stLayoutWrapper"]:has(> .st-key-since-words) { order: 2 }
}
@media (max-width: 1100px) { [data-testid="stButton"] kbd { display: none } }
</style>"""


def escaped(text: str) -> str:
    """A text for a label or a tooltip, where Streamlit would read marks as markup."""
    return re.sub(r"([!-/:-@\[-`{-~])", r"\\\1", text)


UNITS = {"field": "ft, ppg, psi", "metric": "m, sg, bar"}


def bar(evaluation: Evaluation) -> None:
    """The bar: well, save state, which well, undo, redo, units, the file."""
    kept, changed = state.kept()
    lost = kept.startswith("Not ")
    with st.container(horizontal=True, vertical_alignment="center", wrap=False):
        show("bar", answers.bar(evaluation, kept, changed))
        st.session_state["well-on-screen"] = state.state.demo
        st.selectbox(
            "Well on screen",
            [*state.state.origin],
            key="well-on-screen",
            on_change=_turn_to,
            args=(state.state.demo,),
            label_visibility="collapsed",
            width=172,
        )
        for label, does, can, keys in (
            ("Undo", state.undo, len(state.texts()) > 1, "Alt+Z"),
            ("Redo", state.redo, bool(state.later()), "Alt+Y"),
        ):
            tip = escaped(state.told(label))
            st.button(label, on_click=does, disabled=not can, shortcut=keys, help=tip)
        state.state["units"] = evaluation.plan.identity.system
        st.selectbox(
            "Units",
            [*UNITS],
            key="units",
            format_func=UNITS.__getitem__,
            on_change=_show_in,
            label_visibility="collapsed",
            width=128,
        )
        of_disk = state.state.origin.get(st.session_state.demo) == "file"
        if of_disk:
            st.button("Save", on_click=state.save, disabled=not changed, shortcut="Ctrl+S")
        if lost or not of_disk:
            download(lost)
    questions()


def _turn_to(shown: str) -> None:
    """Put the chosen well on screen; a box of a page that is gone can come late, and then says nothing."""
    if state.state.demo == shown:
        state.show(st.session_state["well-on-screen"])


def _show_in() -> None:
    """Write the units that were chosen into the file: page, file and command agree."""
    state.change(lambda text: edit.set(text, "well.show", state.state["units"]))


def download(filled: bool = False, label: str = "Download") -> None:
    """The text on screen as a file."""
    st.download_button(
        label,
        state.newest(),
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
            if st.session_state.get("dropping") == kept.place:
                st.text(f"Drop the draft of {state.differs(kept)}? It cannot be brought back.")
                st.button("Drop it", on_click=state.drop, args=(kept,), key=f"dropped-{number}")
                st.button("Keep it", on_click=state.ask_to_drop, args=(None,), key=f"kept-{number}")
                continue
            st.text(state.draft_told(number))
            st.button("Go on with it", on_click=state.go_on, args=(kept,), key=f"go-on-{number}")
            st.button(
                "Drop it",
                on_click=state.ask_to_drop,
                args=(kept.place,),
                key=f"drop-{number}",
                type="tertiary",
            )
