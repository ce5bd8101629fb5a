"""What sheets that compare share: their head, a well drawn at its place on a common frame, its labels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.drawing import captions
from schematic.drawing.captions import PITCH_MM, SMALL_PT, height_words, wrap
from schematic.drawing.column import SCALE_CHANGES, column, half_width
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.grid import Grid, Paper, grid
from schematic.drawing.head import name_lines
from schematic.drawing.labels import place
from schematic.drawing.page import LEFT_MM, MEDIUM_PT, fit, rule
from schematic.drawing.palette import BLACK, BLUE, HEAVY_MM
from schematic.drawing.scene import Group, Path, Point, Scene, Shape, Text
from schematic.drawing.text import width_mm
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS, title_block
from schematic.units import System, unit_of

RULER_TO_MM = 41.0  # the ruler with its figures ends here
_LEADER_MM = 3.0


class Mark(NamedTuple):
    """A depth of a well that is labelled: its part, name and figures, and where on the paper it is."""

    part: str
    name: str
    figures: str
    md_m: float
    end_mm: float  # where its leader ends
    liner: bool  # a part of the liner: named in its colour


_SHOWS = "Shows the well after the job, straight along hole."


def head(evaluation: Evaluation, subject: str, system: System, paper: Paper, shows: str = _SHOWS) -> Group:
    """Name, subject, state and datum, over the heavy rule; *shows* says what is to be seen."""
    identity = evaluation.plan.identity
    room = paper.right_mm - LEFT_MM
    state = identity.standing.upper() + "."
    where = (
        f"All depths: {unit_of('depth', system)} MD below {identity.datum.name}, "
        f"{height_words(identity.datum, system)}"
    )
    beside = room - width_mm(where, SMALL_PT) - 4.0
    drawn = fit(shows, beside - width_mm(state, SMALL_PT, True) - 1.2)
    shapes: list[Shape] = [
        *name_lines(identity.name, room),
        Text(LEFT_MM, 19.3, fit(subject, room, MEDIUM_PT), MEDIUM_PT),
        Text(LEFT_MM, 23.7, state, bold=True),
        Text(LEFT_MM + width_mm(state, SMALL_PT, True) + 1.2, 23.7, drawn),
        Text(paper.right_mm, 23.7, fit(where, room - 20.0), anchor="end"),
        rule(25.3, HEAVY_MM, right=paper.right_mm),
    ]
    return Group("well", identity.name, tuple(shapes))


def plain_grid(paper: Paper) -> Grid:
    """A grid for the ruler alone."""
    return grid(
        paper,
        strip=True,
        leaning=False,
        volumes=False,
        pressure=False,
        path=False,
        caliper=False,
        rock=False,
    )


def page_scene(
    evaluation: Evaluation,
    groups: Sequence[Group],
    subject: str,
    frame: Frame | None,
    system: System,
    paper: Paper,
    place_of: tuple[int, int, str],
    shows: str = _SHOWS,
    *,
    scaled: bool = True,
) -> Scene:
    """A page with its head, which says what it *shows*, and its title block; *scaled*: page 1 has a well."""
    identity = evaluation.plan.identity
    page, count, what = place_of
    where = f"sheet {page} of {count}: {what}"
    block = title_block(evaluation, frame, system, paper, where, scaled=scaled)
    shown = (head(evaluation, subject, system, paper, shows), *groups, block)
    return Scene(
        paper.width_mm,
        paper.height_mm,
        f"{identity.name}, {what}, sheet {page} of {count}",
        f"{subject} of {identity.name}, file {identity.file_hash}. {CAUTION} {NOT_A_BASIS}",
        tuple(group for group in shown if group.shapes),
    )


def well(evaluation: Evaluation, frame: Frame, system: System, name: str) -> list[Group]:
    """The main column of a well at the axis of its frame, each group named after the way it belongs to.

    The frame may go on below the well; marks of the scale end with it.
    """
    depth = evaluation.plan.depth
    foot = frame.y(max(depth.td_md_m, depth.liner.shoe_md_m)) + ROCK_WIDTH_MM
    made = []
    for group in column(evaluation, frame, system).groups:
        if group.title == "Mud":
            continue
        shapes = group.shapes
        if group.title == SCALE_CHANGES:
            shapes = tuple(
                shape._replace(runs=tuple(run for run in shape.runs if run[0][1] < foot))
                for shape in shapes
                if isinstance(shape, Path)
            )
        if shapes:
            made.append(Group(group.part, f"{name}: {group.title}", shapes, group.description))
    return made


def below_what_sticks_out(evaluation: Evaluation, frame: Frame, reach_mm: float) -> float:
    """The level below a conductor that sticks out further than *reach_mm* from the axis; else the top."""
    wide = [
        string.shoe_md_m
        for string in evaluation.plan.depth.strings
        if half_width(evaluation, frame, string.shoe_md_m) + ROCK_WIDTH_MM > reach_mm
    ]
    return max((frame.y(md) + ROCK_WIDTH_MM + 1.0 for md in wide), default=frame.scale.levels_mm[0])


def reach_mm(evaluation: Evaluation, frame: Frame) -> float:
    """How far the well sticks out from its axis at most, its hatch counted."""
    depths = [string.shoe_md_m for string in evaluation.plan.depth.strings]
    return max(half_width(evaluation, frame, md) for md in depths) + ROCK_WIDTH_MM


def labels(
    marks: Sequence[Mark], frame: Frame, left_mm: float, right_mm: float, between_mm: tuple[float, float]
) -> list[Group]:
    """Labels beside a well, two lines each, with leaders from the left of the text to what is named."""
    ordered = sorted(marks, key=lambda mark: mark.md_m)
    texts = [
        [*wrap(mark.name, right_mm - left_mm, bold=True), *wrap(mark.figures, right_mm - left_mm)]
        for mark in ordered
    ]
    heights = [PITCH_MM * len(lines) for lines in texts]
    targets = [frame.y(mark.md_m) - 1.9 for mark in ordered]
    tops = place(targets, heights, *between_mm, captions.GAP_MM)
    made: list[list[Shape]] = []
    starts: list[Point] = []
    ends: list[Point] = []
    for mark, top, lines in zip(ordered, tops, texts, strict=True):
        bold = len(wrap(mark.name, right_mm - left_mm, bold=True))
        starts.append((left_mm - 0.6, top + 2.0 - captions.X_HEIGHT_MM))
        ends.append((mark.end_mm, frame.y(mark.md_m)))
        made.append(
            [
                Text(
                    left_mm,
                    top + 2.0 + PITCH_MM * row,
                    line,
                    bold=row < bold,
                    colour=BLUE if mark.liner and row < bold else BLACK,
                )
                for row, line in enumerate(lines)
            ]
        )
    as_labels = [
        captions.Label(mark.part, (mark.name,), 1, mark.md_m, mark.md_m, mark.end_mm) for mark in ordered
    ]
    return captions.with_leaders(as_labels, starts, ends, made, left_mm - _LEADER_MM)
