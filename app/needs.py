"""The way from an input that is asked for to its field: where it is typed, in the words of the inspector.

The checks name an input by its path or by what it is of ("travel of inner string"); here that becomes a
field of a part, or the table that takes it.
"""

from __future__ import annotations

import re
import time
from collections.abc import Sequence
from typing import Any, NamedTuple

import streamlit as st

from app import inspector, tables
from app.inspector import ITEMS, Choice, Field
from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Plan
from schematic.export.report import plural
from schematic.outcome import Found, NotChecked, Outcome
from schematic.units import sentence_case
from schematic.wellfile import nodes, path
from schematic.wellfile.model_job import RUNNING_PARTS
from schematic.wellfile.model_well import PART_KEYS
from schematic.wellfile.path import Loc
from schematic.wellfile.read import Document

# what the checks say of a part, and the field that it is
_SAID = {
    "bore": ("id", "ball seat, seat"),
    "bore of tool joint": ("tool joint, id",),
    "OD and bore": ("od",),
    "OD": ("od",),
    "core and fins": ("core",),
    "grade": ("pipe",),
    "rating": ("pressure rating", "bore rating", "bump rating"),
    "ratings": ("pressure rating", "bore rating", "bump rating"),
}
_QUOTED = re.compile(r"'([^'{}]+)'")
_NEXT_PATH = re.compile(r", (?=[a-z][a-z ]*\.)")  # between paths that are told in one text


class Way(NamedTuple):
    """Where an input is typed: the part and its field, or the table that takes it; both in words.

    Nothing leads there where *part* and *table* are empty.
    """

    words: str
    place: str
    part: str = ""
    field: Loc = ()
    table: str = ""

    @property
    def told(self) -> str:
        """The input with its place, where its words do not begin with that."""
        said = f"{self.words},".startswith(f"{self.place},")
        return f"{self.words} ({self.place})" if self.place and not said else self.words

    @property
    def where(self) -> tuple[str, Loc, str]:
        """What tells the place from all others, however it is asked for."""
        return (self.part, self.field, self.table) if self.part or self.table else (self.words, (), "")


def ways(document: Document, plan: Plan, these: Sequence[Choice], name: str) -> list[Way]:
    """The ways to what a check asks for; several where it asks for one thing of several parts."""
    what, of, whose = name.rpartition(" of ")
    if what == "ratings":
        its = whose.split(", ")
        return [
            _way_of_part(document, plan, these, "rating", one) or Way(f"Rating of {one}", "") for one in its
        ]
    if of and (way := _way_of_part(document, plan, these, what, whose)):
        return [way]
    its = _NEXT_PATH.split(name)
    if len(its) > 1:
        return [way for one in its for way in ways(document, plan, these, one)]
    loc, rest = _loc(document, plan, name)
    assumed = next((one for one in plan.depth.liner.parts if name.startswith(f"{one.path}.")), None)
    if loc == ("liner", "assembly") and assumed:
        loc, rest = _parted(assumed.path), name.removeprefix(f"{assumed.path}.")
    if not loc:
        loc, rest = _by_its_kind(plan, name)
    return [_way(document, these, loc, rest) or Way(sentence_case(name), "")]


def _way_of_part(
    document: Document, plan: Plan, these: Sequence[Choice], what: str, whose: str
) -> Way | None:
    """The field of a part that goes by a name."""
    if whose in ("surface equipment", "liner pipe"):
        loc: Loc = (
            ("installation", "surface pressure limit") if whose == "surface equipment" else ("liner", "pipe")
        )
        return _way(document, these, loc, "")
    part = _part(plan, whose)
    if part is None:
        return None
    for label in _SAID.get(what, (what,)):
        its = [one for one in inspector.fields(document, part) if _begins(one.label, label)]
        if its:
            return _way(document, these, (*part, *label.split(", ")), "")
    return None


def _begins(label: str, key: str) -> bool:
    return label == key or label.startswith(f"{key}, ")


def _part(plan: Plan, name: str) -> Loc | None:
    """The place of a part of liner or running string that has a name, or is of a kind."""
    its: list[Any] = [*plan.depth.liner.parts, *(plan.depth.running.parts if plan.depth.running else ())]
    found = [one for one in its if one.name == name] or [one for one in its if one.kind == name]
    return _parted(found[0].path) if found else None


def _parted(its: str) -> Loc:
    return tuple(int(step) if step.isdigit() else step for step in its.split("."))


def _loc(document: Document, plan: Plan, name: str) -> tuple[Loc, str]:
    """The place that a path leads to, as far as there is one, and what it says beyond that."""
    try:
        return path.locate(document.root, path.split(name)), ""
    except path.PathError:
        pass
    left = name
    held: nodes.Plain = dict.fromkeys(nodes.key_text(entry) for entry in document.root.entries)
    loc: Loc = ()
    first = name.partition(".")[0]
    if first not in inspector.keys_of(()) and (part := _part(plan, first)):
        loc, left = part, name.partition(".")[2]
        held = inspector.held_at(document.root, loc)
    while left:
        step, after = _step(held, loc, left)
        if step is None:
            break
        loc, left = (*loc, step), after.removeprefix(".")
        held = inspector.held_at(document.root, loc)
        if after and not after.startswith("."):
            break
    return loc, left


def _step(held: nodes.Plain, loc: Loc, left: str) -> tuple[str | int | None, str]:
    """The next step of a path in what is held at a place, and what is left of the path."""
    if isinstance(held, list):
        for number, item in enumerate(held):
            its = item if isinstance(item, dict) else {}
            for called in (str(number), its.get("name"), its.get("part")):
                if isinstance(called, str) and re.match(rf"{re.escape(called)}(\.|$)", left):
                    return number, left[len(called) :]
        return None, left
    known = [*(held if isinstance(held, dict) else ()), *inspector.keys_of(loc)]
    fit = [key for key in known if re.match(rf"{re.escape(key)}([ ,.]|$)", left)]
    longest = max(fit, key=len, default=None)
    return longest, left[len(longest) :] if longest else left


def _by_its_kind(plan: Plan, name: str) -> tuple[Loc, str]:
    """The table for a part or a fluid that is not there at all, or the part that has such a thing."""
    if name.startswith("a fluid of kind"):
        return ("fluids",), name.removeprefix("a fluid of ")
    for kind, keys in PART_KEYS.items():
        if name in keys and (part := _part(plan, kind)):
            return (*part, name), ""
    if name in RUNNING_PARTS:
        return ("running string", "assembly"), name
    return (("liner", "assembly"), name) if name in PART_KEYS else ((), name)


def _way(document: Document, these: Sequence[Choice], loc: Loc, beyond: str) -> Way | None:
    """The way to a place: the field of the part that it lies in, or the table that it is or lies in."""
    by_loc = {choice.loc: choice for choice in these}
    if loc == ("running string",):
        loc = (*loc, "assembly")
    for size in range(len(loc), 0, -1):
        holder, rest = loc[:size], loc[size:]
        said = [step if isinstance(step, str) else str(step + 1) for step in rest]
        said += filter(None, [beyond.strip(" ,.").replace(".", ", ")])
        if holder in ITEMS:
            panel, title = tables.place_of(holder)
            if rest and loc[: size + 1] in by_loc:  # a part that the file does not hold goes by its name
                said[0] = by_loc[loc[: size + 1]].name.partition(", from ")[0].lower()
            return Way(", ".join([title, *said]), panel, table=title)
        choice = by_loc.get(holder)
        if choice is None or not (len(holder) == 1 or inspector.stands(document, holder)):
            continue
        its = [  # the field itself, those in what stands there, or the one of the whole list
            one
            for one in inspector.fields(document, holder)
            if one.loc[: len(loc)] == loc or loc[: len(one.loc)] == one.loc
        ]
        if its or not rest:
            empty = next((one for one in its if not one.text), None) if rest else None
            field = (empty or its[0]).loc if rest else ()
            words = inspector.labelled(Field(loc, ", ".join(said), ""))
            place = choice.name.removesuffix(" as a whole")
            return Way(words, place, choice.path, field) if words else Way(place, "", choice.path)
    return None


def led(document: Document, plan: Plan, these: Sequence[Choice], names: Sequence[str]) -> dict[str, Way]:
    """The ways that lead to a field or a table, by what `told` calls them."""
    its = [way for name in names for way in ways(document, plan, these, name)]
    return {way.told: way for way in its if way.part or way.table}


def told(document: Document, plan: Plan, these: Sequence[Choice], names: Sequence[str]) -> str:
    """What a check or a figure needs, in the words of the inspector."""
    its = [way.told for name in names for way in ways(document, plan, these, name)]
    return ", ".join(dict.fromkeys(its))


def wanted(document: Document, evaluation: Evaluation, these: Sequence[Choice]) -> list[tuple[Way, str]]:
    """Each input that a check waits for, with how many wait for it alone, and how many for others too."""
    named: dict[tuple[str, Loc, str], list[Way]] = {}
    waits: list[set[tuple[str, Loc, str]]] = []
    for outcome in evaluation.outcomes:
        if isinstance(outcome.answer, NotChecked):
            its = [
                way for name in outcome.answer.missing for way in ways(document, evaluation.plan, these, name)
            ]
            waits.append({way.where for way in its})
            for way in its:
                named.setdefault(way.where, []).append(way)
    rows = []
    for where, its in named.items():
        alone = sum(one == {where} for one in waits)
        joint = sum(where in one for one in waits) - alone
        shortest = min(its, key=lambda way: len(way.words))
        rows.append((-alone, -joint, shortest))
    rows.sort(key=lambda row: row[:2])
    return [(way, _counted(-alone, -joint)) for alone, joint, way in rows]


def first(document: Document, evaluation: Evaluation, these: Sequence[Choice]) -> Way | None:
    """The input that most checks wait for, of those that can be typed on Plan."""
    asked = wanted(document, evaluation, these)
    return next((way for way, _count in asked if way.part or way.table), None)


def waiting(document: Document, evaluation: Evaluation, these: Sequence[Choice]) -> set[str]:
    """The checks that wait for that input, by rule and subject."""
    its = first(document, evaluation, these)
    return {
        f"{one.rule} {one.subject.path}"
        for one in evaluation.outcomes
        if its and isinstance(one.answer, NotChecked)
        for name in one.answer.missing
        for way in ways(document, evaluation.plan, these, name)
        if way.where == its.where
    }


def _counted(alone: int, joint: int) -> str:
    """How many checks an input would allow, and how many only with others."""
    told = [plural(alone, "check")] if alone else []
    return ", ".join([*told, *([f"{joint} with others"] if joint else [])])


def of_finding(
    document: Document, evaluation: Evaluation, these: Sequence[Choice], outcome: Outcome
) -> list[Way]:
    """The fields that a finding is about: its own, what its words name, what would mend it, its limit."""
    found, subject = outcome.answer, outcome.subject.path
    assert isinstance(found, Found)
    mends = [fix.path for fix in found.fix]
    limits = [
        f"limits.{name.replace('-', ' ')}"
        for name, limit in evaluation.plan.limits.items()
        if limit == found.limit
    ]
    led = {one: ways(document, evaluation.plan, these, one) for one in [subject, *mends, *limits]}
    its = [
        way
        for one, found_ in led.items()
        for way in found_
        if way.field
        and (one not in mends or inspector.stands(document, way.field))  # the other way to say it
    ]
    own = inspector.chosen_among(these, subject)
    for key in dict.fromkeys(_QUOTED.findall(f"{found.what} {found.mend}")):
        its += _labelled(document, own, these, key)
    return list({way.where: way for way in its}.values())


def _labelled(document: Document, own: Choice | None, these: Sequence[Choice], key: str) -> list[Way]:
    """The field that a finding names by its label: of the part that it is about, else of one that has begun
    to give it, else of the first that may give it in one field; an empty field goes before one that is given.
    """
    ranked: list[tuple[int, Way]] = []
    for choice in these:
        if len(choice.loc) > 1 and not inspector.stands(document, choice.loc):
            continue
        its = [one for one in inspector.fields(document, choice.loc) if _begins(one.label, key)]
        empty = [one for one in its if not one.text]
        ranks = (choice == own, len(its) > len(empty) > 0, len(its) == 1)
        if its and any(ranks):
            one = (empty or its)[0]
            place = choice.name.removesuffix(" as a whole")
            ranked.append((ranks.index(True), Way(inspector.labelled(one), place, choice.path, one.loc)))
    return [min(ranked, key=lambda one: one[0])[1]] if ranked else []


def go(way: Way) -> None:
    """Show the field of an input with the cursor in it, or the table that takes it."""
    session = st.session_state
    if way.table:
        session[f"table-{way.place}"] = way.table
        session["rows-mode"], session.panel = "Type in rows", way.place
    elif way.part:
        session["to-field"] = (way.field, str(time.time()))
        session.chosen = {"part": way.part, "title": ""}
        session.panel = "Part"
