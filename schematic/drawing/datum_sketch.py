"""The levels from which depths are counted as a small sketch: datum, ground or sea and seabed, heights."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, THIN
from schematic.drawing.fills import Rect, hatch, wavy
from schematic.drawing.page import fit
from schematic.drawing.palette import BLACK, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.units import System, sentence_case, show

_LINE = Style(stroke=BLACK, width_mm=OUTLINE_MM)
_THIN_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_ROCK_MM = 2.3
_LEVELS_MM = 12.0  # width of the level lines
_ARROW_MM = 0.55
_WORDS_MM = 2.0


def datum_sketch(evaluation: Evaluation, rect: Rect, system: System) -> list[Group]:
    """The sketch, not to scale: each height between two levels stands beside its arrow as a figure."""
    datum = evaluation.plan.identity.datum
    sea, ground = datum.water_depth_m, datum.ground_md_m
    levels: list[tuple[str, float | None]] = [(sentence_case(datum.name), 0.0)]
    if sea is not None:
        levels.append((sentence_case(datum.above), datum.height_m))
        levels.append(("Seabed", ground))
    else:
        levels.append(("Ground", ground))
        if datum.height_m is not None and datum.height_m != ground:
            levels.append((sentence_case(datum.above), datum.height_m))
    levels.sort(key=lambda level: float("inf") if level[1] is None else level[1])
    shapes: list[Shape] = [Text(rect.left_mm, rect.top_mm + 2.4, "Datum, not to scale", bold=True)]
    top, bottom = rect.top_mm + 6.4, rect.bottom_mm - _ROCK_MM - 0.6
    pitch = (bottom - top) / (len(levels) - 1)
    x0, x1 = rect.left_mm, rect.left_mm + _LEVELS_MM
    arrow = x0 + 0.5 * _LEVELS_MM
    for index, (name, depth) in enumerate(levels):
        y = top + pitch * index
        if name in ("Ground", "Seabed"):
            shapes.append(Path((((x0, y), (x1, y)),), _LINE))
            outline: tuple[Point, ...] = ((x0, y), (x1, y), (x1, y + _ROCK_MM), (x0, y + _ROCK_MM))
            shapes.append(Path(hatch(outline, 1.15, rising=True), Style(stroke=GREY, width_mm=FINE_MM)))
        elif index and sea is not None:
            water = tuple((along, level) for level, along in wavy(y, x0, x1, 0.25))
            shapes.append(Path((water,), _THIN_LINE))
        else:
            shapes.append(Path((((x0, y), (x1, y)),), _LINE if not index else _THIN_LINE))
        words = name + ("" if depth is not None else ", depth not given")
        shapes.append(Text(x1 + _WORDS_MM, y + 0.8, fit(words, rect.right_mm - x1 - _WORDS_MM)))
        if index:
            shapes += _height(levels[index - 1][1], depth, arrow, y - pitch, y, x1, system)
    return [Group("well", "Datum", tuple(shapes))]


def _height(
    above: float | None,
    below: float | None,
    x: float,
    top: float,
    bottom: float,
    right: float,
    system: System,
) -> list[Shape]:
    """An arrow between two levels with their distance; nothing where one of them is not known."""
    if above is None or below is None:
        return []
    heads: tuple[tuple[Point, ...], ...] = (
        ((x, top), (x, bottom)),
        ((x - _ARROW_MM, top + 2 * _ARROW_MM), (x, top), (x + _ARROW_MM, top + 2 * _ARROW_MM)),
        ((x - _ARROW_MM, bottom - 2 * _ARROW_MM), (x, bottom), (x + _ARROW_MM, bottom - 2 * _ARROW_MM)),
    )
    middle = 0.5 * (top + bottom) + 0.4 * PITCH_MM - 0.3
    return [
        Path(heads, _THIN_LINE),
        Text(right + _WORDS_MM, middle, show(below - above, "depth", system, THIN), colour=GREY),
    ]
