"""The fluids at a step: cement as dots, spacer hatched, mud white; what is under pressure tinted."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing.column import JOB_DOT_MM, SLURRY_PITCH_MM, annulus_dots, bore_dots
from schematic.drawing.fills import hatch
from schematic.drawing.frame import Frame
from schematic.drawing.palette import BLACK, FINE_MM, GREEN, GREY, OUTLINE_MM, PRESSURE_GREY
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style
from schematic.drawing.section import block, both
from schematic.drawing.step_dropped import ball_place
from schematic.drawing.step_stands import Stands, bores, liner_bore, surrounds
from schematic.drawing.step_string import foot_level, seal_levels
from schematic.drawing.step_view import View
from schematic.engineering.columns import Layer
from schematic.job.card import Scene
from schematic.units import sentence_case

FILLED = ("slurry", "spacer", "wash")
_SPACER_MM = 1.1  # between its lines
_LEAST_MM = 0.25  # a thinner layer is not drawn
_WALL_MM = 0.12  # a wavy wall swings by this much
_PORT_SHARE, _PORT_MM = 0.1, 3.2  # from the foot of the hanger, of its height; length of an arrow

Ring = tuple[float, float, float, float]  # top, bottom [m]; inner, outer radius [mm]


def outside_rings(evaluation: Evaluation, its: Stands, frame: Frame, layer: Layer) -> list[Ring]:
    """What a layer outside fills, from the top down; the whole bore where nothing stands in it."""
    liner = evaluation.plan.depth.liner
    inner: list[tuple[float, float, float]] = [
        (part.top_md_m, part.bottom_md_m, frame.r(part.od_m if part.od_m is not None else liner.od_m))
        for part in its.liner
    ]
    top = its.top_md_m if its.liner else frame.scale.bottom_md_m
    above = [p for p in its.running if p.top_md_m < top - 1e-6]
    inner += [(p.top_md_m, min(p.bottom_md_m, top), frame.r(p.od_m or 0.0)) for p in above]
    reached = min(max((p.bottom_md_m for p in above), default=0.0), top)
    inner.append((reached, top, 0.0))
    if its.liner:
        inner.append((its.shoe_md_m, frame.scale.bottom_md_m, 0.0))
    made: list[Ring] = []
    for start, end, radius in inner:
        low, high = max(start, layer.top_md_m), min(end, layer.bottom_md_m)
        if high - low > 1e-6:
            made += [(a, b, radius, outer) for a, b, outer in surrounds(evaluation, frame, low, high)]
    return sorted(made)


def inside_rings(evaluation: Evaluation, its: Stands, frame: Frame, layer: Layer) -> list[Ring]:
    """What a layer inside fills, from the top down."""
    return [
        (max(top, layer.top_md_m), min(bottom, layer.bottom_md_m), 0.0, radius)
        for top, bottom, radius in bores(evaluation, its, frame)
        if min(bottom, layer.bottom_md_m) - max(top, layer.top_md_m) > 1e-6
    ]


def fluid_groups(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """The fluids that have a fill."""
    kinds = {fluid.name: fluid.kind for fluid in evaluation.plan.fluids}
    groups = []
    for side, layers, rings_of in (
        ("outside", scene.outside, outside_rings),
        ("inside", scene.inside, inside_rings),
    ):
        for index, layer in enumerate(layers):
            kind = kinds.get(layer.fluid, "mud")
            if kind in FILLED:
                rings = rings_of(evaluation, its, seen.frame, layer)
                fill = (
                    _dots(evaluation, layer.fluid, rings, seen) if kind == "slurry" else _lines(rings, seen)
                )
                first = index == 0 if side == "outside" else index == len(layers) - 1
                shapes = fill if first else (*fill, *_meeting(rings, seen, below=side == "inside"))
                groups.append(Group(f"fluids.{layer.fluid}", f"{sentence_case(layer.fluid)}, {side}", shapes))
    return [group for group in groups if group.shapes]


def _dots(evaluation: Evaluation, fluid: str, rings: list[Ring], seen: View) -> tuple[Shape, ...]:
    names = [slurry.fluid for slurry in evaluation.plan.cement.slurries]
    pitches = SLURRY_PITCH_MM.get(len(names), SLURRY_PITCH_MM[3])
    pitch = pitches[min(names.index(fluid), len(pitches) - 1)] if fluid in names else pitches[0]
    axis = seen.frame.axis_mm
    centres: list[Point] = []
    for top, bottom, inner, outer in rings:
        for y0, y1 in seen.shown(top, bottom):
            if inner > 0.0:
                centres += annulus_dots(axis, y0, y1, inner, outer, pitch, JOB_DOT_MM)
            else:
                centres += bore_dots(axis, y0, y1, outer - _WALL_MM, pitch)
    return (Dots(tuple(centres), JOB_DOT_MM, Style(fill=GREEN)),) if centres else ()


def _lines(rings: list[Ring], seen: View) -> tuple[Shape, ...]:
    x = seen.frame.axis_mm
    lines: list[tuple[Point, ...]] = []
    for top, bottom, inner, outer in rings:
        for y0, y1 in seen.shown(top, bottom):
            if y1 - y0 < _LEAST_MM or outer - inner < 2.0 * _LEAST_MM:
                continue
            for left, right in ((-outer, -inner), (inner, outer)) if inner > 0.0 else ((-outer, outer),):
                corners = ((x + left, y0), (x + right, y0), (x + right, y1), (x + left, y1))
                lines += hatch(corners, _SPACER_MM, rising=True)
    return (Path(tuple(lines), Style(stroke=GREY, width_mm=FINE_MM)),) if lines else ()


def _meeting(rings: list[Ring], seen: View, *, below: bool) -> tuple[Shape, ...]:
    """A line where the fluid that leads meets the next: below it inside, above it outside."""
    if not rings:
        return ()
    top, bottom, inner, outer = rings[-1] if below else rings[0]
    md = bottom if below else top
    y = seen.frame.y(md)
    ends = seen.frame.scale.levels_mm[0], seen.frame.scale.levels_mm[-1]
    if not seen.shown(md - 0.5, md + 0.5) or y in ends:
        return ()
    x = seen.frame.axis_mm
    style = Style(stroke=BLACK, width_mm=FINE_MM)
    if inner > 0.0:
        return (both(x, [((inner, y), (outer, y))], style, closed=False),)
    return (Path((((x - outer, y), (x + outer, y)),), style),)


def pressure_groups(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """What is under pressure, tinted: down the string, the liner below the pack-off; in a test all above."""
    if scene.pressure_from_md_m is None or scene.pressure_to_md_m is None:
        return []
    frame, x = seen.frame, seen.frame.axis_mm
    start, end = scene.pressure_from_md_m, scene.pressure_to_md_m
    if scene.annulus_to_md_m is not None:
        return [Group("", "under pressure", _from_above(evaluation, scene, its, seen))]
    ball = ball_place(evaluation, scene, its, seen)
    shapes: list[Shape] = []
    style = Style(fill=PRESSURE_GREY)
    for top, bottom, r in bores(evaluation, its, frame):
        for y0, y1 in seen.shown(max(top, start), min(bottom, end)):
            if ball is not None and scene.ball_md_m == end and abs(bottom - end) < 1e-6:
                y1 = max(y1, ball.centre_mm)  # the collar's steel is painted over what is beside the ball
            shapes.append(Path((((x - r, y0), (x + r, y0), (x + r, y1), (x - r, y1)),), style, closed=True))
    seal, foot = seal_levels(scene, its, seen), its.foot_md_m
    hanging = [p for p in its.running if p.bottom_md_m == foot and p.od_m is not None]
    if seal is not None and foot is not None and hanging and foot < end:
        y1 = foot_level(scene, its, seen)
        if y1 > seal[1]:
            bore = liner_bore(evaluation, its, frame, foot)
            half = block(seal[1], y1, frame.r(hanging[0].od_m or 0.0), bore)
            shapes.append(both(x, [half], style))
    return [Group("", "under pressure", tuple(shapes))] if shapes else []


def _from_above(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> tuple[Shape, ...]:
    """The tint of a test from above: the casing down to the packer, the liner's bore down to the plug."""
    frame, x = seen.frame, seen.frame.axis_mm
    low, end = scene.annulus_to_md_m or 0.0, scene.pressure_to_md_m or 0.0
    body = evaluation.plan.depth.liner.id_m
    rings = surrounds(evaluation, frame, 0.0, low)
    rings += [
        (max(part.top_md_m, low), min(part.bottom_md_m, end), frame.r(min(part.id_m or body, body)))
        for part in its.liner
        if part.top_md_m < end and part.bottom_md_m > low
    ]
    return tuple(
        Path((((x - r, y0), (x + r, y0), (x + r, y1), (x - r, y1)),), Style(fill=PRESSURE_GREY), closed=True)
        for top, bottom, r in rings
        for y0, y1 in seen.shown(top, bottom)
    )


def pressed_hanger(scene: Scene, its: Stands) -> LinerPart | None:
    """The hydraulic hanger whose piston is under pressure, from the bore or by the tool; else None."""
    if scene.pressure_from_md_m is None or scene.pressure_to_md_m is None:
        return None
    for part in its.liner:
        inside = scene.pressure_from_md_m <= part.top_md_m and part.bottom_md_m <= scene.pressure_to_md_m
        if part.hanger_type == "hydraulic" and (inside or scene.by_tool):
            return part
    return None


def piston_level(scene: Scene, its: Stands, seen: View) -> float | None:
    """The level of the piston and ports of a hanger under pressure, whose depth no file gives; else None."""
    part = pressed_hanger(scene, its)
    if part is None:
        return None
    y0, y1 = seen.frame.y(part.top_md_m), seen.frame.y(part.bottom_md_m)
    return y1 - _PORT_SHARE * (y1 - y0)


def port_group(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """Arrows from the bore into the hanger; none where the pressure comes by the tool's own ports."""
    level = piston_level(scene, its, seen)
    if level is None or scene.by_tool:
        return []
    x, bore = seen.frame.axis_mm, liner_bore(evaluation, its, seen.frame, seen.frame.scale.md_m(level))
    if bore < 2.0 * _PORT_MM:
        return []
    tail, neck, tip = bore - _PORT_MM, bore - 1.3, bore + 0.2
    heads = [((neck, level - 0.7), (tip, level), (neck, level + 0.7))]
    return [
        Group(
            "",
            "Ports, pressure in",
            (
                both(
                    x,
                    [((tail, level), (neck, level))],
                    Style(stroke=BLACK, width_mm=OUTLINE_MM),
                    closed=False,
                ),
                both(x, heads, Style(fill=BLACK)),
            ),
        )
    ]
