"""Upright dimension lines: arrows, extension lines, the figure along the line, a break where it runs on."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.drawing.captions import SMALL_PT
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, FINE_MM, OUTLINE_MM
from schematic.drawing.scene import Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm

LANE_MM = 4.3  # from one dimension line to the next
NARROW_LANE_MM = 3.5
_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_ARROW_MM, _ARROW_HALF_MM = 1.3, 0.35
_ARROWS_MM = 3.4  # a shorter dimension has ticks, not arrows
_TICK_MM = 0.7
_BESIDE_MM = 0.95  # from the line to the baseline of its figure
_BREAK_MM = 5.0  # from the break to the end of the line
LEAST_RUN_MM = _BREAK_MM + 0.7  # a line that runs off is no shorter
_CLEAR_MM = 0.8  # figure to either end


def fitting(texts: Sequence[str], length_mm: float, bold: bool = True) -> str | None:
    """The first of the texts that stands along a line of a length; None when none does."""
    room = length_mm - 2.0 * _CLEAR_MM
    return next((text for text in texts if width_mm(text, SMALL_PT, bold) <= room), None)


def _arrow(x: float, y: float, toward: float) -> tuple[Point, ...]:
    """A slender arrow head at a level, pointing up (-1) or down (1)."""
    back = y - toward * _ARROW_MM
    return ((x, y), (x - _ARROW_HALF_MM, back), (x + _ARROW_HALF_MM, back))


def between(
    x_mm: float, top_mm: float, bottom_mm: float, texts: Sequence[str], extend_mm: float
) -> tuple[tuple[Shape, ...], str | None]:
    """A dimension between two levels, with extension lines to *extend_mm*.

    Returns its shapes and which of *texts*, the longest first, found room along it; nothing and None when
    none did: no arrow without a figure.
    """
    text = fitting(texts, bottom_mm - top_mm)
    if text is None:
        return (), None
    shapes = (
        Path(_extensions(x_mm, (top_mm, bottom_mm), extend_mm), _LINE),
        *_shaft(x_mm, top_mm, bottom_mm),
        _along(x_mm, 0.5 * (top_mm + bottom_mm), text),
    )
    return shapes, text


def running_off(
    x_mm: float, top_mm: float, end_mm: float, texts: Sequence[str], extend_mm: float, free_mm: float
) -> tuple[tuple[Shape, ...], str | None]:
    """A dimension from a level down through a break: its lower end is deeper than the drawing shows.

    Where no text has room along it, the last one stands above its head, where all is free from *free_mm*
    down; where it has none there either, nothing is drawn.
    """
    broken = end_mm - _BREAK_MM
    text, middle = fitting(texts, broken + 1.0 - top_mm), 0.5 * (top_mm + broken + 1.0)
    if text is None:
        text, middle = fitting(texts[-1:], top_mm - free_mm), 0.5 * (top_mm + free_mm)
    if text is None:
        return (), None
    zig = (
        (x_mm, top_mm),
        (x_mm, broken + 1.0),
        (x_mm - 0.8, broken + 1.35),
        (x_mm + 0.8, broken + 2.05),
        (x_mm, broken + 2.4),
        (x_mm, end_mm),
    )
    shapes = (
        Path((*_extensions(x_mm, (top_mm,), extend_mm), zig), _LINE),
        Path((_arrow(x_mm, top_mm, -1.0), _arrow(x_mm, end_mm, 1.0)), Style(fill=BLACK), closed=True),
        _along(x_mm, middle, text),
    )
    return shapes, text


def bracket(x_mm: float, top_mm: float, bottom_mm: float) -> tuple[Shape, ...]:
    """A dashed bracket: somewhere between these levels."""
    ticks = tuple(((x_mm - _TICK_MM, y), (x_mm + 0.25, y)) for y in (top_mm, bottom_mm))
    dashed = Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)
    return (Path((((x_mm, top_mm), (x_mm, bottom_mm)),), dashed), Path(ticks, _LINE))


def _extensions(x: float, levels: Sequence[float], to_mm: float) -> tuple[tuple[Point, ...], ...]:
    return tuple(((x - _TICK_MM, y), (to_mm, y)) for y in levels)


def _shaft(x: float, top: float, bottom: float) -> tuple[Shape, ...]:
    line = Path((((x, top), (x, bottom)),), _LINE)
    if bottom - top < _ARROWS_MM:
        slants = tuple(((x - 0.5, y + 0.5), (x + 0.5, y - 0.5)) for y in (top, bottom))
        return (line, Path(slants, Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    heads = (_arrow(x, top, -1.0), _arrow(x, bottom, 1.0))
    return (line, Path(heads, Style(fill=BLACK), closed=True))


def _along(x: float, y: float, text: str) -> Text:
    return Text(x - _BESIDE_MM, y, text, bold=True, anchor="middle", upward=True, backed=True)
