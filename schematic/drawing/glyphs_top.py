"""The top of the liner as sections: hanger, liner-top packer, tie-back receptacle.

They are drawn inside the host casing, whose bore they touch when set. Same rules as the rest of the
liner: true radii, blue stays, white is soft or moves, black grips, marks do not stretch.
"""

from __future__ import annotations

from schematic.drawing.glyphs_liner import BITE_MM, TOOTH_DEPTH_MM, TOOTH_MM
from schematic.drawing.palette import BLACK, FINE_MM, PRESSURE_GREY
from schematic.drawing.scene import Shape, Style
from schematic.drawing.section import (
    FINE,
    GRIP,
    LINER_STEEL,
    OVERLAP_MM,
    SOFT,
    Half,
    Place,
    Ring,
    block,
    both,
    drawn_bore,
    stepped,
    toothed,
)

HALF_LINE_MM = 0.5 * FINE_MM
LEAST_CROSS_MM = 2.4  # lower ones run together in print


def hanger(
    place: Place,
    outer_mm: float,
    body_mm: float,
    inner_mm: float,
    host_mm: float,
    *,
    is_set: bool,
    slips_mm: tuple[float, float] | None = None,
    drag: bool = False,
    pressed: bool = False,
) -> tuple[Shape, ...]:
    """A hanger: cone widest at the top, toothed slip on it, setting cylinder below.

    Parameters
    ----------
    place : Place
        Axis and levels. [mm]
    outer_mm, body_mm, inner_mm : float
        Radii of the widest part, of the body, of the bore. [mm]
    host_mm : float
        Radius of the bore of the host casing, which set slips bite. [mm]
    is_set : bool
        When not, the slip is a third of its length lower, where there is room, clear of the host, and white:
        where little room is around the hanger its place alone does not tell.
    slips_mm : (float, float), optional
        Levels between which set slips bite; a typical place when left out. [mm]
    drag : bool
        Without the setting cylinder, whose place the drag springs of a mechanical hanger take.
    pressed : bool
        Pressure stands under the piston: the lower half of the cylinder is tinted.
    """
    bottom = place.bottom_mm + OVERLAP_MM
    bore = drawn_bore(body_mm, inner_mm)
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    slip_top, slip_foot = slips_mm or (place.at(0.13), place.at(0.58))
    bevel = min(0.03 * place.height_mm, 0.4)
    cone_top = min(max(slip_top - 0.04 * place.height_mm, place.top_mm + bevel), slip_top)
    cone: Half = ((outer_mm, cone_top), (body_mm, slip_foot))
    half = (
        (bore, place.top_mm),
        (outer_mm - 0.5 * bevel, place.top_mm),
        (outer_mm, place.top_mm + bevel),
        *cone,
        (body_mm, bottom),
        (bore, bottom),
    )
    room = max(place.at(0.97) - slip_foot, 0.0)
    lower = 0.0 if is_set else min((slip_foot - slip_top) / 3.0, room)
    gap = 0.0 if is_set else 0.1
    tip = host_mm + BITE_MM if is_set else outer_mm - HALF_LINE_MM
    face = _along(cone, slip_top + lower, slip_foot + lower, gap)
    slip = toothed(face, tip, min(TOOTH_DEPTH_MM, 0.4 * (tip - body_mm)), TOOTH_MM, up=False)
    shapes: list[Shape] = [
        both(place.axis_mm, [half], LINER_STEEL),
        both(place.axis_mm, [slip], GRIP if is_set else SOFT),
    ]
    top, foot = slip_foot + lower + 0.04 * place.height_mm, place.at(0.97)
    if place.detail == "full" and foot - top > 0.8 and not drag:
        left, right = body_mm + HALF_LINE_MM, outer_mm - HALF_LINE_MM
        middle = 0.5 * (top + foot)
        shapes.append(both(place.axis_mm, [block(top, foot, left, right)], SOFT))
        if pressed:
            tint = Style(stroke=BLACK, width_mm=FINE_MM, fill=PRESSURE_GREY)
            shapes.append(both(place.axis_mm, [block(middle, foot, left, right)], tint))
        shapes.append(both(place.axis_mm, [((left, middle), (right, middle))], FINE, closed=False))
    return tuple(shapes)


def _along(cone: Half, top_mm: float, bottom_mm: float, gap_mm: float) -> Half:
    """The inner face of a slip that lies on a cone and runs on down the body below it."""
    (wide, cone_top), (body, cone_foot) = cone
    slope = (body - wide) / (cone_foot - cone_top)
    start = max(wide + slope * (top_mm - cone_top), body) + gap_mm
    if bottom_mm <= cone_foot:
        return ((start, top_mm), (wide + slope * (bottom_mm - cone_top) + gap_mm, bottom_mm))
    return ((start, top_mm), (body + gap_mm, cone_foot), (body + gap_mm, bottom_mm))


def packer(
    place: Place,
    outer_mm: float,
    body_mm: float,
    inner_mm: float,
    host_mm: float,
    *,
    is_set: bool,
    hold_down: bool = False,
) -> tuple[Shape, ...]:
    """A liner-top packer: crossed soft block between collars, against the host when set.

    Hold-down slips stand above it on a cone, their teeth against movement up. Radii as for
    `hanger`.
    """
    bottom = place.bottom_mm + OVERLAP_MM
    bore = drawn_bore(body_mm, inner_mm)
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    grips = hold_down and place.detail == "full"
    collar, element, foot = (0.27, 0.37, 0.84) if grips else (0.05, 0.2, 0.82)
    rings = [
        Ring(place.at(collar), place.at(element), outer_mm),
        Ring(place.at(element), place.at(foot), body_mm),
        Ring(place.at(foot), place.at(0.95), outer_mm),
        Ring(place.at(0.95), bottom, body_mm),
    ]
    cone: Half = ((body_mm, place.at(0.04)), (outer_mm, place.at(collar)))
    neck = ((body_mm, place.top_mm), *cone) if grips else ((body_mm, place.top_mm),)
    if not grips:
        rings.insert(0, Ring(place.top_mm, place.at(collar), body_mm))
    half = (*((bore, place.top_mm), *neck), *stepped(bore, rings)[1:])
    reach = host_mm if is_set else body_mm + 0.65 * (outer_mm - body_mm)
    shapes: list[Shape] = [both(place.axis_mm, [half], LINER_STEEL)]
    shapes += _element(place.axis_mm, place.at(element), place.at(foot), body_mm, reach)
    if grips:
        tip = host_mm + BITE_MM if is_set else outer_mm - HALF_LINE_MM
        gap = 0.0 if is_set else 0.1
        top, end = place.at(0.04), place.at(0.23)
        slope = (outer_mm - body_mm) / (place.at(collar) - top)
        face = ((body_mm + gap, top), (min(body_mm + gap + slope * (end - top), tip - 0.1), end))
        depth = min(TOOTH_DEPTH_MM, 0.4 * (tip - body_mm))
        slip = toothed(face, tip, depth, 0.6, up=True)
        shapes.append(both(place.axis_mm, [slip], GRIP if is_set else SOFT))
    return tuple(shapes)


def _element(
    axis_mm: float, top_mm: float, bottom_mm: float, inner_mm: float, outer_mm: float
) -> tuple[Shape, ...]:
    """A soft block with crosses that keep their shape: as many as fit, one at least."""
    top, bottom = top_mm + HALF_LINE_MM, bottom_mm - HALF_LINE_MM
    left, right = inner_mm + HALF_LINE_MM, outer_mm - HALF_LINE_MM
    cross_mm = max(3.0 * (right - left), LEAST_CROSS_MM)
    count = max(round((bottom - top) / cross_mm), 1)
    pitch = (bottom - top) / count
    crosses = [
        ((r0, top + i * pitch), (r1, top + (i + 1) * pitch))
        for i in range(count)
        for r0, r1 in ((left, right), (right, left))
    ]
    return (
        both(axis_mm, [block(top, bottom, left, right)], SOFT),
        both(axis_mm, crosses, FINE, closed=False),
    )


def receptacle(place: Place, outer_mm: float, bore_mm: float, body_bore_mm: float) -> tuple[Shape, ...]:
    """A tie-back receptacle: thin wall, mouth bevelled inside, step to the bore of the body.

    The seal bore is smooth between mouth and foot; the foot narrows to *body_bore_mm*.
    """
    bore = drawn_bore(outer_mm, bore_mm)
    bottom = place.bottom_mm + OVERLAP_MM
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, bore, outer_mm)], LINER_STEEL),)
    mouth = min(2.2 * (outer_mm - bore), 0.25 * place.height_mm)
    foot = min(0.12 * place.height_mm, 1.2)
    slant = max(min(0.5 * (bore - body_bore_mm), 0.4 * foot), 0.0)
    half = (
        (outer_mm, place.top_mm),
        (outer_mm, bottom),
        (body_bore_mm, bottom),
        (body_bore_mm, place.bottom_mm - foot + slant),
        (bore, place.bottom_mm - foot),
        (bore, place.top_mm + mouth),
    )
    return (both(place.axis_mm, [half], LINER_STEEL),)
