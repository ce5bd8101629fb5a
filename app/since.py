"""What changed since an older text of the well: in words, as written, as computed, and drawn."""

from __future__ import annotations

import streamlit as st

from app import answers, exports, revision, state
from app.answers_view import answers as show
from app.drawing_view import drawing
from app.shell import escaped
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.comparison.differences import Differences, tables_of
from schematic.drawing.scene import Sheet
from schematic.drawing.two_positions import difference_sheet
from schematic.export.report import plural
from schematic.wellfile.decode import decoded
from schematic.wellfile.problem import InputError, visible
from schematic.wellfile.read import Document

_EARLIER = "an earlier file"
_LONGEST_NAME, _MOST = 80, 3


def older() -> dict[str, str]:
    """The older texts of this tab by what they are: each issue as made, the latest first; as saved last.

    The first text of a number is that issue; what follows it under the same number are changes to it.
    """
    its, name = state.texts(), st.session_state.demo
    numbers = [revision.number_of(text, name) for text in its]
    sides: dict[str, str] = {}
    for at in range(len(its) - 1, 0, -1):
        if numbers[at] != numbers[at - 1] and its[at] != its[-1]:
            sides.setdefault(f"revision {numbers[at]}" if numbers[at] else "without a revision", its[at])
    sides["as opened"] = its[0]
    saved = st.session_state.saved.get(name)
    if saved not in (None, its[0]) and state.problems(saved, name) is None:
        kept = "as saved last" if st.session_state.origin.get(name) == "file" else "as downloaded last"
        sides[kept] = saved
    return sides


def title() -> str:
    """What the page is called: after the revision that came before the changes on screen."""
    number = revision.number_of(next(iter(older().values())), st.session_state.demo)
    return f"Since revision {number}" if number else "Since it was opened"


def _uploaded() -> tuple[str, Document] | None:
    """The earlier file that was opened here, or what is wrong with it."""
    upload = st.file_uploader(
        "Earlier file of this well", ["yaml", "yml"], key="earlier-file", max_upload_size=2
    )
    if upload is None:
        return None
    name = visible(upload.name)[:_LONGEST_NAME] or "earlier file"
    text, troubles = decoded(upload.getvalue())
    lines = [f"Found {one.found}: {one.mend}." for one in troubles]
    if not lines:
        try:
            document = state.read(text, st.session_state.demo)
            verbs.check(document)
        except InputError as error:
            lines = [f"Line {one.line}: {one.found}; {one.mend}." for one in error.problems]
        else:
            return name, document
    more = f"And {len(lines) - _MOST} more."
    show(
        "earlier-problems",
        [
            {
                "kind": "slip",
                "sign": "error",
                "letter": "!",
                "head": f"{name} does not read, so nothing is compared with it.",
                "lines": lines[:_MOST] + [more] * (len(lines) > _MOST),
                "quiet": [],
            }
        ],
    )
    return None


def _issue(evaluation: Evaluation) -> str:
    """Which issue a text is."""
    identity = evaluation.plan.identity
    its = identity.revision
    said = f"revision {its.issue}" if its else "no revision"
    return f"{said}, text {identity.file_hash}"


def _what_is_compared(both: Differences, before: str) -> list[answers.Block]:
    """Which two texts these are."""
    count = state.changes()
    now = f"{plural(count, 'change')} not saved" if count else "nothing unsaved"
    lines = [
        f"Before: {before}, {_issue(both.old)}.",
        f"Now: the text on screen, {_issue(both.new)}; {now}.",
    ]
    return [{"kind": "part", "name": "What is compared", "lines": lines, "cells": []}]


def page(evaluation: Evaluation) -> None:
    """Both texts named, what changed in words and in tables; beside it both positions."""
    left, right = st.columns([0.44, 0.56])
    system = evaluation.plan.identity.system
    with left:
        sides = older()
        asked = [*sides, _EARLIER]
        key = f"older-{st.session_state.demo}-{asked[0]}"  # after a revision that one is offered
        if st.session_state.get(key) not in asked:
            st.session_state[key] = asked[0]
        side = st.segmented_control("Before", asked, key=key, required=True, format_func=escaped) or asked[0]
        if side == _EARLIER:
            opened = _uploaded()
            if opened is None:
                st.text("Open it: what changed since then stands here, nothing of it is kept.")
                return
            before, old = opened
        else:
            name = st.session_state.demo
            before = name if side.startswith("revision") else f"{name}, {side}"
            old = state.read(sides[side], name)
        both = verbs.diff(old, state.document())
        show("compared", _what_is_compared(both, before))
        if not both.any:
            text = "Nothing changed between the two: change a value on Plan, or compare with an earlier file."
            show("nothing-changed", [{"kind": "note", "text": text}])
            if st.button("Change it on Plan", type="primary"):
                st.switch_page(st.session_state.pages["Plan"])
            return
        sheet = difference_sheet(both, system)
        with st.container(horizontal=True):
            revision.form(evaluation, revision.in_short(both), filled=True)
            st.download_button(
                "Sheet with both, PDF",
                lambda: verbs.render(sheet, ".pdf")[0],
                exports.file_name(evaluation, "changes", "pdf", revision.changed(evaluation)),
                "application/pdf",
                on_click="ignore",
            )
        words, computed, parts, found, written = tables_of(both, system)
        said = [str(row[0]) for row in words.rows]
        blocks: list[answers.Block] = [{"kind": "list", "title": "In words", "lines": said}]
        shown = [written, computed._replace(title="What followed"), parts, found]
        blocks += [answers.table_block(table, system) for table in shown if table.rows]
        show("since", blocks)
    with right, st.container(key="paper"):
        drawing(verbs.render(Sheet(sheet.scenes[:1]), ".svg"), None, lambda: None, key="both", whole=True)
