"""A liner put elsewhere, and what is told of it."""

from __future__ import annotations

import re

from schematic.comparison.replan import Replanned, replan
from schematic.comparison.replan_report import tables_of
from schematic.depth.plan import Plan
from schematic.depth.resolve import resolve
from schematic.units import parse
from schematic.verbs import load_text

WORDS, WORSE, LEFT = "In words", "Findings, what got worse first", "To settle by hand"


def moved(text: str, place: str, depth: str) -> Replanned:
    """The plan of a text with shoe or top of its liner elsewhere."""
    return replan(load_text(text), place, parse(depth, "length"))  # type: ignore[arg-type]


def without_issue(text: str) -> str:
    """The text without what says that it was replanned since its revision."""
    text = re.sub(r"^  state: replanned\r?\n|, state: replanned", "", text, flags=re.MULTILINE)
    return re.sub(r",? *content: [0-9a-f]{8}|^ +content: [0-9a-f]{8}\r?\n", "", text, flags=re.MULTILINE)


def plan_of(text: str) -> Plan:
    """The plan of a text."""
    return resolve(load_text(text))


def table(made: Replanned, title: str) -> tuple:
    """The rows of a table of what a liner elsewhere changes."""
    system = made.both.new.plan.identity.system
    return next(one.rows for one in tables_of(made, system) if one.title == title)


def lines(made: Replanned, title: str) -> list[str]:
    """The sentences of a table of one column."""
    return [str(row[0]) for row in table(made, title)]
