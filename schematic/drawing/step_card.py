"""A step card: one step of the installation on a page, in figures that are read at arm's length, at night.

Number, verb and the steps before and after; now, next, never; the well at this step on the left; on the right
what is done, gauge, weight, count, what to look for, what if it is not seen, boxes to write in. What has no
room goes on with a second page; nothing is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import wrap
from schematic.drawing.comparison_page import page_scene
from schematic.drawing.fills import Rect
from schematic.drawing.grid import A4, Paper
from schematic.drawing.page import LEFT_MM, rule
from schematic.drawing.palette import FINE_MM, GREY, PRESSURE_GREY
from schematic.drawing.scene import POINT_MM, Group, Path, Scene, Shape, Sheet, Style, Text
from schematic.drawing.step_blocks import AS_READ, as_read, blocks
from schematic.drawing.step_boxes import three_boxes
from schematic.drawing.step_furniture import card_foot, card_head
from schematic.drawing.step_items import HEAD_PT, Block, Print, head
from schematic.drawing.step_well import Drawn, well_at_step
from schematic.drawing.table_pages import table_pages
from schematic.drawing.text import width_mm
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS
from schematic.export.steps import needs_in_words
from schematic.export.tables import Table
from schematic.job.card import Card
from schematic.job.card import Scene as SceneOfStep
from schematic.units import System, sentence_case, size

_PRINTS = ((10.5, 0), (10.0, 0), (9.5, 0), (9.0, 0), (8.5, 0), (8.0, 0), (8.0, 1))
# how many of the last blocks may stand below the well, size of print and how tight, the first that has room
_MANNERS = (*((most, *one) for most in (0, 1) for one in _PRINTS), (3, 8.0, 2))
_LEAST_WELL_MM = 108.0  # of the well, its head and notes, before a card goes on with a second page
_GUTTER_MM = 5.0
_WELL_HEAD_MM = 7.2
_NOTE_PT, _NOTE_MM = 7.0, 3.1
_SPREAD_MM = 3.5  # at most, of white added between blocks


class _Placed(NamedTuple):
    """A block, or a piece of one, at its place on a page."""

    page: int
    left_mm: float
    top_mm: float
    block: Block


def cards_sheet(
    evaluation: Evaluation,
    cards: Sequence[Card],
    system: System,
    paper: Paper = A4,
    progress: Callable[[int, int], None] | None = None,
    only: int | None = None,
) -> Sheet:
    """The cards as pages, one after another; *only* draws the card of that number alone.

    *progress* hears how many of how many cards are laid out.
    """
    pages: list[Scene] = []
    cards = [needs_in_words(evaluation, card) for card in cards]
    wanted = [card for card in cards if only is None or card.number == only]
    by_number = {card.number: card for card in cards}
    for count, card in enumerate(wanted, 1):
        neighbours = by_number.get(card.number - 1), by_number.get(card.number + 1)
        pages += _pages(evaluation, card, neighbours, len(cards), system, paper)
        if progress is not None:
            progress(count, len(wanted))
    return Sheet(tuple(pages))


def _pages(
    evaluation: Evaluation,
    card: Card,
    neighbours: tuple[Card | None, Card | None],
    count: int,
    system: System,
    paper: Paper,
) -> list[Scene]:
    """A card on as many pages as it takes."""
    first, top = card_head(evaluation, card, neighbours, count, 0, paper, system)
    boxes = three_boxes(card, LEFT_MM, paper.right_mm, top, system)
    top = boxes.bottom_mm + 3.4
    _foot_groups, bottom = card_foot(evaluation, card, count, 0, 1, paper)
    wide = 0.5 * (paper.right_mm - LEFT_MM - _GUTTER_MM)
    lefts = LEFT_MM, paper.right_mm - wide
    well_bottom = bottom
    placed: list[_Placed] = []
    for most, points, tight in _MANNERS:
        style = Print(wide, points, system, tight)
        every = [*blocks(evaluation, card, boxes.more, style), as_read(card, style)]
        shared = _shared(every, most, style, bottom - top)
        if shared is not None:
            beside, below = shared
            placed = _spread(beside, below, style, lefts, top, bottom)
            well_bottom -= _high_mm(below, style) + _GUTTER_MM if below else 0.0
            break
    else:
        _again, second = card_head(evaluation, card, neighbours, count, 1, paper, system)
        placed = _flow(every, style, lefts, (top, second), bottom)
    pages = max((one.page for one in placed), default=0) + 1
    scenes = []
    for page in range(pages):
        if page:
            first, _level = card_head(evaluation, card, neighbours, count, page, paper, system)
        groups = list(first)
        if page == 0:
            groups += boxes.groups
            before = neighbours[0].scene if neighbours[0] is not None else None
            rect = Rect(LEFT_MM, top, lefts[1] - _GUTTER_MM, well_bottom)
            groups += _well(evaluation, card, before, rect, system)
        groups += [_block_group(one, style) for one in placed if one.page == page]
        groups += card_foot(evaluation, card, count, page, pages, paper)[0]
        where = f"card {card.number} of {count}" + (f", page {page + 1}" if page else "")
        scenes.append(
            Scene(
                paper.width_mm,
                paper.height_mm,
                f"{evaluation.plan.identity.name}, {where}: {card.title}",
                f"{card.title}. {CAUTION} {NOT_A_BASIS}",
                tuple(group for group in groups if group.shapes),
            )
        )
    return scenes


def _shared(
    every: Sequence[Block], most: int, style: Print, room_mm: float
) -> tuple[list[Block], list[Block]] | None:
    """The blocks beside the well, and those of the last *most* below it, as few as will do; None: no room."""
    last = every[len(every) - most :]
    choices = [list(some) for count in range(1, most + 1) for some in combinations(last, count)] or [[]]
    for below in sorted(choices, key=lambda some: _high_mm(some, style)):
        beside = [block for block in every if all(block is not one for one in below)]
        well_mm = room_mm - _high_mm(below, style) - (_GUTTER_MM if below else 0.0)
        if _high_mm(beside, style) <= room_mm and well_mm >= _LEAST_WELL_MM:
            return beside, below
    return None


def _high_mm(column: Sequence[Block], style: Print) -> float:
    """The height of blocks one below the other, without the white below the last."""
    return sum(block.height_mm(style) for block in column) - (style.after_mm if column else 0.0)


def _spread(
    beside: Sequence[Block],
    below: Sequence[Block],
    style: Print,
    lefts: tuple[float, float],
    top: float,
    bottom: float,
) -> list[_Placed]:
    """All blocks on one page, beside the well and below it, a little white between those beside it; the boxes
    to write in always at the foot.
    """
    foot = [block for block in beside if block.title == AS_READ]
    body = beside[: len(beside) - len(foot)]
    spare = bottom - top - _high_mm(beside, style)
    gap = min(spare / max(len(body), 1), _SPREAD_MM)
    placed = []
    for block in body:
        placed.append(_Placed(0, lefts[1], top, block))
        top += block.height_mm(style) + gap
    for left, column in ((lefts[1], foot), (lefts[0], below)):
        level = bottom - _high_mm(column, style)
        for block in column:
            placed.append(_Placed(0, left, level, block))
            level += block.height_mm(style)
    return placed


def _flow(
    body: Sequence[Block],
    style: Print,
    lefts: tuple[float, float],
    tops: tuple[float, float],
    bottom: float,
) -> list[_Placed]:
    """Blocks from the right column of the first page on, item by item; a block that is cut says so again."""
    placed: list[_Placed] = []
    page, at, y = 0, 1, tops[0]
    for block in body:
        items, title = list(block.items), block.title
        while items:
            taken, end = 0, y + style.head_mm
            while taken < len(items) and end + items[taken].height_mm <= bottom + 1e-6:
                end += items[taken].height_mm
                taken += 1
            fresh = y <= tops[min(page, 1)] + 1e-6
            if block.title == AS_READ and taken < len(items) and not fresh:
                taken = 0  # what is written in stands together
            if taken == 0 and fresh:
                taken = 1  # no item is higher than a column
            if taken:
                piece = Block(title, tuple(items[:taken]))
                placed.append(_Placed(page, lefts[at], y, piece))
                y += piece.height_mm(style)
                items = items[taken:]
                title = f"{block.title}, continued"
            if items:
                page, at, y = (page, 1, tops[1]) if at == 0 else (page + 1, 0, tops[1])
    return placed


def _block_group(one: _Placed, style: Print) -> Group:
    shapes = head(one.block.title, one.left_mm, one.top_mm, style)
    y = one.top_mm + style.head_mm
    for item in one.block.items:
        shapes += item.draw(one.left_mm, y)
        y += item.height_mm
    return Group("installation", one.block.title, tuple(shapes))


def _well(
    evaluation: Evaluation, card: Card, before: SceneOfStep | None, rect: Rect, system: System
) -> list[Group]:
    """The well at this step under its state in words, above what the drawing says of itself."""
    room = rect.right_mm - rect.left_mm
    words = sentence_case("; ".join(f"{thing} {how}" for thing, how in card.state))
    lines = wrap(f"{words}.", room, size_pt=8.5) if words else ()
    pitch = 8.5 * POINT_MM * 1.22
    title = "The well at this step"
    shapes: list[Shape] = [
        rule(rect.top_mm + 0.3, FINE_MM, left=rect.left_mm, right=rect.right_mm),
        Text(rect.left_mm, rect.top_mm + 5.0, title, HEAD_PT, bold=True),
    ]
    y = rect.top_mm + _WELL_HEAD_MM
    for row, line in enumerate(lines):
        shapes.append(Text(rect.left_mm, y + pitch * (row + 0.8), line, 8.5))
    top = y + pitch * len(lines) + 2.6
    notes = 1
    while True:
        box = Rect(rect.left_mm, top, rect.right_mm, rect.bottom_mm - _NOTE_MM * notes - 1.2)
        drawn = well_at_step(evaluation, card.scene, box, system, before)
        indent = 6.0 + width_mm("under pressure", _NOTE_PT) if drawn.pressure else 0.0
        told = _notes(drawn, room, indent)
        if len(told) <= notes:
            break
        notes = len(told)
    y = rect.bottom_mm - _NOTE_MM * (len(told) - 1) - 0.8
    if drawn.pressure:
        x = rect.left_mm
        key = ((x, y - 2.3), (x + 3.6, y - 2.3), (x + 3.6, y + 0.3), (x, y + 0.3))
        shapes.append(Path((key,), Style(stroke=GREY, width_mm=FINE_MM, fill=PRESSURE_GREY), closed=True))
        shapes.append(Text(x + 4.4, y, "under pressure", _NOTE_PT))
    for row, line in enumerate(told):
        x = rect.left_mm + (indent if row == 0 else 0.0)
        shapes.append(Text(x, y + _NOTE_MM * row, line, _NOTE_PT, colour=GREY))
    return [Group("well", title, tuple(shapes)), *drawn.groups]


def _notes(drawn: Drawn, room: float, indent: float) -> tuple[str, ...]:
    """What the drawing says of itself, in lines, the first of them behind the key of the tint."""
    said = [f"Depth not to scale, diameters 1:{drawn.ratio}.", "Solid steel stays, outlined grey comes out."]
    if drawn.earlier:
        said.append("Dots behind casing: its cement.")
    if drawn.flow:
        said.append(f"Arrows: {drawn.flow.removeprefix('Flow ')}.")
    if drawn.left_out:
        said.append(f"Not drawn: {', '.join(drawn.left_out)}.")
    words = " ".join(said)
    if not indent:
        return wrap(words, room, size_pt=_NOTE_PT)
    first = wrap(words, room - indent, size_pt=_NOTE_PT)[0]
    rest = words[len(first) :].strip()
    return (first, *(wrap(rest, room, size_pt=_NOTE_PT) if rest else ()))


def tables_behind(
    evaluation: Evaluation, tables: Sequence[Table], system: System, paper: Paper = A4
) -> Sheet:
    """The tables on which the cards rest, as pages behind them."""
    subject = f"{size(evaluation.plan.depth.liner.od_m, system)} liner: what the step cards rest on"
    pages = table_pages(tables, system, paper)
    return Sheet(
        tuple(
            page_scene(
                evaluation, made, subject, None, system, paper, (count, len(pages), "behind the cards"), ""
            )
            for count, made in enumerate(pages, 1)
        )
    )
