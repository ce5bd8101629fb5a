"""Learn: the liner taken apart, the job watched step by step, and practice on a copy that is never kept."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from typing import Any

import streamlit as st

from app import answers, learn_view, practice, state
from app.answers_view import answers as show
from app.apart import apart, at_step, svg
from app.drawing_view import drawing
from app.exports import plain
from app.faults import Well, evaluated
from app.practice import Task
from app.shell import bar
from app.told import told
from schematic import verbs
from schematic.catalogue import glossary
from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing.findings import letters
from schematic.drawing.scene import Sheet
from schematic.job.card import Card
from schematic.job.meeting import Verdict
from schematic.job.step_words import words_of
from schematic.outcome import Found, sentence
from schematic.units import sentence_case
from schematic.units import show as printed

Block = dict[str, Any]

APART, WATCH, PRACTISE = "Take apart", "Watch it work", "Practise"
_MOST_WORDS = 8
_PATH = re.compile(r"[a-z ]+\.[a-z. ]+")
_ROUNDS = 999

# by which words a step speaks of a part, and the steps at which the part acts
_SPOKEN: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "float shoe": (("float", "floats", "shoe"), ("bump-the-plug", "make-up-the-shoe-track")),
    "reamer shoe": (("float", "floats", "shoe"), ("run-to-depth",)),
    "guide shoe": (("shoe",), ("run-to-depth",)),
    "float collar": (("float", "floats"), ("bump-the-plug", "make-up-the-shoe-track")),
    "landing collar": (("landing collar", "collars", "bump"), ("bump-the-plug",)),
    "joint": (("joint", "joints"), ("run-the-liner",)),
    "pup joint": (("joint", "joints"), ("run-the-liner",)),
    "liner hanger": (
        ("hanger",),
        ("set-the-hanger", "set-the-hanger-by-turning", "set-the-hanger-as-its-maker-says"),
    ),
    "liner top packer": (("packer",), ("set-the-packer",)),
    "tie-back receptacle": (("receptacle",), ("set-the-packer",)),
}


def _kept(key: str, first: Any) -> Any:  # noqa: ANN401 - what a widget holds
    """What a widget holds, also after a page that did not show it."""
    value = st.session_state.setdefault(key, st.session_state.get(f"kept {key}", first))
    st.session_state[f"kept {key}"] = value
    return value


# ---------------------------------------------------------------- take apart


def uses(evaluation: Evaluation, part: LinerPart) -> list[tuple[int, str]]:
    """Number and title of the steps that speak of a part."""
    words = _SPOKEN.get(part.kind, ((part.kind,), ()))[0]
    seat = ("seat",) if part.seat_m is not None else ()
    spoken = re.compile(rf"(?<!host )\b(?:{'|'.join((*words, *seat))})\b", re.IGNORECASE)
    return [
        (card.number, card.title)
        for card in verbs.steps(evaluation)
        if spoken.search(" ".join((card.title, *(say.text for say in (card.sub, *card.do, *card.look_for)))))
    ]


def acts(evaluation: Evaluation, part: LinerPart) -> int:
    """The number of the step at which a part acts, else of the first."""
    by_code = {card.code: card.number for card in verbs.steps(evaluation)}
    codes = _SPOKEN.get(part.kind, ((), ()))[1]
    return next((by_code[code] for code in codes if code in by_code), 1)


def passes(evaluation: Evaluation, part: LinerPart) -> list[str]:
    """What goes through a part and what is clear around it, what lands or seals there, and the fluids."""
    system = evaluation.plan.identity.system
    lines = []
    for way in (*evaluation.job.passage.running, *evaluation.job.passage.through):
        for met in way.meetings:
            if met.bore.path != part.path:
                continue
            size = "" if way.thing.size_m is None else f" {printed(way.thing.size_m, 'diameter', system)}"
            if met.verdict is Verdict.NOT_CHECKED or met.clear_m is None:
                lacks = [answers.value_called(name) if _PATH.fullmatch(name) else name for name in met.needs]
                here = f"is to {way.thing.stays} there, " if met.bore.stops else ""
                what = f"{here}not checked, needs {', '.join(lacks)}"
            elif met.verdict is Verdict.PASSES:
                what = f"passes, {printed(met.clear_m, 'gap', system)} clear on diameter"
            else:
                what = met.told
            lines.append(f"{sentence_case(way.thing.name)}{size}: {what}")
    return [*lines, _flow(evaluation, part)]


def _flow(evaluation: Evaluation, part: LinerPart) -> str:
    """How the fluids of the job go through a part."""
    plan = evaluation.plan
    fluids = "Mud, spacer and cement" if plan.cement.slurries else "Mud"
    if part.valves or "float" in part.kind:
        return f"{fluids}: downward through its valve, not back"
    if part.kind == "liner top packer":
        return f"{fluids}: pass, and outside it too until it is set"
    if part.kind != "landing collar":
        return f"{fluids}: pass"
    ball = part.seat_m is not None and plan.job.seat == "landing collar"
    plug = plan.depth.running is not None and plan.depth.running.plug_md_m is not None
    seat = ", and not while the ball holds its seat" if ball else ""
    return f"{fluids}: pass{' until the plug lands' if plug else ''}{seat}"


def told_of(evaluation: Evaluation, part: LinerPart, sheet: Sheet) -> list[Block]:
    """What the page says of a part: what it does, its figures, where it sits, what passes, when it acts."""
    system, parts = evaluation.plan.identity.system, evaluation.plan.depth.liner.parts
    at = parts.index(part)
    known = glossary.part(part.kind)
    top, bottom = (printed(md, "tally", system) for md in (part.top_md_m, part.bottom_md_m))
    around = [
        *([f"under the {parts[at - 1].name}"] if at else ["at the liner top"]),
        *([f"above the {parts[at + 1].name}"] if at + 1 < len(parts) else ["at the bottom of the liner"]),
    ]
    through, steps = passes(evaluation, part), uses(evaluation, part)
    rows = [
        ["Sits", f"{', '.join(around)}; here {top} to {bottom} MD"],
        ["Typical size", practice.typical(evaluation, part.kind) or "not in the glossary"],
        ["In its bore", "; ".join(through)],
        ["Steps", "; ".join(f"{number} {title}" for number, title in steps) or "none speaks of it"],
    ]
    table = {
        "kind": "table",
        "title": "",
        "heads": ["", ""],
        "figures": [False, False],
        "rows": rows,
        "note": "",
    }
    findings = [
        f"{letter}: {sentence_case(sentence(outcome.answer.headline, outcome.answer.figures, system))}"
        for letter, outcome in letters(evaluation)
        if outcome.subject.path == part.path and isinstance(outcome.answer, Found)
    ]
    words = explained(word for word in practice.words_in(known.does if known else "") if word != part.kind)
    return [
        *answers.part(evaluation, sheet, {"part": part.path, "title": ""}),
        table,
        *([{"kind": "list", "title": "Found here", "lines": findings}] if findings else []),
        *([{"kind": "list", "title": "Words", "lines": words}] if words else []),
    ]


def explained(words: Iterable[str]) -> list[str]:
    """Words of the glossary with their meaning."""
    return [f"{sentence_case(word)}: {glossary.meaning(word)}" for word in words]


def found_words(wanted: str) -> list[Block]:
    """The words of the glossary that hold all that was asked for, in any order, what begins with it first.

    Where none does, those whose meaning does: it has the other names.
    """
    asked = glossary.plain(wanted)
    terms = glossary.terms()

    def held(text: str) -> bool:
        return all(word in glossary.plain(text) for word in asked.split())

    hits = [term for term in terms if held(term)]
    hits = hits or [term for term, meaning in terms.items() if held(f"{term} {meaning}")]
    hits.sort(key=lambda term: not glossary.plain(term).startswith(asked))
    if not hits:
        return [
            {
                "kind": "note",
                "text": f"The glossary has no word with '{wanted.strip()}' in it. Try a part of it.",
            }
        ]
    lines = explained(hits[:_MOST_WORDS])
    more = len(hits) - _MOST_WORDS
    rest = [{"kind": "note", "text": f"And {more} more: write more of the word."}] if more > 0 else []
    return [{"kind": "list", "title": "In the glossary", "lines": lines}, *rest]


def close_words() -> None:
    """Put the words that were looked up away."""
    st.session_state.wanted = ""


def choose_part() -> None:
    """Take over the part that was chosen in the drawing."""
    chosen = (st.session_state.get("apart") or {}).get("chosen")
    if chosen:
        st.session_state.learn_part = chosen["part"]


def to_part(path: str) -> None:
    """Show another part."""
    st.session_state.learn_part = path


def watch(step: int) -> None:
    """Watch the job from a step on."""
    st.session_state.learn_way = WATCH
    st.session_state.watch_from = step


def practise() -> None:
    """Go on to a practice round."""
    st.session_state.learn_way = PRACTISE


def take_apart(evaluation: Evaluation) -> None:
    """The assembly in the drawing, one part of it in words."""
    parts = evaluation.plan.depth.liner.parts
    by_path = {part.path: part for part in parts}
    paths = list(by_path)
    hanger = evaluation.plan.depth.liner.find("liner hanger")
    if _kept("learn_part", hanger.path if hanger else paths[0]) not in by_path:
        to_part(hanger.path if hanger else paths[0])
    path = st.session_state.learn_part
    scene = apart(evaluation)
    left, right = st.columns([0.55, 0.45])
    with left, st.container(key="paper"):
        drawing((svg(scene),), {"part": path, "title": ""}, choose_part, key="apart", low=True)
    with right:
        st.selectbox(
            "Part",
            paths,
            key="learn_part",
            format_func=lambda each: f"{paths.index(each) + 1}  {sentence_case(by_path[each].name)}",
            label_visibility="collapsed",
        )
        following = paths[paths.index(path) + 1] if path != paths[-1] else None
        with st.container(horizontal=True):
            first = acts(evaluation, by_path[path])
            st.button(f"Watch it at step {first}", on_click=watch, args=(first,), type="primary")
            st.button("Next part down", on_click=to_part, args=(following,), disabled=following is None)
            st.button("Test me", on_click=practise)
        show("part", told_of(evaluation, by_path[path], Sheet((scene,))))


# ---------------------------------------------------------------- watch it work


@lru_cache(maxsize=8)
def frames(well: Well) -> tuple[dict[str, Any], ...]:
    """The well at each step as a picture, with the step's title and its sentence."""
    evaluation = evaluated(well)
    cards = verbs.steps(evaluation)
    words = words_of(evaluation.job)
    says = [told(card.code, words | {"released"} if card.released else words) for card in cards]
    return tuple(
        {
            "svg": svg(at_step(evaluation, card, before)).decode(),
            "title": card.title,
            "say": say,
            "state": standing(card),
            "words": explained(practice.words_in(say)),
        }
        for card, before, say in zip(cards, (None, *cards), says, strict=False)
    )


def standing(card: Card) -> list[str]:
    """What stands where in the picture of a step and in which state, and what of it is not known."""
    hold = ["The card of this step is on hold: it is shown as it would be done."] if card.on_hold else []
    return [*(f"{sentence_case(thing)}: {how}" for thing, how in card.state), *hold]


# ---------------------------------------------------------------- practise


def progress(well: Well, number: int) -> dict[str, Any]:
    """How far this round is; a round of another well, another text or another number begins anew."""
    of = (*well, number)
    its: dict[str, Any] | None = st.session_state.get("practice")
    if its is None or its["of"] != of:
        count = len(practice.round_of(well, number))
        its = {
            "of": of,
            "at": 0,
            "given": [],
            "tries": [[] for _ in range(count)],
            "hints": set(),
            "shown": set(),
        }
        st.session_state.practice = its
    return its


def give(key: str) -> None:
    """Take over what was picked, or the order that was made."""
    st.session_state.practice["given"] = list(st.session_state[key]["given"]["numbers"])


def give_part(task: Task) -> None:
    """Take over the part that was pointed at, where a part is the answer."""
    chosen = (st.session_state.get("practised") or {}).get("chosen")
    its = st.session_state.practice
    if chosen and chosen["part"] in task.parts and not solved(task, its):
        its["given"] = [task.parts.index(chosen["part"])]


def answer(key: str) -> None:
    """Hold what was given against the right answer; what was picked just before may come with the press."""
    its = st.session_state.practice
    picked = (st.session_state.get(key) or {}).get("given")
    if not its["given"] and picked:
        give(key)
    if not its["given"]:
        return
    its["tries"][its["at"]].append(tuple(its["given"]))


def hint() -> None:
    """Show the hint of this task, and remember that it was shown."""
    its = st.session_state.practice
    its["hints"].add(its["at"])


def tell() -> None:
    """Show the answer of this task."""
    its = st.session_state.practice
    its["shown"].add(its["at"])


def go_on() -> None:
    """Go on to the next task."""
    its = st.session_state.practice
    its["at"], its["given"] = its["at"] + 1, []


def again() -> None:
    """Begin the same round again."""
    del st.session_state["practice"]


def other() -> None:
    """Begin the next round."""
    st.session_state.round = st.session_state.round % _ROUNDS + 1


def solved(task: Task, its: dict[str, Any]) -> bool:
    """Whether the task on screen was answered rightly, or its answer shown."""
    tries = its["tries"][its["at"]]
    return its["at"] in its["shown"] or (bool(tries) and tries[-1] == task.answer)


def told_answer(task: Task, its: dict[str, Any]) -> tuple[bool, str, list[str], list[str]]:
    """What is said of the last answer: right or not, a head, why, and why the first one was wrong."""
    tries = its["tries"][its["at"]]
    shown = its["at"] in its["shown"]
    if not shown and not tries:
        return False, "", [], []
    if not solved(task, its):
        return False, "Not that. Try again.", [practice.first_wrong(task, tries[-1])], []
    right = "in this order" if task.kind == practice.ORDER else task.choices[task.answer[0]]
    ordinal = "at the first try" if len(tries) == 1 else f"at try {len(tries)}"
    head = f"The answer: {right}" if shown else f"Right {ordinal}: {right}"
    wrong = [given for given in tries if given != task.answer]
    quiet = [f"Your first answer: {practice.first_wrong(task, wrong[0])}"] if wrong else []
    return True, head, list(task.reason), quiet


def _tries(count: int) -> str:
    return "1 try" if count == 1 else f"{count} tries"


def so_far(tasks: tuple[Task, ...], its: dict[str, Any]) -> Block:
    """The tasks of the round with their tries."""
    rows = []
    for number, task in enumerate(tasks):
        tries = its["tries"][number]
        right = bool(tries) and tries[-1] == task.answer
        count = _tries(len(tries))
        state_ = "" if number > its["at"] else count if tries else "here"
        if right or number in its["shown"]:
            state_ = f"right, {count}" if right else f"answer shown, {count}" if tries else "answer shown"
        rows.append([f"{number + 1}", task.kind, state_, "yes" if number in its["hints"] else ""])
    heads = ["", "task", "answer", "hint"]
    return {
        "kind": "table",
        "title": "This round",
        "heads": heads,
        "figures": [False] * len(heads),
        "rows": rows,
        "note": "",
    }


def to_read(tasks: tuple[Task, ...], its: dict[str, Any]) -> list[str]:
    """Words to read again: of the tasks that took more than one try, a hint, or were shown."""
    hard = [
        number
        for number in range(len(tasks))
        if len(its["tries"][number]) > 1 or number in its["hints"] or number in its["shown"]
    ]
    return list(dict.fromkeys(word for number in hard for word in tasks[number].words))[:3]


def ended(tasks: tuple[Task, ...], its: dict[str, Any]) -> list[Block]:
    """What a round comes to."""
    first = sum(tries[:1] == [task.answer] for task, tries in zip(tasks, its["tries"], strict=True))
    lines = explained(to_read(tasks, its))
    return [
        {
            "kind": "part",
            "name": "End of the round",
            "lines": [f"{first} of {len(tasks)} at the first try."],
            "cells": [],
        },
        so_far(tasks, its),
        *([{"kind": "list", "title": "Read these words again", "lines": lines}] if lines else []),
    ]


def result(well: Well, number: int, tasks: tuple[Task, ...], its: dict[str, Any], day: str) -> str:
    """What a round came to, as a text to keep: when, on which well, what was given and right in each task."""
    identity = evaluated(well).plan.identity
    issue = f"revision {identity.revision.issue}" if identity.revision else "no revision"
    lines = [
        f"Practice round {number} on {identity.name}",
        f"{identity.name}: {issue}, file {identity.file_hash}. Kept on {day}.",
        *ended(tasks, its)[0]["lines"],
    ]
    for at, task in enumerate(tasks):
        tries = its["tries"][at]
        notes = ["answer shown"] * (at in its["shown"]) + ["with a hint"] * (at in its["hints"])
        given = [f"   Given: {in_words(task, one)}" for one in tries] or ["   Given: nothing"]
        lines += [
            "",
            f"{at + 1} {task.kind}: {', '.join([_tries(len(tries)), *notes])}",
            f"   Asked: {task.question}",
            *given,
            f"   Right: {in_words(task, task.answer)}",
        ]
    words = to_read(tasks, its)
    return "\n".join([*lines, "", *(["Read again:", *explained(words)] if words else []), ""])


def in_words(task: Task, given: Sequence[int]) -> str:
    """An answer as it was picked; an order as its steps one after another."""
    if task.kind != practice.ORDER:
        return task.choices[given[0]]
    return "; ".join(f"{place} {task.choices[one]}" for place, one in enumerate(given, 1))


def paper(task: Task) -> bytes:
    """What is drawn for a task: the assembly in letters, or the well at the step that is asked about."""
    evaluation = evaluated(task.well)
    if task.step is None:
        return svg(apart(evaluation, lettered=True))
    cards = verbs.steps(evaluation)
    before = cards[task.step - 2] if task.step > 1 else None
    return svg(at_step(evaluation, cards[task.step - 1], before, practised=True))


def practise_round(well: Well, number: int) -> None:
    """One task of a round, or its end."""
    tasks = practice.round_of(well, number)
    its = progress(well, number)
    if its["at"] >= len(tasks):
        show("end", ended(tasks, its))
        day = date.today().isoformat()
        with st.container(horizontal=True):
            st.button("Another round", on_click=other, type="primary")
            st.button("Same round again", on_click=again)
            st.download_button(
                "Keep my result",
                result(well, number, tasks, its, day),
                f"{plain(f'{evaluated(well).plan.identity.name} practice round {number} {day}')}.txt",
                "text/plain",
                on_click="ignore",
            )
        return
    task = tasks[its["at"]]
    done = solved(task, its)
    left, right = st.columns([0.55, 0.45])
    with left, st.container(key="paper"):
        at = task.answer if done else its["given"]
        pointed = task.parts[at[0]] if task.parts and at else task.part
        chosen = {"part": pointed, "title": ""} if pointed else None
        drawing((paper(task),), chosen, lambda: give_part(task), key="practised", low=True)
    with right:
        one_task(task, its, done)
        show("so-far", [so_far(tasks, its)])
        st.text("The same number gives the same six tasks. Nothing is saved unless you keep your result.")


def one_task(task: Task, its: dict[str, Any], done: bool) -> None:
    """The question with its figures, the choices, the buttons, and what is said of the answer."""
    at, ordered = its["at"], task.kind == practice.ORDER
    if not its["given"] and ordered:
        its["given"] = list(range(len(task.choices)))
    key = f"given-{'-'.join(map(str, its['of'][1:]))}-{at}"
    learn_view.task(
        key,
        {
            "kind": f"Task {at + 1} of {len(its['tries'])}: {task.kind}",
            "question": task.question,
            "sheet": [list(row) for row in task.sheet],
            "choices": list(task.choices),
            "given": list(task.answer) if done else its["given"],
            "ordered": ordered,
            "tried": bool(its["tries"][at]),
            "others": [why for why in task.why_not if why] if done else None,
        },
        lambda: give(key),
    )
    # what is said of a try stays at the foot of the window with the buttons; once answered it stands in full
    # below the question, and the buttons alone stay
    with st.container(key="answering"):
        with st.container():
            if at in its["hints"] and not done:
                show("hint", [{"kind": "note", "text": f"Hint: {task.hint}"}])
        learn_view.verdict(*told_answer(task, its))
        with st.container(horizontal=True, vertical_alignment="center", key="ahead-answer"):
            if done:
                label = "Next task" if at + 1 < len(its["tries"]) else "See the round"
                st.button(label, on_click=go_on, type="primary", key="practice-next")
                return
            st.button("Answer", on_click=answer, args=(key,), type="primary", key="practice-answer")
            st.button("Hint", on_click=hint, disabled=at in its["hints"])
            if its["tries"][at]:
                st.button("Show the answer", on_click=tell, type="tertiary")
            if not its["given"]:
                st.text(f"First pick an answer{', or a part in the drawing' if task.parts else ''}.")


def page() -> None:
    """The page."""
    evaluation = state.evaluation()
    bar(evaluation)
    its = evaluation.plan.identity
    well = Well(state.texts()[-1], st.session_state.demo, state.document().folder, its.file_hash)
    _kept("learn_way", APART)
    with st.container(horizontal=True, vertical_alignment="center"):
        st.segmented_control(
            "What to learn",
            [APART, WATCH, PRACTISE],
            key="learn_way",
            required=True,
            label_visibility="collapsed",
        )
        if st.session_state.learn_way == PRACTISE:
            _kept("round", 1)
            st.text("Round")
            number = st.number_input(
                "Round", 1, _ROUNDS, key="round", label_visibility="collapsed", width=130
            )
        st.space("stretch")
        wanted = st.text_input(
            "Find a word",
            key="wanted",
            placeholder="Find a word: slick joint, lap ...",
            label_visibility="collapsed",
            width=280,
        )
    if wanted.strip():
        with st.container(key="found-words"):
            show("words", found_words(wanted))
            st.button("Close", on_click=close_words)
    if st.session_state.learn_way == APART:
        take_apart(evaluation)
    elif st.session_state.learn_way == WATCH:
        learn_view.player(frames(well), st.session_state.get("watch_from", 1) - 1)
    else:
        practise_round(well, int(number))
