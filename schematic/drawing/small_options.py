"""The options of a well as small drawings in a row: the liner and what moved, all on one depth scale."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.comparison.compare import Alternative
from schematic.drawing.clip import clipped
from schematic.drawing.common_scale import shared_parts
from schematic.drawing.comparison_page import labels, well
from schematic.drawing.fit import ShortPart
from schematic.drawing.frame import Frame, carried_on, round_step_m
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.option_marks import key_depths, lap_dimension
from schematic.drawing.scale import fitted_scale
from schematic.drawing.scene import Group, Scene
from schematic.units import System

WIDTH_MM, HEIGHT_MM = 54.0, 47.0
_WELL_MM = 25.0  # with its hatch
_LEFT_MM, _TOP_MM, _FOOT_MM = 5.0, 1.5, 1.5  # the lap stands to the left
_LOWER = 0.45  # least heights of parts: here the lap matters
_ABOVE, _LEAST_ABOVE_M = 0.12, 3.0  # of the lap and what moved, of host above them
_ABOVE_MM = 7.0
_RATIOS = (10, 12, 16, 20, 25, 32, 40, 50, 64, 80)
_ALWAYS = ("liner top", "host shoe", "liner shoe")


def small_options(alternatives: Sequence[Alternative], system: System) -> tuple[Scene | None, ...]:
    """A scene for each alternative, the well as written first; None for one that cannot be."""
    able = [one.evaluation for one in alternatives if one.evaluation is not None]
    base = alternatives[0].evaluation
    assert base is not None
    frame = _frame(able, system)
    return tuple(_scene(one, frame, system, base) for one in alternatives)


def _frame(able: Sequence[Evaluation], system: System) -> Frame:
    """From above the highest liner top or planned cement to the deepest hole, at the left of the paper."""
    depths = [one.plan.depth for one in able]
    highest = min(depth.liner.top_md_m for depth in depths)
    tops = [highest, *(md for one in able if (md := one.plan.cement.planned_top_md_m) is not None)]
    bottom = max(max(depth.td_md_m, depth.liner.shoe_md_m) for depth in depths)
    shoe = max(depth.host.shoe_md_m for depth in depths)
    top = max(min(tops) - _ABOVE * (shoe - min(tops)) - _LEAST_ABOVE_M, 0.0)
    step = round_step_m(system, bottom)
    scale = fitted_scale(
        top,
        bottom,
        _TOP_MM,
        HEIGHT_MM - _FOOT_MM - ROCK_WIDTH_MM,
        parts=[
            ShortPart(top, highest, _ABOVE_MM),
            *shared_parts(able, highest, bottom, step, _LOWER),
        ],
        round_m=step,
    )
    widest = max(
        size
        for depth in depths
        for size in (
            *(string.od_m for string in depth.strings if string.shoe_md_m > top),
            *(size for _low, low, size in depth.hole.diameter_m.steps() if low > top),
        )
    )
    room = _WELL_MM - 2.0 * ROCK_WIDTH_MM
    ratio = next((n for n in _RATIOS if 1000.0 * widest / n <= room), _RATIOS[-1])
    return Frame(scale, "fitted", ratio, _LEFT_MM + 0.5 * _WELL_MM, system)


def _scene(one: Alternative, frame: Frame, system: System, base: Evaluation) -> Scene | None:
    if one.evaluation is None:
        return None
    depth = one.evaluation.plan.depth
    deepest = max(depth.td_md_m, depth.liner.shoe_md_m)
    drawn = clipped(
        tuple(well(one.evaluation, carried_on(frame, deepest), system, one.name)),
        frame.scale.levels_mm[0],
        HEIGHT_MM - _FOOT_MM,
    )
    marks = [
        mark
        for mark in key_depths(one, frame, system, base)
        if mark.name.startswith(_ALWAYS) or "(" in mark.figures or "seat" in mark.name
    ]
    beside = frame.axis_mm + 0.5 * _WELL_MM + 3.4
    named = labels(marks, frame, beside, WIDTH_MM, (0.5, HEIGHT_MM - 0.5))
    groups: list[Group] = [*drawn, *named, lap_dimension(one.evaluation, frame, system)]
    return Scene(WIDTH_MM, HEIGHT_MM, one.name, "", tuple(group for group in groups if group.shapes))
