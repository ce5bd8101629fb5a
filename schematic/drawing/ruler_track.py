"""The depth track: true strip, fan, ruler of equal blocks, MD in black and TVD in grey."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from schematic.depth.survey import SurveyPath
from schematic.drawing.captions import SMALL_PT, THIN
from schematic.drawing.fills import zigzag
from schematic.drawing.frame import Frame, block_m, round_step_m, strip_block_m
from schematic.drawing.grid import Grid, Span
from schematic.drawing.palette import BLACK, FINE_MM, FLAT_GREY, GREY, WHITE
from schematic.drawing.ruler import TOUCHING_MM, Block, blocks, ticks
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, number, show

STRIP_MM = (9.0, 11.0)
FAN_TO_MM = 18.2
_STUB_MM = 0.8  # the level end of a line of the fan
_CLEAR_MM = 1.3  # from the end of the fan to the widest figures
_GROUND_MM = 0.4  # from the edge of the grey ground to them, where there is no fan


class Places(NamedTuple):
    """Where the ruler and its figures stand."""

    md_mm: float  # right end of measured depths
    ruler_mm: Span
    sub_mm: Span
    tvd_mm: float  # left end of true vertical depths
    inclination_mm: float | None  # right end of inclinations
    panel_mm: float  # right end of the grey ground of stretched depths


_UPRIGHT = Places(26.8, (28.0, 30.4), (30.4, 31.4), 31.9, None, 39.6)
_LEANING = Places(25.6, (26.6, 29.0), (29.0, 30.0), 30.4, 43.6, 43.9)


def places(grid: Grid) -> Places:
    """Where the ruler stands: further left where inclinations stand beside the depths."""
    return _LEANING if grid.leaning else _UPRIGHT


_MARK_GROUND_MM = 0.7
_DOWN_MM = 0.82  # from the level of a tick to the baseline of its figures

_BLACK = Style(fill=BLACK)
_EDGE = Style(stroke=BLACK, width_mm=FINE_MM)


def _rect(left: float, top: float, right: float, bottom: float) -> tuple[tuple[float, float], ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _ladder(
    found: tuple[Block, ...], x: tuple[float, float], y: Callable[[float], float], top: float, bottom: float
) -> list[Shape]:
    """Alternating blocks between two lines."""
    dark = tuple(_rect(x[0], y(b.top_md_m), x[1], y(b.bottom_md_m)) for b in found if b.dark)
    return [
        Path((_rect(x[0], top, x[1], bottom),), Style(fill=WHITE), closed=True),
        Path(dark, _BLACK, closed=True),
        Path((_rect(x[0], top, x[1], bottom),), _EDGE, closed=True),
    ]


def depth_track(frame: Frame, grid: Grid, path: SurveyPath, marks_md_m: Sequence[float] = ()) -> Group:
    """The whole depth track beside the main column; *marks_md_m* are ticked whatever else is, in bold."""
    at = places(grid)
    scale, system = frame.scale, frame.system
    top, bottom = scale.levels_mm[0], scale.levels_mm[-1]
    shapes: list[Shape] = []
    marks = [md for md in marks_md_m if scale.top_md_m <= md <= scale.bottom_md_m]
    step = round_step_m(system, scale.bottom_md_m)
    marked = ticks(scale, step, marks=marks, changes=not grid.strip)
    clear = _CLEAR_MM if grid.strip else _GROUND_MM
    fan_to = min(FAN_TO_MM, at.md_mm - _figures_mm(marked, marks, system) - clear)
    stretched = [span for span in scale.spans if span.kind == "stretched"]

    def true_y(md_m: float) -> float:
        share = (md_m - scale.top_md_m) / (scale.bottom_md_m - scale.top_md_m)
        return top + share * (bottom - top)

    if frame.kind == "fitted":
        for span in stretched:
            y0, y1 = frame.y(span.top_md_m), frame.y(span.bottom_md_m)
            t0, t1 = true_y(span.top_md_m), true_y(span.bottom_md_m)
            panel: tuple[Point, ...] = ((fan_to, y0), (at.panel_mm, y0), (at.panel_mm, y1), (fan_to, y1))
            if grid.strip:
                panel = ((STRIP_MM[1], t0), *panel, (STRIP_MM[1], t1))
            shapes.append(Path((panel,), Style(fill=FLAT_GREY), closed=True))
    if frame.kind == "fitted" and grid.strip:
        corners = [scale.top_md_m, *scale.breaks, scale.bottom_md_m]
        fan = tuple(
            (
                (STRIP_MM[1], true_y(md)),
                (fan_to, frame.y(md)),
                (fan_to + _STUB_MM, frame.y(md)),
            )
            for md in corners
        )
        shapes.append(Path(fan, Style(stroke=GREY, width_mm=FINE_MM)))
        strip = strip_block_m(system, scale.bottom_md_m)
        shapes += _ladder(blocks(scale, strip), STRIP_MM, true_y, top, bottom)
        unit = show(strip, "depth", system, THIN)
        shapes.append(
            Text(
                STRIP_MM[1] + 2.6,
                top + 52.0,
                f"true scale, {unit} blocks",
                colour=GREY,
                upward=True,
                backed=True,
            )
        )
    shapes += _ladder(blocks(scale, block_m(system, scale.bottom_md_m)), at.ruler_mm, frame.y, top, bottom)
    for span in stretched:
        found = blocks(scale, step, span.top_md_m, span.bottom_md_m)
        shapes += _ladder(found, at.sub_mm, frame.y, frame.y(span.top_md_m), frame.y(span.bottom_md_m))
    shapes.append(
        Path(
            tuple(((at.ruler_mm[0] - 0.8, frame.y(md)), (at.ruler_mm[0], frame.y(md))) for md in marked),
            _EDGE,
        )
    )
    if frame.kind == "fitted":
        shapes += _changes(frame, at)
    last = -10.0
    for md in marked:
        y = frame.y(md)
        if y - last < TOUCHING_MM:  # two limits of stretched spans may be closer than a line of figures
            continue
        last = y
        figures = number(md, "depth", system, THIN)
        shapes.append(Text(at.md_mm, y + _DOWN_MM, figures, bold=md in marks, anchor="end"))
        tvd = number(path.tvd_m(md), "ruler", system, THIN)
        shapes.append(Text(at.tvd_mm, y + _DOWN_MM, tvd, colour=GREY))
        if at.inclination_mm is not None:
            lean = number(path.inclination_rad(md), "inclination", system)
            shapes.append(Text(at.inclination_mm, y + _DOWN_MM, lean, colour=GREY, anchor="end"))
    return Group("", "depth", tuple(shapes))


def _changes(frame: Frame, at: Places) -> list[Shape]:
    """Zig-zags across the ruler where the scale changes, on white to be seen on its black blocks."""
    middle = 0.5 * (at.ruler_mm[0] + at.ruler_mm[1])
    levels = [frame.y(md) for md in frame.scale.breaks]
    ground = tuple(zigzag(middle - 1.0, middle + 1.0, y, (middle,)) for y in levels)
    marks = tuple(zigzag(middle - 1.6, middle + 1.6, y, (middle,)) for y in levels)
    return [
        Path(ground, Style(stroke=WHITE, width_mm=_MARK_GROUND_MM)),
        Path(marks, Style(stroke=BLACK, width_mm=FINE_MM)),
    ]


def _figures_mm(marked: Sequence[float], marks: Sequence[float], system: System) -> float:
    """Width of the widest figures."""
    return max(
        (width_mm(number(md, "depth", system, THIN), SMALL_PT, md in marks) for md in marked), default=0.0
    )
