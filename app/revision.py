"""The revision of the plan: which one a text is, whether it is changed since, the next one written."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from functools import lru_cache

import streamlit as st

from app import state
from app.shell import escaped
from schematic import verbs
from schematic.checks.evaluate import Evaluation
from schematic.comparison.differences import Differences
from schematic.comparison.figures import figures
from schematic.comparison.words import moved
from schematic.comparison.written import Written
from schematic.wellfile import edit
from schematic.wellfile.path import split
from schematic.wellfile.read import Document

_FIELDS = (  # key of the file, label
    ("number", "Number"),
    ("date", "Date"),
    ("by", "Prepared by"),
    ("note", "What changed"),
    ("checked by", "Checked by"),
    ("approved by", "Approved by"),
)
_LONGEST_NOTE, _MOST_CAUSES, _MOST_FOLLOWS = 160, 2, 3
_NO_CAUSE = ("well.revision", "well.earlier revisions", "well.show", "options", "record", "waived")
_FOLLOWS = ("running string",)  # it goes along with the liner top


@lru_cache(maxsize=256)
def number_of(text: str, name: str) -> str:
    """The number of the revision that a text of the well of that name is; "" where it is none."""
    revision = state.read(text, name).content.well.revision
    return revision.number if revision else ""


@lru_cache(maxsize=64)
def _content(text: str, name: str) -> str:
    """What a text issues, as a hash: readings and options are not of it."""
    return verbs.check(state.read(text, name)).plan.identity.content_hash


def _changed_here(its: Sequence[str], name: str) -> bool:
    """Whether a text of this tab with the number of the latest one was another well before."""
    number, first = number_of(its[-1], name), len(its) - 1
    while first and number_of(its[first - 1], name) == number:
        first -= 1
    return its[-1] != its[first] and _content(its[-1], name) != _content(its[first], name)


def changed(evaluation: Evaluation) -> bool:
    """Whether the well on screen is another one than its revision issued.

    The plan knows; where its file does not say what was issued, what was done in this tab is all there is.
    """
    its = evaluation.plan.identity.revision
    if its is None:
        return False
    return _changed_here(state.texts(), st.session_state.demo) if its.changed is None else its.changed


def following(number: str) -> str:
    """The number after one: 3 after 2, C after B; "1" for the first, "" where that is for a person to say."""
    if not number:
        return "1"
    digits = re.search(r"\d+$", number)
    if digits:
        return f"{number[: digits.start()]}{int(digits[0]) + 1}"
    return chr(ord(number) + 1) if re.fullmatch("[A-Ya-y]", number) else ""


def revised(document: Document, values: dict[str, str]) -> str:
    """The text as the next revision: the one it was joins the earlier ones, what is not given is left out."""
    well, text = document.content.well, document.text
    given = {key: values[key] for key, _label in _FIELDS if values.get(key)}
    given["content"] = verbs.check(document).plan.identity.content_hash
    if well.revision is None:
        return edit.put(text, "well.revision", given)
    keys = [*(key for key, _label in _FIELDS), "content"]
    written = {key: getattr(well.revision, key.replace(" ", "_")) for key in keys}
    old = {key: str(value) for key, value in written.items() if value is not None}
    text = edit.insert(text, "well.earlier revisions", old, 0 if well.earlier_revisions else None)
    for key in keys:
        if key in given:
            text = edit.set(text, f"well.revision.{key}", given[key])
        elif key in old:
            text = edit.remove(text, f"well.revision.{key}")
    return text


def in_short(both: Differences) -> str:
    """What changed, as the note of a revision says it: the causes first, then what follows from them."""
    system = both.new.plan.identity.system
    its = [one for one in both.written if not one.path.startswith(_NO_CAUSE)]
    first = [one for one in its if not one.path.startswith(_FOLLOWS)] or its
    causes = "; ".join(map(_cause, first[:_MOST_CAUSES]))
    more = len(first) - _MOST_CAUSES
    causes += f" and {more} more" if more > 0 else ""
    named = tuple(split(one.path)[-1] for one in first)
    follows = [one for one in moved(figures(both.old), figures(both.new), system)
               if not (named and one.startswith(named))]  # fmt: skip
    said = ": ".join(filter(None, (causes, "; ".join(follows[:_MOST_FOLLOWS]))))
    said = said[:1].upper() + said[1:]
    if len(said) <= _LONGEST_NOTE:
        return said
    ends = [said.rfind(mark, 0, _LONGEST_NOTE) for mark in (";", ": ")]
    return said[: max(ends)] if max(ends) > 0 else f"{said[: _LONGEST_NOTE - 1]}\u2026"


def _cause(one: Written) -> str:
    """One value that is written otherwise, by its name: ``lap 370 to 400 ft``."""
    steps = split(one.path)
    name = " ".join(steps[-2:] if len(steps) > 2 else steps[-1:])
    if not one.new:
        return f"{name} left out"
    unit = re.search(r"\s[a-zA-Z%/0-9]+$", one.new)
    before = one.old.removesuffix(unit[0]) if unit else one.old
    return f"{name} {before} to {one.new}" if one.old else f"{name} {one.new}"


def _make(keys: dict[str, str]) -> None:
    """Write what was typed into the text as its next revision."""
    values = {key: " ".join(st.session_state[widget].split()) for key, widget in keys.items()}
    state.change(lambda _text: revised(state.document(), values))


def form(evaluation: Evaluation, note: str, filled: bool = False) -> None:
    """A button that asks for the next revision's number, date, names and words; *note* is offered."""
    was = evaluation.plan.identity.revision
    number = following(was.number if was else "")
    offered = {
        "number": number,
        "date": date.today().isoformat(),
        "by": was.by if was else "",
        "note": note,
    }
    label = escaped(f"Make revision {number} ...".replace("  ", " "))
    # another text: the fields are offered anew
    turn = f"{st.session_state.demo}-{evaluation.plan.identity.file_hash}"
    keys = {key: f"revision-{key}-{turn}" for key, _label in _FIELDS}
    popover = st.popover(label, type="primary" if filled else "secondary", key=f"make-revision-{turn}")
    with popover, st.form(f"revision-{turn}", border=False):
        rows = st.container(horizontal=True), st.container(), st.container(horizontal=True)
        for (key, shown), row in zip(_FIELDS, [rows[0]] * 3 + [rows[1]] + [rows[2]] * 2, strict=True):
            if key == "note":
                row.text_area(shown, offered["note"], key=keys[key], height=80)
            else:
                row.text_input(shown, offered.get(key) or "", key=keys[key], width=150)
        st.form_submit_button("Write it into the file", on_click=_make, args=(keys,), type="primary")
