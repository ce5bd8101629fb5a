"""Tables of words and figures one under another, page after page, so that nothing is cut."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.drawing.captions import ASSUMED, PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.grid import Paper
from schematic.drawing.page import LEFT_MM, rule, unit_text
from schematic.drawing.palette import BLACK, FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Group, Shape, Text
from schematic.drawing.text import width_mm
from schematic.export.tables import Cell, Column, Table
from schematic.outcome import Figure
from schematic.units import System, number

TOP_MM = 32.0
FOOT_MM = 4.0  # above the title block
_WIDEST_MM = 60.0  # of a column of words that is not the last
_LAST_MM = 40.0  # of a last column of words at least
_BETWEEN_MM = 3.0
_SPARE_MM = 0.1  # so that what is as wide as its column does not break by the last bit of a float
_TITLE_MM = PITCH_MM + 0.5
_ROW_GAP_MM = 0.35
_TABLE_GAP_MM = 4.5


class _Entry(NamedTuple):
    """One line of a cell: where it stands, in which line of its row, and how."""

    x_mm: float
    line: int
    text: str
    bold: bool
    right_set: bool


class _Row(NamedTuple):
    """The lines of all cells of a row, and how many lines it has."""

    entries: tuple[_Entry, ...]
    lines: int


def printed(cell: Cell, system: System) -> str:
    """A cell as a sheet prints it; the unit of a figure stands in a head or a column of its own."""
    if isinstance(cell, Figure):
        return f"{ASSUMED if cell.assumed else ''}{number(cell.si, cell.kind, system, THIN)}"
    return "m\u00b3" if cell == "m3" else cell or ""


def table_pages(
    tables: Sequence[Table], system: System, paper: Paper, top_mm: float = TOP_MM, *, ruled: int = 0
) -> list[list[Group]]:
    """The groups of each page; the first begins at *top_mm*. A table without rows is left out.

    With *ruled* a faint line follows so many rows, to lead the eye along a long row.
    """
    pages: list[list[Group]] = [[]]
    y, bottom = top_mm, paper.title_mm - FOOT_MM
    for table in tables:
        if not table.rows:
            continue
        head, *rows = _rows(table, paper.right_mm - LEFT_MM, system)
        need = _TITLE_MM + PITCH_MM * (head.lines + rows[0].lines)
        whole = _TITLE_MM + sum(PITCH_MM * row.lines + _ROW_GAP_MM for row in (head, *rows))
        fresh = (
            whole <= bottom - TOP_MM < whole + y - TOP_MM
        )  # it would be cut here, on a page of its own not
        if (y + need > bottom or fresh) and pages[-1]:
            pages.append([])
            y = TOP_MM
        shapes: list[Shape] = [Text(LEFT_MM, y, table.title, bold=True)]
        y += _TITLE_MM
        shapes += _drawn(head, y, GREY)
        y += PITCH_MM * head.lines + _ROW_GAP_MM
        for count, row in enumerate(rows, 1):
            if y + PITCH_MM * (row.lines - 1) > bottom:
                pages[-1].append(Group("", table.title, tuple(shapes)))
                pages.append([])
                shapes = [Text(LEFT_MM, TOP_MM, f"{table.title}, continued", bold=True)]
                shapes += _drawn(head, TOP_MM + _TITLE_MM, GREY)
                y = TOP_MM + _TITLE_MM + PITCH_MM * head.lines + _ROW_GAP_MM
            shapes += _drawn(row, y, BLACK)
            y += PITCH_MM * row.lines + _ROW_GAP_MM
            if ruled and count % ruled == 0:
                y += _ROW_GAP_MM
                shapes.append(rule(y - PITCH_MM + 0.45, FINE_MM, right=paper.right_mm, colour=LIGHT_GREY))
                y += 2.0 * _ROW_GAP_MM
        note = wrap(table.note, paper.right_mm - LEFT_MM) if table.note else ()
        if y + PITCH_MM * (len(note) - 1) > bottom:
            pages[-1].append(Group("", table.title, tuple(shapes)))
            pages.append([])
            shapes, y = [Text(LEFT_MM, TOP_MM, f"{table.title}, continued", bold=True)], TOP_MM + _TITLE_MM
        for line in note:
            shapes.append(Text(LEFT_MM, y, line, colour=GREY))
            y += PITCH_MM
        pages[-1].append(Group("", table.title, tuple(shapes)))
        y += _TABLE_GAP_MM
    return pages


def _drawn(row: _Row, y_mm: float, colour: str) -> list[Shape]:
    return [
        Text(
            entry.x_mm,
            y_mm + PITCH_MM * entry.line,
            entry.text,
            bold=entry.bold,
            colour=colour,
            anchor="end" if entry.right_set else "start",
        )
        for entry in row.entries
        if entry.text
    ]


def _head(column: Column, system: System) -> str:
    unit = unit_text(column.kind, system) if column.kind else ""
    return f"{column.head}, {unit}" if unit else column.head


def _narrowed(widths_mm: list[float], room_mm: float) -> list[float]:
    """The widths, the widest cut back to one width where all together do not fit."""
    left = room_mm
    for count, width in zip(range(len(widths_mm), 0, -1), sorted(widths_mm), strict=True):
        if width > left / count:
            return [min(one, left / count) for one in widths_mm]
        left -= width
    return widths_mm


def _least(head: str, cells: Sequence[str]) -> float:
    """How narrow a column of figures may be: its widest figure, the longest word of its head."""
    return max(width_mm(text, SMALL_PT) for text in (*head.split(), *cells)) + _BETWEEN_MM + _SPARE_MM


def _rows(table: Table, room_mm: float, system: System) -> list[_Row]:
    """The head and the rows: columns as wide as they need, the last one of words takes what is left."""
    heads = [_head(column, system) for column in table.columns]
    cells = [[printed(cell, system) for cell in row] for row in table.rows]
    figures = [any(isinstance(row[i], Figure) for row in table.rows) for i in range(len(heads))]
    widths = [
        min(
            max(width_mm(text, SMALL_PT, bold=i == 0) for text in (heads[i], *(row[i] for row in cells))),
            _WIDEST_MM,
        )
        + _BETWEEN_MM
        + _SPARE_MM
        for i in range(len(heads))
    ]
    spare = room_mm - sum(widths) if figures[-1] else room_mm - _WIDEST_MM - sum(widths[:-1])
    last_mm = _WIDEST_MM
    if spare < 0.0:  # heads of figures break into their words before words are narrowed
        least = [_least(heads[i], [row[i] for row in cells]) for i in range(len(heads))]
        whole, widths = widths, [least[i] if figures[i] else widths[i] for i in range(len(heads))]
        last_mm = max(min(room_mm - sum(widths[:-1]), _WIDEST_MM), _LAST_MM)
        kept = room_mm - (sum(widths) if figures[-1] else sum(widths[:-1]) + last_mm)
        wanted = sum(one - its for one, its in zip(whole, widths, strict=True))
        share = min(max(kept, 0.0) / wanted, 1.0) if wanted > 0.0 else 0.0  # of what their heads would like
        widths = [its + share * (one - its) for one, its in zip(whole, widths, strict=True)]
    if figures[-1]:
        widths = _narrowed(widths, room_mm)
    else:
        widths[:-1] = _narrowed(widths[:-1], room_mm - last_mm)
        widths[-1] = max(room_mm - sum(widths[:-1]), last_mm)
    starts = [LEFT_MM + sum(widths[:i]) for i in range(len(heads))]

    def row_of(texts: Sequence[str], skip_first: bool, bold_first: bool) -> _Row:
        entries: list[_Entry] = []
        for i, (text, x) in enumerate(zip(texts, starts, strict=True)):
            if i == 0 and skip_first:
                continue
            bold = bold_first and i == 0
            room = widths[i] - _BETWEEN_MM
            at = x + room if figures[i] else x
            entries += [
                _Entry(at, n, line, bold, figures[i]) for n, line in enumerate(wrap(text, room, bold=bold))
            ]
        return _Row(tuple(entries), 1 + max((entry.line for entry in entries), default=0))

    made = [row_of(heads, False, False)]
    before = ""
    for cell_texts in cells:
        same = cell_texts[0] == before and not figures[0]  # said in the row above
        made.append(row_of(cell_texts, same, not any(figures)))
        before = cell_texts[0]
    return made
