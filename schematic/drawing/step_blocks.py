"""The blocks of a step card: what is done, pressure, volume, weight, signs, remedies, boxes to write in.

A block is a head and items under it, each of a known height, so that the page can share them out; an item is
never cut, and a text too long for a column becomes several.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN, wrap
from schematic.drawing.page import rule, unit_text
from schematic.drawing.palette import BLACK, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import POINT_MM, Path, Shape, Style, Text
from schematic.drawing.step_gauge import gauge_drawing
from schematic.drawing.step_items import (
    INDENT_MM,
    LEAD,
    Block,
    Item,
    Print,
    listed,
    paragraph,
    pieces,
    text_of,
)
from schematic.drawing.step_weight import weight_block
from schematic.drawing.text import width_mm
from schematic.job.card import Card, Countdown, Say
from schematic.units import System, number, sentence_case

AS_READ = "As read"
_WRITE_MM, _WRITE_GAP_MM = 9.0, 2.2
_LEAST_WRITE_MM = 12.0
_MOST_WRITE = 6  # boxes in a row
_WORDS_PT = 7.5
_REMEDY_MM = 0.4  # more white below it than below a line of a list


def blocks(
    evaluation: Evaluation, card: Card, more: Sequence[tuple[str, Sequence[str]]], style: Print
) -> list[Block]:
    """All blocks of a card in their order; *more* is what the three boxes had no room for, by head."""

    def told(says: Sequence[Say]) -> list[str]:
        return [text_of(say, style.system) for say in says]

    boxes = " ".join(text for box in (card.now, card.next, card.never) for text in told(box.lines))
    lacks = [sentence_case(f"{one.what}: needs {', '.join(one.needs)}") for one in card.needs]
    limit = [card.pick_up_limit] if card.pick_up_limit is not None else []
    made = [
        *(listed(title, lines, style) for title, lines in more),
        listed("Do", told(card.do), style, "number"),
        *_pumped(card, told, style, boxes),
        weight_block(evaluation, card.weight, style),
        listed("Look for, tick when seen", told(card.look_for), style, "tick"),
        _remedies(card, style),
        *_cautions(told(limit), told(card.caution), style),
        listed("Not computed: ask who planned it", lacks, style),
    ]
    return [block for block in made if block.items]


def _cautions(limit: Sequence[str], caution: Sequence[str], style: Print) -> list[Block]:
    """How far the string may be picked up, and what endangers people; in the tightest under one head."""
    first, second = listed("Pick-up limit", limit, style, bold=True), listed("Caution", caution, style)
    if style.tight < 2:
        return [first, second]
    return [Block(second.title, (*first.items, *second.items))]


def _remedies(card: Card, style: Print) -> Block:
    """Question in bold, then what is done."""
    room, items = style.width_mm - INDENT_MM, []
    for remedy in card.if_not:
        asked = pieces(text_of(remedy.question, style.system), room, style, bold=True)
        done = pieces(text_of(remedy.action, style.system), room, style)
        first = [*((line, True) for line in asked[0]), *((line, False) for line in done[0])]
        after = style.between_mm + _REMEDY_MM
        items.append(paragraph(first, style, "ask", after))
        for rest in (asked[1:], done[1:]):  # only of a text longer than any column
            items += [paragraph([(line, rest is asked) for line in one], style) for one in rest]
    return Block("If not", tuple(items))


def _pumped(card: Card, told: Callable[[Sequence[Say]], list[str]], style: Print, boxes: str) -> list[Block]:
    """Pressure with its gauge, volume with its count; both under one head where there is neither."""
    gauge, counts = card.gauge, card.counts
    pressure, volume = told(card.pressure), told(card.volume)
    if gauge is None and not counts:
        return [listed("Pressure and volume", [*pressure, *volume], style)]
    first, last = listed("Pressure", pressure, style), listed("Volume", volume, style)
    if gauge is not None:
        made = Item(*gauge_drawing(gauge, style.width_mm, style.system, boxes))
        title = f"Gauge, {unit_text('pressure', style.system)} at surface"
        first = Block(title, (made, *first.items))
    if counts:
        table = _counts(counts, style)
        last = Block(table.title, (*table.items, *last.items))
    return [first, last]


def _counts(counts: Sequence[Countdown], style: Print) -> Block:
    """The events to come by volume, strokes and time, with the band of the volume; the next in bold."""
    points = min(style.points, 8.5)
    pitch = points * POINT_MM * style.lead
    at_rest = f"{unit_text('pressure', style.system)} at rest"
    heads = (unit_text("volume", style.system), "least to most", "strokes", "min", at_rest)
    rows = [_count_cells(one, style.system) for one in counts]
    columns = [n for n in range(len(heads)) if any(cells[n] for cells in rows)]
    edges: dict[int, float] = {}
    room = style.width_mm
    for n in reversed(columns):
        edges[n] = room
        texts = (heads[n], *(cells[n] for cells in rows))
        room -= max(width_mm(text, points, n in (0, 2)) for text in texts) + 2.6

    def line(cells: Sequence[str], words: Sequence[str], strong: bool, colour: str) -> Item:
        def draw(left: float, top: float) -> list[Shape]:
            base = top + 0.8 * pitch
            shapes: list[Shape] = [
                Text(left, base + pitch * row, text, points, bold=strong) for row, text in enumerate(words)
            ]
            for n in columns:
                if cells[n]:
                    heavy = colour == BLACK and n in (0, 2)
                    shapes.append(Text(left + edges[n], base, cells[n], points, heavy, colour, anchor="end"))
            return shapes

        return Item(pitch * max(len(words), 1) + 0.3, draw)

    items = [line(heads, (), False, GREY)]
    for index, (one, cells) in enumerate(zip(counts, rows, strict=True)):
        strong = index == 0
        items.append(line(cells, wrap(sentence_case(one.event), room, strong, points), strong, BLACK))
    since = {one.since for one in counts}
    return Block(
        f"Volume from {since.pop()}" if len(since) == 1 else "Volume to the next events", tuple(items)
    )


def _count_cells(one: Countdown, system: System) -> tuple[str, ...]:
    band = [number(value, "volume", system, THIN) for value in (one.least_m3, one.most_m3)]
    return (
        number(one.m3, "volume", system, THIN),
        " to ".join(band) if band[0] != band[1] else "",
        number(one.strokes, "count", system, THIN) if one.strokes is not None else "",
        number(one.seconds, "minutes", system, THIN) if one.seconds is not None else "",
        number(one.at_rest_pa, "pressure", system, THIN) if one.at_rest_pa is not None else "",
    )


def as_read(card: Card, style: Print) -> Block:
    """Boxes to write in, and who signs."""
    heads = ("time", *(word for word in card.as_read if word))
    items = [_write_row(row, style) for row in _in_rows(heads, style.width_mm)]
    beside = style.tight == 2  # who signs does so beside the head

    def sign(left: float, top: float) -> list[Shape]:
        y = top + style.base_mm - style.head_mm if beside else top + 5.4
        x = left + (0.35 * style.width_mm if beside else 0.0)
        return [
            Text(x, y, "Signed", _WORDS_PT, colour=GREY),
            rule(y + 0.5, FINE_MM, left=x + 12.0, right=left + style.width_mm),
        ]

    signed = Item(0.0 if beside else 6.2, sign)
    return Block(AS_READ, (signed, *items) if beside else (*items, signed))


def _in_rows(heads: Sequence[str], room: float) -> list[Sequence[str]]:
    """Heads shared out to rows in which each has room over its box."""
    for count in range(1, len(heads) + 1):
        each = -(-len(heads) // count)
        rows = [heads[n : n + each] for n in range(0, len(heads), each)]
        wide = [sum(_least_mm(word, room) + _WRITE_GAP_MM for word in row) - _WRITE_GAP_MM for row in rows]
        if each <= _MOST_WRITE and max(wide) <= room:
            return rows
    return [[word] for word in heads]


def _least_mm(word: str, room: float) -> float:
    return max(min(width_mm(word, _WORDS_PT), room), _LEAST_WRITE_MM)


def _write_row(heads: Sequence[str], style: Print) -> Item:
    """Boxes 9 mm high under their heads, all as wide where their heads allow it."""
    free = style.width_mm - _WRITE_GAP_MM * (len(heads) - 1)
    least = [_least_mm(word, style.width_mm) for word in heads]
    equal = free / len(heads)
    widths = [equal] * len(heads)
    if max(least) > equal:
        widths = [one + (free - sum(least)) / len(heads) for one in least]
    words = [wrap(word, wide, size_pt=_WORDS_PT) for word, wide in zip(heads, widths, strict=True)]
    pitch = _WORDS_PT * POINT_MM * LEAD
    above = pitch * max(len(lines) for lines in words)

    def draw(left: float, top: float) -> list[Shape]:
        shapes: list[Shape] = []
        x, y = left, top + above
        for lines, wide in zip(words, widths, strict=True):
            for row, line in enumerate(reversed(lines)):
                shapes.append(Text(x, y - 0.9 - pitch * row, line, _WORDS_PT, colour=GREY))
            run = ((x, y), (x + wide, y), (x + wide, y + _WRITE_MM), (x, y + _WRITE_MM))
            shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True))
            x += wide + _WRITE_GAP_MM
        return shapes

    return Item(above + _WRITE_MM + 1.2, draw)
