"""Compare: the options of the file beside the well as written; made, adopted and dropped here."""

from __future__ import annotations

import streamlit as st

from app import answers, state, sweep
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import bar
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.comparison import options
from schematic.comparison.compare import Alternative, tables_of
from schematic.drawing.side_by_side import options_sheet
from schematic.wellfile import edit
from schematic.wellfile.read import AS_WRITTEN, Document

_OPTIONS, _SWEEP = "Options", "Sweep a value"
_NONE = (
    "No options yet: name one below and say which value it changes; then it stands here beside the well as "
    "written."
)


def make() -> None:
    """Put the option that was typed into the text."""
    name, value = st.session_state["option-name"].strip(), st.session_state["option-value"].strip()
    path = st.session_state["option-path"]
    if not name or not value:
        st.session_state.problem = answers.refused(f"An option wants a name, and a value for {path}.")
    elif state.change(lambda text: options.made(text, name, path, value)):
        st.session_state["option-value"] = ""
        names = [option.name for option in state.document().content.options or ()]
        st.session_state["option"] = names.index(name)  # the one that was made is the one to adopt


def adopt(index: int) -> None:
    """Make the changes of an option in the well as written."""
    state.change(lambda _text: options.adopted(state.document(), index))


def drop(index: int) -> None:
    """Take an option out of the file."""
    state.change(lambda text: options.dropped(text, index))


def rename(index: int) -> None:
    """Give an option the name that was typed."""
    name = " ".join(st.session_state["option-renamed"].split())
    if name:
        state.change(lambda text: edit.set(text, f"options[{index}].name", name))


def chosen(compared: tuple[Alternative, ...]) -> None:
    """One option to adopt, to drop or to rename."""
    with st.container(horizontal=True, vertical_alignment="bottom"):
        index = st.selectbox(
            "Option",
            range(len(compared) - 1),
            format_func=lambda n: compared[n + 1].name,
            key="option",
            width=260,
        )
        able = compared[index + 1].evaluation is not None
        st.button("Adopt", on_click=adopt, args=(index,), type="primary", disabled=not able)
        st.button("Drop", on_click=drop, args=(index,))
        with st.popover("Rename ..."), st.form("rename", border=False):
            st.text_input("Name of the option", compared[index + 1].name, key="option-renamed")
            st.form_submit_button("Rename", on_click=rename, args=(index,))


def new(document: Document, first: bool) -> None:
    """The fields of an option that changes one value; a second value goes in under the same name."""
    with st.form("new-option", border=True):
        st.text("New option, or one more change of an option of that name")
        paths = options.changeable(document)
        lap = paths.index("liner.lap") if "liner.lap" in paths else 0
        with st.container(horizontal=True, vertical_alignment="bottom"):
            st.text_input("Name", key="option-name", width=180)
            st.selectbox("Changes", paths, lap, key="option-path", width=280)
            st.text_input("to", key="option-value", width=130, placeholder="as in the file")
            st.form_submit_button(
                "Keep as an option", on_click=make, type="primary" if first else "secondary"
            )


def in_bold(block: answers.Block) -> answers.Block:
    """A table of what differs: bold is what is not as in the well as written."""
    base = block["heads"].index(AS_WRITTEN)
    bold = [[i > base and cell != row[base] for i, cell in enumerate(row)] for row in block["rows"]]
    return {**block, "bold": bold, "note": "Bold: not as in the well as written."}


def page() -> None:
    """The page."""
    document = state.document()
    compared = verbs.options(document)
    base = compared[0].evaluation
    assert base is not None  # or the well would not be on screen
    bar(base)
    what = st.segmented_control(
        "What",
        [_OPTIONS, _SWEEP],
        key="compare",
        default=_OPTIONS,
        required=True,
        label_visibility="collapsed",
    )
    if what == _SWEEP:
        sweep.page(base)
    else:
        side_by_side(document, compared, base)


def side_by_side(document: Document, compared: tuple[Alternative, ...], base: Evaluation) -> None:
    """The options drawn on one depth scale, and what differs between them."""
    system = base.plan.identity.system
    left, right = st.columns([0.58, 0.42])
    with left, st.container(key="paper"):
        sheet = options_sheet(compared, system) if len(compared) > 1 else verbs.sheet(base)
        drawing(verbs.render(sheet, ".svg"), None, lambda: None, key="options")
    with right:
        if st.session_state.problem:
            show("refused", st.session_state.problem)
        if len(compared) > 1:
            chosen(compared)
            words, changes, differs, findings, lacking = tables_of(compared, system)
            told: dict[str, list[str]] = {}
            for name, said in words.rows:
                told.setdefault(f"{name}, against the well as written", []).append(str(said))
            tables = [each for each in (findings, changes, lacking) if each.rows]
            show(
                "differs",
                [
                    *({"kind": "list", "title": name, "lines": lines} for name, lines in told.items()),
                    *([in_bold(answers.table_block(differs, system))] if differs.rows else []),
                    *(answers.table_block(table, system) for table in tables),
                ],
            )
        else:
            show("none", [{"kind": "note", "text": _NONE}])
        new(document, first=len(compared) == 1)
