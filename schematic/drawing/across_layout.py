"""Where a cut across the well and its words stand in a rectangle: names to its right, or told below it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.drawing.captions import DOT_MM, PITCH_MM, SMALL_PT, X_HEIGHT_MM, wrap
from schematic.drawing.detail import RATIOS, TITLE_MM, mark
from schematic.drawing.fills import Rect
from schematic.drawing.labels import ColumnTooFullError, leaders, place
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, unit_of

_KNEE_MM, _TEXT_MM = 1.4, 2.6  # from the drawing to the knee of the leaders, to the names
_LEAST_MM = 9.0  # a smaller circle shows nothing
_BASE_MM = 2.1
_BLOCK_GAP_MM = 0.7
_TITLE_GAP_MM = 2.2  # behind a title, counted in where the rest of its line may begin
_MUCH_LARGER = 1.9


class Callout(NamedTuple):
    """A name of the cut: what it is called in the code, its part, a first line and a second."""

    key: str
    part: str
    first: str
    second: str
    bold: bool = False
    blue: bool = False

    @property
    def lines(self) -> tuple[str, ...]:
        """Its lines, one or two."""
        return (self.first, self.second) if self.second else (self.first,)

    @property
    def width_mm(self) -> float:
        """Width of the longer line."""
        return max(width_mm(self.first, SMALL_PT, self.bold), width_mm(self.second, SMALL_PT))


class Stage(NamedTuple):
    """Title and words, the centre and ratio of the cut, the column of its names; no column: told below."""

    heading: Group
    centre: Point
    ratio: int
    edge_mm: float  # half of what is drawn
    column: Rect | None

    def mm(self, length_m: float) -> float:
        """A length on paper."""
        return length_m * 1000.0 / self.ratio


def stage(
    rect: Rect,
    letter: str,
    titles: Sequence[str],
    depth_words: str,
    widest_m: float,
    beyond_mm: float,
    names: Sequence[Callout],
    words: str,
    system: System,
) -> Stage | None:
    """A cut with its names beside it, or told below it where that draws it much larger; None without room.

    *titles* are tried the longest first.
    """
    for title in titles:
        shapes, free, base = mark(letter, title, rect)
        if free <= rect.right_mm + _TITLE_GAP_MM:
            break
    else:
        return None
    top = rect.top_mm + TITLE_MM + 1.0
    crowded = not _title_words(free, base, rect, depth_words, RATIOS[-1], system)
    if crowded:  # depth and ratio on a line of their own
        free, base, top = rect.left_mm, top + 1.2, top + PITCH_MM
    rect = rect._replace(top_mm=top)
    all_words = f"{'; '.join(' '.join(name.lines) for name in names)}. {words}"
    column = _TEXT_MM + max(name.width_mm for name in names)
    high = sum(PITCH_MM * len(name.lines) + _BLOCK_GAP_MM for name in names)
    beside = _sized(rect, widest_m, beyond_mm, column, wrap(words, rect.right_mm - rect.left_mm), high)
    below = _sized(rect, widest_m, beyond_mm, 0.0, wrap(all_words, rect.right_mm - rect.left_mm), 0.0)
    if beside and (below is None or beside.ratio <= _MUCH_LARGER * below.ratio):
        size = beside
    elif below:
        size = below
    else:
        return None
    edge = 0.5 * widest_m * 1000.0 / size.ratio + beyond_mm
    centre = (rect.left_mm + edge if size is beside else 0.5 * (rect.left_mm + rect.right_mm), top + edge)
    room = Rect(centre[0] + edge + _KNEE_MM, top, rect.right_mm, size.floor_mm) if size is beside else None
    shapes += _title_words(free, base, rect, depth_words, size.ratio, system)
    shapes += [
        Text(rect.left_mm, size.floor_mm + 2.9 + PITCH_MM * n, line, colour=GREY)
        for n, line in enumerate(size.foot)
    ]
    return Stage(Group("", f"Detail {letter}: {title}", tuple(shapes)), centre, size.ratio, edge, room)


class _Size(NamedTuple):
    """The ratio of a cut, the level below it, the words there."""

    ratio: int
    floor_mm: float
    foot: tuple[str, ...]


def _sized(
    rect: Rect, widest_m: float, beyond_mm: float, column_mm: float, foot: tuple[str, ...], high_mm: float
) -> _Size | None:
    """The largest cut that leaves a column of names its room; None where it would show nothing."""
    floor = rect.bottom_mm - PITCH_MM * len(foot) - 0.8
    height = floor - rect.top_mm
    across = min(rect.right_mm - rect.left_mm - column_mm, height)
    ratio = next((n for n in RATIOS if widest_m * 1000.0 / n + 2.0 * beyond_mm <= across), None)
    if ratio is None or widest_m * 1000.0 / ratio < _LEAST_MM or high_mm > height:
        return None
    return _Size(ratio, floor, foot)


def _title_words(
    free: float, base: float, rect: Rect, depth_words: str, ratio: int, system: System
) -> list[Shape]:
    """Depth and ratio beside the title, as much of it as there is room for."""
    unit = unit_of("diameter", system)
    for text in (
        f"at {depth_words} MD, true 1:{ratio} both ways; {unit}",
        f"at {depth_words} MD, 1:{ratio}; {unit}",
        f"at {depth_words}, 1:{ratio}; {unit}",
        f"{depth_words}, 1:{ratio}",
    ):
        if free + width_mm(text, SMALL_PT) <= rect.right_mm:
            return [Text(free, base, text)]
    return []


def callouts(stage_: Stage, names: Sequence[Callout], ends: dict[str, Point]) -> list[Group]:
    """The names in their column with leaders to *ends*, in the order of these from the top down."""
    column = stage_.column
    if column is None:
        return []
    names = sorted(names, key=lambda name: ends[name.key][1])
    heights = [PITCH_MM * len(name.lines) for name in names]
    points = [ends[name.key] for name in names]
    try:
        tops = place(
            [y - _BASE_MM + X_HEIGHT_MM for _x, y in points],
            heights,
            column.top_mm,
            column.bottom_mm,
            _BLOCK_GAP_MM,
        )
    except ColumnTooFullError:  # not reached: the stage counted the same heights
        return []
    left = column.left_mm + _TEXT_MM - _KNEE_MM
    starts = [(left - 0.5, top + _BASE_MM - X_HEIGHT_MM) for top in tops]
    lines = leaders(starts, column.left_mm, points)
    groups = []
    for name, top, line in zip(names, tops, lines, strict=True):
        colour = BLUE if name.blue else BLACK
        shapes: list[Shape] = [
            Path((line,), Style(stroke=GREY, width_mm=FINE_MM)),
            Dots((line[-1],), DOT_MM, Style(fill=BLACK)),
            Text(left, top + _BASE_MM, name.first, bold=name.bold, colour=colour),
        ]
        if name.second:
            shapes.append(Text(left, top + _BASE_MM + PITCH_MM, name.second))
        groups.append(Group(name.part, name.first, tuple(shapes)))
    return groups
