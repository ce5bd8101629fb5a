"""The depth track: true strip, fan, ruler of equal blocks, MD in black and TVD in grey."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from schematic.drawing.captions import SMALL_PT, THIN
from schematic.drawing.frame import Frame, block_m, round_step_m, strip_block_m
from schematic.drawing.palette import BLACK, FINE_MM, FLAT_GREY, GREY, WHITE
from schematic.drawing.ruler import TOUCHING_MM, Block, blocks, ticks
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.section import Half
from schematic.drawing.text import width_mm
from schematic.units import System, number, show

STRIP_MM = (9.0, 11.0)
FAN_TO_MM = 18.2
_STUB_MM = 0.8  # the level end of a line of the fan
MD_AT_MM = 26.8
RULER_MM = (28.0, 30.4)
SUB_MM = (30.4, 31.4)
TVD_AT_MM = 31.9
PANEL_TO_MM = 39.6
_DOWN_MM = 0.82  # from the level of a tick to the baseline of its figures

_BLACK = Style(fill=BLACK)
_EDGE = Style(stroke=BLACK, width_mm=FINE_MM)


def _rect(left: float, top: float, right: float, bottom: float) -> tuple[tuple[float, float], ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _ladder(
    found: tuple[Block, ...], x: tuple[float, float], y: Callable[[float], float], top: float, bottom: float
) -> list[Shape]:
    """Alternating blocks between two lines."""
    dark = tuple(_rect(x[0], y(b.top_md_m), x[1], y(b.bottom_md_m)) for b in found if b.dark)
    return [
        Path((_rect(x[0], top, x[1], bottom),), Style(fill=WHITE), closed=True),
        Path(dark, _BLACK, closed=True),
        Path((_rect(x[0], top, x[1], bottom),), _EDGE, closed=True),
    ]


def depth_track(frame: Frame, tvd_m: Callable[[float], float], marks_md_m: Sequence[float] = ()) -> Group:
    """The whole depth track beside the main column; *marks_md_m* are ticked whatever else is, in bold."""
    scale, system = frame.scale, frame.system
    top, bottom = scale.levels_mm[0], scale.levels_mm[-1]
    shapes: list[Shape] = []
    marks = [md for md in marks_md_m if scale.top_md_m <= md <= scale.bottom_md_m]
    step = round_step_m(system, scale.bottom_md_m)
    marked = ticks(scale, step, marks=marks)
    fan_to = _fan_to_mm(marked, marks, system)
    stretched = [span for span in scale.spans if span.kind == "stretched"]

    def true_y(md_m: float) -> float:
        share = (md_m - scale.top_md_m) / (scale.bottom_md_m - scale.top_md_m)
        return top + share * (bottom - top)

    if frame.kind == "fitted":
        for span in stretched:
            y0, y1 = frame.y(span.top_md_m), frame.y(span.bottom_md_m)
            t0, t1 = true_y(span.top_md_m), true_y(span.bottom_md_m)
            panel: Half = (
                (STRIP_MM[1], t0),
                (fan_to, y0),
                (PANEL_TO_MM, y0),
                (PANEL_TO_MM, y1),
                (fan_to, y1),
                (STRIP_MM[1], t1),
            )
            shapes.append(Path((tuple(panel),), Style(fill=FLAT_GREY), closed=True))
        corners = [scale.top_md_m, *scale.breaks, scale.bottom_md_m]
        fan = tuple(
            (
                (STRIP_MM[1], true_y(md)),
                (fan_to, frame.y(md)),
                (fan_to + _STUB_MM, frame.y(md)),
            )
            for md in corners
        )
        shapes.append(Path(fan, Style(stroke=GREY, width_mm=FINE_MM)))
        strip = strip_block_m(system, scale.bottom_md_m)
        shapes += _ladder(blocks(scale, strip), STRIP_MM, true_y, top, bottom)
        unit = show(strip, "depth", system, THIN)
        shapes.append(
            Text(
                STRIP_MM[1] + 2.6,
                top + 52.0,
                f"true scale, {unit} blocks",
                colour=GREY,
                upward=True,
                backed=True,
            )
        )
    shapes += _ladder(blocks(scale, block_m(system, scale.bottom_md_m)), RULER_MM, frame.y, top, bottom)
    for span in stretched:
        found = blocks(scale, step, span.top_md_m, span.bottom_md_m)
        shapes += _ladder(found, SUB_MM, frame.y, frame.y(span.top_md_m), frame.y(span.bottom_md_m))
    shapes.append(
        Path(tuple(((RULER_MM[0] - 0.8, frame.y(md)), (RULER_MM[0], frame.y(md))) for md in marked), _EDGE)
    )
    last = -10.0
    for md in marked:
        y = frame.y(md)
        if y - last < TOUCHING_MM:  # two limits of stretched spans may be closer than a line of figures
            continue
        last = y
        figures = number(md, "depth", system, THIN)
        shapes.append(Text(MD_AT_MM, y + _DOWN_MM, figures, bold=md in marks, anchor="end"))
        shapes.append(Text(TVD_AT_MM, y + _DOWN_MM, number(tvd_m(md), "ruler", system, THIN), colour=GREY))
    return Group("", "depth", tuple(shapes))


def _fan_to_mm(marked: Sequence[float], marks: Sequence[float], system: System) -> float:
    """Where the slanted lines of the fan end: short of the widest figures."""
    widest = max(
        (width_mm(number(md, "depth", system, THIN), SMALL_PT, md in marks) for md in marked), default=0.0
    )
    return min(FAN_TO_MM, MD_AT_MM - widest - 1.3)
