"""The levels from which depths are counted: a small sketch with their heights, and lines across the well."""

from __future__ import annotations

from typing import Literal, NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Datum
from schematic.depth.surroundings import counts_from_ground
from schematic.drawing.captions import PITCH_MM, THIN
from schematic.drawing.column import half_width
from schematic.drawing.fills import Rect, hatch, wavy
from schematic.drawing.frame import Frame
from schematic.drawing.page import fit
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, FINE_MM, GREY, OUTLINE_MM, WHITE
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.units import System, sentence_case, show

_LINE = Style(stroke=BLACK, width_mm=OUTLINE_MM)
_THIN_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_HATCH = Style(stroke=GREY, width_mm=FINE_MM)
_ROCK_MM, _ROCK_SPACING_MM = 2.3, 1.15
_LEVELS_MM = 12.0  # width of the level lines
_ARROWS_MM = (7.6, 10.0)  # of successive heights, from the left end of the level lines
_ARROW_MM = 0.55
_WORDS_MM = 2.0
_PIPE_MM = (2.4, 4.6)  # outer faces of the conductor, from the left end of the level lines
_SHOE_MM = (1.0, 0.8)  # height and width of its shoe
_FOOT_MM = 1.9  # from the ground down to the shoe
_WAVE_MM = 0.25
_REACH_MM = 2.3  # of a level line outward from the well
_MARK_MM = 0.5  # half the width of the mark of the sea's level


class _Level(NamedTuple):
    """A level and how far it lies below the datum; None when that is not given."""

    name: str
    md_m: float | None
    kind: Literal["datum", "ground", "sea", "other"]


def _levels(datum: Datum) -> list[_Level]:
    """From the top down; what is not known comes last."""
    ground, water = datum.ground_md_m, datum.water_depth_m
    levels = [_Level(sentence_case(datum.name), 0.0, "datum")]
    if counts_from_ground(datum.above):
        levels.append(_Level(sentence_case(datum.above), datum.height_m, "ground"))
        if water is not None:
            sea = None if datum.height_m is None else datum.height_m - water
            levels.append(_Level("Sea level", sea, "sea"))
    else:
        sea_or_other: Literal["sea", "other"] = "other" if water is None else "sea"
        levels.append(_Level(sentence_case(datum.above), datum.height_m, sea_or_other))
        levels.append(_Level("Ground" if water is None else "Seabed", ground, "ground"))
    order = ("datum", "sea", "ground", "other")
    return sorted(
        levels,
        key=lambda level: (float("inf") if level.md_m is None else level.md_m, order.index(level.kind)),
    )


def datum_sketch(evaluation: Evaluation, rect: Rect, system: System) -> list[Group]:
    """The sketch, not to scale: each height between two levels stands beside its arrow as a figure.

    A level whose depth is not given is dashed: whether it lies above or below its neighbour is not known.
    """
    levels = _levels(evaluation.plan.identity.datum)
    shapes: list[Shape] = [Text(rect.left_mm, rect.top_mm + 2.4, "Datum, not to scale", bold=True)]
    top, bottom = rect.top_mm + 6.4, rect.bottom_mm - _ROCK_MM - 0.6
    pitch = (bottom - top) / (len(levels) - 1)
    x0, x1 = rect.left_mm, rect.left_mm + _LEVELS_MM
    heights = {level.kind: top + pitch * index for index, level in enumerate(levels)}
    piped = any(string.top_md_m == 0.0 for string in evaluation.plan.depth.strings)
    walls = (x0 + _PIPE_MM[0], x0 + _PIPE_MM[1])
    for index, level in enumerate(levels):
        y = top + pitch * index
        if level.kind == "ground":
            ends = ((x0, walls[0]), (walls[1], x1)) if piped else ((x0, x1),)
            shapes += [_line(left, right, y, _unsure(_LINE, level)) for left, right in ends]
            shapes += [Path(_rock(left, right, y), _HATCH) for left, right in ends]
        elif level.kind == "sea":
            shapes.append(Path((_water(x0, x1, y),), _unsure(_THIN_LINE, level)))
        else:
            style = _LINE if level.kind == "datum" else _THIN_LINE
            shapes.append(_line(x0, x1, y, _unsure(style, level)))
        shapes.append(Text(x1 + _WORDS_MM, y + 0.8, fit(level.name, rect.right_mm - x1 - _WORDS_MM)))
        if index:
            between = (levels[index - 1], level)
            shapes += _height(between, x0 + _ARROWS_MM[(index - 1) % 2], y - pitch, y, x1, system)
    if piped:
        shapes += _conductor(walls, heights["datum"], heights["ground"] + _FOOT_MM)
    return [Group("well", "Datum", tuple(shapes))]


def _unsure(style: Style, level: _Level) -> Style:
    return style if level.md_m is not None else style._replace(dash=ESTIMATED_DASH_MM)


def _line(left_mm: float, right_mm: float, y_mm: float, style: Style) -> Path:
    return Path((((left_mm, y_mm), (right_mm, y_mm)),), style)


def _rock(left_mm: float, right_mm: float, y_mm: float) -> tuple[tuple[Point, ...], ...]:
    """Hatch under the ground."""
    outline = ((left_mm, y_mm), (right_mm, y_mm), (right_mm, y_mm + _ROCK_MM), (left_mm, y_mm + _ROCK_MM))
    return hatch(outline, _ROCK_SPACING_MM, rising=True)


def _water(left_mm: float, right_mm: float, y_mm: float) -> tuple[Point, ...]:
    return tuple((along, level) for level, along in wavy(y_mm, left_mm, right_mm, _WAVE_MM))


def _conductor(walls_mm: tuple[float, float], top_mm: float, foot_mm: float) -> list[Shape]:
    """The outermost pipe, from the datum into the rock, with its shoe; how deep it goes is not shown."""
    high, wide = _SHOE_MM
    left, right = walls_mm
    shoes = tuple(
        ((x, foot_mm - high), (x + outward * wide, foot_mm), (x, foot_mm))
        for x, outward in ((left, -1.0), (right, 1.0))
    )
    return [
        Path(tuple(((x, top_mm), (x, foot_mm)) for x in walls_mm), _THIN_LINE),
        Path(shoes, Style(fill=BLACK), closed=True),
    ]


def _height(
    between: tuple[_Level, _Level],
    x: float,
    top: float,
    bottom: float,
    right: float,
    system: System,
) -> list[Shape]:
    """An arrow between two levels with their distance; "not given" where one of them is not known."""
    above, below = (level.md_m for level in between)
    middle = 0.5 * (top + bottom) + 0.4 * PITCH_MM - 0.3
    if above is None or below is None:
        return [Text(right + _WORDS_MM, middle, "not given", colour=GREY)]
    heads: tuple[tuple[Point, ...], ...] = (
        ((x, top), (x, bottom)),
        ((x - _ARROW_MM, top + 2 * _ARROW_MM), (x, top), (x + _ARROW_MM, top + 2 * _ARROW_MM)),
        ((x - _ARROW_MM, bottom - 2 * _ARROW_MM), (x, bottom), (x + _ARROW_MM, bottom - 2 * _ARROW_MM)),
    )
    return [
        Path(heads, _THIN_LINE),
        Text(right + _WORDS_MM, middle, show(below - above, "depth", system, THIN), colour=GREY),
    ]


def level_lines(evaluation: Evaluation, frame: Frame, left_mm: float, right_mm: float) -> list[Group]:
    """Ground or seabed, and offshore the level of the sea, as short lines outward from the wall of the well.

    They are no longer than the rock drawn beside a well is wide, so that labels and flags stay clear of them,
    and end at the two edges given. The sea has its mark on the right where there is room: leaders come from
    the left. Levels that are not known or lie outside the frame are not drawn.
    """
    shapes: list[Shape] = []
    words = []
    for level in _levels(evaluation.plan.identity.datum):
        if level.kind not in ("sea", "ground") or level.md_m is None:
            continue
        if not max(frame.scale.top_md_m, 0.0) <= level.md_m <= frame.scale.bottom_md_m:
            continue
        y, wall = frame.y(level.md_m), half_width(evaluation, frame, level.md_m)
        ends = (
            (max(left_mm, frame.axis_mm - wall - _REACH_MM), frame.axis_mm - wall),
            (frame.axis_mm + wall, min(right_mm, frame.axis_mm + wall + _REACH_MM)),
        )
        words.append(f"{level.name} {show(level.md_m, 'depth', frame.system)} below the datum")
        drawn = [(left, right) for left, right in ends if right - left >= _ROCK_SPACING_MM]
        if level.kind == "ground":
            shapes += [_line(left, right, y, _LINE) for left, right in drawn]
        elif drawn:
            shapes.append(Path(tuple(_water(left, right, y) for left, right in drawn), _THIN_LINE))
            shapes.append(_sea_mark(0.5 * sum(drawn[-1]), y))
    return [Group("well", "; ".join(words), tuple(shapes))] if shapes else []


def _sea_mark(x_mm: float, y_mm: float) -> Path:
    """The open triangle that stands on a level of water."""
    high, half = 2.0 * _MARK_MM, _MARK_MM
    mark = ((x_mm - half, y_mm - high), (x_mm + half, y_mm - high), (x_mm, y_mm))
    return Path((mark,), Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE), closed=True)
