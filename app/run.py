"""Run: the step cards on screen, one at a time, with what was read going into the file's record."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

import streamlit as st

from app import answers, elsewhere, inspector, needs, pumping, state
from app.answers_view import answers as show
from app.apart import TALL_MM, at_step, svg
from app.drawing_view import drawing
from app.shell import bar, escaped
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Measured
from schematic.export.report import plural
from schematic.job.card import Card
from schematic.job.events import PUMPED
from schematic.job.recorded import Compared, as_written, beside_plan
from schematic.outcome import MissingInput
from schematic.units import UnitError, parse, sentence_case
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


def line_of(evaluation: Evaluation, card: Card, head: str, typed: str) -> dict[str, str]:
    """One reading as a line of the record; raises UnitError when it does not read as what goes there."""
    system = evaluation.plan.identity.system
    event = _EVENTS.get(card.code)
    if event is not None and head == event[0]:
        return {"step": event[1], "what": PUMPED, "value": as_written(PUMPED, typed, system)}
    value = as_written(head, typed, system)
    if head in _LOADS and card.scene.shoe_md_m and card.code != "prove-the-release":  # there the string alone
        at = printed(card.scene.shoe_md_m, "depth", system)
        return {"step": card.title, "what": _LOADS[head], "at": at, "value": value}
    return {"step": card.title, "what": head, "value": value}


class Typed(NamedTuple):
    """What stands in the boxes of a card: lines that can be kept, those far from the plan, those refused."""

    lines: list[dict[str, str]]
    far: dict[str, Compared]
    refused: dict[str, UnitError]


def key_of(card: Card, head: str) -> str:
    """The name of a box: of this well, this step and what is read."""
    return f"{state.BOX}{st.session_state.demo}-{card.code}-{head}"


def in_boxes(card: Card) -> dict[str, str]:
    """What stands in the boxes of a card; a box that was kept is empty."""
    its = {head: st.session_state.get(key_of(card, head), "").strip() for head in card.as_read}
    return {head: text for head, text in its.items() if text}


def typed_in(evaluation: Evaluation, card: Card, texts: Mapping[str, str]) -> Typed:
    """What becomes of texts for the boxes of a card."""
    found = Typed([], {}, {})
    for head, text in texts.items():
        try:
            line = line_of(evaluation, card, head, text)
        except UnitError as error:
            found.refused[head] = error
            continue
        found.lines.append(line)
        compared = beside_plan(evaluation.job, _measured(line))
        if compared.far:
            found.far[head] = compared
    return found


def _measured(line: dict[str, str]) -> Measured:
    """A line as the plan has it once it is in the record."""
    at = parse(line["at"], "length").si if "at" in line else None
    return Measured(line["step"], line["what"], at, line["value"], "", "", "")


def keep(evaluation: Evaluation, card: Card, sure: bool = False) -> None:
    """Put what was typed into the record of the file, all of it or nothing; what is far only when *sure*.

    Sure is one of what was asked about: what was typed since is asked about first.
    """
    texts = in_boxes(card)
    typed = typed_in(evaluation, card, texts)
    sure = sure and asked(card) == texts
    if typed.refused or (typed.far and not sure):
        st.session_state.asked = {key_of(card, head): text for head, text in texts.items()}
        return
    plan = evaluation.plan  # what was read for another place of the liner stays
    held = [None if plan.was_elsewhere(line) else _same(line) for line in plan.record]

    def made(text: str) -> str:
        for line in typed.lines:
            same = _same(_measured(line))
            if same in held:  # a second reading: it takes the place of the first, whoever read that
                text = edit.insert(text, "record", line, before=held.index(same))
                text = edit.remove(text, f"record[{held.index(same) + 1}]")
            else:
                text = edit.insert(text, "record", line)
        return text

    replaced = [
        f"{line['what']} {line['value']} takes the place of {plan.record[held.index(same)].value}."
        for line in typed.lines
        if (same := _same(_measured(line))) in held
    ]
    if typed.lines and state.change(made):
        empty(card, card.as_read)
        st.session_state.kept_last = (state.texts()[-1], card.code, len(typed.lines), replaced)


def _same(line: Measured) -> tuple[str, str, float | None]:
    """What two readings of the same thing have in common."""
    step, what = (" ".join(word.casefold().split()) for word in (line.step, line.what))
    return step, what, None if line.at_md_m is None else round(line.at_md_m, 2)


def empty(card: Card, heads: Iterable[str]) -> None:
    """Empty boxes of a card, and say no more of what stood in them."""
    for head in heads:
        st.session_state[key_of(card, head)] = ""
    st.session_state.asked = {}


def asked(card: Card) -> dict[str, str]:
    """What was to be kept of a card and was not: it is told until the next try, wherever boxes change."""
    its = st.session_state.get("asked", {})
    return {head: its[key] for head in card.as_read if (key := key_of(card, head)) in its}


def take_out(number: int) -> None:
    """Take a line out of the record."""
    state.change(lambda text: edit.remove(text, f"record[{number}]"))


def readings(evaluation: Evaluation, card: Card) -> None:
    """The boxes to write in, what is said of what was typed, and the lines that were kept."""
    system = evaluation.plan.identity.system
    typed = typed_in(evaluation, card, asked(card))
    show("typed", answers.typed(typed.refused, typed.far, system))
    if typed.far and not typed.refused:
        told = ", ".join(one.line.value for one in typed.far.values())
        with st.container(horizontal=True):
            st.button(escaped(f"Keep {told} all the same"), on_click=keep, args=(evaluation, card, True))
            st.button(escaped(f"Drop {told}"), on_click=empty, args=(card, tuple(typed.far)))
    with st.container(horizontal=True, vertical_alignment="bottom", key="readings"):
        for head in filter(None, card.as_read):
            key = key_of(card, head)
            if key not in st.session_state and state.typed(key):  # Streamlit forgets a box that is not shown
                st.session_state[key] = state.typed(key)
            st.text_input(answers.box_label(head, system), key=key, width=140)
        st.button("Keep readings", on_click=keep, args=(evaluation, card))
        text, code, count, replaced = st.session_state.get("kept_last", ("", "", 0, []))
        if (text, code) == (state.texts()[-1], card.code):
            lines = [sentence_case(one) for one in replaced]
            kept_now = {"kind": "followed", "head": f"Kept: {plural(count, 'reading')}", "lines": lines}
            show("kept-last", [kept_now])
    waits = [f"{head} {text}" for head, text in in_boxes(card).items()]
    if waits:
        st.text(f"Typed, not kept yet: {', '.join(waits)}")
    elif told := answers.units_told(card, system):
        st.text(told)
    kept = answers.kept(evaluation, card, _EVENTS.get(card.code, ("", ""))[1])
    show("read", answers.readings(kept, system))
    with st.container(horizontal=True):
        for number, one in kept:
            label = escaped(f"Take out {one.line.what} {one.line.value}")
            st.button(label, key=f"take-out-{number}", on_click=take_out, args=(number,))


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


def _leaves(card: Card) -> str:
    """What the way on says of a step: what is on hold is not done."""
    return "Leave on hold" if card.on_hold else "Done"


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    cards = verbs.steps(evaluation)
    bar(evaluation)
    number = min(max(state.state.steps.get(state.state.demo, 1), 1), len(cards))
    state.box("step", number)
    card, pages = cards[number - 1], st.session_state.get("pages", {})
    with st.container(horizontal=True, vertical_alignment="center", key="ahead-of-all"):
        back, on = "PageUp", "PageDown"
        st.button("Back", on_click=go, args=(number - 1,), disabled=number == 1, shortcut=back)
        st.selectbox(
            "Step",
            range(1, len(cards) + 1),
            key="step",
            format_func=lambda n: f"{n}  {cards[n - 1].title}",
            on_change=state.forget_problem,
            label_visibility="collapsed",
            width=320,
        )
        if number < len(cards):
            label = f"{_leaves(card)}, go to {number + 1}"
            st.button(label, on_click=go, args=(number + 1,), type="primary", shortcut=on)
        elif st.button(f"{_leaves(card)}, hand over", type="primary") and "Hand over" in pages:
            st.switch_page(pages["Hand over"])
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
                low=True,
            )
    with right:
        document = state.document()
        these = inspector.choices(document, evaluation.plan)
        leads: dict[str, needs.Way] = {}

        def said(names: Sequence[str]) -> str:
            leads.update(needs.led(document, evaluation.plan, these, names))
            return needs.told(document, evaluation.plan, these, names)

        led = show("card", st.session_state.problem + answers.card(evaluation, card, said), number, leads)
        if led in leads and "Plan" in pages:
            needs.go(leads[led])
            st.switch_page(pages["Plan"])
        readings(evaluation, card)
