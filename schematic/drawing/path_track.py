"""Inclination and dogleg of the path on the depth scale of the main column."""

from __future__ import annotations

import math
from itertools import pairwise

from schematic.checks.evaluate import Evaluation
from schematic.depth.section import sampled_md_m
from schematic.drawing.captions import PITCH_MM, SMALL_PT
from schematic.drawing.curve_track import angle_axis, axis, drawn_axis, shown_md_m
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Point, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, in_system, unit_of

_SPLIT = 0.56  # of the width for the inclination, the rest for the dogleg
_STRAIGHT = 5e-3  # prints as no dogleg
_LEAST_MM = 0.05  # drawn shorter than this a leg is left to its neighbours


def path_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float
) -> list[Group]:
    """Two curves side by side: inclination in degrees, dogleg in the unit of the trade."""
    path, limit = evaluation.plan.depth.path, evaluation.plan.job.dogleg_limit_rad_per_m
    steepest = max(math.degrees(row[1]) for row in path.stations)
    top, bottom = shown_md_m(frame, angle_axis(steepest, frame, column_mm, head_mm))
    legs = [
        (above[0], below[0], in_system(path.dogleg_rad_per_m(above[0]), "dogleg", system))
        for above, below in pairwise(path.stations)
        if below[0] > top and above[0] < bottom
    ]
    bends = [value for _top, _bottom, value in legs if value > _STRAIGHT]
    bends += [in_system(limit, "dogleg", system)] if limit is not None else []
    middle = column_mm[0] + (_SPLIT if bends else 1.0) * (column_mm[1] - column_mm[0])
    lean = angle_axis(steepest, frame, (column_mm[0], middle), head_mm)
    curve = tuple(
        (lean.x(math.degrees(path.inclination_rad(md))), frame.y(md))
        for md in sampled_md_m(path, top, bottom)
    )
    title = "Inc., \u00b0" if bends else "Inc., \u00b0; straight here"
    title = title if width_mm(title, SMALL_PT, bold=True) <= middle - column_mm[0] - 1.0 else "Inc., \u00b0"
    groups = [
        Group(
            "survey",
            "Inclination",
            (*drawn_axis(lean, title), Path((curve,), Style(stroke=BLACK, width_mm=OUTLINE_MM))),
        )
    ]
    if not bends:
        return groups
    bend = axis([0.0, max(bends)], frame, (middle, column_mm[1]), head_mm, from_nought=True)
    steps: list[Point] = []
    for above, below, value in legs:
        y0, y1 = frame.y(max(above, top)), frame.y(min(below, bottom))
        if y1 - y0 > _LEAST_MM:
            steps += [(bend.x(value), y0), (bend.x(value), y1)]
    unit = unit_of("dogleg", system).replace("deg/", "\u00b0/")
    shapes = [*drawn_axis(bend, unit), Path((tuple(steps),), Style(stroke=BLACK, width_mm=OUTLINE_MM))]
    if limit is not None:
        x = bend.x(in_system(limit, "dogleg", system))
        dashed = Style(stroke=GREY, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)
        shapes.append(Path((((x, bend.top_mm), (x, bend.bottom_mm)),), dashed))
        word = "limit"
        at = min(x, column_mm[1] - 0.5 * width_mm(word, SMALL_PT))
        shapes.append(Text(at, bend.bottom_mm + PITCH_MM, word, colour=GREY, anchor="middle"))
    groups.append(Group("survey", "Dogleg", tuple(shapes)))
    return groups
