"""A step card: one step of the installation on a page of A4, in figures that are read at arm's length.

Number, verb and the steps before and after; now, next, never; the well at this step on the left; on the right
what is done, gauge, weight, count, what to look for, what if it is not seen, boxes to write in. What has no
room goes on with a second page; nothing is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import THIN, wrap
from schematic.drawing.comparison_page import page_scene
from schematic.drawing.fills import Rect
from schematic.drawing.grid import A4, Paper
from schematic.drawing.page import LEFT_MM, fit, rule, unit_text
from schematic.drawing.palette import BLACK, FINE_MM, GREY, HEAVY_MM, OUTLINE_MM, PRESSURE_GREY, WHITE
from schematic.drawing.scene import POINT_MM, Group, Path, Scene, Shape, Sheet, Style, Text
from schematic.drawing.step_gauge import gauge_group, gauge_height
from schematic.drawing.step_well import well_at_step
from schematic.drawing.table_pages import table_pages
from schematic.drawing.text import width_mm
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS
from schematic.export.tables import Table
from schematic.job.card import Box, Card, Countdown, Gauge, Say
from schematic.outcome import Figure, sentence
from schematic.units import System, number, sentence_case, show, size, unit_of

_NUMBER_MM = 21.0  # the black square
_BOXES_MM, _BOX_MM = 39.0, 36.0
_BODY_MM = 77.5
_FOOT_MM = 18.0
_SPLIT_MM = 108.0  # where the right column begins, on A4
_SIZES_PT = (9.0, 8.5, 8.0, 7.5)  # of the body, the first with which all stands on one page
_LEAD = 1.24
_HEAD_PT = 10.5
_BIG_PT = (40.0, 34.0, 28.0, 24.0, 20.0, 16.0, 13.0)
_WRITE_MM = 9.0


class _Block(NamedTuple):
    """A part of the right column: its height, and what draws it from a level down."""

    title: str
    height_mm: float
    draw: Callable[[float], list[Shape]]


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
    wanted = [card for card in cards if only is None or card.number == only]
    for count, card in enumerate(wanted, 1):
        before = next((one for one in cards if one.number == card.number - 1), None)
        after = next((one for one in cards if one.number == card.number + 1), None)
        pages += _pages(evaluation, card, before, after, len(cards), system, paper)
        if progress is not None:
            progress(count, len(wanted))
    return Sheet(tuple(pages))


def _pages(
    evaluation: Evaluation,
    card: Card,
    before: Card | None,
    after: Card | None,
    count: int,
    system: System,
    paper: Paper,
) -> list[Scene]:
    bottom = paper.height_mm - _FOOT_MM - 2.0
    left = _SPLIT_MM * paper.width_mm / A4.width_mm
    right = Rect(left, _BODY_MM, paper.right_mm, bottom)
    for points in _SIZES_PT:
        blocks = _blocks(evaluation, card, right, points, system)
        if sum(block.height_mm for block in blocks) <= right.bottom_mm - right.top_mm:
            break
    placed: list[list[tuple[float, _Block]]] = [[]]
    y = right.top_mm
    for block in blocks:
        if y + block.height_mm > right.bottom_mm + 1e-6 and placed[-1]:
            placed.append([])
            y = _HEADED_MM
        placed[-1].append((y, block))
        y += block.height_mm
    scenes = []
    for page, its in enumerate(placed):
        groups = _head(evaluation, card, before, after, count, page, paper, system)
        if page == 0:
            groups += _boxes(card, system, paper)
            groups += _left(evaluation, card, Rect(LEFT_MM, _BODY_MM, left - 4.0, bottom), system)
        groups += [Group("", block.title, tuple(block.draw(level))) for level, block in its]
        groups.append(_foot(evaluation, card, count, page, len(placed), paper))
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


_HEADED_MM = 40.0  # where a second page of a card begins


def _head(
    evaluation: Evaluation,
    card: Card,
    before: Card | None,
    after: Card | None,
    count: int,
    page: int,
    paper: Paper,
    system: System,
) -> list[Group]:
    """The black square with the number, the title, and the steps before and after."""
    left, right = LEFT_MM, paper.right_mm
    text_left = left + _NUMBER_MM + 4.0
    room = right - text_left
    name = evaluation.plan.identity.name
    square = ((left, 8.0), (left + _NUMBER_MM, 8.0), (left + _NUMBER_MM, 27.0), (left, 27.0))
    title = card.title if not page else f"{card.title}, continued"
    points = next((p for p in (27.0, 23.0, 19.0, 16.0, 13.0) if width_mm(title, p, True) <= room), 13.0)
    well = fit(name, room, 9.0, bold=True)
    shapes: list[Shape] = [
        Path((square,), Style(fill=BLACK), closed=True),
        Text(left + 0.5 * _NUMBER_MM, 22.6, str(card.number), 34.0, True, WHITE, "middle"),
        Text(right, 10.8, well, 9.0, bold=True, anchor="end"),
        Text(text_left, 20.0, fit(title, room, points, True), points, bold=True),
        rule(29.4, HEAVY_MM, right=right),
    ]
    said = f"Step {card.number} of {count}. {_text(card.sub, system)}"
    small = next((p for p in (9.0, 8.0, 7.0, 6.5) if width_mm(said, p) <= room), 6.5)
    for row, line in enumerate(wrap(said, room, size_pt=small)[:2]):
        shapes.append(Text(text_left, 25.4 + 2.7 * row, line, small))
    third = (right - left) / 3.0
    for at, other, bold in ((0, before, False), (1, card, True), (2, after, False)):
        if other is not None:
            words = fit(f"{other.number} {other.title}", third - 12.0, 9.0, bold)
            x = left + third * at
            shapes.append(Text(x, 35.6, words, 9.0, bold=bold))
            if at < 2 and (after if at else card) is not None:
                start = x + width_mm(words, 9.0, bold) + 2.5
                end = left + third * (at + 1) - 3.0
                if end - start > 4.0:
                    shapes.append(
                        Path((((start, 34.6), (end - 2.0, 34.6)),), Style(stroke=BLACK, width_mm=FINE_MM))
                    )
                    tip = ((end, 34.6), (end - 2.4, 33.9), (end - 2.4, 35.3))
                    shapes.append(Path((tip,), Style(fill=BLACK), closed=True))
    return [Group("well", f"Step {card.number}: {card.title}", tuple(shapes))]


def _boxes(card: Card, system: System, paper: Paper) -> list[Group]:
    """Now, next and never, each the same size."""
    gap = 7.0
    width = (paper.right_mm - LEFT_MM - 2.0 * gap) / 3.0
    made = []
    heads = ("Now", "Next", "Never exceed")
    for index, (head, box) in enumerate(zip(heads, (card.now, card.next, card.never), strict=True)):
        left = LEFT_MM + index * (width + gap)
        rect = Rect(left, _BOXES_MM, left + width, _BOXES_MM + _BOX_MM)
        if index == 0 and not card.released:
            head = "Planned, not released"
        made.append(_box(head, box, rect, index, system))
    return made


def _box(head: str, box: Box, rect: Rect, index: int, system: System) -> Group:
    """One box: frame or black ground, a head, the figure as large as it goes, what it is, lines."""
    ink = WHITE if index == 2 else BLACK
    half = (0.5 * HEAVY_MM, 0.5 * OUTLINE_MM, 0.0)[index]
    corners = (
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
    left, room = rect.left_mm + 3.0, rect.right_mm - rect.left_mm - 6.0
    shapes: list[Shape] = [
        Path((corners,), style, closed=True),
        Text(left, rect.top_mm + 6.0, fit(head, room, 11.0, True), 11.0, True, ink),
    ]
    y = rect.top_mm + 18.8
    if box.figure is not None:
        digits, unit = _digits(box.figure, system)
        points = next(
            (
                p
                for p in _BIG_PT
                if width_mm(digits, p, True) + width_mm(f" {unit}", 13.0, True) + 1.5 <= room
            ),
            _BIG_PT[-1],
        )
        shapes.append(Text(left, y, digits, points, True, ink))
        shapes.append(Text(left + width_mm(digits, points, True) + 1.5, y, unit, 13.0, True, ink))
    else:
        points = next((p for p in _BIG_PT[3:] if width_mm(box.word, p, True) <= room), _BIG_PT[-1])
        shapes.append(Text(left, y, fit(box.word, room, points, True), points, True, ink))
    said = [sentence_case(box.word)] if box.figure is not None and box.word else []
    lines = [*said, *(_text(say, system) for say in box.lines)]
    for points in (8.5, 7.5, 7.0, 6.5):
        pitch = points * POINT_MM * 1.2
        wrapped = [line for text in lines for line in wrap(text, room, size_pt=points)]
        if y + 3.4 + pitch * len(wrapped) <= rect.bottom_mm - 0.6:
            break
    fits = int((rect.bottom_mm - 0.6 - y - 3.4) / pitch)
    if len(wrapped) > fits:
        wrapped = [*wrapped[: fits - 1], fit(f"{wrapped[fits - 1]} \u2026", room, points)]
    for row, line in enumerate(wrapped):
        shapes.append(Text(left, y + 2.8 + pitch * (row + 0.9), line, points, colour=ink))
    return Group("installation", head, tuple(shapes))


def _digits(figure: Figure, system: System) -> tuple[str, str]:
    if figure.kind == "size":
        return show(figure.si, "diameter", system, THIN), ""
    digits = number(figure.si, figure.kind, system, THIN)
    if figure.kind == "force":  # a weight indicator is not read closer
        digits = digits.removesuffix(".0")
    return digits, unit_text(figure.kind, system)


def _text(say: Say, system: System) -> str:
    return sentence_case(sentence(say.text, say.figures, system)).replace("m3", "m\u00b3")


def _left(evaluation: Evaluation, card: Card, rect: Rect, system: System) -> list[Group]:
    """The well at this step, its state in words over it."""
    words = "; ".join(f"{thing} {how}" for thing, how in card.state)
    lines = wrap(f"{sentence_case(words)}.", rect.right_mm - rect.left_mm, size_pt=7.5)
    pitch = 7.5 * POINT_MM * 1.22
    shapes: list[Shape] = [
        Text(rect.left_mm, rect.top_mm + 3.6, "The well at this step", _HEAD_PT, bold=True)
    ]
    y = rect.top_mm + 7.6
    for row, line in enumerate(lines):
        shapes.append(Text(rect.left_mm, y + pitch * row, line, 7.5))
    top = y + pitch * len(lines)
    box = Rect(rect.left_mm, top, rect.right_mm, rect.bottom_mm - 6.0)
    drawn, ratio = well_at_step(evaluation, card.scene, box, system)
    y = rect.bottom_mm - 1.4
    said = f"Depth not to scale, diameters 1:{ratio}. Blue stays."
    x = rect.left_mm
    if any(group.title == "under pressure" for group in drawn):
        key = ((x, y - 2.2), (x + 3.6, y - 2.2), (x + 3.6, y + 0.4), (x, y + 0.4))
        shapes.append(Path((key,), Style(fill=PRESSURE_GREY, stroke=GREY, width_mm=FINE_MM), closed=True))
        shapes.append(Text(x + 4.6, y, "under pressure.", 7.0))
        x += 6.0 + width_mm("under pressure.", 7.0)
    shapes.append(Text(x, y, fit(said, rect.right_mm - x, 7.0), 7.0, colour=GREY))
    return [Group("well", "The well at this step", tuple(shapes)), *drawn]


def _paragraphs(
    title: str, texts: Sequence[tuple[str, bool]], rect: Rect, points: float, mark: str
) -> _Block | None:
    """A head over sentences, each with a mark: a box to tick, a triangle, or a number."""
    if not texts:
        return None
    pitch = points * POINT_MM * _LEAD
    indent = 5.0 if mark else 0.0
    room = rect.right_mm - rect.left_mm - indent
    wrapped = [(wrap(text, room, bold=bold, size_pt=points), bold) for text, bold in texts]
    height = 6.4 + sum(pitch * len(lines) + (0.7 if not bold else 0.0) for lines, bold in wrapped) + 1.4

    def draw(top: float) -> list[Shape]:
        shapes: list[Shape] = [
            rule(top + 0.4, FINE_MM, left=rect.left_mm, right=rect.right_mm),
            Text(rect.left_mm, top + 5.0, title, _HEAD_PT, bold=True),
        ]
        y, x = top + 6.4, rect.left_mm + indent
        for index, (lines, bold) in enumerate(wrapped):
            base = y + 0.8 * pitch
            if mark == "tick":
                shapes.append(_square(rect.left_mm, base + 0.2, 0.78 * pitch))
            elif mark == "ask" and bold:
                tip = (
                    (rect.left_mm, base - 2.2),
                    (rect.left_mm + 2.6, base - 0.9),
                    (rect.left_mm, base + 0.4),
                )
                shapes.append(Path((tip,), Style(fill=BLACK), closed=True))
            elif mark == "number":
                shapes.append(Text(rect.left_mm, base, str(index + 1), points, bold=True))
            for row, line in enumerate(lines):
                shapes.append(Text(x, base + pitch * row, line, points, bold=bold))
            y += pitch * len(lines) + (0.7 if not bold else 0.0)
        return shapes

    return _Block(title, height, draw)


def _square(x: float, base: float, size: float) -> Path:
    run = ((x, base - size), (x + size, base - size), (x + size, base), (x, base))
    return Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True)


def _blocks(evaluation: Evaluation, card: Card, rect: Rect, points: float, system: System) -> list[_Block]:
    """The blocks of the right column in their order."""
    found: list[_Block | None] = [
        _paragraphs("Do", [(_text(say, system), False) for say in card.do], rect, points, "number")
    ]
    gauge = card.gauge
    if gauge is not None:
        found.append(_gauge(gauge, rect, system))
    found.append(_weight(evaluation, card, rect, points, system))
    found.append(_counts(card.counts, rect, points, system))
    found.append(
        _paragraphs(
            "Look for, tick when seen",
            [(_text(s, system), False) for s in card.look_for],
            rect,
            points,
            "tick",
        )
    )
    asked: list[tuple[str, bool]] = []
    for remedy in card.if_not:
        asked += [(_text(remedy.question, system), True), (_text(remedy.action, system), False)]
    found.append(_paragraphs("If not", asked, rect, points, "ask"))
    warned = [*([card.pick_up_limit] if card.pick_up_limit else []), *card.caution]
    found.append(_paragraphs("Caution", [(_text(say, system), False) for say in warned], rect, points, ""))
    lacks = [f"{one.what}: needs {', '.join(one.needs)}" for one in card.needs]
    found.append(
        _paragraphs("Not computed", [(sentence_case(text), False) for text in lacks], rect, points, "")
    )
    found.append(_as_read(card, rect))
    return [block for block in found if block is not None]


def _gauge(gauge: Gauge, rect: Rect, system: System) -> _Block:
    high = gauge_height(gauge, rect.right_mm - rect.left_mm)

    def draw(top: float) -> list[Shape]:
        box = Rect(rect.left_mm, top + 1.4, rect.right_mm, top + 1.4 + high)
        head = rule(top + 0.4, FINE_MM, left=rect.left_mm, right=rect.right_mm)
        return [head, *gauge_group(gauge, box, system).shapes]

    return _Block("Gauge", high + 2.6, draw)


def _weight(evaluation: Evaluation, card: Card, rect: Rect, points: float, system: System) -> _Block | None:
    """Hook load before and after, with an arrow, and the difference in words."""
    weight = card.weight
    if weight is None:
        return None
    block = evaluation.plan.job.block_weight_n
    of_block = f", block {number(block, 'force', system)} included" if block is not None else ""
    title = f"Hook load, {unit_of('force', system)}{of_block}"
    pitch = points * POINT_MM * _LEAD
    both = weight.before_n is not None and weight.after_n is not None
    lines = [_text(say, system) for say in weight.says]
    if both:
        lines.insert(0, sentence_case(weight.motion))
    room = rect.right_mm - rect.left_mm
    wrapped = [line for text in lines for line in wrap(text, room, size_pt=points)]
    height = 6.6 + (11.0 if both else 0.0) + pitch * len(wrapped) + 1.6

    def draw(top: float) -> list[Shape]:
        head = next((p for p in (_HEAD_PT, 9.0, 8.0, 7.0) if width_mm(title, p, True) <= room), 6.5)
        shapes: list[Shape] = [
            rule(top + 0.4, FINE_MM, left=rect.left_mm, right=rect.right_mm),
            Text(rect.left_mm, top + 5.2, fit(title, room, head, True), head, bold=True),
        ]
        y = top + 6.6
        if weight.before_n is not None and weight.after_n is not None:
            first, second = (number(v, "force", system, THIN) for v in (weight.before_n, weight.after_n))
            at = y + 8.6
            shapes.append(Text(rect.left_mm, at, first, 25.0, bold=True))
            start = rect.left_mm + width_mm(first, 25.0, True) + 2.5
            shapes.append(
                Path(
                    (((start, at - 3.0), (start + 7.0, at - 3.0)),), Style(stroke=BLACK, width_mm=OUTLINE_MM)
                )
            )
            tip = ((start + 9.5, at - 3.0), (start + 6.5, at - 4.0), (start + 6.5, at - 2.0))
            shapes.append(Path((tip,), Style(fill=BLACK), closed=True))
            shapes.append(Text(start + 11.5, at, second, 25.0, bold=True))
            y += 11.0
        for row, line in enumerate(wrapped):
            shapes.append(Text(rect.left_mm, y + pitch * (row + 0.8), line, points))
        return shapes

    return _Block("Hook load", height, draw)


def _counts(counts: Sequence[Countdown], rect: Rect, points: float, system: System) -> _Block | None:
    """The events to come by volume, strokes and time, with the band of the volume."""
    if not counts:
        return None
    small = min(points, 8.0)
    pitch = small * POINT_MM * _LEAD
    room = rect.right_mm - rect.left_mm
    strokes = any(one.strokes is not None for one in counts)
    timed = any(one.seconds is not None for one in counts)
    edges = [rect.left_mm + room * share for share in (0.55, 0.80, 0.92, 1.0)]
    names = [wrap(sentence_case(one.event), 0.40 * room, size_pt=small) for one in counts]
    height = 6.6 + pitch * (1 + sum(len(lines) for lines in names)) + 1.6

    def draw(top: float) -> list[Shape]:
        unit = unit_text("volume", system)
        shapes: list[Shape] = [
            rule(top + 0.4, FINE_MM, left=rect.left_mm, right=rect.right_mm),
            Text(rect.left_mm, top + 5.2, "Count to the next events", _HEAD_PT, bold=True),
        ]
        y = top + 6.6 + 0.8 * pitch
        heads = (unit, "least to most", "strokes" if strokes else "", "min" if timed else "")
        for edge, words in zip(edges, heads, strict=True):
            shapes.append(Text(edge, y, words, small, colour=GREY, anchor="end"))
        y += pitch
        for one, lines in zip(counts, names, strict=True):
            for row, line in enumerate(lines):
                shapes.append(Text(rect.left_mm, y + pitch * row, line, small))
            band = [number(v, "volume", system, THIN) for v in (one.least_m3, one.most_m3)]
            cells = (
                number(one.m3, "volume", system, THIN),
                " to ".join(dict.fromkeys(band)) if band[0] != band[1] else "no band given",
                number(one.strokes, "count", system, THIN) if one.strokes is not None else "",
                number(one.seconds, "minutes", system, THIN) if one.seconds is not None else "",
            )
            for edge, words, bold in zip(edges, cells, (True, False, True, False), strict=True):
                shapes.append(Text(edge, y, words, small, bold=bold, anchor="end"))
            y += pitch * len(lines)
        return [shape for shape in shapes if not isinstance(shape, Text) or shape.text]

    return _Block("Count", height, draw)


def _as_read(card: Card, rect: Rect) -> _Block:
    """Boxes to write in, and who signs."""
    heads = ("time", *(head for head in card.as_read if head))
    gap = 2.2
    width = (rect.right_mm - rect.left_mm - gap * (len(heads) - 1)) / len(heads)

    def draw(top: float) -> list[Shape]:
        shapes: list[Shape] = [
            rule(top + 0.4, FINE_MM, left=rect.left_mm, right=rect.right_mm),
            Text(rect.left_mm, top + 5.2, "As read", _HEAD_PT, bold=True),
        ]
        for index, head in enumerate(heads):
            x, y = rect.left_mm + index * (width + gap), top + 9.6
            shapes.append(Text(x, y - 1.0, fit(head, width, 7.0), 7.0, colour=GREY))
            run = ((x, y), (x + width, y), (x + width, y + _WRITE_MM), (x, y + _WRITE_MM))
            shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True))
        y = top + 9.6 + _WRITE_MM + 5.6
        shapes.append(Text(rect.left_mm, y, "Signed", 7.5, colour=GREY))
        shapes.append(rule(y + 0.4, FINE_MM, left=rect.left_mm + 12.0, right=rect.right_mm))
        return shapes

    return _Block("As read", 9.6 + _WRITE_MM + 7.6, draw)


def _foot(evaluation: Evaluation, card: Card, count: int, page: int, pages: int, paper: Paper) -> Group:
    """The caution, and which issue of the plan this card belongs to."""
    identity = evaluation.plan.identity
    revision = f"revision {identity.revision.number}" if identity.revision else "no revision"
    dated = f" of {identity.revision.date}" if identity.revision and identity.revision.date else ""
    of_pages = f", page {page + 1} of {pages}" if pages > 1 else ""
    where = f"card {card.number} of {count}{of_pages}"
    y = paper.height_mm - _FOOT_MM
    room = paper.right_mm - LEFT_MM
    issue = f"{identity.state.upper()}, {revision}{dated}, file {identity.file_hash}"
    shapes: list[Shape] = [rule(y, HEAVY_MM, right=paper.right_mm)]
    lines = wrap(f"{CAUTION} {NOT_A_BASIS}", room, size_pt=7.0)
    for row, line in enumerate(lines):
        shapes.append(Text(LEFT_MM, y + 3.6 + 3.0 * row, line, 7.0))
    last = y + 3.6 + 3.0 * len(lines)
    beside = width_mm(where, 7.0) + 4.0
    shapes.append(Text(LEFT_MM, last, fit(issue, room - beside, 7.0), 7.0, colour=GREY))
    shapes.append(Text(paper.right_mm, last, where, 7.0, colour=GREY, anchor="end"))
    return Group("", "Caution and issue", tuple(shapes))


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
