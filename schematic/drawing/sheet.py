"""The A4 sheet of a well: zones from top to bottom, the main column with its labels, tracks and flags.

Zones and columns are in millimetres on A4 portrait; a well with more labels than A4 holds makes the sheet
taller, in the well zone alone.
"""

from __future__ import annotations

import math

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import Depths
from schematic.drawing import (
    captions,
    findings,
    head,
    job_zone,
    left_labels,
    page,
    right_labels,
    title_block,
)
from schematic.drawing.column import column, half_width
from schematic.drawing.frame import Frame, ScaleKind, frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.legend import legend
from schematic.drawing.palette import OUTLINE_MM
from schematic.drawing.pressure_track import pressure_track
from schematic.drawing.rock_track import rock_height, rock_track
from schematic.drawing.ruler_track import depth_track
from schematic.drawing.scene import Dots, Group, Path, Point, Scene, Shape, Sheet, Text
from schematic.drawing.text import box_mm
from schematic.drawing.volumes_track import volumes_track
from schematic.outcome import Found, sentence
from schematic.units import System, sentence_case

Box = tuple[float, float, float, float]  # left, top, right, bottom on paper

WIDTH_MM, HEIGHT_MM = 210.0, 297.0
WELL_TOP_MM = 34.4
WELL_ZONE_MM = 174.0
AXIS_MM = 88.5
_TRACKS_MM = 48.0  # the tracks begin here, or below the last finding
_FLOOR_MM = 5.4  # below the bottom of the hole: hatch, and the end of the axis
_BORE_RULES = ("string-does-not-pass", "tally-does-not-close", "running-string-misses-liner-top")


def well_sheet(evaluation: Evaluation, *, scale: ScaleKind, system: System) -> Sheet:
    """The pages of a well's sheet: one, and a second when there are more findings than it lists."""
    grown = 0.0
    first = _frame(evaluation, scale, system, grown)
    widest = max(half_width(evaluation, first, s.shoe_md_m) for s in evaluation.plan.depth.strings)
    sticks_out = AXIS_MM + widest + ROCK_WIDTH_MM + 0.8
    listed, end, more = findings.findings(evaluation, system, max(findings.FINDINGS_MM, sticks_out))
    for _ in range(8):
        paper = _frame(evaluation, scale, system, grown)
        left = left_labels.left_labels(evaluation, paper, system)
        right = right_labels.right_labels(evaluation, paper, system)
        left_top = _left_top(evaluation, paper, left, WELL_ZONE_MM + grown)
        track_top = max(end + 3.2, _TRACKS_MM, _below_conductor(evaluation, paper))
        need = max(
            left_labels.left_height(left) - (WELL_ZONE_MM + grown - left_top),
            right_labels.right_height(right) - (WELL_ZONE_MM + grown - track_top),
            rock_height(evaluation, paper, system) - (WELL_ZONE_MM + grown - track_top - 1.2),
        )
        if need <= 0.0:
            break
        grown += need + 2.0
    page = _page(evaluation, paper, system, left, right, listed, left_top, track_top, grown, 2 if more else 1)
    scenes = [_scene(evaluation, page, grown)]
    if more:
        scenes.append(_findings_page(evaluation, system, paper))
    return Sheet(tuple(scenes))


def _frame(evaluation: Evaluation, scale: ScaleKind, system: System, grown: float) -> Frame:
    return frame(
        evaluation,
        scale,
        system,
        top_mm=WELL_TOP_MM,
        bottom_mm=WELL_ZONE_MM - _FLOOR_MM + grown,
        axis_mm=AXIS_MM,
        hatch_mm=ROCK_WIDTH_MM,
    )


def _left_top(evaluation: Evaluation, paper: Frame, labels: list[captions.Label], bottom_mm: float) -> float:
    """Where the left labels begin: at the top if all stay clear of the well, else below what sticks out."""
    reach = AXIS_MM - left_labels.KNEE_MM - ROCK_WIDTH_MM
    shoes = sorted(string.shoe_md_m for string in evaluation.plan.depth.strings)
    wide = [md for md in shoes if half_width(evaluation, paper, md) > reach]
    tops = [WELL_TOP_MM - 0.6, *(paper.y(md) + ROCK_WIDTH_MM + 0.6 for md in wide)]
    for top in tops[:-1]:
        if left_labels.left_height(labels) <= bottom_mm - top:
            groups = left_labels.left_column(labels, paper, top, bottom_mm)
            texts = [s for group in groups for s in group.shapes if isinstance(s, Text)]
            if all(_clear_of_well(evaluation, paper, box_mm(text)) for text in texts):
                return top
    return tops[-1]


def _clear_of_well(evaluation: Evaluation, paper: Frame, box: Box) -> bool:
    """Whether a text to the left of the well touches neither the well nor the hatch around it."""
    _left, top, right, bottom = box
    levels = [top - ROCK_WIDTH_MM, 0.5 * (top + bottom), bottom + ROCK_WIDTH_MM]
    first, last = paper.scale.levels_mm[0], paper.scale.levels_mm[-1]
    depths = [paper.scale.md_m(min(max(level, first), last)) for level in levels]
    depths += [s.shoe_md_m for s in evaluation.plan.depth.strings if depths[0] <= s.shoe_md_m <= depths[-1]]
    widest = max(half_width(evaluation, paper, md) for md in depths)
    return right <= AXIS_MM - widest - ROCK_WIDTH_MM - 0.4


def _below_conductor(evaluation: Evaluation, paper: Frame) -> float:
    """Where tracks may begin: below a conductor that sticks out over them."""
    wide = [
        string.shoe_md_m
        for string in evaluation.plan.depth.strings
        if AXIS_MM + half_width(evaluation, paper, string.shoe_md_m) + ROCK_WIDTH_MM
        > findings.FINDINGS_MM - 0.6
    ]
    return max((paper.y(md) + ROCK_WIDTH_MM + 3.4 for md in wide), default=0.0)


def _page(
    evaluation: Evaluation,
    paper: Frame,
    system: System,
    left: list[captions.Label],
    right: list[tuple[captions.Label, right_labels.Figures]],
    listed: list[Group],
    left_top: float,
    track_top: float,
    grown: float,
    pages: int,
) -> tuple[Group, ...]:
    depth = evaluation.plan.depth
    bottom = WELL_ZONE_MM + grown
    groups: list[Group] = [
        head.head(evaluation, system),
        head.column_heads(evaluation, paper, system),
        depth_track(paper, depth.path.tvd_m, _key_depths(depth)),
    ]
    well = column(evaluation, paper, system).groups
    groups += well
    left_groups = left_labels.left_column(left, paper, left_top, bottom)
    right_groups = right_labels.right_column(evaluation, right, paper, track_top + 1.0, bottom, system)
    groups += left_groups
    groups += right_groups
    groups += listed
    groups.append(Group("", "tracks", (page.rule(track_top - 2.2, OUTLINE_MM, findings.FINDINGS_MM),)))
    groups += volumes_track(evaluation, paper, system, track_top + 1.2, bottom)
    groups += pressure_track(evaluation, paper, system, track_top + 1.2)
    groups += rock_track(evaluation, paper, system, track_top + 1.2)
    groups += _flags(
        evaluation,
        paper,
        bottom,
        (*left_groups, *right_groups),
        (*well, *left_groups, *right_groups, *listed),
    )
    y = bottom + 3.6
    groups.append(Group("", "rule", (page.rule(y, OUTLINE_MM),)))
    groups += job_zone.job_tables(evaluation, system, y)
    y += 57.2
    groups.append(Group("", "rule", (page.rule(y - 3.4, OUTLINE_MM),)))
    groups.append(job_zone.remarks(evaluation, y + 0.6, page.LEFT_MM, 66.0, 10))
    groups.append(job_zone.job_numbers(evaluation, system, y + 0.6, 81.0, 132.0))
    groups.append(legend(evaluation, y + 0.6, 137.0))
    groups.append(title_block.title_block(evaluation, paper, system, 269.6 + grown, f"sheet 1 of {pages}"))
    return tuple(group for group in groups if group.shapes)


def _key_depths(depth: Depths) -> tuple[float, ...]:
    """The depths that the ruler tells whatever else it tells."""
    return (depth.liner.top_md_m, depth.host.shoe_md_m, depth.liner.shoe_md_m, depth.td_md_m)


def _flags(
    evaluation: Evaluation,
    paper: Frame,
    bottom_mm: float,
    labels: tuple[Group, ...],
    written: tuple[Group, ...],
) -> list[Group]:
    """A flag for each finding at its place: in the bore for what moves there, else on the right flank."""
    lines = [
        run for group in labels for shape in group.shapes if isinstance(shape, Path) for run in shape.runs
    ]
    boxes = [box_mm(shape) for group in written for shape in group.shapes if isinstance(shape, Text)]
    rings = (s for g in written for s in g.shapes if isinstance(s, Dots) and s.radius_mm == findings.FLAG_MM)
    placed: list[Point] = [ring.centres[0] for ring in rings]
    groups: list[Group] = []
    for letter, outcome in findings.letters(evaluation):
        found = outcome.answer
        assert isinstance(found, Found)
        if not found.at_md_m:
            continue
        md = min(max(found.at_md_m[0], paper.scale.top_md_m), paper.scale.bottom_md_m)
        flank = half_width(evaluation, paper, md) + ROCK_WIDTH_MM + 2.3
        columns = [AXIS_MM, AXIS_MM - 2.4, AXIS_MM + 2.4]
        if outcome.rule not in _BORE_RULES:
            columns = [AXIS_MM + flank, *columns]
        spot = _free(columns, paper.y(md), bottom_mm, placed, lines, boxes)
        placed.append(spot)
        groups.append(
            Group(outcome.subject.path, f"Finding {letter}", tuple(findings.flag(*spot, letter, found)))
        )
    return groups


def _free(
    columns: list[float],
    y: float,
    bottom_mm: float,
    placed: list[Point],
    lines: list[tuple[Point, ...]],
    boxes: list[Box],
) -> Point:
    """The first place near a level where a flag touches no other flag, no leader and no text."""
    reach = findings.FLAG_MM + 0.35
    for step in range(40):
        for away in (step * 1.1, -step * 1.1):
            for x in columns:
                spot = (x, min(max(y + away, WELL_TOP_MM + 2.0), bottom_mm))
                clear = all(math.dist(spot, other) >= 2 * findings.FLAG_MM + 0.5 for other in placed)
                clear = clear and not any(
                    x0 - reach < x < x1 + reach and y0 - reach < spot[1] < y1 + reach
                    for x0, y0, x1, y1 in boxes
                )
                legs = (leg for run in lines for leg in zip(run, run[1:], strict=False))
                if clear and all(_distance(spot, *leg) > 1.5 * findings.FLAG_MM for leg in legs):
                    return spot
    return (columns[0], y)


def _distance(point: Point, start: Point, end: Point) -> float:
    """Distance from a point to a segment."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    share = 0.0 if length == 0.0 else ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))


def _scene(evaluation: Evaluation, groups: tuple[Group, ...], grown: float) -> Scene:
    identity = evaluation.plan.identity
    caution = f"{title_block.CAUTION} {title_block.NOT_A_BASIS}"
    description = f"Depth plan of {identity.name}, file {identity.file_hash}. {caution}"
    return Scene(WIDTH_MM, HEIGHT_MM + grown, f"{identity.name}, sheet 1", description, groups)


def _findings_page(evaluation: Evaluation, system: System, paper: Frame) -> Scene:
    """The whole list of findings, with what would mend each."""
    identity = evaluation.plan.identity
    groups: list[Group] = [head.head(evaluation, system)]
    y = 34.0
    for letter, outcome in findings.letters(evaluation):
        found = outcome.answer
        assert isinstance(found, Found)
        texts = [
            *captions.wrap(sentence(found.what, found.figures, system), 182.0),
            *captions.wrap(sentence(found.mend, found.figures, system), 182.0),
        ]
        shapes: list[Shape] = [*findings.flag(page.LEFT_MM + 1.7, y, letter, found)]
        shapes += [
            Text(14.0, y + 0.8 + captions.PITCH_MM * row, sentence_case(line))
            for row, line in enumerate(texts)
        ]
        groups.append(Group(outcome.subject.path, f"Finding {letter}", tuple(shapes)))
        y += captions.PITCH_MM * len(texts) + 1.8
    height = max(HEIGHT_MM, y + 34.0)
    groups.append(title_block.title_block(evaluation, paper, system, height - 27.4, "sheet 2 of 2"))
    return Scene(WIDTH_MM, height, f"{identity.name}, sheet 2", f"Findings of {identity.name}", tuple(groups))
