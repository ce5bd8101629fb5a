"""Textures of the rock strip, light enough to print words over.

They follow the logic of geologic pattern charts (FGDC-STD-013-2006, from memory): dashes for shale,
bricks for limestone, slanted joints for marl, dots for sand.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from schematic.drawing.fills import Line, Rect, dots
from schematic.drawing.palette import FINE_MM, LIGHT_GREY
from schematic.drawing.scene import Dots, Path, Shape, Style

LINE = Style(stroke=LIGHT_GREY, width_mm=FINE_MM)


def shale(rect: Rect) -> Shape:
    """Staggered dashes of 1.4 mm, 1.1 mm apart."""
    runs = []
    for row, y in _rows(rect, 1.5):
        for start in _columns(rect, 2.5, 1.25 * (row % 2)):
            left, right = max(start, rect.left_mm), min(start + 1.4, rect.right_mm)
            if right - left > FINE_MM:
                runs.append(((left, y), (right, y)))
    return Path(tuple(runs), LINE)


def marl(rect: Rect) -> Shape:
    """Courses of 1.3 mm with slanted joints."""
    return _courses(rect, 1.3, 3.2, 0.7)


def limestone(rect: Rect) -> Shape:
    """Courses of 1.6 mm with upright joints."""
    return _courses(rect, 1.6, 3.2, 0.0)


def sand(rect: Rect) -> Shape:
    """Dots of 0.12 mm radius."""
    return Dots(dots(rect, 0.75, 0.12), 0.12, Style(fill=LIGHT_GREY))


def _courses(rect: Rect, course_mm: float, brick_mm: float, slant_mm: float) -> Shape:
    runs: list[Line] = [((rect.left_mm, y), (rect.right_mm, y)) for _, y in _rows(rect, course_mm)]
    levels = [y for _, y in _rows(rect, course_mm)]
    first = math.ceil(rect.top_mm / course_mm)
    for i, (top, bottom) in enumerate(zip((rect.top_mm, *levels), (*levels, rect.bottom_mm), strict=True)):
        for x in _columns(rect, brick_mm, 0.5 * brick_mm * ((first + i) % 2)):
            foot = x + slant_mm * (bottom - top) / course_mm
            if rect.left_mm < x and foot < rect.right_mm and bottom > top:
                runs.append(((x, bottom), (foot, top)))
    return Path(tuple(runs), LINE)


def _rows(rect: Rect, pitch_mm: float) -> Iterator[tuple[int, float]]:
    """Levels strictly inside, at multiples of the pitch on the page, with their count."""
    for row in range(math.floor(rect.top_mm / pitch_mm) + 1, math.ceil(rect.bottom_mm / pitch_mm)):
        yield row, row * pitch_mm


def _columns(rect: Rect, pitch_mm: float, shift_mm: float) -> Iterator[float]:
    """Places from one before the left side to the right side, at multiples of the pitch."""
    first = math.floor((rect.left_mm - shift_mm) / pitch_mm)
    for column in range(first, math.ceil((rect.right_mm - shift_mm) / pitch_mm)):
        yield column * pitch_mm + shift_mm
