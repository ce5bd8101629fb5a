"""The well at a step: pipe, tool, ball, dart, plug and fluids where they are, by their names.

What stays in the well is blue, what comes out again grey; what is under pressure is tinted. Between the
stretches that are drawn a white gap says how much is missing. Depth is not to scale, diameters are.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CasingString, LinerPart
from schematic.drawing import glyphs_liner, glyphs_well
from schematic.drawing.clip import clipped
from schematic.drawing.column import hole_steps, part_shapes, string_groups
from schematic.drawing.detail import HATCH_MM, host_coupling
from schematic.drawing.fills import Rect, zigzag
from schematic.drawing.palette import BLACK, FINE_MM, OUTLINE_MM
from schematic.drawing.scene import Dots, Group, Path, Shape, Style, Text
from schematic.drawing.section import Place
from schematic.drawing.step_dropped import dropped_groups
from schematic.drawing.step_fluids import fluid_groups, port_group, pressed_hanger, pressure_groups
from schematic.drawing.step_names import names_beside
from schematic.drawing.step_stands import Stands, stands, surrounds
from schematic.drawing.step_string import flow_group, running_groups
from schematic.drawing.step_view import CUT_MM, View, in_whole, outside_mm, view
from schematic.job.card import Scene
from schematic.units import System, sentence_case, show, unit_of

_KNEE_MM = 1.6  # from the hatch to the knee of the leaders
_CUT_PT = 7.0
_CUT_WORDS_MM = 4.0  # from the left end of the cut: leaders come in from the right
_SLACK_MM = 0.02
_TOP_M = 1.0  # fluids from here up begin at the rotary table


class Drawn(NamedTuple):
    """The well at a step as groups, N of the scale 1:N of its diameters, and what a caption must say."""

    groups: list[Group]
    ratio: int
    pressure: bool  # something is tinted
    flow: str  # which way the arrows go, in words
    left_out: tuple[str, ...]  # what is not drawn, and why
    earlier: bool  # cement of the strings in place is seen


def well_at_step(
    evaluation: Evaluation, scene: Scene, box: Rect, system: System, before: Scene | None = None
) -> Drawn:
    """The well at a step within a rectangle, from about 70 x 100 mm up, names to its right.

    What changed since the scene *before* is named in bold, as is what holds pressure.
    """
    its = stands(evaluation, scene)
    seen = view(evaluation, scene, its, box, system)
    strings, left_out = _strings_drawn(evaluation, seen)
    tint = pressure_groups(evaluation, scene, its, seen)
    flow = flow_group(evaluation, scene, its, seen)
    groups = [
        *tint,
        *_ground(evaluation, seen, strings),
        *fluid_groups(evaluation, scene, its, seen),
        *_liner(evaluation, scene, its, seen, system),
        *running_groups(evaluation, scene, its, seen),
        *dropped_groups(evaluation, scene, its, seen),
        *port_group(evaluation, scene, its, seen),
        *flow,
    ]
    drawn = [one for w in seen.windows for one in clipped(tuple(groups), w.top_mm, w.bottom_mm)]
    half = _half_mm(evaluation, seen, strings)
    drawn.append(_cuts(evaluation, seen, half, box, system))
    edge = seen.frame.axis_mm + half + _KNEE_MM
    column = Rect(edge, box.top_mm, box.right_mm, box.bottom_mm)
    drawn += names_beside(evaluation, scene, before, its, seen, column, system)
    if scene.by_tool:
        left_out = (
            *left_out,
            "the way of the pressure from tool to hanger (ports not given)",
        )
    if evaluation.plan.depth.running is None and not scene.string_out:
        left_out = (*left_out, "running string (not given)")
    if scene.outside and (not scene.inside or scene.inside[0].top_md_m > _TOP_M):
        left_out = (*left_out, "fluid above the plug" if scene.plug_latched else "fluid inside")
    around = {string.path for string in strings}
    earlier = any(
        group.part in around and any(isinstance(shape, Dots) for shape in group.shapes) for group in drawn
    )
    return Drawn(drawn, seen.frame.ratio, bool(tint), flow[0].title if flow else "", left_out, earlier)


def _strings_drawn(evaluation: Evaluation, seen: View) -> tuple[list[CasingString], tuple[str, ...]]:
    """The strings that are seen and have room with all that stands around them, and names of the others."""
    depth = evaluation.plan.depth
    drawn, left_out = [], []
    for string in sorted(depth.strings, key=lambda one: -one.od_m):
        if not seen.shown(string.top_md_m, string.shoe_md_m):
            continue
        wide = max(seen.frame.r(string.od_m), outside_mm(evaluation, seen, string.name))
        if string is depth.host or wide <= seen.reach_mm + _SLACK_MM:
            drawn.append(string)
        else:
            left_out.append(string.name)
    return drawn, tuple(left_out)


def _ground(evaluation: Evaluation, seen: View, strings: Sequence[CasingString]) -> list[Group]:
    """Hole and strings in place, with their couplings near the hanger."""
    frame, reach = seen.frame, seen.reach_mm + _SLACK_MM
    steps = hole_steps(evaluation, frame)
    first = max((n + 1 for n, step in enumerate(steps) if step.radius_mm > reach), default=0)
    groups = []
    if steps[first:]:
        shapes = glyphs_well.hole(frame.axis_mm, steps[first:], to_bottom=True)
        groups.append(Group("hole", "Hole and formation", shapes))
    for string in strings:
        groups += [_within(group, frame.axis_mm, reach) for group in string_groups(evaluation, frame, string)]
        couplings: list[Shape] = []
        for md in string.couplings_md_m:
            if seen.shown(md - 0.2, md + 0.2):
                couplings += host_coupling(string.od_m, string.id_m, string.coupling_od_m, frame, md)
        if couplings:
            groups.append(Group(string.path, f"Couplings of {string.name}", tuple(couplings)))
    return groups


def _within(group: Group, axis: float, reach: float) -> Group:
    """A string without what lies outside it where that has no room."""
    kept: list[Shape] = []
    for shape in group.shapes:
        if isinstance(shape, Dots):
            centres = tuple(p for p in shape.centres if abs(p[0] - axis) <= reach)
            kept += [shape._replace(centres=centres)] if centres else []
        elif isinstance(shape, Path):
            runs = tuple(run for run in shape.runs if all(abs(x - axis) <= reach for x, _y in run))
            kept += [shape._replace(runs=runs)] if runs else []
    return Group(group.part, group.title, tuple(kept))


def _half_mm(evaluation: Evaluation, seen: View, strings: Sequence[CasingString]) -> float:
    """From the axis to the edge of the hatch, the same from top to bottom."""
    frame = seen.frame
    radii = [frame.r(max(string.od_m, string.coupling_od_m or 0.0)) for string in strings]
    steps = [step.radius_mm for step in hole_steps(evaluation, frame)]
    return max([*radii, *(r for r in steps if r <= seen.reach_mm + _SLACK_MM)], default=5.0) + HATCH_MM


def _liner(evaluation: Evaluation, scene: Scene, its: Stands, seen: View, system: System) -> list[Group]:
    """The liner part by part; of a run of joints what is seen, couplings where they are."""
    frame, depth = seen.frame, evaluation.plan.depth
    groups = []
    for part in its.liner:
        title = f"{sentence_case(part.name)}, {show(part.length_m, 'tally', system)}"
        if part.kind == "joint":
            groups.append(Group(part.path, title, _joints(evaluation, part, seen)))
            continue
        middle = 0.5 * (part.top_md_m + part.bottom_md_m)
        around = surrounds(evaluation, frame, middle, middle + 0.01)
        host = around[0][2] if around else frame.r(depth.host.id_m)
        shapes = part_shapes(
            part,
            evaluation,
            frame,
            host,
            hanger_set=scene.slips_set,
            hanger_pressed=part is pressed_hanger(scene, its),
            packer_set=scene.packer_set,
            external_set=False,  # no scene says when it sets
        )
        groups.append(Group(part.path, title, shapes))
    return [group for group in groups if group.shapes]


def _joints(evaluation: Evaluation, part: LinerPart, seen: View) -> tuple[Shape, ...]:
    liner, frame = evaluation.plan.depth.liner, seen.frame
    outer = frame.r(part.od_m if part.od_m is not None else liner.od_m)
    inner = frame.r(part.id_m if part.id_m is not None else liner.id_m)
    coupling = frame.r(part.coupling_od_m) if part.coupling_od_m else outer + 0.25
    count = max(part.joints, 1)
    each = part.length_m / count
    shapes: list[Shape] = []
    for y0, y1 in seen.shown(part.top_md_m, part.bottom_md_m):
        ends = (part.top_md_m + each * n for n in range(count))
        levels = [frame.y(md) for md in ends if y0 <= frame.y(md) <= y1]
        place = Place(frame.axis_mm, y0, y1)
        shapes += glyphs_liner.joints(place, outer, inner, coupling, levels)
    return tuple(shapes)


def _cuts(evaluation: Evaluation, seen: View, half: float, box: Rect, system: System) -> Group:
    """Two lines with zig-zags right across where length is left out, how much between them."""
    x, windows = seen.frame.axis_mm, seen.windows
    bottom = seen.frame.scale.bottom_md_m
    levels: list[float] = []
    texts: list[Shape] = []

    def length(metres: float) -> str:
        return f"{in_whole(metres, system)} {unit_of('depth', system)}"

    def say(words: str, top_mm: float) -> None:
        texts.append(Text(x - half + _CUT_WORDS_MM, top_mm + 0.5 * CUT_MM + 0.9, words, _CUT_PT))

    if windows[0].top_md_m > 0.05:
        levels.append(windows[0].top_mm)
        say(f"{length(windows[0].top_md_m)} above not drawn", windows[0].top_mm - CUT_MM)
    for upper, lower in pairwise(windows):
        levels += [upper.bottom_mm, lower.top_mm]
        say(f"{length(lower.top_md_m - upper.bottom_md_m)} not drawn", upper.bottom_mm)
    if windows[-1].bottom_md_m < bottom - 0.05:
        levels.append(windows[-1].bottom_mm)
        say(f"{length(bottom - windows[-1].bottom_md_m)} below not drawn", windows[-1].bottom_mm)
    if not levels or windows[0].top_mm not in levels:  # the rotary table
        run = ((x - half, windows[0].top_mm), (x + half, windows[0].top_mm))
        texts.append(Path((run,), Style(stroke=BLACK, width_mm=OUTLINE_MM)))
    marks = (x - half + 1.6, x + half - 1.6)
    runs = tuple(zigzag(x - half, x + half, y, marks) for y in levels)
    lines = (Path(runs, Style(stroke=BLACK, width_mm=FINE_MM)),) if runs else ()
    return Group("", "lengths not drawn", (*lines, *texts))
