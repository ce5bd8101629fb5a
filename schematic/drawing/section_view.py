"""Detail of the true path: the vertical section of a deviated well, one scale both ways, events named."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.section import (
    aside_m,
    closure_rad,
    departure_m,
    end_of_build_md_m,
    greatest_dogleg,
    kick_off_md_m,
    sampled_md_m,
)
from schematic.depth.survey import SurveyPath
from schematic.drawing.captions import DOT_MM, PITCH_MM, SMALL_PT, THIN, X_HEIGHT_MM, wrap
from schematic.drawing.detail import TITLE_MM, mark
from schematic.drawing.fills import Rect
from schematic.drawing.labels import cross, place
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY, LIGHT_GREY
from schematic.drawing.scene import Dots as Discs
from schematic.drawing.scene import Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import FOOT_M, System, in_system, number, sentence_case, show, unit_of

_LEANS_RAD = math.radians(5.0)
_TVD_MM = 9.6  # for the figures of the TVD axis
_HEAD_MM = 3.4  # for those of the departure axis
_LINER_MM = 0.95
_APART_MM = 0.42  # from one string to the next, along the normal
_SHOE_MM = 1.1
_ONE_PLACE_MM = 1.0  # bottom and shoe nearer than this share a leader
_CLEAR_MM = 1.2  # from a name to the path
_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4)  # of the width, for the path


class _Event(NamedTuple):
    """Something of the path that has a name and a depth."""

    part: str
    words: str
    md_m: float
    bold: bool


class _Plot(NamedTuple):
    """Where the section stands on paper, and at which scale."""

    path: SurveyPath
    azimuth_rad: float
    left_mm: float
    top_mm: float
    ratio: int
    least_m: float  # departure at the left edge

    def at(self, md_m: float) -> Point:
        """The place of a depth on paper."""
        out = departure_m(self.path, md_m, self.azimuth_rad) - self.least_m
        return (
            self.left_mm + out * 1000.0 / self.ratio,
            self.top_mm + self.path.tvd_m(md_m) * 1000.0 / self.ratio,
        )

    def along(self, top_md_m: float, bottom_md_m: float, offset_mm: float = 0.0) -> tuple[Point, ...]:
        """The path between two depths, moved off by so much along its normal."""
        points = [self.at(md) for md in sampled_md_m(self.path, top_md_m, bottom_md_m)]
        if offset_mm == 0.0:
            return tuple(points)
        moved: list[Point] = []
        for index, (x, y) in enumerate(points):
            (x0, y0), (x1, y1) = points[max(index - 1, 0)], points[min(index + 1, len(points) - 1)]
            length = math.hypot(x1 - x0, y1 - y0) or 1.0
            moved.append((x - offset_mm * (y1 - y0) / length, y + offset_mm * (x1 - x0) / length))
        return tuple(moved)


def leans(evaluation: Evaluation) -> bool:
    """Whether the well leaves the vertical by more than 5 degrees."""
    return max(row[1] for row in evaluation.plan.depth.path.stations) > _LEANS_RAD


def section_view(evaluation: Evaluation, rect: Rect, system: System, letter: str) -> list[Group]:
    """The section in a rectangle; nothing for a well that stays within 5 degrees of vertical."""
    if not leans(evaluation):
        return []
    depth = evaluation.plan.depth
    path, bottom = depth.path, max(depth.td_md_m, depth.liner.shoe_md_m)
    azimuth = closure_rad(path, bottom)
    events = _events(evaluation, system)
    off_plane = max(abs(aside_m(path, md, azimuth)) for md in sampled_md_m(path, 0.0, bottom))
    plane = number(azimuth % math.tau, "inclination", system)
    leaves = f"the path leaves it by up to {show(off_plane, 'depth', system)}" if off_plane > 1.0 else ""
    words = "; ".join(filter(None, [f"Plane at {plane}\u00b0, from wellhead to bottom", leaves]))
    words += ". Widths of strings not to scale."
    width = rect.right_mm - rect.left_mm
    told = "; ".join(event.words for event in events) + "."
    for share in _SHARES:
        foot = wrap(words, width)
        plot = _plot(evaluation, rect, azimuth, _floor(rect, foot), share)
        labels = _labels(events, plot, bottom, rect, _floor(rect, foot))
        if labels:
            break
    else:  # no room beside the path: told below it, from the top down
        foot = (*wrap(sentence_case(told), width), *wrap(words, width))
        plot, labels = _plot(evaluation, rect, azimuth, _floor(rect, foot), 1.0), []
    floor = _floor(rect, foot)
    shapes, free, base = mark(letter, "True path", rect)
    ratio = f"1:{plot.ratio:,}".replace(",", THIN)
    for text in (
        f"vertical section {ratio} both ways; {unit_of('depth', system)}",
        f"{ratio} both ways",
        ratio,
    ):
        if free + width_mm(text, SMALL_PT) <= rect.right_mm:
            shapes.append(Text(free, base, text))
            break
    shapes += [
        Text(rect.left_mm, floor + 2.9 + PITCH_MM * n, line, colour=GREY) for n, line in enumerate(foot)
    ]
    return [
        Group("survey", f"Detail {letter}: true path", tuple(shapes)),
        _axes(plot, rect, floor, bottom, labels, system),
        *_strings(evaluation, plot),
        *labels,
    ]


def _floor(rect: Rect, foot: Sequence[str]) -> float:
    """Where the drawing ends and the words below it begin."""
    return rect.bottom_mm - PITCH_MM * len(foot) - 0.8


def _plot(evaluation: Evaluation, rect: Rect, azimuth_rad: float, floor_mm: float, share: float) -> _Plot:
    """The largest scale of two figures at which the path fits a share of the width and the whole height."""
    depth = evaluation.plan.depth
    path, bottom = depth.path, max(depth.td_md_m, depth.liner.shoe_md_m)
    samples = sampled_md_m(path, 0.0, bottom)
    out = [departure_m(path, md, azimuth_rad) for md in samples]
    deep = max(path.tvd_m(md) for md in samples)
    aside = 0.5 * _LINER_MM + _APART_MM * len(depth.strings) + _SHOE_MM
    left, top = rect.left_mm + _TVD_MM + aside, rect.top_mm + TITLE_MM + _HEAD_MM + 1.2
    room = (rect.right_mm - left - 2.6) * share
    exact = 1000.0 * max((max(out) - min(out)) / room, deep / (floor_mm - top - 1.5))
    digits = 10 ** max(math.floor(math.log10(exact)) - 1, 0)
    return _Plot(path, azimuth_rad, left, top, math.ceil(exact / digits) * digits, min(out))


def _events(evaluation: Evaluation, system: System) -> list[_Event]:
    """What is named, from the top down: each depth once."""
    plan = evaluation.plan
    depth, path = plan.depth, plan.depth.path
    bottom = max(depth.td_md_m, depth.liner.shoe_md_m)

    def told(md: float) -> str:
        return number(md, "depth", system, THIN)

    found: list[_Event] = []
    kick, held = kick_off_md_m(path), end_of_build_md_m(path)
    if kick is not None:
        found.append(_Event("survey", f"kick-off {told(kick)}", kick, False))
    most_md, most = greatest_dogleg(path, bottom)
    if most > 0.0:
        dogleg = show(most, "dogleg", system).replace(" deg/", "\u00b0/")
        found.append(_Event("survey", f"greatest dogleg {dogleg}", most_md, False))
    if held is not None:
        lean = number(path.inclination_rad(held), "inclination", system)
        found.append(_Event("survey", f"{lean}\u00b0 from {told(held)}", held, False))
    planned = plan.cement.planned_top_md_m
    if planned is not None:
        found.append(_Event("cement.planned top", f"top of cement {told(planned)}", planned, False))
    liner, host = depth.liner, depth.host
    found.append(_Event("liner", f"liner top {told(liner.top_md_m)}", liner.top_md_m, True))
    found.append(_Event(host.path, f"host shoe {told(host.shoe_md_m)}", host.shoe_md_m, False))
    found.append(_Event("liner.shoe", f"liner shoe {told(liner.shoe_md_m)}", liner.shoe_md_m, True))
    if depth.td_md_m > liner.shoe_md_m:
        found.append(_Event("hole", f"bottom {told(depth.td_md_m)}", depth.td_md_m, False))
    return sorted(found, key=lambda event: event.md_m)


def _labels(
    events: list[_Event], plot: _Plot, bottom_md_m: float, rect: Rect, floor_mm: float
) -> list[Group]:
    """The names in a column over the path, inside its end or at the right; none where there is no room."""
    points = [plot.at(event.md_m) for event in events]
    curve = plot.along(0.0, bottom_md_m)
    wide = max(width_mm(event.words, SMALL_PT, event.bold) for event in events)
    right = rect.right_mm - wide
    heights = [PITCH_MM] * len(events)
    for left in (max(points[-1][0] - 2.5 - wide, points[0][0] + 4.0), right):
        near = [
            y
            for start, end in pairwise(curve)
            if max(start[0], end[0]) > left - _CLEAR_MM and min(start[0], end[0]) < left + wide + _CLEAR_MM
            for y in (start[1], end[1])
        ]
        limit = min([*near, floor_mm + _CLEAR_MM + 1.0]) - _CLEAR_MM - 1.0
        if left > right + 1e-6 or plot.top_mm - 0.6 + PITCH_MM * len(events) > limit:
            continue
        tops = place([y - 0.5 * PITCH_MM for _x, y in points], heights, plot.top_mm - 0.6, limit, 0.0)
        groups = _named(events, points, tops, left)
        lines = [s.runs[0] for g in groups for s in g.shapes if isinstance(s, Path)]
        if not any(cross(one, other) for one, other in combinations(lines, 2)) and not any(
            cross(line, curve) for line in lines
        ):
            return groups
    return []


def _named(events: list[_Event], points: list[Point], tops: Sequence[float], left_mm: float) -> list[Group]:
    """The names one below the other, each with its leader; bottom and shoe in one place share theirs."""
    groups = []
    for event, point, top in zip(events, points, tops, strict=True):
        base, width = top + 2.1, width_mm(event.words, SMALL_PT, event.bold)
        side = left_mm - 0.6 if point[0] < left_mm + width else left_mm + width + 0.6
        shapes: list[Shape] = []
        if event.part != "hole" or math.dist(point, points[-2]) > _ONE_PLACE_MM:
            leader = ((side, base - X_HEIGHT_MM), point)
            shapes.append(Path((leader,), Style(stroke=GREY, width_mm=FINE_MM)))
            shapes.append(Discs((point,), DOT_MM, Style(fill=BLACK)))
        colour = BLUE if event.bold else BLACK
        shapes.append(Text(left_mm, base, event.words, bold=event.bold, colour=colour, backed=True))
        groups.append(Group(event.part, event.words, tuple(shapes)))
    return groups


def _strings(evaluation: Evaluation, plot: _Plot) -> list[Group]:
    """The hole, strings as pairs of lines side by side, their shoes, the liner as the one solid stroke."""
    depth = evaluation.plan.depth
    bottom = max(depth.td_md_m, depth.liner.shoe_md_m)
    strings = sorted(depth.strings, key=lambda string: string.od_m)
    apart = _LINER_MM * 0.5 + 0.3
    groups = [
        Group("hole", "Hole", (Path((plot.along(0.0, bottom),), Style(stroke=GREY, width_mm=FINE_MM)),))
    ]
    for index, string in enumerate(strings):
        offset = apart + _APART_MM * index
        runs = tuple(plot.along(string.top_md_m, string.shoe_md_m, side * offset) for side in (1.0, -1.0))
        shapes: list[Shape] = [Path(runs, Style(stroke=BLACK, width_mm=FINE_MM))]
        feet = tuple(_foot(run, side) for run, side in zip(runs, (1.0, -1.0), strict=True) if len(run) > 1)
        shapes.append(Path(feet, Style(fill=BLACK), closed=True))
        groups.append(Group(string.path, string.name, tuple(shapes)))
    ends = depth.liner.top_md_m, depth.liner.shoe_md_m
    band = (*plot.along(*ends, 0.5 * _LINER_MM), *reversed(plot.along(*ends, -0.5 * _LINER_MM)))
    groups.append(Group("liner", "Liner", (Path((band,), Style(fill=BLUE), closed=True),)))
    return groups


def _foot(run: tuple[Point, ...], side: float) -> tuple[Point, ...]:
    """The shoe of a string: a triangle outside its last point, foot outward."""
    (x0, y0), (x, y) = run[-2:]
    length = math.hypot(x - x0, y - y0) or 1.0
    along, across = (
        ((x - x0) / length, (y - y0) / length),
        ((y0 - y) / length * side, (x - x0) / length * side),
    )
    return (
        (x, y),
        (x - _SHOE_MM * along[0], y - _SHOE_MM * along[1]),
        (x + 0.9 * _SHOE_MM * across[0], y + 0.9 * _SHOE_MM * across[1]),
    )


def _axes(
    plot: _Plot, rect: Rect, floor_mm: float, bottom_md_m: float, labels: list[Group], system: System
) -> Group:
    """Light lines at round TVD and departure, with their figures outside."""
    curve = plot.along(0.0, bottom_md_m)
    right = min(max(x for x, _y in curve) + 2.0, rect.right_mm)
    foot = min(max(y for _x, y in curve) + 2.0, floor_mm - 0.6)
    unit = FOOT_M if system == "field" else 1.0
    mm = unit * 1000.0 / plot.ratio
    figure = width_mm("00\u2009000", SMALL_PT) + 1.2
    step = next(s * 10.0**n for n in range(7) for s in (1.0, 2.0, 5.0) if s * 10.0**n * mm >= figure)
    runs: list[tuple[Point, ...]] = []
    shapes: list[Shape] = []
    count = int((foot - plot.top_mm) / (step * mm) + 1e-6)
    for n in range(count + 1):
        y = plot.top_mm + n * step * mm
        runs.append(((rect.left_mm + _TVD_MM, y), (right, y)))
        text = f"{n * step:,.0f}".replace(",", THIN)
        shapes.append(Text(rect.left_mm + _TVD_MM - 0.6, y + 0.8, text, colour=GREY, anchor="end"))
    first = math.ceil(in_system(plot.least_m, "depth", system) / step - 1e-6)
    n = first
    while True:
        x = plot.left_mm + (n * step - in_system(plot.least_m, "depth", system)) * mm
        if x > right + 1e-6:
            break
        runs.append(((x, plot.top_mm - 0.8), (x, foot)))
        text = f"{n * step:,.0f}".replace(",", THIN)
        half = 0.5 * width_mm(text, SMALL_PT)
        if x + half <= rect.right_mm:
            shapes.append(Text(x, plot.top_mm - 1.4, text, colour=GREY, anchor="middle"))
        n += 1
    lines = Path(tuple(runs), Style(stroke=LIGHT_GREY, width_mm=FINE_MM))
    return Group("", "Axes of the true path: departure and TVD", (lines, *shapes))
