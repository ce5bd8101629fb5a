"""The details of a sheet in their places, and what ties each to its range beside the depths."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.across_view import across_hanger, across_hole, lying
from schematic.drawing.detail import Detail
from schematic.drawing.fills import Rect
from schematic.drawing.frame import Frame
from schematic.drawing.grid import MARGIN_MM, Grid, Paper
from schematic.drawing.job_zone import JOB_MM, job_row
from schematic.drawing.liner_top_detail import liner_top_detail
from schematic.drawing.palette import BLACK, FINE_MM, LIGHT_GREY, OUTLINE_MM, WHITE
from schematic.drawing.range_detail import range_detail
from schematic.drawing.scene import Group, Path, Shape, Style, Text
from schematic.drawing.section_view import leans, section_view
from schematic.drawing.shoe_track_detail import shoe_track_detail
from schematic.drawing.text import Box, box_mm
from schematic.drawing.zones import abreast, stacked
from schematic.units import System

Cut = Callable[[Evaluation, Rect, System, str], list[Group]]

_LETTERS = "CDE"
_WIDE_FROM_MM = 400.0  # of height: paper with room for one detail more
_ROW_MM = 46.0
_TOP_MM = 32.0
_SQUARE_MM = 2.3
_LANE_MM = 3.2  # from the bracket to the labels
_TICK_MM = 0.4
_GAP_MM = 4.0


def _cuts(evaluation: Evaluation, system: System) -> list[Cut]:
    """What this well is cut across and seen from the side at: nothing that would be empty."""
    hanger = evaluation.plan.depth.liner.find("liner hanger")
    cuts: list[Cut] = [section_view] if leans(evaluation) else []
    if lying(evaluation, system) is not None:
        cuts.append(across_hole)
    if hanger is not None and hanger.od_m is not None and hanger.od_m < evaluation.plan.depth.host.id_m:
        cuts.append(across_hanger)
    return cuts


def detail_count(evaluation: Evaluation, paper: Paper, system: System) -> int:
    """How many details stand beside the well: liner top, shoe track, true path; on wide paper one more."""
    beside = 3 if leans(evaluation) else 2
    wide = not paper.landscape and paper.height_mm >= _WIDE_FROM_MM
    return min(beside + int(wide), 2 + len(_cuts(evaluation, system)))


def draw_details(
    evaluation: Evaluation, places: tuple[Rect, ...], system: System
) -> tuple[list[Group], list[Detail]]:
    """The details from A on as far as there are places, uprights between them; A and B for their ties."""
    a = liner_top_detail(evaluation, places[0], system, "A")
    b = shoe_track_detail(evaluation, places[1], system, "B")
    groups = [*a.groups, *b.groups]
    for letter, place, draw in zip(_LETTERS, places[2:], _cuts(evaluation, system), strict=False):
        groups += draw(evaluation, place, system, letter)
    return [*groups, _uprights(places)], [a, b]


def _uprights(places: Sequence[Rect]) -> Group:
    """Thin lines between details that stand side by side."""
    lines = tuple(
        (
            (left.right_mm + 0.5 * _GAP_MM, left.top_mm + 2.0),
            (left.right_mm + 0.5 * _GAP_MM, left.bottom_mm - 1.0),
        )
        for left, right in zip(places, places[1:], strict=False)
        if right.left_mm > left.right_mm
    )
    return Group("", "details", (Path(lines, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),))


def more_cuts(
    evaluation: Evaluation, system: System, paper: Paper, drawn: int, top_mm: float
) -> tuple[list[Group], float, Rect | None]:
    """The cuts for which there was no place beside the well, in a row; where it ends; what of it is free."""
    left = list(zip(_LETTERS, _cuts(evaluation, system), strict=False))[max(drawn - 2, 0) :]
    if not left:
        return [], top_mm, None
    row = Rect(MARGIN_MM, top_mm, paper.right_mm, top_mm + _ROW_MM)
    places = abreast(row, max(len(left), 2))
    groups: list[Group] = []
    for (letter, draw), place in zip(left, places, strict=False):
        groups += draw(evaluation, place, system, letter)
    free = places[len(left)] if len(left) < len(places) else None
    return [*groups, _uprights(places[: len(left)])], row.bottom_mm, free


def details_page(
    evaluation: Evaluation, system: System, paper: Paper, *, with_job: bool, fitted: bool
) -> tuple[list[Group], list[Detail]]:
    """A page of details, with the job below where the first page has no room."""
    bottom = paper.title_mm - (JOB_MM + 4.0 if with_job else 5.0)
    rect = Rect(MARGIN_MM, _TOP_MM, paper.right_mm, bottom)
    count = 2 + len(_cuts(evaluation, system))
    across = 2 if not paper.landscape else 3 if paper.height_mm < _WIDE_FROM_MM or count < 5 else 5
    rows = -(-count // across)
    places = tuple(place for row in stacked(rect, rows) for place in abreast(row, across))
    groups, ties = draw_details(evaluation, places, system)
    if not with_job:
        return groups, ties
    job = job_row(evaluation, system, paper, paper.title_mm - JOB_MM, fitted=fitted)
    return [*groups, *job], ties


def range_page(
    evaluation: Evaluation, top_md_m: float, bottom_md_m: float, system: System, paper: Paper, letter: str
) -> tuple[list[Group], Detail]:
    """A page with a detail of any range of measured depths."""
    rect = Rect(MARGIN_MM, _TOP_MM, paper.right_mm, paper.title_mm - 5.0)
    detail = range_detail(evaluation, top_md_m, bottom_md_m, rect, system, letter)
    return list(detail.groups), detail


def ties(details: list[Detail], frame: Frame, grid: Grid, written: list[Group]) -> list[Group]:
    """What ties each detail to its range beside the depths, clear of all that is written."""
    boxes = [box_mm(shape) for group in written for shape in group.shapes if isinstance(shape, Text)]
    groups: list[Group] = []
    for detail in details:
        shapes = _tie(detail, frame, grid, boxes)
        if shapes:
            groups.append(Group("", f"Detail {detail.letter}", shapes))
            boxes += [box_mm(shape) for shape in shapes if isinstance(shape, Text)]
    return groups


def _tie(detail: Detail, frame: Frame, grid: Grid, boxes: list[Box]) -> tuple[Shape, ...]:
    """The bracket beside the depths over the range of a detail, and its letter where nothing stands."""
    low, high = max(detail.top_md_m, frame.scale.top_md_m), min(detail.bottom_md_m, frame.scale.bottom_md_m)
    if high <= low:
        return ()
    top, bottom, x = frame.y(low), frame.y(high), grid.labels_mm[0] - _LANE_MM
    ends = tuple(
        ((x - _TICK_MM, y), (x, y))
        for md, y in ((detail.top_md_m, top), (detail.bottom_md_m, bottom))
        if low - 1e-6 <= md <= high + 1e-6
    )
    line = Path((((x, top), (x, bottom)), *ends), Style(stroke=BLACK, width_mm=OUTLINE_MM))
    middle = x + 0.5 * _SQUARE_MM
    y = _free(middle, 0.5 * (top + bottom), boxes)
    half = 0.5 * _SQUARE_MM
    square = (
        (middle - half, y - half),
        (middle + half, y - half),
        (middle + half, y + half),
        (middle - half, y + half),
    )
    return (
        line,
        Path((square,), Style(fill=BLACK), closed=True),
        Text(middle, y + 0.8, detail.letter, bold=True, colour=WHITE, anchor="middle"),
    )


def _free(x: float, y: float, boxes: list[Box]) -> float:
    """The level nearest to *y* where a square touches no text."""
    half = 0.5 * _SQUARE_MM + 0.15
    across = [(top, bottom) for left, top, right, bottom in boxes if left < x + half and right > x - half]
    for step in range(60):
        for level in (y + 0.4 * step, y - 0.4 * step):
            if not any(top < level + half and bottom > level - half for top, bottom in across):
                return level
    return y
