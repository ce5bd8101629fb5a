"""The pressure window on the depth scale of the main column: pore, fracture, leak-off, mud
and the static column at the end of displacement, as EMW.

Lines are drawn between the points of the file, and on where the hole comes back to their true depths; outside
the window is hatched.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from itertools import pairwise
from operator import itemgetter

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Plan
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN
from schematic.drawing.fills import hatch
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.page import unit_text
from schematic.drawing.palette import (
    BLACK,
    ESTIMATED_DASH_MM,
    FINE_MM,
    GREEN,
    GREY,
    LIGHT_GREY,
    OUTLINE_MM,
    VERMILION,
)
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.text import box_mm, width_mm
from schematic.engineering.columns import annulus_at_end, between, emw_kg_per_m3
from schematic.outcome import MissingInput
from schematic.units import System, in_system, number

_LEAK_OFF_MM = 0.7
_INSET_MM = (0.8, 0.6)  # of the axis in its column, left and right
_SAMPLES = 40  # of the static column, which is no straight line as EMW
_HATCH_MM = 3.2  # least width of what is outside the window
_WIDE_MM, _WIDE_INSET_MM = 19.0, 2.6  # where another track may follow
_CLEAR_MM = 0.45  # from a name to a line
_STATE = "static at end"
_level = itemgetter(1)
Box = tuple[float, float, float, float]  # left, top, right, bottom on paper
Line = tuple[Point, ...]


def _axis(least: float, most: float, room_mm: float) -> tuple[float, float, list[str]]:
    """Ends of the axis at round figures just outside the values, and the figures to mark on it."""
    steps = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
    fine = next((step for step in steps if (most - least) / step <= 10.0), steps[-1])
    low, high = math.floor(least / fine) * fine, math.ceil(most / fine) * fine
    high = high if high > low else low + fine
    while (least - low) / (high - low) * room_mm < _HATCH_MM:  # so that a name fits on the hatch
        low -= fine
    while (high - most) / (high - low) * room_mm < _HATCH_MM:
        high += fine
    room = room_mm / (high - low)
    for step in (step for step in (*steps[:5], 0.3, *steps[5:7], 3.0, *steps[7:]) if step >= fine - 1e-12):
        decimals = next(n for n in (0, 1, 2) if step >= 10.0**-n - 1e-9)
        first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
        marks = [f"{n * step:.{decimals}f}" for n in range(first, last + 1)]
        if step * room >= max((width_mm(mark, SMALL_PT) for mark in marks), default=0.0) + 0.7:
            return low, high, marks
    return low, high, [f"{low:.0f}"]


def _between(top_m: float, end_m: float, curve: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The part of a curve between two depths, cut between its points."""

    def at(md: float) -> list[tuple[float, float]]:
        for (md0, v0), (md1, v1) in pairwise(curve):
            if md0 < md < md1:
                return [(md, v0 + (v1 - v0) * (md - md0) / (md1 - md0))]
        return []

    return [*at(top_m), *(point for point in curve if top_m <= point[0] <= end_m), *at(end_m)]


def _at(curve: Line, low: float, high: float) -> list[float]:
    """Where a curve, given from the top down, lies between two levels: its points and what it cuts there."""
    first, end = bisect_left(curve, low, key=_level), bisect_right(curve, high, key=_level)
    found = [x for x, _y in curve[first:end]]
    for corner, y in ((first, low), (end, high)):
        if 0 < corner < len(curve):
            (x0, y0), (x1, y1) = curve[corner - 1], curve[corner]
            if y0 < y < y1:
                found.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return found


def _name(
    word: str,
    curve: Line,
    outside: int,
    lines: list[Line],
    texts: list[Box],
    head: float,
    column_mm: Span,
) -> Text:
    """A name beside its curve, on the side that is outside the window where it fits, else inside.

    It touches no line and no other text: what is nearest to the middle of the curve and free is taken;
    beyond the ends of the curve there is always room.
    """
    left_mm, right_mm = column_mm
    width = width_mm(word, SMALL_PT)
    middle = 0.5 * (curve[0][1] + curve[-1][1]) + 0.8
    half = 0.5 * (curve[-1][1] - curve[0][1]) + 4.0
    steps = (0.5 * n for n in range(-int(2 * half), int(2 * half) + 1))
    beside = half - 4.0
    for level in (
        middle + step
        for step in sorted(steps, key=lambda s: (abs(s) > beside, s if abs(s) > beside else abs(s)))
    ):
        low, high = level - 1.9, level + 0.7
        if low < head:
            continue
        near = _at(curve, low, high)
        end = curve[0][0] if level < middle else curve[-1][0]
        lefts = (min(near) - _CLEAR_MM - width, max(near) + _CLEAR_MM) if near else (end - 0.5 * width,) * 2
        for left in lefts[::-outside]:
            left = left if near else min(max(left, left_mm - 0.4), right_mm + 0.4 - width)
            box = (left, low, left + width, high)
            if left < left_mm - 0.8 or left + width > right_mm + 0.5:
                continue
            if any(_touch(box, other) for other in texts):
                continue
            if not any(left - 0.3 < x < left + width + 0.3 for line in lines for x in _at(line, low, high)):
                return Text(left, level, word, backed=True)
    return _upright(word, curve, outside, lines, texts, head, column_mm)[1]


def _state(curve: Line, lines: list[Line], texts: list[Box], head: float, column_mm: Span) -> Text:
    """The name of the static column: upright beside it with its state, else level in one word."""
    over, upright = _upright(_STATE, curve, 1, lines, texts, head, column_mm)
    return upright if not over else _name(_STATE.split()[0], curve, 1, lines, texts, head, column_mm)


def _upright(
    word: str,
    curve: Line,
    outside: int,
    lines: list[Line],
    texts: list[Box],
    head: float,
    column_mm: Span,
) -> tuple[int, Text]:
    """How much it crosses, and a name upright beside its curve or at the edge, where that is least.

    Of equal places the one nearest to the middle of the curve is taken.
    """
    left_mm, right_mm = column_mm
    width = width_mm(word, SMALL_PT)
    first, last = max(curve[0][1], head) + width, curve[-1][1]
    middle = 0.5 * (first - width + last + width)
    best: tuple[int, float, float] = (99, left_mm + 2.0, first)
    feet = (first + 0.5 * n for n in range(max(int(2.0 * (last - first)), 0) + 1))
    for foot in sorted(feet, key=lambda foot: abs(foot - middle)):
        near = _at(curve, foot - width, foot)
        beside = (min(near) - _CLEAR_MM - 0.7, max(near) + _CLEAR_MM + 1.9) if near else (left_mm + 2.0,) * 2
        for at in (*beside[:: -outside or 1], left_mm + 2.0, right_mm - 0.3):
            if not left_mm + 1.5 <= at <= right_mm + 0.2:
                continue
            box = (at - 1.9, foot - width, at + 0.7, foot)
            over = 10 * sum(_touch(box, other) for other in texts)
            over += sum(
                box[0] - 0.3 < x < box[2] + 0.3 for line in lines for x in _at(line, foot - width, foot)
            )
            best = min(best, (over, at, foot), key=lambda spot: spot[0])
        if best[0] == 0:
            break
    return best[0], Text(best[1], best[2], word, upward=True, backed=True)


def _mud_level(at: float, width: float, curves: list[Line], first: float, foot: float) -> float:
    """The first level down the mud line where its name touches no curve; below the track there is none."""
    reach = 0.5 * width + _CLEAR_MM
    levels = (first + 0.5 * n for n in range(max(int(2.0 * (foot - first)), 0) + 1))
    for level in levels:
        near = (x for curve in curves for x in _at(curve, level - 1.9, level + PITCH_MM + 0.7))
        if not any(at - reach < x < at + reach for x in near):
            return level
    return foot + 2.6


def _touch(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _static(evaluation: Evaluation) -> list[tuple[float, float]]:
    """The column outside at the end of displacement as EMW, from the top of the spacer or cement down."""
    plan = evaluation.plan
    if evaluation.cement is None:
        return []
    try:
        layers = annulus_at_end(plan, evaluation.volumes, evaluation.cement)
    except MissingInput:
        return []
    path, shoe = plan.depth.path, plan.depth.liner.shoe_md_m
    top = layers[0].bottom_md_m
    depths = {layer.bottom_md_m for layer in layers} | {
        top + (shoe - top) * n / _SAMPLES for n in range(_SAMPLES + 1)
    }
    found = ((md, emw_kg_per_m3(layers, path, md)) for md in sorted(depths) if top <= md <= shoe)
    return [(md, value) for md, value in found if value is not None]


def _carried_on(plan: Plan, rows: list[tuple[float, float, float]]) -> list[tuple[float, float]]:
    """Rows of measured and true depth and value by measured depth, and on along a hole that does not go
    deeper than the last: pressures are of true depths.
    """
    curve = [(md, value) for md, _tvd, value in rows]
    by_tvd = [(tvd, value) for _md, tvd, value in rows]
    first, last = (rows[0][0], rows[-1][0]) if rows else (0.0, 0.0)
    path, bottom = plan.depth.path, plan.depth.td_md_m
    for n in range(1, _SAMPLES + 1):
        md = last + (bottom - last) * n / _SAMPLES
        value = between(path, md, by_tvd) if md > last > first else None
        if value is None or path.tvd_m(md) > by_tvd[-1][0]:
            break
        curve.append((md, value))
    return curve


def pressure_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float
) -> list[Group]:
    """The window; nothing where the file gives no pressures."""
    plan = evaluation.plan
    left_mm = column_mm[0] + _INSET_MM[0]
    right_mm = column_mm[1] - (_INSET_MM[1] if column_mm[1] - column_mm[0] < _WIDE_MM else _WIDE_INSET_MM)
    limit = head_mm + PITCH_MM + 1.4
    top_md, end_md = frame.scale.md_m(max(limit, frame.scale.levels_mm[0])), frame.scale.bottom_md_m
    points = sorted(plan.formation.pressures, key=lambda p: p.md_m)
    given_pore = _carried_on(
        plan, [(p.md_m, p.tvd_m, p.pore_kg_per_m3) for p in points if p.pore_kg_per_m3 is not None]
    )
    given_fracture = _carried_on(
        plan, [(p.md_m, p.tvd_m, p.fracture_kg_per_m3) for p in points if p.fracture_kg_per_m3 is not None]
    )
    pore, fracture = _between(top_md, end_md, given_pore), _between(top_md, end_md, given_fracture)
    static = _between(top_md, end_md, _static(evaluation))
    if len(pore) < 2 and len(fracture) < 2:
        return []
    mud = plan.fluid("mud")
    values = [value for _md, value in (*pore, *fracture, *static)]
    values += [mud.density_kg_per_m3] if mud else []
    shown = [in_system(value, "density", system) for value in values]
    low, high, marks = _axis(min(shown), max(shown), right_mm - left_mm)

    def x(value: float) -> float:
        return left_mm + (in_system(value, "density", system) - low) / (high - low) * (right_mm - left_mm)

    def line(curve: list[tuple[float, float]]) -> Line:
        return tuple((x(value), frame.y(md)) for md, value in curve)

    y0, y1 = limit, frame.scale.levels_mm[-1]
    unit = unit_text("density", system)
    shapes: list[Shape] = [Text(left_mm, head_mm, f"EMW, {unit}", bold=True)]
    lines: list[Line] = []
    texts: list[Box] = []
    for mark, after in zip(marks, (*marks[1:], ""), strict=True):
        at = left_mm + (float(mark) - low) / (high - low) * (right_mm - left_mm)
        shapes.append(Path((((at, y0), (at, y1)),), Style(stroke=LIGHT_GREY, width_mm=FINE_MM)))
        half = 0.5 * width_mm(mark, SMALL_PT)
        following = (
            left_mm + (float(after) - low) / (high - low) * (right_mm - left_mm) if after else math.inf
        )
        middle = max(at, left_mm + half)  # the track to the left has its own heads
        if middle + 2.0 * half + 0.5 <= following or at >= middle:
            shapes.append(Text(middle, head_mm + PITCH_MM, mark, colour=GREY, anchor="middle"))
    if len(pore) >= 2:
        curve = line(pore)
        outline = (*curve, (left_mm, curve[-1][1]), (left_mm, curve[0][1]))
        shapes.append(Path(hatch(outline, 1.5, rising=False), Style(stroke=GREY, width_mm=FINE_MM)))
        shapes.append(Path((curve,), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
        lines.append(curve)
    if len(fracture) >= 2:
        curve = line(fracture)
        outline = (*curve, (right_mm, curve[-1][1]), (right_mm, curve[0][1]))
        shapes.append(Path(hatch(outline, 1.0, rising=True), Style(stroke=VERMILION, width_mm=FINE_MM)))
        shapes.append(Path((curve,), Style(stroke=VERMILION, width_mm=OUTLINE_MM)))
        lines.append(curve)
    if len(static) >= 2:
        curve = line(static)
        shapes.append(Path((curve,), Style(stroke=GREEN, width_mm=OUTLINE_MM)))
        lines.append(curve)
    if mud is not None:
        at = x(mud.density_kg_per_m3)
        run = ((at, y0), (at, frame.y(plan.depth.td_md_m)))
        shapes.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM, dash=ESTIMATED_DASH_MM)))
        words = ("mud", number(mud.density_kg_per_m3, "density", system, THIN))
        wide = max(width_mm(word, SMALL_PT) for word in words)
        middle = min(max(at, left_mm + 0.5 * wide), right_mm + 0.4 - 0.5 * wide)  # within the track
        level = _mud_level(middle, wide, lines, y0 + 6.0, y1)
        lines.append(run)
        for row, word in enumerate(words):
            text = Text(middle, level + PITCH_MM * row, word, anchor="middle", backed=True)
            texts.append(box_mm(text))
            shapes.append(text)
    for test in plan.formation.leak_off:
        if (
            test.emw_kg_per_m3 is not None
            and test.md_m <= end_md
            and low <= in_system(test.emw_kg_per_m3, "density", system) <= high
        ):
            centre = (x(test.emw_kg_per_m3), max(frame.y(test.md_m), limit))
            shapes.append(Dots((centre,), _LEAK_OFF_MM, Style(fill=VERMILION)))
    if len(static) >= 2:
        name = _state(line(static), lines, texts, y0, (left_mm, right_mm))
        start, above, end, below = box_mm(name)
        texts.append((start - _CLEAR_MM, above, end + _CLEAR_MM, below))
        shapes.append(name)
    for points_, word, outside in ((pore, "pore", -1), (fracture, "frac.", 1)):
        if len(points_) >= 2:
            name = _name(word, line(points_), outside, lines, texts, y0, (left_mm, right_mm))
            texts.append(box_mm(name))
            shapes.append(name)
    return [Group("formation.pressures", "Pressure window as equivalent mud weight", tuple(shapes))]
