"""The main column: hole and rock, strings, cement, the liner part by part, after the job.

Hanger and packer are drawn set, the wiper plug landed, cement that the job reverses out as open rings.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.nest import HOLE
from schematic.depth.plan import CasingString, Depths, Hole, LinerPart
from schematic.drawing import glyphs_liner, glyphs_special, glyphs_top, glyphs_well
from schematic.drawing.captions import SMALL_PT
from schematic.drawing.fills import Line, Rect, dots, zigzag
from schematic.drawing.frame import Frame
from schematic.drawing.palette import (
    BLACK,
    CENTRE_DASH_MM,
    FINE_MM,
    GREEN,
    GREY,
    OUTLINE_MM,
    PLANNED_DASH_MM,
)
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.section import LINER_STEEL, Place, block, both
from schematic.drawing.text import width_mm
from schematic.engineering.volumes import ABOVE
from schematic.job.facts import top_left_md_m
from schematic.outcome import MissingInput
from schematic.units import System, sentence_case, show

OLD_CEMENT = (1.25, 0.15)  # pitch and radius of the dots
SLURRY_PITCH_MM = {
    1: (0.66,),
    2: (0.95, 0.60),
    3: (0.98, 0.75, 0.58),
}  # each, and old cement, 1.25 times another
JOB_DOT_MM = 0.155
RING_MM = 0.30
REVERSED_PITCH_MM = 1.0
HIGHEST_PITCH_MM = 1.7
SCALE_CHANGES = "scale changes"  # title of the group of the marks where they are
_LEAST_ANNULUS_MM = 0.45
_LEAST_RINGS_MM = 1.3  # of height for one row of rings
_PLUG_MM = 3.4
_STEP_M = 1e-3
_THIN_MM = 0.4  # on paper; thinner steps of the hole are drawn as one
_WORDS_MM = 3.6  # from the first line of the mud's name to beyond its last
_SEEN = re.compile(r"\b(logs?|logged|returns?|tag(ged)?)\b")
_DOUBTED = re.compile(r"\b(no|not|none|never|without|est\w*|assum\w*|presum\w*|calc\w*|planned|expected)\b")


class Column(NamedTuple):
    """The groups of the column, in painting order."""

    groups: tuple[Group, ...]


def hole_steps(evaluation: Evaluation, frame: Frame) -> tuple[glyphs_well.HoleStep, ...]:
    """The wall of rock from ground or seabed down: driven pipe stands in rock without a hole."""
    plan = evaluation.plan
    hole = plan.depth.hole
    ground = plan.identity.datum.ground_md_m or 0.0
    steps: list[glyphs_well.HoleStep] = []
    driven = [string for string in plan.depth.strings if string.driven]
    start = hole.diameter_m.top_m
    for string in driven:
        if ground < string.shoe_md_m <= start + 1.0:
            steps.append(glyphs_well.HoleStep(frame.y(ground), frame.y(start), frame.r(string.od_m), False))
    for top, bottom, diameter, gauge in _on_paper(hole, frame):
        wavy = abs(diameter - gauge) > 1e-6
        if frame.y(bottom) > frame.y(top):
            steps.append(glyphs_well.HoleStep(frame.y(top), frame.y(bottom), frame.r(diameter), wavy))
    return tuple(steps)


def _on_paper(hole: Hole, frame: Frame) -> list[tuple[float, float, float, float]]:
    """Top, bottom, diameter and bit size of the hole; readings of a log too thin to draw stand together."""
    made: list[tuple[float, float, float, float]] = []
    thin: list[tuple[float, float, float, float]] = []

    def together() -> None:
        if thin:
            top, bottom, gauge = thin[0][0], thin[-1][1], thin[0][3]
            squares = sum((below - above) * size * size for above, below, size, _gauge in thin)
            made.append(
                (top, bottom, thin[0][2] if len(thin) == 1 else (squares / (bottom - top)) ** 0.5, gauge)
            )
            thin.clear()

    for (top, bottom, diameter), gauge in zip(hole.diameter_m.steps(), hole.gauge_m.values, strict=True):
        if frame.y(bottom) - frame.y(top) >= _THIN_MM:
            together()
            made.append((top, bottom, diameter, gauge))
            continue
        if thin and (thin[0][3] != gauge or frame.y(thin[-1][1]) - frame.y(thin[0][0]) >= _THIN_MM):
            together()
        thin.append((top, bottom, diameter, gauge))
    together()
    return made


def outer_radii(
    evaluation: Evaluation, frame: Frame, name: str, top: float, bottom: float
) -> list[tuple[float, float, float]]:
    """What faces a tube from outside, as levels and radius on paper."""
    depth = evaluation.plan.depth
    found: list[tuple[float, float, float]] = []
    for around, above, below in evaluation.nest.surrounds(name, top, bottom):
        if around != HOLE:
            bore = depth.liner.id_m if around == depth.liner.name else depth.string(around).id_m
            found.append((frame.y(above), frame.y(below), frame.r(bore)))
            continue
        found += [
            (frame.y(a), frame.y(b), frame.r(d))
            for a, b, d in depth.hole.diameter_m.clip(above, below).steps()
        ]
    return found


def annulus_dots(
    axis: float,
    top: float,
    bottom: float,
    inner: float,
    outer: float,
    pitch: float,
    radius: float,
    keep_out: tuple[Rect, ...] = (),
) -> tuple[Point, ...]:
    """Dots in a ring between two levels, on both sides; none where it is too thin for one."""
    if bottom - top < 2 * radius + 0.1 or outer - inner < _LEAST_ANNULUS_MM:
        return ()
    # a wavy wall swings by 0.12 mm: dots keep off it
    left = Rect(axis - outer + 0.12, top, axis - inner, bottom)
    right = Rect(axis + inner, top, axis + outer - 0.12, bottom)
    return (
        *dots(left, pitch, radius, clear_mm=0.06, keep_out=keep_out),
        *dots(right, pitch, radius, clear_mm=0.06, keep_out=keep_out),
    )


def string_groups(evaluation: Evaluation, frame: Frame, string: CasingString) -> list[Group]:
    """A string in place, with its shoe and the cement behind it."""
    outer, inner = frame.r(string.od_m), frame.r(string.id_m)
    top, foot = frame.y(string.top_md_m), frame.y(string.shoe_md_m)
    axis = frame.axis_mm
    shapes: list[Shape] = []
    if string.cement_top_md_m is not None and string.cement_top_md_m < string.shoe_md_m:
        centres: list[Point] = []
        edge = outer
        for above, below, radius in outer_radii(
            evaluation, frame, string.name, string.cement_top_md_m, string.shoe_md_m
        ):
            centres += annulus_dots(axis, above, below, outer, radius, *OLD_CEMENT)
            edge = radius if edge == outer else edge
        shapes.append(Dots(tuple(centres), OLD_CEMENT[1], Style(fill=BLACK)))
        if edge > outer:
            shapes += glyphs_well.cement_top(
                axis, frame.y(string.cement_top_md_m), outer, edge, known=known_well(string.cement_known_by)
            )
    shapes += glyphs_well.casing(Place(axis, top, foot), outer, inner)
    room = (
        min(
            (
                r
                for _a, b, r in outer_radii(evaluation, frame, string.name, string.top_md_m, string.shoe_md_m)
                if b >= foot - 1e-6
            ),
            default=outer + 2.0,
        )
        - outer
    )
    shapes += glyphs_well.casing_shoe(axis, foot, outer, max(room, 0.5), max(foot - top, 0.5))
    groups = [Group(string.path, f"{sentence_case(string.name)}, {string.label}", tuple(shapes))]
    for one in string.features or ():
        place = Place(axis, frame.y(one.top_md_m), frame.y(one.bottom_md_m))
        words = f"{sentence_case(one.what)} of {string.name}"
        groups.append(Group(string.path, words, glyphs_well.feature(place, outer, inner)))
    return groups


def known_well(known_by: str) -> bool:
    """Whether a top of cement is known, not estimated: somebody saw or logged it and no word doubts it."""
    words = known_by.lower()
    return bool(_SEEN.search(words)) and not _DOUBTED.search(words)


def basis_of(known_by: str) -> str:
    """By what a top of cement is known, as it is printed: one that nobody saw or logged is estimated."""
    basis = known_by or "basis not stated"
    doubted = not known_well(basis) and not re.search(r"\best", basis.lower())
    return f"{basis}, estimated" if doubted else basis


def _coupling_levels(part: LinerPart, frame: Frame) -> tuple[float, ...]:
    """Couplings of a run of joints at equal joints' ends; the tally may place them otherwise."""
    count = max(part.joints, 1)
    if count > 400:
        return ()
    return tuple(frame.y(part.top_md_m + part.length_m * index / count) for index in range(count))


def part_shapes(
    part: LinerPart,
    evaluation: Evaluation,
    frame: Frame,
    host_mm: float,
    *,
    hanger_set: bool = True,
    hanger_pressed: bool = False,
    packer_set: bool = True,
    external_set: bool = True,
) -> tuple[Shape, ...]:
    """A part of the liner at its place; *host_mm* is the radius of the bore around it."""
    liner = evaluation.plan.depth.liner
    place = Place(frame.axis_mm, frame.y(part.top_md_m), frame.y(part.bottom_md_m))
    if place.height_mm <= 0.0:
        return ()
    body, bore = frame.r(liner.od_m), frame.r(liner.id_m)
    outer = frame.r(part.od_m) if part.od_m is not None else body
    inner = frame.r(part.id_m) if part.id_m is not None else bore
    if part.kind in ("joint", "pup joint"):
        coupling = frame.r(part.coupling_od_m) if part.coupling_od_m else outer + 0.25
        if part.kind == "pup joint":
            return glyphs_liner.pup_joint(place, outer, inner, coupling)
        levels = _coupling_levels(part, frame) if place.detail != "bar" else ()
        return glyphs_liner.joints(place, outer, inner, coupling, levels)
    narrow = min(inner, 0.4 * bore) if part.id_m is None else min(inner, 0.6 * outer)
    if part.kind in ("float shoe", "reamer shoe", "guide shoe"):
        valves = 0 if part.kind == "guide shoe" else max(part.valves, 1)
        return glyphs_liner.float_shoe(place, outer, narrow, valves, reamer=part.kind == "reamer shoe")
    if part.kind == "float collar":
        return glyphs_liner.float_collar(place, outer, narrow, max(part.valves, 1))
    if part.kind == "landing collar":
        seat = frame.r(part.seat_m) if part.seat_m else narrow
        return glyphs_liner.landing_collar(
            place, outer, bore, min(seat, 0.8 * bore), ball_seat=part.seat_m is not None
        )
    if part.hanger_type == "expandable":
        return glyphs_special.expandable_hanger(place, outer, inner, host_mm, is_set=hanger_set)
    if part.kind == "liner hanger":
        slips = tuple(frame.y(md) for md in part.slips_md_m) if part.slips_md_m else None
        mechanical = part.hanger_type == "mechanical"
        shapes = glyphs_top.hanger(
            place,
            outer,
            body,
            inner,
            host_mm,
            is_set=hanger_set,
            slips_mm=(slips[0], slips[1]) if slips else None,
            drag=mechanical,
            pressed=hanger_pressed,
        )
        drag = glyphs_special.mechanical_hanger_drag(place, body, host_mm) if mechanical else ()
        return (*shapes, *drag)
    if part.kind == "liner top packer":
        return glyphs_top.packer(
            place, outer, body, inner, host_mm, is_set=packer_set, hold_down=part.hold_down
        )
    if part.kind == "tie-back receptacle":
        return glyphs_top.receptacle(place, outer, inner, min(bore, inner))
    if part.kind == "crossover":
        return glyphs_special.crossover(place, outer, inner, body, bore)
    if part.kind == "swivel":
        return glyphs_special.swivel(place, outer, inner)
    if part.kind == "setting sleeve":
        return glyphs_special.setting_sleeve(place, outer, inner)
    if part.kind == "debris barrier":
        return glyphs_special.debris_barrier(place, outer, inner)
    if part.kind == "stage collar":
        return glyphs_special.stage_collar(place, outer, inner, is_open=False)
    if part.kind == "external packer":
        middle = 0.5 * (part.top_md_m + part.bottom_md_m)
        around = outer_radii(evaluation, frame, liner.name, middle, middle + 0.01)
        wall = around[0][2] if around else outer
        return glyphs_special.external_packer(
            place, outer, min(body, outer), inner, wall, is_set=external_set
        )
    half = block(place.top_mm, place.bottom_mm + 0.05, min(inner, outer - OUTLINE_MM), outer)
    return (both(place.axis_mm, [half], LINER_STEEL),)


def _job_cement(evaluation: Evaluation, frame: Frame) -> list[Group]:
    """Cement of this job: in place as dots, what is reversed out as rings."""
    plan, cement = evaluation.plan, evaluation.cement
    liner = plan.depth.liner
    if cement is None:
        return []
    names = [slurry.fluid for slurry in plan.cement.slurries]
    pitches = SLURRY_PITCH_MM.get(len(names), SLURRY_PITCH_MM[3])
    pitch = dict(zip(names, (*pitches, *(pitches[-1],) * len(names)), strict=False))
    axis = frame.axis_mm
    centres: list[Point] = []
    for section in cement.sections:
        step = pitch[section.slurry]
        if section.name in ("lap", "open hole"):
            for part in liner.parts:
                top, bottom = max(part.top_md_m, section.top_md_m), min(part.bottom_md_m, section.bottom_md_m)
                if top >= bottom:
                    continue
                inner = frame.r(part.od_m if part.od_m is not None else liner.od_m)
                out = _coupling_rects(part, frame)
                for above, below, radius in outer_radii(evaluation, frame, liner.name, top, bottom):
                    centres += annulus_dots(axis, above, below, inner, radius, step, JOB_DOT_MM, out)
        elif section.name == "shoe track":
            collar = liner.find("landing collar") or liner.find("float collar")
            for part in liner.parts:
                if (
                    collar
                    and part.kind in ("joint", "pup joint")
                    and part.top_md_m >= collar.bottom_md_m - 1e-6
                ):
                    bore = frame.r(part.id_m or liner.id_m)
                    centres += bore_dots(axis, frame.y(part.top_md_m), frame.y(part.bottom_md_m), bore, step)
        elif section.name == "rathole":
            for a, b, d in plan.depth.hole.diameter_m.clip(section.top_md_m, section.bottom_md_m).steps():
                centres += bore_dots(axis, frame.y(a) + 0.2, frame.y(b), frame.r(d) - 0.12, step)
    groups = [Group("cement", "Cement of this job", (Dots(tuple(centres), JOB_DOT_MM, Style(fill=GREEN)),))]
    planned = plan.cement.planned_top_md_m
    if planned is not None and planned < liner.top_md_m:
        ring = Style(stroke=GREEN, width_mm=FINE_MM)
        bore = frame.r(plan.depth.host.id_m)
        shapes: list[Shape] = []
        known = left_md_m(evaluation)
        left = max(planned, liner.top_md_m if known is None else known)
        step = next(pitch[s.slurry] for s in reversed(cement.sections) if s.name == ABOVE)
        stays = bore_dots(axis, frame.y(left) + 0.2, frame.y(liner.top_md_m) - 0.2, bore, step)
        if stays:
            it = (Dots(stays, JOB_DOT_MM, Style(fill=GREEN)),)
            groups.append(Group("cement", "Cement left above the liner top", it))
        tops = [(planned, left, REVERSED_PITCH_MM)]
        if cement.top_string_in_md_m is not None and cement.top_string_in_md_m < planned:
            tops.append((cement.top_string_in_md_m, planned, HIGHEST_PITCH_MM))
        for top, bottom, step in tops:
            rect = Rect(axis - bore, frame.y(top) + 0.3, axis + bore, frame.y(bottom) - 0.2)
            if frame.y(bottom) - frame.y(top) > _LEAST_RINGS_MM:
                rings = dots(rect, step, RING_MM, clear_mm=0.08)
                level = 0.5 * (frame.y(top) + frame.y(bottom))
                shapes.append(Dots(rings or _one_row(axis, level, bore, step), RING_MM, ring))
            dash = Style(stroke=GREEN, width_mm=OUTLINE_MM, dash=PLANNED_DASH_MM)
            shapes.append(Path((((axis - bore, frame.y(top)), (axis + bore, frame.y(top))),), dash))
        groups.append(
            Group("cement.planned top", "Cement above the liner top, to be reversed out", tuple(shapes))
        )
    elif planned is not None and planned > liner.top_md_m:
        radii = outer_radii(evaluation, frame, liner.name, planned, planned + 0.01)
        if radii:
            shapes = list(
                glyphs_well.cement_top(
                    axis, frame.y(planned), frame.r(liner.od_m), radii[0][2], known=False, colour=GREEN
                )
            )
            groups.append(Group("cement.planned top", "Top of cement, planned", tuple(shapes)))
    return groups


def _one_row(axis: float, level: float, radius: float, pitch: float) -> tuple[Point, ...]:
    """Rings side by side in a bore, where a band of them has no more height."""
    count = int((2.0 * radius - 2.0 * RING_MM - 0.2) / pitch)
    return tuple((axis + (n - 0.5 * count) * pitch, level) for n in range(count + 1))


def left_md_m(evaluation: Evaluation) -> float | None:
    """Top of the cement that reversing out leaves; None where nothing is reversed or it is not known."""
    try:
        return top_left_md_m(evaluation.job)
    except MissingInput:
        return None


def bore_dots(axis: float, top: float, bottom: float, radius: float, pitch: float) -> tuple[Point, ...]:
    """Dots of cement in a bore between two levels; none where there is no room for one."""
    if bottom - top < 2 * JOB_DOT_MM + 0.1:
        return ()
    return dots(Rect(axis - radius, top, axis + radius, bottom), pitch, JOB_DOT_MM, clear_mm=0.08)


def _coupling_rects(part: LinerPart, frame: Frame) -> tuple[Rect, ...]:
    if (
        part.kind != "joint"
        or part.coupling_od_m is None
        or frame.y(part.bottom_md_m) - frame.y(part.top_md_m) < 1.2
    ):
        return ()
    outer, half = frame.r(part.coupling_od_m), 0.5 * glyphs_liner.COUPLING_MM + 0.05
    levels = glyphs_liner.thinned(_coupling_levels(part, frame))
    return tuple(Rect(frame.axis_mm - outer, y - half, frame.axis_mm + outer, y + half) for y in levels)


def column(evaluation: Evaluation, frame: Frame, system: System) -> Column:
    """The main column of a well."""
    plan = evaluation.plan
    depth = plan.depth
    axis = frame.axis_mm
    steps = hole_steps(evaluation, frame)
    groups: list[Group] = []
    if steps:
        shapes = glyphs_well.hole(axis, steps, to_bottom=True)
        groups.append(Group("hole", "Hole and formation", shapes))
    for string in sorted(depth.strings, key=lambda one: -one.od_m):
        groups += string_groups(evaluation, frame, string)
    groups += _job_cement(evaluation, frame)
    bottom = frame.y(max(depth.td_md_m, depth.liner.shoe_md_m))
    centre = Style(stroke=GREY, width_mm=FINE_MM, dash=CENTRE_DASH_MM)
    groups.append(Group("", "axis", (Path((((axis, frame.y(0.0) - 1.5), (axis, bottom + 3.6)),), centre),)))
    host_bore = frame.r(depth.host.id_m)
    for part in depth.liner.parts:
        title = f"{sentence_case(part.name)}, {show(part.length_m, 'tally', system)}"
        groups.append(Group(part.path, title, part_shapes(part, evaluation, frame, host_bore)))
    plug = landed_plug(depth, frame)
    if plug is not None:
        shapes = glyphs_liner.wiper_plug(plug, frame.r(depth.liner.id_m))
        groups.append(Group("running string", "Wiper plug, landed", shapes))
    mud = plan.fluid("mud")
    level = _mud_level(evaluation, frame)
    lines = ("mud", show(mud.density_kg_per_m3, "density", system)) if mud is not None else ()
    if mud is not None and level is not None and _fits_bore(evaluation, frame, lines, level):
        texts = tuple(
            Text(axis, level + 2.9 * row, line, anchor="middle", backed=True)
            for row, line in enumerate(lines)
        )
        groups.append(Group(f"fluids.{mud.name}", "Mud", texts))
    groups.append(Group("", SCALE_CHANGES, _breaks(evaluation, frame)))
    return Column(tuple(groups))


def landed_plug(depth: Depths, frame: Frame) -> Place | None:
    """Where the wiper plug stands on its collar, if the job has one and it is tall enough to be seen."""
    collar = depth.liner.find("landing collar")
    if collar is None or depth.running is None or depth.running.plug_md_m is None:
        return None
    foot = frame.y(collar.top_md_m)
    height = min(_PLUG_MM, foot - frame.y(depth.liner.top_md_m))
    return Place(frame.axis_mm, foot - height, foot) if height > 1.2 else None


def _mud_level(evaluation: Evaluation, frame: Frame) -> float | None:
    """Where the mud's name stands in the bore: in clear mud, above all cement of the job."""
    plan, cement = evaluation.plan, evaluation.cement
    tops = [plan.depth.liner.top_md_m, plan.depth.liner.parts[0].top_md_m]
    if plan.cement.planned_top_md_m is not None:
        tops.append(plan.cement.planned_top_md_m)
    if cement and cement.top_string_in_md_m is not None:
        tops.append(cement.top_string_in_md_m)
    tops += [string.top_md_m for string in plan.depth.strings if string.top_md_m > 1.0]
    free_from, free_to = frame.y(0.0), frame.y(max(min(tops), 0.0))
    return 0.4 * free_from + 0.6 * free_to - 3.0 if free_to - free_from > 12.0 else None


def _fits_bore(evaluation: Evaluation, frame: Frame, lines: tuple[str, ...], level_mm: float) -> bool:
    """Whether words stand in the bore at a level and the next line without touching steel."""
    depth = evaluation.plan.depth
    around = [frame.scale.md_m(level_mm + step) for step in (-_WORDS_MM, 0.0, _WORDS_MM)]
    bores = [s.id_m for s in depth.strings for md in around if s.top_md_m <= md <= s.shoe_md_m]
    bores += [
        depth.hole.diameter_m.at(md) for md in around if md >= depth.hole.diameter_m.top_m and not bores
    ]
    width = max(width_mm(line, SMALL_PT) for line in lines)
    return bool(bores) and 0.5 * width + 0.7 <= frame.r(min(bores))


def _breaks(evaluation: Evaluation, frame: Frame) -> tuple[Shape, ...]:
    """Small zig-zags in the hatch where the depth scale changes."""
    if frame.kind == "true":
        return ()
    runs: list[Line] = []
    for md in frame.scale.breaks:
        y, half = frame.y(md), half_width(evaluation, frame, md)
        for side in (-1, 1):
            x = frame.axis_mm + side * (half + 1.3)
            runs.append(zigzag(x - 1.5, x + 1.5, y, (x,)))
    return (Path(tuple(runs), Style(stroke=BLACK, width_mm=FINE_MM)),)


def half_width(evaluation: Evaluation, frame: Frame, md_m: float) -> float:
    """Radius of the outermost thing at a depth, on paper, without hatch; at a step the wider side counts."""
    depth = evaluation.plan.depth
    hole = depth.hole.diameter_m
    radii = [frame.r(s.od_m) for s in depth.strings if s.top_md_m <= md_m <= s.shoe_md_m]
    radii += [
        frame.r(hole.at(md)) for md in (md_m - _STEP_M, md_m + _STEP_M) if hole.top_m <= md <= hole.bottom_m
    ]
    return max(radii, default=frame.r(depth.liner.od_m))


def widest(evaluation: Evaluation, frame: Frame) -> float:
    """Radius on paper that `half_width` is nowhere above."""
    depth = evaluation.plan.depth
    sizes = (*(s.od_m for s in depth.strings), *depth.hole.diameter_m.values, depth.liner.od_m)
    return frame.r(max(sizes))
