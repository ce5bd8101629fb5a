"""Alternatives of a well: each resolved and checked like the well itself, and what differs between them.

An option of a well file is a name and what it changes, path by path. Its text is the well's text edited in
place, so that every alternative goes the way of any other file: one reader, one engine, no twin.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate
from schematic.depth.resolve import resolve
from schematic.export.tables import (
    Cell,
    Column,
    Table,
    displacement_table,
    laps_table,
    slurry_table,
    tops_table,
    volumes_table,
)
from schematic.outcome import Figure, Found, NotChecked, sentence
from schematic.units import System, show
from schematic.wellfile import edit
from schematic.wellfile.path import PathError
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import Document, read_text

AS_WRITTEN = "as written"


class Alternative(NamedTuple):
    """One way to do the well: its name, and its evaluation or the problems that keep it from having one."""

    name: str
    evaluation: Evaluation | None
    problems: tuple[Problem, ...]


def alternatives(document: Document) -> tuple[Alternative, ...]:
    """The well as written, then each of its options in the order of the file.

    Raises
    ------
    InputError
        When the well as written has problems; those of an option stay with the option.
    """
    made = [Alternative(AS_WRITTEN, evaluate(resolve(document)), ())]
    for index, option in enumerate(document.content.options or ()):
        try:
            text = document.text
            for path, value in option.change.items():
                text = _changed(document, index, text, path, value)
            made.append(
                Alternative(
                    option.name, evaluate(resolve(read_text(text, document.file, document.folder))), ()
                )
            )
        except InputError as error:
            made.append(Alternative(option.name, None, error.problems))
    return tuple(made)


def _changed(document: Document, index: int, text: str, path: str, value: object) -> str:
    """The text with one value of an option put in; a problem at the option's line where it cannot be."""
    place = ("options", index, "change", path)
    if not isinstance(value, str):
        raise InputError(
            (document.problem(place, "several values", "one value", "change them one by one, path by path"),)
        )
    try:
        return edit.set(text, path, value)
    except (edit.EditError, PathError) as error:
        raise InputError(
            (document.problem(place, str(error), "a path to one value of this file", "mend the path"),)
        ) from None


def figures(evaluation: Evaluation) -> dict[str, Figure]:
    """The figures by which alternatives are told apart, each with its name, in the order of the tables."""
    liner = evaluation.plan.depth.liner
    found = {
        "liner top": Figure(liner.top_md_m, "tally"),
        "liner shoe": Figure(liner.shoe_md_m, "tally"),
        "liner length": Figure(liner.shoe_md_m - liner.top_md_m, "tally"),
        "joints of liner": Figure(float(sum(p.joints for p in liner.parts if p.kind == "joint")), "count"),
    }
    for row in laps_table(evaluation).rows:
        _add(found, f"lap, {row[0]}", row[1])
    for row in volumes_table(evaluation).rows:
        name, volume = f"volume of {row[0]}", row[4]
        if isinstance(volume, Figure):
            already = found.get(name)
            found[name] = Figure(volume.si + (already.si if already else 0.0), "volume")
    for table, of in ((displacement_table(evaluation), "displacement"), (slurry_table(evaluation), "cement")):
        for row in table.rows if table else ():
            _add(found, f"{of}, {row[0]}", row[1])
            _add(found, f"{of}, {row[0]}, {table.columns[2].head if table else ''}", row[2])
    tops = tops_table(evaluation)
    for row in tops.rows if tops else ():
        _add(found, f"top of cement, {row[0]}", row[1])
    return found


def _add(found: dict[str, Figure], name: str, cell: Cell) -> None:
    if isinstance(cell, Figure):
        found[name] = cell


def what_differs(compared: tuple[Alternative, ...], system: System) -> Table:
    """One row for each figure that is not the same in all alternatives, a column for each of them."""
    able = [(one.name, figures(one.evaluation)) for one in compared if one.evaluation is not None]
    names = dict.fromkeys(name for _name, found in able for name in found)
    rows: list[tuple[Cell, ...]] = []
    for name in names:
        printed = [
            show(found[name].si, found[name].kind, system) if name in found else "not computed"
            for _name, found in able
        ]
        if len(set(printed)) > 1:
            rows.append((name, *printed))
    return Table("What differs", (Column("what"), *(Column(name) for name, _found in able)), tuple(rows))


def findings_that_differ(compared: tuple[Alternative, ...], system: System) -> Table:
    """What each option brings or takes away of the findings of the well as written, in words."""
    base, *others = [one for one in compared if one.evaluation is not None]
    assert base.evaluation is not None
    before = _findings(base.evaluation, system)
    rows: list[tuple[Cell, ...]] = []
    for other in others:
        assert other.evaluation is not None
        after = _findings(other.evaluation, system)
        unknown = {o.rule for o in other.evaluation.outcomes if isinstance(o.answer, NotChecked)}
        for mine, theirs, change in ((after, before, "appears"), (before, after, "goes")):
            rows += [
                # what goes for want of an input has not gone
                (
                    other.name,
                    "not checked" if mine is before and rule in unknown else change,
                    severity,
                    rule,
                    what,
                )
                for (rule, subject), (severity, what) in mine.items()
                if (rule, subject) not in theirs
            ]
    heads = ("option", "finding", "severity", "rule", "what")
    return Table("Findings that differ", tuple(Column(head) for head in heads), tuple(rows))


def _findings(evaluation: Evaluation, system: System) -> dict[tuple[str, str], tuple[str, str]]:
    said = {}
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        waived = f" (waived by {outcome.waived})" if outcome.waived else ""
        said[outcome.rule, outcome.subject.path] = (
            found.severity.value,
            sentence(found.headline, found.figures, system) + waived,
        )
    return said
