"""What the details share: one true scale of depth in a rectangle, the well cut to it, its title.

The well is the main column itself on another scale: same shapes, same fills, nothing stretched.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal, NamedTuple

from schematic.checks.evaluate import Evaluation
from schematic.depth.plan import LinerPart
from schematic.drawing.captions import PITCH_MM, SMALL_PT, THIN, wrap
from schematic.drawing.clip import clipped
from schematic.drawing.column import column
from schematic.drawing.detail_rows import NamesColumn
from schematic.drawing.fills import Rect, zigzag
from schematic.drawing.frame import Frame
from schematic.drawing.glyphs_well import ROCK_WIDTH_MM, casing_coupling
from schematic.drawing.page import MEDIUM_PT
from schematic.drawing.palette import BLACK, FINE_MM, OUTLINE_MM, WHITE
from schematic.drawing.scale import true_scale
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.section import both
from schematic.drawing.text import width_mm
from schematic.units import System, sentence_case, show, unit_of

RATIOS = (2, 3, 4, 5, 6, 8, 9, 10, 12, 16, 20, 25, 32, 40, 50, 64, 80, 100)  # of diameters
TITLE_MM = 5.2  # height of the title's line
HATCH_MM = ROCK_WIDTH_MM + 0.5
_MARGIN_MM = 8.0  # drawn beyond each cut and clipped: more than any mark of fixed size
_SQUARE_MM = 3.8
_LEAST_RANGE_M = 1e-3
_WIDEST = 0.5  # of the width: the well with its hatch
_LEAST_WELL_MM = 11.0  # across; a smaller drawing is no detail
_LEAST_HEIGHT_MM = 12.0
_CUT_MM = 1.4  # above and below the well: the zig-zags of its ends
_KNEE_MM, _TEXT_MM = 1.6, 2.8  # from the hatch to the knee of the leaders, from there to the names


class Detail(NamedTuple):
    """A detail as groups, what of the well it shows, and at which scales.

    *frame* tells the level of a depth and the radius of a diameter.
    """

    groups: tuple[Group, ...]
    top_md_m: float
    bottom_md_m: float
    letter: str
    ratios: str  # "depth 1:400, diameters 1:9"
    frame: Frame


class Cut(NamedTuple):
    """The well between two depths at true scale."""

    frame: Frame
    depth_ratio: int
    top_md_m: float
    bottom_md_m: float
    half_mm: float  # from the axis to the edge of the hatch

    @property
    def top_mm(self) -> float:
        """Level of the upper cut."""
        return self.frame.y(self.top_md_m)

    @property
    def bottom_mm(self) -> float:
        """Level of the lower cut."""
        return self.frame.y(self.bottom_md_m)

    @property
    def ratios(self) -> str:
        """Both scales in words."""
        depth = f"{self.depth_ratio:,}".replace(",", THIN)
        return f"depth 1:{depth}, diameters 1:{self.frame.ratio}"


def depth_ratio(length_m: float, height_mm: float) -> int:
    """N of the largest depth scale 1:N of two figures at which a length fits into a height."""
    least = 1000.0 * max(length_m, _LEAST_RANGE_M) / height_mm
    step = 10 ** max(math.floor(math.log10(least)) - 1, 0) if least >= 1.0 else 1
    return max(math.ceil(least / step - 1e-9) * step, 1)


def widest_m(evaluation: Evaluation, top_md_m: float, bottom_md_m: float) -> float:
    """The greatest radius of hole and steel between two depths."""
    depth = evaluation.plan.depth
    hole = depth.hole.diameter_m.within(top_md_m, bottom_md_m)
    sizes = [size for above, below, size in hole if above <= bottom_md_m and below >= top_md_m]
    sizes += [
        max(string.od_m, string.coupling_od_m or 0.0)
        for string in depth.strings
        if string.top_md_m <= bottom_md_m and string.shoe_md_m >= top_md_m
    ]
    sizes += [
        max(part.od_m or 0.0, part.coupling_od_m or 0.0)
        for part in depth.liner.parts
        if part.top_md_m <= bottom_md_m and part.bottom_md_m >= top_md_m
    ]
    return 0.5 * max(sizes, default=depth.liner.od_m)


def cut(
    evaluation: Evaluation,
    top_md_m: float,
    bottom_md_m: float,
    *,
    axis_mm: float,
    top_mm: float,
    ratio: int,
    depth_ratio: int,
    system: System,
) -> Cut:
    """The frame of a stretch of the well with its top at a level. What is a little beyond is drawn as well,
    so that no shape is squeezed at the cut.
    """
    per_m = 1000.0 / depth_ratio
    low, high = top_md_m - _MARGIN_MM / per_m, bottom_md_m + _MARGIN_MM / per_m
    for part in evaluation.plan.depth.liner.parts:
        across = part.top_md_m < high and part.bottom_md_m > low
        if across and part.kind != "joint" and part.length_m <= 2.0 * (bottom_md_m - top_md_m):
            low, high = min(low, part.top_md_m), max(high, part.bottom_md_m)
    scale = true_scale(low, high, top_mm - (top_md_m - low) * per_m, top_mm + (high - top_md_m) * per_m)
    paper = Frame(scale, "true", ratio, axis_mm, system)
    half = widest_m(evaluation, top_md_m, bottom_md_m) * 1000.0 / ratio + HATCH_MM
    return Cut(paper, depth_ratio, top_md_m, bottom_md_m, half)


def well(evaluation: Evaluation, cut_: Cut, system: System) -> list[Group]:
    """The main column between the cuts, couplings of the strings where they are known, and the cut ends."""
    paper = cut_.frame
    drawn = column(_excerpt(evaluation, paper), paper, system).groups
    names = {  # a run of joints is cut to the paper: its name tells its whole length
        part.path: f"{sentence_case(part.name)}, {show(part.length_m, 'tally', system)}"
        for part in evaluation.plan.depth.liner.parts
    }
    groups = [_wordless(group, names.get(group.part, group.title)) for group in drawn]
    for string in evaluation.plan.depth.strings:
        shapes: list[Shape] = []
        for md in string.couplings_md_m:
            if cut_.top_md_m <= md <= cut_.bottom_md_m:
                shapes += host_coupling(string.od_m, string.id_m, string.coupling_od_m, paper, md)
        groups.append(Group(string.path, f"Couplings of {string.name}", tuple(shapes)))
    kept = clipped(tuple(groups), cut_.top_mm, cut_.bottom_mm)
    return [*kept, Group("", "cut ends", _cut_ends(evaluation, cut_))]


def _wordless(group: Group, title: str) -> Group:
    """A group without its texts, under another title: a detail has words of its own."""
    shapes = tuple(shape for shape in group.shapes if not isinstance(shape, Text))
    return Group(group.part, title, shapes, group.description)


def host_coupling(
    od_m: float, id_m: float, coupling_m: float | None, paper: Frame, md_m: float
) -> tuple[Shape, ...]:
    """A coupling of a string in place; of one whose OD is not given, only where it is."""
    if coupling_m is not None:
        return casing_coupling(paper.axis_mm, paper.y(md_m), paper.r(od_m), paper.r(coupling_m))
    line = ((paper.r(id_m), paper.y(md_m)), (paper.r(od_m), paper.y(md_m)))
    return (both(paper.axis_mm, [line], Style(stroke=BLACK, width_mm=OUTLINE_MM), closed=False),)


def _excerpt(evaluation: Evaluation, paper: Frame) -> Evaluation:
    """The well with runs of joints no longer than the paper: their couplings stay where they are."""
    depth = evaluation.plan.depth
    parts = tuple(_fewer_joints(part, paper) for part in depth.liner.parts)
    strings = tuple(string._replace(couplings_md_m=()) for string in depth.strings)  # drawn here
    short = replace(depth, liner=depth.liner._replace(parts=parts), strings=strings)
    return replace(evaluation, plan=replace(evaluation.plan, depth=short))


def _fewer_joints(part: LinerPart, paper: Frame) -> LinerPart:
    low, high = paper.scale.top_md_m, paper.scale.bottom_md_m
    if part.kind != "joint" or part.joints < 2 or part.top_md_m >= high or part.bottom_md_m <= low:
        return part
    each = part.length_m / part.joints
    first = min(max(math.floor((low - part.top_md_m) / each), 0), part.joints - 1)
    last = max(min(math.ceil((high - part.top_md_m) / each), part.joints), first + 1)
    return part._replace(
        top_md_m=part.top_md_m + first * each, bottom_md_m=part.top_md_m + last * each, joints=last - first
    )


def _cut_ends(evaluation: Evaluation, cut_: Cut) -> tuple[Shape, ...]:
    """A line with zig-zags right across wherever the well goes on: what is beyond is not drawn."""
    depth = evaluation.plan.depth
    ends = []
    if cut_.top_md_m > 1e-6:
        ends.append(cut_.top_mm)
    if cut_.bottom_md_m < max(depth.td_md_m, depth.liner.shoe_md_m) - 1e-6:
        ends.append(cut_.bottom_mm)
    axis, half = cut_.frame.axis_mm, cut_.half_mm
    marks = (axis - half + 1.3, axis, axis + half - 1.3)
    runs = tuple(zigzag(axis - half - 0.7, axis + half + 0.7, y, marks) for y in ends)
    return (Path(runs, Style(stroke=BLACK, width_mm=FINE_MM)),) if runs else ()


class Stage(NamedTuple):
    """Where everything of a detail stands: title, well, names to its right, remarks below."""

    heading: Group
    cut: Cut
    left_mm: float  # the edge of the hatch, where extension lines end
    names: NamesColumn
    remarks: Group


def stages(
    evaluation: Evaluation, rect: Rect, top_md_m: float, bottom_md_m: float, lanes_mm: float
) -> list[int]:
    """The ratios of diameters to try, the largest drawing first: the well takes at most half of the width."""
    width = widest_m(evaluation, top_md_m, bottom_md_m) * 2000.0
    room = min(_WIDEST * (rect.right_mm - rect.left_mm), rect.right_mm - rect.left_mm - lanes_mm - 20.0)
    fit = [ratio for ratio in RATIOS if width / ratio + 2 * HATCH_MM <= room]
    seen = [ratio for ratio in fit if width / ratio >= _LEAST_WELL_MM]
    return seen or fit[:1] or [RATIOS[-1]]


def stage(
    evaluation: Evaluation,
    rect: Rect,
    *,
    letter: str,
    words: str,
    top_md_m: float,
    bottom_md_m: float,
    floor_mm: float,
    spare: Literal["above", "below", "none"],
    remarks: tuple[str, ...],
    lanes_mm: float,
    ratio: int,
    system: System,
) -> Stage | None:
    """A rectangle shared out; None where no height is left for the well.

    *floor_mm* stays free below the well; what the rounded scale leaves over shows more of the well above
    or below, or stays white.
    """
    shapes, foot_mm = foot(remarks, rect)
    _words, top_mm = title(letter, words, "depth 1:10\u2009000, diameters 1:100", rect, system)
    top_mm += _CUT_MM
    height = foot_mm - _CUT_MM - 0.4 - top_mm
    if height - floor_mm < _LEAST_HEIGHT_MM:
        return None
    n = depth_ratio(bottom_md_m - top_md_m, height - floor_mm)
    over_m = (height - floor_mm) * n / 1000.0 - (bottom_md_m - top_md_m)
    deepest = max(evaluation.plan.depth.td_md_m, evaluation.plan.depth.liner.shoe_md_m)
    if spare == "above":
        over_m = min(over_m, top_md_m)
        top_md_m -= over_m
    elif spare == "below":
        bottom_md_m = max(min(bottom_md_m + over_m, deepest), bottom_md_m)
    half = widest_m(evaluation, top_md_m, bottom_md_m) * 1000.0 / ratio + HATCH_MM
    axis = rect.left_mm + lanes_mm + half + 0.8
    made = cut(
        evaluation,
        top_md_m,
        bottom_md_m,
        axis_mm=axis,
        top_mm=top_mm,
        ratio=ratio,
        depth_ratio=n,
        system=system,
    )
    heading, _below = title(letter, words, made.ratios, rect, system)
    knee = axis + half + _KNEE_MM
    names = NamesColumn(knee, knee + _TEXT_MM, rect.right_mm, top_mm - 1.2, foot_mm - 0.4)
    return Stage(heading, made, axis - half, names, Group("", "Remarks on the detail", tuple(shapes)))


def mark(letter: str, words: str, rect: Rect) -> tuple[list[Shape], float, float]:
    """The letter of a detail on black and its name; where the rest of the line may start; its baseline."""
    x, y = rect.left_mm, rect.top_mm
    square = ((x, y), (x + _SQUARE_MM, y), (x + _SQUARE_MM, y + _SQUARE_MM), (x, y + _SQUARE_MM))
    base = y + 3.05
    shapes: list[Shape] = [
        Path((square,), Style(fill=BLACK), closed=True),
        Text(x + 0.5 * _SQUARE_MM, base - 0.3, letter, bold=True, colour=WHITE, anchor="middle"),
        Text(x + _SQUARE_MM + 1.6, base, words, size_pt=MEDIUM_PT, bold=True),
    ]
    return shapes, x + _SQUARE_MM + 1.6 + width_mm(words, MEDIUM_PT, bold=True) + 2.2, base


def title(letter: str, words: str, ratios: str, rect: Rect, system: System) -> tuple[Group, float]:
    """The line above a detail and the level below it; the scales take a line of their own where they must."""
    shapes, free, base = mark(letter, words, rect)
    x, below = rect.left_mm, rect.top_mm + TITLE_MM
    units = f"{unit_of('tally', system)} and {unit_of('diameter', system)}"
    for text in (
        f"linear: {ratios}; {units}",
        f"linear: {ratios}",
        ratios.replace("diameters", "dia."),
    ):
        if free + width_mm(text, SMALL_PT) <= rect.right_mm:
            shapes.append(Text(free, base, text))
            break
    else:
        shapes.append(Text(x, below + 1.7, f"linear: {ratios}"))
        below += PITCH_MM
    return Group("", f"Detail {letter}: {words}", tuple(shapes)), below


def foot(texts: tuple[str, ...], rect: Rect) -> tuple[list[Shape], float]:
    """Remarks under a detail, as one text wrapped to its width, and the level above them."""
    lines = wrap(". ".join(texts), rect.right_mm - rect.left_mm) if texts else ()
    top = rect.bottom_mm - PITCH_MM * len(lines)
    shapes: list[Shape] = [
        Text(rect.left_mm, top + 2.15 + PITCH_MM * row, line) for row, line in enumerate(lines)
    ]
    return shapes, top
