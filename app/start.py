"""Start: three ways in: open a well file, sketch a well, look at a demo; beside them the well on screen."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

import streamlit as st

from app import state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import UNITS, escaped, questions
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.export import CAUTION
from schematic.export.report import assumed_texts, plural
from schematic.outcome import NotChecked
from schematic.wellfile import edit
from schematic.wellfile.decode import decoded
from schematic.wellfile.problem import InputError, Problem, visible

_LONGEST_NAME = 80
_UNITS = "sketch-units"  # the box that chooses in which units the examples of a sketch are
_LIKE = re.compile("like '[^']*'")
_QUESTIONS = (
    ("Where do I hang it, what does it cost me?", ("Plan", "Compare")),
    ("What do I pump, pull, set down, see?", ("Run",)),
    ("What is this part, what happens when?", ("Learn",)),
    ("The sheet, the tables, what changed", ("Hand over",)),
)


class Field(NamedTuple):
    """One input of the sketch: its path in the file, its label, an example in field and in metric units,
    whether it must be there.
    """

    path: str
    label: str
    example: str
    metric: str
    needed: bool = True

    def such_as(self, system: str) -> str:
        """The example in the units of a system."""
        return self.metric if system == "metric" else self.example


_PIPE, _LINER_PIPE = "9 5/8 in 47 lb/ft L-80", "7 in 29 lb/ft P-110"
FIELDS = (
    Field("well.name", "Well", "Quill 7", "Quill 7"),
    Field("strings.casing.pipe", "Host casing", _PIPE, _PIPE),
    Field("strings.casing.shoe", "Host shoe, MD", "9850 ft", "3002 m"),
    Field("hole[0].bit", "Hole, bit", "8 1/2 in", "8 1/2 in"),
    Field("hole[0].to", "Hole depth, MD", "12600 ft", "3840 m"),
    Field("liner.pipe", "Liner pipe", _LINER_PIPE, _LINER_PIPE),
    Field("liner.lap", "Lap, liner top to host shoe", "370 ft", "113 m"),
    Field("liner.off bottom", "Shoe off bottom", "10 ft", "3 m"),
    Field("fluids.mud.density", "Mud weight", "12.6 ppg", "1.51 sg", needed=False),
    Field("cement.planned top", "Planned top of cement, MD", "9280 ft", "2829 m", needed=False),
)
_SKETCH = """# Sketched: what is not written here is assumed, and marked so.
lapline: 1
well:
  name: ''
  datum: {{from: rotary table, above: mean sea level}}
  show: {show}
hole:
  - bit: ''
strings:
  - name: casing
liner:
  host: casing
"""


def system_of(typed: dict[str, str]) -> str:
    """The units that a sketch is shown in: those of its host shoe."""
    return "metric" if typed["strings.casing.shoe"].strip().endswith("m") else "field"


def sketched(typed: dict[str, str]) -> str:
    """The text of a well file with the typed values in it, each as it was typed."""
    text = _SKETCH.format(show=system_of(typed))
    text = edit.set(text, "hole[0].bit", typed["hole[0].bit"])
    text = edit.set(text, "hole[0].from", typed["strings.casing.shoe"])
    mud, top = typed["fluids.mud.density"], typed["cement.planned top"]
    for field in FIELDS:
        if field.needed:
            text = edit.set(text, field.path, typed[field.path])
    if mud:
        text = edit.put(text, "fluids", {"mud": {"kind": "mud", "density": mud}})
    if top:
        text = edit.put(text, "cement", {"planned top": top})
    return text


def faults(typed: dict[str, str], name: str, system: str) -> dict[str, list[str]]:
    """What is wrong with what was typed, by field; what belongs to none stands under "". Examples are in the
    units of a system.

    A depth is written twice, as shoe and as top of the hole below: told once, with the field.
    """
    missing = {
        field.path: [f"Needs a value, such as {field.such_as(system)}."]
        for field in FIELDS
        if field.needed and not typed[field.path]
    }
    if missing:
        wrong = {field.path: fault(field, typed[field.path], system) for field in FIELDS}
        return missing | {path: lines for path, lines in wrong.items() if lines}
    try:
        verbs.check(verbs.load_text(sketched(typed), name))
    except InputError as error:
        twice = {("hole[0].from", one.found) for one in error.problems if one.path == "strings.casing.shoe"}
        return _told([one for one in error.problems if (one.path, one.found) not in twice], system)
    except edit.EditError as error:
        return {"": [str(error)]}
    return {}


def fault(field: Field, typed: str, system: str) -> list[str]:
    """What is wrong with what was typed into one field, whatever the others hold; nothing of an empty one."""
    if not typed:
        return []
    try:
        verbs.load_text(sketched({**{one.path: one.such_as(system) for one in FIELDS}, field.path: typed}))
    except InputError as error:
        return _told(error.problems, system).get(field.path, [])
    except edit.EditError as error:
        return [str(error)]
    return []


def _told(problems: Sequence[Problem], system: str) -> dict[str, list[str]]:
    """What is told of problems by field, each with the example of its field."""
    by_path, told = {field.path: field for field in FIELDS}, dict[str, list[str]]()
    for one in problems:
        field = by_path.get(one.path)
        such = f"like '{field.such_as(system)}'" if field else r"\g<0>"
        lines = told.setdefault(one.path if field else "", [])
        lines.append(f"{one.found}: {re.sub(_LIKE, such, one.mend)}.")
        if "like '" not in one.mend:  # or the mend has an example already
            lines.append(f"Accepted: {one.accepted}.")
    return told


def _typed() -> dict[str, str]:
    """What stands in the fields of the sketch."""
    return {field.path: st.session_state.get(f"sketch-{field.path}", "").strip() for field in FIELDS}


def _left(field: Field) -> None:
    """Say at a field that was left what is wrong with it; the examples are in the units of the host shoe."""
    typed = _typed()
    wrong = fault(field, typed[field.path], st.session_state[_UNITS])
    if field.path == "strings.casing.shoe" and typed[field.path] and not wrong:
        st.session_state[_UNITS] = system_of(typed)
    others = {path: lines for path, lines in st.session_state.faults.items() if path not in (field.path, "")}
    st.session_state.faults = {**others, field.path: wrong} if wrong else others


def _draw_sketch() -> None:
    """Draw what was typed, or say what is wrong with it under its field."""
    typed = _typed()
    st.session_state.faults = faults(typed, "sketch.yaml", st.session_state[_UNITS])
    if not st.session_state.faults:
        st.session_state.sketch = sketched(typed)


def _plan_sketch() -> None:
    """Take the sketch into the tab as a well of its own."""
    _draw_sketch()
    if not st.session_state.faults:
        name = "".join(c if c.isalnum() else "-" for c in _typed()["well.name"].lower())[:_LONGEST_NAME]
        state.show(state.add(f"{name}.yaml", st.session_state.sketch, "sketched"))
        st.session_state.sketching = False
        st.session_state.go_to = "Plan"


def _sketching(on: bool) -> None:
    """Begin a sketch, or leave it."""
    st.session_state.sketching = on
    st.session_state.faults = {}
    st.session_state.sketch = ""


def _opened() -> None:
    """Take an uploaded file into the tab; one that does not read is shown with its problems."""
    upload = st.session_state.upload
    if upload is None:
        return
    text, troubles = decoded(upload.getvalue())
    name = visible(upload.name)[:_LONGEST_NAME] or "well.yaml"
    if troubles and not text:
        st.session_state.unread = f"{name}: found {troubles[0].found}; {troubles[0].mend}."
        return
    st.session_state.unread = ""
    state.show(state.add(name, text, "uploaded"))


def _chosen(shown: str) -> None:
    """Put the chosen demo well on screen; pills of a page that is gone may come late and say nothing."""
    if st.session_state.demo_well and st.session_state.demo == shown:
        state.show(st.session_state.demo_well)


def _go(page: str) -> None:
    """Turn to a page once this run is over."""
    st.session_state.go_to = page


@st.cache_data(max_entries=64, show_spinner=False)
def _called(name: str, text: str) -> str:
    """The name of a demo well."""
    return verbs.load_text(text, name).content.well.name


def _ways_in() -> None:
    """The three boxes: open, sketch, demo."""
    with st.container(border=True):
        st.subheader("1 Open a well file", anchor=False)
        st.file_uploader(
            "Well file",
            type=["yaml", "yml", "txt"],
            key="upload",
            on_change=_opened,
            label_visibility="collapsed",
        )
        if st.session_state.get("unread"):
            st.text(st.session_state.unread)
        st.text("Read into this tab only: a reload loses what was not downloaded.")
        questions()
    with st.container(border=True):
        st.subheader("2 Sketch a new one", anchor=False)
        st.text("Ten values: host, hole, liner, lap, mud. The rest is assumed and marked.")
        st.button("Sketch a well", on_click=_sketching, args=(True,))
    with st.container(border=True):
        st.subheader("3 Look at a demo well", anchor=False)
        demos = verbs.demos()
        st.session_state.demo_well = st.session_state.demo if st.session_state.demo in demos else None
        st.pills(
            "Demo well",
            list(demos),
            key="demo_well",
            on_change=_chosen,
            args=(st.session_state.demo,),
            format_func=lambda name: escaped(_called(name, demos[name])),
            label_visibility="collapsed",
        )


def _ways_on(evaluation: Evaluation) -> None:
    """What can be done with the well on screen."""
    pages = st.session_state.get("pages", {})
    identity = evaluation.plan.identity
    what = f"{identity.name}, {identity.purpose}" if identity.purpose else identity.name
    st.text(f"{what}. {state.kept()[0]}.")
    with st.container(horizontal=True, vertical_alignment="center"):
        for label, page in (("Plan with it", "Plan"), ("Run it", "Run"), ("Learn on it", "Learn")):
            if page in pages:
                st.button(
                    label, on_click=_go, args=(page,), type="primary" if page == "Plan" else "secondary"
                )
    for question, titles in _QUESTIONS:
        with st.container(horizontal=True, vertical_alignment="center"):
            st.text(question, width="stretch")
            for title in titles:
                if title in pages:
                    st.page_link(pages[title], label=title)


def _form() -> None:
    """The ten inputs of a sketch, with what is wrong under each."""
    with st.container(horizontal=True, vertical_alignment="center"):
        st.text("Each with its unit; 9 and 10 if known. Examples in", width="content")
        system = state.outlives(_UNITS, state.document().content.well.show or "field")
        st.segmented_control(
            "Examples in", [*UNITS], key=_UNITS, required=True, format_func=UNITS.__getitem__,
            label_visibility="collapsed",
        )  # fmt: skip
    told = st.session_state.get("faults", {})
    with st.container(border=True, key="sketch-form"):
        for first in range(0, len(FIELDS), 2):
            for column, field in zip(st.columns(2), FIELDS[first : first + 2], strict=True):
                with column:
                    number = FIELDS.index(field) + 1
                    st.text_input(
                        f"{number} {field.label}",
                        key=f"sketch-{field.path}",
                        placeholder=field.such_as(system),
                        on_change=_left,
                        args=(field,),
                    )
                    if field.path in told:
                        show(f"fault-{number}", _slip(told[field.path]))
        if "" in told:
            show("faults", _slip(told[""]))
        with st.container(horizontal=True, key="ahead-sketch"):
            st.button("Plan with it", on_click=_plan_sketch, type="primary")
            st.button("Draw it", on_click=_draw_sketch)
    st.button("Back to the three ways in", on_click=_sketching, args=(False,), type="tertiary")


def _slip(lines: list[str]) -> list[dict[str, object]]:
    """What is wrong with a field."""
    return [{"kind": "slip", "sign": "error", "letter": "!", "head": "", "lines": lines, "quiet": []}]


def _assumed(evaluation: Evaluation) -> None:
    """What of a sketch is assumed, and how many checks wait for input."""
    waiting = sum(isinstance(outcome.answer, NotChecked) for outcome in evaluation.outcomes)
    signs = [("unchecked", f"{plural(waiting, 'check')} waiting for input")]
    notes = [{"kind": "note", "text": text} for text in assumed_texts(evaluation)]
    show("sketch-counts", [{"kind": "counts", "signs": signs}, *notes])


def page() -> None:
    """The page."""
    going = st.session_state.pop("go_to", None)
    if going:
        st.switch_page(st.session_state.pages[going])
    sketching = st.session_state.get("sketching", False)
    sketch = st.session_state.get("sketch", "") if sketching else ""
    evaluation = verbs.check(verbs.load_text(sketch, "sketch.yaml")) if sketch else state.evaluation()
    st.title("Sketch a well" if sketching else "Draw a liner, check it, run it.", anchor=False)
    left, right = st.columns([0.42, 0.58])
    with left:
        if sketching:
            _form()
            if sketch:
                _assumed(evaluation)
        else:
            _ways_in()
            _ways_on(evaluation)
        st.text(f"{CAUTION} Nothing leaves this computer.")
    with right, st.container(key="paper"):
        name = evaluation.plan.identity.name
        other = f"An example, not your sketch: {name}. Yours comes here with 'Draw it'."
        band = other if sketching and not sketch else ""
        pages = verbs.render(verbs.view(evaluation, "fitted"), ".svg")
        drawing(pages, None, lambda: None, key="first-sight", band=band)
