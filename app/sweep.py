"""Sweep a value: the plan evaluated for each of a row of laps, tops or shoes, in figures and in findings."""

from __future__ import annotations

from itertools import groupby
from operator import itemgetter
from typing import Any, Literal, NamedTuple

import streamlit as st

from app import answers, state
from app.answers_view import answers as show
from schematic import verbs
from schematic.checks.evaluate import Evaluation, topic
from schematic.comparison import figures as told
from schematic.comparison.compare import findings_between
from schematic.comparison.figures import Figures, figures
from schematic.comparison.sweep import SWEPT, option_at, text_at
from schematic.export.report import not_computed, plural
from schematic.export.tables import Column, Table
from schematic.outcome import Figure, NotChecked, Severity
from schematic.units import System, UnitError, in_system, parse, unit_of
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document

_MOST_VALUES = 60
_FIGURES = {"lap": told.LAP, "liner top": told.LINER_TOP, "shoe": told.SHOE}
_MATTER = (  # shown where they are not the same for all values
    told.LINER_TOP,
    told.LAP,
    told.SHOE,
    told.JOINTS,
    told.SLIPS,
    told.CEMENT,
    told.BUMP,
    told.IN_MUD,
    told.SPARE,
    told.HOST_EMW,
)
_CHARTED = (told.SLIPS, told.CEMENT, told.BUMP, told.LINER_TOP)
_SAME_M = 0.005  # less than any depth is printed


class At(NamedTuple):
    """The plan at one value: its figures, its counts, what it brings and takes; or why it cannot be."""

    value: str
    figures: Figures
    counts: tuple[int, int, int] = (0, 0, 0)  # errors, warnings, not checked
    otherwise: tuple[tuple[str, str, str], ...] = ()  # how, severity, rule
    lacks: tuple[str, ...] = ()  # what is not computed, with what it needs
    refused: str = ""


def steps(low: str, high: str, step: str, system: System) -> list[str]:
    """The values of a range as they are written, in the units of the sheet.

    Raises
    ------
    ValueError
        When there is no such range.
    """
    try:
        first, last, by = (parse(text, "length") for text in (low, high, step))
    except UnitError as error:
        raise ValueError(str(error)) from None
    if not (by.si > 0.0 and last.si >= first.si):
        raise ValueError("The range goes from the smaller to the larger value, by a step above 0.")
    count = int((last.si - first.si) / by.si + 1e-6) + 1
    if count > _MOST_VALUES:
        raise ValueError(f"These are {count} values: at most {_MOST_VALUES} are swept, take a larger step.")
    made = (in_system(first.si + by.si * n, "tally", system) for n in range(count))
    return [f"{round(value, 2):g} {unit_of('tally', system)}" for value in made]


def at(document: Document, what: str, value: str, base: Evaluation) -> At:
    """The plan with one value, as an option of it would be."""
    try:
        text = text_at(document, what, value)
        evaluation = verbs.check(state.read(text, document.file))
    except InputError as error:
        one = error.problems[0]
        return At(value, {}, refused=f"{one.found}; accepted: {one.accepted}")
    except (edit.EditError, PathError) as error:
        return At(value, {}, refused=str(error))
    counts = (
        evaluation.count(Severity.ERROR),
        evaluation.count(Severity.WARNING),
        sum(isinstance(outcome.answer, NotChecked) for outcome in evaluation.outcomes),
    )
    between = findings_between(base, evaluation, base.plan.identity.system)
    otherwise = tuple(dict.fromkeys((how, severity, rule) for how, severity, rule, _words in between))
    return At(value, figures(evaluation), counts, otherwise, tuple(not_computed(evaluation)))


def _shown(row: At, base: Evaluation, what: str) -> str:
    """A value as its row begins; the one that the plan has says so."""
    name = _FIGURES[what]
    value, now = row.figures.get(name), figures(base).get(name)
    same = value is not None and now is not None and abs(value.si - now.si) < _SAME_M
    return row.value.replace(" ", "\u00a0") + ", now" * same


def figures_table(rows: list[At], what: str, base: Evaluation) -> Table:
    """What each value gives: findings counted, and the figures that matter where they differ."""
    able = [row for row in rows if not row.refused]
    names = [
        name
        for name in _MATTER
        if name != _FIGURES[what] and len({row.figures.get(name) for row in able}) > 1
    ]
    columns = (
        Column(what),
        *(Column(head, "count") for head in ("errors", "warnings", "not checked")),
        *(Column(name, next(r.figures[name].kind for r in able if name in r.figures)) for name in names),
    )
    cells = [
        (
            _shown(row, base, what),
            *(Figure(float(count), "count") for count in row.counts),
            *(row.figures.get(name, "not computed") for name in names),
        )
        for row in able
    ]
    return Table("What each value gives", columns, tuple(cells))


def findings_rows(rows: list[At]) -> Table:
    """Which findings appear or go, and at which of the values."""
    able = [row for row in rows if not row.refused]
    every = dict.fromkeys(one for row in able for one in row.otherwise)
    cells = []
    for one in every:
        stretches = []
        for there, its in groupby([(one in row.otherwise, row.value) for row in able], itemgetter(0)):
            values = [value for _there, value in its]
            if there:
                stretches.append(values[0] if len(values) == 1 else f"{values[0]} to {values[-1]}")
        how, severity, rule = one
        what = rule.replace("-", " ") if severity else topic(rule)  # of what is not checked nothing is found
        cells.append((how, severity, what, ", ".join(stretches)))
    heads = ("finding", "severity", "what", "at")
    return Table(
        "Findings that appear or go, against the well as written",
        tuple(map(Column, heads)),
        tuple(cells),
    )


def refused_table(rows: list[At], what: str) -> Table:
    """The values at which the plan cannot be, and why."""
    cells = tuple((row.value, row.refused) for row in rows if row.refused)
    return Table("Cannot be", (Column(what), Column("why")), cells)


def chart(rows: list[At], what: str, system: System) -> answers.Block:
    """The errors, and the figures that change most plainly, over the values."""
    able = [row for row in rows if not row.refused]
    series: list[dict[str, Any]] = [
        {"name": "errors and warnings", "ys": [float(sum(row.counts[:2])) for row in able]}
    ]
    for name in _CHARTED:
        its = [row.figures.get(name) for row in able]
        there = [figure for figure in its if figure is not None]
        if name == _FIGURES[what] or len({figure.si for figure in there}) < 2:
            continue
        unit = unit_of(there[0].kind, system)
        ys = [None if one is None else round(in_system(one.si, one.kind, system), 2) for one in its]
        series.append({"name": f"{name}, {unit}".rstrip(", "), "ys": ys})
    return {"kind": "chart", "xs": [row.value for row in able], "series": series}


def _begin(system: System) -> None:
    """Take in the range and begin."""
    low, high, step = (st.session_state[f"sweep-{end}"] for end in ("from", "to", "step"))
    st.session_state.swept = None
    try:
        wanted = steps(low, high, step, system)
    except ValueError as error:
        st.session_state.problem = answers.refused(str(error))
        return
    st.session_state.problem = []
    st.session_state.swept = {
        "text": _as_written(state.texts()[-1]),
        "what": st.session_state["sweep-what"],
        "wanted": wanted,
        "done": [],
    }


def _stop() -> None:
    """Leave it at the values that were looked at."""
    swept = st.session_state.swept
    swept["wanted"] = swept["wanted"][: len(swept["done"])]


def _keep(what: str) -> None:
    """Make the chosen value an option of the file."""
    value = st.session_state["sweep-keep"]
    state.change(lambda text: edit.insert(text, "options", option_at(state.document(), what, value)))


def _as_written(text: str) -> str:
    """The well without its options: those that are made do not make a sweep another one."""
    try:
        return edit.remove(text, "options")
    except PathError:
        return text


def _ask(base: Evaluation) -> None:
    """What is swept, from where to where; offered around what the plan has now."""
    system = base.plan.identity.system
    unit = unit_of("tally", system)
    step, steps_down = (30.0, 5) if unit == "ft" else (10.0, 5)
    what = st.segmented_control("Value", list(SWEPT), default="lap", key="sweep-what", required=True)
    figure = figures(base).get(_FIGURES[what or "lap"])
    now = in_system(figure.si, figure.kind, system) if figure else 10.0 * step
    low = max(now - steps_down * step, step)
    offered = {"from": low, "to": now + steps_down * step, "step": step}
    if st.session_state.get("sweep-of") != (st.session_state.demo, what):
        st.session_state["sweep-of"] = (st.session_state.demo, what)
        for end, value in offered.items():
            st.session_state[f"sweep-{end}"] = f"{value:g} {unit}"
    st.text(f"Now {now:g} {unit}.")
    with st.form("sweep", border=False), st.container(horizontal=True, vertical_alignment="bottom"):
        for end, label in (("from", "From"), ("to", "To"), ("step", "Step")):
            st.text_input(label, key=f"sweep-{end}", width=110)
        done = st.session_state.get("swept")
        filled: Literal["primary", "secondary"] = "secondary" if done else "primary"
        st.form_submit_button("Sweep it", on_click=_begin, args=(system,), type=filled)


def page(base: Evaluation) -> None:
    """The range, what each value gives, and one of them made an option."""
    left, right = st.columns([0.36, 0.64])
    swept = st.session_state.get("swept")
    if swept and swept["text"] != _as_written(state.texts()[-1]):
        swept = st.session_state.swept = None  # of another text
    with left, st.container(key="sweeping"):
        _ask(base)
        if st.session_state.problem:
            show("refused", st.session_state.problem)
        working = st.container()
        if swept is None:
            text = "Choose a value and its range: the plan is worked out at each step and stands here."
            show("not-swept", [{"kind": "note", "text": text}])
            return
        done: list[At] = swept["done"]
        values = [row.value for row in done if not row.refused]
        if values and len(done) == len(swept["wanted"]):
            with st.container(horizontal=True, vertical_alignment="bottom"):
                value = st.selectbox("Value to keep", values, key="sweep-keep", width=170)
                st.button("Keep as an option", on_click=_keep, args=(swept["what"],), type="primary")
            name = f"{swept['what']} {value}"
            if any(one.name == name for one in state.document().content.options or ()):
                st.text(f"{name} is an option: it stands under Options.")
    system = base.plan.identity.system
    with right:
        room = st.empty()
    if len(done) < len(swept["wanted"]):
        with working:
            status = st.status(f"{len(done)} of {len(swept['wanted'])} plans")
            st.button("Stop", on_click=_stop, key="stop-sweep")
        document = state.read(swept["text"], st.session_state.demo)
        for value in swept["wanted"][len(done) :]:
            done.append(at(document, swept["what"], value, base))
            status.update(label=f"{len(done)} of {len(swept['wanted'])} plans")
        st.rerun()
    with room.container():
        tables = (
            figures_table(done, swept["what"], base),
            findings_rows(done),
            refused_table(done, swept["what"]),
        )
        able = plural(len(values), "value")
        head = f"{able} of {swept['what']}, each the whole plan worked out anew. The running string follows "
        head += "the liner top, by its uppermost drill pipe; the planned top of cement stays as written."
        blocks = [{"kind": "note", "text": head}]
        lacks = dict.fromkeys(one for row in done for one in row.lacks)
        if lacks:
            blocks.append({"kind": "note", "text": f"Not computed for some: {'; '.join(lacks)}."})
        if len(values) > 1:
            blocks.append(chart(done, swept["what"], system))
        show("swept", [*blocks, *(answers.table_block(one, system) for one in tables if one.rows)])
