"""Inclination and dogleg of the path on the depth scale of the main column."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.section import sampled_md_m
from schematic.drawing.captions import PITCH_MM, SMALL_PT, X_HEIGHT_MM
from schematic.drawing.curve_track import angle_axis, axis, drawn_axis, shown_md_m
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.palette import BLACK, ESTIMATED_DASH_MM, GREY, OUTLINE_MM
from schematic.drawing.scene import Group, Path, Point, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import System, in_system, number, unit_of

_SPLIT = 0.56  # of the width for the inclination, the rest for the dogleg
_STRAIGHT = 5e-3  # prints as no dogleg
_BESIDE_MM = 0.95  # from the one upright line to the baseline of its words
_ASIDE_MM = 0.6  # from the limit at the hanger to its figure
_LIMIT = Style(stroke=GREY, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)
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
    at_hanger = _at_hanger(evaluation, frame, top, legs, system) if bends else None
    bends += [at_hanger.value] if at_hanger else []
    middle = column_mm[0] + (_SPLIT if bends else 1.0) * (column_mm[1] - column_mm[0])
    lean = angle_axis(steepest, frame, (column_mm[0], middle), head_mm)
    curve = tuple(
        (lean.x(math.degrees(path.inclination_rad(md))), frame.y(md))
        for md in sampled_md_m(path, top, bottom)
    )
    shapes = [*drawn_axis(lean, "Inc., \u00b0", lines=bool(bends))]
    shapes.append(Path((curve,), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    if not bends:  # no light lines beside it, that the one upright line is seen
        words = f"straight at {number(path.inclination_rad(0.5 * (top + bottom)), 'angle', system)}\u00b0"
        middle_mm = 0.5 * (curve[0][1] + curve[-1][1])
        shapes.append(Text(curve[-1][0] - _BESIDE_MM, middle_mm, words, anchor="middle", upward=True))
    groups = [Group("survey", "Inclination", tuple(shapes))]
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
        shapes.append(Path((((x, bend.top_mm), (x, bend.bottom_mm)),), _LIMIT))
        words = f"limit {number(limit, 'dogleg', system)}"
        at = min(x, column_mm[1] - 0.5 * width_mm(words, SMALL_PT))
        shapes.append(Text(at, bend.bottom_mm + PITCH_MM, words, colour=GREY, anchor="middle"))
    if at_hanger:
        x, ends = bend.x(at_hanger.value), (at_hanger.top_mm, at_hanger.bottom_mm)
        shapes.append(Path((tuple((x, y) for y in ends),), _LIMIT))
        wide = width_mm(at_hanger.figure, SMALL_PT)
        left = x - _ASIDE_MM - wide if at_hanger.bent_over else x + _ASIDE_MM
        base = 0.5 * sum(ends) + X_HEIGHT_MM
        shapes.append(Text(left, base, at_hanger.figure, colour=GREY, backed=True))
    groups.append(Group("survey", "Dogleg", tuple(shapes)))
    return groups


class _AtHanger(NamedTuple):
    """The limit of the dogleg between liner top and hanger base, in the unit that is printed."""

    value: float
    figure: str
    top_mm: float
    bottom_mm: float
    bent_over: bool  # the hole bends by more, all along


def _at_hanger(
    evaluation: Evaluation,
    frame: Frame,
    shown_m: float,
    legs: Sequence[tuple[float, float, float]],
    system: System,
) -> _AtHanger | None:
    """None where no hanger is shown from *shown_m* down, or the curve passes on both sides of the limit."""
    plan = evaluation.plan
    liner, limit = plan.depth.liner, plan.limits["greatest dogleg at hanger"].si
    grips = [liner.find(kind) for kind in ("liner hanger", "liner top packer")]
    base = max((part.bottom_md_m for part in grips if part is not None), default=liner.top_md_m)
    beside = [value for above, below, value in legs if above < base and below > liner.top_md_m]
    top_mm, bottom_mm = (frame.y(max(md, shown_m)) for md in (liner.top_md_m, base))
    value = in_system(limit, "dogleg", system)
    over = [one > value for one in beside]
    if not beside or any(over) != all(over) or bottom_mm - top_mm < PITCH_MM:
        return None
    return _AtHanger(value, number(limit, "dogleg", system), top_mm, bottom_mm, any(over))
