"""The details of a sheet in their places, and what ties each to its range beside the depths."""

from __future__ import annotations

from schematic.checks.evaluate import Evaluation
from schematic.drawing.detail import Detail
from schematic.drawing.fills import Rect
from schematic.drawing.frame import Frame
from schematic.drawing.grid import MARGIN_MM, Grid, Paper
from schematic.drawing.job_zone import JOB_MM, job_row
from schematic.drawing.liner_top_detail import liner_top_detail
from schematic.drawing.palette import BLACK, FINE_MM, LIGHT_GREY, OUTLINE_MM, WHITE
from schematic.drawing.range_detail import range_detail
from schematic.drawing.scene import Group, Path, Style, Text
from schematic.drawing.section_view import leans, section_view
from schematic.drawing.shoe_track_detail import shoe_track_detail
from schematic.drawing.text import Box, box_mm
from schematic.drawing.zones import abreast, stacked
from schematic.units import System

_TOP_MM = 32.0
_SQUARE_MM = 2.3
_LANE_MM = 3.2  # from the bracket to the labels
_TICK_MM = 0.4
_GAP_MM = 4.0


def detail_count(evaluation: Evaluation) -> int:
    """Liner top and shoe track; of a deviated well the true path as well."""
    return 3 if leans(evaluation) else 2


def draw_details(
    evaluation: Evaluation, places: tuple[Rect, ...], system: System
) -> tuple[list[Group], list[Detail]]:
    """The details A to D as far as there are places, uprights between them; and A and B for their ties."""
    a = liner_top_detail(evaluation, places[0], system, "A")
    b = shoe_track_detail(evaluation, places[1], system, "B")
    groups = [*a.groups, *b.groups]
    if len(places) > 2:
        groups += section_view(evaluation, places[2], system, "C")
    lines = tuple(
        (
            (left.right_mm + 0.5 * _GAP_MM, left.top_mm + 2.0),
            (left.right_mm + 0.5 * _GAP_MM, left.bottom_mm - 1.0),
        )
        for left, right in zip(places, places[1:], strict=False)
        if right.left_mm > left.right_mm
    )
    groups.append(Group("", "details", (Path(lines, Style(stroke=LIGHT_GREY, width_mm=FINE_MM)),)))
    return groups, [a, b]


def details_page(
    evaluation: Evaluation, system: System, paper: Paper, *, with_job: bool, fitted: bool
) -> tuple[list[Group], list[Detail], bool]:
    """A page of details, with the job below where the first page has no room; whether that told all."""
    bottom = paper.title_mm - (JOB_MM + 4.0 if with_job else 5.0)
    rect = Rect(MARGIN_MM, _TOP_MM, paper.right_mm, bottom)
    count = detail_count(evaluation)
    places = abreast(rect, count)
    if count > 2 and not paper.landscape:
        upper, lower = stacked(rect, 2)
        places = (*abreast(upper, 2), lower)
    groups, ties = draw_details(evaluation, places, system)
    if not with_job:
        return groups, ties, True
    job, told = job_row(evaluation, system, paper, paper.title_mm - JOB_MM, fitted=fitted)
    return [*groups, *job], ties, told


def range_page(
    evaluation: Evaluation, top_md_m: float, bottom_md_m: float, system: System, paper: Paper, letter: str
) -> tuple[list[Group], Detail]:
    """A page with a detail of any range of measured depths."""
    rect = Rect(MARGIN_MM, _TOP_MM, paper.right_mm, paper.title_mm - 5.0)
    detail = range_detail(evaluation, top_md_m, bottom_md_m, rect, system, letter)
    return list(detail.groups), detail


def tie(detail: Detail, frame: Frame, grid: Grid, written: list[Group]) -> list[Group]:
    """The bracket beside the depths over the range of a detail, and its letter where nothing stands."""
    low, high = max(detail.top_md_m, frame.scale.top_md_m), min(detail.bottom_md_m, frame.scale.bottom_md_m)
    if high <= low:
        return []
    top, bottom, x = frame.y(low), frame.y(high), grid.labels_mm[0] - _LANE_MM
    ends = tuple(
        ((x - _TICK_MM, y), (x, y))
        for md, y in ((detail.top_md_m, top), (detail.bottom_md_m, bottom))
        if low - 1e-6 <= md <= high + 1e-6
    )
    line = Path((((x, top), (x, bottom)), *ends), Style(stroke=BLACK, width_mm=OUTLINE_MM))
    boxes = [box_mm(shape) for group in written for shape in group.shapes if isinstance(shape, Text)]
    middle = x + 0.5 * _SQUARE_MM
    y = _free(middle, 0.5 * (top + bottom), boxes)
    half = 0.5 * _SQUARE_MM
    square = (
        (middle - half, y - half),
        (middle + half, y - half),
        (middle + half, y + half),
        (middle - half, y + half),
    )
    return [
        Group(
            "",
            f"Detail {detail.letter}",
            (
                line,
                Path((square,), Style(fill=BLACK), closed=True),
                Text(middle, y + 0.8, detail.letter, bold=True, colour=WHITE, anchor="middle"),
            ),
        )
    ]


def _free(x: float, y: float, boxes: list[Box]) -> float:
    """The level nearest to *y* where a square touches no text."""
    half = 0.5 * _SQUARE_MM + 0.15
    for step in range(60):
        for level in (y + 0.4 * step, y - 0.4 * step):
            if not any(
                left < x + half and right > x - half and top < level + half and bottom > level - half
                for left, top, right, bottom in boxes
            ):
                return level
    return y
