"""Shapes as far as they lie between two levels: what is outside is cut off, texts are left out."""

from __future__ import annotations

from collections.abc import Iterable

from schematic.drawing.scene import Dots, Group, Point, Shape, Text

Run = tuple[Point, ...]


def between(groups: Iterable[Group], top_mm: float, bottom_mm: float) -> list[Group]:
    """Groups with their shapes cut at both levels; a group of which nothing is left goes."""
    found = []
    for group in groups:
        shapes = tuple(cut for shape in group.shapes if (cut := _cut(shape, top_mm, bottom_mm)) is not None)
        if shapes:
            found.append(Group(group.part, group.title, shapes, group.description))
    return found


def _cut(shape: Shape, top_mm: float, bottom_mm: float) -> Shape | None:
    if isinstance(shape, Text):
        return None
    if isinstance(shape, Dots):
        r = shape.radius_mm
        inside = tuple(c for c in shape.centres if top_mm + r <= c[1] <= bottom_mm - r)
        return shape._replace(centres=inside) if inside else None
    if shape.closed or shape.style.fill is not None:
        closed = (_half(_half(run, top_mm, 1.0), bottom_mm, -1.0) for run in shape.runs)
        runs = tuple(run for run in closed if len(run) > 2)
    else:
        runs = tuple(piece for run in shape.runs for piece in _pieces(run, top_mm, bottom_mm))
    return shape._replace(runs=runs) if runs else None


def _half(run: Run, level_mm: float, sign: float) -> Run:
    """A closed outline below a level (1) or above it (-1): Sutherland and Hodgman (1974), one edge."""
    made: list[Point] = []
    for (x0, y0), (x1, y1) in zip((run[-1], *run[:-1]), run, strict=True) if run else ():
        was, is_in = sign * (y0 - level_mm) >= 0.0, sign * (y1 - level_mm) >= 0.0
        if was != is_in:
            made.append((x0 + (x1 - x0) * (level_mm - y0) / (y1 - y0), level_mm))
        if is_in:
            made.append((x1, y1))
    return tuple(made)


def _pieces(run: Run, top_mm: float, bottom_mm: float) -> list[Run]:
    """An open line cut into what lies between the levels."""
    pieces: list[list[Point]] = []
    for (x0, y0), (x1, y1) in zip(run, run[1:], strict=False):
        low, high = 0.0, 1.0
        if y0 == y1:
            if not top_mm <= y0 <= bottom_mm:
                continue
        else:
            a, b = sorted(((top_mm - y0) / (y1 - y0), (bottom_mm - y0) / (y1 - y0)))
            low, high = max(a, 0.0), min(b, 1.0)
            if low >= high:
                continue
        start = (x0 + low * (x1 - x0), y0 + low * (y1 - y0))
        end = (x0 + high * (x1 - x0), y0 + high * (y1 - y0))
        if pieces and low == 0.0 and pieces[-1][-1] == (x0, y0):
            pieces[-1].append(end)
        else:
            pieces.append([start, end])
    return [tuple(piece) for piece in pieces]
