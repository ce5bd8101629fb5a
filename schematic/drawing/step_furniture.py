"""The head and the foot of a step card: number, verb, the steps around it; caution and issue."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import wrap
from schematic.drawing.grid import Paper
from schematic.drawing.page import LEFT_MM, fit, rule
from schematic.drawing.palette import BLACK, HEAVY_MM, OUTLINE_MM, WHITE
from schematic.drawing.scene import POINT_MM, Group, Path, Shape, Style, Text
from schematic.drawing.step_items import text_of
from schematic.drawing.text import width_mm
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS
from schematic.job.card import Card
from schematic.outcome import Severity
from schematic.units import System

_NUMBER_MM = 22.0  # the black square
_TITLE_PTS = (30.0, 27.0, 24.0, 21.0, 18.0, 16.0, 14.0, 12.0)
_CLEAR_PT = 21.0  # a larger title has no room below the well's name
_SUB_PTS = (9.0, 8.5, 8.0)
_FOOT_PT, _FOOT_PITCH_MM = 7.0, 3.0


def card_head(
    evaluation: Evaluation,
    card: Card,
    neighbours: tuple[Card | None, Card | None],
    count: int,
    page: int,
    paper: Paper,
    system: System,
) -> tuple[list[Group], float]:
    """The black square with the number, the title, the steps before and after; and the level below."""
    left, right = LEFT_MM, paper.right_mm
    text_left = left + _NUMBER_MM + 4.0
    room = right - text_left
    name = evaluation.plan.identity.name
    title = card.title if not page else f"{card.title}, continued"
    name_pt = next((p for p in (10.0, 9.0, 8.0, 7.0) if width_mm(name, p, True) <= room), 7.0)
    name = fit(name, room, name_pt, True)
    beside = room - width_mm(name, name_pt, True) - 3.0  # capitals at 24 pt and more reach up to the name
    points = next(
        (p for p in _TITLE_PTS if width_mm(title, p, True) <= (beside if p > _CLEAR_PT else room)),
        _TITLE_PTS[-1],
    )
    titles = wrap(title, room, bold=True, size_pt=points)
    y = 19.6
    shapes: list[Shape] = [Text(right, 10.5, name, name_pt, bold=True, anchor="end")]
    for row, line in enumerate(titles):
        y += 1.15 * points * POINT_MM if row else 0.0
        shapes.append(Text(text_left, y, line, points, bold=True))
    said = f"Step {card.number} of {count}. {text_of(card.sub, system)}"
    small = next((p for p in _SUB_PTS if width_mm(said, p) <= room), _SUB_PTS[-1])
    y += 1.2
    for line in wrap(said, room, size_pt=small):
        y += 1.22 * small * POINT_MM
        shapes.append(Text(text_left, y, line, small))
    y = max(y + 2.6, 28.6)
    foot = min(y - 1.6, 8.0 + _NUMBER_MM - 2.6)
    square = ((left, 8.0), (left + _NUMBER_MM, 8.0), (left + _NUMBER_MM, foot), (left, foot))
    number_pt = 38.0 if card.number < 100 else 26.0
    base = 0.5 * (8.0 + foot) + 0.364 * number_pt * POINT_MM
    shapes += [
        Path((square,), Style(fill=BLACK), closed=True),
        Text(left + 0.5 * _NUMBER_MM, base, str(card.number), number_pt, True, WHITE, "middle"),
        rule(y, HEAVY_MM, right=right),
    ]
    y += 5.2
    shapes += _sequence(card, neighbours, left, right, y)
    return [Group("well", f"Step {card.number}: {card.title}", tuple(shapes))], y + 2.8


def _sequence(
    card: Card, neighbours: tuple[Card | None, Card | None], left: float, right: float, base: float
) -> list[Shape]:
    """Before, now and after as one line with arrows between."""
    steps = [step for step in (neighbours[0], card, neighbours[1]) if step is not None]
    words = [f"{step.number} {step.title}" for step in steps]
    least = 9.0 * (len(steps) - 1)
    for points in (9.0, 8.5, 8.0):
        widths = [width_mm(text, points, step is card) for text, step in zip(words, steps, strict=True)]
        if sum(widths) + least <= right - left:
            break
    else:
        room = (right - left - least - widths[steps.index(card)]) / max(len(steps) - 1, 1)
        words = [
            text if step is card else fit(text, room, points) for text, step in zip(words, steps, strict=True)
        ]
        widths = [width_mm(text, points, step is card) for text, step in zip(words, steps, strict=True)]
    arrow = min((right - left - sum(widths)) / max(len(steps) - 1, 1), 36.0)
    shapes: list[Shape] = []
    x, level = left, base - 1.0
    for index, (text, step, wide) in enumerate(zip(words, steps, widths, strict=True)):
        shapes.append(Text(x, base, text, points, bold=step is card))
        x += wide
        if index < len(steps) - 1:
            end = x + arrow - 2.2
            run = ((x + 2.2, level), (end - 2.0, level))
            tip = ((end, level), (end - 2.6, level - 0.8), (end - 2.6, level + 0.8))
            shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
            shapes.append(Path((tip,), Style(fill=BLACK), closed=True))
            x += arrow
    return shapes


def card_foot(
    evaluation: Evaluation, card: Card, count: int, page: int, pages: int, paper: Paper
) -> tuple[list[Group], float]:
    """The caution and which issue of the plan this card belongs to; and the level where the body ends."""
    identity = evaluation.plan.identity
    revision = f"revision {identity.revision.issue}" if identity.revision else "no revision"
    where = f"card {card.number} of {count}"
    if pages > 1:
        where += f", page {page + 1} of {pages}"
    room = paper.right_mm - LEFT_MM
    caution = wrap(f"{CAUTION} {NOT_A_BASIS}", room, size_pt=_FOOT_PT)
    errors = evaluation.count(Severity.ERROR)
    open_ = f"{errors} {'error' if errors == 1 else 'errors'} open, " if errors else ""
    issue = f"{identity.name}. {identity.standing.upper()}, {open_}{revision}, file {identity.file_hash}"
    widest = f"card {card.number} of {count}, page 9 of 9"
    issued = wrap(issue, room - width_mm(widest, _FOOT_PT, True) - 6.0, size_pt=_FOOT_PT)
    bottom = paper.height_mm - 8.0
    y = bottom - _FOOT_PITCH_MM * (len(caution) + len(issued)) - 1.6
    shapes: list[Shape] = [rule(y, HEAVY_MM, right=paper.right_mm)]
    base = y + 0.8
    for line in caution:
        base += _FOOT_PITCH_MM
        shapes.append(Text(LEFT_MM, base, line, _FOOT_PT))
    for row, line in enumerate(issued):
        base += _FOOT_PITCH_MM
        shapes.append(Text(LEFT_MM, base, line, _FOOT_PT))
        if row == len(issued) - 1:
            shapes.append(Text(paper.right_mm, base, where, _FOOT_PT, bold=True, anchor="end"))
    return [Group("", "Caution and issue", tuple(shapes))], y - 2.0
