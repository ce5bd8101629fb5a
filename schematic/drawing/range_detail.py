"""A detail of any stretch of the well: all that lies in it by name, a ruler of depth on its left."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import CasingString
from schematic.drawing.captions import SMALL_PT, THIN
from schematic.drawing.column import half_width
from schematic.drawing.detail import Cut, Detail, stage, stages, well
from schematic.drawing.detail_parts import (
    Manner,
    PartWords,
    first_that_fits,
    heads_of,
    name_parts,
    part_words,
    signs,
)
from schematic.drawing.detail_rows import Row, most_rows, rows_column
from schematic.drawing.fills import Rect
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM
from schematic.drawing.palette import BLACK, FINE_MM, WHITE
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.text import width_mm
from schematic.units import FOOT_M, System, number, sentence_case, show, size, unit_of

_RULER_MM = 2.0
_TICK_MM = 0.8
_STEPS = tuple(count * 10.0**power for power in range(-2, 5) for count in (1, 2, 5))
_LEAST_STEP_MM = 6.0
_FLOOR_MM = 3.2  # rock below the hole
_TRIES = 6
_MANNERS = (
    (Manner(("top", "length", "OD", "ID"), short=False), Manner(("length", "OD", "ID"), short=False)),
    (Manner(("length", "OD", "ID")),),
    (Manner(sizes=True),),
    (Manner(),),
    (Manner(fewer=True),),
)


def range_detail(
    evaluation: Evaluation, top_md_m: float, bottom_md_m: float, rect: Rect, system: System, letter: str = "A"
) -> Detail:
    """What lies between two depths, in a rectangle from 60 x 52 mm up; what gives way where is as elsewhere.

    Raises
    ------
    ValueError
        When the rectangle has no room for any drawing.
    """
    lanes = _lanes_mm(bottom_md_m, system)
    ratios = stages(evaluation, rect, top_md_m, bottom_md_m, lanes)
    its = part_words(evaluation, system)

    def draw(ratio: int, manner: Manner) -> Detail | None:
        return _detail(evaluation, its, (top_md_m, bottom_md_m), rect, system, letter, ratio, manner)

    return first_that_fits(_MANNERS, ratios, draw, f"no detail of this range fits into {rect}")


def _lanes_mm(bottom_md_m: float, system: System) -> float:
    """Width of the ruler with its figures."""
    digits = "0" * len(number(bottom_md_m, "ruler", system)) + THIN + ".00"
    return width_mm(digits, SMALL_PT) + _TICK_MM + 0.5 + _RULER_MM + 0.6


def _detail(
    evaluation: Evaluation,
    its: tuple[PartWords, ...],
    ends: tuple[float, float],
    rect: Rect,
    system: System,
    letter: str,
    ratio: int,
    manner: Manner,
) -> Detail | None:
    depth = evaluation.plan.depth
    top, bottom = ends
    words = " to ".join(number(md, "depth", system, THIN) for md in ends)
    at_bottom = bottom >= max(depth.td_md_m, depth.liner.shoe_md_m) - 1e-6
    left_out = 0
    for _ in range(_TRIES):
        remarks = [*manner.words, *signs(its, top, bottom, manner)] if _any_part(evaluation, ends) else []
        if left_out:
            remarks.append(f"{left_out} more without a name here: see the tables")
        made = stage(
            evaluation,
            rect,
            letter=letter,
            words=f"{words} {unit_of('depth', system)} MD",
            top_md_m=top,
            bottom_md_m=bottom,
            floor_mm=_FLOOR_MM if at_bottom else 0.0,
            spare="none",
            remarks=tuple(sentence_case(text) for text in remarks),
            lanes_mm=_lanes_mm(bottom, system),
            ratio=ratio,
            system=system,
        )
        if made is None:
            return None
        named = name_parts(evaluation, its, made.cut, system, manner)
        rows = [
            *named.rows,
            *_string_rows(evaluation, made.cut, system),
            *_other_rows(evaluation, made.cut, system),
        ]
        heads = heads_of(manner.fields, system)
        placed = rows_column(rows, heads, made.names)
        if placed is None and manner.fewer:
            placed, dropped = most_rows(rows, heads, made.names, left_out)
            if dropped != left_out:
                left_out = dropped
                continue
        if placed is None:
            return None
        drawn = well(evaluation, made.cut, system)
        ruler = _ruler(made.cut, rect.left_mm + _lanes_mm(bottom, system) - 0.6, system)
        groups = (made.heading, *drawn, ruler, *named.in_bore, *placed, made.remarks)
        return Detail(groups, top, bottom, letter, made.cut.ratios, made.cut.frame)
    return None


def _any_part(evaluation: Evaluation, ends: tuple[float, float]) -> bool:
    parts = evaluation.plan.depth.liner.parts
    return any(part.top_md_m < ends[1] and part.bottom_md_m > ends[0] for part in parts)


def _ruler(cut: Cut, right_mm: float, system: System) -> Group:
    """Blocks of one equal depth, every other one black, their ends in figures."""
    unit = FOOT_M if system == "field" else 1.0
    y = cut.frame.y
    per_unit = (cut.bottom_mm - cut.top_mm) / (cut.bottom_md_m - cut.top_md_m) * unit
    step = next((step for step in _STEPS if step * per_unit >= _LEAST_STEP_MM), _STEPS[-1])
    left = right_mm - _RULER_MM
    first, last = cut.top_md_m / unit / step, cut.bottom_md_m / unit / step
    black: list[tuple[tuple[float, float], ...]] = []
    ticks: list[tuple[tuple[float, float], ...]] = []
    texts: list[Text] = []
    for n in range(int(first), int(last) + 1):
        high, low = max(n * step * unit, cut.top_md_m), min((n + 1) * step * unit, cut.bottom_md_m)
        if n % 2 == 0 and high < low:
            black.append(((left, y(high)), (right_mm, y(high)), (right_mm, y(low)), (left, y(low))))
        md = n * step * unit
        if cut.top_md_m - 1e-6 <= md <= cut.bottom_md_m + 1e-6:
            ticks.append(((left - _TICK_MM, y(md)), (left, y(md))))
            texts.append(
                Text(left - _TICK_MM - 0.5, y(md) + 0.8, number(md, "depth", system, THIN), anchor="end")
            )
    frame = ((left, cut.top_mm), (right_mm, cut.top_mm), (right_mm, cut.bottom_mm), (left, cut.bottom_mm))
    shapes: tuple[Shape, ...] = (
        Path((frame,), Style(stroke=BLACK, width_mm=FINE_MM, fill=WHITE), closed=True),
        Path(tuple(black), Style(fill=BLACK), closed=True),
        Path(tuple(ticks), Style(stroke=BLACK, width_mm=FINE_MM)),
        *texts,
    )
    return Group("", "Ruler of measured depth", shapes)


def _string_rows(evaluation: Evaluation, cut: Cut, system: System) -> list[Row]:
    """Strings in place: their pipe where they pass, their tops, shoes, couplings and bad stretches."""
    paper = cut.frame
    rows: list[Row] = []
    for string in evaluation.plan.depth.strings:
        high, low = max(string.top_md_m, cut.top_md_m), min(string.shoe_md_m, cut.bottom_md_m)
        if high > low:
            continue
        end = paper.axis_mm + paper.r(string.od_m)

        def at(md: float, words: str, rank: int, string: CasingString = string, end: float = end) -> None:
            if cut.top_md_m <= md <= cut.bottom_md_m:
                level = paper.y(md)
                figure = number(md, "tally", system, THIN)
                rows.append(Row(string.path, level, level, end, f"{words} {figure}", rank=rank))

        name, words = f"{string.name}, {string.label}", [f"bore {show(string.id_m, 'diameter', system)}"]
        if string.drift_m is not None:
            words.append(f"drift {show(string.drift_m, 'diameter', system)}")
        level, foot = paper.y(high), paper.y(low)
        rows.append(Row(string.path, level, foot, end, name, words=(", ".join(words),), bold=True, rank=1))
        if string.top_md_m > 1.0:
            at(string.top_md_m, f"top of {string.name}", 1)
        at(string.shoe_md_m, f"shoe of {string.name}", 1)
        if string.cement_top_md_m is not None:
            known = f", {string.cement_known_by}" if string.cement_known_by else ", basis not given"
            at(string.cement_top_md_m, f"top of cement of {string.name}{known}:", 2)
        for md in string.couplings_md_m:
            at(md, "coupling", 3)
        for feature in string.features or ():
            for md, word in ((feature.top_md_m, "from"), (feature.bottom_md_m, "to")):
                at(md, f"{feature.what} {word}", 2)
    return rows


def _other_rows(evaluation: Evaluation, cut: Cut, system: System) -> list[Row]:
    """Slips, hole, cement of this job, rock, the shoe of the liner."""
    plan, paper = evaluation.plan, cut.frame
    depth, axis = plan.depth, cut.frame.axis_mm
    liner = depth.liner
    rows: list[Row] = []

    def add(part: str, top: float, bottom: float, radius_mm: float, name: str, rank: int) -> None:
        high, low = max(top, cut.top_md_m), min(bottom, cut.bottom_md_m)
        if high <= low:
            rows.append(Row(part, paper.y(high), paper.y(low), axis + radius_mm, name, rank=rank))

    def told(md: float) -> str:
        return number(md, "tally", system, THIN)

    hanger = liner.find("liner hanger")
    if hanger is not None and hanger.slips_md_m is not None:
        top, bottom = hanger.slips_md_m
        add(
            hanger.path,
            0.5 * (top + bottom),
            bottom,
            paper.r(depth.host.id_m),
            f"slips {told(top)} to {told(bottom)}",
            2,
        )
    add(
        "liner.shoe",
        liner.shoe_md_m,
        liner.shoe_md_m,
        0.5 * paper.r(liner.od_m),
        f"liner shoe {told(liner.shoe_md_m)}",
        0,
    )
    for section in depth.hole.sections:
        sizes = depth.hole.diameter_m.clip(
            max(section.top_md_m, cut.top_md_m), min(section.bottom_md_m, cut.bottom_md_m)
        )
        if not sizes.values:
            continue
        least, most = min(sizes.values), max(sizes.values)
        basis = {"gauge": "", "washout": ", with washout", "caliper": ", by caliper"}[section.basis]
        words = " to ".join(dict.fromkeys(show(value, "diameter", system) for value in (least, most)))
        name = (
            f"{size(section.bit_m, system)} hole: {words}{basis}"
            if basis
            else f"{size(section.size_m, system)} hole"
        )
        add(section.path, sizes.top_m, sizes.bottom_m, paper.r(least), name, 3)
        end = section.bottom_md_m
        add(
            section.path,
            end,
            end,
            paper.r(sizes.values[-1]),
            f"end of {size(section.bit_m, system)} hole {told(end)}",
            3,
        )
    planned = plan.cement.planned_top_md_m
    if planned is not None:
        inside = planned < liner.top_md_m
        around = depth.host.id_m if planned <= depth.host.shoe_md_m else _hole_m(evaluation, planned)
        words = "planned top of cement" + (", to be reversed out:" if inside else "")
        add("cement.planned top", planned, planned, paper.r(around), f"{words} {told(planned)}", 2)
    for top_ in plan.formation.tops:
        md = top_.md_m
        add(
            "formation.tops",
            md,
            md,
            half_width(evaluation, paper, md) + 0.5 * ROCK_WIDTH_MM,
            f"{top_.name} {told(md)}",
            3,
        )
    return rows


def _hole_m(evaluation: Evaluation, md_m: float) -> float:
    hole = evaluation.plan.depth.hole.diameter_m
    return hole.at(min(max(md_m, hole.top_m), hole.bottom_m))
