"""Hole as calipered or washed out against the bit, on the depth scale of the main column."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.by_depth import ByDepth
from schematic.drawing.curve_track import Axis, axis, drawn_axis, shown_md_m
from schematic.drawing.fills import hatch
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Point, Shape, Style
from schematic.units import System, in_system, unit_of

_BAND_MM = 1.0  # spacing of the hatch between least and greatest diameter


def caliper_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float
) -> list[Group]:
    """The hole as a full line, the bit dashed, and the band in which the hole may be; open hole only."""
    depth = evaluation.plan.depth
    hole, start = depth.hole, depth.host.shoe_md_m
    if start >= hole.diameter_m.bottom_m:
        return []
    curves = [
        c.clip(start, hole.diameter_m.bottom_m)
        for c in (hole.diameter_m, hole.gauge_m, hole.least_m, hole.greatest_m)
    ]
    values = [in_system(value, "diameter", system) for curve in curves for value in curve.values]
    made = axis(values, frame, column_mm, head_mm, from_nought=False)
    top, bottom = shown_md_m(frame, made)
    if top >= bottom or bottom <= start:
        return []
    lines = [_line(curve, frame, made, max(top, start), bottom, system) for curve in curves]
    shapes: list[Shape] = []
    if lines[2] != lines[3]:
        outline = (*lines[2], *reversed(lines[3]))
        shapes.append(Path(hatch(outline, _BAND_MM, rising=True), Style(stroke=GREY, width_mm=FINE_MM)))
    shapes.append(Path((lines[1],), Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)))
    shapes.append(Path((lines[0],), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    head = tuple(drawn_axis(made, f"Hole, {unit_of('diameter', system)}"))
    return [Group("", "Axis of the hole's size", head), Group("hole", "Hole against bit", tuple(shapes))]


def _line(
    curve: ByDepth, frame: Frame, made: Axis, top_m: float, bottom_m: float, system: System
) -> tuple[Point, ...]:
    """A stepped curve between two depths."""
    points: list[Point] = []
    for above, below, value in curve.steps():
        if below <= top_m or above >= bottom_m:
            continue
        x = made.x(in_system(value, "diameter", system))
        points += [(x, frame.y(max(above, top_m))), (x, frame.y(min(below, bottom_m)))]
    return tuple(points)
