"""Shoe not on depth: the plan for a liner elsewhere, what it changes, and going on with it."""

from __future__ import annotations

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from schematic import verbs
from schematic.comparison.replan import Replanned, file_name
from schematic.comparison.replan_report import tables_of
from schematic.units import UnitError
from schematic.wellfile.problem import InputError

_PLACES = {"Liner shoe at": "shoe", "Liner top at": "top"}


def worked_out(place: str, depth: str) -> Replanned | list[dict[str, object]]:
    """The plan with the liner at another depth, or why there is none."""
    try:
        document = state.document()
        return verbs.replan(document, **{_PLACES[place]: depth})
    except InputError as error:
        return answers.refused(error.problems)
    except UnitError as error:
        return answers.refused(f"{error}")


@st.dialog("Shoe not on depth", width="large")
def ask() -> None:
    """The question over the page; a field changed in it runs the question anew, not the page."""
    question()


def question() -> None:
    """Where the liner is, what follows from it, and whether to go on with that plan."""
    with st.container(horizontal=True, vertical_alignment="bottom"):
        place = st.selectbox("What is known", list(_PLACES), width=200)
        depth = st.text_input("Measured depth", placeholder="12090 ft", key="elsewhere-depth", width=160)
    if not depth.strip():
        st.text("Write where it is: depths, volumes, pressures, weights and steps are then worked out anew.")
        return
    made = worked_out(place, depth.strip())
    if isinstance(made, list):
        show("elsewhere-refused", made)
        return
    system = made.both.new.plan.identity.system
    if not made.down_m:
        st.text("The liner is there already: nothing changes.")
        return
    with st.container(horizontal=True, vertical_alignment="center"):
        if st.button("Go on with this plan", type="primary") and state.change(lambda _text: made.text):
            st.rerun()
        st.download_button(
            "New well file",
            made.text,
            file_name(st.session_state.demo, made.place, depth.strip()),
            "application/yaml",
            on_click="ignore",
        )
    blocks = [answers.table_block(table, system) for table in tables_of(made, system) if table.rows]
    show("elsewhere", blocks)
