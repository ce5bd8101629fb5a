"""Detail of the true path: the vertical section of a deviated well, one scale both ways, events named."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.section import (
    LEANS_RAD,
    Plane,
    aside_m,
    sampled_md_m,
    section_plane,
    turn_rad,
)
from schematic.depth.survey import SurveyPath
from schematic.drawing.captions import DOT_MM, PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.curve_names import BASE_MM, Ground, Line, Name, Placed, place_more, place_names
from schematic.drawing.detail import mark
from schematic.drawing.fills import Rect
from schematic.drawing.palette import BLACK, BLUE, FINE_MM, GREY
from schematic.drawing.path_events import Event, events
from schematic.drawing.plan_view import PlanView, find_place, plan_view
from schematic.drawing.scene import Dots, Group, Path, Point, Shape, Style, Text
from schematic.drawing.section_plot import TVD_MM, Plot, axes, half_mm, offsets_mm_of, plot_of, strings
from schematic.drawing.text import width_mm
from schematic.units import System, number, show, unit_of

_ONE_PLACE_MM = 1.0  # events nearer than this stand in one block
_FAR_MM, _NEAR_MM = 60.0, 16.0  # how far what is wanted, and what is not, may be led
_WIDEST_NAME = 0.6  # of the width: longer names of rock are left to the other drawings
_TURNS_RAD = math.radians(10.0)
_NO_METRE = 1.0  # out of the plane by less: nothing is lost
_SHARES = (  # of the room, for the path, and what stays free below it
    (1.0, 3.2),
    (1.0, 6.2),
    (0.88, 6.2),
    (0.76, 6.2),
    (0.64, 6.2),
    (0.52, 6.2),
    (0.42, 6.2),
)
_WITH_VIEW = _SHARES[:4]  # less for the sake of a view from above would hide the section


class _Drawn(NamedTuple):
    """A try: the plot, what is taken, the view from above, the names, what found no place."""

    plot: Plot
    offsets_mm: tuple[float, ...]
    view: PlanView | None
    names: list[Placed]
    untold: tuple[Event, ...]


def leans(evaluation: Evaluation) -> bool:
    """Whether the well leaves the vertical by more than 5 degrees."""
    return max(row[1] for row in evaluation.plan.depth.path.stations) > LEANS_RAD


def section_view(evaluation: Evaluation, rect: Rect, system: System, letter: str) -> list[Group]:
    """The section in a rectangle; nothing for a well that stays within 5 degrees of vertical."""
    if not leans(evaluation):
        return []
    depth = evaluation.plan.depth
    bottom = max(depth.td_md_m, depth.liner.shoe_md_m)
    plane = section_plane(depth.path, bottom)
    turns = turn_rad(depth.path, bottom) > _TURNS_RAD
    named, untold = events(evaluation, system), ""
    drawn = None
    while drawn is None or drawn.untold:
        if drawn is not None:  # told below the drawing, which has less room then
            named = [event for event in named if event not in drawn.untold]
            untold = "; ".join(filter(None, [untold, *(", ".join(event.words) for event in drawn.untold)]))
        words = _words(depth.path, plane, bottom, system, untold)
        foot = wrap(words, rect.right_mm - rect.left_mm)
        drawn = _best(evaluation, rect, plane, _floor(rect, foot), named, turns=turns)
    plot, floor = drawn.plot, _floor(rect, foot)
    shapes, free, base = mark(letter, "True path", rect)
    ratio = f"1:{plot.ratio:,}".replace(",", THIN)
    unit = unit_of("depth", system)
    for text in (
        f"vertical section {ratio} both ways; {unit}",
        f"{ratio} both ways; {unit}",
        f"{ratio}; {unit}",
    ):
        if free + width_mm(text, SMALL_PT) <= rect.right_mm:
            shapes.append(Text(free, base, text))
            break
    shapes += [
        Text(rect.left_mm, floor + 2.9 + PITCH_MM * n, line, colour=GREY) for n, line in enumerate(foot)
    ]
    groups = [
        Group("survey", f"Detail {letter}: true path", tuple(shapes)),
        axes(plot, rect, floor, system),
        *strings(evaluation, plot, drawn.offsets_mm),
    ]
    if drawn.view:
        liner = (depth.liner.top_md_m, depth.liner.shoe_md_m)
        groups.append(plan_view(drawn.view, depth.path, plot.marks(0.0, bottom), liner, plane.azimuth_rad))
    return [*groups, *(group for placed in drawn.names for group in _named(placed))]


def _words(path: SurveyPath, plane: Plane, bottom_md_m: float, system: System, untold: str) -> str:
    """What the section is a section of, what it does not show, what of its names has no room on it."""
    marks = sampled_md_m(path, 0.0, bottom_md_m, 30.0)
    off = max(abs(aside_m(path, md, plane.azimuth_rad)) for md in marks)
    azimuth = number(plane.azimuth_rad % math.tau, "inclination", system)
    aside = (
        f"; a projection, the path is up to {show(off, 'ruler', system, THIN)} aside"
        if off > _NO_METRE
        else ""
    )
    words = (
        f"Plane at {azimuth}\u00b0, from wellhead to {plane.through}{aside}. Depths of names: MD. "
        "Widths not to scale."
    )
    return f"No room to name: {untold}. {words}" if untold else words


def _floor(rect: Rect, foot: Sequence[str]) -> float:
    """Where the drawing ends and the words below it begin."""
    return rect.bottom_mm - PITCH_MM * len(foot) - 0.8


def _best(
    evaluation: Evaluation, rect: Rect, plane: Plane, floor_mm: float, named: list[Event], *, turns: bool
) -> _Drawn:
    """The largest drawing round which everything has its place, or the one with fewest names left over."""
    tries: list[_Drawn] = []
    for with_view in (True, False) if turns else (False,):
        for share in _WITH_VIEW if with_view else _SHARES:
            made = _try(evaluation, rect, plane, floor_mm, share, named, turns=with_view)
            if not made.untold and (made.view or not with_view):
                return made
            tries.append(made)
    return min(tries, key=lambda made: len(made.untold))


def _try(
    evaluation: Evaluation,
    rect: Rect,
    plane: Plane,
    floor_mm: float,
    share: tuple[float, float],
    named: list[Event],
    *,
    turns: bool,
) -> _Drawn:
    """The section drawn over a share of its room, with what found a place round it."""
    depth = evaluation.plan.depth
    plot = plot_of(evaluation, rect, plane, floor_mm, share)
    offsets = offsets_mm_of(evaluation, plot)
    ground = Ground(Rect(rect.left_mm + TVD_MM, plot.top_mm, rect.right_mm, floor_mm))
    ends = {
        md for s in depth.strings for md in (s.top_md_m, s.shoe_md_m + 1e-6) if 0.0 < md < plot.bottom_md_m
    }
    marks = tuple(sorted({*plot.marks(0.0, plot.bottom_md_m), *ends}))
    halves = [half_mm(depth.strings, offsets, md) for md in marks]
    ground.draw([plot.at(md) for md in marks], halves)
    beside = max(plot.at(md)[0] for md in marks)
    view = find_place(depth.path, marks, plot.ratio, ground, beside) if turns else None
    room = _WIDEST_NAME * (rect.right_mm - rect.left_mm)
    blocks = [
        block
        for block in _blocks(named, plot)
        if block[0].wanted or max(width_mm(w, SMALL_PT) for e in block for w in e.words) <= room
    ]
    blocks.sort(key=lambda block: (not block[0].wanted, not any(event.bold for event in block)))
    names = [
        Name(
            tuple(Line(w, e.bold, e.part, plot.at(e.md_m)) for e in block for w in e.words),
            half_mm(depth.strings, offsets, block[0].md_m),
            _FAR_MM if block[0].wanted else _NEAR_MM,
        )
        for block in blocks
    ]
    first = sum(block[0].wanted for block in blocks)
    boxes = [view.box] if view else []
    found = place_names(names[:first], ground, boxes)
    untold = tuple(
        event for block, spot in zip(blocks, found, strict=False) if spot is None for event in block
    )
    placed = [spot for spot in found if spot]
    if not untold:
        placed += place_more(names[first:], ground, boxes, placed)
    return _Drawn(plot, offsets, view, placed, untold)


def _blocks(named: list[Event], plot: Plot) -> list[list[Event]]:
    """Events that fall together on paper as one block; what is wanted does not share with what is not."""
    blocks: list[list[Event]] = []
    for event in named:
        last = blocks[-1][0] if blocks else None
        if (
            last is not None
            and last.wanted == event.wanted
            and math.dist(plot.at(last.md_m), plot.at(event.md_m)) < _ONE_PLACE_MM
        ):
            blocks[-1].append(event)
        else:
            blocks.append([event])
    return blocks


def _named(placed: Placed) -> list[Group]:
    """A block of names, each a group with its point; the leader goes on from the first to the next."""
    groups = []
    left, top, right, _bottom = placed.box
    reached: Point | None = None
    for row, line in enumerate(placed.name.lines):
        shapes: list[Shape] = []
        if line.point != reached:
            run = placed.leader if reached is None else (reached, line.point)
            shapes.append(Path((run,), Style(stroke=GREY, width_mm=FINE_MM)))
            shapes.append(Dots((line.point,), DOT_MM, Style(fill=BLACK)))
            reached = line.point
        base = top + BASE_MM + PITCH_MM * row
        x = left if placed.rightward else right - width_mm(line.text, SMALL_PT, line.bold)
        shapes.append(
            Text(x, base, line.text, bold=line.bold, colour=BLUE if line.bold else BLACK, backed=True)
        )
        groups.append(Group(line.part, line.text, tuple(shapes)))
    return groups
