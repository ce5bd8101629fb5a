"""What changed since an older text of the well: in words, as written, as computed, and drawn."""

from __future__ import annotations

from typing import NamedTuple

import streamlit as st

from app import answers, exports, revision, state
from app.answers_view import answers as show
from app.draft import text_of
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


class Earlier(NamedTuple):
    """The text of an earlier revision: what it is called, the name of a file for it."""

    called: str
    text: str
    file: str


def beside() -> dict[str, str]:
    """The earlier revisions that lie as files beside the one of the command line, under the names offered."""
    name = st.session_state.demo
    if st.session_state.origin.get(name) != "file":
        return {}
    well, found = state.document().content.well, {}
    for one in well.earlier_revisions or ():
        file = f"{exports.plain(f'{well.name} well rev {one.number} {one.date or str()}')}.yaml"
        text = text_of(st.session_state.draft.file.parent / file)
        if text and state.problems(text, name) is None and revision.number_of(text, name) == one.number:
            found[f"revision {one.number}"] = text
    return found


def earlier() -> Earlier | None:
    """The revision before the one on screen, where its text lies in this tab alone or will do when saved."""
    name = st.session_state.demo
    now = revision.number_of(state.texts()[-1], name)
    for text in older().values():
        number = revision.number_of(text, name)
        if number and number != now:
            if text in beside().values():
                return None
            its = verbs.check(state.read(text, name))
            changed = bool(its.plan.identity.revision and its.plan.identity.revision.changed)
            return Earlier(f"Revision {number}", text, exports.file_name(its, "well", "yaml", changed))
    return None


def keep_earlier() -> None:
    """Say where the text of the revision before this one lies, and offer it as a file."""
    its = earlier()
    if its is None:
        return
    name = st.session_state.demo
    on_disk = st.session_state.origin.get(name) == "file"
    if its.text == st.session_state.saved.get(name):
        where = (
            f"lies in {name} until this one is saved over it" if on_disk else f"is {name} as it was opened"
        )
    else:
        where = "is only in this tab: a reload loses it"
    found = f" Beside {name} it is found again after a reload." if on_disk else ""
    note = f"{its.called} {where}. To compare with it later, keep it as a file.{found}"
    show("earlier", [{"kind": "note", "text": note}])
    st.download_button(
        f"{escaped(its.called)} as a file", its.text, its.file, "application/yaml", on_click="ignore",
        key="keep-earlier",
    )  # fmt: skip


def _first(sides: dict[str, str]) -> str:
    """Which older text is compared with at first: of a text as it was opened the revision before it."""
    its = state.texts()
    if its[-1] == its[0]:
        return next(iter(beside()), next(iter(sides)))
    return next(iter(sides))


def title() -> str:
    """What the page is called: after the revision that came before the changes on screen."""
    sides = older() | beside()
    number = revision.number_of(sides[_first(sides)], st.session_state.demo)
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
    return f"revision {its.issue}" if its else "no revision"


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
        sides = older() | beside()
        asked, first = [*sides, _EARLIER], _first(sides)
        key = f"older-{st.session_state.demo}-{first}"  # after a revision that one is offered
        if st.session_state.get(key) not in asked:
            st.session_state[key] = first
        side = st.segmented_control("Before", asked, key=key, required=True, format_func=escaped) or first
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
        keep_earlier()
        if not both.any:
            text = "Nothing changed between the two: change a value on Plan, or compare with an earlier file."
            gone = state.document().content.well.earlier_revisions
            if gone and not any(one.startswith("revision") for one in sides):
                text += (
                    f" The text of revision {gone[0].number} is not in this one: open the file kept of it."
                )
            show("nothing-changed", [{"kind": "note", "text": text}])
            if st.button("Change it on Plan", type="primary"):
                st.switch_page(st.session_state.pages["Plan"])
            return
        sheet = difference_sheet(both, system)
        with st.container(horizontal=True, key="ahead-since"):
            revision.form(evaluation, revision.in_short(both), filled=True)
            st.download_button(
                "Sheet with both, PDF",
                lambda: verbs.render(sheet, ".pdf")[0],
                exports.file_name(evaluation, "changes", "pdf", revision.changed(evaluation)),
                "application/pdf",
                on_click="ignore",
            )
        words, computed, parts, found, written = tables_of(both, system)
        written, found = answers.written_in_words(written), answers.without_codes(found)
        said = [str(row[0]) for row in words.rows]
        blocks: list[answers.Block] = [{"kind": "list", "title": "In words", "lines": said}]
        shown = [written, computed._replace(title="What followed"), parts, found]
        blocks += [answers.table_block(table, system) for table in shown if table.rows]
        with st.container(key="since-words"):  # on a narrow screen the drawing goes before it: see the style
            show("since", blocks)
    with right, st.container(key="paper"):
        drawing(verbs.render(Sheet(sheet.scenes[:1]), ".svg"), None, lambda: None, key="both", whole=True)
