"""Plan: the drawing live, findings, and below them what was chosen and what can be changed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

import streamlit as st

from app import answers, inspector, limits_slider, state, tables
from app.answers_view import answers as show
from app.drawing_view import chosen as clicked
from app.drawing_view import drawing
from app.inspector import Choice, Field
from app.limits_slider import Input, Limits, Sample
from app.shell import bar
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.drawing.findings import letters
from schematic.drawing.scene import Sheet
from schematic.export import CAUTION
from schematic.outcome import Found, Outcome, sentence
from schematic.units import sentence_case
from schematic.wellfile import edit, nodes
from schematic.wellfile.path import find
from schematic.wellfile.read import Document

_PANELS = ("Depths", "Part", *tables.PANELS)
# what a slider moves: its box, then the paths that may hold it, each with its words and the ends of the scale
# as shares of the value
_DEPTHS: tuple[tuple[str, tuple[tuple[str, str, float, float], ...]], ...] = (
    (
        "lap",
        (
            ("liner.lap", "Lap, liner top to host shoe", 0.0, 2.5),
            ("liner.top", "Liner top", 0.9, 1.05),
        ),
    ),
    (
        "shoe",
        (
            ("liner.off bottom", "Off bottom, liner shoe to hole bottom", 0.0, 5.0),
            ("liner.shoe", "Liner shoe", 0.95, 1.02),
        ),
    ),
    ("excess", (("cement.excess.open hole", "Excess on open hole", 0.0, 3.0),)),
)
_MOST_TRACKS = 12  # kept in a tab


def page() -> None:
    """The page."""
    document = state.document()
    evaluation = verbs.check(document)
    scale = "true" if st.session_state.scale == "True scale" else "fitted"
    sheet = verbs.sheet(evaluation, scale)  # type: ignore[arg-type]
    pages = verbs.render(sheet, ".svg")
    these = inspector.choices(document, evaluation.plan)
    follow(these)
    bar(
        evaluation,
        [(f"sheet-{n}.svg" if n > 1 else "sheet.svg", page) for n, page in enumerate(pages, 1)],
        sheet,
    )
    left, right = st.columns([0.58, 0.42])
    with left, st.container(key="paper"):
        st.segmented_control(
            "Depth scale", ["Fitted", "True scale"], key="scale", required=True, label_visibility="collapsed"
        )
        drawing(pages, drawn(sheet, st.session_state.chosen), lambda: None)
    with right:
        notes = findings(evaluation)
        st.segmented_control(
            "Panel",
            _PANELS,
            key="panel",
            required=True,
            label_visibility="collapsed",
            width="stretch",
            wrap=True,
        )
        if st.session_state.problem:
            show("told", st.session_state.problem)
        panel = st.session_state.panel
        if panel == "Depths":
            depths(document, evaluation)
            show("below", notes + answers.figures(evaluation))
        elif panel == "Part":
            part(document, evaluation, sheet, these)
            show("below", notes)
        else:
            tables.table_panel(document, evaluation, panel, these)
            show("below", notes)
        st.text(CAUTION)


def follow(these: list[Choice]) -> None:
    """Take up what was clicked in the drawing since the last run, and show where it can be read."""
    session = st.session_state
    session.setdefault("chosen", None)
    session.panel = session.get("panel", "Depths")
    held, cleared = clicked(), (session.get("drawing") or {}).get("cleared", "")
    if (held, cleared) == session.get("clicked", (None, "")):
        return
    if held is not None:
        session.chosen = {"part": held["part"], "title": held["title"]}
        session.panel = tables.panel_of(inspector.chosen_among(these, held["part"]), session.panel)
    elif cleared != session.get("clicked", (None, ""))[1]:
        session.chosen = None
    session.clicked = (held, cleared)


def drawn(sheet: Sheet, chosen: dict[str, str] | None) -> dict[str, str] | None:
    """What the drawing marks: the chosen thing, or what it is drawn as a part of."""
    if chosen is None:
        return None
    there = {group.part for scene in sheet.scenes for group in scene.groups}
    path = chosen["part"]
    while path and path not in there:
        path = path.rpartition(".")[0]
    return {"part": path, "title": chosen["title"]} if path else None


def findings(evaluation: Evaluation) -> list[answers.Block]:
    """Counts and findings, all or the chosen one; gives what is not checked, to stand further down."""
    found = {_name(outcome): (letter, outcome) for letter, outcome in letters(evaluation)}
    session = st.session_state
    if session.get("finding") not in found:
        session.finding = None
    blocks = answers.checks(evaluation)
    told = [block for block in blocks if block["kind"] in ("counts", "slips")]
    if session.finding:
        letter = found[session.finding][0]
        told = [
            {**block, "slips": [slip for slip in block["slips"] if slip["letter"] == letter]}
            if block["kind"] == "slips"
            else block
            for block in told
        ]
    show("checks", told)
    if found:
        st.selectbox(
            "Finding",
            list(found),
            key="finding",
            index=None,
            placeholder="Go to a finding",
            format_func=lambda name: _headline(*found[name], evaluation),
            on_change=partial(choose_finding, {name: one.subject.path for name, (_, one) in found.items()}),
            label_visibility="collapsed",
        )
    return [block for block in blocks if block not in told and block["kind"] == "note"]


def _name(outcome: Outcome) -> str:
    return f"{outcome.rule} {outcome.subject.path}"


def _headline(letter: str, outcome: Outcome, evaluation: Evaluation) -> str:
    assert isinstance(outcome.answer, Found)
    head = sentence(outcome.answer.headline, outcome.answer.figures, evaluation.plan.identity.system)
    return f"{letter}  {sentence_case(head)}"


def choose_finding(subjects: Mapping[str, str]) -> None:
    """A finding that was chosen marks the part it is about."""
    name = st.session_state.finding
    st.session_state.chosen = {"part": subjects[name], "title": ""} if name else None


def depths(document: Document, evaluation: Evaluation) -> None:
    """Lap, shoe and excess on sliders with the limits that the checks give, each number beside it."""
    unknown: list[Input] = []
    for box, paths in _DEPTHS:
        written = {path: _written(document, path) for path, *_ in paths}
        path, label, low, high = next((one for one in paths if written[one[0]]), paths[0])
        its = _scaled(document, path, written[path], low, high)
        left, right = st.columns([0.76, 0.24], vertical_alignment="top")
        with left:
            if its is None:
                st.text(
                    f"{label}: {'no slider for ' + written[path] if written[path] else 'not in the file'}"
                )
            else:
                limits, key = track(document, its, evaluation), f"slide-{path}"
                unknown += [its] if limits is None else []
                limits_slider.slider(label, its, written[path], limits, partial(slid, key, its), key)
        with right:
            if not st.session_state.problem:
                st.session_state[box] = written[path]
            st.text_input(label, key=box, on_change=partial(change, path, box), label_visibility="collapsed")
    if unknown and st.button("Show the limits"):
        look(document, unknown)
        st.rerun()


def _written(document: Document, path: str) -> str:
    """What the file has at a path; nothing where it has nothing, or no single text."""
    held = nodes.plain(document.root)
    for step in path.split("."):
        held = held.get(step) if isinstance(held, dict) else None
    return held if isinstance(held, str) else ""


def _scaled(document: Document, path: str, written: str, low: float, high: float) -> Input | None:
    """An input on its scale, which stays as it was while the value stays on it."""
    its = limits_slider.input_at(path, written, high, low)
    if its is None:
        return None
    scales: dict[tuple[str, str, str], Input] = st.session_state.setdefault("scales", {})
    before = scales.setdefault((document.file, path, its.unit), its)
    if before.low <= its.value <= before.high:
        return before._replace(value=its.value)
    scales[document.file, path, its.unit] = its
    return its


def change(path: str, box: str) -> None:
    """Put the typed value into the text."""
    typed = st.session_state[box].strip()
    field = Field(tuple(path.split(".")), "", "")
    state.change(
        lambda text: inspector.with_value(text, field, typed) if typed else edit.set(text, path, typed)
    )


def slid(key: str, its: Input) -> None:
    """Put the value that a slider was let go at into the text."""
    let_go: Mapping[str, Any] | None = st.session_state[key]["value"]
    if let_go:
        state.change(lambda text: edit.set(text, its.path, its.text(let_go["value"])))


def _tracks() -> dict[tuple[Input, str], list[Sample]]:
    tracks: dict[tuple[Input, str], list[Sample]] = st.session_state.setdefault("tracks", {})
    return tracks


def _rest(document: Document, its: Input) -> tuple[Input, str]:
    """All that a track depends on: the scale, and the text without the value."""
    value = find(document.root, its.path)
    return its._replace(value=0.0), document.text[: value.start] + document.text[value.end :]


def track(document: Document, its: Input, evaluation: Evaluation) -> Limits | None:
    """The limits of an input; None where they were not worked out for the rest of the file as it is."""
    row = _tracks().get(_rest(document, its))
    if row is None:
        return None
    now = limits_slider.as_evaluated(its.value, evaluation)
    others = [one for one in row if one.value != its.value]
    return limits_slider.limits(its, sorted([*others, now], key=lambda one: one.value))


def look(document: Document, these: list[Input]) -> None:
    """Work out the limits of the sliders, and say how far it is."""
    tracks = _tracks()

    def check(text: str) -> Evaluation:
        return verbs.check(state.read(text, document.file))

    said = st.progress(0.0, "Looking at other values")
    for number, its in enumerate(these):
        row: list[Sample] = []
        for row in limits_slider.samples(document, its, check):
            share = (number + min(0.9, len(row) / 40)) / len(these)
            said.progress(share, f"{its.path}: {len(row)} plans looked at")
        tracks[_rest(document, its)] = row
    while len(tracks) > _MOST_TRACKS:
        del tracks[next(iter(tracks))]


def part(document: Document, evaluation: Evaluation, sheet: Sheet, these: list[Choice]) -> None:
    """The chosen part: its name, what it does, its figures, its inputs."""
    chosen = st.session_state.chosen
    its = inspector.chosen_among(these, chosen["part"]) if chosen else None
    by_path = {choice.path: choice for choice in these}
    st.session_state["part-chosen"] = its.path if its else None
    st.selectbox(
        "Part",
        list(by_path),
        key="part-chosen",
        index=None,
        placeholder="Choose a part",
        format_func=lambda path: by_path[path].name,
        on_change=choose_part,
        label_visibility="collapsed",
    )
    show("part", answers.part(evaluation, sheet, chosen, its.name if its else None))
    if its:
        inspector.form(document, its)


def choose_part() -> None:
    """Choose the part that was picked by its name."""
    path = st.session_state["part-chosen"]
    st.session_state.chosen = {"part": path, "title": ""} if path else None
