"""The well around the liner: hole wall and formation, strings already in place, tops of cement."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.drawing.fills import Line, hatch, wavy
from schematic.drawing.palette import (
    BLACK,
    ESTIMATED_DASH_MM,
    FINE_MM,
    GREY,
    HEAVY_MM,
    OUTLINE_MM,
    PLANNED_DASH_MM,
    WHITE,
)
from schematic.drawing.scene import Path, Shape, Style
from schematic.drawing.section import GRIP, LEAST_WALL_MM, Place, block, both, drawn_bore

ROCK_WIDTH_MM = 2.3
ROCK_SPACING_MM = 1.15
SHOE_HEIGHT_MM = 2.0
SHOE_WIDTH_MM = 1.6
HOST_COUPLING_MM = 0.85
_LEAST_FEATURE_MM = 0.6  # of a wall that is drawn as one line, still seen
_FEATURE_SPACING_MM = 0.6


class HoleStep(NamedTuple):
    """A length of hole of one radius; wavy where a caliper found it other than the bit."""

    top_mm: float
    bottom_mm: float
    radius_mm: float
    wavy: bool


def casing(place: Place, outer_mm: float, inner_mm: float) -> tuple[Shape, ...]:
    """The walls of a string already in place: outer face stronger than inner, steel white."""
    outer = Style(stroke=BLACK, width_mm=OUTLINE_MM)
    inner = Style(stroke=BLACK, width_mm=FINE_MM)
    r_out = outer_mm - 0.5 * OUTLINE_MM  # lines lie inside the steel, so faces are where they are
    r_in = drawn_bore(outer_mm, inner_mm) + 0.5 * FINE_MM
    faces = [both(place.axis_mm, [_upright(place, r_out)], outer, closed=False)]
    if outer_mm - inner_mm > LEAST_WALL_MM + FINE_MM:
        faces.append(both(place.axis_mm, [_upright(place, r_in)], inner, closed=False))
    return tuple(faces)


def feature(place: Place, outer_mm: float, inner_mm: float) -> tuple[Shape, ...]:
    """A stretch of a string where nothing may grip or seal: its wall hatched, its ends marked."""
    r_in = min(inner_mm, outer_mm - _LEAST_FEATURE_MM)
    wall = block(place.top_mm, place.bottom_mm, r_in, outer_mm)
    ends = [((r_in, y), (outer_mm, y)) for y in (place.top_mm, place.bottom_mm)]
    lines = [*ends, *hatch(wall, _FEATURE_SPACING_MM, rising=True)]
    return (both(place.axis_mm, lines, Style(stroke=BLACK, width_mm=FINE_MM), closed=False),)


def _upright(place: Place, r_mm: float) -> tuple[tuple[float, float], ...]:
    return ((r_mm, place.top_mm), (r_mm, place.bottom_mm))


def casing_shoe(
    axis_mm: float, foot_mm: float, outer_mm: float, room_mm: float, string_mm: float
) -> tuple[Shape, ...]:
    """A solid right triangle on the outer face, foot outward.

    It shrinks as a whole to the *room_mm* outside the string and to the *string_mm* of its height.
    """
    size = min(1.0, room_mm / SHOE_WIDTH_MM, string_mm / SHOE_HEIGHT_MM)
    half = (
        (outer_mm, foot_mm - size * SHOE_HEIGHT_MM),
        (outer_mm + size * SHOE_WIDTH_MM, foot_mm),
        (outer_mm, foot_mm),
    )
    return (both(axis_mm, [half], GRIP),)


def casing_coupling(
    axis_mm: float,
    y_mm: float,
    outer_mm: float,
    coupling_mm: float,
    height_mm: float = HOST_COUPLING_MM,
) -> tuple[Shape, ...]:
    """A coupling of a string already in place, outlined like its string."""
    r_in, r_out = outer_mm - 0.5 * OUTLINE_MM, coupling_mm - 0.5 * FINE_MM
    half = block(y_mm - 0.5 * height_mm, y_mm + 0.5 * height_mm, r_in, r_out)
    return (both(axis_mm, [half], Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE)),)


def cement_top(
    axis_mm: float,
    y_mm: float,
    inner_mm: float,
    outer_mm: float,
    *,
    known: bool,
    colour: str = BLACK,
) -> tuple[Shape, ...]:
    """The top of cement across an annulus (or a bore): solid where known, dashed when estimated.

    The job's own, planned, is dash-dotted.
    """
    style = (
        Style(stroke=colour, width_mm=HEAVY_MM)
        if known
        else Style(
            stroke=colour,
            width_mm=OUTLINE_MM,
            dash=ESTIMATED_DASH_MM if colour == BLACK else PLANNED_DASH_MM,
        )
    )
    if inner_mm <= 0.0:
        return (Path((((axis_mm - outer_mm, y_mm), (axis_mm + outer_mm, y_mm)),), style),)
    return (both(axis_mm, [((inner_mm, y_mm), (outer_mm, y_mm))], style, closed=False),)


def hole_wall(axis_mm: float, steps: Sequence[HoleStep], side: int) -> Line:
    """The wall of the hole from the top down, right (1) or left (-1) of the axis."""
    line: list[tuple[float, float]] = []
    for step in steps:
        x = axis_mm + side * step.radius_mm
        if step.wavy:
            line += wavy(x, step.top_mm, step.bottom_mm)
        else:
            line += [(x, step.top_mm), (x, step.bottom_mm)]
    return tuple(line)


def hole(axis_mm: float, steps: Sequence[HoleStep], *, to_bottom: bool) -> tuple[Shape, ...]:
    """The hole wall, and formation as a hatched ribbon that follows it.

    *to_bottom* closes the hole below the last step and hatches under it.
    """
    left, right = hole_wall(axis_mm, steps, -1), hole_wall(axis_mm, steps, 1)
    rock = tuple(
        segment
        for side, wall in ((-1, left), (1, right))
        for segment in hatch(_ribbon(axis_mm, steps, wall, side, to_bottom), ROCK_SPACING_MM, rising=side > 0)
    )
    runs = ((*left, *reversed(right)),) if to_bottom else (left, right)
    return (
        Path(rock, Style(stroke=GREY, width_mm=FINE_MM)),
        Path(runs, Style(stroke=BLACK, width_mm=OUTLINE_MM, join="round")),
    )


def _ribbon(axis_mm: float, steps: Sequence[HoleStep], wall: Line, side: int, to_bottom: bool) -> Line:
    """The outline of the ribbon of formation beside a wall, as wide around a ledge as beside it."""
    outer = [(axis_mm + side * r, y) for r, y in _ribbon_edge(steps)]
    if not to_bottom:
        return (*wall, *reversed(outer))
    floor = wall[-1][1]
    foot = floor + ROCK_WIDTH_MM
    return (*wall, (axis_mm, floor), (axis_mm, foot), (outer[-1][0], foot), *reversed(outer))


def _ribbon_edge(steps: Sequence[HoleStep]) -> list[tuple[float, float]]:
    """The outer edge: the widest hole within a ribbon's width above and below, and that width more."""
    top, bottom = steps[0].top_mm, steps[-1].bottom_mm
    near = {y + d for s in steps for y in s[:2] for d in (-ROCK_WIDTH_MM, ROCK_WIDTH_MM)}
    levels = sorted({top, bottom} | {y for y in near if top < y < bottom})
    edge: list[tuple[float, float]] = []
    for upper, lower in pairwise(levels):
        middle = 0.5 * (upper + lower)
        widest = max(
            s.radius_mm
            for s in steps
            if s.top_mm < middle + ROCK_WIDTH_MM and s.bottom_mm > middle - ROCK_WIDTH_MM
        )
        edge += [(widest + ROCK_WIDTH_MM, upper), (widest + ROCK_WIDTH_MM, lower)]
    return edge
