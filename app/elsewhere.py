"""Shoe not on depth: the plan for a liner elsewhere, what it changes, and going on with it."""

from __future__ import annotations

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from app.shell import escaped
from schematic.comparison.replan import Place, Replanned, file_name, place_of, replan
from schematic.comparison.replan_report import tables_of
from schematic.units import UnitError, like_in, parse, unit_of, with_unit
from schematic.units import show as printed
from schematic.wellfile.problem import InputError

_PLACES: dict[str, Place] = {"Liner shoe at": "shoe", "Liner top at": "top"}


def worked_out(place: Place, words: str) -> Replanned | list[dict[str, object]]:
    """The plan with the liner where somebody says it is, or why there is none."""
    document, plan = state.document(), state.evaluation().plan
    try:
        said = place_of(plan, place, words, unit_of("depth", plan.identity.system))
        return replan(document, place, said)
    except InputError as error:
        return answers.refused(error.problems)
    except UnitError as error:
        return answers.refused(like_in(f"{error}", plan.identity.system))


def meant(words: str) -> list[str]:
    """What a length without a word may have been meant as, where it is no depth of the liner."""
    plan = state.evaluation().plan
    liner, unit = plan.depth.liner, unit_of("depth", plan.identity.system)
    try:
        length = parse(with_unit(words, unit, "length"), "length")
    except UnitError:
        return []  # a word stands with it already
    if not 0.0 <= length.si < liner.shoe_md_m - liner.top_md_m:
        return []
    return [f"{length.text} {word}" for word in ("off bottom", "high")]


def say(words: str) -> None:
    """Put words into the box."""
    st.session_state["elsewhere-depth"] = words


@st.dialog("Shoe not on depth", width="large")
def ask() -> None:
    """The question over the page; a field changed in it runs the question anew, not the page."""
    question()


def question() -> None:
    """Where the liner is, what follows from it, and whether to go on with that plan."""
    asking = st.container(horizontal=True, vertical_alignment="bottom")
    shown_in = state.evaluation().plan.identity.system
    off = "150 ft" if shown_in == "field" else "45 m"
    with asking:
        place = _PLACES[st.selectbox("What is known", list(_PLACES), width=200)]
        depth = st.text_input(
            "Measured depth, or how far off",
            placeholder=f"{off} off bottom",
            key="elsewhere-depth",
            width=240,
        ).strip()
    made = worked_out(place, depth) if depth else []
    ways = meant(depth) if isinstance(made, list) else []
    if isinstance(made, list) and not ways:
        asking.button("Work it out", type="primary")  # leaving the box does: a way on for the hand
    if not depth:
        such = f"'{off} off bottom', '{off} high'"
        st.text(f"Write a measured depth, or such as {such}: all is worked out anew.")
        return
    if isinstance(made, list):
        if ways:
            st.text("Taken for a measured depth, where the liner cannot be. If it is meant otherwise:")
            with st.container(horizontal=True):
                for words in ways:
                    first = words is ways[0]
                    st.button(
                        escaped(words), on_click=say, args=(words,), type="primary" if first else "secondary"
                    )
        show("elsewhere-refused", made)
        return
    system = made.both.new.plan.identity.system
    liner = made.both.new.plan.depth.liner
    at = [printed(md_m, "depth", system, "\u202f") for md_m in (liner.shoe_md_m, liner.top_md_m)]
    st.text(f"'{depth}' is taken for: liner shoe at {at[0]} MD, liner top at {at[1]} MD.")
    if not made.down_m:
        st.text("The liner is there already: nothing changes.")
        if st.button("Go on as planned", type="primary"):
            st.rerun()
        return
    with st.container(horizontal=True, vertical_alignment="center", key="ahead-elsewhere"):
        # a key of its own for each plan: a press meant for the one before is none for what was typed since
        key = f"elsewhere-go-{made.place}-{made.down_m:.4f}"
        if st.button(f"Run with the shoe at {at[0]}", type="primary", key=key) and state.change(
            lambda _t: made.text
        ):
            st.rerun()
        st.download_button(
            "New well file",
            made.text,
            file_name(st.session_state.demo, made.place, depth),
            "application/yaml",
            on_click="ignore",
        )
    said, found, by_hand, *rest, written = tables_of(made, system)
    tables = (answers.without_codes(found), by_hand, *rest, answers.written_in_words(written))
    in_words = {"kind": "list", "title": said.title, "lines": [str(row[0]) for row in said.rows]}
    show("elsewhere", [in_words, *(answers.table_block(one, system) for one in tables if one.rows)])
