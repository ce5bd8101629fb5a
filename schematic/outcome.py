"""What a check can answer, the limits it compares with, and the one comparison.

Four answers and no fifth: found, passed, not checked (an input is missing), does not apply. Unknown is never
passed. A finding carries numbers; its sentence is made at the way out, in the reader's units.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from typing import NamedTuple

from schematic.units import System, show, size


class Severity(Enum):
    """How bad a finding is; the order is the order of the report."""

    ERROR = "error"  # the plan cannot be, or cannot be run
    WARNING = "warning"  # it can, but a limit is not met; a named person may accept it
    ADVICE = "advice"  # worth a look


class Figure(NamedTuple):
    """A number in a finding or table: SI value and the kind that says how it is printed.

    *assumed*: it follows from lengths that are assumed; sheets print it with their sign for that.
    """

    si: float
    kind: str
    assumed: bool = False


class Limit(NamedTuple):
    """A limit of somebody: the SI value, as its owner wrote it, whose it is, where it stands."""

    si: float
    text: str
    owner: str
    source: str


class MissingInput(Exception):
    """A check lacks an input; raised in a rule, caught by the runner alone."""

    def __init__(self, *missing: str) -> None:
        super().__init__(", ".join(missing))
        self.missing = missing


class Fix(NamedTuple):
    """One value of the file that would mend a finding: its path, and the value in SI or as it is written.

    *way* says to which side the value may be rounded: 1 up, -1 down, 0 to the nearest.
    """

    path: str
    value: float | str
    way: int = 0
    dimension: str = "length"


class Subject(NamedTuple):
    """What a rule looks at: its path in the well file and what a reader calls it."""

    path: str
    name: str


class Found(NamedTuple):
    """The rule found something.

    The texts are templates: ``{name}`` is filled from *figures*. *headline* is one line for the drawing,
    *what* the full sentence, *mend* what would make it go. *at_md_m* are the depths the drawing marks, *fix*
    is what one value of the file could be to mend it: of those that the file writes, each does.
    """

    severity: Severity
    headline: str
    what: str
    mend: str
    figures: Mapping[str, Figure | str]
    at_md_m: tuple[float, ...] = ()
    limit: Limit | None = None
    fix: tuple[Fix, ...] = ()


class Passed(NamedTuple):
    """The rule looked and found nothing; *value* against *limit* where it is a comparison."""

    value: Figure | None = None
    limit: Limit | None = None


class NotChecked(NamedTuple):
    """The rule could not look: what is missing, as paths or words of the well file."""

    missing: tuple[str, ...]


class Uncomputed(NamedTuple):
    """A quantity that is not computed, and the missing inputs it needs."""

    what: str
    needs: tuple[str, ...]


class DoesNotApply(NamedTuple):
    """There is nothing here for the rule to look at, and why."""

    reason: str


Answer = Found | Passed | NotChecked | DoesNotApply


class Outcome(NamedTuple):
    """The answer of one rule about one subject; *waived* names who accepted a warning, and why,
    *waived_by* who alone.
    """

    rule: str
    subject: Subject
    answer: Answer
    waived: str = ""
    waived_by: str = ""


def meets(value: float, limit: float, *, at_least: bool) -> bool:
    """Whether *value* is at least (or at most) *limit*; the only comparison of a check.

    A relative 1e-9 is granted, so that 100 ft written in metres still meets a limit of 100 ft.
    """
    grace = 1e-9 * max(abs(value), abs(limit))
    return value >= limit - grace if at_least else value <= limit + grace


def sentence(template: str, figures: Mapping[str, Figure | str], system: System, thousands: str = "") -> str:
    """A finding's text in the reader's units. Texts from files go in as data, never as templates.

    With a space for *thousands* it is for print: a cubic metre is raised, too.
    """
    cubic = "m\u00b3" if thousands else "m3"
    words = {
        name: value
        if isinstance(value, str)
        else size(value.si, system).replace(" ", "\u00a0" if thousands else " ")
        if value.kind == "size"
        else show(value.si, value.kind, system, thousands).replace("m3", cubic)
        for name, value in figures.items()
    }
    return template.format(**words)
