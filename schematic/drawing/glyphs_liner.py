"""Parts of the liner string as sections: from the shoe to the receptacle.

Blue solid stays in the well; white with lines is soft or moves; black grips, seals or stops. Radii
are true diameters on paper; marks keep their proportions and do not stretch with the part. A part
under 1.2 mm high is a bar with its bore, up to 5 mm an outline with one mark, above that all of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from schematic.drawing.palette import BLACK, FINE_MM, HEAVY_MM, OUTLINE_MM
from schematic.drawing.scene import Dots, Path, Point, Shape, Style
from schematic.drawing.section import (
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
)

COUPLING_MM = 0.85
COUPLING_PITCH_MM = 6.0  # closer ones are thinned to every so many
TOOTH_MM = 0.75
TOOTH_DEPTH_MM = 0.35
BITE_MM = 0.12  # of set teeth into the host


def joints(
    place: Place,
    outer_mm: float,
    inner_mm: float,
    coupling_mm: float,
    couplings_y_mm: Sequence[float] = (),
    coupling_height_mm: float = COUPLING_MM,
) -> tuple[Shape, ...]:
    """A run of joints; couplings at their real levels, every so many when they are close."""
    rings: list[Ring] = []
    reached = place.top_mm
    for y in thinned(couplings_y_mm):
        top = max(y - 0.5 * coupling_height_mm, reached)
        bottom = min(y + 0.5 * coupling_height_mm, place.bottom_mm)
        if bottom > top:
            rings += [Ring(reached, top, outer_mm), Ring(top, bottom, coupling_mm)]
            reached = bottom
    rings.append(Ring(reached, place.bottom_mm + OVERLAP_MM, outer_mm))
    half = stepped(drawn_bore(outer_mm, inner_mm), rings)
    return (both(place.axis_mm, [half], LINER_STEEL),)


def thinned(levels_mm: Sequence[float]) -> Sequence[float]:
    """The levels at which couplings are drawn: every so many when they are close."""
    if len(levels_mm) < 2:
        return levels_mm
    pitch = (levels_mm[-1] - levels_mm[0]) / (len(levels_mm) - 1)
    return levels_mm[:: max(math.ceil(COUPLING_PITCH_MM / pitch - 1e-9), 1)]


def pup_joint(place: Place, outer_mm: float, inner_mm: float, coupling_mm: float) -> tuple[Shape, ...]:
    """A short joint: walls, and the coupling at its top."""
    top = place.top_mm + 0.5 * COUPLING_MM
    return joints(place, outer_mm, inner_mm, coupling_mm, (top,) if place.detail != "bar" else ())


def float_collar(place: Place, outer_mm: float, bore_mm: float, valves: int = 1) -> tuple[Shape, ...]:
    """A solid block with a bore and a check valve that passes downward."""
    half = block(place.top_mm, place.bottom_mm + OVERLAP_MM, bore_mm, outer_mm)
    body = both(place.axis_mm, [half], LINER_STEEL)
    return (body, *_check_valves(place, bore_mm, valves))


def float_shoe(
    place: Place, outer_mm: float, bore_mm: float, valves: int = 1, *, reamer: bool = False
) -> tuple[Shape, ...]:
    """A float shoe: block, round nose that ends at the very bottom, check valves; without: a guide shoe.

    A reamer shoe has teeth on its flanks; their tips are at the outer radius.
    """
    if place.detail == "bar":
        half = block(place.top_mm, place.bottom_mm, bore_mm, outer_mm)
        return (both(place.axis_mm, [half], LINER_STEEL),)
    depth = min(TOOTH_DEPTH_MM, 0.3 * (outer_mm - bore_mm)) if reamer else 0.0
    flank = outer_mm - depth
    nose = min(0.8 * flank, 0.5 * place.height_mm)
    shoulder = place.bottom_mm - nose
    # the ellipse is cut off by the bore: stretched so that the cut is at the bottom
    deepest = math.sqrt(1.0 - (bore_mm / flank) ** 2)
    end = math.acos(bore_mm / flank)
    curve = [
        (flank * math.cos(a), shoulder + nose * math.sin(a) / deepest)
        for a in (end * i / 16.0 for i in range(17))
    ]
    nosed = ((bore_mm, place.top_mm), (flank, place.top_mm), *curve)
    shapes = [both(place.axis_mm, [nosed], LINER_STEEL)]
    if reamer:
        face = ((flank, place.top_mm + 0.1), (flank, shoulder + 0.35 * nose))
        shapes.append(both(place.axis_mm, _blades(face, depth), GRIP))
    valve_place = place._replace(bottom_mm=place.bottom_mm - 0.15 * nose)
    return (*shapes, *_check_valves(valve_place, bore_mm, valves))


def _blades(face: Half, depth_mm: float) -> list[Half]:
    """Pointed teeth standing on a flank, a tooth pitch apart."""
    r, top = face[0]
    count = max(int((face[1][1] - top) / TOOTH_MM), 2)
    pitch = (face[1][1] - top) / count
    return [
        (
            (r - OVERLAP_MM, top + i * pitch),
            (r + depth_mm, top + (i + 0.5) * pitch),
            (r - OVERLAP_MM, top + (i + 1) * pitch),
        )
        for i in range(count)
    ]


def _check_valves(place: Place, bore_mm: float, valves: int) -> tuple[Shape, ...]:
    """Per valve a triangle that points the way it passes, and the bar that holds back."""
    if place.detail == "bar" or valves == 0:
        return ()
    slot = place.height_mm / valves
    width = min(1.5 * bore_mm, slot / 1.15)
    if width < 0.5:  # no longer a valve to the eye: one mark, or none
        return _check_valves(place, bore_mm, 1) if valves > 1 else ()
    tall, gap, bar = 0.72 * width, 0.1 * width, max(0.09 * width, FINE_MM)
    runs: list[tuple[Point, ...]] = []
    for i in range(valves):
        top = place.top_mm + (i + 0.5) * slot - 0.5 * (tall + gap + bar)
        x0, x1 = place.axis_mm - 0.5 * width, place.axis_mm + 0.5 * width
        line = top + tall + gap
        runs.append(((x0, top), (x1, top), (place.axis_mm, top + tall)))
        runs.append(((x0, line), (x1, line), (x1, line + bar), (x0, line + bar)))
    return (Path(tuple(runs), GRIP, closed=True),)


def landing_collar(
    place: Place, outer_mm: float, bore_mm: float, seat_mm: float, *, ball_seat: bool
) -> tuple[Shape, ...]:
    """A solid block with a funnel down to its seat; without a ball seat, a latch for the plug.

    *bore_mm* is that of the liner above, *seat_mm* the least bore of the collar.
    """
    bottom = place.bottom_mm + OVERLAP_MM
    if place.detail == "bar":
        return (both(place.axis_mm, [block(place.top_mm, bottom, seat_mm, outer_mm)], LINER_STEEL),)
    inner = [(bore_mm, place.top_mm)]
    if ball_seat:
        inner.append((seat_mm, place.at(0.5)))
    else:
        latch = 0.5 * (bore_mm + seat_mm)
        inner += [(latch, place.at(0.12)), (latch, place.at(0.4)), (seat_mm, place.at(0.4))]
    half = (*inner, (seat_mm, bottom), (outer_mm, bottom), (outer_mm, place.top_mm))
    shapes: list[Shape] = [both(place.axis_mm, [half], LINER_STEEL)]
    if not ball_seat and place.detail == "full":
        latch = 0.5 * (bore_mm + seat_mm)
        groove = block(place.at(0.22), place.at(0.3), latch - OVERLAP_MM, latch + 0.4)
        shapes.append(both(place.axis_mm, [groove], Style(fill=SOFT.fill)))
    return tuple(shapes)


def ball_on_seat(place: Place, bore_mm: float, seat_mm: float, ball_mm: float) -> tuple[Shape, ...]:
    """A ball of its real radius resting in the funnel of a landing collar.

    It touches the slope of the funnel, or its lower rim where the ball is too large for the slope.
    """
    rise, run = 0.5 * place.height_mm, bore_mm - seat_mm
    slope = math.hypot(rise, run)
    # centre on the axis whose distance to the line of the funnel is the radius
    centre = place.at(0.5) + seat_mm * rise / run - ball_mm * slope / run if run > 0.0 else 0.0
    touch_r = ball_mm * rise / slope
    if run <= 0.0 or touch_r < seat_mm:
        centre = place.at(0.5) - math.sqrt(max(ball_mm**2 - seat_mm**2, 0.0))
    elif touch_r > bore_mm:
        centre = place.top_mm - math.sqrt(max(ball_mm**2 - bore_mm**2, 0.0))
    return (Dots(((place.axis_mm, centre),), ball_mm, GRIP),)


def wiper_plug(place: Place, bore_mm: float, through_mm: float = 0.0) -> tuple[Shape, ...]:
    """A wiper plug: black stem with a blunt nose, three fins swept up to the wall.

    *through_mm* is the radius of the way through it, which stays open until the dart closes it.
    """
    stem = max(0.32 * bore_mm, through_mm + HEAVY_MM if through_mm else 0.0)
    sweep = min(0.3 * place.height_mm, 0.45 * bore_mm)
    nose = min(0.22 * place.height_mm, 0.5 * stem)
    tip = max(0.6 * stem, through_mm)
    half = (
        (through_mm, place.top_mm + 0.5 * sweep),
        (stem, place.top_mm + 0.5 * sweep),
        (stem, place.bottom_mm - nose),
        (tip, place.bottom_mm),
        (through_mm, place.bottom_mm),
    )
    width = HEAVY_MM if place.height_mm > 8.0 else OUTLINE_MM
    fins = Style(stroke=BLACK, width_mm=width)
    first, last = place.top_mm + sweep + 0.5 * width, place.bottom_mm - nose - 0.5 * width
    feet = [first + i * (last - first) / 2.0 for i in range(3)]
    lines = [((0.9 * stem, y), (bore_mm, y - sweep)) for y in feet]
    swept = both(place.axis_mm, lines, fins, closed=False)
    if through_mm > 0.0:
        return (both(place.axis_mm, [half], GRIP), swept)
    outline = (*half, *((-r, y) for r, y in reversed(half)))
    stem_run = tuple((place.axis_mm + r, y) for r, y in outline)
    return (Path((stem_run,), GRIP, closed=True), swept)
