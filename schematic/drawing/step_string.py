"""The running string at a step, grey since it comes out again; which way the fluid goes."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import RunningPart
from schematic.drawing import glyphs_tool
from schematic.drawing.palette import BLACK, OUTLINE_MM, WHITE
from schematic.drawing.scene import Group, Path, Point, Shape, Style
from schematic.drawing.section import Place
from schematic.drawing.step_stands import HANGING, Stands, liner_bore, surrounds
from schematic.drawing.step_view import View
from schematic.job.card import Scene
from schematic.units import sentence_case

_DOGS_MM, _GRIP_MM, TOE_MM = 3.8, 2.2, 0.9  # heights of dogs and grip, and of what is below the grip
_SEAL_MM = 3.8
_ARROW_MM, _HALO_MM = 6.0, 1.3
_ROOM_MM = 1.6  # of an annulus in which an arrow has room


class ToolLevels(NamedTuple):
    """Levels of the running tool on paper."""

    place: Place
    dogs: tuple[float, float]
    grip: tuple[float, float]


def tool_levels(scene: Scene, its: Stands, seen: View) -> ToolLevels | None:
    """Where tool, dogs and grip are; dogs that are out stand on the liner top."""
    tool, foot = its.tool, its.tool_foot_md_m
    if tool is None or foot is None:
        return None
    below = TOE_MM + _GRIP_MM + 0.5  # from the foot of the dogs to that of the tool
    bottom = seen.frame.y(its.top_md_m) + below if scene.dogs_out else seen.frame.y(foot)
    top = min(seen.frame.y(tool.top_md_m), bottom - below - _DOGS_MM - 2.0)
    grip = (bottom - TOE_MM - _GRIP_MM, bottom - TOE_MM)
    dogs = (bottom - below - _DOGS_MM, bottom - below)
    return ToolLevels(Place(seen.frame.axis_mm, top, bottom), dogs, grip)


def sealing_part(its: Stands) -> RunningPart | None:
    """The part on which the pack-off seals: the slick joint, else the inner string."""
    for kind in ("slick joint", "inner string"):
        for part in its.running:
            if part.kind == kind:
                return part
    return None


def foot_level(scene: Scene, its: Stands, seen: View) -> float:
    """The level of the foot of the running string: far enough below the tool for the pack-off to be seen."""
    foot = its.foot_md_m if its.foot_md_m is not None else its.top_md_m
    levels, part = tool_levels(scene, its, seen), sealing_part(its)
    if levels is None or part is None:
        return seen.frame.y(foot)
    return max(seen.frame.y(foot), levels.place.bottom_mm + _SEAL_MM + 0.6)


def seal_levels(scene: Scene, its: Stands, seen: View) -> tuple[float, float] | None:
    """Where the pack-off is: in the liner while the joint slides in it, then it comes up with the joint."""
    part = sealing_part(its)
    if part is None or not its.liner:
        return None
    middle = min(
        seen.frame.y(max(_sealed_at(part, scene, its) - lifted_m(part, scene), 0.0)),
        foot_level(scene, its, seen) - 0.5 * _SEAL_MM,
    )
    levels = tool_levels(scene, its, seen)
    if levels is not None:
        middle = max(middle, levels.place.bottom_mm + 0.5 * _SEAL_MM)
    return middle - 0.5 * _SEAL_MM, middle + 0.5 * _SEAL_MM


def lifted_m(part: RunningPart, scene: Scene) -> float:
    """How far the pack-off came up: what the joint was raised beyond its travel."""
    return max(scene.raised_m - (part.travel_m or 0.0), 0.0)


def _sealed_at(part: RunningPart, scene: Scene, its: Stands) -> float:
    """The depth of the pack-off while the tool carries the liner: the joint's travel is below it."""
    top, end = its.top_md_m + its.into_m, part.bottom_md_m + scene.raised_m
    return top + 0.5 * max(end - top - (part.travel_m or 0.0), 0.1 * (end - top))


def running_groups(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """The running string. A part of unknown OD or bore is left out."""
    levels = tool_levels(scene, its, seen)
    hanging = [part for part in its.running if part.kind in HANGING]
    pipes = [part for part in its.running if part.kind not in HANGING and part is not its.tool]
    groups = [
        Group(part.path, sentence_case(part.name), _hanging(evaluation, scene, its, seen, part, levels))
        for part in hanging
    ]
    groups += [Group(part.path, sentence_case(part.name), _pipe(part, seen)) for part in pipes]
    tool = its.tool
    if tool is not None and levels is not None and tool.od_m is not None and tool.id_m is not None:
        frame, place = seen.frame, levels.place
        outer = frame.r(tool.od_m)
        bore = liner_bore(evaluation, its, frame, its.top_md_m + 1e-4)
        high = place.height_mm

        def share(pair: tuple[float, float]) -> tuple[float, float]:
            return (pair[0] - place.top_mm) / high, (pair[1] - place.top_mm) / high

        packs = any(part.kind == "liner top packer" for part in its.liner)
        shapes = glyphs_tool.running_tool(
            place,
            outer,
            frame.r(tool.id_m),
            max(bore, outer),
            dogs_out=scene.dogs_out,
            dogs=share(levels.dogs) if packs else None,
            grip=share(levels.grip),
            made_up=not scene.tool_released,
        )
        groups.append(Group(tool.path, sentence_case(tool.name), shapes))
    return [group for group in groups if group.shapes]


def _pipe(part: RunningPart, seen: View) -> tuple[Shape, ...]:
    """Pipe above the tool, in each stretch that is seen one joint of it."""
    if part.od_m is None or part.id_m is None:
        return ()
    frame = seen.frame
    outer, inner = frame.r(part.od_m), frame.r(part.id_m)
    joint = frame.r(part.tool_joint_od_m) if part.tool_joint_od_m else outer
    narrow = frame.r(part.tool_joint_id_m) if part.tool_joint_id_m else inner
    shapes: list[Shape] = []
    for y0, y1 in seen.shown(part.top_md_m, part.bottom_md_m):
        place = Place(frame.axis_mm, y0, y1)
        if joint <= outer:
            shapes.append(glyphs_tool.tube(place, outer, inner))
        elif part.kind == "heavy-weight drill pipe":
            shapes += glyphs_tool.heavy_weight(place, outer, inner, joint, outer + 0.4 * (joint - outer))
        else:
            shapes += glyphs_tool.drill_pipe(place, outer, inner, joint, narrow)
    return tuple(shapes)


def _hanging(
    evaluation: Evaluation,
    scene: Scene,
    its: Stands,
    seen: View,
    part: RunningPart,
    levels: ToolLevels | None,
) -> tuple[Shape, ...]:
    """Inner string or slick joint, below the tool, with the pack-off on it."""
    if part.od_m is None or part.id_m is None:
        return ()
    frame = seen.frame
    outer, inner = frame.r(part.od_m), frame.r(part.id_m)
    top, bottom = frame.y(part.top_md_m), frame.y(part.bottom_md_m)
    if part.bottom_md_m == its.foot_md_m:
        bottom = foot_level(scene, its, seen)
    if levels is not None:
        top = levels.place.bottom_mm if part.top_md_m <= its.top_md_m + its.into_m else top
    if bottom - top < 0.3:
        return ()
    place = Place(frame.axis_mm, top, bottom)
    seal = seal_levels(scene, its, seen)
    if part is not sealing_part(its) or seal is None:
        return (glyphs_tool.tube(place, outer, inner),)
    bore = liner_bore(evaluation, its, frame, _sealed_at(part, scene, its))
    shares = tuple(min(max((y - top) / place.height_mm, 0.0), 1.0) for y in seal)
    if bore <= outer or shares[1] <= shares[0]:
        return (glyphs_tool.tube(place, outer, inner),)
    return glyphs_tool.pack_off(place, outer, inner, bore, (shares[0], shares[1]))


def flow_group(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """Arrows where fluid moves: in the pipe above the tool and outside it, and beside the liner below."""
    if not scene.ports or not its.running:
        return []
    down, frame = scene.ports != "reverse", seen.frame
    runs: list[tuple[Point, ...]] = []
    heads: list[tuple[Point, ...]] = []

    def arrow(x: float, y: float, downward: bool) -> None:
        sign = 1.0 if downward else -1.0
        tip, tail = y + sign * 0.5 * _ARROW_MM, y - sign * 0.5 * _ARROW_MM
        runs.append(((x, tail), (x, tip - sign * 1.5)))
        heads.append(((x - 0.85, tip - sign * 2.0), (x + 0.85, tip - sign * 2.0), (x, tip)))

    def wall_at(y: float) -> float:
        md = frame.scale.md_m(y)
        return min((r for _a, _b, r in surrounds(evaluation, frame, md, md + 0.01)), default=0.0)

    pipes = [part for part in its.running if part.kind not in HANGING and part is not its.tool]
    places: list[tuple[float, float, float, float]] = []  # depths; bore and outer radius
    if pipes and pipes[-1].od_m is not None and pipes[-1].id_m is not None:
        part = pipes[-1]
        outer = frame.r(max(part.od_m or 0.0, part.tool_joint_od_m or 0.0))
        places.append((part.top_md_m, part.bottom_md_m, frame.r(part.id_m or 0.0), outer))
    liner = evaluation.plan.depth.liner
    long = next((part for part in its.liner if part.kind == "joint" and part.joints > 3), None)
    if down and long is not None:
        places.append(
            (long.top_md_m, long.bottom_md_m, frame.r(liner.id_m), frame.r(long.coupling_od_m or liner.od_m))
        )
    for top, bottom, bore, outer in places:
        shown = [piece for piece in seen.shown(top, bottom) if piece[1] - piece[0] > 0.9 * _ARROW_MM]
        if not shown:
            continue
        middles = [0.5 * (low + high) for low, high in shown]
        y = middles[-1]
        if top >= its.top_md_m:  # beside the liner, where there is room outside it and no plug
            plug = frame.y(scene.plug_md_m) if scene.plug_md_m is not None else -math.inf
            clear = [y for y in middles if abs(y - plug) > 2.0 * _ARROW_MM]
            y = next((y for y in clear if wall_at(y) - outer > _ROOM_MM), middles[0])
        wall = wall_at(y)
        if bore > 1.2:
            arrow(frame.axis_mm, y, down)
        if wall - outer > _ROOM_MM:
            for side in (1.0, -1.0):
                arrow(frame.axis_mm + side * 0.5 * (wall + outer), y, not down)
    if not heads:
        return []
    title = "Flow down the string, up outside" if down else "Flow down outside, up the string"
    return [
        Group(
            "",
            title,
            (
                Path(tuple(runs), Style(stroke=WHITE, width_mm=_HALO_MM)),
                Path(tuple(runs), Style(stroke=BLACK, width_mm=OUTLINE_MM)),
                Path(tuple(heads), Style(fill=BLACK), closed=True),
            ),
        )
    ]
