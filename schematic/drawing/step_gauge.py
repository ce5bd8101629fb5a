"""The pressure gauge of a step card: linear from nought, bands of events, where to go, where to stop."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import product
from typing import NamedTuple

from schematic.drawing.captions import THIN, wrap
from schematic.drawing.fills import Rect, hatch
from schematic.drawing.labels import ColumnTooFullError, place
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, OUTLINE_MM, VERMILION, WHITE
from schematic.drawing.scene import POINT_MM, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.job.card import Gauge, GaugeBand
from schematic.units import System, in_system, number, sentence_case

_BAR_MM, _ABOVE_MM, _ROW_MM = 8.0, 4.6, 3.6  # the bar; what stands above it; further rows of figures
_AXIS_MM, _NAME_MM = 4.2, 3.8  # rows below it
_LIMIT_MM = 1.2
_MORE = 1.08  # the scale ends so much beyond the highest figure
_BEYOND_MM, _BAND_MM = 1.5, 0.7  # spacing of the hatch beyond the limit, of the lines of the other bands
_LEAST_MM = 0.8  # of a band
_PT, _SMALL_PT, _WORDS_PT = 9.0, 7.5, 8.0
_PITCH_MM = 1.22 * _WORDS_PT * POINT_MM


class GaugeDrawing(NamedTuple):
    """The gauge: how high it is, and what draws it."""

    height_mm: float
    draw: Callable[[float, float], list[Shape]]  # at a left edge, from a level down


def gauge_drawing(gauge: Gauge, width_mm_: float, system: System, told: str) -> GaugeDrawing:
    """The gauge in its width; *told* is what the card says of its limit already."""
    box = Rect(0.0, 0.0, width_mm_, 0.0)
    words = wrap(_ranges(gauge, system), box.right_mm - box.left_mm, size_pt=_WORDS_PT)
    if gauge.why and gauge.why.lower() not in told.lower():
        words += wrap(f"Limit: {gauge.why}", box.right_mm - box.left_mm, size_pt=_WORDS_PT)
    names = _names(gauge, box)
    row = _NAME_MM if names else 0.0
    above = _ABOVE_MM + _ROW_MM * _rows(gauge, box, system)
    height = above + _BAR_MM + _AXIS_MM + row + _PITCH_MM * len(words) + 1.0

    def draw(left: float, top: float) -> list[Shape]:
        box = Rect(left, 0.0, left + width_mm_, 0.0)
        y0 = top + above
        y1 = y0 + _BAR_MM
        shapes = _bar(gauge, y0, y1, box)
        shapes += _above(gauge, y0, y1, box, system)
        shapes += _axis(gauge, y1, box, system)
        shapes += [name._replace(x_mm=left + name.x_mm, y_mm=y1 + _AXIS_MM + 3.0) for name in names]
        base = y1 + _AXIS_MM + row
        return shapes + [
            Text(box.left_mm, base + _PITCH_MM * (n + 0.85), line, _WORDS_PT) for n, line in enumerate(words)
        ]

    return GaugeDrawing(height, draw)


def _most_pa(gauge: Gauge) -> float:
    ends = [band.high_pa for band in gauge.bands]
    return max([*ends, gauge.target_pa or 0.0, gauge.limit_pa or 0.0, 1.0]) * _MORE


def _x(gauge: Gauge, box: Rect, pressure_pa: float) -> float:
    return box.left_mm + pressure_pa / _most_pa(gauge) * (box.right_mm - box.left_mm)


def _sorted(gauge: Gauge) -> list[GaugeBand]:
    return sorted(gauge.bands, key=lambda band: (band.low_pa, band.high_pa))


def _ranges(gauge: Gauge, system: System) -> str:
    """The bands in figures, from the lowest up."""
    told = []
    for band in _sorted(gauge):
        low, high = (number(one, "pressure", system, THIN) for one in (band.low_pa, band.high_pa))
        told.append(f"{band.name} {low} to {high}" if low != high else f"{band.name} {low}")
    return sentence_case("; ".join(told))


def _names(gauge: Gauge, box: Rect) -> list[Text]:
    """The names of the bands as near below them as they have room; none where they have none."""
    bands = _sorted(gauge)
    for points in (_PT, _WORDS_PT):
        widths = [width_mm(band.name, points, True) for band in bands]
        middles = [_x(gauge, box, 0.5 * (band.low_pa + band.high_pa)) for band in bands]
        wanted = [middle - 0.5 * wide for middle, wide in zip(middles, widths, strict=True)]
        try:
            lefts = place(wanted, widths, box.left_mm, box.right_mm, 2.0)
        except ColumnTooFullError:
            continue
        return [
            Text(left, 0.0, band.name, points, bold=True, colour=BLUE if band.mine else BLACK)
            for left, band in zip(lefts, bands, strict=True)
        ]
    return []


def _bar(gauge: Gauge, y0: float, y1: float, box: Rect) -> list[Shape]:
    """The bar with its bands; what is beyond the limit hatched."""
    shapes: list[Shape] = []
    if gauge.limit_pa is not None and _x(gauge, box, gauge.limit_pa) < box.right_mm - 0.5:
        left = _x(gauge, box, gauge.limit_pa)
        corners = ((left, y0), (box.right_mm, y0), (box.right_mm, y1), (left, y1))
        lines = hatch(corners, _BEYOND_MM, rising=True)
        shapes.append(Path(lines, Style(stroke=VERMILION, width_mm=FINE_MM)))
    for band in gauge.bands:
        left = _x(gauge, box, band.low_pa)
        right = max(_x(gauge, box, band.high_pa), left + _LEAST_MM)
        run = ((left, y0), (right, y0), (right, y1), (left, y1))
        if band.mine:
            shapes.append(Path((run,), Style(fill=BLUE), closed=True))
            continue
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE), closed=True))
        count = math.ceil((right - left) / _BAND_MM - 1e-9)
        bars = tuple(
            ((left + _BAND_MM * n, y0), (left + _BAND_MM * n, y1))
            for n in range(1, count)
            if right - left - _BAND_MM * n > 0.3
        )
        if bars:
            shapes.append(Path(bars, Style(stroke=BLACK, width_mm=FINE_MM)))
    frame = ((box.left_mm, y0), (box.right_mm, y0), (box.right_mm, y1), (box.left_mm, y1))
    shapes.append(Path((frame,), Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=True))
    return shapes


class _Figure(NamedTuple):
    """A figure over the bar: its words, where it begins, in which row from the bar up."""

    words: str
    left_mm: float
    row: int


def _figures(gauge: Gauge, box: Rect, system: System) -> tuple[_Figure | None, _Figure | None]:
    """The figures of target and limit, each beside its mark where the other leaves it room."""
    if gauge.target_pa is None and gauge.limit_pa is None:
        return None, None
    marks = []
    options: list[list[_Figure]] = []
    for pressure, after, half in ((gauge.target_pa, "", 2.2), (gauge.limit_pa, " never", 1.3)):
        if pressure is None:
            options.append([])
            continue
        at = _x(gauge, box, pressure)
        marks.append((at - half + 0.4, at + half - 0.4))
        words = f"{number(pressure, 'pressure', system, THIN)}{after}"
        wide = width_mm(words, _PT, True)
        beside = [at + half, at - half - wide] if after else [at - half - wide, at + half]
        over = min(max(at - 0.5 * wide, box.left_mm), box.right_mm - wide)
        options.append(
            [*(_Figure(words, left, 0) for left in beside), *(_Figure(words, over, n) for n in (1, 2))]
        )
    targets: list[_Figure | None] = [*options[0]] or [None]
    limits: list[_Figure | None] = [*options[1]] or [None]
    for target, limit in product(targets, limits):
        if _clear([one for one in (target, limit) if one is not None], marks, box):
            return target, limit
    return targets[-2] if options[0] else None, limits[-1]  # each in a row of its own


def _clear(figures: list[_Figure], marks: list[tuple[float, float]], box: Rect) -> bool:
    """Whether figures stand on the page, off each other and off the marks."""
    spans = [(one.left_mm, one.left_mm + width_mm(one.words, _PT, True), one.row) for one in figures]
    if any(left < box.left_mm - 1e-6 or right > box.right_mm + 1e-6 for left, right, _row in spans):
        return False
    if any(row == 0 and low < right and left < high for left, right, row in spans for low, high in marks):
        return False
    if len(spans) < 2:
        return True
    (left, right, row), (low, high, other) = spans
    return row != other or high < left - 1.0 or low > right + 1.0


def _rows(gauge: Gauge, box: Rect, system: System) -> int:
    return max((one.row for one in _figures(gauge, box, system) if one is not None), default=0)


def _above(gauge: Gauge, y0: float, y1: float, box: Rect, system: System) -> list[Shape]:
    """The triangle of the target and the bar of the limit, each with its figure."""
    shapes: list[Shape] = []
    if gauge.target_pa is not None:
        at = _x(gauge, box, gauge.target_pa)
        run = ((at - 1.7, y0 - 3.4), (at + 1.7, y0 - 3.4), (at, y0 - 0.1))
        shapes.append(Path((run,), Style(fill=BLACK), closed=True))
    if gauge.limit_pa is not None:
        at = _x(gauge, box, gauge.limit_pa)
        shapes.append(Path((((at, y0 - 3.4), (at, y1 + 0.8)),), Style(stroke=BLACK, width_mm=_LIMIT_MM)))
    for one in _figures(gauge, box, system):
        if one is not None:
            level = y0 - 0.9 - _ROW_MM * one.row
            shapes.append(Text(one.left_mm, level, one.words, _PT, bold=True))
    return shapes


def _axis(gauge: Gauge, y1: float, box: Rect, system: System) -> list[Shape]:
    """Ticks and figures, at most six of round steps."""
    top = in_system(_most_pa(gauge), "pressure", system)
    step = next(s * 10.0**n for n in range(-3, 12) for s in (1.0, 2.0, 5.0) if top / (s * 10.0**n) <= 5.0)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    wide = box.right_mm - box.left_mm
    shapes: list[Shape] = []
    ticks = []
    for n in range(int(top / step + 1e-9) + 1):
        at = box.left_mm + n * step / top * wide
        ticks.append(((at, y1), (at, y1 + 0.9)))
        words = f"{n * step:,.{decimals}f}".replace(",", THIN)
        half = 0.5 * width_mm(words, _SMALL_PT)
        middle = min(max(at, box.left_mm + half), box.right_mm - half)
        shapes.append(Text(middle, y1 + 3.6, words, _SMALL_PT, colour=GREY, anchor="middle"))
    return [Path(tuple(ticks), Style(stroke=GREY, width_mm=FINE_MM)), *shapes]
