"""Run: the step cards on screen, one at a time, with what was read going into the file's record."""

from __future__ import annotations

import streamlit as st

from app import answers, elsewhere, pumping, state
from app.answers_view import answers as show
from app.apart import TALL_MM, at_step, svg
from app.drawing_view import drawing
from app.shell import bar
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.job.card import Card
from schematic.outcome import MissingInput
from schematic.units import show as printed
from schematic.wellfile import edit

# what a reading is called in the record, so that chart and count take it up
_LOADS = {
    "pick up": "hook load picking up",
    "slack off": "hook load slacking off",
    "rotating": "hook load rotating",
}
_EVENTS = {"ball-on-seat": ("volume", "ball on seat"), "dart-meets-plug": ("spike at", "dart meets plug"),
           "bump-the-plug": ("bumped at", "bump")}  # fmt: skip


def line_of(evaluation: Evaluation, card: Card, head: str, value: str) -> dict[str, str]:
    """One reading as a line of the record."""
    system = evaluation.plan.identity.system
    event = _EVENTS.get(card.code)
    if event is not None and head == event[0]:
        return {"step": event[1], "what": "volume pumped", "value": value}
    if head in _LOADS and card.scene.shoe_md_m:
        at = printed(card.scene.shoe_md_m, "depth", system)
        return {"step": card.title, "what": _LOADS[head], "at": at, "value": value}
    return {"step": card.title, "what": head, "value": value}


def keep(evaluation: Evaluation, card: Card) -> None:
    """Put what was typed into the record of the file, all of it or nothing."""
    lines = [
        line_of(evaluation, card, head, st.session_state[f"read-{card.code}-{head}"].strip())
        for head in card.as_read
        if st.session_state.get(f"read-{card.code}-{head}", "").strip()
    ]

    def made(text: str) -> str:
        for line in lines:
            text = edit.insert(text, "record", line)
        return text

    if lines and state.change(made):
        for head in card.as_read:
            st.session_state[f"read-{card.code}-{head}"] = ""


def go(to: int) -> None:
    """Turn to a step; what was said of the last edit goes."""
    st.session_state.step = to
    state.forget_problem()


def _lacks_train(evaluation: Evaluation) -> bool:
    """Whether it is not known where the fluids stand."""
    try:
        return not evaluation.job.train.batches
    except MissingInput:
        return True


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    cards = verbs.steps(evaluation)
    bar(evaluation)
    number = min(max(st.session_state.get("step", 1), 1), len(cards))
    st.session_state.step = number
    card = cards[number - 1]
    with st.container(horizontal=True, vertical_alignment="center", key="run"):
        st.button("Back", on_click=go, args=(number - 1,), disabled=number == 1)
        st.selectbox(
            "Step",
            range(1, len(cards) + 1),
            key="step",
            format_func=lambda n: f"{n}  {cards[n - 1].title}",
            on_change=state.forget_problem,
            label_visibility="collapsed",
            width=320,
        )
        last = number == len(cards)
        label = "Last step" if last else f"Done, go to {number + 1}"
        st.button(label, on_click=go, args=(number + 1,), disabled=last, type="primary")
        if st.button("Shoe not on depth ..."):
            elsewhere.ask()
    left, right = st.columns([0.345, 0.655])
    with left, st.container(key="paper"):
        before = cards[number - 2] if number > 1 else None
        through = card.code in pumping.CODES and not _lacks_train(evaluation)
        if through and st.toggle("Pump through", key="pump-through"):
            pumping.pump_through(evaluation, card)
        else:
            drawing(
                (svg(at_step(evaluation, card, before, TALL_MM)),),
                None,
                lambda: None,
                key="step-well",
                narrow=True,
            )
    with right:
        show("card", st.session_state.problem + answers.card(evaluation, card))
        fields = st.form("readings", border=False)
        with fields, st.container(horizontal=True, vertical_alignment="bottom"):
            for head in card.as_read:
                if head:
                    st.text_input(head, key=f"read-{card.code}-{head}", width=140)
            st.form_submit_button("Keep readings", on_click=keep, args=(evaluation, card))
        show("read", answers.readings(evaluation, card, _EVENTS.get(card.code, ("", ""))[1]))
