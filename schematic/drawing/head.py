"""The head of the sheet: which well, four key depths, state, datum, and the heads of the columns."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, height_words, wrap
from schematic.drawing.grid import Grid, Paper
from schematic.drawing.page import LARGE_PT, LEFT_MM, MEDIUM_PT, fit, rule
from schematic.drawing.palette import FINE_MM, HEAVY_MM
from schematic.drawing.ruler_track import FAN_TO_MM, places
from schematic.drawing.scene import Group, Shape, Text
from schematic.drawing.text import width_mm
from schematic.export.report import status
from schematic.units import System, number, sentence_case, size, unit_of


def head(evaluation: Evaluation, system: System, paper: Paper) -> Group:
    """Name, subject, state; four key depths, figure above its word."""
    plan = evaluation.plan
    identity, depth = plan.identity, plan.depth
    host = depth.host
    keys = (
        (number(depth.liner.top_md_m, "depth", system, THIN), "liner top"),
        (number(evaluation.laps.liner_top_m, "depth", system, THIN), f"liner top to {evaluation.laps.end}"),
        (number(host.shoe_md_m, "depth", system, THIN), f"host shoe, {size(host.od_m, system)}"),
        (number(depth.liner.shoe_md_m, "depth", system, THIN), "liner shoe"),
    )
    shapes: list[Shape] = []
    right = paper.right_mm
    for figure, word in reversed(keys):
        shapes.append(Text(right, 14.2, figure, LARGE_PT, bold=True, anchor="end"))
        shapes.append(Text(right, 19.3, word, anchor="end"))
        right -= max(width_mm(figure, LARGE_PT, True), width_mm(word, SMALL_PT)) + 6.0
    room = right - LEFT_MM
    shapes += name_lines(identity.name, room)
    liner_size = size(depth.liner.od_m, system)
    path = depth.path
    steepest = max(row[1] for row in path.stations)
    leans = [
        number(path.inclination_rad(md), "angle", system) + "\u00b0"
        for md in (depth.liner.top_md_m, depth.liner.shoe_md_m)
    ]
    lean = f" at {' to '.join(dict.fromkeys(leans))}" if steepest > 0.09 else ""
    subject = f"{liner_size} {identity.purpose or 'liner'}{lean}: depth plan"
    if width_mm(subject, MEDIUM_PT) <= room:
        shapes.append(Text(LEFT_MM, 19.3, subject, MEDIUM_PT))
    else:
        lines = wrap(subject, room)[:2]
        shapes += [
            Text(LEFT_MM, 20.4 - PITCH_MM * (len(lines) - 1 - row), line) for row, line in enumerate(lines)
        ]
    state = identity.standing.upper() + "."
    shapes.append(Text(LEFT_MM, 23.7, state, bold=True))
    planned = plan.cement.planned_top_md_m
    reversed_out = evaluation.cement is not None and planned is not None and planned < depth.liner.top_md_m
    drawn = "Shows the well after the job" + (", straight along hole" if lean else "")
    drawn += "; rings: cement to reverse out" if reversed_out else ""
    shapes.append(Text(LEFT_MM + width_mm(state, SMALL_PT, True) + 1.2, 23.7, drawn + "."))
    datum = identity.datum
    where = f"All depths: {unit_of('depth', system)} MD below {datum.name}, {height_words(datum, system)}"
    shapes.append(Text(paper.right_mm, 23.7, fit(where, 110.0), anchor="end"))
    shapes.append(rule(25.3, HEAVY_MM, right=paper.right_mm))
    return Group("well", identity.name, tuple(shapes))


def name_lines(name: str, room_mm: float) -> list[Shape]:
    """The well's name as large as it fits: in one line, in two smaller ones, in three small ones."""
    if width_mm(name, LARGE_PT, True) <= room_mm:
        return [Text(LEFT_MM, 14.2, name, LARGE_PT, bold=True)]
    size_pt, pitch, lines = MEDIUM_PT, 3.9, wrap(name, room_mm, bold=True, size_pt=MEDIUM_PT)
    if len(lines) > 2:
        size_pt, pitch, lines = SMALL_PT, PITCH_MM, wrap(name, room_mm, bold=True)
    if len(lines) > 3:
        lines = (*lines[:2], fit(" ".join(lines[2:]), room_mm, SMALL_PT, True))
    first = 15.0 - pitch * (len(lines) - 1)
    return [Text(LEFT_MM, first + pitch * row, line, size_pt, bold=True) for row, line in enumerate(lines)]


def column_heads(evaluation: Evaluation, grid: Grid, system: System, *, listed: bool) -> Group:
    """One line of heads over the well zone; that of the findings where they are *listed*."""
    unit, at, left = unit_of("depth", system), places(grid), grid.parts_mm[0]
    y = 29.2
    shapes: list[Shape] = [
        *([Text(LEFT_MM, y, f"Depth, {unit}", bold=True)] if grid.strip else []),
        Text(at.md_mm, y, "MD" if grid.strip else f"MD, {unit}", bold=True, anchor="end"),
        Text(at.tvd_mm, y, "TVD", bold=True),
        Text(grid.labels_mm[0], y, "Strings, hole, cement", bold=True),
        Text(grid.axis_mm, y, "Well", bold=True, anchor="middle"),
        rule(30.9, FINE_MM, right=grid.paper.right_mm)
        if grid.strip
        else rule(30.9, FINE_MM, left=FAN_TO_MM, right=grid.parts_mm[1]),
    ]
    if listed:
        told = status(evaluation)
        told = f"Findings: {told}" if evaluation.findings else sentence_case(told)
        words = fit(told, grid.right_mm - left, SMALL_PT, True)
        shapes.append(Text(left, y, words, bold=True))
    if at.inclination_mm is not None:
        shapes.append(Text(at.inclination_mm, y, "\u00b0", bold=True, anchor="end"))
    return Group("", "column heads", tuple(shapes))
