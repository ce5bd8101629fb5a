"""The app: its pages, one after another in the order of the work.

The state is the text of the well file; every change edits that text in place, so what is on screen can be
saved and run from the command line.
"""

from __future__ import annotations

import streamlit as st

from app import compare, hand_over, plan, run, state
from app.shell import STYLE

st.set_page_config(page_title="Lapline", layout="wide")
st.html(STYLE)
state.begin()
st.navigation(
    [
        st.Page(plan.page, title="Plan", url_path="plan", default=True),
        st.Page(compare.page, title="Compare", url_path="compare"),
        st.Page(run.page, title="Run", url_path="run"),
        st.Page(hand_over.page, title="Hand over", url_path="hand-over"),
    ],
    position="top",
).run()
