"""The three boxes of a step card: now in a heavy frame, next in a thin one, never in white on black."""

from __future__ import annotations

from typing import NamedTuple

from schematic.drawing.captions import THIN, wrap
from schematic.drawing.fills import Rect, hatch
from schematic.drawing.page import fit, unit_text
from schematic.drawing.palette import BLACK, HEAVY_MM, OUTLINE_MM, WHITE
from schematic.drawing.scene import POINT_MM, Group, Path, Shape, Style, Text
from schematic.drawing.step_items import text_of
from schematic.drawing.text import width_mm
from schematic.job.card import Box, Card
from schematic.outcome import Figure
from schematic.units import System, number, sentence_case, show

_GAP_MM, _PAD_MM = 6.0, 3.2
_HEAD_PT, _WORD_PT, _UNIT_PT = 12.0, 9.0, 14.0
_FIGURE_PTS = (40.0, 36.0, 32.0, 28.0, 24.0, 20.0, 17.0, 14.0)
# of a word in place of a figure: size, and the most lines that it may have
_WORD_PTS = ((24.0, 1), (20.0, 1), (17.0, 1), (15.0, 2), (12.0, 2), (9.0, 3), (7.0, 4))
_LINE_PTS = (11.0, 10.0, 9.0, 8.5, 8.0)
_STRONG = 1.3  # by how much a strong line is larger
_HEAD_MM, _FIGURE_MM = 6.8, 12.8  # from the top to the baseline of the head, from there to that of the figure
_UNDER_MM = 2.0  # of a figure's room below its baseline
_LEAST_MM, _MOST_MM = 34.0, 56.0
_TAPE_MM, _TAPE_SPACING_MM = 2.0, 1.6  # the edge of a box whose step is on hold


class Boxes(NamedTuple):
    """The boxes as groups, the level under them, and the sentences that they had no room for, by head."""

    groups: list[Group]
    bottom_mm: float
    more: list[tuple[str, tuple[str, ...]]]


class _Content(NamedTuple):
    head: str
    words: str  # behind the head
    figure: str
    unit: str
    lines: tuple[str, ...]  # sentences
    strong: bool  # the first of them


def three_boxes(card: Card, left_mm: float, right_mm: float, top_mm: float, system: System) -> Boxes:
    """Now, next and never side by side, all as high as the one with most to say."""
    wide = (right_mm - left_mm - 2.0 * _GAP_MM) / 3.0
    room = wide - 2.0 * _PAD_MM
    heads = (card.now_head, "Next event", "Never exceed")
    now = card.now if card.released else card.now._replace(word="" if card.now.figure else card.now.word)
    contents = [
        _content(head, box, room, system)
        for head, box in zip(heads, (now, card.next, card.never), strict=True)
    ]
    if not card.released:
        one, known = contents[0], card.never.figure is not None
        words = "more than must never be exceeded" if known else "what it must never exceed is not known"
        contents[0] = one._replace(
            lines=(f"{sentence_case(words)}: do not go there.", *one.lines), strong=True
        )
        if one.unit:  # what is not to be done is not the largest on the paper
            lines = f"Planned {one.figure} {one.unit}: {words}.", *one.lines
            contents[0] = one._replace(words="", figure="not yet", unit="", lines=lines, strong=True)
    start = _HEAD_MM + _FIGURE_MM + _UNDER_MM
    least = _LINE_PTS[-2:]
    points = next(
        (p for p in least if all(start + _high(one, room, p) + 2.0 <= _MOST_MM for one in contents)),
        least[-1],
    )
    kept = [_that_fit(one, room, points, _MOST_MM - start - 2.0) for one in contents]
    tall = max([_LEAST_MM, *(start + _high(one, room, points) + 2.0 for one in kept)])
    groups, more = [], []
    for index, (whole, one) in enumerate(zip(contents, kept, strict=True)):
        left = left_mm + index * (wide + _GAP_MM)
        rect = Rect(left, top_mm, left + wide, top_mm + tall)
        barred = index == 0 and card.on_hold
        fits = [p for p in _LINE_PTS if start + _high(one, room, p) + 2.0 <= tall + 1e-6]
        groups.append(_drawn(one, rect, index, (*fits, points)[0], barred=barred))
        if len(one.lines) < len(whole.lines):
            more.append((f"{one.head}, more", whole.lines[len(one.lines) :]))
    return Boxes(groups, top_mm + tall, more)


def _content(head: str, box: Box, room: float, system: System) -> _Content:
    """What stands in a box; the word of a figure behind the head where it fits, else above the lines."""
    lines = tuple(text_of(say, system) for say in box.lines)
    if box.figure is None:
        return _Content(head, "", box.word, "", lines, box.strong)
    figure, unit = _digits(box.figure, system)
    beside = width_mm(head, _HEAD_PT, True) + 2.0 + width_mm(box.word, _WORD_PT) <= room
    if box.word and not beside:
        lines = (
            (*lines[:1], sentence_case(f"{box.word}."), *lines[1:])
            if box.strong
            else (sentence_case(f"{box.word}."), *lines)
        )
    return _Content(head, box.word if beside else "", figure, unit, lines, box.strong)


def _digits(figure: Figure, system: System) -> tuple[str, str]:
    if figure.kind == "size":
        return show(figure.si, "diameter", system, THIN), ""
    digits = number(figure.si, figure.kind, system, THIN)
    if figure.kind == "force":  # a weight indicator is not read closer
        digits = digits.removesuffix(".0")
    return digits, unit_text(figure.kind, system)


class _Row(NamedTuple):
    text: str
    points: float
    bold: bool


def _rows(one: _Content, room: float, points: float) -> list[_Row]:
    """The sentences in lines, a strong one larger and bold."""
    rows = []
    for index, text in enumerate(one.lines):
        bold = one.strong and index == 0
        size = min(points * _STRONG, _HEAD_PT) if bold else points
        rows += [_Row(line, size, bold) for line in wrap(text, room, bold, size)]
    return rows


def _high(one: _Content, room: float, points: float) -> float:
    return sum(1.22 * row.points * POINT_MM for row in _rows(one, room, points))


def _that_fit(one: _Content, room: float, points: float, height: float) -> _Content:
    """The first sentences that have room, each whole."""
    for count in range(len(one.lines), 0, -1):
        kept = one._replace(lines=one.lines[:count])
        if _high(kept, room, points) <= height + 1e-6:
            return kept
    return one._replace(lines=())


def _drawn(one: _Content, rect: Rect, index: int, points: float, *, barred: bool) -> Group:
    """One box: frame or black ground, head, the figure as large as it goes, lines."""
    ink = WHITE if index == 2 else BLACK
    half = (0.5 * HEAVY_MM, 0.5 * OUTLINE_MM, 0.0)[index]
    frame = (
        (rect.left_mm + half, rect.top_mm + half),
        (rect.right_mm - half, rect.top_mm + half),
        (rect.right_mm - half, rect.bottom_mm - half),
        (rect.left_mm + half, rect.bottom_mm - half),
    )
    style = (
        Style(stroke=BLACK, width_mm=HEAVY_MM),
        Style(stroke=BLACK, width_mm=OUTLINE_MM),
        Style(fill=BLACK),
    )[index]
    left, room = rect.left_mm + _PAD_MM, rect.right_mm - rect.left_mm - 2.0 * _PAD_MM
    base = rect.top_mm + _HEAD_MM
    shapes: list[Shape] = [Path((frame,), style, closed=True)]
    if barred:
        x0, x1 = rect.left_mm, rect.left_mm + _TAPE_MM
        tape = ((x0, rect.top_mm), (x1, rect.top_mm), (x1, rect.bottom_mm), (x0, rect.bottom_mm))
        lines = hatch(tape, _TAPE_SPACING_MM, rising=True)
        shapes.append(Path(lines, Style(stroke=BLACK, width_mm=HEAVY_MM)))
    shapes.append(Text(left, base, fit(one.head, room, _HEAD_PT, True), _HEAD_PT, True, ink))
    if one.words:
        beside = left + width_mm(one.head, _HEAD_PT, True) + 2.0
        shapes.append(Text(beside, base, one.words, _WORD_PT, colour=ink))
    base += _FIGURE_MM
    if one.unit:
        beside = width_mm(one.unit, _UNIT_PT, True) + 1.6
        size = next((p for p in _FIGURE_PTS if width_mm(one.figure, p, True) + beside <= room), 9.0)
        x = left + width_mm(one.figure, size, True) + 1.6
        shapes.append(Text(left, base, one.figure, size, True, ink))
        shapes.append(Text(x, base, one.unit, _UNIT_PT, True, ink))
    else:
        shapes += _word(one.figure, left, base, room, ink)
    level = base + _UNDER_MM
    for row in _rows(one, room, points):
        level += 1.22 * row.points * POINT_MM
        shapes.append(Text(left, level, row.text, row.points, row.bold, ink))
    return Group("installation", one.head, tuple(shapes))


def _word(word: str, left: float, base: float, room: float, ink: str) -> list[Shape]:
    """A word in place of a figure, as large as it goes in a line, a long one smaller in several."""
    for size, count in _WORD_PTS:
        lines = wrap(word, room, bold=True, size_pt=size)
        if len(lines) <= count:
            break
    pitch = 1.1 * size * POINT_MM
    first = base - pitch * (len(lines) - 1)
    return [Text(left, first + pitch * row, line, size, True, ink) for row, line in enumerate(lines)]
