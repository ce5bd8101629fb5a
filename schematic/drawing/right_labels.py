"""The right labels: the liner's parts with their figures, two lines each, and the shoe."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.captions import (
    ASSUMED,
    GAP_MM,
    PITCH_MM,
    SMALL_PT,
    THIN,
    X_HEIGHT_MM,
    Label,
    with_leaders,
    wrap,
)
from schematic.drawing.frame import Frame
from schematic.drawing.grid import Span
from schematic.drawing.labels import Wanted, place
from schematic.drawing.palette import BLUE, GREY
from schematic.drawing.scene import Group, Point, Shape, Text
from schematic.drawing.text import width_mm
from schematic.export.tables import part_name
from schematic.outcome import Figure
from schematic.units import System, number, sentence_case, unit_of

KNEE_MM = 3.0  # from the knee of the leaders to the names
_EDGES = (0.295, 0.596, 0.798, 1.0)  # of the width: the right edges of the columns of figures
_COLUMN_GAP_MM = 1.5
Figures = tuple[Figure | str, ...]


def right_labels(
    evaluation: Evaluation, frame: Frame, room_mm: float, system: System
) -> list[tuple[Label, Figures]]:
    """The liner's parts, each with its figures, and the shoe."""
    liner = evaluation.plan.depth.liner
    found: list[tuple[Label, Figures]] = []
    main = max(liner.parts, key=lambda part: part.length_m)
    collar = liner.find("landing collar") or liner.find("float collar")
    for part in liner.parts:
        name = part_name(part.kind, part.name, part.joints, part.rest_m, system)
        if part is main and part.kind == "joint":
            name += f" {liner.label}"
            if liner.connection:
                name += f", {liner.connection}"
        elif part.kind == "joint" and collar and part.top_md_m > collar.top_md_m and part.joints > 1:
            name += ", shoe track"
        if part.valves == 2:
            name += ", double valve"
        if part.seat_m is not None:
            name += ", ball seat"
        if part.hold_down:
            name += ", hold-down"
        outer = part.od_m if part.od_m is not None else liner.od_m
        slack = 0.5 if part.kind != "joint" or part.joints < 3 else 0.12
        low = part.top_md_m + slack * part.length_m
        high = part.bottom_md_m - slack * part.length_m
        bore: Figure | str = Figure(part.id_m, "diameter") if part.id_m is not None else "?"
        if part.seat_m is not None and part.id_m is None:
            bore = Figure(part.seat_m, "diameter")
        if part.id_m is None and part.kind in ("float shoe", "reamer shoe", "float collar"):
            bore = "valve"
        figures: tuple[Figure | str, ...] = (
            Figure(part.top_md_m, "tally"),
            Figure(part.length_m, "tally"),
            Figure(part.od_m, "diameter") if part.od_m is not None else "?",
            bore,
        )
        lines = wrap(name, room_mm, bold=True)
        found.append(
            (Label(part.path, lines, len(lines), low, high, frame.axis_mm + frame.r(outer)), figures)
        )
    return found


def _printed(evaluation: Evaluation, path: str, figures: Figures, system: System) -> tuple[str, ...]:
    """The figures of a part as they are printed, an assumed length with its sign."""
    liner = evaluation.plan.depth.liner
    words = [f if isinstance(f, str) else number(f.si, f.kind, system, THIN) for f in figures]
    if any(part.path == path and (part.length_assumed or liner.assembly_assumed) for part in liner.parts):
        words[1] = f"{ASSUMED}{words[1]}"
    return tuple(words)


def _edges(rows: Sequence[Sequence[str]], wanted: Sequence[float]) -> tuple[float, ...]:
    """The right edges of the columns: as wanted, or further left where the next column is wide."""
    edges = list(wanted)
    for i in range(len(edges) - 2, -1, -1):
        widest = max(width_mm(row[i + 1], SMALL_PT) for row in rows)
        edges[i] = min(edges[i], edges[i + 1] - widest - _COLUMN_GAP_MM)
    return tuple(edges)


def right_height(labels: Sequence[tuple[Label, Figures]]) -> float:
    """Height that the right column needs, with its head and the shoe's line."""
    return (
        sum((len(label.lines) + 1) * PITCH_MM for label, _ in labels)
        + GAP_MM * len(labels)
        + 3 * PITCH_MM
        + 2.3
    )


def right_column(
    evaluation: Evaluation,
    labels: Sequence[tuple[Label, Figures]],
    frame: Frame,
    column_mm: Span,
    top_mm: float,
    bottom_mm: float,
    system: System,
    *,
    with_shoe: bool,
) -> list[Group]:
    """The liner's parts in their places, with the head of the columns, leaders and, at its page, the shoe."""
    liner = evaluation.plan.depth.liner
    parts = [label for label, _figures in labels]
    printed = {label.part: _printed(evaluation, label.part, figures, system) for label, figures in labels}
    left_mm, right_mm = column_mm
    if not labels:
        return []
    edges = _edges(list(printed.values()), [left_mm + share * (right_mm - left_mm) for share in _EDGES])
    heights = [(len(label.lines) + 1) * PITCH_MM for label in parts]
    targets: list[float | Wanted] = [
        Wanted(frame.y(label.low_md_m) - 0.5 * height, frame.y(label.high_md_m) - 0.5 * height)
        for label, height in zip(parts, heights, strict=True)
    ]
    first = top_mm + 2 * PITCH_MM + 0.8
    tops = place(targets, heights, first, bottom_mm - PITCH_MM - 0.4, GAP_MM)
    starts: list[Point] = []
    ends: list[Point] = []
    texts: list[list[Shape]] = []
    reached = 0.0
    for (label, _figures), top in zip(labels, tops, strict=True):
        shapes: list[Shape] = [
            Text(left_mm, top + 2.1 + PITCH_MM * row, line, bold=True, colour=BLUE)
            for row, line in enumerate(label.lines)
        ]
        base = top + 2.1 + PITCH_MM * len(label.lines)
        for edge, text in zip(edges, printed[label.part], strict=True):
            shapes.append(Text(edge, base, text, anchor="end"))
        start_y = top + 2.1 - X_HEIGHT_MM
        starts.append((left_mm - 0.6, start_y))
        low, high = frame.y(label.low_md_m), frame.y(label.high_md_m)
        reached = max(min(max(start_y, low), high), reached)
        ends.append((label.end_mm, reached))
        texts.append(shapes)
    groups = with_leaders(parts, starts, ends, texts, left_mm - KNEE_MM)
    head_y = tops[0] - PITCH_MM - 1.2
    words: list[Shape] = [
        Text(
            left_mm,
            head_y,
            next(
                (
                    head
                    for head in (f"{sentence_case(liner.name)}, from the top down", sentence_case(liner.name))
                    if width_mm(head, SMALL_PT, bold=True) <= right_mm - left_mm
                ),
                "Liner, from the top down",
            ),
            bold=True,
        )
    ]
    depth_unit, diameter_unit = unit_of("depth", system), unit_of("diameter", system)
    heads = (f"top, {depth_unit}", "length", "OD", f"ID, {diameter_unit}")
    for edge, word in zip(_edges([heads], edges), heads, strict=True):
        words.append(Text(edge, head_y + PITCH_MM, word, colour=GREY, anchor="end"))
    groups.append(Group("liner", sentence_case(liner.name), tuple(words)))
    if not with_shoe:
        return groups
    y = tops[-1] + heights[-1] + 0.4 + 2.1
    shoe = (
        Text(left_mm, y, "Liner shoe", bold=True, colour=BLUE),
        Text(
            right_mm,
            y,
            number(liner.shoe_md_m, "tally", system, THIN),
            bold=True,
            colour=BLUE,
            anchor="end",
        ),
    )
    groups.append(Group("liner.shoe", "Liner shoe", shoe))
    return groups
