"""What the page says beside the drawing, as plain data: the bar, findings, the chosen part, tables.

Pure functions; every text is data for :mod:`app.answers_view`, which makes no markup of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from functools import cache
from typing import Any

from schematic import verbs
from schematic.catalogue.glossary import meaning
from schematic.checks.evaluate import Evaluation, topic
from schematic.checks.remedies import Remedy
from schematic.comparison.compare import findings_between
from schematic.comparison.figures import key_figures as key_figures_of
from schematic.drawing.column import basis_of
from schematic.drawing.detail_parts import part_words
from schematic.drawing.findings import letters
from schematic.drawing.job_zone import assumptions
from schematic.drawing.scene import Sheet, Text
from schematic.export.recorded import recorded_table, value_told
from schematic.export.report import assumed_texts, plural
from schematic.export.tables import Cell, Column, Table, liner_table, tables, volumes_table
from schematic.job.box_maker import MAY_BE_LESS
from schematic.job.card import Card, Say
from schematic.job.facts import BLANK
from schematic.job.recorded import Compared, beside_plan, box_unit
from schematic.outcome import Figure, Found, NotChecked, Outcome, Passed, Severity, sentence
from schematic.units import System, UnitError, like_in, number, sentence_case, show, unit_of
from schematic.wellfile.path import split
from schematic.wellfile.problem import Problem

Block = dict[str, Any]
Needs = Callable[[Sequence[str]], str]  # missing inputs in the words of the inspector

_THIN = "\u202f"  # narrow no-break space between thousands
_ASSUMED = "\u2248"  # before a length, as on the sheet
_LESS = "The limit may be less by what is not known"
_MOST_TOLD = 4  # in one line of what followed from a change
_ASKED = re.compile(r"(?P<what>How far [^.:]*): \{(?P<name>\w+)\}\.")  # a question and its figure


def bar(evaluation: Evaluation, kept: str, changed: bool) -> list[Block]:
    """The well's name, which revision it is, and whether what is on screen is kept."""
    identity = evaluation.plan.identity
    its = identity.revision
    revision = f"revision {its.number}{' changed' * bool(its.changed)}, " if its else ""
    state = f"{revision}{identity.standing}"
    return [{"kind": "bar", "name": identity.name, "state": state, "kept": kept, "changed": changed}]


def counts(evaluation: Evaluation) -> list[tuple[str, str]]:
    """The counts of the checks, each with its sign; what was accepted is in none of the severities."""
    kinds = [type(outcome.answer) for outcome in evaluation.outcomes]
    signs = [(severity.value, plural(evaluation.count(severity), severity.value)) for severity in Severity]
    accepted = sum(bool(outcome.waived) for outcome in evaluation.outcomes)
    signs += [("accepted", f"{accepted} accepted")] if accepted else []
    signs += [("unchecked", f"{kinds.count(NotChecked)} not checked")]
    return [*signs, ("passed", f"{kinds.count(Passed)} passed")]


def name_of(outcome: Outcome) -> str:
    """What tells an outcome from all others: its rule and its subject."""
    return f"{outcome.rule} {outcome.subject.path}"


def found_rows(evaluation: Evaluation) -> list[Block]:
    """A row for each finding, the worst first: its letter on the drawing and its headline."""
    return [
        {
            "id": name_of(outcome),
            "sign": outcome.answer.severity.value,
            "spoken": f"{outcome.answer.severity.value} {letter}",
            "letter": letter,
            "text": headline(outcome, evaluation.plan.identity.system),
            "figure": "accepted" if outcome.waived else "",
        }
        for letter, outcome in letters(evaluation)
        if isinstance(outcome.answer, Found)
    ]


def headline(outcome: Outcome, system: System) -> str:
    """A finding in one line."""
    return sentence_case(_headline(outcome, system))


def _headline(outcome: Outcome, system: System) -> str:
    assert isinstance(outcome.answer, Found)
    return sentence(outcome.answer.headline, outcome.answer.figures, system)


def followed(change: str, before: Evaluation, now: Evaluation) -> list[Block]:
    """What a change did to the findings: new, gone, with another figure, not checked any more or checked now.

    The letters are those that the findings have now. Nothing where nothing of it changed.
    """
    system = now.plan.identity.system
    had, lettered = {name_of(one) for one in before.findings}, letters(now)
    told: dict[str, list[str]] = {how: [] for how in ("appears", "goes", "changes", "not checked")}
    for how, severity, rule, words in findings_between(before, now, system):
        if how not in ("appears", "changes"):
            told[how].append(sentence_case(words if severity else topic(rule)))
            continue
        its = next(
            (letter, one)
            for letter, one in lettered
            if one.rule == rule
            and (name_of(one) in had) == (how == "changes")
            and words.startswith(_headline(one, system))
        )
        lettered.remove(its)
        told[how].append(its[0] if how == "changes" else f"{its[0]} {headline(its[1], system)}")
    waited, waits = _rules_waiting(before), _rules_waiting(now)
    found = {one.rule for one in now.findings}
    passed = {one.rule for one in now.outcomes if isinstance(one.answer, Passed)} - found
    now_passed = [sentence_case(topic(rule)) for rule in waited if rule not in waits and rule in passed]
    lines = [
        f"{head}: {_some(its)}."
        for head, its in (
            ("New", told["appears"]),
            ("Gone", told["goes"]),
            ("Not checked any more", list(dict.fromkeys(told["not checked"]))),
            ("Checked now, nothing found", now_passed),
            ("Still there with another figure", [", ".join(told["changes"])] if told["changes"] else []),
        )
        if its
    ]
    return [{"kind": "followed", "head": f"After {change}", "lines": lines}] if lines else []


def _some(its: list[str]) -> str:
    """The first of a list in one line, and how many more."""
    more = f"; and {len(its) - _MOST_TOLD} more" if len(its) > _MOST_TOLD else ""
    return f"{'; '.join(its[:_MOST_TOLD])}{more}"


def _rules_waiting(evaluation: Evaluation) -> list[str]:
    """The rules of which something is not checked."""
    its = [one.rule for one in evaluation.outcomes if isinstance(one.answer, NotChecked)]
    return list(dict.fromkeys(its))


def unchecked_rows(evaluation: Evaluation, needs: Needs) -> list[Block]:
    """A row for each rule that could not look, with what it would look at where it does so at several things,
    and what it needs; those of one name that need the same stand in one row with their count.
    """
    waiting = [(one, one.answer) for one in evaluation.outcomes if isinstance(one.answer, NotChecked)]
    names: dict[str, set[str]] = {}
    for outcome, _answer in waiting:
        names.setdefault(outcome.rule, set()).add(outcome.subject.name)
    alike: dict[tuple[str, str], list[str]] = {}  # what is said, and of which outcomes
    for outcome, answer in waiting:
        of = f": {outcome.subject.name}" if len(names[outcome.rule]) > 1 else ""
        said = f"{sentence_case(topic(outcome.rule))}{of}", f"needs {needs(answer.missing)}"
        alike.setdefault(said, []).append(name_of(outcome))
    return [
        {
            "id": its[0],
            "sign": "unchecked",
            "spoken": "not checked",
            "letter": None,
            "text": f"{text} ({len(its)})" if len(its) > 1 else text,
            "figure": figure,
        }
        for (text, figure), its in alike.items()
    ]


def not_computed(evaluation: Evaluation, needs: Needs) -> list[Block]:
    """What is not computed for want of an input."""
    its = [f"{one.what} needs {needs(one.needs)}" for one in evaluation.missing]
    return [{"kind": "note", "text": f"Not computed: {'; '.join(its)}."}] if its else []


def wanted_rows(wanted: Iterable[tuple[str, str]]) -> list[Block]:
    """A row for each input that checks wait for: what it is called, and how many wait for it."""
    return [
        {
            "id": str(number),
            "sign": "unchecked",
            "spoken": "",
            "letter": None,
            "text": called,
            "figure": count,
        }
        for number, (called, count) in enumerate(wanted)
    ]


def found_note(evaluation: Evaluation, name: str) -> list[Block]:
    """One finding in full: its sentence, what mends it, where, whose limit, what the rule looks at."""
    system = evaluation.plan.identity.system
    letter, outcome = next(one for one in letters(evaluation) if name_of(one[1]) == name)
    assert isinstance(outcome.answer, Found)
    slip = {"kind": "slip", **_slip(letter, outcome, system)}
    if outcome.answer.at_md_m:
        depths = [show(md, "depth", system, _THIN) for md in outcome.answer.at_md_m]
        slip["quiet"].insert(0, f"At {', '.join(dict.fromkeys(depths))}")
    slip["quiet"].append(f"Depends on: {_looks_at()[outcome.rule]}")
    return [slip]


def value_called(path: str) -> str:
    """What stands at a path, in words: ``lap``, ``intermediate casing, shoe``, ``pressures 2, pore``."""
    words: list[str] = []
    for step in split(path):
        if step.isdigit() and words:
            words[-1] += f" {int(step) + 1}"
        else:
            words.append(step)
    alone = len(words) == 2 and words[0] == split(path)[0]  # the section says no more than the key
    return ", ".join(words[-1:] if alone else words[-2:])


def place_called(path: str) -> str:
    """What stands at a path, with the section it is of: ``Lap (liner)``, ``Mud, density (fluids)``."""
    words, section = sentence_case(value_called(path)), split(path)[0]
    return words if section in words.casefold() else f"{words} ({section})"


def without_codes(table: Table) -> Table:
    """Findings that differ (their last columns: how, severity, rule, what) by what the rules look at."""

    def told(how: Cell, severity: Cell, rule: Cell, what: Cell) -> str:
        looks_at = topic(str(rule))
        if str(how).startswith("not checked"):
            return sentence_case(looks_at if not severity or str(what).startswith("needs ") else str(what))
        return sentence_case(str(what) if severity else f"{looks_at}: {what}")

    rows = tuple(dict.fromkeys((*row[:-2], told(*row[-4:])) for row in table.rows))
    return Table(table.title, (*table.columns[:-2], table.columns[-1]), rows)


def written_in_words(table: Table) -> Table:
    """What is written otherwise, each value by its name and not by its path."""
    rows = tuple((place_called(str(path)), *row) for path, *row in table.rows)
    return table._replace(columns=(Column("what"), *table.columns[1:]), rows=rows)


def remedy_called(remedy: Remedy) -> str:
    """The value that a remedy writes, by its name: ``Lap 382 ft``."""
    return f"{sentence_case(value_called(remedy.path))} {remedy.after}"


def remedy_told(remedy: Remedy, called: Mapping[str, str], mended: Collection[str], system: System) -> str:
    """What goes from what to what, which findings that clears, what it brings; of that, what was
    *mended* before and comes back.
    """
    gone = [called[name_of(one)] for one in remedy.clears]
    back = [headline(one, system) for one in remedy.brings if name_of(one) in mended]
    new = [headline(one, system) for one in remedy.brings if name_of(one) not in mended]
    said = [f"{sentence_case(value_called(remedy.path))}: {remedy.before} to {remedy.after}"]
    said += [f"Clears {' and '.join(gone)}"]
    said += [f"Brings back what was mended before: {'; '.join(back)}"] if back else []
    said += [f"Brings: {'; '.join(new)}"] if new else []
    return f"{'. '.join(said if remedy.brings else [*said, 'Brings nothing new'])}."


@cache
def _looks_at() -> dict[str, str]:
    """What each rule checks, from its manual page."""
    found = {}
    for page in verbs.rules():
        words = page.page.partition("What it checks\n")[2].partition("\nWhy it matters")[0]
        found[page.code] = " ".join(words.split())
    return found


def key_figures(evaluation: Evaluation, needs: Needs) -> list[Block]:
    """Eight figures that follow from the depths; one that is not known says what it needs."""
    system = evaluation.plan.identity.system
    cells = []
    for label, its in key_figures_of(evaluation):
        if isinstance(its, Figure):
            cells.append({"label": label, "value": _printed(its, system, unit=True)})
        else:
            first, *rest = dict.fromkeys(needs([name]) for name in its)
            more = f" and {len(rest)} more" if rest else ""  # there is no room for all
            cells.append({"label": label, "value": None, "needs": f"{first}{more}"})
    return [{"kind": "part", "name": "", "lines": [], "cells": cells, "four": True}]


def _slip(letter: str, outcome: Outcome, system: System) -> Block:
    """A finding: its letter on the drawing, headline, sentence, mend, whose limit, who accepted it."""
    found = outcome.answer
    assert isinstance(found, Found)
    limit = found.limit
    return {
        "sign": found.severity.value,
        "letter": letter,
        "head": sentence_case(sentence(found.headline, found.figures, system)),
        "lines": [
            sentence(found.what, found.figures, system),
            sentence(found.mend, found.figures, system),
        ],
        "quiet": [
            *([f"Limit {limit.text}, {limit.owner}: {limit.source}"] if limit else []),
            *([f"Accepted by {outcome.waived}"] if outcome.waived else []),
        ],
    }


def refused(problems: Iterable[Problem] | str) -> list[Block]:
    """Why a typed value was not taken: for each problem what was found, what is accepted, the mend."""
    kept = "Not taken; drawing and figures are those of the value before."
    if isinstance(problems, str):
        return [
            {"kind": "slip", "sign": "error", "letter": "!", "head": kept, "lines": [problems], "quiet": []}
        ]
    return [
        {
            "kind": "slip",
            "sign": "error",
            "letter": "!",
            "head": kept,
            "lines": [f"Found: {each.found}", f"Accepted: {each.accepted}", f"Mend: {each.mend}"],
            "quiet": [f"{place_called(each.path)}, line {each.line} of the file"]
            if each.line and each.path
            else [],
        }
        for each in problems
    ]


def in_percent(problem: Problem) -> str:
    """A share that was typed as a number above 1 without its unit, in percent; "" for all others."""
    bare = re.fullmatch(r"\d+(\.\d+)?", problem.found) and "without a unit" in problem.mend
    return f"{problem.found} %" if bare and problem.accepted.startswith("a share") else ""


def named(sheet: Sheet, chosen: dict[str, str] | None) -> str | None:
    """What the chosen thing is called in this drawing; None when nothing of it is drawn.

    A thing goes by the name of its body, however it was chosen; of several by the chosen one's, else by
    the first, which is that of the main column. Without a body the words chosen count.
    """
    if not chosen:
        return None
    its = [group for scene in sheet.scenes for group in scene.groups if group.part == chosen["part"] != ""]
    bodies = [group for group in its if not any(isinstance(shape, Text) for shape in group.shapes)]
    if bodies:
        names = [body.title for body in bodies]
        return chosen["title"] if chosen["title"] in names else names[0]
    titles = [group.title for group in its]
    return chosen["title"] if chosen["title"] in titles else next(iter(titles), None)


def part(
    evaluation: Evaluation, sheet: Sheet, chosen: dict[str, str] | None, called: str | None = None
) -> list[Block]:
    """The chosen thing: its name, what it does, its figures, its findings; *called* where it is not drawn."""
    name = named(sheet, chosen) or called
    if chosen is None or name is None:
        return [{"kind": "note", "text": "Choose a part in the drawing: its figures then stand here."}]
    path = chosen["part"]
    word, cells = _facts(evaluation, path)
    system = evaluation.plan.identity.system
    its = [letter for letter, outcome in letters(evaluation) if outcome.subject.path == path]
    lines = [
        meaning(word) or "",
        f"{'Finding' if len(its) == 1 else 'Findings'} {', '.join(its)}" if its else "",
    ]
    return [
        {
            "kind": "part",
            "name": name,
            "lines": [line for line in lines if line],
            "cells": [
                {"label": label, "value": _printed(cell, system, unit=True)}
                for label, cell in cells
                if cell != ""
            ],
        }
    ]


def figures(evaluation: Evaluation) -> list[Block]:
    """All tables, as the command prints them: units in the heads, empty columns left out."""
    system, liner = evaluation.plan.identity.system, liner_table(evaluation)
    return [
        table_block(marked_liner(evaluation) if table == liner else table, system)
        for table in tables(evaluation)
    ]


def marked_liner(evaluation: Evaluation) -> Table:
    """The liner part by part with the signs of the sheet: an assumed length, a size that is not given."""
    table, system = liner_table(evaluation), evaluation.plan.identity.system
    rows, signs = [], set()
    for its, (name, top, bottom, *cells) in zip(part_words(evaluation, system), table.rows, strict=True):
        printed = [its.figures["length"], its.figures["OD"], its.figures["ID"]]
        assumed = printed[0][0] == _ASSUMED
        said: list[Cell] = [f"{_ASSUMED}{_printed(cells[0], system)}" if assumed else cells[0]]
        said += [text if cell is None else cell for cell, text in zip(cells[1:], printed[1:], strict=True)]
        signs |= {text[0] for text in printed}
        rows.append((name, top, bottom, *said))
    words = {_ASSUMED: "assumed", "?": "not given"}
    note = ", ".join(f"{sign} {word}" for sign, word in words.items() if sign in signs)
    return table._replace(rows=tuple(rows), note=note)


def assumed(evaluation: Evaluation) -> list[Block]:
    """What the figures rest on beside what is given, as the sheet says it."""
    if not assumed_texts(evaluation):
        return []
    return [{"kind": "note", "text": f"Assumed or not given: {' '.join(assumptions(evaluation))}"}]


def table_block(table: Table, system: System) -> Block:
    """A table: units in the heads, empty columns left out."""
    columns = [
        i for i in range(len(table.columns)) if any(row[i] is not None and row[i] != "" for row in table.rows)
    ]
    units = [
        unit_of(column.kind, system).replace("m3", "m\u00b3") if column.kind else ""
        for column in table.columns
    ]
    return {
        "kind": "table",
        "title": table.title,
        "heads": [", ".join(filter(None, (table.columns[i].head, units[i]))) for i in columns],
        "figures": [
            bool(table.columns[i].kind) or any(isinstance(row[i], Figure) for row in table.rows)
            for i in columns
        ],
        "rows": [[_printed(row[i], system) or "" for i in columns] for row in table.rows],
        "note": table.note,
    }


def to_settle(evaluation: Evaluation, changed: bool) -> list[Block]:
    """What should be settled before a plan is handed over; *changed*: it is not what its revision issued."""
    identity, kinds = evaluation.plan.identity, [type(one.answer) for one in evaluation.outcomes]
    open_ = [
        plural(evaluation.count(severity), severity.value)
        for severity in (Severity.ERROR, Severity.WARNING)
        if evaluation.count(severity)
    ]
    lines = [f"{' and '.join(open_)} not accepted: look at them on Plan."] if open_ else []
    unchecked = kinds.count(NotChecked)
    if unchecked:
        lines.append(f"{unchecked} not checked for want of an input.")
    if identity.revision is None:
        lines.append("The plan has no revision yet.")
    elif changed:
        lines.append(f"Changed since revision {identity.revision.number}: make the next one.")
    if identity.revision is None or not (identity.revision.changed or identity.revision.checked_by):
        lines.append("Nobody stands under 'checked by' of the revision.")
    head, sign = ("Settle first", "warning") if lines else ("Nothing is open", "passed")
    letter = "!" if lines else "\u2713"
    return [{"kind": "slip", "sign": sign, "letter": letter, "head": head, "lines": lines, "quiet": []}]


def _in_words(say: Say, lacks: Mapping[str, str]) -> Say:
    """A sentence that says once what its figures need, where paper has room for a pen."""
    asked = _ASKED.search(say.text)
    if asked and say.figures[asked["name"]] == BLANK and asked["name"] in lacks:
        clause = f"{asked['what']} is not computed: it needs {{{asked['name']}}}."
        text = f"{say.text[: asked.start()]}{clause}{say.text[asked.end() :]}"
        return Say(text, {**say.figures, asked["name"]: lacks[asked["name"]]})
    told: dict[str, Any] = {**say.figures}
    for name, its in say.figures.items():
        if its == BLANK:
            need = f"[not computed, needs {lacks[name]}]" if name in lacks else "[not computed]"
            told[name] = "[not computed]" if need in told.values() else need
    return say._replace(figures=told)


def _said(say: Say, system: System, needs: Needs) -> str:
    lacks = say.figures.get("needs")
    figures = {**say.figures, "needs": needs([lacks])} if isinstance(lacks, str) else say.figures
    return sentence_case(sentence(say.text, figures, system)).replace("m3", "m\u00b3")


def _limit(say: Say, system: System) -> list[Block]:
    """A sentence in pieces: its figures, which are shown as large as that of the box, and what is between."""
    pieces = re.split(r"\{(\w+)\}", say.text)  # every second one names a figure
    made = []
    for at, piece in enumerate(pieces):
        figure = say.figures[piece] if at % 2 else None
        large = isinstance(figure, Figure)
        text = _printed(figure, system, unit=True) if at % 2 else piece
        made.append({"text": text or "", "large": large})
    return [piece for piece in made if piece["text"]]


def _after(head: str, word: str) -> str:
    """What stands in a box, without the words of its head: 'Next' says next, 'Never exceed' no more."""
    return word.removesuffix(" next") if head == "Next" else word.replace(" no more", "", 1)


def card(evaluation: Evaluation, its: Card, needs: Needs) -> list[Block]:
    """A step card: the three boxes, weight and count as facts, what is done, seen, and what if not."""
    system = evaluation.plan.identity.system

    lacks = {one.what.replace(" ", "_"): needs(one.needs) for one in its.needs}

    def said(say: Say) -> str:
        return _said(_in_words(say, lacks), system, needs)

    boxes, less = [], []
    for head, box in zip(("Now", "Next", "Never exceed"), (its.now, its.next, its.never), strict=True):
        figure = _printed(box.figure, system, unit=True) if box.figure is not None else None
        lines = [said(line) for line in box.lines]
        less += [line.replace(MAY_BE_LESS, _LESS, 1) for line in lines if line.startswith(MAY_BE_LESS)]
        lines = [line for line in lines if not line.startswith(MAY_BE_LESS)]
        made = {
            "head": head,
            "what": _after(head, box.word) if figure else "",
            "figure": figure or box.word,
            "known": figure is not None,
            "strong": box.strong,
            "lines": lines,
            "limit": _limit(_in_words(box.lines[0], lacks), system)
            if box.strong and figure and box is its.never
            else [],
        }
        held = head == "Now" and its.on_hold
        if held and (figure or box.word != "not computed"):
            # what is not to be done is not the largest on the screen
            why = f"waits for step {its.waits_for}" if its.waits_for else "on hold"
            planned = f"Planned, {why}: {made['figure']}."
            if box.word == "no figure":
                planned = f"{sentence_case(why)}."
            made |= {
                "figure": "not yet",
                "known": False,
                "what": "",
                "strong": True,
                "lines": [planned, *lines],
                "limit": [],
            }
        boxes.append({**made, "held": held})
    facts = [
        {"label": "pressure", "value": " ".join(said(say) for say in its.pressure)},
        {"label": "volume", "value": " ".join(said(say) for say in its.volume)},
    ]
    given = [n for n in (its.weight.before_n, its.weight.after_n) if n is not None]
    if given:
        *first, last = (Figure(n, "force") for n in given)
        loads = [_printed(one, system) or "" for one in first] + [_printed(last, system, unit=True) or ""]
        facts.append({"label": f"hook load, {its.weight.motion}", "value": " \u2192 ".join(loads)})
    beside_load: list[str] = []  # what is no load stands as a sentence of its own
    its_words = [said(say) for say in its.weight.says]
    motion = sentence_case(its.weight.motion)
    how = f", {its.weight.motion}" if motion and motion in its_words else ""
    for say, words in zip(its.weight.says, its_words, strict=True):
        load = re.fullmatch(r"([^{;]+) (\{\w+\})", say.text)
        if load and all(isinstance(one, Figure) and one.kind == "force" for one in say.figures.values()):
            facts.append({"label": f"hook load, {load[1]}{how}", "value": said(say._replace(text=load[2]))})
        elif not given and say is its.weight.says[0]:
            facts.append({"label": "hook load", "value": words})
        elif words != motion:
            beside_load.append(f"{words.removesuffix('.')}.")
    counts = []
    for count in its.counts:
        told = _printed(Figure(count.m3, "volume"), system, unit=True) or ""
        if count.strokes is not None:
            told += f", {_printed(Figure(count.strokes, 'count'), system)} strokes"
        if count.at_rest_pa is not None:
            told += f", at rest {_printed(Figure(count.at_rest_pa, 'pressure'), system, unit=True)}"
        counts.append({"label": count.event, "value": told})
    since = {count.since for count in its.counts}
    head = f"Volume from {since.pop()}" if len(since) == 1 else "Volume to the next events"
    if any(count.at_rest_pa is not None for count in its.counts):
        head += ", pressure at rest"

    def listed(title: str, lines: list[str]) -> list[Block]:
        return [{"kind": "list", "title": title, "lines": lines}] if lines else []

    seen = listed("You should see", [said(say) for say in its.look_for])
    otherwise = [f"{said(one.question)} {said(one.action)}" for one in its.if_not]
    beside = seen + listed("If not", otherwise)
    lists = [
        *([{"kind": "pair", "blocks": beside}] if beside else []),
        *listed("Caution", [said(say) for say in its.caution]),
    ]
    state_ = "; ".join(f"{thing} {how}" for thing, how in its.state)
    return [
        {"kind": "boxes", "boxes": boxes},
        *({"kind": "note", "text": line} for line in less),
        *listed("Do", [said(say) for say in its.do]),
        *([{"kind": "part", "name": "", "lines": [], "cells": facts}] if facts else []),
        *([{"kind": "part", "name": head, "lines": [], "cells": counts}] if counts else []),
        *listed("Hook load", beside_load),
        *lists,
        {"kind": "note", "text": f"{sentence_case(state_)}."},
        *(
            [
                {"kind": "note", "text": f"Not computed: {one.what}, needs {needs(one.needs)}."}
                for one in its.needs
            ]
        ),
    ]


def box_label(head: str, system: System) -> str:
    """A box of a card with the unit that a number alone gets."""
    unit = "" if head.endswith(", in") else box_unit(head, system).replace("m3", "m\u00b3")
    return f"{head}, {unit}" if unit else head


def units_told(its: Card, system: System) -> str:
    """What a number alone means in the boxes of a card; nothing where no box names a unit."""
    named = [box_label(head, system) != head or head.endswith(", in") for head in filter(None, its.as_read)]
    if not any(named):
        return ""
    others = "" if all(named) else "; a box without one takes words, a count or a time of day"
    return f"A number alone takes the unit that its box names{others}."


def typed(refused_: Mapping[str, UnitError], far: Mapping[str, Compared], system: System) -> list[Block]:
    """What is said of boxes that were not kept: what goes there, or whether that is meant."""
    slips = [
        _said_of(
            "error",
            f"Not kept: {head} {error.found}",
            [f"Accepted: {error.accepted}", f"Mend: {like_in(error.mend, system)}"],
        )
        for head, error in refused_.items()
    ]
    for head, one in far.items():
        moved = one.expected is not None and one.expected != one.planned
        word, its = ("expected", one.expected) if moved else ("planned", one.planned)
        word, its = (word, its) if its else ("at most", one.most)
        if one.least and not one.most:
            word, its = ("never above", one.limit) if one.limit else ("at least", one.least)
        held = _printed(its, system, unit=True)
        slips.append(
            _said_of(
                "warning",
                f"{sentence_case(head)} {value_told(one, system)}, {word} {held}: keep it all the same?",
                [],
            )
        )
    return slips


def _said_of(sign: str, head: str, lines: list[str]) -> Block:
    return {"kind": "slip", "sign": sign, "letter": "!", "head": head, "lines": lines, "quiet": []}


def kept(evaluation: Evaluation, its: Card, event: str) -> list[tuple[int, Compared]]:
    """What the record holds of a step or of its event beside the plan, each with its place in the record."""
    steps = [step.casefold() for step in (its.title, event) if step]
    lines = evaluation.plan.record
    its_own = [n for n, line in enumerate(lines) if " ".join(line.step.casefold().split()) in steps]
    return [(n, beside_plan(evaluation.job, lines[n])) for n in its_own]


def readings(kept_: Iterable[tuple[int, Compared]], system: System) -> list[Block]:
    """The lines that were kept: what was read, planned, by how much they differ, inside or outside."""
    its = tuple(one for _number, one in kept_)
    table = recorded_table(its, system)
    if not table.rows:
        return []
    rows = tuple(row[1:] for row in table.rows)  # the step is that of the card
    heads = [sentence_case(f"{row[0]} {row[2]}: {row[-2]}") for row in rows]
    above = [
        _said_of("error", head, ["Stop; tell the supervisor."])
        for one, head in zip(its, heads, strict=True)
        if one.limit
    ]
    return [*above, table_block(Table("Recorded", table.columns[1:], rows), system)]


def _printed(cell: Cell, system: System, unit: bool = False) -> str | None:
    """A cell as text, its figure held together by spaces that do not break; None stays None."""
    if not isinstance(cell, Figure):
        return cell
    text = (show if unit else number)(cell.si, cell.kind, system, _THIN)
    return text.replace(" ", "\u00a0").replace("m3", "m\u00b3")


def _facts(evaluation: Evaluation, path: str) -> tuple[str, list[tuple[str, Cell]]]:
    """The word of the glossary for what stands at a path, and its figures; None is one that is not known."""
    depth = evaluation.plan.depth
    parts = marked_liner(evaluation)
    for part_, row in zip(depth.liner.parts, parts.rows, strict=True):
        if part_.path == path:
            heads = [column.head for column in parts.columns]
            cells = [None if cell == "?" else cell for cell in row[1:]]  # the first is its name
            return part_.kind, list(zip(heads[1:], cells, strict=True))
    for string in depth.strings:
        if string.path == path:
            top = None if string.cement_top_md_m is None else Figure(string.cement_top_md_m, "tally")
            return "host casing" if string.name == depth.liner.host else "", [
                ("shoe MD", Figure(string.shoe_md_m, "tally")),
                ("OD", Figure(string.od_m, "diameter")),
                ("ID", Figure(string.id_m, "diameter")),
                ("drift", None if string.drift_m is None else Figure(string.drift_m, "diameter")),
                ("top of cement MD", "driven" if string.driven else top),
                ("known by", basis_of(string.cement_known_by) if top else ""),
            ]
    for piece in depth.running.parts if depth.running else ():
        if piece.path == path:
            return piece.kind, [
                ("top MD", Figure(piece.top_md_m, "tally")),
                ("bottom MD", Figure(piece.bottom_md_m, "tally")),
                ("OD", None if piece.od_m is None else Figure(piece.od_m, "diameter")),
                ("ID", None if piece.id_m is None else Figure(piece.id_m, "diameter")),
            ]
    for section in depth.hole.sections:
        if section.path == path:
            return section.basis, [
                ("bit", Figure(section.bit_m, "diameter")),
                ("top MD", Figure(section.top_md_m, "tally")),
                ("bottom MD", Figure(section.bottom_md_m, "tally")),
                ("size by", section.basis),
            ]
    volumes = volumes_table(evaluation)
    return path.rpartition(".")[2], [
        (column.head, cell)
        for row in volumes.rows
        if f"volumes.{row[0]}" == path
        for column, cell in zip(volumes.columns[1:], row[1:], strict=True)
        if cell is not None
    ]
