"""Alternatives of a well: each resolved and checked like the well itself, and what differs between them.

An option of a well file is a name and what it changes, path by path. Its text is the well's text edited in
place, so that every alternative goes the way of any other file: one reader, one engine, no twin.
"""

from __future__ import annotations

from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate, topic
from schematic.comparison.around import around
from schematic.comparison.figures import OF_RULES, by_subject, not_computed, together
from schematic.comparison.installation import installation_otherwise
from schematic.comparison.options import well_of
from schematic.comparison.words import difference, follows, moved
from schematic.comparison.written import Written, written
from schematic.depth.resolve import resolve
from schematic.export import CAUTION
from schematic.export.report import in_words as inputs_in_words
from schematic.export.tables import Cell, Column, Table
from schematic.export.tables import as_data as table_data
from schematic.outcome import Figure, Found, NotChecked, Passed, sentence
from schematic.units import System, sentence_case, show, unit_of
from schematic.wellfile import edit
from schematic.wellfile.problem import InputError, Problem
from schematic.wellfile.read import AS_WRITTEN, Document, read_text
from schematic.wellfile.tree import parse

NOT_COMPUTED, NOT_KNOWN = "not computed", "not known"
_NAMED = 6  # rows that are named where no words are made of them


class Alternative(NamedTuple):
    """One way to do the well: its name, and its evaluation or the problems that keep it from having one."""

    name: str
    evaluation: Evaluation | None
    problems: tuple[Problem, ...]
    written: tuple[Written, ...] = ()  # what is written otherwise than in the well as written


def alternatives(document: Document) -> tuple[Alternative, ...]:
    """The well as written, then each of its options in the order of the file.

    Raises
    ------
    InputError
        When the well as written has problems; those of an option stay with the option.
    """
    made = [Alternative(AS_WRITTEN, evaluate(resolve(document)), ())]
    if not document.content.options:
        return tuple(made)
    bare = parse(edit.remove(document.text, "options"), document.file)
    for index, option in enumerate(document.content.options):
        otherwise: tuple[Written, ...] = ()
        try:
            text = well_of(document, index)
            otherwise = written(bare, parse(text, document.file))
            evaluation = evaluate(resolve(read_text(text, document.file, document.folder)))
            made.append(Alternative(option.name, evaluation, (), otherwise))
        except InputError as error:
            made.append(Alternative(option.name, None, error.problems, otherwise))
    return tuple(made)


def what_differs(compared: tuple[Alternative, ...], system: System, every: bool = False) -> Table:
    """One row for each figure that is not the same in all alternatives, a column for each of them.

    With *every* there is a row for each figure, be it the same.

    A cell is the figure, "not computed" where an input is missing (see `not_computed_table`), "not known"
    where the rule that would compare it lacks one, "none" where there is no such thing.
    """
    known = [(one.name, one.evaluation) for one in compared if one.evaluation is not None]
    found_of = together(*(evaluation for _name, evaluation in known))
    able = [(*one, found) for one, found in zip(known, found_of, strict=True)]
    names = dict.fromkeys(name for _name, _evaluation, found in able for name in found)
    rows: list[tuple[Cell, ...]] = []
    for name in names:
        cells: list[Cell] = [
            found[name] if name in found else absent(evaluation, name, system)
            for _n, evaluation, found in able
        ]
        printed = {
            cell if isinstance(cell, str) else show(cell.si, cell.kind, system) for cell in cells if cell
        }
        if every or len(printed) > 1:
            unit = next(unit_of(cell.kind, system) for cell in cells if isinstance(cell, Figure))
            rows.append((name, unit, *cells))
    return Table(
        "What differs",
        (Column("what"), Column("unit"), *(Column(name) for name, _e, _f in able)),
        tuple(rows),
    )


def in_subjects(compared: tuple[Alternative, ...], system: System, every: bool = False) -> tuple[Table, ...]:
    """The rows of `what_differs`, a table for each subject that has some."""
    able = [by_subject(one.evaluation) for one in compared if one.evaluation is not None]
    subject = {name: title for its in able for title, found in its.items() for name in found}
    whole = what_differs(compared, system, every)
    made = (
        whole._replace(title=title, rows=tuple(row for row in whole.rows if subject[str(row[0])] == title))
        for title in able[0]
    )
    return tuple(table for table in made if table.rows)


def absent(evaluation: Evaluation, name: str, system: System) -> str:
    """Why a figure is not there."""
    rule = OF_RULES.get(name, ("",))[0]
    if any(one.rule == rule and isinstance(one.answer, NotChecked) for one in evaluation.outcomes):
        return NOT_KNOWN
    topic = name.partition(",")[0].removeprefix("volume of ")
    if topic.startswith(("slurry", "cement", "static EMW", "U-tube")):
        topic = "cement"
    if topic == "strokes":
        topic = "displacement"
    for one in not_computed(evaluation, system):
        if name == one.what or topic in one.what.split(", "):
            return NOT_COMPUTED
    return "none"


def not_computed_table(compared: tuple[Alternative, ...], system: System) -> Table:
    """What is not computed, of which alternative, and what it would need."""
    found: dict[tuple[str, str], list[str]] = {}
    able = [one for one in compared if one.evaluation is not None]
    for one in able:
        assert one.evaluation is not None
        for lacking in not_computed(one.evaluation, system):
            found.setdefault((lacking.what, ", ".join(lacking.needs)), []).append(one.name)
    rows = tuple(
        (what, needs, "all" if len(names) == len(able) else ", ".join(names))
        for (what, needs), names in found.items()
    )
    return Table("Not computed", (Column("what"), Column("needs"), Column("of")), rows)


def in_words(compared: tuple[Alternative, ...], system: System) -> Table:
    """Each option against the well as written, in words: what is otherwise, moves, and follows from it."""
    base, *others = compared
    assert base.evaluation is not None
    rows: list[tuple[Cell, ...]] = []
    for other in others:
        if other.evaluation is None:
            rows += [
                (other.name, f"cannot be: {problem.found}; accepted: {problem.accepted}")
                for problem in other.problems
            ]
            continue
        old, new = together(base.evaluation, other.evaluation)
        shifts = "; ".join(moved(old, new, system))
        computed = [shifts] if shifts else []
        computed += follows(other.evaluation, old, new, system)
        said = [text for text in ("; ".join(around(base.evaluation, other.evaluation, system)),) if text]
        said += computed or [_without_words(base.evaluation, other.evaluation, system)]
        rows += [(other.name, sentence_case(text)) for text in said]
    return Table("In words, against the well as written", (Column("option"), Column("what")), tuple(rows))


def _without_words(old: Evaluation, new: Evaluation, system: System) -> str:
    """What differs where nothing moves that there are words for; that nothing does, only where it is so."""
    before, after = together(old, new)
    names = [
        name
        for name in dict.fromkeys((*before, *after))
        if not (name in before and name in after) or difference(before[name], after[name], system)
    ]
    if names:
        more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
        return f"what differs: {'; '.join(names[:_NAMED])}{more}"
    others = installation_otherwise(old, new, system)
    if others:
        return f"of the installation alone differs: {'; '.join(others)}"
    if findings_between(old, new, system):
        return "no figure differs, what the checks say does"
    return "nothing that is computed differs"


def changes(compared: tuple[Alternative, ...]) -> Table:
    """What each option writes otherwise than the well as written, path by path."""
    rows = tuple(
        (one.name, each.path, each.old or "not written", each.new or "not written")
        for one in compared
        for each in one.written
    )
    heads = ("option", "path", "before", "now")
    return Table("What the options change", tuple(Column(head) for head in heads), rows)


def findings_that_differ(compared: tuple[Alternative, ...], system: System) -> Table:
    """What each option brings or takes away of the findings of the well as written, in words."""
    base, *others = [one for one in compared if one.evaluation is not None]
    assert base.evaluation is not None
    rows: list[tuple[Cell, ...]] = []
    for other in others:
        assert other.evaluation is not None
        rows += [(other.name, *row) for row in findings_between(base.evaluation, other.evaluation, system)]
    heads = ("option", "finding", "severity", "rule", "what")
    return Table("Findings that differ", tuple(Column(head) for head in heads), tuple(rows))


def findings_between(old: Evaluation, new: Evaluation, system: System) -> list[tuple[str, str, str, str]]:
    """What the new way brings, takes away or changes of the findings: how, severity, rule, words.

    What goes for want of an input has not gone: it is "not checked", and so is what passed or did not apply
    before; that has no severity.
    """
    before, after = _findings(old, system), _findings(new, system)
    unknown = {o.rule for o in new.outcomes if isinstance(o.answer, NotChecked)}
    rows = [
        ("appears", severity, key[0], what + waived)
        for key, (severity, what, waived) in after.items()
        if key not in before
    ]
    rows += [
        ("not checked" if key[0] in unknown else "goes", severity, key[0], what + waived)
        for key, (severity, what, waived) in before.items()
        if key not in after
    ]
    for key, (severity, what, waived) in after.items():
        if key in before and before[key][:2] != (severity, what):
            was_severity, was, _waived = before[key]
            told_before = was if severity == was_severity else f"{was_severity}, {was}"
            rows.append(("changes", severity, key[0], f"{what}{waived}; was: {told_before}"))
    return rows + _checked_no_more(old, new)


def _checked_no_more(old: Evaluation, new: Evaluation) -> list[tuple[str, str, str, str]]:
    """What the new way lacks an input for and the old one does not, other than its findings."""
    was = {(o.rule, called): o.answer for o in old.outcomes for called in o.subject}
    rows = []
    for one in new.outcomes:
        before = was.get((one.rule, one.subject.path)) or was.get((one.rule, one.subject.name))
        if isinstance(one.answer, NotChecked) and not isinstance(before, Found | NotChecked):
            lacks = inputs_in_words(new, one.answer.missing)
            passed = "; it passed before" if isinstance(before, Passed) else ""
            rows.append(("not checked", "", one.rule, f"{topic(one.rule)}: needs {lacks}{passed}"))
    return list(dict.fromkeys(rows))


def _findings(evaluation: Evaluation, system: System) -> dict[tuple[str, str], tuple[str, str, str]]:
    """Of each finding by rule and subject: its severity, its words, who waived it."""
    said = {}
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        said[outcome.rule, outcome.subject.path] = (
            found.severity.value,
            sentence(found.headline, found.figures, system),
            f" (waived by {outcome.waived})" if outcome.waived else "",
        )
    return said


def tables_of(compared: tuple[Alternative, ...], system: System) -> tuple[Table, ...]:
    """All tables of a comparison of options, in words first."""
    return (
        in_words(compared, system),
        changes(compared),
        what_differs(compared, system),
        findings_that_differ(compared, system),
        not_computed_table(compared, system),
    )


def as_data(compared: tuple[Alternative, ...], system: System) -> dict[str, object]:
    """A comparison of options for JSON: which well, the tables, and why an option cannot be."""
    base = compared[0].evaluation
    assert base is not None
    identity = base.plan.identity
    return {
        "well": identity.name,
        "file": identity.file,
        "file hash": identity.file_hash,
        "units": system,
        "tables": [table_data(table, system) for table in tables_of(compared, system)],
        "refused": {one.name: [str(problem) for problem in one.problems] for one in compared if one.problems},
        "caution": CAUTION,
    }
