"""Accept a warning or an advice by name and reason: a line under `waived` of the file."""

from __future__ import annotations

from datetime import date

import streamlit as st

from app import state
from schematic.outcome import Outcome
from schematic.wellfile import edit


def accepted(text: str, outcome: Outcome, by: str, reason: str, day: date) -> str:
    """The text with the finding accepted, for this part alone where it is about one."""
    line = {"rule": outcome.rule, "by": by.strip(), "reason": reason.strip(), "date": day.isoformat()}
    if outcome.subject.path:
        line["subject"] = outcome.subject.path
    return edit.insert(text, "waived", line)


@st.dialog("Accept a finding")
def accept(outcome: Outcome, words: str) -> None:
    """The question over the page."""
    question(outcome, words)


def question(outcome: Outcome, words: str) -> None:
    """Who accepts it and why; it stays on every sheet, with both beside it."""
    st.text(words)
    st.text("It stays on the sheet, with the name and the reason beside it.")
    with st.form("accepting", border=False):
        by = st.text_input("Accepted by")
        reason = st.text_input("Reason")
        if not st.form_submit_button("Accept it", type="primary"):
            return
    if not (by.strip() and reason.strip()):
        st.text("Not accepted: it needs a name and a reason.")
        return
    if state.change(lambda text: accepted(text, outcome, by, reason, date.today())):
        st.rerun()
    st.text("Not accepted: the text of the file does not take it.")
