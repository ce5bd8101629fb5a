"""What runs the liner and comes out again, and what is dropped or pumped: grey outlined steel, black plugs.

Radii are true on paper. Steel that is retrieved is grey with a black outline, so that it reads apart from the
liner in grey print as well.
"""

from __future__ import annotations

from schematic.drawing.fills import hatch
from schematic.drawing.palette import BLACK, FINE_MM, HEAVY_MM, OUTLINE_MM, RETRIEVED_GREY, WHITE
from schematic.drawing.scene import Dots, Path, Shape, Style
from schematic.drawing.section import GRIP, Half, Place, block, both, drawn_bore

STEEL = Style(stroke=BLACK, width_mm=FINE_MM, fill=RETRIEVED_GREY)
DOG = Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE)
_HALF_LINE_MM = 0.5 * FINE_MM
_PACKING_MM = 0.9  # spacing of its hatch


def tube(place: Place, outer_mm: float, inner_mm: float) -> Shape:
    """A plain length of steel that comes out again."""
    bore = drawn_bore(outer_mm, inner_mm)
    half = block(place.top_mm, place.bottom_mm, bore + _HALF_LINE_MM, outer_mm - _HALF_LINE_MM)
    return both(place.axis_mm, [half], STEEL)


def drill_pipe(
    place: Place,
    outer_mm: float,
    inner_mm: float,
    joint_outer_mm: float,
    joint_inner_mm: float,
    *,
    joints: int = 1,
) -> tuple[Shape, ...]:
    """Drill pipe: thin wall, and a wider tool joint with a narrower bore in the middle of each length."""
    body = tube(place, outer_mm, inner_mm)
    if place.detail == "bar":
        return (body,)
    height = min(0.3 * place.height_mm / joints, 4.0)
    bore = drawn_bore(joint_outer_mm, joint_inner_mm)
    boxes: list[Half] = []
    for i in range(joints):
        middle = place.at((i + 0.5) / joints)
        boxes.append(
            block(
                middle - 0.5 * height,
                middle + 0.5 * height,
                bore + _HALF_LINE_MM,
                joint_outer_mm - _HALF_LINE_MM,
            )
        )
    return (body, both(place.axis_mm, boxes, STEEL))


def heavy_weight(
    place: Place, outer_mm: float, inner_mm: float, joint_outer_mm: float, upset_mm: float
) -> tuple[Shape, ...]:
    """Heavy-weight pipe: thick wall, tool joints at both ends and an upset in the middle."""
    body = tube(place, outer_mm, inner_mm)
    if place.detail == "bar":
        return (body,)
    bore = drawn_bore(joint_outer_mm, inner_mm) + _HALF_LINE_MM
    height = min(0.14 * place.height_mm, 3.0)
    boxes = [
        block(place.top_mm, place.top_mm + height, bore, joint_outer_mm - _HALF_LINE_MM),
        block(place.bottom_mm - height, place.bottom_mm, bore, joint_outer_mm - _HALF_LINE_MM),
        block(place.at(0.5) - 0.5 * height, place.at(0.5) + 0.5 * height, bore, upset_mm - _HALF_LINE_MM),
    ]
    return (body, both(place.axis_mm, boxes, STEEL))


def running_tool(
    place: Place,
    outer_mm: float,
    inner_mm: float,
    grip_mm: float,
    *,
    dogs_out: bool,
    dogs: tuple[float, float] | None = (0.12, 0.42),
    grip: tuple[float, float] = (0.66, 0.78),
    made_up: bool = True,
) -> tuple[Shape, ...]:
    """The running tool: thick mandrel, the black grip that carries the liner, dogs that set the packer.

    Dogs are folded while it runs; out, they reach *grip_mm* plus their own height and land on the liner top.
    *dogs* and *grip* are shares of the height, dogs None for a tool without them. Not *made_up*, the grip has
    let go.
    """
    body = tube(place, outer_mm, inner_mm)
    if place.detail == "bar":
        return (body,)
    room = grip_mm - outer_mm
    shapes: list[Shape] = [body]
    if dogs is not None:
        top, foot = place.at(dogs[0]), place.at(dogs[1])
        reach = grip_mm + 0.35 * room if dogs_out else outer_mm + 0.35 * room
        dog = ((outer_mm, top), (reach, top + 0.25 * (foot - top)), (reach, foot), (outer_mm, foot))
        shapes.append(both(place.axis_mm, [dog], DOG))
    held = grip_mm if made_up else outer_mm + 0.35 * room
    half = block(place.at(grip[0]), place.at(grip[1]), outer_mm - _HALF_LINE_MM, held)
    return (*shapes, both(place.axis_mm, [half], GRIP))


def pack_off(
    place: Place,
    mandrel_mm: float,
    mandrel_bore_mm: float,
    liner_bore_mm: float,
    seal: tuple[float, float] = (0.35, 0.65),
) -> tuple[Shape, ...]:
    """The inner string's smooth mandrel with the pack-off, hatched, between it and the liner's bore.

    The pack-off stands between two shares of the mandrel's height.
    """
    body = tube(place, mandrel_mm, mandrel_bore_mm)
    top, foot = place.at(seal[0]), place.at(seal[1])
    if place.detail == "bar":
        top, foot = place.top_mm, place.bottom_mm
    shapes: list[Shape] = [body]
    half = block(top, foot, mandrel_mm, liner_bore_mm)
    shapes.append(both(place.axis_mm, [half], Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE)))
    lines = tuple(
        line
        for side in (1.0, -1.0)
        for line in hatch(
            tuple((place.axis_mm + side * r, y) for r, y in half), _PACKING_MM, rising=side > 0.0
        )
    )
    if lines:
        shapes.append(Path(lines, Style(stroke=BLACK, width_mm=FINE_MM)))
    return tuple(shapes)


def ball(axis_mm: float, centre_mm: float, radius_mm: float) -> tuple[Shape, ...]:
    """A ball of its real radius."""
    return (Dots(((axis_mm, centre_mm),), radius_mm, GRIP),)


def dart(place: Place, bore_mm: float) -> tuple[Shape, ...]:
    """A dart: black stem with a point, four fins swept up to the wall of the pipe."""
    stem, sweep = 0.2 * bore_mm, min(0.22 * place.height_mm, 0.6 * bore_mm)
    point = min(0.2 * place.height_mm, 2.2 * stem)
    half = (
        (0.0, place.top_mm),
        (stem, place.top_mm),
        (stem, place.bottom_mm - point),
        (1.8 * stem, place.bottom_mm - point),
        (0.0, place.bottom_mm),
    )
    width = HEAVY_MM if place.height_mm > 12.0 else OUTLINE_MM
    first, last = place.top_mm + sweep + 0.5 * width, place.bottom_mm - point - width
    feet = [first + i * (last - first) / 3.0 for i in range(4)]
    fins = [((0.9 * stem, y), (bore_mm, y - sweep)) for y in feet]
    outline = (*half, *((-r, y) for r, y in reversed(half)))
    run = tuple((place.axis_mm + r, y) for r, y in outline)
    return (
        Path((run,), GRIP, closed=True),
        both(place.axis_mm, fins, Style(stroke=BLACK, width_mm=width), closed=False),
    )


def seal_stem(place: Place, outer_mm: float, inner_mm: float, seal_bore_mm: float) -> tuple[Shape, ...]:
    """A tie-back's seal stem: a tube with seal rings out to the polished bore, slanted at its foot."""
    bore = drawn_bore(outer_mm, inner_mm)
    nose = min(0.2 * place.height_mm, 2.0 * outer_mm)
    half = (
        (bore, place.top_mm),
        (outer_mm, place.top_mm),
        (outer_mm, place.bottom_mm - nose),
        (0.5 * (bore + outer_mm), place.bottom_mm),
        (bore, place.bottom_mm),
    )
    shapes: list[Shape] = [both(place.axis_mm, [half], Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE))]
    if place.detail != "bar":
        count = 3 if place.detail == "full" else 1
        rings = []
        for i in range(count):
            y = place.at(0.2 + 0.5 * i / max(count - 1, 1))
            height = min(0.09 * place.height_mm, 1.0)
            rings.append(block(y, y + height, outer_mm, seal_bore_mm))
        shapes.append(both(place.axis_mm, rings, GRIP))
    return tuple(shapes)
