"""Findings of several wells beside one another: each has one letter wherever it occurs."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.comparison.compare import Alternative
from schematic.drawing.captions import THIN
from schematic.export.tables import Column, Table
from schematic.outcome import Found, sentence
from schematic.units import System, sentence_case

Letters = dict[tuple[str, str], str]  # of a rule and the path of its subject


def shared_letters(evaluations: Sequence[Evaluation]) -> Letters:
    """One letter for each finding, the same in all wells; those of the first well come first."""
    letters: Letters = {}
    for evaluation in evaluations:
        for outcome in evaluation.findings:
            letters.setdefault((outcome.rule, outcome.subject.path), _letter(len(letters)))
    return letters


def _letter(count: int) -> str:
    first, second = divmod(count, 26)
    return ("" if first == 0 else chr(96 + first)) + chr(97 + second)


def findings_table(alternatives: Sequence[Alternative], letters: Letters, system: System) -> Table:
    """Every finding with its letter, and in which wells it is; a row for each way in which it is said."""
    able = [one for one in alternatives if one.evaluation is not None]
    rows: list[tuple[str, ...]] = []
    for key, letter in letters.items():
        said: dict[tuple[str, str], list[str]] = {}  # severity and words: the wells of which they are said
        for one in able:
            assert one.evaluation is not None
            for outcome in one.evaluation.findings:
                found = outcome.answer
                if (outcome.rule, outcome.subject.path) != key or not isinstance(found, Found):
                    continue
                what = sentence_case(sentence(found.headline, found.figures, system, THIN))
                what += f" (waived by {outcome.waived})" if outcome.waived else ""
                said.setdefault((found.severity.value, what), []).append(one.name)
        rows += [
            (letter, severity, "all" if len(names) == len(able) else ", ".join(names), what)
            for (severity, what), names in said.items()
        ]
    heads = ("letter", "severity", "in", "what")
    return Table("Findings and their letters", tuple(Column(head) for head in heads), tuple(rows))
