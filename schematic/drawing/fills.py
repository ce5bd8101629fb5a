"""Texture of the sheet: hatch, dots, wavy walls and zig-zag marks, as bare points on paper.

Everything is anchored to the page, not to the shape, so that neighbours line up, and what looks
random comes from a hash of the place: the same drawing has the same bytes each run. All lengths in
mm on paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from schematic.drawing.scene import Point

Line = tuple[Point, ...]
SHORTEST_MM = 0.2  # shorter pieces of hatch are grains, not lines
ROW = math.sqrt(3.0) / 2.0  # of the pitch: rows of a staggered grid
JITTER = 0.35  # of the pitch: full width of what a dot may be off its grid


class Rect(NamedTuple):
    """An upright rectangle."""

    left_mm: float
    top_mm: float
    right_mm: float
    bottom_mm: float


def noise(i: int, j: int) -> tuple[float, float]:
    """Two numbers from -1 to 1 for a place on a grid, always the same ones."""
    h = (i * 0x9E3779B1 ^ j * 0x85EBCA77) & 0xFFFFFFFF
    h = (h ^ h >> 15) * 0x2C1B3C6D & 0xFFFFFFFF
    h = (h ^ h >> 12) * 0x297A2D39 & 0xFFFFFFFF
    h ^= h >> 15
    return (h & 0xFFFF) / 0x8000 - 1.0, (h >> 16) / 0x8000 - 1.0


@lru_cache(maxsize=2**13)  # the rows on one sheet; step cards, page after page, dot the same ones
def _noise_row(row: int, first: int, last: int) -> tuple[tuple[float, float], ...]:
    return tuple([noise(row, column) for column in range(first, last + 1)])


def hatch(outline: Sequence[Point], spacing_mm: float, *, rising: bool) -> tuple[Line, ...]:
    """Segments at 45 degrees inside a polygon (even-odd), rising or falling to the right.

    Each edge says which hatch lines it meets, so the cost grows with edges plus segments.
    """
    sign = 1.0 if rising else -1.0
    step = spacing_mm * math.sqrt(2.0)
    met: dict[int, list[float]] = {}
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        u0, u1 = (x0 + sign * y0) / step, (x1 + sign * y1) / step
        if u0 > u1:
            x0, u0, x1, u1 = x1, u1, x0, u0
        for n in range(math.ceil(u0), math.ceil(u1)):  # half open: a corner is met once
            met.setdefault(n, []).append(x0 + (x1 - x0) * (n - u0) / (u1 - u0))
    segments = []
    for n in sorted(met):
        xs = sorted(met[n])
        for x0, x1 in zip(xs[::2], xs[1::2], strict=True):
            if x1 - x0 > SHORTEST_MM:
                segments.append(((x0, sign * (n * step - x0)), (x1, sign * (n * step - x1))))
    return tuple(segments)


def dots(
    rect: Rect,
    pitch_mm: float,
    radius_mm: float,
    *,
    clear_mm: float = 0.05,
    keep_out: Sequence[Rect] = (),
) -> tuple[Point, ...]:
    """Centres of dots on a jittered staggered grid, each wholly inside the rectangle.

    A dot stays *clear_mm* off the edges and, over the whole height that its row may reach, off every
    rectangle of *keep_out*. Where its jitter would take it out of a narrow rectangle, it stays on the grid.
    """
    reach = radius_mm + clear_mm
    wobble = 0.5 * JITTER * pitch_mm
    row_mm = ROW * pitch_mm
    left, right = rect.left_mm + reach, rect.right_mm - reach
    top, bottom = rect.top_mm + reach, rect.bottom_mm - reach
    centres: list[Point] = []
    for row in range(math.ceil(top / row_mm), math.floor(bottom / row_mm) + 1):
        level, shift = row * row_mm, 0.5 * (row % 2)
        first, last = math.ceil(left / pitch_mm - shift), math.floor(right / pitch_mm - shift)
        placed = [
            (
                x if left <= (x := on_grid + a * wobble) <= right else on_grid,
                y if top <= (y := level + b * wobble) <= bottom else level,
            )
            for column, (a, b) in enumerate(_noise_row(row, first, last), first)
            for on_grid in ((column + shift) * pitch_mm,)
        ]
        for out in keep_out:
            low, high = level - wobble - reach, level + wobble + reach
            if out.bottom_mm > max(low, rect.top_mm) and out.top_mm < min(high, rect.bottom_mm):
                placed = [p for p in placed if not out.left_mm - reach < p[0] < out.right_mm + reach]
        centres += placed
    return tuple(centres)


def wavy(
    x_mm: float, top_mm: float, bottom_mm: float, amplitude_mm: float = 0.15, wave_mm: float = 3.0
) -> Line:
    """An upright line that swings unevenly about *x_mm* and ends on it."""
    line = [(x_mm, top_mm)]
    swing, count = 1.0, 0
    while line[-1][1] < bottom_mm:
        start = line[-1][1]
        a, b = noise(round(100.0 * top_mm), count)
        half = 0.5 * wave_mm * (1.0 + 0.25 * a)
        if start + 1.4 * half > bottom_mm:
            half = bottom_mm - start
        height = swing * amplitude_mm * (0.8 + 0.2 * b)
        for i in (1, 2, 3):
            line.append((x_mm + height * math.sin(math.pi * i / 4.0), start + half * i / 4.0))
        line.append((x_mm, bottom_mm if half == bottom_mm - start else start + half))
        swing, count = -swing, count + 1
    return tuple(line)


def zigzag(
    left_mm: float,
    right_mm: float,
    y_mm: float,
    marks_mm: Sequence[float],
    width_mm: float = 1.4,
    height_mm: float = 0.75,
) -> Line:
    """A level line with one zig-zag at each mark.

    A single mark on a short line shows a change of scale; two long lines with white between them
    show that length is left out.
    """
    line = [(left_mm, y_mm)]
    for x in marks_mm:
        quarter = 0.25 * width_mm
        line += [
            (x - 2.0 * quarter, y_mm),
            (x - quarter, y_mm - height_mm),
            (x + quarter, y_mm + height_mm),
            (x + 2.0 * quarter, y_mm),
        ]
    return (*line, (right_mm, y_mm))
