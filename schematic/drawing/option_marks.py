"""What stands beside the well of an option: its key depths, its lap, the flags of its findings."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.comparison.compare import Alternative
from schematic.comparison.words import signed
from schematic.drawing.captions import SMALL_PT, THIN
from schematic.drawing.column import half_width
from schematic.drawing.comparison_page import Mark
from schematic.drawing.findings import FLAG_MM, flag
from schematic.drawing.flags import free, legs
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.palette import BLACK, FINE_MM
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.shared_findings import Letters
from schematic.drawing.text import box_mm, width_mm
from schematic.outcome import Figure, Found
from schematic.units import System, number
from schematic.wellfile.read import AS_WRITTEN

_TICK_MM = 0.8
_BORE_RULES = ("string-does-not-pass", "tally-does-not-close", "running-string-misses-liner-top")


def key_depths(one: Alternative, frame: Frame, system: System, base: Evaluation) -> list[Mark]:
    """The key depths of a well, with what they differ from those of the well as written."""
    evaluation = one.evaluation
    assert evaluation is not None
    plan = evaluation.plan
    depth, liner = plan.depth, plan.depth.liner
    old = base.plan
    made: list[Mark] = []

    def mark(part: str, name: str, md_m: float | None, was_m: float | None, end_r: float, ours: bool) -> None:
        if md_m is None:
            return
        figures = number(md_m, "depth", system, THIN)
        if was_m is not None and one.name != AS_WRITTEN:
            by = signed(Figure(was_m, "depth"), Figure(md_m, "depth"), system)
            if by:
                figures += f" ({by.rpartition(' ')[0].replace('-', chr(0x2212))})"
        made.append(Mark(part, name, figures, md_m, frame.axis_mm + end_r, ours))

    host_r = frame.r(depth.host.id_m)
    body = frame.r(liner.od_m)
    mark(
        "cement.planned top",
        "cement top",
        plan.cement.planned_top_md_m,
        old.cement.planned_top_md_m,
        host_r,
        False,
    )
    mark("liner", "liner top", liner.top_md_m, old.depth.liner.top_md_m, body, True)
    hanger = liner.find("liner hanger")
    if hanger is not None:
        middle = 0.5 * (hanger.top_md_m + hanger.bottom_md_m)
        figures = number(hanger.bottom_md_m, "depth", system, THIN)
        made.append(Mark(hanger.path, "hanger base", figures, middle, frame.axis_mm + body, True))
    mark(
        depth.host.path,
        "host shoe",
        depth.host.shoe_md_m,
        old.depth.host.shoe_md_m,
        frame.r(depth.host.od_m),
        False,
    )
    collar = liner.find("landing collar")
    if collar is not None:
        seat = "landing collar" + (", ball seat" if plan.job.seat == "landing collar" else "")
        was_collar = old.depth.liner.find("landing collar")
        mark(collar.path, seat, collar.top_md_m, was_collar.top_md_m if was_collar else None, body, True)
    mark("liner", "liner shoe", liner.shoe_md_m, old.depth.liner.shoe_md_m, body, True)
    if plan.job.seat == "running tool":
        made = [m._replace(name="liner top, ball seat in tool") if m.name == "liner top" else m for m in made]
    return made


def lap_dimension(evaluation: Evaluation, frame: Frame, system: System) -> Group:
    """The lap as a dimension line on the left of the well."""
    depth = evaluation.plan.depth
    top, bottom = frame.y(depth.liner.top_md_m), frame.y(min(depth.host.shoe_md_m, depth.liner.shoe_md_m))
    beside = [
        s.shoe_md_m for s in depth.strings if depth.liner.top_md_m <= s.shoe_md_m < depth.host.shoe_md_m
    ]
    beside += [depth.liner.top_md_m, depth.host.shoe_md_m - 1.0]
    widest = max(half_width(evaluation, frame, md) for md in beside)
    x = frame.axis_mm - widest - ROCK_WIDTH_MM - 1.2
    ends = tuple(((x - _TICK_MM, y), (x + _TICK_MM, y)) for y in (top, bottom))
    shapes: list[Shape] = [Path((((x, top), (x, bottom)), *ends), Style(stroke=BLACK, width_mm=FINE_MM))]
    words = f"lap {number(evaluation.laps.liner_top_m, 'depth', system, THIN)}"
    if width_mm(words, SMALL_PT, True) <= bottom - top - 0.6:
        shapes.append(Text(x - 0.9, 0.5 * (top + bottom), words, bold=True, anchor="middle", upward=True))
    return Group("liner.lap", f"Lap, {words}", tuple(shapes))


def option_flags(one: Alternative, frame: Frame, letters: Letters, written: Sequence[Group]) -> list[Group]:
    """A flag for each finding of the well, with the letter that it has in all wells."""
    evaluation = one.evaluation
    assert evaluation is not None
    lines = legs(written)
    boxes = [box_mm(s) for g in written for s in g.shapes if isinstance(s, Text)]
    placed: list[tuple[float, float]] = []
    groups = []
    axis, levels = frame.axis_mm, (frame.scale.levels_mm[0], frame.scale.levels_mm[-1])
    for outcome in evaluation.findings:
        found = outcome.answer
        assert isinstance(found, Found)
        md = min(max(found.at_md_m[0], 0.0), frame.scale.bottom_md_m) if found.at_md_m else 0.0
        flank = half_width(evaluation, frame, md) + ROCK_WIDTH_MM + FLAG_MM + 0.5
        columns = [axis, axis - 2.4, axis + 2.4]
        if outcome.rule not in _BORE_RULES:
            columns = [axis + flank, axis - flank, *columns]
        spot = free(columns, frame.y(md), levels, placed, lines, boxes)
        placed.append(spot)
        letter = letters[outcome.rule, outcome.subject.path]
        groups.append(
            Group(outcome.subject.path, f"{one.name}: finding {letter}", tuple(flag(*spot, letter, found)))
        )
    return groups
