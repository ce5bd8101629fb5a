"""Shapes cut at two levels of the paper: what a page or an inset shows of a well that goes on beyond it."""

from __future__ import annotations

from itertools import pairwise

from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Text

Run = tuple[Point, ...]


def clipped(groups: tuple[Group, ...], top_mm: float, bottom_mm: float) -> tuple[Group, ...]:
    """The groups with all that lies above *top_mm* or below *bottom_mm* cut off; empty ones go.

    A dot stays when the whole of it is inside, a text when its baseline is.
    """
    made = []
    for group in groups:
        shapes = [shape for one in group.shapes if (shape := _shape(one, top_mm, bottom_mm)) is not None]
        if shapes:
            made.append(Group(group.part, group.title, tuple(shapes), group.description))
    return tuple(made)


def _shape(shape: Shape, top: float, bottom: float) -> Shape | None:
    if isinstance(shape, Text):
        return shape if top <= shape.y_mm <= bottom else None
    if isinstance(shape, Dots):
        reach = shape.radius_mm
        centres = tuple([p for p in shape.centres if top + reach <= p[1] <= bottom - reach])
        return Dots(centres, reach, shape.style) if centres else None
    levels = [y for run in shape.runs for _x, y in run]
    if not levels or max(levels) < top or min(levels) > bottom:
        return None
    if top <= min(levels) and max(levels) <= bottom:
        return shape
    if shape.closed or shape.style.fill is not None:
        rings = (_ring(_ring(run, top, 1.0), bottom, -1.0) for run in shape.runs)
        runs = tuple(run for run in rings if len(run) > 2)
    else:
        runs = tuple(piece for run in shape.runs for piece in _line(run, top, bottom))
    return Path(runs, shape.style, shape.closed) if runs else None


def _ring(run: Run, level: float, sign: float) -> Run:
    """A ring cut by a level: what is below it for sign 1, above it for -1 (Sutherland and Hodgman, 1974)."""
    kept: list[Point] = []
    for start, end in zip(run, (*run[1:], *run[:1]), strict=True):
        before, after = sign * (start[1] - level), sign * (end[1] - level)
        if before >= 0.0:
            kept.append(start)
        if before * after < 0.0:
            kept.append(_meet(start, end, level))
    return tuple(kept)


def _line(run: Run, top: float, bottom: float) -> list[Run]:
    """The pieces of a line between two levels."""
    pieces: list[Run] = []
    piece: list[Point] = []
    for start, end in pairwise(run):
        cut = _leg(start, end, top, bottom)
        if cut is None:
            continue
        if not piece or piece[-1] != cut[0]:
            if len(piece) > 1:
                pieces.append(tuple(piece))
            piece = [cut[0]]
        piece.append(cut[1])
    if len(piece) > 1:
        pieces.append(tuple(piece))
    return pieces


def _leg(start: Point, end: Point, top: float, bottom: float) -> tuple[Point, Point] | None:
    low, high = sorted((start[1], end[1]))
    if high < top or low > bottom:
        return None
    made = [start, end]
    for n, point in enumerate((start, end)):
        if point[1] < top:
            made[n] = _meet(start, end, top)
        elif point[1] > bottom:
            made[n] = _meet(start, end, bottom)
    return (made[0], made[1])


def _meet(start: Point, end: Point, level: float) -> Point:
    share = (level - start[1]) / (end[1] - start[1])
    return (start[0] + share * (end[0] - start[0]), level)
