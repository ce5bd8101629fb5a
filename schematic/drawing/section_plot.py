"""The section of a deviated well on paper, one scale both ways: path, strings beside it, axes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CasingString
from schematic.depth.section import Plane, departure_m, sampled_md_m
from schematic.depth.survey import SurveyPath
from schematic.drawing.captions import SMALL_PT, THIN
from schematic.drawing.detail import TITLE_MM
from schematic.drawing.fills import Rect
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import FOOT_M, System, in_system

TVD_MM = 9.6  # for the figures of the TVD axis
_HEAD_MM = 3.4  # for those of the departure axis
_SAMPLE_MM = 0.5
_LINER_MM = 0.95
_FIRST_MM = 0.3  # from the liner to the innermost string
_APART_MM = 0.42  # from one string to the next, along the normal
_CAP = 0.85  # of the radius of curvature on paper: farther out normals would cross
_SHOE_MM = 1.1
_LEAST_MM = 3.0  # of the drawing, in a rectangle that is none


class Plot(NamedTuple):
    """Where the section stands on paper, and at which scale."""

    path: SurveyPath
    plane: Plane
    left_mm: float
    top_mm: float
    ratio: int
    least_m: float  # departure at the left edge
    bottom_md_m: float

    def at(self, md_m: float) -> Point:
        """The place of a depth on paper."""
        out = departure_m(self.path, md_m, self.plane.azimuth_rad) - self.least_m
        return (
            self.left_mm + out * 1000.0 / self.ratio,
            self.top_mm + self.path.tvd_m(md_m) * 1000.0 / self.ratio,
        )

    def marks(self, top_md_m: float, bottom_md_m: float) -> tuple[float, ...]:
        """Depths close enough for a smooth curve on paper."""
        return sampled_md_m(self.path, top_md_m, bottom_md_m, _SAMPLE_MM * self.ratio / 1000.0)

    def along(self, top_md_m: float, bottom_md_m: float, offset_mm: float = 0.0) -> tuple[Point, ...]:
        """The path between two depths, moved off by so much along its normal on paper."""
        moved: list[Point] = []
        normal = (1.0, 0.0)
        for md in self.marks(top_md_m, bottom_md_m):
            x, y = self.at(md)
            normal = self.normal(md) or normal
            moved.append((x + offset_mm * normal[0], y + offset_mm * normal[1]))
        return tuple(moved)

    def normal(self, md_m: float) -> Point | None:
        """Unit normal of the path on paper, to the right of a vertical hole; None where it runs across."""
        north, east, down = self.path.tangent(md_m)
        out = north * math.cos(self.plane.azimuth_rad) + east * math.sin(self.plane.azimuth_rad)
        length = math.hypot(out, down)
        return (down / length, -out / length) if length > 1e-6 else None

    def radius_mm(self, bottom_md_m: float) -> float:
        """The least radius of curvature on paper above a depth; infinite where the path is straight."""
        least = math.inf
        marks = self.marks(0.0, bottom_md_m)
        for above, below in pairwise(marks):
            one, other = self.normal(above), self.normal(below)
            if one is None or other is None:
                continue
            turn = abs(
                math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])
            )
            if turn > 1e-6:
                least = min(least, math.dist(self.at(above), self.at(below)) / turn)
        return least


def plot_of(
    evaluation: Evaluation, rect: Rect, plane: Plane, floor_mm: float, share: tuple[float, float]
) -> Plot:
    """The largest scale of two figures at which the path fits a share of the width and of the height."""
    depth = evaluation.plan.depth
    path, bottom = depth.path, max(depth.td_md_m, depth.liner.shoe_md_m)
    samples = sampled_md_m(path, 0.0, bottom, 30.0)
    out = [departure_m(path, md, plane.azimuth_rad) for md in samples]
    deep = max(path.tvd_m(md) for md in samples)
    aside = 0.5 * _LINER_MM + _FIRST_MM + _APART_MM * len(depth.strings) + _SHOE_MM
    left, top = rect.left_mm + TVD_MM + aside, rect.top_mm + TITLE_MM + _HEAD_MM + 1.2
    part, below = share
    wide = max((rect.right_mm - left - 2.6) * part, _LEAST_MM)
    high = max((floor_mm - top - below) * min(part + 0.12, 1.0), _LEAST_MM)
    exact = 1000.0 * max((max(out) - min(out)) / wide, deep / high)
    digits = 10 ** max(math.floor(math.log10(exact)) - 1, 0)
    return Plot(path, plane, left, top, math.ceil(exact / digits) * digits, min(out), bottom)


def offsets_mm_of(evaluation: Evaluation, plot: Plot) -> tuple[float, ...]:
    """How far off the path each string is drawn: the smallest nearest, all less where normals would cross."""
    strings = evaluation.plan.depth.strings
    ranks = sorted(range(len(strings)), key=lambda index: strings[index].od_m)
    offsets = [0.0] * len(strings)
    for rank, index in enumerate(ranks):
        offsets[index] = 0.5 * _LINER_MM + _FIRST_MM + _APART_MM * rank
    squeeze = 1.0
    for string, offset in zip(strings, offsets, strict=True):
        squeeze = min(squeeze, _CAP * plot.radius_mm(string.shoe_md_m) / offset)
    return tuple(offset * squeeze for offset in offsets)


def half_mm(strings: Sequence[CasingString], offsets_mm: Sequence[float], md_m: float) -> float:
    """Half of what is drawn of the well at a depth."""
    held = [o for s, o in zip(strings, offsets_mm, strict=True) if s.top_md_m <= md_m <= s.shoe_md_m]
    return max([0.5 * _LINER_MM, *held])


def strings(evaluation: Evaluation, plot: Plot, offsets_mm: Sequence[float]) -> list[Group]:
    """The hole, strings as pairs of lines side by side, their shoes, the liner as the one solid stroke."""
    depth = evaluation.plan.depth
    hole = Path((plot.along(0.0, plot.bottom_md_m),), Style(stroke=GREY, width_mm=FINE_MM))
    groups = [Group("hole", "Hole", (hole,))]
    for string, offset in zip(depth.strings, offsets_mm, strict=True):
        runs = tuple(plot.along(string.top_md_m, string.shoe_md_m, side * offset) for side in (1.0, -1.0))
        shapes: list[Shape] = [Path(runs, Style(stroke=BLACK, width_mm=FINE_MM))]
        normal = plot.normal(string.shoe_md_m) or (1.0, 0.0)
        feet = tuple(_foot(run[-1], normal, side) for run, side in zip(runs, (1.0, -1.0), strict=True))
        shapes.append(Path(feet, Style(fill=BLACK), closed=True))
        groups.append(Group(string.path, string.name, tuple(shapes)))
    ends = depth.liner.top_md_m, depth.liner.shoe_md_m
    band = (*plot.along(*ends, 0.5 * _LINER_MM), *reversed(plot.along(*ends, -0.5 * _LINER_MM)))
    groups.append(Group("liner", "Liner", (Path((band,), Style(fill=BLUE), closed=True),)))
    return groups


def _foot(end: Point, normal: Point, side: float) -> tuple[Point, ...]:
    """The shoe of a string: a triangle outside its last point, foot outward."""
    (x, y), (nx, ny) = end, normal
    along = (-ny, nx)  # down the hole
    return (
        (x, y),
        (x - _SHOE_MM * along[0], y - _SHOE_MM * along[1]),
        (x + 0.9 * _SHOE_MM * side * nx, y + 0.9 * _SHOE_MM * side * ny),
    )


def axes(plot: Plot, rect: Rect, floor_mm: float, system: System) -> Group:
    """Light lines at round TVD and departure, with their figures outside."""
    curve = [plot.at(md) for md in plot.marks(0.0, plot.bottom_md_m)]
    right = min(max(x for x, _y in curve) + 2.0, rect.right_mm)
    foot = min(max(y for _x, y in curve) + 2.0, floor_mm - 0.6)
    unit = FOOT_M if system == "field" else 1.0
    mm = unit * 1000.0 / plot.ratio
    figure = width_mm("00\u2009000", SMALL_PT) + 1.2
    step = next(s * 10.0**n for n in range(7) for s in (1.0, 2.0, 5.0) if s * 10.0**n * mm >= figure)
    runs: list[tuple[Point, ...]] = []
    base = plot.top_mm - 1.4
    shapes: list[Shape] = [Text(rect.left_mm, base, "TVD", colour=GREY)]
    for n in range(int((foot - plot.top_mm) / (step * mm) + 1e-6) + 1):
        y = plot.top_mm + n * step * mm
        runs.append(((rect.left_mm + TVD_MM, y), (right, y)))
        text = f"{n * step:,.0f}".replace(",", THIN)
        shapes.append(Text(rect.left_mm + TVD_MM - 0.6, y + 0.8, text, colour=GREY, anchor="end"))
    least = in_system(plot.least_m, "depth", system)
    reached = rect.left_mm + width_mm("TVD", SMALL_PT) + 0.6
    n = math.ceil(least / step - 1e-6)
    while (x := plot.left_mm + (n * step - least) * mm) <= right + 1e-6:
        runs.append(((x, plot.top_mm - 0.8), (x, foot)))
        text = f"{n * step:,.0f}".replace(",", THIN)
        half = 0.5 * width_mm(text, SMALL_PT)
        if x + half <= rect.right_mm and x - half >= reached:
            shapes.append(Text(x, base, text, colour=GREY, anchor="middle"))
            reached = x + half + 0.6
        n += 1
    if reached + width_mm("departure", SMALL_PT) + 1.2 <= rect.right_mm:
        shapes.append(Text(reached + 1.2, base, "departure", colour=GREY))
    lines = Path(tuple(runs), Style(stroke=LIGHT_GREY, width_mm=FINE_MM))
    return Group("", "Axes of the true path: departure and TVD", (lines, *shapes))
