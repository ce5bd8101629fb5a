"""The sheet of a well on any paper: the well, details, job and notes, on as many pages as they need."""

from __future__ import annotations

from collections.abc import Sequence

from schematic.checks.evaluate import Evaluation
from schematic.drawing.detail import Detail
from schematic.drawing.details_zone import detail_count, details_page, draw_details, range_page, ties
from schematic.drawing.frame import Frame, ScaleKind
from schematic.drawing.grid import A4, Paper
from schematic.drawing.head import head
from schematic.drawing.job_zone import job_row
from schematic.drawing.match_lines import well_pages
from schematic.drawing.notes import notes
from schematic.drawing.scene import Group, Scene, Sheet
from schematic.drawing.tables_zone import job_tables
from schematic.drawing.title_block import CAUTION, NOT_A_BASIS, title_block
from schematic.drawing.well_zone import EVERYWHERE, WellZone, well_zone
from schematic.drawing.zones import Zones, ways
from schematic.units import System


def well_sheet(
    evaluation: Evaluation,
    *,
    scale: ScaleKind,
    system: System,
    paper: Paper = A4,
    ranges: Sequence[tuple[float, float]] = (),
) -> Sheet:
    """The pages of a well's sheet, and one for each range of measured depths that is asked for.

    What the first page cannot hold goes on the next: first the details, then the job, then the well itself,
    cut at a depth with match lines. Nothing is left out.
    """
    zones, wells = wells_of(evaluation, scale, system, paper)
    pages: list[tuple[str, list[Group], Frame | None]] = [("well", well.groups, well.frame) for well in wells]
    first = wells[0].groups
    tied: list[Detail] = []
    if zones.details:
        groups, tied = draw_details(evaluation, zones.details, system)
        first += groups
    if zones.tables_mm is not None:
        first += job_tables(evaluation, system, paper, zones.tables_mm)
    if zones.job_mm is not None:
        first += job_row(evaluation, system, paper, zones.job_mm, fitted=scale == "fitted")
    if not zones.details:
        groups, tied = details_page(
            evaluation, system, paper, with_job=zones.job_mm is None, fitted=scale == "fitted"
        )
        pages.append(("details", groups, None))
    for number, (top, bottom) in enumerate(ranges):
        groups, detail = range_page(
            evaluation, top, bottom, system, paper, "FGHIJKLMNOPQRSTUVWXYZ"[number % 21]
        )
        pages.append(("detail", groups, None))
        tied.append(detail)
    for well in wells:
        well.groups.extend(ties(tied, well.frame, well.grid, well.groups))
    drawn = len(zones.details) if zones.details else None
    made = notes(evaluation, system, paper, with_tables=zones.tables_mm is None, details=drawn)
    pages += [("notes", groups, None) for groups in made]
    return Sheet(
        tuple(
            _scene(evaluation, system, paper, groups, frame, (number, len(pages), name))
            for number, (name, groups, frame) in enumerate(pages, 1)
        )
    )


def wells_of(
    evaluation: Evaluation, scale: ScaleKind, system: System, paper: Paper
) -> tuple[Zones, list[WellZone]]:
    """The fullest way to share the first page that holds the whole well; else the well on several pages."""
    choices = ways(paper, detail_count(evaluation, paper, system))
    for zones in choices:
        well = well_zone(evaluation, scale, system, paper, zones, EVERYWHERE)
        if well.needs_mm <= 0.0:
            return zones, [well]
    return choices[-1], well_pages(evaluation, scale, system, paper, choices[-1])


def _scene(
    evaluation: Evaluation,
    system: System,
    paper: Paper,
    groups: list[Group],
    frame: Frame | None,
    place: tuple[int, int, str],
) -> Scene:
    """A page with its head and title block."""
    identity = evaluation.plan.identity
    number, count, name = place
    block = title_block(evaluation, frame, system, paper, f"sheet {number} of {count}: {name}")
    description = f"Depth plan of {identity.name}, {name}, file {identity.file_hash}. {CAUTION} {NOT_A_BASIS}"
    shown = (head(evaluation, system, paper), *groups, block)
    return Scene(
        paper.width_mm,
        paper.height_mm,
        f"{identity.name}, sheet {number} of {count}",
        description,
        tuple(group for group in shown if group.shapes),
    )
