"""Findings of several wells beside one another: each has one letter wherever it occurs."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.comparison.compare import Alternative
from schematic.export.tables import Column, Table
from schematic.outcome import Found, Severity, sentence
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
    """Every finding with its letter, and in which wells it is."""
    able = [one for one in alternatives if one.evaluation is not None]
    order = list(Severity)
    rows = []
    for (rule_, path), letter in letters.items():
        having = []
        for one in able:
            assert one.evaluation is not None
            same = [o for o in one.evaluation.findings if (o.rule, o.subject.path) == (rule_, path)]
            if same:
                having.append((one.name, same[0]))
        found = min(
            (o.answer for _name, o in having if isinstance(o.answer, Found)),
            key=lambda f: order.index(f.severity),
        )
        names = "all" if len(having) == len(able) else ", ".join(name for name, _o in having)
        what = sentence_case(sentence(found.headline, found.figures, system))
        waived = having[0][1].waived
        what += f" (waived by {waived})" if waived else ""
        rows.append((letter, found.severity.value, names, what))
    heads = ("letter", "severity", "in", "what")
    return Table("Findings and their letters", tuple(Column(head) for head in heads), tuple(rows))
