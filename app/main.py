"""The app: its pages, one after another in the order of the work.

The state is the text of the well file; every change edits that text in place, so what is on screen can be
saved and run from the command line.
"""

from __future__ import annotations

import gc
from pathlib import Path

import streamlit as st

from app import broken, compare, hand_over, learn, plan, run, start, state
from app.shell import STYLE

st.set_page_config(page_title="Lapline", layout="wide")
st.logo(Path(__file__).with_name("logo.svg"), size="large")
st.html(STYLE)
state.begin()
pages = [
    st.Page(start.page, title="Start", url_path="start", default=True),
    st.Page(plan.page, title="Plan", url_path="plan"),
    st.Page(compare.page, title="Compare", url_path="compare"),
    st.Page(run.page, title="Run", url_path="run"),
    st.Page(learn.page, title="Learn", url_path="learn"),
    st.Page(hand_over.page, title="Hand over", url_path="hand-over"),
]
page = st.navigation(pages, position="top")
state.turned(page.title)
st.session_state.pages = {each.title: each for each in pages}
if st.session_state.demo in st.session_state.broken:
    broken.page()
else:
    page.run()
state.ended()
if not gc.get_freeze_count():  # behind the first page that is shown
    import pandas  # noqa: F401 - the tables of Plan need it

    gc.freeze()  # the libraries stay: to look through them for what may go took 0.2 s now and then
