"""What differs between the installations of two issues of a well: the figures of their tables."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from schematic.checks.evaluate import Evaluation
from schematic.comparison.words import signed
from schematic.export.installation import COLUMNS, EVENTS, installation_tables
from schematic.export.tables import Cell, Column, Table
from schematic.job.recorded import as_planned
from schematic.outcome import Figure
from schematic.units import System, show, unit_of

if TYPE_CHECKING:
    from schematic.comparison.differences import Differences

_TOLD_ELSEWHERE = ("least", "most", "strokes", "time")  # of an event: they go with its volume


def installation_differs(both: Differences, system: System) -> Table:
    """Pressures, hook loads, events, times, loads and tests that print otherwise: before, now, change."""
    before, after = _figures(both.old), _figures(both.new)
    rows: list[tuple[Cell, ...]] = []
    for key in dict.fromkeys((*before, *after)):
        old, new = before.get(key), after.get(key)
        one = new or old
        assert one is not None
        printed = {None if cell is None else show(cell.si, cell.kind, system) for cell in (old, new)}
        if len(printed) == 1:
            continue
        unit = unit_of(one.kind, system)
        change = signed(old, new, system).removesuffix(f" {unit}") if old and new else ""
        rows.append((*key, unit, old or "none", new or "none", change))
    heads = ("of", "what", "unit", "before", "now", "change")
    return Table("Installation, what is otherwise", tuple(Column(head) for head in heads), tuple(rows))


def installation_otherwise(old: Evaluation, new: Evaluation, system: System) -> tuple[str, ...]:
    """The tables of the installation in which a figure prints otherwise, by their titles in small letters."""
    before, after = _figures(old), _figures(new)

    def text(figure: Figure | None) -> str:
        return "" if figure is None else show(figure.si, figure.kind, system)

    keys = dict.fromkeys((*before, *after))
    titles = [key[0] for key in keys if text(before.get(key)) != text(after.get(key))]
    return tuple(title[:1].lower() + title[1:] for title in dict.fromkeys(titles))


def _figures(evaluation: Evaluation) -> dict[tuple[str, str], Figure]:
    """Every figure of the tables of the installation as planned, whatever was recorded, by its table, and by
    its row and column.
    """
    found: dict[tuple[str, str], Figure] = {}
    for table in installation_tables(replace(evaluation, job=as_planned(evaluation.job))):
        seen: dict[Cell, int] = {}
        for row in table.rows:
            seen[row[0]] = seen.get(row[0], 0) + 1
            name = f"{row[0]} {seen[row[0]]}" if seen[row[0]] > 1 else row[0]
            if table.title == COLUMNS and row[0] == "open hole":
                continue  # where the margins are least, which is elsewhere in the other issue
            for column, cell in zip(table.columns, row, strict=True):
                if table.title == EVENTS and column.head in _TOLD_ELSEWHERE:
                    continue
                if isinstance(cell, Figure):
                    # a count says from where: those of two counters stand one under another
                    head = f"{column.head} from {row[1]}" if table.title == EVENTS else column.head
                    found[table.title, f"{name}, {head}"] = cell
    return found
