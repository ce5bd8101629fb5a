"""The volumes beside the well: brackets that end at the very depths between which each volume is taken."""

from __future__ import annotations

import math

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.labels import ColumnTooFullError, place
from schematic.drawing.page import unit_text
from schematic.drawing.palette import BLACK, FINE_MM, GREY
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.engineering.volumes import (
    ABOVE,
    BELOW_LINER,
    LAP,
    LINER,
    LINER_FROM_TOP,
    OPEN_HOLE,
    RATHOLE,
    SHOE_TRACK,
    Volume,
)
from schematic.units import System, number

_LINE = Style(stroke=BLACK, width_mm=FINE_MM)
_HALF_TICK_MM = 0.7
_UP = "\u2191\u2009"  # before what tells of a space that lies above it
_NEAR = 0.25  # of a bracket: a figure pushed so near to its lower end could be that of the next space
_OVER_MM = 0.3  # a name may be wider than its column by this
_NAMES = {
    ABOVE: ("above",),
    LAP: ("lap",),
    OPEN_HOLE: ("hole",),
    RATHOLE: ("rathole",),
    BELOW_LINER: ("below", "liner"),
    SHOE_TRACK: ("track",),
    LINER: ("liner",),
    LINER_FROM_TOP: ("liner",),
}
_CLEAR_MM = 0.4  # from a name to the ends of its bracket
_MOST_STEPS = 4  # of one space; more of them are one bracket


def volumes_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float, bottom_mm: float
) -> list[Group]:
    """Two columns of brackets that end at the very depths between which each volume is taken."""
    inside_mm = column_mm[0] + 1.8
    outside_mm = column_mm[0] + 0.56 * (column_mm[1] - column_mm[0])
    widest_mm = outside_mm - inside_mm - 1.5
    heads = ("inside", "outside")
    if outside_mm - 1.0 + width_mm(heads[1], SMALL_PT) > column_mm[1]:
        heads = ("in", "out")
    groups = [
        Group(
            "",
            "volumes",
            (
                Text(inside_mm - 1.0, head_mm, f"Volume, {unit_text('volume', system)}", bold=True),
                Text(inside_mm - 1.0, head_mm + PITCH_MM, heads[0], colour=GREY),
                Text(outside_mm - 1.0, head_mm + PITCH_MM, heads[1], colour=GREY),
            ),
        )
    ]
    for x, names in (
        (inside_mm, (LINER, LINER_FROM_TOP, SHOE_TRACK)),
        (outside_mm, (ABOVE, LAP, OPEN_HOLE, RATHOLE, BELOW_LINER)),
    ):
        spaces = _joined([space for space in evaluation.volumes.spaces if space.name in names])
        spaces = [space for space in spaces if frame.y(space.bottom_md_m) - frame.y(space.top_md_m) > 0.05]
        head = head_mm + PITCH_MM + 1.2  # a bracket that begins above the track is left open there
        figures = [number(space.m3, "volume", system, THIN) for space in spaces]
        placed = _placed(spaces, figures, frame, head, bottom_mm, widest_mm)
        for space, figure, (lines, top) in zip(spaces if placed else [], figures, placed, strict=False):
            y0, y1 = frame.y(space.top_md_m), frame.y(space.bottom_md_m)
            ends = (space.top_md_m, space.bottom_md_m)
            ticks = [
                frame.y(md)
                for md in ends
                if frame.scale.top_md_m - 1e-6 <= md <= frame.scale.bottom_md_m + 1e-6 and frame.y(md) >= head
            ]
            runs = (
                *((((x, max(y0, head)), (x, y1)),) if y1 > head else ()),
                *(((x - _HALF_TICK_MM, y), (x + _HALF_TICK_MM, y)) for y in ticks),
            )
            texts = tuple(
                Text(x + 1.1, top + 2.1 + PITCH_MM * row, line, backed=True) for row, line in enumerate(lines)
            )
            if width_mm(figure, SMALL_PT) > widest_mm:
                middle = top + 0.5 * _height_mm(lines, figure, widest_mm)
                texts = (Text(x + 2.8, middle, lines[-1], anchor="middle", upward=True, backed=True),)
            shapes: tuple[Shape, ...] = (Path(runs, _LINE), *texts) if runs else texts
            groups.append(Group(f"volumes.{space.name}", f"Volume: {space.name}, {figure}", shapes))
    return groups


def _placed(
    spaces: list[Volume],
    figures: list[str],
    frame: Frame,
    head_mm: float,
    bottom_mm: float,
    room_mm: float,
) -> list[tuple[tuple[str, ...], float]]:
    """The lines of each figure and their top: the name of its space where there is room for it, the figure.

    One that stands outside its bracket points up to its space, and does not begin above the bracket's end; no
    figure where there is none for all.
    """
    levels = [(frame.y(space.top_md_m), frame.y(space.bottom_md_m)) for space in spaces]
    outside = {n for n, (_top, bottom) in enumerate(levels) if bottom <= head_mm}
    below: set[int] = set()
    for named in (True, False):
        while True:
            lines = [
                _lines(
                    space,
                    figure,
                    room_mm,
                    math.inf if n in outside else levels[n][1] - max(levels[n][0], head_mm),
                    named=named,
                )
                for n, (space, figure) in enumerate(zip(spaces, figures, strict=True))
            ]
            heights = [_height_mm(*one, room_mm) for one in zip(lines, figures, strict=True)]
            wanted = [
                bottom + _CLEAR_MM if n in below else 0.5 * (max(top, head_mm) + bottom - height)
                for n, ((top, bottom), height) in enumerate(zip(levels, heights, strict=True))
            ]
            try:
                tops = place(wanted, heights, head_mm, bottom_mm, 0.1)
            except ColumnTooFullError:
                break
            pushed = {
                n
                for n, (top, height) in enumerate(zip(tops, heights, strict=True))
                if levels[n][1] > head_mm
                and top + 0.5 * height > levels[n][1] - _NEAR * (levels[n][1] - max(levels[n][0], head_mm))
                and top - wanted[n] > 0.5 * PITCH_MM
            }
            across = {n for n in outside | pushed if head_mm < levels[n][1] and tops[n] < levels[n][1]}
            if pushed <= outside and across <= below:
                return list(zip(lines, tops, strict=True))
            outside |= pushed
            below |= across
    return []


def _lines(space: Volume, figure: str, room_mm: float, height_mm: float, *, named: bool) -> tuple[str, ...]:
    """The name of a space and its figure, the figure alone where both have no room; infinite outside it."""
    names, told = _NAMES[space.name], figure if math.isfinite(height_mm) else f"{_UP}{figure}"
    widest = max(width_mm(figure, SMALL_PT), *(width_mm(name, SMALL_PT) - _OVER_MM for name in names))
    high = PITCH_MM * (len(names) + 1) + 2.0 * _CLEAR_MM
    return (*names, told) if named and widest <= room_mm and high <= height_mm else (told,)


def _height_mm(lines: tuple[str, ...], figure: str, widest_mm: float) -> float:
    """The height of a figure beside its bracket: one too wide for its column stands upright."""
    if width_mm(figure, SMALL_PT) <= widest_mm:
        return PITCH_MM * len(lines)
    return width_mm(lines[-1], SMALL_PT) + 0.6


def _joined(spaces: list[Volume]) -> list[Volume]:
    """The spaces, neighbours of one name as one where a caliper log makes more of them than can be read."""
    many = {space.name for space in spaces if sum(other.name == space.name for other in spaces) > _MOST_STEPS}
    joined: list[Volume] = []
    for space in spaces:
        last = joined[-1] if joined else None
        if last and last.name == space.name in many and abs(last.bottom_md_m - space.top_md_m) < 1e-6:
            joined[-1] = last._replace(bottom_md_m=space.bottom_md_m, m3=last.m3 + space.m3)
        else:
            joined.append(space)
    return joined
