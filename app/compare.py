"""Compare: the options of the file beside the well as written; made, adopted and dropped here."""

from __future__ import annotations

from typing import Any

import streamlit as st

from app import answers, compare_view, inspector, needs, state, sweep
from app.answers_view import answers as show
from app.shell import bar, escaped
from schematic import verbs
from schematic.comparison import options
from schematic.comparison.compare import (
    NOT_COMPUTED,
    NOT_KNOWN,
    Alternative,
    changes,
    findings_that_differ,
    in_subjects,
    in_words,
    not_computed_table,
)
from schematic.comparison.figures import judged
from schematic.comparison.sweep import option_made
from schematic.depth.plan import Plan
from schematic.drawing.scene import Sheet
from schematic.drawing.small_options import small_options
from schematic.export.tables import Column, Table
from schematic.outcome import NotChecked, Severity
from schematic.units import System, sentence_case
from schematic.units import show as printed
from schematic.wellfile import edit
from schematic.wellfile.read import AS_WRITTEN, Document

_OPTIONS, _SWEEP = "Options", "Sweep a value"
_NONE = "Make one: name it and say which value it changes. Then it stands here beside the well as written."
_NOTE = "Bold: not as in the well as written. Circle: past a limit. Dashed: not computed."
_CHANGES = 2  # of an option that are named on its drawing
_TOLD, _PHRASES = 3, 4  # options beside the drawings, and phrases of each
_HOW = {  # how a finding differs: the head of its row
    "appears": "new",
    "goes": "gone",
    "changes": "changed",
    "not checked": "no longer checked",
}


def chosen(count: int) -> int:
    """The number of the chosen one of so many, 0 the well as written."""
    return min(int(st.session_state.get("option", 0)), count - 1)


def choose() -> None:
    """Take over which option was chosen among the drawings or in the table."""
    its = (st.session_state.get("compared") or {}).get("chosen")
    if its:
        st.session_state["option"] = its["number"]


def make(like: int) -> None:
    """Put the option that was typed into the text, as the chosen one with one more change."""
    name, value = st.session_state["option-name"].strip(), st.session_state["option-value"].strip()
    path = st.session_state["option-path"]
    if not name or not value:
        st.session_state.problem = answers.refused(
            f"An option wants a name, and a value for {answers.value_called(path)}."
        )
    elif state.change(lambda _: option_made(state.document(), name, path, value, like - 1 if like else None)):
        names = [option.name for option in state.document().content.options or ()]
        st.session_state["option"] = names.index(name) + 1  # the one that was made is the one to adopt


def adopt(number: int) -> None:
    """Make the changes of an option in the well as written."""
    names = [option.name for option in state.document().content.options or ()]
    if state.change(lambda _text: options.adopted(state.document(), number - 1)):
        st.session_state["option"] = 0
        words = f"Adopted: {names[number - 1]}; Undo takes it back"
        st.session_state["adopted"] = (state.texts()[-1], words)


def drop(number: int) -> None:
    """Take an option out of the file."""
    state.change(lambda text: options.dropped(text, number - 1))


def rename(number: int) -> None:
    """Give an option the name that was typed."""
    name = " ".join(st.session_state["option-renamed"].split())
    if name:
        state.change(lambda text: edit.set(text, f"options[{number - 1}].name", name))


def fields(document: Document, plan: Plan) -> dict[str, str]:
    """The values that an option may change, by path: each as its field is called."""
    these = inspector.choices(document, plan)
    return {path: needs.told(document, plan, these, [path]) for path in options.changeable(document)}


def actions(document: Document, compared: tuple[Alternative, ...], number: int) -> None:
    """What can be done with the chosen one."""
    one = compared[number]
    base = compared[0].evaluation
    assert base is not None  # as the page
    turn = len(state.texts())  # another text: what was open is closed
    st.button(
        "Adopt" if number else "Adopted",
        on_click=adopt,
        args=(number,),
        disabled=not number or one.evaluation is None,
        help=f"Make the changes of {escaped(one.name)} in the well as written" if number else None,
    )
    with (
        st.popover("Rename ...", disabled=not number, key=f"rename-option-{turn}"),
        st.form("rename", border=False),
    ):
        st.text_input("Name of the option", one.name, key="option-renamed")
        st.form_submit_button("Rename", on_click=rename, args=(number,), type="primary")
    st.button("Drop", on_click=drop, args=(number,), disabled=not number)
    st.space("stretch")
    with (
        st.popover("New option from this one ...", type="primary", key=f"new-option-{turn}"),
        st.form("new-option", border=False),
    ):
        st.text(f"Begins as '{one.name}', with one value changed; a name in use gets the change as well.")
        called = fields(document, base.plan)
        paths = list(called)
        lap = paths.index("liner.lap") if "liner.lap" in paths else 0
        st.text_input("Name", key="option-name")
        st.selectbox("Changes", paths, lap, key="option-path", format_func=called.__getitem__)
        st.text_input("to", key="option-value", placeholder="as in the file")
        st.form_submit_button("Keep as an option", on_click=make, args=(number,), type="primary")


def page() -> None:
    """The page."""
    document = state.document()
    compared = verbs.options(document)
    base = compared[0].evaluation
    assert base is not None  # or the well would not be on screen
    bar(base)
    with st.container(horizontal=True, vertical_alignment="center", key="ahead-of-all"):
        what = st.segmented_control(
            "What",
            [_OPTIONS, _SWEEP],
            key="compare",
            default=_OPTIONS,
            required=True,
            label_visibility="collapsed",
        )
        if what == _OPTIONS:
            only = len(compared) > 1 and st.toggle("Only what differs", value=True, key="only")
            actions(document, compared, chosen(len(compared)))
    if st.session_state.problem and what == _OPTIONS:
        show("refused", st.session_state.problem)
    text, words = st.session_state.get("adopted", ("", ""))
    if text == state.texts()[-1] and what == _OPTIONS:
        show("adopted", [{"kind": "followed", "head": words, "lines": []}])
    if what == _SWEEP:
        sweep.page(base)
    else:
        side_by_side(compared, base.plan.identity.system, only)


def side_by_side(compared: tuple[Alternative, ...], system: System, only: bool) -> None:
    """The options drawn on one depth scale with their figures below them, then all of it in words."""
    number = chosen(len(compared))
    words = in_words(compared, system)
    told: dict[str, list[str]] = {}
    for name, said in words.rows:
        told.setdefault(str(name), []).append(str(said))
    compare_view.compared(
        {
            "heads": heads(compared, system),
            "chosen": number,
            "groups": groups(compared, system, every=not only),
            "told": decides(compared, told, number, system),
            "units": "ft, ppg, psi" if system == "field" else "m, sg, bar",
            "note": _NOTE if len(compared) > 1 else "All figures of the well as written.",
        },
        choose,
    )
    tables = [each for each in _in_tables(compared, system) if each.rows]
    show(
        "differs",
        [
            *(
                {"kind": "list", "title": f"{name}, against the well as written", "lines": lines}
                for name, lines in told.items()
            ),
            *(answers.table_block(table, system) for table in tables),
        ],
    )


def heads(compared: tuple[Alternative, ...], system: System) -> list[dict[str, Any]]:
    """Each option with its changes and its drawing, or why it cannot be."""
    made = []
    for one, scene in zip(compared, small_options(compared, system), strict=True):
        values = [f"{answers.value_called(each.path)} {each.new or 'left out'}" for each in one.written]
        lines = [
            ", ".join(values[:_CHANGES]) + f", and {len(values) - _CHANGES} more" * (len(values) > _CHANGES)
        ]
        lines = lines if one.written else [] if one.name != AS_WRITTEN else ["the plan"]
        lines += [f"cannot be: {problem.found}; {problem.mend}" for problem in one.problems[:1]]
        head: dict[str, Any] = {"name": sentence_case(one.name), "lines": lines}
        if scene is not None:
            assert one.evaluation is not None
            liner = one.evaluation.plan.depth.liner
            ends = [printed(md, "depth", system) for md in (liner.top_md_m, liner.shoe_md_m)]
            head["svg"] = verbs.render(Sheet((scene,)), ".svg")[0].decode()
            head["alt"] = f"{one.name}: liner from {ends[0]} to {ends[1]}"
        made.append(head)
    return made


def decides(
    compared: tuple[Alternative, ...], told: dict[str, list[str]], number: int, system: System
) -> answers.Block:
    """What decides, a sentence for each option; of the chosen one two. A new error goes before all else."""
    if len(compared) == 1:
        return {"title": "No options yet", "lines": [_NONE]}
    worse: dict[str, list[str]] = {}
    for name, how, severity, _rule, what in findings_that_differ(compared, system).rows:
        if severity == Severity.ERROR.value and how in ("appears", "changes"):
            worse.setdefault(str(name), []).append(f"error {how}: {what}")
    if number:
        name = compared[number].name
        first = [sentence_case("; ".join(worse[name]))] if name in worse else []
        return {"title": f"What decides: {name}", "lines": [*first, *told.get(name, [])][:2]}
    lines = [
        f"{sentence_case(name)}: {_begin('; '.join([*worse.get(name, []), lines[0]]))}"
        for name, lines in told.items()
    ]
    more = len(lines) - _TOLD
    rest = [f"And {more} more: choose one for what decides."] if more > 0 else []
    return {"title": "What decides", "lines": lines[:_TOLD] + rest}


def _begin(said: str) -> str:
    """The first phrases of what is said of an option; all of it stands below the table."""
    phrases = said.split("; ")
    more = len(phrases) - _PHRASES
    return "; ".join(phrases[:_PHRASES]) + f"; {more} more below the table" * (more > 0)


def groups(compared: tuple[Alternative, ...], system: System, every: bool) -> list[dict[str, Any]]:
    """The rows below the drawings by subject, findings first; all of them, or those that differ."""
    found = [(name, cells, words) for name, cells, words in _findings(compared, system)
             if every or len(set(cells)) > 1]  # fmt: skip
    made = [
        {
            "title": "Findings",
            "rows": [_row(name, "", cells, compared, words) for name, cells, words in found],
        }
    ]
    for table in in_subjects(compared, system, every):
        block = answers.table_block(table, system)
        units = len(block["heads"]) == len(table.columns)  # a column without any is left out
        rows = []
        for row in block["rows"]:
            able = iter(row[1 + units :])
            cells = ["cannot be" if one.evaluation is None else next(able) for one in compared]
            rows.append(_row(row[0], row[1] if units else "", cells, compared))
        made.append({"title": table.title, "rows": rows})
    return [group for group in made if group["rows"]]


def _findings(compared: tuple[Alternative, ...], system: System) -> list[tuple[str, list[str], bool]]:
    """How many findings each option has, and in words which come and which go."""
    able = [one.evaluation for one in compared]
    rows = [
        (f"{severity.value}s" if severity != Severity.ADVICE else severity.value,
         ["cannot be" if one is None else str(one.count(severity)) for one in able], False)
        for severity in Severity
    ]  # fmt: skip
    open_ = [
        "cannot be" if one is None else str(sum(isinstance(each.answer, NotChecked) for each in one.outcomes))
        for one in able
    ]
    rows.append(("not checked", open_, False))
    differ = _differ(compared, system).rows
    for how, head in _HOW.items():
        # what it was before stands in the table of the findings that differ
        said = ["; ".join(str(row[3]).partition("; was: ")[0] for row in differ if row[:2] == (one.name, how))
                for one in compared]  # fmt: skip
        if any(said):
            rows.append((head, said, True))
    return rows


def _differ(compared: tuple[Alternative, ...], system: System) -> Table:
    """The findings that differ, without the codes of the rules."""
    return answers.without_codes(findings_that_differ(compared, system))


def _in_tables(compared: tuple[Alternative, ...], system: System) -> tuple[Table, ...]:
    """What is written otherwise, found otherwise and not computed, values of the file by their names."""
    document, base = state.document(), compared[0].evaluation
    assert base is not None  # as the page
    these = inspector.choices(document, base.plan)
    written, open_ = changes(compared), not_computed_table(compared, system)
    named = [(row[0], sentence_case(answers.value_called(str(row[1]))), *row[2:]) for row in written.rows]
    lacks = [(row[0], needs.told(document, base.plan, these, [str(row[1])]), row[2]) for row in open_.rows]
    heads = (written.columns[0], Column("what"), *written.columns[2:])
    return (
        Table(written.title, heads, tuple(named)),
        _differ(compared, system),
        Table(open_.title, open_.columns, tuple(lacks)),
    )


def _row(
    what: str, unit: str, cells: list[str], compared: tuple[Alternative, ...], words: bool = False
) -> dict[str, Any]:
    """A row with its cells: which are not as in the well as written, past a limit, not known."""
    made = []
    for one, text in zip(compared, cells, strict=True):
        sign = "unchecked" if text in (NOT_COMPUTED, NOT_KNOWN) else ""
        severity = judged(one.evaluation, what) if one.evaluation is not None else None
        sign = severity.value if severity else sign
        made.append({"text": text, "differs": text != cells[0], "sign": sign})
    return {"what": sentence_case(what), "unit": unit, "cells": made, "words": words}
