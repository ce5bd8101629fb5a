"""What one value of the file would do about a finding: the edit made, the well evaluated again.

A rule says which value may mend what it found; here it is written as the file writes it. Only what makes the
finding go is offered, and it is told what goes with it and what comes instead.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation, evaluate
from schematic.depth.resolve import resolve
from schematic.outcome import Fix, Found, Outcome, Severity
from schematic.units import to_unit
from schematic.wellfile import edit
from schematic.wellfile.nodes import Scalar
from schematic.wellfile.path import PathError, at, locate, spell, split
from schematic.wellfile.problem import InputError
from schematic.wellfile.read import Document, read_text

_NUMBER = re.compile(r"\s*(-?\d+(?:\.(\d+))?)(\s*)([^\d\s+±-][^+±]*|)\s*")
_MORE_DIGITS = 4  # than are written, where the value as it is written would not do


class Remedy(NamedTuple):
    """An edit of one value that makes a finding go: from what to what, the text with it, what it does."""

    path: str
    before: str
    after: str
    text: str
    clears: tuple[Outcome, ...]
    brings: tuple[Outcome, ...]


def remedies(
    document: Document,
    evaluation: Evaluation,
    outcome: Outcome,
    along: Callable[[str, str], str] = lambda text, _value: text,
) -> tuple[Remedy, ...]:
    """The values of the file, each of which alone makes a finding go.

    *along* makes of the text with a value and that value the text in which what hangs on it follows.
    """
    answer = outcome.answer
    found = (
        [_tried(document, evaluation, outcome, fix, along) for fix in answer.fix]
        if isinstance(answer, Found)
        else []
    )
    by_text = {remedy.text: remedy for remedy in found if remedy is not None}
    return tuple(by_text.values())


def _tried(
    document: Document, evaluation: Evaluation, outcome: Outcome, fix: Fix, along: Callable[[str, str], str]
) -> Remedy | None:
    """The remedy that a fix is; None where the file does not write its value, or it does not mend it."""
    try:
        loc = locate(document.root, split(fix.path))
    except PathError:
        return None
    node, _ = at(document.root, loc)
    if not isinstance(node, Scalar) or node.value is None:
        return None
    path = spell(document.root, loc)
    for after in _written(fix, node.value):
        if after == node.value:
            continue
        try:
            text = along(edit.set(document.text, path, after), after)
            then = evaluate(resolve(read_text(text, document.file, document.folder)))
        except (edit.EditError, InputError):
            continue
        clears, brings = between(evaluation, then)
        if _key(outcome) in map(_key, clears):
            return Remedy(path, node.value, after, text, clears, brings)
    return None


def _written(fix: Fix, before: str) -> list[str]:
    """The value with the unit and the digits of what is written, then with more of them."""
    if isinstance(fix.value, str):
        return [fix.value]
    match = _NUMBER.fullmatch(before)
    if match is None:
        return []
    try:
        value = to_unit(fix.value, match[4].strip(), fix.dimension)
    except ValueError:
        return []
    least = len(match[2] or "")
    made = []
    for digits in range(least, least + _MORE_DIGITS + 1):
        scaled = value * 10.0**digits
        grace = 1e-9 * max(1.0, abs(scaled))
        way = {1: math.ceil(scaled - grace), -1: math.floor(scaled + grace), 0: round(scaled)}[fix.way]
        number = f"{way / 10.0**digits:.{digits}f}"
        number = number.rstrip("0").rstrip(".") if digits else number
        made.append(f"{number}{match[3]}{match[4]}".strip())
    return made


def between(before: Evaluation, after: Evaluation) -> tuple[tuple[Outcome, ...], tuple[Outcome, ...]]:
    """What was found before and is not after, and what is new or worse after, the worst first."""
    old = {_key(one): _rank(one) for one in before.findings}
    new = {_key(one): _rank(one) for one in after.findings}
    clears = tuple(one for one in before.findings if _key(one) not in new)
    worse = tuple(one for one in after.findings if _rank(one) < old.get(_key(one), len(Severity)))
    return clears, worse


def _key(outcome: Outcome) -> tuple[str, str]:
    return outcome.rule, outcome.subject.path


def _rank(outcome: Outcome) -> int:
    assert isinstance(outcome.answer, Found)
    return list(Severity).index(outcome.answer.severity)
