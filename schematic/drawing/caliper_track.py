"""Hole as calipered or washed out against the bit, on the depth scale of the main column."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.depth.by_depth import ByDepth
from schematic.drawing.captions import PITCH_MM, SMALL_PT
from schematic.drawing.curve_track import Axis, axis, drawn_axis, shown_md_m
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, FINE_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, in_system, unit_of

_BAND_MM = 1.0  # spacing of the lines between least and greatest diameter
_LEAST_MM = 1.2  # a lower stretch of hole shows nothing


def caliper_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float
) -> list[Group]:
    """The hole as a full line, the bit dashed, and the band in which the hole may be.

    Only open hole of which the file gives a caliper or a washout.
    """
    depth = evaluation.plan.depth
    hole = depth.hole
    stretches = [
        (max(section.top_md_m, depth.host.shoe_md_m), section.bottom_md_m)
        for section in hole.sections
        if section.basis != "gauge" and section.bottom_md_m > depth.host.shoe_md_m
    ]
    seen = [(low, high) for low, high in stretches if _height_mm(frame, low, high) >= _LEAST_MM]
    stretches = seen or stretches  # a foot or two below a shoe would be a dot at the edge of the scale
    if not stretches:
        return []
    curves = (hole.diameter_m, hole.gauge_m, hole.least_m, hole.greatest_m)
    values = [
        in_system(value, "diameter", system)
        for low, high in stretches
        for curve in curves
        for value in curve.clip(low, high).values
    ]
    made = axis(values, frame, column_mm, head_mm, from_nought=False)
    top, bottom = shown_md_m(frame, made)
    shown = [(max(low, top), min(high, bottom)) for low, high in stretches]
    shown = [(low, high) for low, high in shown if low < high]
    if not shown:
        return []
    holes, bits, least, greatest = (
        tuple(_line(curve, frame, made, low, high, system) for low, high in shown) for curve in curves
    )
    shapes: list[Shape] = []
    for one, other in zip(least, greatest, strict=True):
        if one != other:
            shapes.append(Path(_band(one, other), Style(stroke=GREY, width_mm=FINE_MM)))
    shapes += _names(bits[-1][-1], holes[-1][-1], made)
    shapes.append(Path(bits, Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)))
    shapes.append(Path(holes, Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    head = tuple(drawn_axis(made, f"Hole, {unit_of('diameter', system)}"))
    return [Group("", "Axis of the hole's size", head), Group("hole", "Hole against bit", tuple(shapes))]


def _height_mm(frame: Frame, top_m: float, bottom_m: float) -> float:
    """How high a stretch is on the part of the well that is drawn."""
    first, last = frame.scale.top_md_m, frame.scale.bottom_md_m
    low, high = min(max(top_m, first), last), min(max(bottom_m, first), last)
    return frame.y(high) - frame.y(low)


def _band(least: Sequence[Point], greatest: Sequence[Point]) -> tuple[tuple[Point, ...], ...]:
    """Level lines between two stepped curves; slanted ones mean "outside the window" in the next track."""
    count = int((least[-1][1] - least[0][1]) / _BAND_MM)
    levels = [least[0][1] + _BAND_MM * (n + 0.5) for n in range(count)]
    return tuple(((_x_at(least, y), y), (_x_at(greatest, y), y)) for y in levels)


def _x_at(curve: Sequence[Point], y_mm: float) -> float:
    """Where a stepped curve stands at a level."""
    return next((x for x, y in curve if y >= y_mm), curve[-1][0])


def _names(bit: Point, hole: Point, made: Axis) -> list[Shape]:
    """Which line is which, below their lower ends; what lies too near is named together."""
    base = made.bottom_mm + PITCH_MM
    wide = width_mm("bit", SMALL_PT) + width_mm("hole", SMALL_PT) + 1.2
    if abs(bit[0] - hole[0]) >= 0.5 * wide:
        return [
            Text(x, base, word, colour=GREY, anchor="middle")
            for x, word in ((bit[0], "bit"), (hole[0], "hole"))
        ]
    left = 0.5 * (bit[0] + hole[0] - wide)
    names = ("bit", "hole") if bit[0] <= hole[0] else ("hole", "bit")
    return [
        Text(left, base, names[0], colour=GREY),
        Text(left + wide, base, names[1], colour=GREY, anchor="end"),
    ]


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
