"""The report of the checks: what was found, then the missing inputs worth most, then one line of the rest."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.export.tables import Column, Table, figure_data
from schematic.outcome import DoesNotApply, Figure, Found, NotChecked, Passed, Severity, sentence
from schematic.units import System

_MOST_MISSING = 10


def plural(count: int, word: str) -> str:
    """Count with its word: "1 error", "2 errors"."""
    return f"{count} {word}" if count == 1 or word == "advice" else f"{count} {word}s"


def counts(evaluation: Evaluation) -> str:
    """How many findings of each severity; waived ones are counted apart."""
    words = [plural(evaluation.count(severity), severity.value) for severity in Severity]
    waived = sum(bool(outcome.waived) for outcome in evaluation.outcomes)
    return ", ".join(words) + (f", {waived} waived" if waived else "")


def missing_inputs(evaluation: Evaluation) -> tuple[tuple[str, int], ...]:
    """Missing inputs as they are read, with the number of checks each would unlock, most first.

    Parts that share a name are asked for once.
    """
    tally: Counter[str] = Counter()
    lacks = [one.answer.missing for one in evaluation.outcomes if isinstance(one.answer, NotChecked)]
    read = {name: readable(evaluation, name) for name in {name for missing in lacks for name in missing}}
    for missing in lacks:
        tally.update({read[name] for name in missing})
    return tuple(sorted(tally.items(), key=lambda item: (-item[1], item[0])))


def readable(evaluation: Evaluation, path: str) -> str:
    """A missing input by the name of its part, where a path would only give a number.

    A collar whose ball seat is given still has a bore of its own, in which the plug stops: it says so.
    """
    if not path.startswith(("liner.", "running string.", "bore of ")):  # where parts stand in the file
        return path
    depth = evaluation.plan.depth
    seats = (part for part in depth.liner.parts if part.seat_m is not None)
    if any(path == f"bore of {part.name}" for part in seats):
        return f"{path} once its ball seat is gone"
    named = {part.path: part.name for part in depth.liner.parts}
    named |= {part.path: part.name for part in (depth.running.parts if depth.running else ())}
    for its, name in named.items():
        if path.startswith(f"{its}."):
            what = path.removeprefix(f"{its}.").rpartition(", its ")[2]  # of "pipe, its grade" the grade
            return f"{what} of {name}"
    return path


_SECTIONS = ("cement", "formation", "hole", "installation", "limits", "liner", "running string", "well")
_NAMES = {  # of fields whose key alone is no word for what is missing
    "bump over final": "bump pressure over the final pressure",
    "coupling od": "coupling OD",
    "held at": "pressure it was held at",
    "id": "ID",
    "od": "OD",
    "plug releases at": "release pressure of the wiper plug",
    "pups": "list of the pups at the rig",
    "rack": "joints on the rack",
    "seat": "place of the ball seat",
    "set down": "set-down weight",
    "sets at": "setting pressure",
    "tool releases at": "release pressure of the running tool",
}
_NEXT_PATH = re.compile(r", (?=[a-z][a-z ]*\.)")  # between paths that are told in one text


def in_words(evaluation: Evaluation, names: Sequence[str]) -> str:
    """Missing inputs without their paths in the file: ``friction (installation), travel of slick joint``."""
    its = [one for name in names for one in _NEXT_PATH.split(name)]
    return ", ".join(dict.fromkeys(path_in_words(readable(evaluation, name)) for name in its))


def path_in_words(missing: str) -> str:
    """A place of the file as a reader would say it: ``lap (liner)``, ``length of drill pipe``."""
    place, dot, key = missing.rpartition(".")
    name = _NAMES.get(key, key)
    if missing == "ball seat":
        return "bore of the ball seat"
    if not dot or name.startswith(" "):  # a name that has a dot of its own is no path
        return missing
    if place == "installation":
        return name
    whose = re.sub(r"^(liner|running string)\.assembly\.|^(fluids|strings)\.", "", place)
    whose = re.sub(r"^installation\.tests\.", "test ", whose)
    if whose != place or place.partition(".")[0] not in _SECTIONS:
        return f"{name} of {whose}"
    return f"{name} ({place.replace('.', ' ')})"


def assumed_texts(evaluation: Evaluation) -> tuple[str, ...]:
    """What was assumed, and what counts as something else because the file does not give it."""
    return (*evaluation.plan.assumptions, *evaluation.volumes.notes)


def not_computed(evaluation: Evaluation) -> tuple[str, ...]:
    """What is not computed and what it needs, or that no file plans it; one text each."""
    needs = (f"{one.what}: needs {in_words(evaluation, one.needs)}" for one in evaluation.missing)
    return (*needs, *(f"{what}: {UNPLANNED}" for what in unplanned(evaluation)))


UNPLANNED = "not planned in this file"


def unplanned(evaluation: Evaluation) -> tuple[str, ...]:
    """What parts of the liner ask for and the plan has no place for: a second stage, a packer's inflation."""
    asks = {"stage collar": "second stage through the", "external packer": "inflation volume of the"}
    parts = evaluation.plan.depth.liner.parts
    return tuple(dict.fromkeys(f"{asks[part.kind]} {part.name}" for part in parts if part.kind in asks))


def status(evaluation: Evaluation) -> str:
    """What was found, or that nothing was, and how many inputs are missing."""
    some = [words for words in counts(evaluation).split(", ") if not words.startswith("0 ")]
    if missing := len(missing_inputs(evaluation)):
        return ", ".join([*(some or ["nothing found"]), f"{plural(missing, 'input')} missing"])
    return ", ".join(some) or "nothing found"


def as_text(evaluation: Evaluation, system: System) -> str:
    """The report for a terminal."""
    lines = [status(evaluation)]
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        lines += [
            "",
            f"{found.severity.value}  {outcome.rule}"
            + (f"  (waived by {outcome.waived})" if outcome.waived else ""),
            f"  {sentence(found.what, found.figures, system)}",
            f"  {sentence(found.mend, found.figures, system)}",
        ]
        if found.limit:
            lines.append(f"  limit {found.limit.text}, {found.limit.owner}: {found.limit.source}")
    missing = missing_inputs(evaluation)
    if missing:
        lines += ["", "not checked for want of:"]
        lines += [f"  {name}  ({plural(count, 'check')})" for name, count in missing[:_MOST_MISSING]]
        if len(missing) > _MOST_MISSING:
            lines.append(f"  and {len(missing) - _MOST_MISSING} more")
    if lacking := not_computed(evaluation):
        lines += ["", "not computed:", *(f"  {text}" for text in lacking)]
    assumed = assumed_texts(evaluation)
    if assumed:
        lines += ["", "assumed or not given:", *(f"  {text}" for text in assumed)]
    kinds = Counter(type(outcome.answer) for outcome in evaluation.outcomes)
    lines += [
        "",
        f"{kinds[Passed]} passed, {kinds[NotChecked]} not checked, {kinds[DoesNotApply]} do not apply.",
    ]
    return "\n".join(lines)


def open_points(evaluation: Evaluation) -> tuple[Table, ...]:
    """What is not checked, not computed, assumed or not given, as tables for CSV."""
    unchecked = tuple(
        (outcome.rule, outcome.subject.name, ", ".join(outcome.answer.missing))
        for outcome in evaluation.outcomes
        if isinstance(outcome.answer, NotChecked)
    )
    made = (
        Table("Not checked", (Column("rule"), Column("subject"), Column("needs")), unchecked),
        Table(
            "Not computed",
            (Column("quantity"), Column("needs")),
            (
                *((one.what, ", ".join(one.needs)) for one in evaluation.missing),
                *((what, UNPLANNED) for what in unplanned(evaluation)),
            ),
        ),
        Table(
            "Assumed or not given", (Column("what"),), tuple((text,) for text in assumed_texts(evaluation))
        ),
    )
    return tuple(table for table in made if table.rows)


def as_data(evaluation: Evaluation, system: System) -> list[dict[str, object]]:
    """Every outcome for JSON, findings with their sentence, figures and limit."""
    data: list[dict[str, object]] = []
    for outcome in evaluation.outcomes:
        answer = outcome.answer
        row: dict[str, object] = {
            "rule": outcome.rule,
            "subject": outcome.subject.name,
            "path": outcome.subject.path,
        }
        if isinstance(answer, Found):
            row |= {
                "outcome": "found",
                "severity": answer.severity.value,
                "what": sentence(answer.what, answer.figures, system),
                "mend": sentence(answer.mend, answer.figures, system),
                "at_md_m": list(answer.at_md_m),
                "figures": {
                    name: figure_data(value, system) if isinstance(value, Figure) else value
                    for name, value in answer.figures.items()
                },
                "waived": outcome.waived or None,
            }
        elif isinstance(answer, Passed):
            row["outcome"] = "passed"
            if answer.value is not None:
                row["value"] = figure_data(answer.value, system)
        elif isinstance(answer, NotChecked):
            row |= {"outcome": "not checked", "missing": list(answer.missing)}
        else:
            row |= {"outcome": "does not apply", "reason": answer.reason}
        if isinstance(answer, Found | Passed) and answer.limit is not None:
            row["limit"] = {
                "text": answer.limit.text,
                "si": answer.limit.si,
                "owner": answer.limit.owner,
                "source": answer.limit.source,
            }
        data.append(row)
    return data
