"""Ball, dart and wiper plug at a step: on their seats, hanging, or on their way."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing import glyphs_liner, glyphs_tool
from schematic.drawing.scene import Dots, Group, Shape
from schematic.drawing.section import Place, block, both
from schematic.drawing.step_stands import Stands, bores, liner_bore
from schematic.drawing.step_string import TOE_MM, foot_level, tool_levels
from schematic.drawing.step_view import View
from schematic.job.card import Scene

_PLUG_MM, _DART_MM = 5.5, 6.5
_SEAT_MM = 1.6  # height of the ring that holds the ball in the tool
_SAME_M = 0.02


class PlugPlace(NamedTuple):
    """Where the wiper plug is, and whether it still hangs on the string, the dart in it."""

    place: Place
    hangs: bool
    with_dart: bool


def plug_place(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> PlugPlace | None:
    """The place of the wiper plug; None where there is none in the well."""
    running, plug = evaluation.plan.depth.running, scene.plug_md_m
    if plug is None or not its.liner:
        return None
    hung = running.plug_md_m if running is not None else None
    with_dart = scene.dart_md_m is not None and scene.dart_md_m >= plug - _SAME_M
    axis, y = seen.frame.axis_mm, seen.frame.y
    if hung is not None and abs(plug - hung) < _SAME_M and not scene.plug_latched:
        if its.foot_md_m is None or scene.string_out:
            return None
        top = foot_level(scene, its, seen)
        return PlugPlace(Place(axis, top, top + _PLUG_MM), True, with_dart)
    return PlugPlace(Place(axis, y(plug) - _PLUG_MM, y(plug)), False, with_dart)


def dropped_groups(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> list[Group]:
    """Ball, dart and plug."""
    frame, groups = seen.frame, []
    ball = ball_place(evaluation, scene, its, seen)
    if ball is not None:
        groups.append(Group("running string", "Ball", ball.shapes))
    at = plug_place(evaluation, scene, its, seen)
    if at is not None:
        bore = liner_bore(
            evaluation, its, frame, frame.scale.md_m(0.5 * (at.place.top_mm + at.place.bottom_mm))
        )
        hung = [p.id_m for p in its.running if p.bottom_md_m == its.foot_md_m and p.id_m is not None]
        through = frame.r(hung[0]) if hung and at.hangs and not at.with_dart else 0.0
        title = "Wiper plug, landed" if scene.plug_latched else "Wiper plug"
        groups.append(
            Group("running string", title, glyphs_liner.wiper_plug(at.place, bore, min(through, 0.6 * bore)))
        )
    if scene.dart_md_m is not None and not (at is not None and at.with_dart):
        md = max(scene.dart_md_m, 0.0)  # above the rotary it is in the head
        around = [r for top, bottom, r in bores(evaluation, its, frame) if top <= md <= bottom]
        if around:
            start = seen.windows[0].top_mm
            foot = max(frame.y(scene.dart_md_m), start + _DART_MM)
            place = Place(frame.axis_mm, foot - _DART_MM, foot)
            groups.append(Group("running string", "Dart", glyphs_tool.dart(place, min(around))))
    return groups


class BallPlace(NamedTuple):
    """Where the ball is: its centre and radius, the ring that holds it in the tool, and in words."""

    centre_mm: float
    radius_mm: float
    shapes: tuple[Shape, ...]
    seat: str  # "collar", "tool" or "" on its way


def ball_place(evaluation: Evaluation, scene: Scene, its: Stands, seen: View) -> BallPlace | None:
    """The ball on its seat, in the landing collar or in the tool, or on its way; None without one."""
    plan, frame, md = evaluation.plan, seen.frame, scene.ball_md_m
    size = ball_m(evaluation)
    if md is None or size is None:
        return None
    axis, radius, body = frame.axis_mm, frame.r(size), frame.r(plan.depth.liner.id_m)
    for part in its.liner:
        held = part.kind == "landing collar" and part.seat_m is not None
        if held and abs(md - part.top_md_m) < max(part.length_m, _SAME_M):
            place = Place(axis, frame.y(part.top_md_m), frame.y(part.bottom_md_m))
            seat = min(frame.r(part.seat_m or 0.0), 0.8 * body)
            (ball,) = glyphs_liner.ball_on_seat(place, body, seat, radius)
            assert isinstance(ball, Dots)
            return BallPlace(ball.centres[0][1], radius, (ball,), "collar")
    levels, tool = tool_levels(scene, its, seen), its.tool
    inside = tool is not None and tool.id_m is not None and abs(md - tool.bottom_md_m) < _SAME_M
    if levels is not None and tool is not None and inside:
        level = levels.place.bottom_mm - _SEAT_MM - TOE_MM
        bore = max(frame.r(tool.id_m or 0.0), radius)
        seat = min(frame.r(plan.job.seat_m), radius) if plan.job.seat_m is not None else 0.8 * radius
        ring = both(axis, [block(level, level + _SEAT_MM, seat, bore)], glyphs_tool.STEEL)
        centre = level - math.sqrt(radius**2 - seat**2)
        return BallPlace(centre, radius, (ring, *glyphs_tool.ball(axis, centre, radius)), "tool")
    return BallPlace(frame.y(md), radius, glyphs_tool.ball(axis, frame.y(md), radius), "")


def ball_m(evaluation: Evaluation) -> float | None:
    """The diameter of the setting ball."""
    plan = evaluation.plan
    if plan.job.ball_m is not None:
        return plan.job.ball_m
    return plan.depth.running.ball_m if plan.depth.running is not None else None
