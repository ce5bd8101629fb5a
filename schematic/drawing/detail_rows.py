"""The names beside a detail: a column of rows in the order of depth, figures right-set under one head."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.drawing.captions import DOT_MM, GAP_MM, PITCH_MM, SMALL_PT, X_HEIGHT_MM, wrap
from schematic.drawing.labels import ColumnTooFullError, Wanted, leaders, place
from schematic.drawing.palette import BLACK, FINE_MM, GREY
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm

_COLUMN_GAP_MM = 1.5
_WIDE_GAP_MM = 4.0  # more between columns where there is room
_INDENT_MM = 6.0  # at most, of figures below their names
_LEAST_GAP_MM = 0.25
_LEAST_WIDTH_MM = 15.0
LEADER_MM = 0.6  # from the text to its leader


class Row(NamedTuple):
    """Something that a detail names: where it is, its name, figures under the head, further words."""

    part: str
    low_mm: float  # levels between which the leader may end
    high_mm: float
    end_mm: float  # where the leader ends
    name: str
    figures: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    bold: bool = False
    rank: int = 0  # where there is not room for all, the lowest stay
    colour: str = BLACK


class NamesColumn(NamedTuple):
    """The paper for the rows: text from *left_mm*, leaders bend at *knee_mm*."""

    knee_mm: float
    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float


class _Block(NamedTuple):
    row: Row
    names: tuple[str, ...]
    beside: bool  # the figures stand beside the name, not below it
    words: tuple[str, ...]

    @property
    def lines(self) -> int:
        below = 0 if self.beside or not self.row.figures else 1
        return len(self.names) + below + len(self.words)


def rows_column(rows: Sequence[Row], heads: Sequence[str], column: NamesColumn) -> list[Group] | None:
    """The rows in their places with leaders; None where they do not fit into the column."""
    width = column.right_mm - column.left_mm
    if width < _LEAST_WIDTH_MM:
        return None
    rows = sorted(rows, key=lambda row: (0.5 * (row.low_mm + row.high_mm), row.low_mm))
    tabled = [row for row in rows if row.figures]
    edges = _edges([row.figures for row in tabled], heads, column.right_mm)
    start = _start([row.figures for row in tabled], edges)
    if tabled and min(start, _start([heads], edges)) < column.left_mm:
        return None
    free = start - _COLUMN_GAP_MM - column.left_mm
    beside = all(width_mm(row.name, SMALL_PT, row.bold) <= free for row in tabled)
    first = column.left_mm + max(_lack(heads, edges, start), 0.0)
    if beside:
        edges, free = _beside(tabled, edges, start, first)
    else:
        shift = max(start - first - _INDENT_MM, 0.0)
        edges = tuple(edge - shift for edge in edges)
    blocks = [
        _block(row, beside and bool(row.figures), free if row.figures and beside else width) for row in rows
    ]
    top = column.top_mm + (PITCH_MM + 0.3 if tabled else 0.0)
    tops = _tops(blocks, top, column.bottom_mm)
    if tops is None:
        return None
    groups = _drawn(blocks, tops, edges, column)
    if tabled:
        words = tuple(
            Text(edge, column.top_mm + 2.1, head, colour=GREY, anchor="end")
            for edge, head in zip(edges, heads, strict=True)
        )
        groups.append(Group("", "heads", words))
    return groups


def _block(row: Row, beside: bool, room: float) -> _Block:
    words = tuple(line for text in row.words for line in wrap(text, room))
    return _Block(row, wrap(row.name, room, row.bold), beside, words)


def _tops(blocks: Sequence[_Block], top: float, bottom: float) -> tuple[float, ...] | None:
    heights = [block.lines * PITCH_MM for block in blocks]
    wanted: list[float | Wanted] = [
        Wanted(block.row.low_mm - 0.5 * PITCH_MM, block.row.high_mm - 0.5 * PITCH_MM) for block in blocks
    ]
    for gap in (GAP_MM, _LEAST_GAP_MM):
        try:
            return place(wanted, heights, top, bottom, gap)
        except ColumnTooFullError:
            continue
    return None


def _edges(rows: Sequence[Sequence[str]], heads: Sequence[str], right: float) -> tuple[float, ...]:
    """The right edges of the columns of figures."""
    edges = [right] * len(heads)
    for i in range(len(heads) - 2, -1, -1):
        widest = max(width_mm(row[i + 1], SMALL_PT) for row in (*rows, heads))
        edges[i] = edges[i + 1] - widest - _COLUMN_GAP_MM
    return tuple(edges)


def _start(rows: Sequence[Sequence[str]], edges: Sequence[float]) -> float:
    """Where the figures begin at the left."""
    return edges[0] - max((width_mm(row[0], SMALL_PT) for row in rows), default=0.0) if edges else 0.0


def _lack(heads: Sequence[str], edges: Sequence[float], start: float) -> float:
    """How much further left than its figures the first head begins, beyond the gap to the names."""
    return start - _COLUMN_GAP_MM - _start([heads], edges) if edges else 0.0


def _beside(
    rows: Sequence[Row], edges: tuple[float, ...], start: float, left: float
) -> tuple[tuple[float, ...], float]:
    """Edges moved up to the longest name, a little apart, and the room of a name."""
    names = max((width_mm(row.name, SMALL_PT, row.bold) for row in rows), default=0.0)
    spare = max(start - _COLUMN_GAP_MM - left - names, 0.0)
    each = min(spare / (len(edges) + 1), _WIDE_GAP_MM) if edges else 0.0
    moved = tuple(edge - spare + each * (n + 1) for n, edge in enumerate(edges))
    return moved, names + each


def _drawn(
    blocks: Sequence[_Block], tops: Sequence[float], edges: Sequence[float], column: NamesColumn
) -> list[Group]:
    texts: list[list[Shape]] = []
    starts: list[Point] = []
    ends: list[Point] = []
    reached = 0.0
    limits = [block.row.high_mm for block in blocks]
    for i in range(len(limits) - 2, -1, -1):
        limits[i] = min(limits[i], limits[i + 1])
    for block, top, limit in zip(blocks, tops, limits, strict=True):
        row, base = block.row, top + 2.1
        shapes: list[Shape] = [
            Text(column.left_mm, base + PITCH_MM * n, line, bold=row.bold, colour=row.colour)
            for n, line in enumerate(block.names)
        ]
        level = base + PITCH_MM * (0 if block.beside else len(block.names))
        if row.figures:
            shapes += [
                Text(edge, level, figure, anchor="end")
                for edge, figure in zip(edges, row.figures, strict=True)
            ]
        level = base + PITCH_MM * (block.lines - len(block.words))
        shapes += [Text(column.left_mm, level + PITCH_MM * n, line) for n, line in enumerate(block.words)]
        texts.append(shapes)
        start_y = base - X_HEIGHT_MM
        starts.append((column.left_mm - LEADER_MM, start_y))
        reached = max(min(max(start_y, row.low_mm), limit), reached)
        ends.append((row.end_mm, reached))
    lines = leaders(starts, column.knee_mm, ends)
    style = Style(stroke=GREY, width_mm=FINE_MM)
    return [
        Group(
            block.row.part,
            block.names[0],
            (Path((line,), style), Dots((line[-1],), DOT_MM, Style(fill=BLACK)), *shapes),
        )
        for block, line, shapes in zip(blocks, lines, texts, strict=True)
    ]


def most_rows(
    rows: Sequence[Row], heads: Sequence[str], column: NamesColumn, left_out: int
) -> tuple[list[Group], int]:
    """As many rows as fit, the lowest ranks first, and how many are left out: *left_out* at least."""
    ranked = sorted(rows, key=lambda row: row.rank)
    for count in range(len(ranked) - left_out, 0, -1):
        placed = rows_column(ranked[:count], heads, column)
        if placed is not None:
            return placed, len(ranked) - count
    return [], len(ranked)
