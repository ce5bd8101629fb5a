"""Compare: the options of the file against the well as written, drawn side by side, with what differs."""

from __future__ import annotations

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import bar
from schematic import verbs
from schematic.comparison.compare import tables_of
from schematic.drawing.side_by_side import options_sheet


def page() -> None:
    """The page."""
    document = state.document()
    compared = verbs.options(document)
    base = compared[0].evaluation
    assert base is not None  # or the well would not be on screen
    bar(base)
    if len(compared) == 1:
        show(
            "none",
            [
                {
                    "kind": "note",
                    "text": "The file has no options. Write one under 'options': a name and what it changes, "
                    "path by path; then it stands here beside the well as written.",
                }
            ],
        )
        return
    system = base.plan.identity.system
    left, right = st.columns([0.58, 0.42])
    with left, st.container(key="paper"):
        pages = verbs.render(options_sheet(compared, system), ".svg")
        drawing(pages, None, lambda: None, key="options")
    with right:
        blocks = [answers.table_block(table, system) for table in tables_of(compared, system) if table.rows]
        show("differs", blocks)
