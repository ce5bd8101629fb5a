"""The well zone of a page: column, labels, tracks, findings, flags; of the whole depth range or a part."""

from __future__ import annotations

import math
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Depths
from schematic.drawing import captions, findings, head, left_labels, page, right_labels
from schematic.drawing.caliper_track import caliper_track
from schematic.drawing.clip import clipped
from schematic.drawing.column import column, half_width, widest
from schematic.drawing.datum_sketch import level_lines
from schematic.drawing.flags import flags
from schematic.drawing.frame import Frame, ScaleKind, carried_on, frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.grid import WELL_TOP_MM, Grid, Paper, grid
from schematic.drawing.palette import OUTLINE_MM
from schematic.drawing.path_track import path_track
from schematic.drawing.pressure_track import pressure_track
from schematic.drawing.rock_track import rock_height, rock_track
from schematic.drawing.ruler_track import depth_track
from schematic.drawing.scene import Group, Text
from schematic.drawing.section_view import leans
from schematic.drawing.text import Box, box_mm
from schematic.drawing.volumes_track import volumes_track
from schematic.drawing.zones import Zones
from schematic.units import System

_TRACKS_MM = 48.0  # the tracks begin here, or below the last finding
_FINDINGS_MM = 1.0  # from the rock beside the well to the list
_BESIDE_MM = ROCK_WIDTH_MM + 0.4  # from the well to a text beside it
_FLOOR_MM = 5.4  # below the bottom of the hole: hatch, and the end of the axis
_MATCH_MM = 10.5  # for the match line at the foot of a page

Range = tuple[float, float]  # measured depths; infinite where it is the end of the well [m]
EVERYWHERE: Range = (-math.inf, math.inf)


class WellZone(NamedTuple):
    """The well on a page; nothing is drawn where it needs more height than there is."""

    frame: Frame
    grid: Grid
    groups: list[Group]
    needs_mm: float  # more height than there is; not over 0 when it fits


def _grid(evaluation: Evaluation, paper: Paper, zones: Zones) -> Grid:
    plan = evaluation.plan
    hole = plan.depth.hole
    return grid(
        paper,
        strip="strip" in zones.tracks,
        leaning=leans(evaluation),
        volumes="volumes" in zones.tracks,
        pressure="pressure" in zones.tracks and bool(plan.formation.pressures),
        path="path" in zones.tracks and leans(evaluation),
        caliper="caliper" in zones.tracks and hole.diameter_m.values != hole.gauge_m.values,
        rock="rock" in zones.tracks and bool(plan.formation.tops),
        right_mm=zones.right_mm,
    )


def well_zone(
    evaluation: Evaluation,
    scale: ScaleKind,
    system: System,
    paper: Paper,
    zones: Zones,
    range_md_m: tuple[float, float],
) -> WellZone:
    """The well zone of a page, for a range of measured depths."""
    columns = _grid(evaluation, paper, zones)
    low, high = range_md_m
    first, last = math.isinf(low), math.isinf(high)
    lists = first and "findings" in zones.tracks
    bottom = zones.bottom_mm - (0.0 if last else _MATCH_MM)
    drawn = frame(
        evaluation,
        scale,
        system,
        grid=columns,
        bottom_mm=bottom - _FLOOR_MM,
        hatch_mm=ROCK_WIDTH_MM,
        top_md_m=0.0 if first else low,
        bottom_md_m=None if last else high,
    )
    left = _within(
        left_labels.left_labels(evaluation, drawn, columns.labels_mm[1] - columns.labels_mm[0], system),
        range_md_m,
    )
    right = right_labels.right_labels(evaluation, drawn, columns.parts_mm[1] - columns.parts_mm[0], system)
    right = [(kept, figures) for label, figures in right for kept in _within([label], range_md_m)]
    listed: list[Group] = []
    track_top = max(WELL_TOP_MM + 3.6, _below_conductor(evaluation, drawn, columns.parts_mm[0]))
    if lists:
        half = max(half_width(evaluation, drawn, s.shoe_md_m) for s in evaluation.plan.depth.strings)
        start = max(columns.parts_mm[0], drawn.axis_mm + half + ROCK_WIDTH_MM + _FINDINGS_MM)
        listed, end = findings.findings(evaluation, system, start, zones.right_mm, zones.most_findings)
        track_top = max(end + 3.2, _TRACKS_MM, track_top)
    left_top, left_groups = _left_column(evaluation, drawn, columns, left, bottom)
    needs = max(
        left_labels.left_height(left) - (bottom - left_top),
        right_labels.right_height(right) - (bottom - track_top),
        rock_height(evaluation, drawn, columns.rock_mm, system) - (bottom - track_top - 1.2)
        if columns.rock_mm
        else 0.0,
    )
    if needs > 0.0:
        return WellZone(drawn, columns, [], needs)
    groups: list[Group] = [
        head.column_heads(evaluation, columns, system, listed=lists),
        depth_track(drawn, columns, evaluation.plan.depth.path, _key_depths(evaluation.plan.depth)),
    ]
    deepest = max(evaluation.plan.depth.td_md_m, evaluation.plan.depth.liner.shoe_md_m)
    well = column(evaluation, carried_on(drawn, deepest), system).groups
    if not (first and last):
        well = clipped(
            well,
            WELL_TOP_MM - 8.0 if first else drawn.scale.levels_mm[0],
            bottom if last else drawn.scale.levels_mm[-1],
        )
    groups += level_lines(evaluation, drawn, columns.labels_mm[0], columns.parts_mm[0])
    groups += well
    right_groups = right_labels.right_column(
        evaluation, right, drawn, columns.parts_mm, track_top + 1.0, bottom, system, with_shoe=last
    )
    groups += left_groups
    groups += right_groups
    groups += listed
    if "findings" in zones.tracks:
        rule = page.rule(track_top - 2.2, OUTLINE_MM, left=columns.parts_mm[0], right=zones.right_mm)
        groups.append(Group("", "tracks", (rule,)))
    groups += _tracks(evaluation, drawn, columns, system, track_top + 1.2, bottom)
    groups += flags(
        evaluation,
        drawn,
        range_md_m,
        bottom,
        (*left_groups, *right_groups),
        (*well, *left_groups, *right_groups, *listed),
    )
    return WellZone(drawn, columns, groups, needs)


def _tracks(
    evaluation: Evaluation, drawn: Frame, columns: Grid, system: System, head_mm: float, bottom_mm: float
) -> list[Group]:
    """What stands beside the well on its depth scale."""
    groups: list[Group] = []
    if columns.volumes_mm:
        groups += volumes_track(evaluation, drawn, columns.volumes_mm, system, head_mm, bottom_mm)
    if columns.pressure_mm:
        groups += pressure_track(evaluation, drawn, columns.pressure_mm, system, head_mm)
    if columns.path_mm:
        groups += path_track(evaluation, drawn, columns.path_mm, system, head_mm)
    if columns.caliper_mm:
        groups += caliper_track(evaluation, drawn, columns.caliper_mm, system, head_mm)
    if columns.rock_mm:
        groups += rock_track(evaluation, drawn, columns.rock_mm, system, head_mm)
    return groups


def _within(labels: list[captions.Label], range_md_m: tuple[float, float]) -> list[captions.Label]:
    """The labels of what lies in a range of depths, pointing into it."""
    low, high = range_md_m
    return [
        label._replace(low_md_m=max(label.low_md_m, low), high_md_m=min(label.high_md_m, high))
        for label in labels
        if label.high_md_m >= low and label.low_md_m < high
    ]


def _left_column(
    evaluation: Evaluation, drawn: Frame, columns: Grid, labels: list[captions.Label], bottom_mm: float
) -> tuple[float, list[Group]]:
    """Where the left labels begin: at the top if all stay clear of the well, else below what sticks out.

    And the labels there; none where they need more height.
    """
    reach = drawn.axis_mm - columns.labels_mm[1] - ROCK_WIDTH_MM
    shoes = sorted(s.shoe_md_m for s in evaluation.plan.depth.strings if s.shoe_md_m > drawn.scale.top_md_m)
    wide = [md for md in shoes if half_width(evaluation, drawn, md) > reach]
    tops = [WELL_TOP_MM - 0.6, *(drawn.y(md) + ROCK_WIDTH_MM + 0.6 for md in wide)]
    for top in tops:
        if left_labels.left_height(labels) <= bottom_mm - top:
            groups = left_labels.left_column(labels, drawn, columns.labels_mm, top, bottom_mm)
            boxes = [box_mm(s) for group in groups for s in group.shapes if isinstance(s, Text)]
            near = [box for box in boxes if box[2] > drawn.axis_mm - widest(evaluation, drawn) - _BESIDE_MM]
            if top == tops[-1] or all(_clear_of_well(evaluation, drawn, box) for box in near):
                return top, groups
    return tops[-1], []


def _clear_of_well(evaluation: Evaluation, drawn: Frame, box: Box) -> bool:
    """Whether a text to the left of the well touches neither the well nor the hatch around it."""
    _left, top, right, bottom = box
    levels = [top - ROCK_WIDTH_MM, 0.5 * (top + bottom), bottom + ROCK_WIDTH_MM]
    first, last = drawn.scale.levels_mm[0], drawn.scale.levels_mm[-1]
    depths = [drawn.scale.md_m(min(max(level, first), last)) for level in levels]
    depths += [s.shoe_md_m for s in evaluation.plan.depth.strings if depths[0] <= s.shoe_md_m <= depths[-1]]
    half = max(half_width(evaluation, drawn, md) for md in depths)
    return right <= drawn.axis_mm - half - _BESIDE_MM


def _below_conductor(evaluation: Evaluation, drawn: Frame, left_mm: float) -> float:
    """Where tracks may begin: below a conductor that sticks out over them."""
    wide = [
        string.shoe_md_m
        for string in evaluation.plan.depth.strings
        if string.shoe_md_m > drawn.scale.top_md_m
        and drawn.axis_mm + half_width(evaluation, drawn, string.shoe_md_m) + ROCK_WIDTH_MM > left_mm - 0.6
    ]
    return max((drawn.y(md) + ROCK_WIDTH_MM + 3.4 for md in wide), default=0.0)


def _key_depths(depth: Depths) -> tuple[float, ...]:
    """The depths that the ruler tells whatever else it tells."""
    return (depth.liner.top_md_m, depth.host.shoe_md_m, depth.liner.shoe_md_m, depth.td_md_m)
