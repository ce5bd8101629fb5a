"""Textures of the rock strip, light enough to print words over.

They follow the logic of geologic pattern charts (FGDC-STD-013-2006, from memory): dashes for shale,
bricks for limestone, slanted joints for dolomite, bricks between dashes for marl, dots for sand, crosses for
salt, bars for coal.
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
    return Path(tuple(dash for row, y in _rows(rect, 1.5) for dash in _dashes(rect, row, y)), LINE)


def marl(rect: Rect) -> Shape:
    """Courses of bricks with upright joints, staggered dashes in every other one; courses of 1.4 mm."""
    runs: list[Line] = []
    for row, y in _rows(rect, 1.4):
        if row % 3 == 2:
            runs += _dashes(rect, row // 3, y)
            continue
        runs.append(((rect.left_mm, y), (rect.right_mm, y)))
        if row % 3 == 0:
            foot = min(y + 1.4, rect.bottom_mm)
            joints = _columns(rect, 3.2, 1.6 * (row // 3 % 2))
            runs += [((x, foot), (x, y)) for x in joints if rect.left_mm < x < rect.right_mm]
    return Path(tuple(runs), LINE)


def limestone(rect: Rect) -> Shape:
    """Courses of 1.6 mm with upright joints."""
    return _courses(rect, 1.6, 3.2, 0.0)


def dolomite(rect: Rect) -> Shape:
    """Courses of 1.6 mm with slanted joints."""
    return _courses(rect, 1.6, 3.2, 0.7)


def salt(rect: Rect) -> Shape:
    """Staggered upright crosses of 0.9 mm, 1.6 mm apart."""
    runs: list[Line] = []
    for row, y in _rows(rect, 1.6):
        for x in _columns(rect, 2.4, 1.2 * (row % 2)):
            left, right = max(x - 0.45, rect.left_mm), min(x + 0.45, rect.right_mm)
            if right - left > FINE_MM:
                runs.append(((left, y), (right, y)))
            if rect.left_mm < x < rect.right_mm:
                runs.append(((x, max(y - 0.45, rect.top_mm)), (x, min(y + 0.45, rect.bottom_mm))))
    return Path(tuple(runs), LINE)


def coal(rect: Rect) -> Shape:
    """Bars of 0.6 mm, 0.6 mm apart."""
    bars: list[Line] = []
    for _, y in _rows(rect, 1.2):
        top, foot = max(y - 0.3, rect.top_mm), min(y + 0.3, rect.bottom_mm)
        bars.append(((rect.left_mm, top), (rect.right_mm, top), (rect.right_mm, foot), (rect.left_mm, foot)))
    return Path(tuple(bars), Style(fill=LIGHT_GREY), closed=True)


def sand(rect: Rect) -> Shape:
    """Dots of 0.12 mm radius."""
    return Dots(dots(rect, 0.75, 0.12), 0.12, Style(fill=LIGHT_GREY))


def _dashes(rect: Rect, row: int, y: float) -> Iterator[Line]:
    for start in _columns(rect, 2.5, 1.25 * (row % 2)):
        left, right = max(start, rect.left_mm), min(start + 1.4, rect.right_mm)
        if right - left > FINE_MM:
            yield (left, y), (right, y)


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
