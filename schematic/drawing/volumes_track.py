"""The volumes beside the well: brackets that end at the very depths between which each volume is taken."""

from __future__ import annotations

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
_UP = "\u2191\u2009"  # before the figure of a space that lies above it
_MOST_STEPS = 4  # of one space; more of them are one bracket


def volumes_track(
    evaluation: Evaluation, frame: Frame, column_mm: Span, system: System, head_mm: float, bottom_mm: float
) -> list[Group]:
    """Two columns of brackets that end at the very depths between which each volume is taken."""
    inside_mm = column_mm[0] + 1.8
    outside_mm = column_mm[0] + 0.56 * (column_mm[1] - column_mm[0])
    widest_mm = outside_mm - inside_mm - 1.5
    groups = [
        Group(
            "",
            "volumes",
            (
                Text(inside_mm - 1.0, head_mm, f"Volume, {unit_text('volume', system)}", bold=True),
                Text(inside_mm - 1.0, head_mm + PITCH_MM, "inside", colour=GREY),
                Text(outside_mm - 1.0, head_mm + PITCH_MM, "outside", colour=GREY),
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
        shown = [  # an arrow where the whole of a space lies above the track
            figure if frame.y(space.bottom_md_m) > head else f"{_UP}{figure}"
            for space, figure in zip(spaces, figures, strict=True)
        ]
        heights = [_height_mm(words, widest_mm) for words in shown]
        wanted = [
            0.5 * (frame.y(space.top_md_m) + frame.y(space.bottom_md_m) - height)
            for space, height in zip(spaces, heights, strict=True)
        ]
        try:
            tops = place(wanted, heights, head, bottom_mm, 0.1)
        except ColumnTooFullError:
            continue
        for space, figure, words, height, top in zip(spaces, figures, shown, heights, tops, strict=True):
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
            if top + 0.5 * height > y1 > head:  # pushed out of its bracket
                words = f"{_UP}{words}"
            text = (
                Text(x + 1.1, top + 2.1, words, backed=True)
                if height == PITCH_MM
                else Text(x + 2.8, top + 0.5 * height, words, anchor="middle", upward=True, backed=True)
            )
            shapes: tuple[Shape, ...] = (Path(runs, _LINE), text) if runs else (text,)
            groups.append(Group(f"volumes.{space.name}", f"Volume: {space.name}, {figure}", shapes))
    return groups


def _height_mm(figure: str, widest_mm: float) -> float:
    """The height of a figure beside its bracket: one too wide for its column stands upright."""
    width = width_mm(figure, SMALL_PT)
    return PITCH_MM if width <= widest_mm else width + 0.6


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
