"""Parts of a liner that not every liner has: crossover, swivel, sleeves, collars with ports, packers outside.

Paints and rules are those of the other parts: radii true, marks keep their proportions, blue stays in the
well, white with lines is soft or moves, black grips, seals or stops.
"""

from __future__ import annotations

import math

from schematic.drawing.palette import BLACK, FINE_MM, OUTLINE_MM
from schematic.drawing.scene import Dots, Path, Shape, Style
from schematic.drawing.section import (
    FINE,
    GRIP,
    LINER_STEEL,
    OVERLAP_MM,
    SOFT,
    Place,
    block,
    both,
    drawn_bore,
)

_PORT_MM = 0.5  # height of a port
_BALL_MM = 0.45  # radius of a ball of a bearing
_ROW_MM = 0.9  # of a soft part's ribs
_HALF_LINE_MM = 0.5 * FINE_MM


def crossover(
    place: Place, top_outer_mm: float, top_inner_mm: float, foot_outer_mm: float, foot_inner_mm: float
) -> tuple[Shape, ...]:
    """A change of size: both faces slant over the middle third."""
    bottom = place.bottom_mm + OVERLAP_MM
    upper, lower = place.at(0.33), place.at(0.67)
    top_bore, foot_bore = drawn_bore(top_outer_mm, top_inner_mm), drawn_bore(foot_outer_mm, foot_inner_mm)
    half = (
        (top_bore, place.top_mm),
        (top_outer_mm, place.top_mm),
        (top_outer_mm, upper),
        (foot_outer_mm, lower),
        (foot_outer_mm, bottom),
        (foot_bore, bottom),
        (foot_bore, lower),
        (top_bore, upper),
    )
    return (both(place.axis_mm, [half], LINER_STEEL),)


def swivel(place: Place, outer_mm: float, inner_mm: float) -> tuple[Shape, ...]:
    """A bearing: the wall parted by a joint with a ball in it, so that what hangs below can stand still."""
    bore = drawn_bore(outer_mm, inner_mm)
    bottom = place.bottom_mm + OVERLAP_MM
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    middle, gap = place.at(0.5), 0.12
    halves = [
        block(place.top_mm, middle - gap, bore, outer_mm),
        block(middle + gap, bottom, bore, outer_mm),
    ]
    radius = min(_BALL_MM, 0.45 * (outer_mm - bore), 0.3 * place.height_mm)
    at = 0.5 * (bore + outer_mm)
    centres = ((place.axis_mm - at, middle), (place.axis_mm + at, middle))
    return (both(place.axis_mm, halves, LINER_STEEL), Dots(centres, radius, SOFT))


def setting_sleeve(place: Place, outer_mm: float, inner_mm: float) -> tuple[Shape, ...]:
    """The sleeve in which the running tool grips: a wall with threads inside."""
    bore = drawn_bore(outer_mm, inner_mm)
    bottom = place.bottom_mm + OVERLAP_MM
    shapes: list[Shape] = [both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL)]
    if place.detail != "bar":
        count = max(int(0.6 * place.height_mm / _ROW_MM), 2)
        start, pitch = place.at(0.2), 0.6 * place.height_mm / count
        depth = min(0.45, 0.6 * bore)
        teeth = [
            (
                (bore + OVERLAP_MM, start + i * pitch),
                (bore - depth, start + (i + 0.5) * pitch),
                (bore + OVERLAP_MM, start + (i + 1) * pitch),
            )
            for i in range(count)
        ]
        shapes.append(both(place.axis_mm, teeth, LINER_STEEL))
    return tuple(shapes)


def debris_barrier(place: Place, outer_mm: float, inner_mm: float) -> tuple[Shape, ...]:
    """A cover on the liner top: a soft roof with ribs that keeps solids out of the seal bore."""
    if place.detail == "bar":
        bar = (
            (-outer_mm, place.top_mm),
            (outer_mm, place.top_mm),
            (outer_mm, place.bottom_mm),
            (-outer_mm, place.bottom_mm),
        )
        return (Path((tuple((place.axis_mm + r, y) for r, y in bar),), GRIP, closed=True),)
    roof = 0.55 * outer_mm
    half = (
        (0.0, place.top_mm + _HALF_LINE_MM),
        (roof, place.top_mm + _HALF_LINE_MM),
        (outer_mm - _HALF_LINE_MM, place.bottom_mm - _HALF_LINE_MM),
        (0.0, place.bottom_mm - _HALF_LINE_MM),
    )
    outline = (*half, *((-r, y) for r, y in reversed(half)))
    run = tuple((place.axis_mm + r, y) for r, y in outline)
    shapes: list[Shape] = [Path((run,), SOFT, closed=True)]
    count = max(int(outer_mm / _ROW_MM), 2)
    foot = place.bottom_mm - _HALF_LINE_MM
    ribs = []
    for i in range(1, count):
        r = i * outer_mm / count
        share = 0.0 if r <= roof else (r - roof) / (outer_mm - roof)
        top = place.top_mm + _HALF_LINE_MM + share * (foot - place.top_mm - _HALF_LINE_MM)
        if foot - top > 0.3:
            ribs.append(((r, top), (r, foot)))
    shapes.append(both(place.axis_mm, ribs, FINE, closed=False))
    mid = place.axis_mm
    shapes.append(Path((((mid, place.top_mm + _HALF_LINE_MM), (mid, foot)),), FINE))
    return tuple(shapes)


def stage_collar(place: Place, outer_mm: float, inner_mm: float, *, is_open: bool) -> tuple[Shape, ...]:
    """A collar with ports through its wall; open ports have an arrow outward, closed ones a sleeve inside."""
    bore = drawn_bore(outer_mm, inner_mm)
    bottom = place.bottom_mm + OVERLAP_MM
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    count = 3 if place.detail == "full" else 1
    levels = [place.at((i + 1) / (count + 1)) for i in range(count)]
    port = min(_PORT_MM, 0.25 * place.height_mm)
    edges = [place.top_mm, *(y + side * 0.5 * port for y in levels for side in (-1, 1)), bottom]
    halves = [block(edges[i], edges[i + 1], bore, outer_mm) for i in range(0, len(edges), 2)]
    shapes: list[Shape] = [both(place.axis_mm, halves, LINER_STEEL)]
    if is_open:
        reach = 1.1
        arrows = [((outer_mm, y - port), (outer_mm + reach, y), (outer_mm, y + port)) for y in levels]
        shapes.append(both(place.axis_mm, arrows, GRIP))
    else:
        sleeve = block(levels[0] - 1.2 * port, levels[-1] + 1.2 * port, max(bore - 0.45, 0.2), bore - 0.1)
        shapes.append(both(place.axis_mm, [sleeve], SOFT))
    return tuple(shapes)


def external_packer(
    place: Place, outer_mm: float, body_mm: float, inner_mm: float, wall_mm: float, *, is_set: bool
) -> tuple[Shape, ...]:
    """A packer on the outside of the liner: a soft ribbed sleeve between collars, on the wall when set."""
    bore = drawn_bore(body_mm, inner_mm)
    bottom = place.bottom_mm + OVERLAP_MM
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    reach = wall_mm if is_set else outer_mm
    top, foot = place.at(0.1), place.at(0.9)
    slant = min(0.15 * place.height_mm, reach - body_mm)
    left = body_mm + _HALF_LINE_MM
    sleeve = (
        (left, top),
        (reach - _HALF_LINE_MM, top + slant),
        (reach - _HALF_LINE_MM, foot - slant),
        (left, foot),
    )
    count = max(int((foot - top - 2 * slant) / _ROW_MM), 1)
    pitch = (foot - top - 2 * slant) / count
    ribs = [
        ((left, top + slant + i * pitch), (reach - _HALF_LINE_MM, top + slant + i * pitch))
        for i in range(count + 1)
    ]
    return (
        both(
            place.axis_mm,
            [
                block(place.top_mm, bottom, bore, body_mm),
                block(place.top_mm, top, body_mm - OVERLAP_MM, outer_mm),  # collars that hold the sleeve
                block(foot, place.bottom_mm, body_mm - OVERLAP_MM, outer_mm),
            ],
            LINER_STEEL,
        ),
        both(place.axis_mm, [sleeve], SOFT),
        both(place.axis_mm, ribs, FINE, closed=False),
    )


def centralizer(place: Place, body_mm: float, wall_mm: float) -> tuple[Shape, ...]:
    """A centralizer: two collars on the pipe and bows between them out to the wall."""
    reach = max(wall_mm - _HALF_LINE_MM, body_mm + 0.3)
    collar = min(0.5, 0.2 * place.height_mm)
    rings = [
        block(place.top_mm, place.top_mm + collar, body_mm - OVERLAP_MM, body_mm + 0.35),
        block(place.bottom_mm - collar, place.bottom_mm, body_mm - OVERLAP_MM, body_mm + 0.35),
    ]
    bow = tuple(
        (
            body_mm + 0.2 + (reach - body_mm - 0.2) * math.sin(math.pi * i / 12.0),
            place.top_mm + collar + (place.height_mm - 2.0 * collar) * i / 12.0,
        )
        for i in range(13)
    )
    line = Style(stroke=BLACK, width_mm=OUTLINE_MM)
    return (both(place.axis_mm, rings, GRIP), both(place.axis_mm, [bow], line, closed=False))


def expandable_hanger(
    place: Place, outer_mm: float, inner_mm: float, host_mm: float, *, is_set: bool
) -> tuple[Shape, ...]:
    """A hanger whose body is swollen against the host: bands outside that grip and seal, no slips."""
    bottom = place.bottom_mm + OVERLAP_MM
    wall = max(outer_mm - inner_mm, 0.0)
    reach = host_mm - 0.35 if is_set else outer_mm
    bore = drawn_bore(reach, reach - wall)
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, reach)], LINER_STEEL),)
    neck = place.at(0.85)
    foot_bore = drawn_bore(outer_mm, inner_mm)
    half = (
        (bore, place.top_mm),
        (reach, place.top_mm),
        (reach, place.at(0.72)),
        (outer_mm, neck),
        (outer_mm, bottom),
        (foot_bore, bottom),
        (foot_bore, neck),
        (bore, place.at(0.72)),
    )
    bands = []
    edge = host_mm - _HALF_LINE_MM if is_set else reach + 0.3
    count = 3 if place.detail == "full" else 2
    for i in range(count):
        top = place.at(0.08 + 0.6 * i / count)
        bands.append(block(top, top + 0.36 * place.height_mm / count, reach, edge))
    return (both(place.axis_mm, [half], LINER_STEEL), both(place.axis_mm, bands, SOFT))


def mechanical_hanger_drag(place: Place, body_mm: float, host_mm: float) -> tuple[Shape, ...]:
    """What a mechanical hanger has below its slips: springs that drag on the host, and a slot for the pin."""
    top, foot = place.at(0.62), place.at(0.94)
    if place.detail != "full" or foot - top < 1.4:
        return ()
    reach = host_mm - _HALF_LINE_MM
    bow = tuple(
        (body_mm + (reach - body_mm) * math.sin(math.pi * i / 10.0), top + (foot - top) * i / 10.0)
        for i in range(11)
    )
    x, middle = 0.55 * body_mm, 0.5 * (top + foot)
    slot = ((x, foot), (x, middle), (x - 0.8, middle), (x - 0.8, top + 0.2))
    return (
        both(place.axis_mm, [bow], Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=False),
        both(place.axis_mm, [slot], FINE, closed=False),
    )


def perforations(place: Place, inner_mm: float, reach_mm: float) -> tuple[Shape, ...]:
    """Holes shot through pipe: level ticks through the wall, evenly over their interval."""
    count = max(int(place.height_mm / 1.1), 1)
    pitch = place.height_mm / count
    ticks = [
        ((inner_mm, place.top_mm + (i + 0.5) * pitch), (reach_mm, place.top_mm + (i + 0.5) * pitch))
        for i in range(count)
    ]
    return (both(place.axis_mm, ticks, Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=False),)
