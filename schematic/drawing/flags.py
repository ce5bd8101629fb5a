"""The flags of the findings in the well: each at its place, touching no flag, no leader and no text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from schematic.checks.evaluate import Evaluation
from schematic.drawing import findings
from schematic.drawing.column import SCALE_CHANGES, half_width
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.scene import Dots, Group, Path, Point, Text
from schematic.drawing.text import Box, box_mm
from schematic.outcome import Found

Leg = tuple[Point, Point]
_STEP_MM = 1.1
_NEAR_STEPS = 8
_BORE_RULES = ("string-does-not-pass", "tally-does-not-close", "running-string-misses-liner-top")


def flags(
    evaluation: Evaluation,
    paper: Frame,
    range_md_m: tuple[float, float],
    bottom_mm: float,
    labels: tuple[Group, ...],
    written: tuple[Group, ...],
) -> list[Group]:
    """A flag for each finding of a depth range: in the bore for what moves there, else beside the well."""
    axis, levels = paper.axis_mm, (paper.scale.levels_mm[0], bottom_mm - findings.FLAG_MM)
    lines = legs((*labels, *(group for group in written if group.title == SCALE_CHANGES)))
    boxes = [box_mm(shape) for group in written for shape in group.shapes if isinstance(shape, Text)]
    rings = (s for g in written for s in g.shapes if isinstance(s, Dots) and s.radius_mm == findings.FLAG_MM)
    placed: list[Point] = [ring.centres[0] for ring in rings]
    groups: list[Group] = []
    for letter, outcome in findings.letters(evaluation):
        found = outcome.answer
        assert isinstance(found, Found)
        at = findings.at_md_m(evaluation, outcome)
        if at is None or not range_md_m[0] <= at < range_md_m[1]:
            continue
        md = min(max(at, paper.scale.top_md_m), paper.scale.bottom_md_m)
        flank = half_width(evaluation, paper, md) + ROCK_WIDTH_MM + 2.3
        bore, beside = [axis, axis - 2.4, axis + 2.4], [axis + flank, axis - flank]
        if outcome.rule in _BORE_RULES:
            columns, else_in = bore, []
        else:  # a slurry has no place in the bore
            columns, else_in = beside, bore if found.at_md_m else []
        spot = free(columns, paper.y(md), levels, placed, lines, boxes, else_in)
        placed.append(spot)
        groups.append(
            Group(outcome.subject.path, f"Finding {letter}", tuple(findings.flag(*spot, letter, found)))
        )
    return groups


def legs(groups: Sequence[Group]) -> list[Leg]:
    """The straight pieces of all lines of some groups."""
    paths = (shape for group in groups for shape in group.shapes if isinstance(shape, Path))
    return [leg for path in paths for run in path.runs for leg in pairwise(run)]


def free(
    columns: list[float],
    y: float,
    between_mm: tuple[float, float],
    placed: list[Point],
    lines: list[Leg],
    boxes: list[Box],
    else_in: Sequence[float] = (),
) -> Point:
    """The first place near a level where a flag touches no other flag, no leader and no text.

    *else_in* are columns for what finds none so near that it is still seen what it speaks of.
    """
    reach, apart = findings.FLAG_MM + 0.35, 1.5 * findings.FLAG_MM
    for step in range(40):
        for away in (step * _STEP_MM, -step * _STEP_MM):
            level = min(max(y + away, between_mm[0] + 2.0), between_mm[1])
            texts = [(x0, x1) for x0, y0, x1, y1 in boxes if y0 - reach < level < y1 + reach]
            low, high = level - apart, level + apart
            near = [
                leg
                for leg in lines
                if (leg[0][1] >= low or leg[1][1] >= low) and (leg[0][1] <= high or leg[1][1] <= high)
            ]
            for x in columns if step < _NEAR_STEPS else (*columns, *else_in):
                spot = (x, level)
                if (
                    all(math.dist(spot, other) >= 2 * findings.FLAG_MM + 0.5 for other in placed)
                    and not any(x0 - reach < x < x1 + reach for x0, x1 in texts)
                    and all(_distance(spot, *leg) > apart for leg in near)
                ):
                    return spot
    return (columns[0], min(max(y, between_mm[0]), between_mm[1]))


def _distance(point: Point, start: Point, end: Point) -> float:
    """Distance from a point to a segment."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    share = 0.0 if length == 0.0 else ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))
